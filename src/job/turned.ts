import type { Source } from "../finding.ts";
import type { Segment } from "../shapes/segment.ts";
import type { NamedCopy, TurnedMark } from "./mark.ts";
import type { SetUpWishes } from "./wishes.ts";

/**
 * A turned part as the user describes it: a blank, the elements of its profile, the finger room, the split. Lengths run
 * along the axis from the first end, the one at the left with the crown up. mm, degrees. Filled by `readJob`; read by
 * `parts`.
 */
export interface TurnedDescription {
  readonly name: string;
  readonly wood: string;
  readonly copies: number;
  readonly blank: {
    readonly length: number;
    /** Side of a square, or a diameter. */
    readonly across: number;
    readonly shape: "square" | "round";
  };
  /** Lengths left square at the ends until the split; 0 where an end is turned, or round already. */
  readonly squareEnds: { readonly first: number; readonly second: number };
  readonly turnedBy: "machine" | "hand";
  /** Name of the lathe in the shop file. */
  readonly lathe?: string;
  /** Where zero is found, in the user's words. */
  readonly zeroSpot?: string;
  readonly profile: ProfileDescription;
  readonly asTurned?: AsTurned;
  readonly fingerRoom?: FingerRoomDescription;
  readonly split?: SplitDescription;
  /** Absent: none. */
  readonly marks?: readonly TurnedMark[];
  /** What each copy is called, where the job says it: as many as there are copies. */
  readonly each?: readonly NamedCopy[];
  readonly wishes: SetUpWishes;
  readonly source: Source;
  /** Places in the file of single values, by key. */
  readonly sources: Readonly<Record<string, Source>>;
}

/** A length along the axis: in mm, or a share of what the fixed lengths leave. */
export type Stretch =
  | { readonly kind: "mm"; readonly mm: number }
  | { readonly kind: "shares"; readonly shares: number };

/** The elements of one pull and how often it stands in the blank. */
export interface ProfileDescription {
  readonly name: string;
  readonly elements: readonly ElementDescription[];
  /** The elements reach the middle only, and are mirrored there. */
  readonly half: boolean;
  readonly pulls: number;
  /** Waste between two pulls. */
  readonly parting: Stretch;
  /** Waste beyond the outer pulls, at each end of what is turned. */
  readonly endWaste: Stretch;
  /** Diameter of all waste; the lesser of its neighbours' without it. */
  readonly wasteDiameter?: number;
  readonly source: Source;
  readonly sources: Readonly<Record<string, Source>>;
}

/**
 * One element of a profile. Diameters that are absent are those where the neighbours end and begin. A bead or cove
 * without ends is half round.
 */
export type ElementDescription = ElementBase & ElementShape;

interface ElementBase {
  readonly name: string;
  readonly source: Source;
  readonly sources: Readonly<Record<string, Source>>;
}

/** What an element is; see `parts/turning/element.ts` for its curve. */
export type ElementShape =
  | { readonly kind: "tenon" | "cylinder" | "fillet"; readonly length: Stretch; readonly diameter: number }
  /** `diameter`: the largest. */
  | Bulge<"bead">
  /** `diameter`: the least, at its waist. */
  | Bulge<"cove">
  | { readonly kind: "taper"; readonly length: Stretch; readonly from?: number; readonly to?: number }
  | {
      readonly kind: "ogee";
      readonly length: Stretch;
      readonly from?: number;
      readonly to?: number;
      /** Which way the curve runs at its two ends: along the axis, or square to it. */
      readonly ends: "level" | "upright";
    }
  /** `diameter`: at its rims. `bottom`: at its root; without it the groove is square, 90 degrees. */
  | { readonly kind: "vee"; readonly length: Stretch; readonly diameter: number; readonly bottom?: number }
  | { readonly kind: "round-over"; readonly length: Stretch; readonly from?: number; readonly to?: number }
  /** An open path from a drawing: x along, y the radius, from x = 0. */
  | { readonly kind: "path"; readonly segments: readonly Segment[]; readonly file: string };

interface Bulge<K extends "bead" | "cove"> {
  readonly kind: K;
  readonly length: Stretch;
  readonly diameter: number;
  readonly from?: number;
  readonly to?: number;
}

/** Diameters read off the turned blank; they replace the plan's. */
export interface AsTurned {
  readonly with: "rule" | "calipers" | "gauge" | "unsaid";
  /** How far a reading may be off, on the radius; absent: by what it was measured with. */
  readonly error?: number;
  /** In order along the axis, `at` from the first end of the blank. */
  readonly readings: readonly { readonly at: number; readonly diameter: number; readonly source: Source }[];
  readonly source: Source;
}

/** Finger room as it is asked for. Sizes that are absent come from the fingers and the hand. */
export interface FingerRoomDescription {
  readonly name: string;
  readonly cut: "crown" | "back";
  readonly width?: number;
  readonly roomBehind?: number;
  readonly hook?: number;
  readonly fingers?: number;
  readonly hand?: "small" | "medium" | "large";
  readonly shape: { readonly kind: "slot" } | { readonly kind: "rounded rectangle"; readonly radius: number };
  /** Middle of it from the first end of the blank; the middle of each pull without it. */
  readonly centreAt?: number;
  /** For `back`: whether it runs out over the rim, so that fingers come in there, or is closed all round. */
  readonly opensOver: "crown side" | "far side" | "nothing";
  readonly wallLeanDeg: number;
  /** How much deeper the floor's middle is than its rim; 0 for a flat floor. */
  readonly dished: number;
  /** Radius between wall and floor. */
  readonly insideRadius: number;
  /** Radius of the eased lip; 0 for a sharp one. */
  readonly ease: number;
  readonly leastWall: number;
  readonly leastLipAngleDeg: number;
  readonly cutter?: string;
  readonly source: Source;
  readonly sources: Readonly<Record<string, Source>>;
}

/** How the blank is split along its axis, per face as in `parts/turned-piece.ts`. */
export interface SplitDescription {
  readonly name: string;
  readonly by: "saw" | "paper joint";
  readonly kerf: number;
  readonly wander: number;
  readonly truing: number;
  readonly source: Source;
  readonly sources: Readonly<Record<string, Source>>;
}
