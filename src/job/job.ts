import type { Source } from "../finding.ts";
import type { Region } from "../shapes/region.ts";
import type { FaceName, Size } from "./board.ts";
import type { DividerDescription } from "./dividers.ts";
import type { CabinetDescription } from "./drawers.ts";
import type { At, Depth, FeatureBase, From } from "./feature-base.ts";
import type { FitCardDescription } from "./fit-card.ts";
import type { MarkFeature, NamedCopy } from "./mark.ts";
import type { StockDescription } from "./stock-boards.ts";
import type { TurnedDescription } from "./turned.ts";
import type { SetUpWishes } from "./wishes.ts";

export type { At, Depth, FeatureBase, From } from "./feature-base.ts";

/**
 * A job without gaps: every number resolved to mm or degrees, every default filled in, every name checked. Filled by
 * `readJob`; read by `fit` and `parts`. Each thing keeps its place in the file.
 */
export interface Job {
  readonly file: string;
  readonly title: string;
  /** What a bare number meant in the file; also the unit that sheets print first. */
  readonly unit: "mm" | "in";
  readonly measured: readonly Measurement[];
  readonly parts: readonly PartDescription[];
  /** Parts that are turned; absent where there are none. */
  readonly turned?: readonly TurnedDescription[];
  readonly boards: readonly BoardDescription[];
  /** A case of drawers as measured; `fit` writes its parts out. Absent where there is none. */
  readonly cabinet?: CabinetDescription;
  /** Dividers between boards of the case; `fit` writes them out. Absent where there are none. */
  readonly dividers?: readonly DividerDescription[];
  /** A card that finds the fit of runner and bit; absent where the job has none. */
  readonly fitCard?: FitCardDescription;
  /** Boards that lie in the shop, for the cutting plan; absent where the job names none. */
  readonly stock?: readonly StockDescription[];
  /** Codes of findings that the user overrides, each with the reason given. */
  readonly overrides: readonly { readonly code: string; readonly because: string; readonly source: Source }[];
  /** The shop file that the job names, as written: a path relative to the job's folder, inside it. */
  readonly shopFile?: string;
}

/** A named size with how it was measured. */
export interface Measurement {
  readonly name: string;
  /** The value used in formulas: mm for lengths, degrees for angles, a plain number otherwise. */
  readonly value: number;
  /** Power of length: 1 for a length, 2 for an area, 0 for an angle or a plain number. */
  readonly power: number;
  readonly readings: readonly { readonly place: string; readonly value: number }[];
  readonly with: "rule" | "tape" | "calipers" | "gauge" | "unsaid";
  readonly source: Source;
}

/** One part as the user describes it. */
export interface PartDescription {
  readonly name: string;
  readonly wood: string;
  readonly size: Size;
  readonly grain: "along length" | "along width" | "none";
  readonly copies: number;
  /** Name of the mirror-image twin that is to be made from the same description. */
  readonly mirroredAs?: string;
  /** What this shop calls the faces and edges of this part; the standard name where the job gives none. */
  readonly labels: Readonly<Record<FaceName, string>>;
  readonly faceSide: FaceName;
  readonly faceEdge: FaceName;
  readonly features: readonly Feature[];
  /** What each copy is called, where the job says it: as many as there are copies. */
  readonly each?: readonly NamedCopy[];
  readonly wishes: SetUpWishes;
  readonly source: Source;
}

/** A board that several parts, or copies, are cut from. */
export interface BoardDescription {
  readonly name: string;
  readonly wood: string;
  readonly size: Size;
  readonly grain: "along length" | "along width" | "none";
  readonly places: readonly {
    readonly part: string;
    /** Where the part's lower first corner lies on the board, mm from the board's own. */
    readonly at: { readonly x: number; readonly y: number };
    /** Counter-clockwise, seen on the face, about that corner; degrees. */
    readonly turned: number;
    readonly source: Source;
  }[];
  readonly wishes: SetUpWishes;
  readonly source: Source;
}

/** A feature of a flat part. Depths are measured straight down from the face it is `on`. */
export type Feature = FeatureBase &
  (RecessFeature | GrooveFeature | RabbetFeature | MortiseFeature | HoleFeature | OutlineFeature | MarkFeature);

