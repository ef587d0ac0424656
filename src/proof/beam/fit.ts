import type { BeamSetUp, PlacedMark } from "../../plan/beam-setup.ts";
import { type Box, distance, type Point } from "../../shapes/point.ts";
import { boundsOfRegion, regionSegments } from "../../shapes/region.ts";
import { boundsOf, lengthOf, pointAt, type Segment } from "../../shapes/segment.ts";
import { indexSegments, nearestDistanceTo, type SegmentIndex } from "../../shapes/segment-index.ts";
import type { Burn } from "../../simulate/beam.ts";
import { ACCURACY } from "../../tolerance.ts";
import { strayingOf } from "./along.ts";
import { type BeamCase, type BurnedMark, type BurnIn, cornerSlack, lateBy } from "./case.ts";
import { cornersOf } from "./corners.ts";
import { dotFrame, dotRowOf } from "./dot-frame.ts";
import { lookInto, type RegionLook } from "./region-look.ts";

/** Kept sides of what is cut through stand to the outline within this, mm. */
export const KEPT_SIDE = 0.02;

/** How near a commanded speed or power must be to the shop's setting, as a share: rounding of F and S. */
const SAME_SHARE = 0.005;

/** A burn that belongs to no mark, with how far it strays from the nearest. */
export interface Stray {
  readonly burned: BurnIn;
  readonly nearest: PlacedMark | undefined;
  /** Farthest from that mark, mm; Infinity where it is nowhere near any. */
  readonly worst: number;
  readonly at: Point;
  /** Length of it that strays, mm. */
  readonly length: number;
}

/** All burns of a set-up, each with the mark it belongs to. */
export interface Fitted {
  readonly marks: readonly FittedMark[];
  readonly strays: readonly Stray[];
}

/** A mark with its burns, and what its judges need. */
export interface FittedMark extends BurnedMark {
  readonly ready: Ready;
  /** Farthest that any of its burns lies from where it should, mm: a bound. */
  readonly off: number;
}

/** An aim made ready for being asked often. */
export type Ready =
  | { readonly kind: "lines"; readonly index: SegmentIndex; readonly box: Box }
  | { readonly kind: "area"; readonly look: RegionLook; readonly box: Box }
  | { readonly kind: "through"; readonly look: RegionLook; readonly pointed: readonly Point[]; readonly box: Box }
  | { readonly kind: "dots"; readonly box: Box };

/** Finds the mark of each burn: one whose drawing it keeps to; of several, one whose setting it was commanded by. */
export function fitBurns(setUp: BeamSetUp, cases: readonly BeamCase[]): Fitted {
  const ready = setUp.marks.map(readyFor);
  const burns: BurnIn[][] = setUp.marks.map(() => []);
  const off = setUp.marks.map(() => 0);
  const strays: Stray[] = [];
  for (const from of cases) {
    for (const burn of from.run.burns) {
      let chosen = -1;
      let chosenOff = 0;
      let nearest: (Fit & { readonly k: number }) | undefined;
      for (const [k, placed] of setUp.marks.entries()) {
        const fit = fitOf(setUp, placed, ready[k]!, burn);
        if (fit === undefined) continue;
        if (fit.beyond > 0) {
          if (nearest === undefined || fit.worst < nearest.worst) nearest = { ...fit, k };
          continue;
        }
        const own = commandedBy(setUp, placed, burn);
        if (chosen < 0 || (own && !commandedBy(setUp, setUp.marks[chosen]!, burn))) {
          chosen = k;
          chosenOff = fit.worst;
        }
      }
      if (chosen >= 0) {
        burns[chosen]!.push({ burn, from });
        off[chosen] = Math.max(off[chosen]!, chosenOff);
      } else {
        strays.push({
          burned: { burn, from },
          nearest: nearest === undefined ? undefined : setUp.marks[nearest.k],
          worst: nearest?.worst ?? Number.POSITIVE_INFINITY,
          at: nearest?.at ?? pointAt(burn.curve, 0.5),
          length: nearest?.beyond ?? lengthOf(burn.curve),
        });
      }
    }
  }
  return {
    marks: setUp.marks.map((placed, k) => ({ placed, burns: burns[k]!, ready: ready[k]!, off: off[k]! })),
    strays,
  };
}

/** Whether a burn was commanded at a mark's own power and speed. */
export function commandedBy(setUp: BeamSetUp, { setting }: PlacedMark, burn: Burn): boolean {
  return powerAgrees(setUp, setting.power, burn) && near(burn.commanded.feed, setting.speed);
}

/** Whether a burn's power is the one asked for, within the rounding of S to whole numbers, but never by more than 2 %. */
export function powerAgrees({ laser }: BeamSetUp, power: number, burn: Burn): boolean {
  const rounding = Math.min(0.5 / laser.fullScale, 0.02 * power) + 1e-9;
  return Math.abs(burn.power - power) <= Math.max(SAME_SHARE * power, rounding);
}

/** Whether two numbers agree within the rounding of a word. */
export function near(value: number, wanted: number): boolean {
  return Math.abs(value - wanted) <= SAME_SHARE * wanted;
}

