import { buildHollow, type Hollow } from "../../shapes/hollow.ts";
import type { Point } from "../../shapes/point.ts";
import { arc, line } from "../../shapes/segment.ts";
import { mmText } from "./say.ts";

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
export interface FingerHollowTrouble {
  readonly key: "wall" | "floor" | "inside radius";
  readonly what: string;
  readonly why: string;
  readonly mend: string;
}

/**
 * The cross-section of a finger room; its lip is sharp here, since on round wood it does not lie in one plane and is eased
 * by itself. Why it cannot be is told with the key to blame.
 */
export function fingerHollow(w: HollowWish): Hollow | FingerHollowTrouble {
  const rim = w.depth - w.dished;
  if (rim <= 0) {
    return {
      key: "floor",
      what: "the floor is dished deeper than the finger room is deep",
      why: `${mmText(w.dished)} of ${mmText(w.depth)}`,
      mend: "dish it less",
    };
  }
  const made = buildHollow({
    depth: rim,
    leanDeg: w.wallLeanDeg,
    footRadius: w.insideRadius,
    dish: w.dished,
    ease: 0,
    middle: w.reach,
  });
  if (typeof made !== "string") return made;
  const inset = rim * Math.tan((w.wallLeanDeg * Math.PI) / 180);
  switch (made) {
    case "the walls meet before the floor":
      return {
        key: "wall",
        what: "the sloped walls meet before they reach the floor",
        why: `${mmText(rim)} deep at ${w.wallLeanDeg}° from upright, each wall comes in by ${mmText(inset)} of ${mmText(w.reach)}`,
        mend: "make the walls steeper, or the finger room wider or shallower",
      };
    case "the dish is steeper than the wall":
      return {
        key: "floor",
        what: "the dished floor is steeper than the wall it meets",
        why: `${mmText(w.dished)} deep over ${mmText(w.reach - inset)} from the wall to the middle`,
        mend: "dish it less, make the walls steeper, or the finger room wider",
      };
    case "the radius at the floor does not fit":
    case "the eased edge and the radius at the floor meet":
      return {
        key: "inside radius",
        what: "the inside radius does not fit between wall and floor",
        why: `${mmText(w.insideRadius)}, in a finger room ${mmText(w.depth)} deep and ${mmText(w.reach)} from wall to middle`,
        mend: "make it smaller, or the finger room deeper or wider",
      };
  }
}

/**
 * The same hollow with its mouth raised: the wall's line goes on upwards by `rise`, and distances are taken from the wider
 * outline up there. Where the mouth is lowered (`rise` < 0) nothing above it is left out: a finger room's wall is straight.
 */
export function raisedHollow(h: Hollow, rise: number, wallLeanDeg: number): Hollow {
  if (rise === 0) return h;
  const shift = rise * Math.tan((wallLeanDeg * Math.PI) / 180);
  const put = (p: Point): Point => ({ x: p.x + shift, y: p.y - rise });
  const moved = h.segments.map((s) =>
    s.kind === "line" ? line(put(s.from), put(s.to)) : arc(put(s.from), put(s.to), put(s.centre), s.ccw),
  );
  const [first, ...rest] = moved;
  const mouth = { x: 0, y: 0 };
  if (first === undefined) return h;
  // The wall and what is added above it are one line.
  return { segments: first.kind === "line" ? [line(mouth, first.to), ...rest] : [line(mouth, first.from), ...moved] };
}
