import { distance, type Point } from "./point.ts";
import { arc, line, radiusOf, type Segment, tangentAt } from "./segment.ts";

/**
 * The cross-section of a hollow's wall and floor, the same all along its outline: a chain of lines and arcs in the plane
 * (x = distance inside the outline, y = height above the mouth's plane, ≤ 0), from the mouth down. x never goes back, y
 * never rises. Beyond the last point the floor is level. An eased edge begins outside the outline, at x < 0. The surface
 * is this chain carried along all level lines of the distance to the outline. mm.
 */
export interface Hollow {
  readonly segments: readonly Segment[];
}

/** Sizes nearer than this are the same, mm. */
const SAME = 1e-9;

/** Turns flatter than this are a smooth joint, as the sine of the angle. */
const SMOOTH = 1e-6;

/** First and last point of a hollow's chain. @throws RangeError for an empty one: a bug in what made it */
export function endsOfHollow(h: Hollow): { readonly mouth: Point; readonly floor: Point } {
  const first = h.segments[0];
  const last = h.segments[h.segments.length - 1];
  if (first === undefined || last === undefined) throw new RangeError("an empty hollow has no ends");
  return { mouth: first.from, floor: last.to };
}

/**
 * How far inside the outline the air begins at a height: the section there is all that lies at least this far inside.
 * Where the floor runs level at just this height, its nearer end. −∞ above the mouth; ∞ below the floor.
 * @param y height above the mouth's plane, mm
 */
export function insetAt(h: Hollow, y: number): number {
  const { mouth, floor } = endsOfHollow(h);
  if (y > mouth.y + SAME) return Number.NEGATIVE_INFINITY;
  if (y < floor.y - SAME) return Number.POSITIVE_INFINITY;
  for (const s of h.segments) if (s.to.y <= y) return s.from.y <= y ? s.from.x : xAtHeight(s, y);
  return floor.x;
}

/** Height of the wall or floor a distance inside the outline; the lower end where the wall is upright. 0 before the mouth. */
export function heightAt(h: Hollow, x: number): number {
  const { mouth, floor } = endsOfHollow(h);
  if (x < mouth.x) return mouth.y;
  if (x >= floor.x) return floor.y;
  for (const s of h.segments) if (s.to.x > x) return s.from.x >= x ? s.from.y : yAt(s, x);
  return floor.y;
}

/** Where a falling segment crosses a height within its own. */
export function xAtHeight(s: Segment, y: number): number {
  if (y >= s.from.y) return s.from.x;
  if (y <= s.to.y) return s.to.x;
  switch (s.kind) {
    case "line":
      return s.from.x + ((y - s.from.y) / (s.to.y - s.from.y)) * (s.to.x - s.from.x);
    case "arc": {
      const v = y - s.centre.y;
      return s.centre.x + sideOf(s) * Math.sqrt(Math.max(0, radiusOf(s) ** 2 - v * v));
    }
  }
}

function yAt(s: Segment, x: number): number {
  switch (s.kind) {
    case "line":
      return s.from.y + ((x - s.from.x) / (s.to.x - s.from.x)) * (s.to.y - s.from.y);
    case "arc": {
      const u = x - s.centre.x;
      return s.centre.y + sideOf(s) * Math.sqrt(Math.max(0, radiusOf(s) ** 2 - u * u));
    }
  }
}

/**
 * +1 for an arc that bulges out of the wood (its centre in the wood, as of an eased edge), −1 for one that is hollow (its
 * centre in the air). Walked down and inwards, the first turns clockwise.
 */
export function sideOf(s: Segment & { readonly kind: "arc" }): 1 | -1 {
  return s.ccw ? -1 : 1;
}

/** Radius of the tightest hollow bend of the chain, mm: no nose rounder than this reaches all of it. 0 at a sharp one. */
export function tightestBend(h: Hollow): number {
  let least = Number.POSITIVE_INFINITY;
  for (const [i, s] of h.segments.entries()) {
    if (s.kind === "arc" && sideOf(s) < 0) least = Math.min(least, radiusOf(s));
    const next = h.segments[i + 1];
    // Beyond its last point the floor runs level.
    const ahead = next === undefined ? { x: 1, y: 0 } : tangentAt(next, 0);
    const here = tangentAt(s, 1);
    if (here.x * ahead.y - here.y * ahead.x > SMOOTH) return 0;
  }
  return least;
}

/** Why a chain is no hollow, in a developer's words; undefined when it is one. */
export function hollowTrouble(h: Hollow): string | undefined {
  if (h.segments.length === 0) return "it is empty";
  if (Math.abs(endsOfHollow(h).mouth.y) > SAME) return "it does not begin in the mouth's plane";
  for (const [i, s] of h.segments.entries()) {
    const next = h.segments[i + 1];
    if (next !== undefined && distance(s.to, next.from) > SAME) return `there is a gap after segment ${i}`;
    for (const t of [0, 0.5, 1]) {
      const along = tangentAt(s, t);
      if (along.x < -1e-7) return `segment ${i} goes back`;
      if (along.y > 1e-7) return `segment ${i} rises`;
    }
  }
  return undefined;
}

