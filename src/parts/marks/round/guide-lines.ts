import { radiiAt } from "../../../shapes/meridian.ts";
import { boundsOfRegion } from "../../../shapes/region.ts";
import { line, pointAt, type Segment } from "../../../shapes/segment.ts";
import type { FingerRoom, TurnedPiece } from "../../turned-piece.ts";
import { stretchesBetween } from "./unroll.ts";

/** A straight piece of a guide line, on wood whose height changes little along it. mm. */
export interface GuidePiece {
  readonly from: number;
  readonly to: number;
  readonly drop: number;
}

/** Height may change this much along one piece, mm, so that a beam's focus holds for all of it. Ours, no source. */
const LEVEL_WITHIN = 0.8;
/** Shorter pieces are left out, mm: a saw follows what can be seen. Ours, no source. */
const SHORTEST = 6;
/** Places at which a profile is looked at, mm apart. */
const STEP = 0.25;

/**
 * A line along the axis as pieces that each lie nearly level: over the square ends, cylinders and gentle curves. Steps
 * and steep flanks are left out; the eye bridges them.
 */
export function guidePieces(piece: Pick<TurnedPiece, "meridian" | "squares">, from: number, to: number): GuidePiece[] {
  const out: GuidePiece[] = [];
  for (const s of piece.squares) {
    const [a, b] = [Math.max(s.from, from), Math.min(s.to, to)];
    if (b - a >= SHORTEST) out.push({ from: a, to: b, drop: 0 });
  }
  let open: { from: number; to: number; least: number; most: number } | undefined;
  const close = (): void => {
    if (open !== undefined && open.to - open.from >= SHORTEST) {
      out.push({ from: open.from, to: open.to, drop: open.most - open.least });
    }
    open = undefined;
  };
  for (const s of stretchesBetween(piece.meridian, from, to)) {
    for (const p of lookedAt(s)) {
      if (open === undefined) {
        open = { from: p.x, to: p.x, least: p.y, most: p.y };
        continue;
      }
      const [least, most] = [Math.min(open.least, p.y), Math.max(open.most, p.y)];
      if (most - least > LEVEL_WITHIN || p.x - open.to > 2 * STEP) {
        close();
        open = { from: p.x, to: p.x, least: p.y, most: p.y };
      } else open = { from: open.from, to: p.x, least, most };
    }
  }
  close();
  return out.sort((a, b) => a.from - b.from);
}

function lookedAt(s: Segment): readonly { readonly x: number; readonly y: number }[] {
  const n = Math.max(1, Math.ceil((s.to.x - s.from.x) / STEP));
  // Evenly along the segment: where it is steep, x moves on less.
  return Array.from({ length: n + 1 }, (_, i) => pointAt(s, i / n));
}

/** A piece of a guide line, seen from above, along and across the axis. */
export function guideSegment(g: GuidePiece): Segment {
  return line({ x: g.from, y: 0 }, { x: g.to, y: 0 });
}

/** What of a stretch of the crown line lies beside a finger room cut down from it. */
export function besideRoom(
  room: FingerRoom | undefined,
  from: number,
  to: number,
): readonly (readonly [number, number])[] {
  if (room?.cut !== "crown") return [[from, to]];
  const box = boundsOfRegion(room.section);
  if (box === undefined) return [[from, to]];
  const hollows = [0, ...(room.alsoAt ?? [])]
    .map((dx) => [box.min.x + dx - room.ease, box.max.x + dx + room.ease] as const)
    .sort((a, b) => a[0] - b[0]);
  const out: (readonly [number, number])[] = [];
  let at = from;
  for (const [a, b] of hollows) {
    if (a > at) out.push([at, Math.min(a, to)]);
    at = Math.max(at, b);
  }
  if (at < to) out.push([at, to]);
  return out;
}

/** Half the breadth of the wood at one of its ends, mm: as far as a line across that end may run from the axis. */
export function reachAtEnd(
  piece: Pick<TurnedPiece, "meridian" | "squares" | "blank">,
  end: "first" | "second",
): number {
  const x = end === "first" ? 0 : piece.blank.length;
  const square = piece.squares.find((s) => x >= s.from && x <= s.to);
  if (square !== undefined) return square.side / 2;
  return radiiAt(piece.meridian, x)?.least ?? 0;
}
