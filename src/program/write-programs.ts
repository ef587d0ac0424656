import type { Finding, Outcome } from "../finding.ts";
import { refuses } from "../finding.ts";
import type { Toolpath } from "../paths/move.ts";
import type { Cutter } from "../shop/cutter.ts";
import { type Run, writeBody } from "./body.ts";
import { dryRunLift, lifted } from "./dry-run.ts";
import { fileName } from "./file-name.ts";
import { headerLines } from "./header.ts";
import type { Post } from "./post.ts";
import { postFits } from "./post-fits.ts";
import type { ProgramText, WriteInput } from "./program-text.ts";
import { sealLine, sealOf } from "./seal.ts";

/**
 * Writes the programs of one set-up: one file where the machine changes bits by itself, else one for each run of a bit.
 *
 * Every program starts from unknown X, Y and Z. Every operation begins behind a line number of its own, with all modes
 * restated, Z lifted alone, the length offset where there is a tool table, X and Y, safe height, spindle and spin-up wait;
 * so a run can be taken up again there. Same input, same bytes.
 * @returns findings when the post does not fit the machine, or when there is nothing to write
 * @throws RangeError when a toolpath breaks the rules of `Toolpath`: a bug of ours
 */
export function writePrograms(input: WriteInput): Outcome<readonly ProgramText[]> {
  return write(input, undefined);
}

/**
 * The same programs as a rehearsal: the same motions, all lifted by the same amount so that the lowest passes above wood
 * and clamps by the shop's clearance; no spindle words, no witness stops, no dwells for the spindle. Feeds stay.
 */
export function dryRunOf(input: WriteInput): Outcome<readonly ProgramText[]> {
  const lift = dryRunLift(input);
  return write(lifted(input, lift), lift);
}

function write(input: WriteInput, lift: number | undefined): Outcome<readonly ProgramText[]> {
  const { post, setUp, toolpaths } = input;
  const runs = runsOf(toolpaths);
  const findings: Finding[] = [
    ...postFits(
      post,
      setUp.machine,
      runs.map((r) => r.cutter),
    ),
  ];
  if (toolpaths.length === 0) {
    findings.push({
      grade: "refuse",
      code: "nothing-to-write",
      place: { part: setUp.workpiece.name },
      what: `set-up "${setUp.name}" has nothing to cut`,
    });
  }
  if (refuses(findings)) return { ok: false, findings };
  const files = changesBits(post) ? [runs] : runs.map((r) => [r]);
  const sequence = input.sequence ?? 1;
  const value = files.map((file, k) => {
    const place = { nth: k + 1, of: files.length };
    const bit = files.length > 1 ? [`bit ${file[0]!.cutter.name}`] : [];
    const words = [setUp.name, ...bit, ...(lift === undefined ? [] : ["dry run"])];
    return writeFile(input, file, lift, place, fileName(sequence + k, words, post.fileEnding));
  });
  return { ok: true, value, findings };
}

/** How many programs operations make, in this order, on a machine with this post. */
export function countPrograms(operations: readonly { readonly cutter: Cutter }[], post: Post): number {
  if (changesBits(post)) return 1;
  return operations.filter((o, i) => i === 0 || !sameCutter(o.cutter, operations[i - 1]!.cutter)).length;
}

function changesBits(post: Post): boolean {
  return post.toolChange.length > 0;
}

function sameCutter(a: Cutter, b: Cutter): boolean {
  return a.slot === b.slot && a.name === b.name;
}

function runsOf(toolpaths: readonly Toolpath[]): readonly Run[] {
  const runs: { cutter: Cutter; paths: Toolpath[] }[] = [];
  for (const path of toolpaths) {
    const last = runs[runs.length - 1];
    const cutter = path.operation.cutter;
    if (last && sameCutter(last.cutter, cutter)) last.paths.push(path);
    else runs.push({ cutter, paths: [path] });
  }
  return runs;
}

function writeFile(
  input: WriteInput,
  runs: readonly Run[],
  lift: number | undefined,
  place: { readonly nth: number; readonly of: number },
  name: string,
): ProgramText {
  const { post, setUp } = input;
  const dryRun = lift !== undefined;
  const operations = runs
    .flatMap((run) => run.paths)
    .map((path, k) => ({
      id: path.operation.id,
      title: path.operation.title,
      label: post.labels.first + k * post.labels.step,
      cutter: path.operation.cutter.name,
    }));
  if (operations[operations.length - 1]!.label > 99_999) throw new RangeError("more operations than line numbers");
  const cutters = runs.map((r) => r.cutter).filter((c, k, all) => all.findIndex((d) => d.name === c.name) === k);

  const lines: string[] = [];
  if (post.percentLines) lines.push("%");
  lines.push(...headerLines(input, cutters, operations, lift, place));
  const sealAt = lines.length;
  lines.push("");
  writeBody(input, runs, operations, dryRun, lines);
  if (post.percentLines) lines.push("%");
  lines.push("");
  lines[sealAt] = sealLine(lines, sealAt, input.version, input.sealed && sealOf(input.sealed));
  return {
    name,
    text: lines.join("\n"),
    setUp: setUp.name,
    post: post.name,
    unit: post.unit,
    dryRun,
    operations,
    cutters,
  };
}
