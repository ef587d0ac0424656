import type { Hollow } from "../../shapes/hollow.ts";
import { arc, line, type Segment } from "../../shapes/segment.ts";

/** What a finger room's wall and floor are like. mm, degrees. */
export interface HollowWish {
  /** From the mouth's plane to the deepest point of the floor. */
  readonly depth: number;
  /** Lean of the wall from upright, 0 ≤ lean < 75. */
  readonly wallLeanDeg: number;
  /** How much deeper the floor's middle is than where wall and floor meet; 0 for a flat floor. */
  readonly dished: number;
  /** Radius between wall and floor. */
  readonly insideRadius: number;
  /** Distance from the outline to the middle of the shape: the radius of the largest circle in it. */
  readonly reach: number;
}

/** Why a hollow cannot be: the key to blame, and what is wrong. */
export interface HollowTrouble {
  readonly key: "wall" | "floor" | "inside radius";
  readonly what: string;
  readonly why: string;
  readonly mend: string;
}

/**
 * The cross-section of a finger room: a wall from the mouth down, an arc of the inside radius that leaves it and passes
 * into the floor, and a floor that is flat, or one arc that is level in the middle and rises by `dished` to the line of
 * the wall.
 *
 *       mouth (0, 0)                        n = (cos w, sin w): square to the wall, inwards
 *         \                                 C lies ρ from the wall along n, and
 *          \          D (reach, R − depth)    flat floor: ρ above it
 *           \   C                             dished:     R − ρ from the dish's centre D
 *            \_ ___________ deepest         R = (a² + dished²) / 2·dished, a from the wall's foot to the middle
 */
export function fingerHollow(w: HollowWish): Hollow | HollowTrouble {
  const lean = (w.wallLeanDeg * Math.PI) / 180;
  const [sin, cos, tan] = [Math.sin(lean), Math.cos(lean), Math.tan(lean)];
  const rim = w.depth - w.dished;
  const foot = { x: rim * tan, y: -rim };
  if (rim <= 0) {
    return {
      key: "floor",
      what: "the floor is dished deeper than the finger room is deep",
      why: `${mm(w.dished)} of ${mm(w.depth)}`,
      mend: "dish it less",
    };
  }
  if (foot.x >= w.reach) {
    return {
      key: "wall",
      what: "the sloped walls meet before they reach the floor",
      why: `${mm(rim)} deep at ${w.wallLeanDeg}° from upright, each wall comes in by ${mm(foot.x)} of ${mm(w.reach)}`,
      mend: "make the walls steeper, or the finger room wider or shallower",
    };
  }
  const dish = w.dished > 0 ? dishOf(w, foot.x) : undefined;
  if (dish !== undefined && w.dished > w.reach - foot.x) {
    return {
      key: "floor",
      what: "the floor is dished deeper than a half round of its breadth",
      why: `${mm(w.dished)} deep, ${mm(w.reach - foot.x)} from the wall to the middle`,
      mend: "dish it less, or make the finger room wider",
    };
  }
  const rho = w.insideRadius;
  if (rho === 0) {
    const segments: Segment[] = [line({ x: 0, y: 0 }, foot)];
    if (dish !== undefined) segments.push(arc(foot, dish.bottom, dish.centre, true));
    return { segments };
  }
  const tooRound: HollowTrouble = {
    key: "inside radius",
    what: "the inside radius does not fit between wall and floor",
    why: `${mm(rho)}, in a finger room ${mm(w.depth)} deep and ${mm(w.reach)} from wall to middle`,
    mend: "make it smaller, or the finger room deeper or wider",
  };
  if (dish !== undefined && rho >= dish.radius) return tooRound;
  const centre = dish === undefined ? onFlat(w.depth, rho, sin, cos) : onDish(dish, rho, sin, cos);
  if (centre === undefined) return tooRound;
  const off = { x: centre.x - rho * cos, y: centre.y - rho * sin };
  const on = dish === undefined ? { x: centre.x, y: -w.depth } : towards(dish.centre, centre, dish.radius);
  if (off.y > 0 || on.x > w.reach + 1e-9) return tooRound;
  const segments: Segment[] = [];
  if (off.y < 0) segments.push(line({ x: 0, y: 0 }, off));
  segments.push(arc(segments.length === 0 ? { x: 0, y: 0 } : off, on, centre, true));
  if (dish !== undefined && dish.bottom.x - on.x > 1e-9) segments.push(arc(on, dish.bottom, dish.centre, true));
  return { segments };
}

interface Dish {
  readonly centre: { readonly x: number; readonly y: number };
  readonly radius: number;
  readonly bottom: { readonly x: number; readonly y: number };
}

function dishOf(w: HollowWish, footX: number): Dish {
  const a = w.reach - footX;
  const radius = (a * a + w.dished * w.dished) / (2 * w.dished);
  return { centre: { x: w.reach, y: radius - w.depth }, radius, bottom: { x: w.reach, y: -w.depth } };
}

function onFlat(depth: number, rho: number, sin: number, cos: number): { x: number; y: number } {
  const y = rho - depth;
  return { x: (rho - y * sin) / cos, y };
}

/** The deeper of the two points that lie rho from the wall and R − rho from the dish's centre. */
function onDish(dish: Dish, rho: number, sin: number, cos: number): { x: number; y: number } | undefined {
  // Along the wall, u = (sin, −cos), from the point rho inside the mouth.
  const base = { x: rho * cos - dish.centre.x, y: rho * sin - dish.centre.y };
  const b = base.x * sin - base.y * cos;
  const c = base.x * base.x + base.y * base.y - (dish.radius - rho) ** 2;
  const root = b * b - c;
  if (root < 0) return undefined;
  const t = -b + Math.sqrt(root);
  return { x: rho * cos + t * sin, y: rho * sin - t * cos };
}

function towards(
  from: { readonly x: number; readonly y: number },
  to: { readonly x: number; readonly y: number },
  distance: number,
): { x: number; y: number } {
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const length = Math.hypot(dx, dy);
  return { x: from.x + (dx / length) * distance, y: from.y + (dy / length) * distance };
}

/**
 * The same hollow with its mouth raised: the wall's line goes on upwards by `rise`, and distances are taken from the wider
 * outline up there.
 */
export function raisedHollow(h: Hollow, rise: number, wallLeanDeg: number): Hollow {
  if (rise <= 0) return h;
  const shift = rise * Math.tan((wallLeanDeg * Math.PI) / 180);
  const put = (p: { readonly x: number; readonly y: number }): { x: number; y: number } => ({
    x: p.x + shift,
    y: p.y - rise,
  });
  const moved = h.segments.map((s) =>
    s.kind === "line" ? line(put(s.from), put(s.to)) : arc(put(s.from), put(s.to), put(s.centre), s.ccw),
  );
  const first = moved[0];
  if (first?.kind === "line") return { segments: [line({ x: 0, y: 0 }, first.to), ...moved.slice(1)] };
  return { segments: [line({ x: 0, y: 0 }, first?.from ?? put({ x: 0, y: 0 })), ...moved] };
}

function mm(value: number): string {
  return `${Number(value.toFixed(3))} mm`;
}
