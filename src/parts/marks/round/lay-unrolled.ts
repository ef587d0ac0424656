import { extentOfMeridian, radiiOver } from "../../../shapes/meridian.ts";
import { shiftBy } from "../../../shapes/plan-map.ts";
import { pointAt } from "../../../shapes/segment.ts";
import { boundsOfInk, mapInk, segmentsOfInk } from "../ink.ts";
import type { Ink } from "../mark.ts";
import type { LaidInk, LayTrouble, RoundWood } from "./lay-ink.ts";

/** Wood beneath a mark that is turned under the beam is one cylinder within this, mm: far below any depth of focus. */
const ONE_RADIUS = 0.01;

/** Ink laid off along the axis and around the surface, for a beam that stays over the axis while the wood turns. */
export interface UnrolledInk extends LaidInk {
  /** x from the first end, y along the surface from the crown over the upper edge. */
  readonly ink: Ink;
  /** Of the wood beneath it. */
  readonly radius: number;
}

/**
 * Unrolls ink onto a cylinder: true to size, as wide as the whole turn. Elsewhere refused: on one turn of A every radius
 * runs past the beam at its own speed.
 */
export function layUnrolled(
  ink: Ink,
  wood: Pick<RoundWood, "meridian" | "squares">,
  along: number,
  aroundDeg: number,
): UnrolledInk | LayTrouble {
  const box = boundsOfInk(ink);
  if (box === undefined) return { trouble: "no wood" };
  const [from, to] = [along + box.min.x, along + box.max.x];
  const ends = extentOfMeridian(wood.meridian);
  const radii = radiiOver(wood.meridian, from, to);
  const square = wood.squares.some((s) => s.from < to - 1e-9 && s.to > from + 1e-9);
  if (radii === undefined || square) return { trouble: "uneven", least: undefined, most: undefined };
  const over = Math.max(ends.from - from, to - ends.to);
  if (over > 1e-9) return { trouble: "step", over };
  if (radii.most - radii.least > ONE_RADIUS) return { trouble: "uneven", least: radii.least, most: radii.most };
  const radius = (radii.least + radii.most) / 2;
  const whole = 2 * Math.PI * radius;
  if (box.max.y - box.min.y > whole + 1e-6) return { trouble: "more than a turn", whole };
  const turn = ((aroundDeg + 180) % 360) - 180;
  const laid = mapInk(shiftBy(along, (turn * Math.PI * radius) / 180), ink);
  return {
    ink: laid,
    radius,
    stretch: 1,
    drop: 0,
    slopeDeg: 0,
    points: segmentsOfInk(laid)
      .flatMap((s) => [0, 0.25, 0.5, 0.75, 1].map((t) => pointAt(s, t)))
      .map((p) => ({ x: p.x, radius, angle: p.y / radius })),
  };
}