/** A plan shape about its own centre; length along the face's first direction before turning. mm. */
export type PlanShape =
  | { readonly kind: "slot"; readonly length: number; readonly width: number }
  | { readonly kind: "circle"; readonly diameter: number }
  | { readonly kind: "oval"; readonly length: number; readonly width: number }
  | { readonly kind: "rounded rectangle"; readonly length: number; readonly width: number; readonly radius: number }
  /**
   * A closed path from a drawing, in mm, Y up. `centred`: the middle of its box is brought to the place; `as drawn`:
   * its own origin is.
   */
  | {
      readonly kind: "drawing";
      readonly region: Region;
      readonly placed: "centred" | "as drawn";
      readonly file: string;
    };

/** A hollow: with a flat floor and upright walls where nothing else is said. */
export interface RecessFeature {
  readonly kind: "recess";
  readonly shape: PlanShape;
  readonly at: At;
  readonly turnedDeg: number;
  readonly depth: Depth;
  /** Lean of the wall from upright, degrees, 0 ≤ lean < 75. */
  readonly wallLeanDeg: number;
  readonly insideRadius?: number;
  /** How much deeper the floor is in the middle than `depth`, at the wall's foot; absent: flat. */
  readonly dish?: number;
  /** Radius between wall and floor; absent: as the way it is cut leaves it. */
  readonly floorRadius?: number;
  /** Radius of the eased edge at the mouth; absent: sharp. */
  readonly ease?: number;
}

/** A groove along a border or between two points. */
export interface GrooveFeature {
  readonly kind: "groove";
  readonly run:
    | {
        readonly kind: "along";
        readonly from: From;
        /**
         * Distances, ≥ 0, from the two borders that the groove runs towards to its farthest points; absent: through.
         * `first` is the border on the low side of the axis: first end, lower edge or back.
         */
        readonly stops: { readonly first?: number; readonly second?: number };
      }
    | { readonly kind: "between"; readonly start: At; readonly end: At };
  readonly width: number;
  readonly depth: Depth;
  /** Which wall carries the load, named by the border it lies towards. */
  readonly bearingWall?: FaceName;
  /** Stopped ends: fully round, or square with corners no larger than the inside radius. */
  readonly ends: "round" | "square";
  readonly insideRadius?: number;
}

/** A step along a border (British: rebate). */
export interface RabbetFeature {
  readonly kind: "rabbet";
  readonly along: FaceName;
  readonly width: number;
  readonly depth: Depth;
  readonly stops: { readonly first?: number; readonly second?: number };
  readonly insideRadius?: number;
}

/** A mortise for a loose tenon, ends round (British: mortice). */
export interface MortiseFeature {
  readonly kind: "mortise";
  readonly length: number;
  readonly width: number;
  readonly depth: Depth;
  readonly at: At;
  readonly turnedDeg: number;
}

/**
 * Round holes, all alike, at the given centres (rows and grids are already written out; every reach is `centre`).
 * A hole through a countersink or counterbore keeps `depth` measured from the face.
 */
export interface HoleFeature {
  readonly kind: "hole";
  readonly diameter: number;
  readonly depth: Depth;
  readonly centres: readonly At[];
  readonly head:
    | { readonly kind: "plain" }
    | { readonly kind: "countersunk"; readonly headDiameter: number; readonly includedAngle: number }
    | { readonly kind: "counterbored"; readonly diameter: number; readonly depth: number };
}

/** The part's own outline, or an opening through it. */
export interface OutlineFeature {
  readonly kind: "outline";
  readonly side: "outside" | "inside";
  /** `blank`: the part's own length × width. */
  readonly shape: { readonly kind: "blank"; readonly radius: number } | PlanShape;
  /** Absent exactly when the shape is `blank`. */
  readonly at?: At;
  readonly turnedDeg: number;
  readonly insideRadius?: number;
  readonly hold:
    | { readonly kind: "tabs"; readonly count: number; readonly width: number; readonly height: number }
    | { readonly kind: "skin"; readonly thickness: number }
    /** Nothing left: allowed only where the underside is held. */
    | { readonly kind: "none" };
}
