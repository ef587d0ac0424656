import { type Finding, type Measured, refuses } from "../finding.ts";
import { turningPaths } from "../paths/turning/turning-path.ts";
import type { PlannedTurning } from "../plan/turning.ts";
import type { Post } from "../program/post.ts";
import type { TurningProgramText, TurningWriteInput } from "../program/turning-text.ts";
import { dryRunOfTurning, writeTurningPrograms } from "../program/write-turning.ts";
import type { Proof } from "../proof/proof.ts";
import { proveTurning, proveTurningDryRun, turningReadOptions } from "../proof/turning/prove.ts";
import { readProgram } from "../reader/read.ts";
import { type ReportTurning, reportFinding, tame } from "../sheets/report.ts";
import { drawTurningSheet, type TurningSheetStep } from "../sheets/turning-sheet.ts";
import { turningTime } from "../simulate/turning.ts";
import { VERSION } from "../version.ts";
import { type JobAndShop, overridden } from "./make-set-up.ts";

/** All that the programs of one mounting on the lathe are made from: plain data. */
export interface TurningTask {
  readonly kind: "turning";
  readonly planned: PlannedTurning;
  readonly post: Post;
  /** Number of the first program. */
  readonly sequence: number;
}

/** A turning program with what goes with it. */
export interface MadeTurningProgram {
  readonly program: TurningProgramText;
  readonly dryRun: TurningProgramText | undefined;
  readonly sheetName: string;
  readonly sheet: string;
  readonly entry: ReportTurning;
}

/** A mounting's programs; absent when they are refused. */
export interface TurningResult {
  readonly kind: "turning";
  readonly made?: readonly MadeTurningProgram[];
  readonly verdict: "fine" | "input" | "proof";
  readonly findings: readonly Finding[];
}

/** One mounting from its operations to proved programs with their sheets. The same task gives the same bytes. */
export function makeTurning(task: TurningTask, all: JobAndShop): TurningResult {
  const { planned, post, sequence } = task;
  const { setUp } = planned;
  const paths = turningPaths(planned.operations, setUp);
  if (!paths.ok) return { kind: "turning", verdict: "input", findings: paths.findings };
  const input: TurningWriteInput = {
    setUp,
    paths: paths.value,
    post,
    title: all.job.title,
    version: VERSION,
    sequence,
    overrides: all.job.overrides,
  };
  const written = writeTurningPrograms(input);
  const dry = dryRunOfTurning(input);
  const writing = [...paths.findings, ...written.findings, ...dry.findings];
  if (!written.ok || !dry.ok) return { kind: "turning", verdict: "input", findings: writing };
  const proof = proveTurning({
    setUp,
    programs: written.value.map((p) => ({ file: p.name, text: p.text })),
    shop: all.shop,
  });
  const dryFindings = dry.value.flatMap((d) => proveTurningDryRun(setUp, { file: d.name, text: d.text }).findings);
  const findings = [...writing, ...overridden([...proof.findings, ...dryFindings], all.job.overrides)];
  if (refuses(findings)) return { kind: "turning", verdict: "proof", findings };
  const made = written.value.map((program, i) => withSheet(program, dry.value[i], planned, all, post, proof, findings));
  return { kind: "turning", made, verdict: "fine", findings };
}

function withSheet(
  program: TurningProgramText,
  dryRun: TurningProgramText | undefined,
  planned: PlannedTurning,
  all: JobAndShop,
  post: Post,
  proof: Proof,
  findings: readonly Finding[],
): MadeTurningProgram {
  const { setUp, operations } = planned;
  const read = readProgram(program.text, program.name, setUp.lathe.controller, turningReadOptions(setUp));
  const time = turningTime(read.events, setUp);
  const sheetName = `${program.name.replace(/\.[^.]*$/, "")}.svg`;
  const steps = program.operations.map((o): TurningSheetStep => {
    const operation = operations.find((p) => p.id === o.id);
    return {
      n: o.label,
      title: o.title,
      tool: o.tool,
      why: operation?.toolReason ?? "",
      rpm: operation?.rpm ?? 0,
      feed: operation?.feed ?? 0,
    };
  });
  const told = findings.filter((f) => f.grade !== "note" && (f.place.program?.file ?? program.name) === program.name);
  const sheet = drawTurningSheet({
    jobTitle: all.job.title,
    file: program.name,
    setUp,
    read,
    steps,
    findings: told,
    seconds: time.seconds,
    defaultsUsed: defaultsIn(program, planned),
    checked: proof.checked,
    notChecked: proof.notChecked,
  });
  const figures: Record<string, Measured> = {};
  for (const [name, m] of Object.entries(proof.figures)) {
    figures[name] = { value: tame(m.value), bound: tame(m.bound), unit: m.unit };
  }
  const { piece, lathe } = setUp;
  const entry: ReportTurning = {
    file: program.name,
    dryRun: dryRun?.name ?? null,
    sheet: sheetName,
    part: piece.name,
    setUp: setUp.name,
    lathe: lathe.name,
    xWords: lathe.xWords,
    post: post.name,
    seal: "",
    tools: program.tools.map((t) => ({
      name: t.name,
      slot: t.slot,
      kind: t.kind,
      noseRadius: t.noseRadius,
      width: t.width,
      from: t.from,
    })),
    blank: { length: piece.blank.length, across: piece.blank.across, shape: piece.blank.shape },
    safeRadius: tame(setUp.safeRadius),
    seconds: tame(time.seconds),
    steps: steps.map(({ tool, ...s }) => ({
      ...s,
      cutter: tool,
      seconds: tame(time.operations.find((t) => t.n === s.n)?.seconds ?? 0),
    })),
    proof: { figures, checked: [...proof.checked], notChecked: [...proof.notChecked] },
    findings: told.map(reportFinding),
  };
  return { program, dryRun, sheetName, sheet, entry };
}

/** Which built-in defaults this program rests on, in words for the sheet. */
function defaultsIn(program: TurningProgramText, { setUp }: PlannedTurning): readonly string[] {
  return [setUp.lathe, ...program.tools].filter((t) => t.from === "built-in default").map((t) => `"${t.name}"`);
}
