import { type Finding, type Measured, refuses } from "../finding.ts";
import { FINDING_CODES } from "../finding-codes.ts";
import type { Job } from "../job/job.ts";
import type { Toolpath } from "../paths/move.ts";
import { pathsFor } from "../paths/path-for.ts";
import type { PlannedSetUp } from "../plan/plan-job.ts";
import type { Post } from "../program/post.ts";
import type { ProgramText, WriteInput } from "../program/program-text.ts";
import { dryRunOf, writePrograms } from "../program/write-programs.ts";
import { type Proof, proveDryRun, proveSetUp, readOptions } from "../proof/prove.ts";
import { readProgram } from "../reader/read.ts";
import { type ReportProgram, reportFinding, tame } from "../sheets/report.ts";
import { drawSheet, type SheetStep } from "../sheets/sheet.ts";
import type { Cutter } from "../shop/cutter.ts";
import type { Shop } from "../shop/shop.ts";
import { timeOf } from "../simulate/time.ts";
import { VERSION } from "../version.ts";

/** All that one set-up's programs are made from: plain data. */
export interface SetUpTask {
  readonly kind: "set-up";
  readonly planned: PlannedSetUp;
  readonly post: Post;
  /** Number of the first program. */
  readonly sequence: number;
}

/** What all set-ups of a job share. */
export interface JobAndShop {
  readonly job: Job;
  readonly shop: Shop;
}

/** A program with what goes with it. */
export interface MadeProgram {
  readonly program: ProgramText;
  readonly dryRun: ProgramText | undefined;
  readonly sheetName: string;
  readonly sheet: string;
  readonly entry: ReportProgram;
}

/** All programs of one set-up. */
export interface MadeSetUp {
  readonly programs: readonly MadeProgram[];
}

/** A set-up's programs; absent when they are refused. */
export interface SetUpResult {
  readonly kind: "set-up";
  readonly made?: MadeSetUp;
  readonly verdict: "fine" | "input" | "proof";
  readonly findings: readonly Finding[];
}

/** One set-up from its operations to proved programs with their sheets. The same task gives the same bytes. */
export function makeSetUp(task: SetUpTask, all: JobAndShop): SetUpResult {
  const { planned: one, post, sequence } = task;
  const paths = pathsFor(one.operations, one.setUp);
  const pathFindings = paths.flatMap((p) => p.findings);
  const toolpaths = paths.flatMap((p): Toolpath[] => (p.ok ? [p.value] : []));
  if (toolpaths.length < paths.length) return { kind: "set-up", verdict: "input", findings: pathFindings };
  const input: WriteInput = {
    setUp: one.setUp,
    toolpaths,
    post,
    title: all.job.title,
    version: VERSION,
    sequence,
    overrides: all.job.overrides,
    cautions: [],
  };
  const written = writePrograms(input);
  const dry = dryRunOf(input);
  const writing = [...pathFindings, ...written.findings, ...dry.findings];
  if (!written.ok || !dry.ok) return { kind: "set-up", verdict: "input", findings: writing };
  const proof = proveSetUp({
    setUp: one.setUp,
    programs: written.value.map((p) => ({ file: p.name, text: p.text })),
    shop: all.shop,
  });
  const dryFindings = dry.value.flatMap(
    (d, i) => proveDryRun(one.setUp, { file: d.name, text: d.text }, i, dry.value.length).findings,
  );
  const proved = overridden([...proof.findings, ...dryFindings], all.job.overrides);
  const findings = [...writing, ...proved];
  if (refuses(findings)) return { kind: "set-up", verdict: "proof", findings };
  const programs = written.value.map((program, i) =>
    madeProgram(program, dry.value[i], one, all, post, proof, findings),
  );
  return { kind: "set-up", made: { programs }, verdict: "fine", findings };
}

/**
 * A refusal that the job overrides becomes a caution that says so. What would wreck wood, machine or person cannot be
 * overridden (`override: false` in the list of codes).
 */
