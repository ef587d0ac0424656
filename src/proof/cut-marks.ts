import type { Finding } from "../finding.ts";
import { faceFrame } from "../parts/faces.ts";
import type { TargetCavity } from "../parts/target.ts";
import { compose, inverse } from "../shapes/frame.ts";
import { mapSegment, planOf } from "../shapes/plan-map.ts";
import { ACCURACY } from "../tolerance.ts";
import { cutLineLeft } from "./cut-line.ts";
import type { Stroke } from "./left.ts";
import { motionsOf } from "./motion.ts";
import type { Case, Figure, Measures } from "./proof.ts";
import { mm, placeOfCavity } from "./say.ts";
import { V_DEPTH, type VGrooveLeft, vGrooveLeft } from "./v-groove.ts";

/** A V-groove proved: how far beyond its outlines, how far short of them, and its floor. */
export function provedVGroove(cavity: TargetCavity, strokes: readonly Stroke[], slack: number): Measures {
  const { shape } = cavity.cavity;
  if (shape.kind !== "v-groove" || shape.bit === undefined) {
    throw new Error("a V-groove comes to its proof with its bit known");
  }
  const left = vGrooveLeft(cavity, shape.bit, strokes, slack);
  const name = `V-groove: ${cavity.cavity.part}, ${cavity.cavity.feature}`;
  const figures: Record<string, Figure> = {
    [`${name}, beyond a side`]: figure(left.over, 0, left.overAt),
    [`${name}, short of a side`]: figure(
      left.short.value,
      left.short.most - left.short.value,
      left.short.at && { ...left.short.at, z: cavity.zFrom },
    ),
    [`${name}, floor left`]: figure(left.floor.value, left.floor.bound, left.floor.at),
  };
  return { findings: [...wideFindings(left), ...shortFindings(left), ...floorFindings(left, slack)], figures };
}

function figure(value: number, bound: number, at: Figure["at"]): Figure {
  return { value, bound, unit: "mm", ...(at === undefined || value === 0 ? {} : { at }) };
}

const FROM = "0.02 mm of depth and of width that V-grooves promise";

function wideFindings({ cavity, over, overAt, below, allowed }: VGrooveLeft): readonly Finding[] {
  if (over <= allowed && below <= V_DEPTH) return [];
  const deep = below > V_DEPTH;
  return [
    {
      grade: "refuse",
      code: "proof-v-groove-wide",
      place: { ...placeOfCavity(cavity), ...(overAt === undefined ? {} : { at: overAt }) },
      what: deep
        ? `the V-groove goes ${mm(below)} below its deepest`
        : `the V-groove comes out ${mm(over)} too wide on a side`,
      why: "measured from the program's own moves to the outlines, in closed form",
      mend: "make the program again; if it comes back, check the bit's angle and the flat at its tip",
      measured: { value: deep ? below : over, bound: 0, unit: "mm" },
      limit: { value: deep ? V_DEPTH : allowed, unit: "mm", from: FROM },
    },
  ];
}

function shortFindings({ cavity, short, allowed, bit }: VGrooveLeft): readonly Finding[] {
  if (short.most <= allowed + 1e-12) return [];
  const nothing = short.value > 1e3;
  return [
    {
      grade: "refuse",
      code: "proof-v-groove-shallow",
      place: { ...placeOfCavity(cavity), ...(short.at === undefined ? {} : { at: { ...short.at, z: cavity.zFrom } }) },
      what: nothing
        ? "nothing of this V-groove is cut"
        : `the V-groove stays ${mm(short.value / bit.tan)} too shallow, and a side ${mm(short.value)} short`,
      why: "a stretch is missing there, or the depth, the bit's angle or the flat at its tip are others than planned",
      mend: "make the program again",
      ...(nothing ? {} : { measured: { value: short.value, bound: short.most - short.value, unit: "mm" } }),
      limit: { value: allowed, unit: "mm", from: FROM },
    },
  ];
}

function floorFindings({ cavity, floor }: VGrooveLeft, slack: number): readonly Finding[] {
  const allowed = ACCURACY + slack;
  if (floor.value + floor.bound <= allowed) return [];
  return [
    {
      grade: "refuse",
      code: "proof-v-groove-shallow",
      place: { ...placeOfCavity(cavity), ...(floor.at === undefined ? {} : { at: floor.at }) },
      what: "wood is left on the floor of the V-groove",
      why: "a pass over the floor is missing, or too high",
      mend: "make the program again",
      ...(floor.value > 1e3 ? {} : { measured: { value: floor.value, bound: floor.bound, unit: "mm" } }),
      limit: { value: allowed, unit: "mm", from: "the accuracy that programs promise" },
    },
  ];
}

/** Lines cut at one depth, proved: the bit's middle keeps to them, and misses none. */
export function provedCutLine(cavity: TargetCavity, cases: readonly Case[], slack: number): Measures {
  const { shape, face } = cavity.cavity;
  const setUp = cases[0]?.setUp;
  if (shape.kind !== "cut line" || setUp === undefined) throw new Error("a cut line was expected");
  const map = planOf(compose(inverse(faceFrame(setUp.workpiece.size, face)), setUp.frame));
  const chains = shape.chains.map((c) => c.map((s) => mapSegment(map, s)));
  const motions = cases.flatMap((c) =>
    motionsOf(c.read).filter((m) => !m.move.rapid && c.assemblyFor(m.move)?.cutter.name === shape.bit),
  );
  const allowed = ACCURACY + slack;
  const left = cutLineLeft(cavity, chains, motions, setUp.target.cavities, allowed);
  const findings: Finding[] = [];
  const place = placeOfCavity(cavity);
  const limit = { value: allowed, unit: "mm", from: "the accuracy that programs promise" };
  if (left.strayed > allowed) {
    findings.push({
      grade: "refuse",
      code: "proof-line-strayed",
      place: { ...place, ...(left.strayedAt === undefined ? {} : { at: left.strayedAt }) },
      what: `the bit leaves the lines by ${mm(left.strayed)} while it is in the wood`,
      why: "measured from the program's own moves to the lines as drawn",
      mend: "make the program again",
      measured: { value: left.strayed, bound: left.bound, unit: "mm" },
      limit,
    });
  }
  if (left.left > allowed) {
    findings.push({
      grade: "refuse",
      code: "proof-line-shallow",
      place: { ...place, ...(left.leftAt === undefined ? {} : { at: { ...left.leftAt, z: cavity.zTo } }) },
      what: "a stretch of a line is not cut to its depth",
      why: `the nearest cut at full depth, with "${shape.bit ?? ""}", is ${mm(left.left)} or more away`,
      mend: "make the program again",
      measured: { value: left.left, bound: left.bound, unit: "mm" },
      limit,
    });
  }
  const name = `cut line: ${cavity.cavity.part}, ${cavity.cavity.feature}`;
  return {
    findings,
    figures: {
      [`${name}, beside it`]: figure(left.strayed, left.bound, left.strayedAt),
      [`${name}, left`]: figure(left.left, left.bound, undefined),
    },
  };
}
