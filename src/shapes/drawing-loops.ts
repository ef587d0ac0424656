import { type Affine, applyAffine, applyToDirection, determinantOf, keepsCircles, within } from "./affine.ts";
import { fitCurve } from "./biarc.ts";
import { crossings } from "./crossings.ts";
import type { DrawnPiece, Subpath } from "./path-data.ts";
import { distance, type Point } from "./point.ts";
import { areaOfLoop, containsPoint, type Loop, type Region } from "./region.ts";
import { arc, boundsOf, lengthOf, line, pointAt, reversed, type Segment, tangentAt } from "./segment.ts";
import { indexSegments, segmentsNear } from "./segment-index.ts";

/** Farthest that lines and arcs stray from a drawn curve, mm. */
export const CURVE_WITHIN = 0.001;
/** Ends farther apart than this, mm, leave an outline open. */
export const CLOSED_WITHIN = 0.001;
/** Steps shorter than this, mm, are drawn by rounding alone. */
export const SAME_POINT = 1e-6;
/** Largest coordinate, mm. */
const LARGEST = 10_000;

/** Why an outline cannot be used; `at` in mm on the page. */
export type LoopFault =
  | { readonly kind: "open"; readonly gap: number; readonly at: Point }
  | { readonly kind: "no area" }
  | { readonly kind: "too large" };

/** How far apart, mm, the ends of a subpath lie that no command closes; 0 for a closed one. */
export function gapOf(subpath: Subpath, toMm: Affine): number {
  const last = subpath.pieces[subpath.pieces.length - 1];
  if (subpath.closed || last === undefined) return 0;
  return distance(applyAffine(toMm, last.to), applyAffine(toMm, subpath.start));
}

/** A subpath as a chain of lines and arcs in mm, through `toMm`, from its first point to its last. */
export function chainFrom(
  subpath: Subpath,
  toMm: Affine,
  curveWithin = CURVE_WITHIN,
): { readonly chain: readonly Segment[] } | { readonly fault: LoopFault } {
  const chain: Segment[] = [];
  let here = applyAffine(toMm, subpath.start);
  let drawnFrom = subpath.start;
  if (!inRange(here)) return { fault: { kind: "too large" } };
  for (const piece of subpath.pieces) {
    const to = applyAffine(toMm, piece.to);
    if (!inRange(to)) return { fault: { kind: "too large" } };
    const pieces = mapped(piece, drawnFrom, here, to, toMm, curveWithin);
    drawnFrom = piece.to;
    // What starts and ends on one spot adds nothing, unless it goes round.
    if (pieces.length === 0 || (pieces.length === 1 && distance(here, to) < SAME_POINT)) continue;
    chain.push(...pieces);
    here = to;
  }
  return { chain };
}

/** A subpath as a loop of lines and arcs in mm, through `toMm`. */
export function loopFrom(subpath: Subpath, toMm: Affine): { readonly loop: Loop } | { readonly fault: LoopFault } {
  const made = chainFrom(subpath, toMm);
  if ("fault" in made) return made;
  const gap = endGapOf(made.chain);
  const last = made.chain[made.chain.length - 1];
  if (last !== undefined && gap > CLOSED_WITHIN && !subpath.closed) {
    return { fault: { kind: "open", gap, at: last.to } };
  }
  const loop = closedChain(made.chain);
  return loop.length < 2 ? { fault: { kind: "no area" } } : { loop };
}

/** How far apart, mm, a chain's ends lie; 0 for an empty chain. */
export function endGapOf(chain: readonly Segment[]): number {
  const [first] = chain;
  const last = chain[chain.length - 1];
  return first === undefined || last === undefined ? 0 : distance(last.to, first.from);
}

/** A chain brought back to its start: by a line, or bit for bit where only rounding parts its ends. */
export function closedChain(chain: readonly Segment[]): readonly Segment[] {
  const [first] = chain;
  const last = chain[chain.length - 1];
  if (first === undefined || last === undefined) return chain;
  if (endGapOf(chain) >= SAME_POINT) return [...chain, line(last.to, first.from)];
  return [...chain.slice(0, -1), endedAt(last, first.from)];
}

function inRange(p: Point): boolean {
  return Math.abs(p.x) <= LARGEST && Math.abs(p.y) <= LARGEST;
}

function mapped(piece: DrawnPiece, drawnFrom: Point, from: Point, to: Point, toMm: Affine, near: number): Segment[] {
  switch (piece.kind) {
    case "line":
      return [line(from, to)];
    case "bezier": {
      const [p, q] = [applyAffine(toMm, piece.near), applyAffine(toMm, piece.far)];
      return meeting(fitCurve(bezier(applyAffine(toMm, drawnFrom), p, q, to), near), from, to);
    }
    case "ellipse": {
      const frame = within(toMm, piece.frame);
      if (keepsCircles(frame)) {
        return [arc(from, to, { x: frame.e, y: frame.f }, determinantOf(frame) > 0 === piece.sweep > 0)];
      }
      return meeting(ellipseArcs(frame, piece.start, piece.sweep, near), from, to);
    }
  }
}

/**
 * An ellipse's arc in stretches that end at its leftmost, rightmost, highest and lowest points, so that its box is exact;
 * each fitted by itself.
 */
