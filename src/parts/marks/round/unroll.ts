import { type Meridian, shareAtX } from "../../../shapes/meridian.ts";
import type { Point } from "../../../shapes/point.ts";
import { type Line, lengthOf, line, pieceOf, pointAt, type Segment, tangentAt } from "../../../shapes/segment.ts";
import type { SquareStretch } from "../../../shapes/turned-solid.ts";

/**
 * A turned surface unrolled about one place on it, so that a flat drawing lies on the wood in its true size there:
 * u along the axis, v around it, mm. Angles are radians from the side that the place looks to, growing the way v does.
 */
export interface Unrolled {
  /** `true to size`: a flat, a cylinder or a cone. `nearly`: a profile that curves both ways, where lengths change. */
  readonly kind: "flat" | "true to size" | "nearly";
  /** Where a point of the drawing comes to lie; undefined beyond the stretch that it holds for. */
  readonly onto: (u: number, v: number) => OnRound | undefined;
  /** Which point of the drawing lies at a place; undefined likewise. On a flat `angle` is v itself. */
  readonly from: (x: number, angle: number) => Point | undefined;
}

/** A place on the wood. */
export interface OnRound {
  /** Along the axis, mm. */
  readonly x: number;
  /** Radius there, mm; half the side of a square. */
  readonly radius: number;
  /** Around the axis, radians; on a flat, mm aside of its middle. */
  readonly angle: number;
  /** How steeply the radius changes along the meridian, dR/ds, −1 to 1. */
  readonly rise: number;
  /** How much longer the drawing's lines become here at worst, ≥ 1. */
  readonly stretch: number;
}

/** A radius that changes by less is a cylinder's: a micrometre in a kilometre. */
const LEVEL = 1e-9;
/** Lines whose length along the axis is less than this share of their own are steps: nothing from above draws on them. */
const STEP = 1e-3;
/** Places may lie beyond an end by rounding, mm. */
const SLACK = 1e-9;

/** The ways to unroll the surface about a place along the axis, the truest first; none where there is no wood. */
export function unrollingsAt(
  meridian: Meridian,
  squares: readonly SquareStretch[],
  along: number,
): readonly Unrolled[] {
  const square = squares.find((s) => along >= s.from && along <= s.to);
  if (square !== undefined) return [flat(square, along)];
  const segments = joined(meridian.segments);
  const here = segments.filter((s) => !isStep(s) && along >= s.from.x && along <= s.to.x);
  const [first] = here;
  const share = first === undefined ? undefined : shareAtX(first, along);
  if (first === undefined || share === undefined || !(pointAt(first, share).y > 0)) return [];
  const straight = here.flatMap((s) => (s.kind === "line" ? [cone(s, along)] : []));
  return [...straight, alongMeridian({ segments }, segments.indexOf(first), share)];
}

/** Lines that go on straight become one: a profile mirrored at its middle has a seam there that means nothing. */
function joined(segments: readonly Segment[]): readonly Segment[] {
  const out: Segment[] = [];
  for (const s of segments) {
    const last = out[out.length - 1];
    if (last?.kind === "line" && s.kind === "line") {
      const [a, b] = [tangentAt(last, 0), tangentAt(s, 0)];
      if (Math.abs(a.x * b.y - a.y * b.x) < LEVEL && a.x * b.x + a.y * b.y > 0) {
        out[out.length - 1] = line(last.from, s.to);
        continue;
      }
    }
    out.push(s);
  }
  return out;
}

/** True for an upright or nearly upright line of a meridian. */
export function isStep(s: Segment): boolean {
  return s.kind === "line" && Math.abs(s.to.x - s.from.x) <= STEP * lengthOf(s);
}

/** One side of a square. */
function flat(square: SquareStretch, along: number): Unrolled {
  const half = square.side / 2;
  const holds = (x: number, v: number): boolean =>
    x >= square.from - SLACK && x <= square.to + SLACK && Math.abs(v) <= half + SLACK;
  return {
    kind: "flat",
    onto: (u, v) => (holds(along + u, v) ? { x: along + u, radius: half, angle: v, rise: 0, stretch: 1 } : undefined),
    from: (x, v) => (holds(x, v) ? { x: x - along, y: v } : undefined),
  };
}

/**
 * A cylinder or cone, which unrolls without stretching: a cone of slant distance ρ from its tip and half angle a (sin a =
 * dR/ds) becomes a fan in which the turn around the axis shrinks by sin a. Closed forms of plane geometry.
 */
