import { type Finding, type Measured, refuses } from "../finding.ts";
import { beamPath } from "../paths/beam/beam-path.ts";
import { beamCautions } from "../plan/beam-cautions.ts";
import type { PlannedBeam } from "../plan/beam-setup.ts";
import type { BeamProgramText, BeamWriteInput } from "../program/beam-text.ts";
import type { Post } from "../program/post.ts";
import { outlineWalkOf, writeBeamProgram } from "../program/write-beam.ts";
import { beamReadOptions, proveBeam, proveOutlineWalk } from "../proof/beam/prove-beam.ts";
import { unrolledFor } from "../proof/beam/turned.ts";
import type { Proof } from "../proof/proof.ts";
import { readProgram } from "../reader/read.ts";
import { drawBeamSheet } from "../sheets/beam-sheet.ts";
import { type ReportBeam, reportFinding, tame } from "../sheets/report.ts";
import { burnEnergy } from "../shop/burn-energy.ts";
import { timeOf } from "../simulate/time.ts";
import { VERSION } from "../version.ts";
import { type JobAndShop, overridden } from "./make-set-up.ts";

/** All that the program of one set-up under the beam is made from: plain data. */
export interface BeamTask {
  readonly kind: "beam";
  readonly planned: PlannedBeam;
  readonly post: Post;
  /** Number of the program. */
  readonly sequence: number;
}

/** A beam program with what goes with it. */
export interface MadeBeamProgram {
  readonly program: BeamProgramText;
  readonly dryRun: BeamProgramText | undefined;
  readonly sheetName: string;
  readonly sheet: string;
  readonly entry: ReportBeam;
}

/** A set-up's program under the beam; absent when it is refused. */
export interface BeamResult {
  readonly kind: "beam";
  readonly made?: MadeBeamProgram;
  readonly verdict: "fine" | "input" | "proof";
  readonly findings: readonly Finding[];
}

/** One set-up under the beam from its operations to a proved program with its sheet. The same task gives the same bytes. */
export function makeBeam(task: BeamTask, all: JobAndShop): BeamResult {
  const { planned, post, sequence } = task;
  const { setUp, operations } = planned;
  const input: BeamWriteInput = {
    setUp,
    paths: operations.map((o) => beamPath(o, setUp)),
    post,
    title: all.job.title,
    version: VERSION,
    sequence,
    overrides: all.job.overrides,
  };
  const written = writeBeamProgram(input);
  if (!written.ok) return { kind: "beam", verdict: "input", findings: written.findings };
  const walk = outlineWalkOf(input);
  if (!walk.ok) return { kind: "beam", verdict: "input", findings: walk.findings };
  const program = written.value;
  const proof = proveBeam({ setUp, programs: [{ file: program.name, text: program.text }], shop: all.shop });
  const walked = proveOutlineWalk(setUp, { file: walk.value.name, text: walk.value.text });
  const proved = overridden([...proof.findings, ...walked.findings], all.job.overrides);
  const findings = [...written.findings, ...proved];
  if (refuses(findings)) return { kind: "beam", verdict: "proof", findings };
  return {
    kind: "beam",
    made: withSheet(program, walk.value, planned, all, proof, findings),
    verdict: "fine",
    findings,
  };
}

function withSheet(
  program: BeamProgramText,
  walk: BeamProgramText,
  planned: PlannedBeam,
  all: JobAndShop,
  proof: Proof,
  findings: readonly Finding[],
): MadeBeamProgram {
  const { setUp, operations } = planned;
  const { laser, machine } = setUp;
  const asWritten = readProgram(program.text, program.name, machine.controller, beamReadOptions(setUp));
  const { read } = unrolledFor(setUp, asWritten);
  const time = timeOf(read.events, machine);
  const told = findings.filter((f) => f.grade !== "note" && (f.place.program?.file ?? program.name) === program.name);
  const steps = program.operations.map((o, i): ReportBeam["steps"][number] => {
    const operation = operations[i]!;
    const area =
      operation.kind === "area"
        ? { spacing: operation.spacing, travelDeg: operation.angleDeg }
        : operation.kind === "dots"
          ? { spacing: operation.aim.pitch, travelDeg: operation.aim.alongDeg }
          : undefined;
    const energy = burnEnergy(operation, laser, area);
    const { evenness } = energy;
    return {
      n: o.label,
      title: o.title,
      effect: setUp.marks[i]?.setting.effect ?? "",
      power: operation.power,
      feed: operation.speed,
      passes: operation.passes,
      joulesPerMm: tame(energy.perMm),
      joulesPerMm2: energy.perMm2 === undefined ? null : tame(energy.perMm2),
      evenness: evenness === undefined ? null : tame(Math.max(evenness.above, evenness.below)),
      seconds: tame(time.operations.find((t) => t.n === o.label)?.seconds ?? 0),
    };
  });
  const figures: Record<string, Measured> = {};
  for (const [name, m] of Object.entries(proof.figures)) {
    figures[name] = { value: tame(m.value), bound: tame(m.bound), unit: m.unit };
  }
  const sheetName = `${program.name.replace(/\.[^.]*$/, "")}.svg`;
  const sheet = drawBeamSheet({
    jobTitle: all.job.title,
    file: program.name,
    setUp,
    read,
    steps,
    findings: told,
    seconds: time.seconds,
    defaultsUsed: habitsAssumed(all),
    checked: proof.checked,
    notChecked: proof.notChecked,
    figures,
  });
  const entry: ReportBeam = {
    file: program.name,
    dryRun: walk.name,
    sheet: sheetName,
    parts: [...new Set(setUp.marks.map((m) => m.mark.part))],
    setUp: setUp.name,
    machine: machine.name,
    post: program.post,
    seal: "",
    laser: {
      wavelength: laser.wavelength,
      ratedPower: laser.ratedPower,
      fullScale: laser.fullScale,
      mode: laser.mode,
      spot: laser.spot,
      offset: laser.offset,
    },
    stock: setUp.blank,
    zero: { x: 0, y: 0, z: 0, how: setUp.zero.how },
    safeZ: tame(setUp.safeZ),
    seconds: tame(time.seconds),
    steps,
    cautions: [...beamCautions(setUp)],
    proof: { figures, checked: [...proof.checked], notChecked: [...proof.notChecked] },
    findings: told.map(reportFinding),
  };
  return { program, dryRun: walk, sheetName, sheet, entry };
}

/** Which built-in defaults a beam's program rests on: laser and settings are always the shop's own. */
function habitsAssumed({ shop }: JobAndShop): readonly string[] {
  return shop.defaultsUsed.some((d) => d.startsWith("habit")) ? ["the shop's habits of clearance"] : [];
}