function ellipseArcs(frame: Affine, start: number, sweep: number, near: number): Segment[] {
  const found: Segment[] = [];
  const at = (angle: number): Point => applyAffine(frame, { x: Math.cos(angle), y: Math.sin(angle) });
  const stops = [Math.atan2(frame.c, frame.a), Math.atan2(frame.d, frame.b)]
    .flatMap((angle) => [-4, -3, -2, -1, 0, 1, 2, 3, 4].map((k) => (angle + k * Math.PI - start) / sweep))
    .filter((t) => t > 1e-9 && t < 1 - 1e-9)
    .sort((a, b) => a - b);
  let from = 0;
  for (const to of [...stops, 1]) {
    const begin = start + from * sweep;
    const turn = (to - from) * sweep;
    // Two stops may fall on one spot.
    if (to - from > 1e-9) {
      const stretch = fitCurve(
        {
          pointAt: (t) => at(begin + t * turn),
          directionAt: (t) => {
            const angle = begin + t * turn;
            return applyToDirection(frame, { x: -turn * Math.sin(angle), y: turn * Math.cos(angle) });
          },
        },
        near,
      );
      const last = found[found.length - 1];
      found.push(
        ...(last === undefined ? stretch : meeting(stretch, last.to, stretch[stretch.length - 1]?.to ?? last.to)),
      );
      from = to;
    }
  }
  return found;
}

/** A cubic curve by Bernstein's form. Where two control points coincide its direction is that of the next that doesn't. */
function bezier(a: Point, b: Point, c: Point, d: Point): Parameters<typeof fitCurve>[0] {
  const blend = (i: number, j: number, k: number, l: number): Point => ({
    x: i * a.x + j * b.x + k * c.x + l * d.x,
    y: i * a.y + j * b.y + k * c.y + l * d.y,
  });
  const size = Math.max(distance(a, b), distance(b, c), distance(c, d));
  const least = (1e-9 * size) ** 2;
  return {
    pointAt: (t) => {
      const s = 1 - t;
      return t >= 1 ? d : blend(s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t);
    },
    directionAt: (t) => {
      const s = 1 - t;
      const v = blend(-3 * s * s, 3 * s * s - 6 * s * t, 6 * s * t - 3 * t * t, 3 * t * t);
      if (v.x * v.x + v.y * v.y > least) return v;
      const second = blend(6 * s, 6 * t - 12 * s, 6 * s - 12 * t, 6 * t);
      const sign = t > 0.5 ? -1 : 1;
      if (second.x * second.x + second.y * second.y > least) return { x: sign * second.x, y: sign * second.y };
      return { x: d.x - a.x, y: d.y - a.y };
    },
  };
}

/** Pieces with their outer ends put bit for bit where the neighbours are. */
function meeting(pieces: readonly Segment[], from: Point, to: Point): Segment[] {
  if (pieces.length === 0) return [];
  const begun = pieces.map((s, i) => (i === 0 ? reversed(endedAt(reversed(s), from)) : s));
  return begun.map((s, i) => (i === begun.length - 1 ? endedAt(s, to) : s));
}

function endedAt(s: Segment, to: Point): Segment {
  return s.kind === "line" ? line(s.from, to) : arc(s.from, to, s.centre, s.ccw);
}

/** The first place where loops cross or touch themselves or each other, apart from the joints of neighbours. */
export function firstCrossing(loops: readonly Loop[]): Point | undefined {
  const place = new Map<Segment, { readonly loop: Loop; readonly i: number }>();
  for (const loop of loops) for (const [i, s] of loop.entries()) place.set(s, { loop, i });
  const index = indexSegments([...place.keys()]);
  for (const [a, { loop, i }] of place) {
    for (const b of segmentsNear(index, boundsOf(a), 0)) {
      const other = place.get(b)!;
      const step = other.loop === loop ? (other.i - i + loop.length) % loop.length : -1;
      if (a === b || (other.loop === loop && other.i < i)) continue;
      const found = meetBesideJoints(a, b, step === 1, step === loop.length - 1);
      if (found !== undefined) return found;
    }
  }
  return undefined;
}

/** Where two pieces meet but for the joint after the first, or before it, when they are neighbours. */
export function meetBesideJoints(a: Segment, b: Segment, after: boolean, before: boolean): Point | undefined {
  const joints = [...(after ? [a.to] : []), ...(before ? [a.from] : [])];
  // Neighbours that meet smoothly run side by side for a stretch: rounding may place their touch along it.
  const near = Math.min(0.001, lengthOf(a) / 4, lengthOf(b) / 4);
  return crossings(a, b).find((p) => joints.every((q) => distance(p, q) > near));
}

/**
 * The area that loops enclose, by any of the rules given: a point belongs to it when it belongs to one of the shapes.
 * Loops that bound nothing (a hole within a hole, drawn the same way round) fall away.
 */
export function regionFrom(
  shapes: readonly { readonly loops: readonly Loop[]; readonly rule: "nonzero" | "even-odd" }[],
): Region {
  const inside = (p: Point): boolean =>
    shapes.some(({ loops, rule }) => {
      let winding = 0;
      for (const loop of loops) {
        if (containsPoint({ loops: [loop] }, p)) winding += rule === "even-odd" || areaOfLoop(loop) > 0 ? 1 : -1;
      }
      return rule === "even-odd" ? winding % 2 === 1 : winding !== 0;
    });
  const kept: Loop[] = [];
  for (const loop of shapes.flatMap((s) => s.loops)) {
    const longest = loop.reduce((a, b) => (lengthOf(b) > lengthOf(a) ? b : a));
    const p = pointAt(longest, 0.5);
    const along = tangentAt(longest, 0.5);
    const step = Math.min(1e-5, lengthOf(longest) / 100);
    const left = inside({ x: p.x - step * along.y, y: p.y + step * along.x });
    const right = inside({ x: p.x + step * along.y, y: p.y - step * along.x });
    // Wood to the left of travel: outer loops counter-clockwise, holes clockwise.
    if (left !== right) kept.push(left ? loop : [...loop].reverse().map(reversed));
  }
  return { loops: kept };
}