/** The hollow with every x moved by a distance: the same surface about another level line of its outline. */
export function shiftedHollow(h: Hollow, by: number): Hollow {
  const at = (p: Point): Point => ({ x: p.x + by, y: p.y });
  return {
    segments: h.segments.map((s) =>
      s.kind === "line" ? line(at(s.from), at(s.to)) : arc(at(s.from), at(s.to), at(s.centre), s.ccw),
    ),
  };
}

/** What a hollow is made from. mm and degrees. */
export interface HollowWords {
  /** Depth at the wall's foot, where it would meet the floor without its rounding. */
  readonly depth: number;
  /** Lean of the wall from upright, degrees, 0 ≤ lean < 90. */
  readonly leanDeg: number;
  /** Radius between wall and floor. */
  readonly footRadius: number;
  /** How much deeper the floor is in the middle than at the wall's foot; 0 for a flat one. */
  readonly dish: number;
  /** Radius of the eased edge at the mouth; 0 for none. */
  readonly ease: number;
  /** Radius of the largest circle within the outline: how far inside it the middle lies. */
  readonly middle: number;
}

/** Why no hollow can be made of the words given. */
export type HollowTrouble =
  | "the walls meet before the floor"
  | "the dish is steeper than the wall"
  | "the radius at the floor does not fit"
  | "the eased edge and the radius at the floor meet";

/**
 * Builds a hollow about an outline at x = 0, where the wall would come up sharp. From the mouth: a quarter round or less
 * of radius `ease`, level at the surface and tangent to the wall; the wall; a round of radius `footRadius` tangent to wall
 * and floor; the floor, level, or an arc that is level in the middle: radius (L² + N²) / (2 N) for a run L and a dish N.
 * Source: plane geometry.
 */
export function buildHollow(w: HollowWords): Hollow | HollowTrouble {
  const lean = (w.leanDeg * Math.PI) / 180;
  const sin = Math.sin(lean);
  const cos = Math.cos(lean);
  const foot = { x: w.depth * (sin / cos), y: -w.depth };
  const run = w.middle - foot.x;
  if (!(run > SAME)) return "the walls meet before the floor";
  const floorY = -w.depth - w.dish;
  const round = w.dish > 0 ? (run * run + w.dish * w.dish) / (2 * w.dish) : Number.POSITIVE_INFINITY;
  // At its outer end the dish falls by asin(L / R); the wall by 90° − lean.
  if (w.dish > 0 && (w.dish > run || run / round >= cos)) return "the dish is steeper than the wall";
  const dish = { x: w.middle, y: floorY + round };
  const r = w.footRadius;
  // Centres of the foot's round lie along the wall, `r` off it into the air: from the mouth down by s.
  const along = (s: number): Point => ({ x: s * sin + r * cos, y: -s * cos + r * sin });
  let s: number;
  if (w.dish > 0) {
    if (r >= round) return "the radius at the floor does not fit";
    const o = along(0);
    const b = (o.x - dish.x) * sin - (o.y - dish.y) * cos;
    const c = (o.x - dish.x) ** 2 + (o.y - dish.y) ** 2 - (round - r) ** 2;
    const root = b * b - c;
    if (root < 0) return "the radius at the floor does not fit";
    s = -b + Math.sqrt(root);
  } else {
    s = (w.depth - r + r * sin) / cos;
  }
  const centre = along(s);
  const onWall = { x: centre.x - r * cos, y: centre.y - r * sin };
  const far = distance(centre, dish);
  const onFloor =
    w.dish > 0
      ? { x: centre.x + (r * (centre.x - dish.x)) / far, y: centre.y + (r * (centre.y - dish.y)) / far }
      : { x: centre.x, y: floorY };
  if (onFloor.x > w.middle + SAME || s < -SAME) return "the radius at the floor does not fit";
  // The edge's round touches the surface from below and the wall from within the wood.
  const edge = { x: (-w.ease * (1 - sin)) / cos, y: -w.ease };
  const onTop = { x: edge.x, y: 0 };
  const underEdge = w.ease > 0 ? { x: edge.x + w.ease * cos, y: edge.y + w.ease * sin } : { x: 0, y: 0 };
  if (onWall.y > underEdge.y + SAME) return "the eased edge and the radius at the floor meet";
  const segments: Segment[] = [];
  if (w.ease > 0) segments.push(arc(onTop, underEdge, edge, false));
  if (distance(underEdge, onWall) > SAME) segments.push(line(underEdge, onWall));
  if (r > 0 && distance(onWall, onFloor) > SAME) segments.push(arc(onWall, onFloor, centre, true));
  const middle = { x: w.middle, y: floorY };
  if (w.dish > 0 && distance(onFloor, middle) > SAME) segments.push(arc(onFloor, middle, dish, true));
  return joined(segments);
}

/** Each piece begins where the one before ends, bit for bit. */
function joined(segments: readonly Segment[]): Hollow {
  const out: Segment[] = [];
  for (const s of segments) {
    const before = out[out.length - 1];
    out.push(before === undefined ? s : { ...s, from: before.to });
  }
  return { segments: out };
}
