import { type Finding, refuses } from "../../finding.ts";
import type { BeamSetUp } from "../../plan/beam-setup.ts";
import type { BeamReading, ReadOptions } from "../../reader/options.ts";
import { readProgram } from "../../reader/read.ts";
import { peakEnergy, ripple } from "../../shop/beam.ts";
import { lineSpacing } from "../../shop/burn-energy.ts";
import { lineWidth } from "../../shop/laser.ts";
import type { Shop } from "../../shop/shop.ts";
import { beamRun } from "../../simulate/beam.ts";
import { doseOf, hottestOf } from "../../simulate/beam-dose.ts";
import type { Figure, ProgramToProve, Proof } from "../proof.ts";
import { mm, shortened } from "../say.ts";
import { areaBurned } from "./area.ts";
import { beamBoxes } from "./boxes.ts";
import { carriageFindings } from "./carriage.ts";
import { type BeamCase, type BeamMeasures, nameOf, placeOfMark } from "./case.ts";
import { dotsBurned } from "./dots.ts";
import { type Fitted, type FittedMark, fitBurns } from "./fit.ts";
import { linesBurned } from "./lines.ts";
import { placeFindings, settingFindings, speedFindings, stillFindings, stopFindings, strayFindings } from "./rules.ts";
import { cutThrough } from "./through.ts";
import { turnFindings, unrolledFor } from "./turned.ts";

export { proveOutlineWalk } from "./walk.ts";

/** What is to be proved: all programs of one clamping under the laser head, in the order in which they are run. */
export interface BeamToProve {
  readonly setUp: BeamSetUp;
  readonly programs: readonly ProgramToProve[];
  readonly shop: Shop;
}

/** Hotter than so many times the even burn of any mark is worth a caution. Common practice, no source. */
const HOT = 3;

/**
 * Proves beam programs against the marks they are to burn, from their text alone: where the beam was on, at which power and
 * real speed, late by its lag; every burn belongs to a mark, and every mark is burned. Burned wood is judged after the
 * last program.
 */
export function proveBeam({ setUp, programs }: BeamToProve): Proof {
  const findings: Finding[] = [];
  const cases: BeamCase[] = [];
  for (const { file, text } of programs) {
    const read = readProgram(text, file, setUp.machine.controller, beamReadOptions(setUp));
    findings.push(...read.findings);
    if (read.events.at(-1)?.kind !== "end") {
      findings.push({
        grade: "refuse",
        code: "proof-not-reached",
        place: { part: setUp.workpiece.name, program: { file, line: 1 } },
        what: "the program breaks the language's rules, so it was not checked against its marks",
        mend: "mend what is said above, then check again",
      });
      return { findings: shortened(findings), figures: {}, ...beamBoxes(false, false) };
    }
    const unrolled = unrolledFor(setUp, read);
    const run = beamRun(unrolled.read.events, setUp.laser, setUp.machine);
    const lines = text.split(/\r\n|\n|\r/);
    const c: BeamCase = { setUp, file, lines, read: unrolled.read, asWritten: read, run };
    findings.push(...turnFindings(c, unrolled.troubles));
    cases.push(c);
  }
  const fitted = fitBurns(setUp, cases);
  const figures: Record<string, Figure> = {
    time: { value: sum(cases, (c) => c.run.seconds), bound: 0, unit: "s" },
    "beam on": { value: sum(cases, (c) => c.run.burningSeconds), bound: 0, unit: "s" },
    "burned outside the marks": spill(setUp, fitted),
  };
  const measures: BeamMeasures[] = [
    ...fitted.marks.map((m) => markBurned(setUp, m)),
    speedFindings(setUp, fitted.marks),
    placeFindings(setUp, cases, fitted),
    ...cases.map(carriageFindings),
  ];
  findings.push(
    ...strayFindings(fitted.strays),
    ...settingFindings(setUp, fitted.marks),
    ...stillFindings(setUp, cases),
  );
  for (const c of cases) findings.push(...stopFindings(c));
  // Where something is refused, nobody needs to know how hot it would become.
  if (!refuses([...findings, ...measures.flatMap((m) => m.findings)])) measures.push(hottest(setUp, cases, fitted));
  for (const m of measures) {
    findings.push(...m.findings);
    for (const [name, figure] of Object.entries(m.figures)) {
      const had = figures[name];
      if (had === undefined || !name.startsWith("least") || figure.value < had.value) figures[name] = figure;
    }
  }
  return {
    findings: shortened(findings),
    figures,
    ...beamBoxes(!refuses(findings), true, setUp.turning !== undefined),
  };
}

/** How the texts of a laser are read, from the shop file. */
export function beamReading({ laser, turning }: Pick<BeamSetUp, "laser" | "turning">): BeamReading {
  const { fullScale, start, mode, slot } = laser;
  return {
    fullScale,
    start,
    mode,
    ...(slot === undefined ? {} : { slot }),
    ...(turning === undefined ? {} : { turns: true as const }),
  };
}

