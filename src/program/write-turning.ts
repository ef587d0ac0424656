import { type Finding, type Outcome, refuses } from "../finding.ts";
import type { TurningMove, TurningPath } from "../paths/turning/move.ts";
import type { Point } from "../shapes/point.ts";
import type { TurningTool } from "../shop/lathe.ts";
import { fileName } from "./file-name.ts";
import { latheFits } from "./lathe-fits.ts";
import type { Post } from "./post.ts";
import { sealLine, sealOf } from "./seal.ts";
import { type TurningRun, writeTurningBody } from "./turning-body.ts";
import { turningHeaderLines } from "./turning-header.ts";
import type { TurningProgramText, TurningWriteInput } from "./turning-text.ts";

/**
 * Writes the turning programs of one mounting: one file where tools are changed within a program, else one for each run of
 * a tool, since zero is then set anew. Every program starts from unknown X and Z. Same input, same bytes.
 * @returns findings when the post does not fit the lathe, or when there is nothing to write
 * @throws RangeError when a path breaks the rules of `TurningPath`: a bug of ours
 */
export function writeTurningPrograms(input: TurningWriteInput): Outcome<readonly TurningProgramText[]> {
  return write(input, undefined);
}

/**
 * The same programs as a rehearsal: the same motions, all farther out by the same amount so that the innermost passes
 * outside wood and holding by the shop's clearance; no spindle words, no witness stops. Feeds stay.
 */
export function dryRunOfTurning(input: TurningWriteInput): Outcome<readonly TurningProgramText[]> {
  const lift = turningDryRunLift(input);
  const paths = input.paths.map((p) => ({ ...p, moves: p.moves.map((m) => movedOut(m, lift)) }));
  return write({ ...input, paths, setUp: { ...input.setUp, safeRadius: input.setUp.safeRadius + lift } }, lift);
}

/** How far a dry run stands off, mm of radius: whole millimetres, so that its numbers are easily compared. */
export function turningDryRunLift({ setUp, paths }: TurningWriteInput): number {
  let innermost = setUp.safeRadius;
  for (const p of paths) for (const m of p.moves) innermost = Math.min(innermost, ...reachOf(m));
  let highest = 0;
  for (const s of setUp.start.segments) highest = Math.max(highest, s.from.y, s.to.y);
  for (const k of setUp.keepOuts) for (const p of k.outline) highest = Math.max(highest, p.y);
  return Math.ceil(highest + setUp.habits.clearance - innermost);
}

/** Radii that bound a move: an arc may dip between its ends by no more than its radius. */
function reachOf(m: TurningMove): readonly number[] {
  switch (m.kind) {
    case "rapid x":
      return [m.r];
    case "rapid z":
      return [];
    case "line":
      return [m.to.y];
    case "arc":
      return [m.to.y, m.ccw ? Math.min(m.to.y, lowestOfArc(m)) : m.to.y];
  }
}

function lowestOfArc(m: Extract<TurningMove, { kind: "arc" }>): number {
  return m.centre.y - Math.hypot(m.to.x - m.centre.x, m.to.y - m.centre.y);
}

function movedOut(m: TurningMove, by: number): TurningMove {
  const out = (p: Point): Point => ({ x: p.x, y: p.y + by });
  switch (m.kind) {
    case "rapid x":
      return { ...m, r: m.r + by };
    case "rapid z":
      return m;
    case "line":
      return { ...m, to: out(m.to) };
    case "arc":
      return { ...m, to: out(m.to), centre: out(m.centre) };
  }
}

function write(input: TurningWriteInput, lift: number | undefined): Outcome<readonly TurningProgramText[]> {
  const { post, setUp, paths } = input;
  const runs = runsOf(paths);
  const findings: Finding[] = [...latheFits(post, setUp.lathe)];
  if (paths.length === 0) {
    const what = `set-up "${setUp.name}" has nothing to cut`;
    findings.push({ grade: "refuse", code: "nothing-to-write", place: { part: setUp.piece.name }, what });
  }
  if (refuses(findings)) return { ok: false, findings };
  const files = changesTools(post) ? [runs] : runs.map((r) => [r]);
  const sequence = input.sequence ?? 1;
  const value = files.map((file, k) => {
    const tool = files.length > 1 ? [`tool ${file[0]!.tool.name}`] : [];
    const words = [setUp.name, ...tool, ...(lift === undefined ? [] : ["dry run"])];
    const name = fileName(sequence + k, words, post.fileEnding);
    return writeFile(input, file, lift, { nth: k + 1, of: files.length }, name);
  });
  return { ok: true, value, findings };
}

/** How many programs operations make at most, in this order, on a lathe with this post. */
export function countTurningPrograms(operations: readonly { readonly tool: TurningTool }[], post: Post): number {
  if (changesTools(post)) return 1;
  return operations.filter((o, i) => i === 0 || !sameTool(o.tool, operations[i - 1]!.tool)).length;
}

function changesTools(post: Post): boolean {
  return post.toolChange.length > 0;
}

function sameTool(a: TurningTool, b: TurningTool): boolean {
  return a.slot === b.slot && a.name === b.name;
}

function runsOf(paths: readonly TurningPath[]): readonly TurningRun[] {
  const runs: { tool: TurningTool; paths: TurningPath[] }[] = [];
  for (const path of paths) {
    const last = runs[runs.length - 1];
    const { tool } = path.operation;
    if (last !== undefined && sameTool(last.tool, tool)) last.paths.push(path);
    else runs.push({ tool, paths: [path] });
  }
  return runs;
}

function writeFile(
  input: TurningWriteInput,
  runs: readonly TurningRun[],
  lift: number | undefined,
  place: { readonly nth: number; readonly of: number },
  name: string,
): TurningProgramText {
  const { post, setUp } = input;
  const operations = runs
    .flatMap((run) => run.paths)
    .map((path, k) => ({
      id: path.operation.id,
      title: path.operation.title,
      label: post.labels.first + k * post.labels.step,
      tool: path.operation.tool.name,
    }));
  if (operations[operations.length - 1]!.label > 99_999) throw new RangeError("more operations than line numbers");
  const tools = runs.map((r) => r.tool).filter((t, k, all) => all.findIndex((u) => u.name === t.name) === k);
  const lines: string[] = [];
  if (post.percentLines) lines.push("%");
  lines.push(...turningHeaderLines(input, tools, operations, lift, place));
  const sealAt = lines.length;
  lines.push("");
  writeTurningBody(input, runs, operations, lift !== undefined, place.nth === 1, lines);
  if (post.percentLines) lines.push("%");
  lines.push("");
  lines[sealAt] = sealLine(lines, sealAt, input.version, input.sealed && sealOf(input.sealed));
  return {
    name,
    text: lines.join("\n"),
    setUp: setUp.name,
    post: post.name,
    unit: post.unit,
    xWords: setUp.lathe.xWords,
    dryRun: lift !== undefined,
    operations,
    tools,
  };
}