function cone(segment: Line, along: number): Unrolled {
  const { from, to } = segment;
  const length = lengthOf(segment);
  const rise = (to.y - from.y) / length;
  const run = (to.x - from.x) / length;
  const share = (along - from.x) / (to.x - from.x);
  const radius = from.y + share * (to.y - from.y);
  const holds = (x: number): boolean => x >= from.x - SLACK && x <= to.x + SLACK;
  if (Math.abs(rise) < LEVEL) {
    return {
      kind: "true to size",
      onto: (u, v) => (holds(along + u) ? { x: along + u, radius, angle: v / radius, rise: 0, stretch: 1 } : undefined),
      from: (x, angle) => (holds(x) ? { x: x - along, y: angle * radius } : undefined),
    };
  }
  const [steep, sense] = [Math.abs(rise), Math.sign(rise)];
  const slant = radius / steep;
  return {
    kind: "true to size",
    onto: (u, v) => {
      const level = slant + sense * u;
      const rho = Math.hypot(level, v);
      // ρ less the slant at the middle, without taking two large numbers from each other.
      const further = (sense * u * (2 * slant + sense * u) + v * v) / (rho + slant);
      const x = along + sense * further * run;
      if (!(level > 0) || !holds(x)) return undefined;
      return { x, radius: rho * steep, angle: Math.atan2(v, level) / steep, rise, stretch: 1 };
    },
    from: (x, angle) => {
      const rho = slant + (sense * (x - along)) / run;
      const turn = angle * steep;
      if (!holds(x) || !(rho > 0) || Math.abs(turn) >= Math.PI / 2) return undefined;
      return { x: sense * (rho * Math.cos(turn) - slant), y: rho * Math.sin(turn) };
    },
  };
}

/**
 * Any profile: u is laid off along the meridian, v around the crown of the wood at its own radius. What stands off the
 * middle line is sheared by k = |v·dR/ds| / R, and a drawn length grows at worst (k + √(k² + 4)) / 2 times: the greater
 * singular value of that shear.
 */
function alongMeridian(meridian: Meridian, index: number, share: number): Unrolled {
  const { segments } = meridian;
  const starts: number[] = [];
  let sum = 0;
  for (const s of segments) {
    starts.push(sum);
    sum += lengthOf(s);
  }
  const zero = starts[index]! + share * lengthOf(segments[index]!);
  const stepBefore = segments.slice(0, index).findLastIndex(isStep);
  const stepAfter = segments.findIndex((s, i) => i > index && isStep(s));
  const [first, last] = [stepBefore + 1, (stepAfter < 0 ? segments.length : stepAfter) - 1];
  const at = (s: number): { readonly segment: Segment; readonly t: number } | undefined => {
    for (let i = first; i <= last; i++) {
      const segment = segments[i]!;
      const into = s - starts[i]!;
      const length = lengthOf(segment);
      // At a joint both answer alike, so that rounding leaves no gap.
      if (into >= -SLACK && into <= length + SLACK) return { segment, t: Math.min(1, Math.max(0, into / length)) };
    }
    return undefined;
  };
  return {
    kind: "nearly",
    onto: (u, v) => {
      const found = at(zero + u);
      if (found === undefined) return undefined;
      const p = pointAt(found.segment, found.t);
      if (!(p.y > 0)) return undefined;
      const rise = tangentAt(found.segment, found.t).y;
      const shear = Math.abs((v * rise) / p.y);
      return { x: p.x, radius: p.y, angle: v / p.y, rise, stretch: (shear + Math.sqrt(shear * shear + 4)) / 2 };
    },
    from: (x, angle) => {
      for (let i = first; i <= last; i++) {
        const segment = segments[i]!;
        const t = x < segment.from.x || x > segment.to.x ? undefined : shareAtX(segment, x);
        if (t === undefined) continue;
        const u = starts[i]! + t * lengthOf(segment) - zero;
        return { x: u, y: angle * pointAt(segment, t).y };
      }
      return undefined;
    },
  };
}

/** The part of a meridian between two places along the axis, without steps. */
export function stretchesBetween(meridian: Meridian, from: number, to: number): readonly Segment[] {
  return meridian.segments.flatMap((s) => {
    if (isStep(s) || s.to.x <= from || s.from.x >= to) return [];
    const a = s.from.x >= from ? 0 : (shareAtX(s, from) ?? 0);
    const b = s.to.x <= to ? 1 : (shareAtX(s, to) ?? 1);
    return b - a > 1e-9 ? [pieceOf(s, a, b)] : [];
  });
}