interface Fit {
  readonly worst: number;
  readonly beyond: number;
  readonly at?: Point;
}

function readyFor({ aim }: PlacedMark): Ready {
  const nothing: Box = { min: { x: 0, y: 0 }, max: { x: 0, y: 0 } };
  switch (aim.kind) {
    case "lines": {
      const segments = aim.chains.flat();
      return { kind: "lines", index: indexSegments(segments), box: boxOf(segments) ?? nothing };
    }
    case "area":
      return { kind: "area", look: lookInto(aim.region), box: boundsOfRegion(aim.region) ?? nothing };
    case "through":
      return {
        kind: "through",
        look: lookInto(aim.outline),
        pointed: cornersOf(aim.outline, aim.keep).pointed,
        box: boxOf(regionSegments(aim.outline)) ?? nothing,
      };
    case "dots":
      return { kind: "dots", box: dotFrame(aim).box };
  }
}

/** How a burn keeps to a mark; undefined where it is nowhere near. */
function fitOf(setUp: BeamSetUp, placed: PlacedMark, ready: Ready, burn: Burn): Fit | undefined {
  const { aim, setting } = placed;
  const reach = 2 + (setting.kerf ?? 0);
  if (apart(boundsOf(burn.curve), ready.box, reach)) return undefined;
  const allowed = ACCURACY + cornerSlack(setUp);
  switch (ready.kind) {
    case "lines":
      return strayingOf(burn.curve, ready.index, allowed + lateBy(setUp, placed));
    case "area":
      return withinArea(ready.look, burn.curve, allowed);
    case "through":
      return aim.kind === "through"
        ? besideOutline(setUp, placed, ready, aim.keep, burn.curve, KEPT_SIDE + cornerSlack(setUp))
        : undefined;
    case "dots": {
      if (aim.kind !== "dots") return undefined;
      const row = dotRowOf(aim, burn.curve);
      const worst = Math.max(row.off, row.over);
      return { worst, beyond: worst > allowed + DOT_PLACE ? lengthOf(burn.curve) : 0, at: pointAt(burn.curve, 0.5) };
    }
  }
}

/** A dot's edge may be this far from its place, mm. */
export const DOT_PLACE = 0.02;

/** Whether a curve keeps inside a region, or within `allowed` of its border. */
function withinArea(look: RegionLook, curve: Segment, allowed: number): Fit {
  // What never meets the border stays on the side where its middle is.
  if (look.contains(pointAt(curve, 0.5)) && nearestDistanceTo(look.border, curve, 1e-6) > 1e-6) {
    return { worst: 0, beyond: 0 };
  }
  const s = strayingOf(curve, look.border, allowed, (p, half) => look.depth(p) >= half);
  return {
    worst: s.beyond > 0 ? s.worst : Math.min(s.within, allowed),
    beyond: s.beyond,
    ...(s.at ? { at: s.at } : {}),
  };
}

/** Whether a curve runs half a kerf beside the outline, on the side that falls away. */
function besideOutline(
  setUp: BeamSetUp,
  placed: PlacedMark,
  { look, pointed }: Extract<Ready, { kind: "through" }>,
  keep: "inside" | "outside",
  curve: Segment,
  allowed: number,
): Fit {
  const half = kerfOf(setUp, placed) / 2;
  const middle = pointAt(curve, 0.5);
  const total = lengthOf(curve);
  const nearest = nearestDistanceTo(look.border, curve, half + 1);
  const wrongSide = look.contains(middle) === (keep === "inside");
  if (wrongSide || nearest < half - allowed) {
    return { worst: wrongSide ? half + nearest : half - nearest, beyond: total, at: middle };
  }
  // Round a corner that points out the way may stay sharp: the corner is cut all the same.
  const s = strayingOf(curve, look.border, half + allowed, (p, h) =>
    pointed.some((c) => distance(p, c) + h <= half * Math.SQRT2 + allowed),
  );
  return {
    worst: Math.max(half - nearest, s.beyond > 0 ? s.worst - half : s.within - half, 0),
    beyond: s.beyond,
    at: s.at ?? middle,
  };
}

/** Width that a cut takes: as measured, else the spot. */
export function kerfOf(setUp: BeamSetUp, { setting }: PlacedMark): number {
  return setting.kerf ?? Math.max(setUp.laser.spot.x, setUp.laser.spot.y);
}

function boxOf(segments: readonly Segment[]): Box | undefined {
  return segments.map(boundsOf).reduce<Box | undefined>(
    (a, b) =>
      a === undefined
        ? b
        : {
            min: { x: Math.min(a.min.x, b.min.x), y: Math.min(a.min.y, b.min.y) },
            max: { x: Math.max(a.max.x, b.max.x), y: Math.max(a.max.y, b.max.y) },
          },
    undefined,
  );
}

function apart(a: Box, b: Box, reach: number): boolean {
  return (
    a.min.x > b.max.x + reach || a.max.x < b.min.x - reach || a.min.y > b.max.y + reach || a.max.y < b.min.y - reach
  );
}
