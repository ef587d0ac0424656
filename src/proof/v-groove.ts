import type { TargetCavity } from "../parts/target.ts";
import type { VForm } from "../parts/workpiece.ts";
import { V_FLOOR_RIDGE } from "../plan/levels.ts";
import { flattenSegment } from "../shapes/flatten.ts";
import { offsetPolygons } from "../shapes/offset.ts";
import type { Point3 } from "../shapes/point.ts";
import { type Polygons, pointInPolygons } from "../shapes/polygons.ts";
import { line } from "../shapes/segment.ts";
import { indexSegments } from "../shapes/segment-index.ts";
import { worstUncovered } from "./cover.ts";
import { type Need, peakOverAll } from "./lean-peak.ts";
import { type Stroke, sweepsAt } from "./left.ts";
import { heightAt } from "./motion.ts";
import { FINE } from "./reach.ts";
import { type Reached, type VStroke, worstShortOf } from "./v-short.ts";

/** How deep and how wide a V-groove may be off, mm: its surface, and each of the two sides of a line. */
export const V_DEPTH = 0.02;
export const V_SIDE = 0.01;

/** What a program makes of one V-groove. mm. */
export interface VGrooveLeft {
  readonly cavity: TargetCavity;
  /** Farthest that the bit goes beyond the outlines, as if brought up to the surface; 0 when it keeps within. */
  readonly over: number;
  readonly overAt: Point3 | undefined;
  /** Deepest below the cap. */
  readonly below: number;
  /** Widest share of a side that the bit does not reach, as if brought up to the surface. */
  readonly short: Reached;
  /** Farthest that a place on the floor at the cap lies from what is cut there; 0 where there is no floor. */
  readonly floor: { readonly value: number; readonly bound: number; readonly at: Point3 | undefined };
  /** What is allowed sideways: a line's side, and what it means in depth on a steep wall. */
  readonly allowed: number;
  readonly bit: VForm;
}

/**
 * A V-groove against its exact surface, from the read strokes alone.
 *
 * Let r(c) be the distance from a place c to the nearest outline. A tip with flat t at c may stand at a depth whose width
 * at the surface, R = t/2 + depth·tan, is r(c) at most, and no deeper than the cap: so the deepest surface that the bit can
 * make is known without its ways. *Beyond*: the largest R − r along each stroke, in closed form. *Short*: the
 * largest r(p) − max over strokes of (R(c) − |p − c|), over all places p, the cap counted; a stroke whose circle reaches
 * within σ of touching all that the ideal one at p touches leaves no more than σ of a side, and σ / tan of depth.
 */
export function vGrooveLeft(cavity: TargetCavity, bit: VForm, strokes: readonly Stroke[], slack: number): VGrooveLeft {
  const edges: Polygons = cavity.section.loops.map((loop) => loop.map((s) => s.from));
  const walls = edges.flatMap((r) => r.map((p, i) => line(p, r[(i + 1) % r.length]!)));
  const index = indexSegments(walls);
  const cap = cavity.zFrom - cavity.zTo;
  const own = strokes.flatMap((s) => strokesOfV(s, bit, cavity));
  let over = 0;
  let below = 0;
  let overAt: Point3 | undefined;
  for (const s of own) {
    const inside = pointInPolygons(edges, s.a) || pointInPolygons(edges, s.b);
    if (!inside) continue;
    const found = peakOverAll(s.a, s.b, index, over) ?? over;
    if (found > over) {
      over = found;
      overAt = { x: s.a.x, y: s.a.y, z: cavity.zFrom };
    }
    below = Math.max(below, (Math.max(s.a.need, s.b.need) - bit.tipFlat / 2) / bit.tan - cap);
  }
  const allowed = Math.min(V_SIDE, V_DEPTH * bit.tan) + slack;
  const most = cappedRadius(cavity, bit);
  const short = worstShortOf(walls, edges, own, { least: Math.max(bit.tipFlat / 2, allowed), most, allowed });
  return { cavity, over, overAt, below, short, floor: floorLeft(cavity, bit, edges, strokes), allowed, bit };
}

/** Width at the surface, halved, of a bit whose tip stands at the cap; ∞ where the width alone decides. */
function cappedRadius({ cavity, zFrom, zTo }: TargetCavity, bit: VForm): number {
  const capped = cavity.shape.kind === "v-groove" && cavity.shape.cap !== undefined;
  return capped ? bit.tipFlat / 2 + (zFrom - zTo) * bit.tan : Number.POSITIVE_INFINITY;
}

/** How exactly level arcs become chords, mm. */
const CHORD = 0.0005;

/** A stroke as a V of the groove's own form sees it: places with half the width at the surface. Others make none. */
function strokesOfV({ motion, cutter }: Stroke, bit: VForm, cavity: TargetCavity): readonly VStroke[] {
  const [tip] = cutter;
  if (tip?.kind !== "cone" || tip.from !== 0) return [];
  const tan = (tip.toRadius - tip.fromRadius) / tip.to;
  if (Math.abs(tan - bit.tan) > 1e-9 || Math.abs(2 * tip.fromRadius - bit.tipFlat) > 1e-9) return [];
  const needAt = (t: number): number => bit.tipFlat / 2 + Math.min(tip.to, cavity.zFrom - heightAt(motion, t)) * tan;
  if (Math.min(motion.zFrom, motion.zTo) >= cavity.zFrom) return [];
  const { curve } = motion;
  const points = curve.kind === "line" ? [curve.from, curve.to] : flattenSegment(curve, CHORD);
  const slack = motion.slack + (curve.kind === "line" ? 0 : CHORD);
  return points.slice(1).map((p, i) => {
    const a: Need = { ...points[i]!, need: needAt(i / (points.length - 1)) };
    const b: Need = { ...p, need: needAt((i + 1) / (points.length - 1)) };
    return { a, b, slack };
  });
}

/** What stays on the floor at the cap, a ridge's height and what surfaces may be off above it. */
function floorLeft(
  cavity: TargetCavity,
  bit: VForm,
  edges: Polygons,
  strokes: readonly Stroke[],
): VGrooveLeft["floor"] {
  const inset = cappedRadius(cavity, bit);
  const ways = Number.isFinite(inset) ? offsetPolygons(edges, -(inset + 2 * FINE), FINE) : [];
  if (ways.length === 0) return { value: 0, bound: 0, at: undefined };
  const floor = bit.tipFlat > 4 * FINE ? offsetPolygons(ways, bit.tipFlat / 2 - FINE, FINE) : ways;
  const z = cavity.zTo + V_FLOOR_RIDGE;
  const found = worstUncovered(floor, sweepsAt(strokes, z), FINE);
  return { value: found.value, bound: found.bound, at: found.at && { ...found.at, z } };
}