export function overridden(findings: readonly Finding[], overrides: Job["overrides"]): readonly Finding[] {
  return findings.map((f) => {
    const by = overrides.find((o) => o.code === f.code);
    if (f.grade !== "refuse" || by === undefined || !FINDING_CODES[f.code].override) return f;
    return {
      ...f,
      grade: "caution",
      what: `overridden: ${f.what}`,
      mend: `overridden in the job because: ${by.because}`,
    };
  });
}

function madeProgram(
  program: ProgramText,
  dryRun: ProgramText | undefined,
  one: PlannedSetUp,
  all: JobAndShop,
  post: Post,
  proof: Proof,
  findings: readonly Finding[],
): MadeProgram {
  const { setUp } = one;
  const read = readProgram(program.text, program.name, setUp.machine.controller, readOptions(setUp));
  const time = timeOf(read.events, setUp.machine);
  const base = program.name.replace(/\.[^.]*$/, "");
  const sheetName = `${base}.svg`;
  const steps = program.operations.map((o): SheetStep => {
    const operation = one.operations.find((p) => p.id === o.id);
    return {
      n: o.label,
      title: o.title,
      cutter: o.cutter,
      why: operation?.cutterReason ?? "",
      rpm: operation?.speeds.rpm ?? 0,
      feed: operation?.speeds.feed ?? 0,
      seconds: tame(time.operations.find((t) => t.n === o.label)?.seconds ?? 0),
    };
  });
  const told = findings.filter((f) => f.grade !== "note" && (f.place.program?.file ?? program.name) === program.name);
  const sheet = drawSheet({
    jobTitle: all.job.title,
    file: program.name,
    setUp,
    read,
    steps,
    findings: told,
    seconds: time.seconds,
    defaultsUsed: defaultsIn(program, one, all),
    checked: proof.checked,
    notChecked: proof.notChecked,
  });
  const figures: Record<string, Measured> = {};
  for (const [name, m] of Object.entries(proof.figures)) {
    figures[name] = { value: tame(m.value), bound: tame(m.bound), unit: m.unit };
  }
  const entry: ReportProgram = {
    file: program.name,
    dryRun: dryRun?.name ?? null,
    sheet: sheetName,
    parts: [...new Set(setUp.cavities.map((c) => c.part))],
    setUp: setUp.name,
    machine: setUp.machine.name,
    post: post.name,
    seal: "",
    cutters: program.cutters.map(cutterEntry),
    stock: setUp.blank,
    zero: { x: 0, y: 0, z: 0, how: setUp.zero.how },
    safeZ: tame(setUp.safeZ),
    seconds: tame(time.seconds),
    steps,
    proof: { figures, checked: [...proof.checked], notChecked: [...proof.notChecked] },
    findings: told.map(reportFinding),
  };
  return { program, dryRun, sheetName, sheet, entry };
}

/** Which built-in defaults this program rests on, in words for the sheet. */
function defaultsIn(program: ProgramText, one: PlannedSetUp, all: JobAndShop): readonly string[] {
  const { machine, workpiece } = one.setUp;
  const names = [machine, ...program.cutters].filter((t) => t.from === "built-in default").map((t) => `"${t.name}"`);
  const wood = all.shop.woods.find((w) => w.name === workpiece.wood && w.from === "built-in default");
  const habits = all.shop.defaultsUsed.some((d) => d.startsWith("habit"))
    ? ["the shop's habits of clearance and allowance"]
    : [];
  return [...names, ...(wood === undefined ? [] : [`averages for ${wood.name}`]), ...habits];
}

function cutterEntry(c: Cutter): ReportProgram["cutters"][number] {
  const f = c.form;
  return {
    name: c.name,
    slot: c.slot,
    kind: f.kind,
    diameter: c.diameter,
    diameterMeasured: c.diameterMeasured,
    includedAngle:
      f.kind === "v" || f.kind === "countersink" ? f.includedAngle : f.kind === "drill" ? f.pointAngle : null,
    cornerRadius: f.kind === "radiused-corner" ? f.cornerRadius : f.kind === "round-nose" ? c.diameter / 2 : null,
    tipFlat: f.kind === "v" || f.kind === "countersink" ? f.tipFlat : null,
    fluteLength: c.fluteLength,
    stickOut: c.stickOut,
    from: c.from,
  };
}
