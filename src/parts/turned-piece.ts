import type { Source } from "../finding.ts";
import type { NamedCopy, TurnedMark } from "../job/mark.ts";
import type { SetUpWishes } from "../job/wishes.ts";
import type { Hollow } from "../shapes/hollow.ts";
import { type Meridian, radiiAt } from "../shapes/meridian.ts";
import { boundsOfRegion, type Region } from "../shapes/region.ts";
import type { SquareStretch, TurnedSolid } from "../shapes/turned-solid.ts";

/**
 * A turned part: what comes off the lathe, what is hollowed out of it, how it is split. Filled by `parts` from the job;
 * read by the planning of turning, templates, walls and sheets. Coordinates: x along the axis from the first end of the
 * blank as mounted, radius from the axis. Seen with the crown (0°) up, the first end at the left; angles run from the
 * crown over the upper edge (90°, away from the viewer). mm.
 */
export interface TurnedPiece {
  readonly name: string;
  readonly wood: string;
  readonly copies: number;
  readonly blank: TurningBlank;
  /** All elements in order from the first end, with where they lie; they meet exactly. */
  readonly elements: readonly TurnedElement[];
  /** The finished shape, parting allowances included, over the whole turned stretch. */
  readonly meridian: Meridian;
  /** What is left square until the split. */
  readonly squares: readonly SquareStretch[];
  /** Waste between pulls in one turning, and at ends, that is parted or sawn off. */
  readonly waste: readonly { readonly from: number; readonly to: number }[];
  readonly turnedBy: "machine" | "hand";
  /** Name of the lathe in the shop file, where the job names one. */
  readonly lathe?: string;
  /** Where zero is found, in the user's words, where the job says it. */
  readonly zeroSpot?: string;
  /** Each pull's stretch of the axis, in order; absent: one, all that is turned. */
  readonly pulls?: readonly { readonly from: number; readonly to: number }[];
  /** True where the meridian was made from diameters read off the turned blank. */
  readonly asTurned?: boolean;
  /** How far the real radius may lie from the meridian, mm, and why. */
  readonly radiusError: { readonly value: number; readonly from: string };
  readonly fingerRoom?: FingerRoom;
  readonly split?: Split;
  /** Marks to be laid around it, and what each copy is called; absent: none. */
  readonly marks?: readonly TurnedMark[];
  readonly each?: readonly NamedCopy[];
  readonly wishes: SetUpWishes;
  readonly source: Source;
  /** Places in the file of single values, by key. */
  readonly sources: Readonly<Record<string, Source>>;
}

/** What is mounted on the lathe. */
export interface TurningBlank {
  readonly length: number;
  /** Across: the side of a square, or a diameter. */
  readonly across: number;
  readonly shape: "square" | "round";
}

/** One element of a profile, in the trade's name. */
export interface TurnedElement {
  readonly kind:
    | "tenon"
    | "cylinder"
    | "fillet"
    | "bead"
    | "cove"
    | "taper"
    | "ogee"
    | "vee"
    | "round-over"
    | "path"
    | "parting";
  readonly name: string;
  readonly from: number;
  readonly to: number;
  /** Diameters at its two ends. */
  readonly fromDiameter: number;
  readonly toDiameter: number;
  /** Least and greatest diameter within it, ends included. */
  readonly least?: number;
  readonly most?: number;
  /** Which pull it belongs to, from 1; 0 for waste. */
  readonly pull?: number;
  readonly source: Source;
}

/**
 * Finger room to be hollowed. Plan coordinates: x along the axis as above, y across, 0 on the axis. `crown`: seen from
 * the crown, y towards the upper edge (90°). `back`: seen on the trued flat of the half from 0° over 90° to 180°, as it
 * lies flat up with its first end at the left: y towards the crown line.
 *
 * `section` and `hollow` begin at one level plane: the crown's height above the section's middle (`crown`), or the trued
 * flat (`back`). Sizes and their drawing: `parts/turning/finger-room-of.ts`.
 */
export interface FingerRoom {
  readonly name: string;
  /** `crown`: down from the crown along the split line, while round. `back`: into the flat back of a split half. */
  readonly cut: "crown" | "back";
  readonly section: Region;
  /** The same outline in sizes. */
  readonly plan?: FingerPlan;
  /** Further pulls in the same turning have the same room, shifted along x by these. */
  readonly alsoAt?: readonly number[];
  /**
   * For `back`: the side over which it runs out of the wood, so that fingers come in there: meant, and no breakthrough.
   * Absent: closed all round.
   */
  readonly opensOver?: "crown side" | "far side";
  /** Depth below the crown above the section's middle (`crown`) or below the trued flat (`back`). */
  readonly depth: number;
  readonly hollow: Hollow;
  /** Lean of its wall from upright, degrees; absent: 0. */
  readonly wallLeanDeg?: number;
  /** Radius of the eased mouth, 0 for sharp. */
  readonly ease: number;
  /** The user's own where `sources` has "least wall" and "least lip angle", else practice: such may caution only. */
  readonly leastWall: number;
  readonly leastLipAngleDeg: number;
  /** Reasons behind sizes that came from fingers and a hand. */
  readonly reasons?: readonly string[];
  /** What it gives once split and trued: fingers' width, room behind, hook. */
  readonly gives: { readonly width: number; readonly roomBehind: number; readonly hook: number };
  readonly insideRadius: number;
  readonly cutter?: string;
  readonly source: Source;
  readonly sources: Readonly<Record<string, Source>>;
}

/** A finger room's outline at its mouth's plane: a slot, or a rectangle with rounded corners, about its middle. mm. */
export interface FingerPlan {
  readonly x: number;
  readonly y: number;
  /** Along the axis. */
  readonly length: number;
  /** Across it. */
  readonly breadth: number;
  readonly corner: number;
}

/** How a blank is split along its axis. Losses are per face and measured from the axis plane. */
export interface Split {
  readonly by: "saw" | "paper joint";
  readonly kerf: number;
  readonly wander: number;
  readonly truing: number;
  /** Which face (angle) the saw line lies on: 0 = crown. */
  readonly source: Source;
}

/** Height above the axis of the plane that a finger room cut from the crown is measured from, mm. */
export function mouthHeight(meridian: Meridian, room: Pick<FingerRoom, "section">): number {
  const box = boundsOfRegion(room.section);
  return box === undefined ? 0 : (radiiAt(meridian, (box.min.x + box.max.x) / 2)?.most ?? 0);
}

/** Wood lost from each half, measured from the axis plane, mm: half the kerf, the wander, the truing. */
export function lossPerHalf(split: Split): { readonly least: number; readonly most: number } {
  const least = split.kerf / 2 + split.truing;
  return { least, most: least + split.wander };
}

/** The blank as it lies after turning, with its axis at y = z = across / 2. */
export function solidOf(piece: TurnedPiece): TurnedSolid {
  const half = piece.blank.across / 2;
  return { meridian: piece.meridian, axis: { y: half, z: half }, squares: piece.squares };
}
