import { type Finding, tidy } from "../finding.ts";
import type { Workpiece } from "../parts/workpiece.ts";
import { flattenRegion } from "../shapes/flatten.ts";
import { boundsOfRegion, type Region } from "../shapes/region.ts";
import { reachOver } from "../shapes/turned-section.ts";
import type { TurnedSolid } from "../shapes/turned-solid.ts";
import { CUTTING_ENERGY, CUTTING_ENERGY_SOURCE, cuttingPower, surfaceSpeed } from "../shop/strength.ts";
import type { WoodKind } from "../shop/wood.ts";
import type { Cut } from "./clamps.ts";
import { alongBlank, type RoundHold } from "./hold-round.ts";
import { insetBy } from "./levels.ts";
import type { Operation } from "./operation.ts";
import { hasSquareEnds } from "./round-placing.ts";

/** The axis may rise by this much over what is cut before it is said, mm: what a careful setting finds. */
const TILT_SAID = 0.05;
/** Step along the axis at which a recess is held against the wood around it, mm. */
const STEP = 0.1;
/** Square left beside the end that zero is found on, mm: room for the bit's touch. Common practice, no source. */
const ZERO_SPOT = 4;

/** What the sheet must say of cradles: the height of each, and how far the axis is from level. */
export function cradleFindings(workpiece: Workpiece, hold: RoundHold): readonly Finding[] {
  if (hold.kind === "jaws") return [];
  const place = { part: workpiece.name, source: workpiece.source };
  const { cradles, axisHeight, tilt } = hold;
  const radii = cradles.map((c) => c.radius);
  const findings: Finding[] = [];
  if (cradles.length < 2) {
    findings.push({
      grade: "refuse",
      code: "plan-round-holding",
      place,
      what: `there is room for ${cradles.length === 0 ? "no cradle" : "one cradle only"} beside what is cut`,
      why: "a blank carried at one place tips",
      mend: "leave the ends longer or square, or say in the job where its cradles stand",
    });
  }
  const seats = cradles.map((c) => `${tidy(c.seat)} mm under "${c.name}"`).join(", ");
  findings.push({
    grade: "note",
    code: "plan-cradles",
    place,
    what: `the axis lies ${tidy(Math.round(axisHeight * 100) / 100)} mm above the waste board: seats ${seats}`,
    why:
      Math.max(...radii) - Math.min(...radii) > 0.01
        ? "its ends are not alike, so each seat has its own height"
        : "both ends are alike",
    mend: "screw each end to its cradle or press it down with the caul, and pack up under the middle",
  });
  const worst = Math.max(0, ...workpiece.cavities.flatMap((c) => alongBlank(workpiece, c)).map((s) => s.to - s.from));
  const rise = Math.abs(tilt) * worst;
  if (rise > TILT_SAID) {
    findings.push({
      grade: "caution",
      code: "plan-axis-tilted",
      place,
      what: `the axis is not level: it rises by ${tidy(Math.round(rise * 100) / 100)} mm over the length that is cut`,
      why: `the seats and the blank's radii leave it tilted by ${tidy(Math.round(((Math.atan(tilt) * 180) / Math.PI) * 1000) / 1000)} degrees; the program takes it for level`,
      mend: `make the seats ${cradles.map((c) => `${tidy(Math.round((axisHeight - c.radius) * 100) / 100)} mm high under "${c.name}"`).join(" and ")}`,
      measured: { value: rise, bound: 0, unit: "mm" },
      limit: { value: TILT_SAID, unit: "mm", from: "what a careful setting finds: common practice, no source" },
    });
  }
  return findings;
}

/**
 * The moment that tries to roll a turned blank in its holding, as a caution with its number. Derived: the side force is
 * the cutting power over the speed of the edge, F = kc·a·w·f / (π·D·n), in the deepest full-width pass; its lever is the
 * farthest height from the axis at which it works.
 */
export function rollFinding(
  workpiece: Workpiece,
  solid: TurnedSolid,
  operations: readonly Operation[],
  wood: WoodKind,
): Finding | undefined {
  let worst = { moment: 0, force: 0, lever: 0, title: "" };
  for (const o of operations) {
    const z = heightsOf(o);
    const floor = Math.min(o.topZ, ...z);
    const depth = Math.max(...z.map((h, i) => (i === 0 ? o.topZ : z[i - 1]!) - h), 0);
    const power = cuttingPower(wood.class, depth, o.cutter.diameter, o.speeds.slot);
    const force = power / surfaceSpeed(o.cutter.diameter, o.speeds.rpm);
    const lever = Math.max(Math.abs(o.topZ - solid.axis.z), Math.abs(floor - solid.axis.z));
    const moment = (force * lever) / 1000;
    if (moment > worst.moment) worst = { moment, force, lever, title: o.title };
  }
  if (worst.moment === 0) return undefined;
  return {
    grade: "caution",
    code: "plan-roll-moment",
    place: { part: workpiece.name, source: workpiece.source },
    what: `cutting ${worst.title} tries to roll the blank with up to ${tidy(Math.round(worst.moment * 100) / 100)} N·m`,
    why: `a side force of about ${tidy(Math.round(worst.force))} N works ${tidy(Math.round(worst.lever * 10) / 10)} mm from the axis (derived; ${CUTTING_ENERGY_SOURCE}, ${CUTTING_ENERGY[wood.class]} N/mm²)`,
    mend: "try by hand that it cannot turn, at twice that, before the first cut",
    measured: { value: worst.moment, bound: 0, unit: "N·m" },
  };
}