/** What the reader is told of a set-up under the beam. */
export function beamReadOptions(setUp: BeamSetUp): ReadOptions {
  return {
    manner: "ours",
    safeZ: setUp.safeZ,
    stock: setUp.blank,
    machineTravel: setUp.machine.travel,
    beam: beamReading(setUp),
  };
}

function markBurned(setUp: BeamSetUp, fitted: FittedMark): BeamMeasures {
  const { placed, ready } = fitted;
  const { aim } = placed;
  const energy = doseFigures(setUp, fitted);
  const judged = ((): BeamMeasures => {
    switch (aim.kind) {
      case "lines":
        return linesBurned(setUp, fitted, aim.chains);
      case "area":
        if (ready.kind !== "area") throw new Error("an area is made ready as one: a bug in the proof");
        return areaBurned(setUp, fitted, ready.look);
      case "through":
        return cutThrough(setUp, fitted, aim.outline, aim.keep);
      case "dots":
        return dotsBurned(setUp, fitted, aim);
    }
  })();
  return { findings: judged.findings, figures: { ...judged.figures, ...energy } };
}

/** Energy on a millimetre as it was burned, least and most, were the rated power what arrives. */
function doseFigures({ laser }: BeamSetUp, { placed, burns }: FittedMark): Readonly<Record<string, Figure>> {
  let least = Number.POSITIVE_INFINITY;
  let most = 0;
  for (const { burn } of burns) {
    const watts = burn.power * laser.ratedPower;
    const even = (watts * 60) / burn.commanded.feed;
    const follows = laser.mode === "follows speed";
    least = Math.min(least, follows ? even : watts / burn.fastest);
    // At an end where the carriage stands for an instant the energy on a length has no bound: the mean of the stretch counts.
    const mean = burn.seconds > 0 && burn.fastest > 0 ? watts / Math.max(burn.slowest, burn.fastest / 20) : even;
    most = Math.max(most, follows ? even : mean);
  }
  if (burns.length === 0) return {};
  return {
    [`energy on each mm: ${nameOf(placed)}`]: { value: (least + most) / 2, bound: (most - least) / 2, unit: "J/mm" },
  };
}

/** Area burned outside all marks: the length that strays, as wide as a line. */
function spill({ laser }: BeamSetUp, { strays }: Fitted): Figure {
  const width = Math.max(laser.spot.x, laser.spot.y);
  return { value: sum(strays, (s) => s.length) * width, bound: strays.length * width * width, unit: "mm²" };
}

/** The hottest place against the even burn of the strongest mark. */
function hottest(setUp: BeamSetUp, cases: readonly BeamCase[], fitted: Fitted): BeamMeasures {
  const { laser } = setUp;
  const burns = cases.flatMap((c) => c.run.burns);
  const hot = hottestOf(
    doseOf(
      burns,
      cases.flatMap((c) => c.run.still),
      laser,
    ),
  );
  if (hot === undefined) return { findings: [], figures: {} };
  const even = fitted.marks.reduce((most, { placed, burns: own }) => {
    const first = own[0];
    if (first === undefined) return most;
    const { power, speed, passes } = placed.setting;
    const { from, to } = first.burn.curve;
    const travel = (Math.atan2(to.y - from.y, to.x - from.x) * 180) / Math.PI;
    const width = Math.min(laser.spot.x, laser.spot.y);
    const watts = power * laser.ratedPower;
    const line = passes * peakEnergy(watts, speed / 60, width);
    if (placed.aim.kind !== "area" && placed.aim.kind !== "dots") return Math.max(most, line);
    const spacing = placed.aim.kind === "dots" ? placed.aim.pitch : lineSpacing(placed.setting, laser, travel);
    const wave = ripple(lineWidth(laser, travel), spacing);
    return Math.max(most, ((passes * watts * 60) / speed / spacing) * (1 + wave.above));
  }, 0);
  const times = even > 0 ? hot.dose / even : 0;
  const figures: Record<string, Figure> = {
    "hottest place": {
      value: hot.dose,
      bound: (hot.most ?? 2 * hot.dose) - hot.dose,
      unit: "J/mm²",
      at: { ...hot.at, z: setUp.blank.max.z },
    },
    "hottest against even": {
      value: times,
      bound: even > 0 ? ((hot.most ?? 2 * hot.dose) - hot.dose) / even : 0,
      unit: "times",
    },
  };
  if (times <= HOT) return { findings: [], figures };
  const placed = fitted.marks[0]?.placed;
  return {
    figures,
    findings: [
      {
        grade: "caution",
        code: "proof-beam-hot",
        place: { ...(placed === undefined ? {} : placeOfMark(placed)), at: { ...hot.at, z: setUp.blank.max.z } },
        what: "one place is burned far hotter than the rest",
        why: `at X ${mm(hot.at.x)}, Y ${mm(hot.at.y)}: corners taken slowly, or lines that cross or lie over each other`,
        mend: "try it in scrap first, and look for flame there",
        measured: { value: times, bound: 0, unit: "times the even burn" },
        limit: { value: HOT, unit: "times the even burn", from: "common practice, no source" },
      },
    ],
  };
}

function sum<T>(items: readonly T[], of: (item: T) => number): number {
  return items.reduce((total, item) => total + of(item), 0);
}
