import { type Envelope, envelopeAt } from "../../plan/turning-envelope.ts";
import type { TurningOperation, TurningSetUp } from "../../plan/turning-setup.ts";
import type { Point } from "../../shapes/point.ts";
import type { Segment } from "../../shapes/segment.ts";
import { programmedPointOf } from "../../shop/turning-profile.ts";
import type { Purpose } from "../move.ts";
import type { TurningMove } from "./move.ts";

/**
 * Lays down the moves of one operation. Speaks of the tool's reference point, writes moves of its programmed point. Every cut
 * comes from the safe radius and returns to it: X out, Z along, X in.
 */
export interface Trail {
  readonly moves: readonly TurningMove[];
  /**
   * One cut: Z to its start at the safe radius, X in to `approach` above the wood, in at plunge feed, along, away, X out.
   * @param clear lowest radius at which the reference point is clear of the wood over the start
   */
  readonly cut: (way: readonly Segment[], clear: number, feed: number, why: Purpose) => void;
}

/** How far the tool steps away from what it has cut before X goes out, mm. */
const AWAY = 0.3;

/**
 * A trail for one operation.
 * @param stands where the tool may stand: it steps away from a wall beside it before X goes out; absent: straight out
 */
export function trailFor(operation: TurningOperation, setUp: TurningSetUp, stands?: Envelope): Trail {
  const moves: TurningMove[] = [];
  const by = programmedPointOf(operation.tool);
  const shift = (p: Point): Point => ({ x: p.x + by.x, y: p.y + by.y });
  const segment = (s: Segment, feed: number, why: Purpose): TurningMove =>
    s.kind === "line"
      ? { kind: "line", to: shift(s.to), feed, why }
      : { kind: "arc", to: shift(s.to), centre: shift(s.centre), ccw: s.ccw, feed, why };
  const cut = (way: readonly Segment[], clear: number, feed: number, why: Purpose): void => {
    const start = way[0]!.from;
    const end = way[way.length - 1]!.to;
    const { safeRadius, habits } = setUp;
    moves.push({ kind: "rapid z", z: shift(start).x });
    const above = Math.max(clear, start.y) + habits.approach;
    if (shift({ x: 0, y: above }).y < safeRadius) moves.push({ kind: "rapid x", r: shift({ x: 0, y: above }).y });
    moves.push({ kind: "line", to: shift(start), feed: operation.plunge, why: "entry" });
    for (const s of way) moves.push(segment(s, feed, why));
    const away = stands === undefined ? { x: end.x, y: end.y + AWAY } : awayFrom(stands, end);
    moves.push({ kind: "line", to: shift(away), feed, why: "exit" });
    moves.push({ kind: "rapid x", r: safeRadius });
  };
  return { moves, cut };
}

/** A point a little out and away from a wall beside `p`; straight out where there is none, or one on either side. */
function awayFrom(stands: Envelope, p: Point): Point {
  const steep = (dx: number): boolean => envelopeAt(stands, p.x + dx) > p.y + Math.abs(dx);
  const left = steep(-AWAY / 2) || steep(-0.01);
  const right = steep(AWAY / 2) || steep(0.01);
  const dx = left === right ? 0 : left ? AWAY : -AWAY;
  const y = Math.max(p.y + AWAY, envelopeAt(stands, p.x + dx));
  return { x: p.x + dx, y };
}
