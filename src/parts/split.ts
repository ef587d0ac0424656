import type { Meridian } from "../shapes/meridian.ts";
import { extentOfMeridian } from "../shapes/meridian.ts";
import { distanceToPoint } from "../shapes/nearest.ts";
import { boundsOfRegion } from "../shapes/region.ts";
import { lengthOf, pointAt, type Segment } from "../shapes/segment.ts";
import { movedSolid } from "../shapes/turned-solid.ts";
import { ALIKE, alikeAboutAxis } from "./halves-alike.ts";
import type { TurnedPiece } from "./turned-piece.ts";

/** A line knifed along the wood or across an end before it is split. Along the piece's axis, mm. */
export type KnifeLine =
  | {
      readonly kind: "along";
      /** 0: along the crown; 180: along the side that lies down. */
      readonly angleDeg: 0 | 180;
      readonly from: number;
      readonly to: number;
    }
  | {
      readonly kind: "across end";
      readonly end: "first end" | "second end";
      /** From the crown mark through the middle to the mark at 180°: the end's own diameter or side. */
      readonly length: number;
    };

/** How far a knifed line stays from the eased lip of the finger room, mm. Common practice, no source. */
const OFF_THE_LIP = 0.5;
/** Step along the profile where it is compared with its own mirror image, mm. */
const STEP = 0.1;

/**
 * The lines that guide the saw: the crown line beyond the finger room at both ends, the same line at 180°, and one across
 * each end that joins them.
 */
export function linesToKnife(piece: TurnedPiece): readonly KnifeLine[] {
  const { length } = piece.blank;
  const room = piece.fingerRoom;
  const box = room === undefined ? undefined : boundsOfRegion(room.section);
  const mouths =
    room === undefined || box === undefined || room.cut === "back"
      ? []
      : [0, ...(room.alsoAt ?? [])]
          .map((shift) => ({
            from: box.min.x + shift - room.ease - OFF_THE_LIP,
            to: box.max.x + shift + room.ease + OFF_THE_LIP,
          }))
          .sort((a, b) => a.from - b.from);
  const crown: KnifeLine[] = [];
  let from = 0;
  for (const mouth of [...mouths, { from: length, to: length }]) {
    if (mouth.from > from) crown.push({ kind: "along", angleDeg: 0, from, to: Math.min(mouth.from, length) });
    from = Math.max(from, mouth.to);
  }
  return [
    ...crown,
    { kind: "along", angleDeg: 180, from: 0, to: length },
    { kind: "across end", end: "first end", length: acrossAt(piece, "first end") },
    { kind: "across end", end: "second end", length: acrossAt(piece, "second end") },
  ];
}

function acrossAt(piece: TurnedPiece, end: "first end" | "second end"): number {
  const x = end === "first end" ? 0 : piece.blank.length;
  const square = piece.squares.find((s) => s.from - 1e-6 <= x && x <= s.to + 1e-6);
  if (square !== undefined) return square.side;
  const { segments } = piece.meridian;
  const at = end === "first end" ? segments[0]?.from : segments[segments.length - 1]?.to;
  return 2 * (at?.y ?? 0);
}

/** One half of a split blank, and how it goes on a drawer front, its flat against it. */
export interface Half {
  readonly name: "half 1" | "half 2";
  /** Where it lay before the split, crown up and first end left. */
  readonly lay: "away from you" | "towards you";
  /** Where its first end comes, seen from the room, with the finger room's mouth facing down and facing up. */
  readonly firstEnd: { readonly mouthDown: "left" | "right"; readonly mouthUp: "left" | "right" };
}

/** The two halves compared. */
export interface Halves {
  /** true: either half goes in either place. */
  readonly alike: boolean;
  /** Most that any pull differs from itself turned end for end, mm. */
  readonly differs: number;
  readonly halves: readonly [Half, Half];
}

/**
 * Where each half goes. The split plane makes them mirror images; they are one and the same shape where each pull, with
 * its finger room, is alike end for end within 0.05 mm, or where finger room closed all round lies on the middle line of
 * each half's flat.
 *
 * Half 1 lies at 90°, away from the viewer. Its flat against the drawer front and its mouth, at the crown, facing up, the
 * room looks at it from 90°: then its first end, left before, is at the right.
 */
export function halvesOf(piece: TurnedPiece): Halves {
  const differs = Math.max(...pullsOf(piece).map((pull) => unlikeEndForEnd(piece, pull)));
  // Over the far side the mouth lies at 180°: up and down change places.
  const turned = piece.fingerRoom?.cut === "back" && piece.fingerRoom.opensOver === "far side";
  const first = turned ? sides("left", "right") : sides("right", "left");
  const second = turned ? sides("right", "left") : sides("left", "right");
  return {
    alike: alikeAboutAxis(piece) || differs <= ALIKE,
    differs,
    halves: [
      { name: "half 1", lay: "away from you", firstEnd: first },
      { name: "half 2", lay: "towards you", firstEnd: second },
    ],
  };
}

function sides(mouthUp: "left" | "right", mouthDown: "left" | "right"): Half["firstEnd"] {
  return { mouthUp, mouthDown };
}

/** The pulls in one turning, along the axis; all that is turned where the piece says nothing else. */
function pullsOf(piece: TurnedPiece): readonly { readonly from: number; readonly to: number }[] {
  const all = extentOfMeridian(piece.meridian);
  return piece.pulls === undefined || piece.pulls.length === 0 ? [all] : piece.pulls;
}

/** How far a pull, with its finger room, lies from its own image turned end for end, mm; within half a step of 0.1. */
function unlikeEndForEnd(piece: TurnedPiece, pull: { readonly from: number; readonly to: number }): number {
  const segments = piece.meridian.segments.filter((s) => s.from.x >= pull.from - 1e-6 && s.to.x <= pull.to + 1e-6);
  const about = pull.from + pull.to;
  const flipped = flip({ segments }, about);
  const shape = segments.reduce((most, s) => Math.max(most, farthest(s, flipped)), 0);
  const box = piece.fingerRoom === undefined ? undefined : boundsOfRegion(piece.fingerRoom.section);
  if (box === undefined) return shape;
  const shifts = [0, ...(piece.fingerRoom?.alsoAt ?? [])];
  const off = Math.min(...shifts.map((shift) => Math.abs(box.min.x + box.max.x + 2 * shift - about)));
  return Math.max(shape, off);
}

function flip(meridian: Meridian, about: number): readonly Segment[] {
  const solid = { meridian, axis: { y: 0, z: 0 }, squares: [] };
  return movedSolid(solid, { x: about, flip: true, axis: { y: 0, z: 0 } }).meridian.segments;
}

function farthest(s: Segment, others: readonly Segment[]): number {
  const n = Math.max(1, Math.ceil(lengthOf(s) / STEP));
  let most = 0;
  for (let i = 0; i <= n; i++) {
    const p = pointAt(s, i / n);
    most = Math.max(most, Math.min(...others.map((o) => distanceToPoint(o, p))));
  }
  return most;
}