/** Heights that an operation works at, from the top down. */
function heightsOf(o: Operation): readonly number[] {
  switch (o.kind) {
    case "clear":
      return o.levels.map((l) => l.z);
    case "follow":
    case "contour":
    case "v-groove":
    case "trace":
      return o.levels;
    case "bore": {
      const first = Math.max(o.floorZ, o.topZ - o.depthPerTurn);
      return first > o.floorZ ? [first, o.floorZ] : [o.floorZ];
    }
    case "peck":
      return [Math.max(o.tipZ, o.topZ - o.bite)];
    case "sink":
      return [o.tipZ];
    case "ease":
      // What it takes is a sliver beside the deepest full cut.
      return [];
  }
}

/**
 * A recess whose floor leaves the wood: sideways where the sides turn under, or below. At each place along the axis the
 * floor's farthest edge must lie within the wood, y² + z² < r²; looked at every tenth of a millimetre, so a refusal is
 * always right, and what falls between is left to the proof.
 */
export function breakthroughFindings(
  workpiece: Workpiece,
  solid: TurnedSolid,
  cuts: readonly Cut[],
): readonly Finding[] {
  return cuts.flatMap(({ cavity, there, tipZ }) => {
    const { shape } = cavity;
    if (cavity.hollow !== undefined || cavity.opensOver !== undefined || cavity.through) return [];
    if (shape.kind !== "recess" && shape.kind !== "mortise") return [];
    const floor = insetBy(there.section, (cavity.to - cavity.from) * cavity.slopeTan);
    const worst = farthestOut(solid, floor, tipZ);
    if (worst === undefined || worst.by < 0) return [];
    const below = tipZ < solid.axis.z;
    return [
      {
        grade: "refuse" as const,
        code: "plan-round-broken-through" as const,
        place: {
          part: cavity.part,
          feature: cavity.feature,
          source: cavity.sources?.depth ?? cavity.source,
          at: { x: worst.x, y: worst.y, z: tipZ },
        },
        what: `"${cavity.feature}" leaves the wood ${below ? "below, where its sides turn under" : "sideways: its floor is wider than the wood there"}`,
        why: `${tidy(Math.round(worst.x * 100) / 100)} mm along, the floor's edge lies ${tidy(Math.round(worst.out * 100) / 100)} mm from the axis, the wood ends at ${tidy(Math.round(worst.reach * 100) / 100)} mm`,
        mend: below
          ? "make it shallower or narrower, or hollow it into the flat back of the split half"
          : "make it deeper or narrower, or move it to where the blank is thicker",
        measured: { value: worst.reach - worst.out, bound: 0, unit: "mm" },
        limit: { value: 0, unit: "mm", from: `the outside of "${workpiece.name}"` },
      },
    ];
  });
}

interface Out {
  readonly x: number;
  readonly y: number;
  readonly out: number;
  readonly reach: number;
  readonly by: number;
}

/** Where the floor comes nearest the outside of the wood, or goes out of it farthest. */
function farthestOut(solid: TurnedSolid, floor: Region, z: number): Out | undefined {
  const rings = flattenRegion(floor, 0.01);
  const box = boundsOfRegion(floor);
  if (box === undefined) return undefined;
  let worst: Out | undefined;
  for (let x = box.min.x + STEP / 2; x < box.max.x; x += STEP) {
    let y = 0;
    for (const ring of rings) {
      for (const [i, p] of ring.entries()) {
        const q = ring[(i + 1) % ring.length]!;
        if (p.x <= x === q.x <= x) continue;
        const there = p.y + ((x - p.x) / (q.x - p.x)) * (q.y - p.y) - solid.axis.y;
        if (Math.abs(there) > Math.abs(y)) y = there;
      }
    }
    const square = solid.squares.find((s) => s.from <= x && s.to >= x);
    const down = z - solid.axis.z;
    const out = square === undefined ? Math.hypot(y, down) : Math.max(Math.abs(y), -down);
    const reach = reachOver(solid, x, x);
    if (worst === undefined || out - reach > worst.by) worst = { x, y: y + solid.axis.y, out, reach, by: out - reach };
  }
  return worst;
}

/** The spot that zero is found on must still be there: square ends that an earlier cut, or this set-up's own, takes away. */
export function zeroSpotFindings(workpiece: Workpiece, corner: "left" | "right", turned: boolean): readonly Finding[] {
  if (workpiece.round === undefined || !hasSquareEnds(workpiece)) return [];
  const first = (corner === "left") !== turned;
  const { length } = workpiece.size;
  const spot = first ? { from: 0, to: ZERO_SPOT } : { from: length - ZERO_SPOT, to: length };
  const cut = workpiece.cavities.find((c) =>
    alongBlank(workpiece, c).some((s) => s.from < spot.to && s.to > spot.from),
  );
  if (cut === undefined) return [];
  return [
    {
      grade: "refuse",
      code: "plan-zero-spot-cut",
      place: { part: cut.part, feature: cut.feature, source: cut.source },
      what: `"${cut.feature}" takes the square end that zero is found on`,
      why: `zero is set at the ${corner} end, and must be found there again until the last cut`,
      mend: "keep the cut off that end, or set zero at the other one",
    },
  ];
}
