import type { Source } from "../finding.ts";
import type { LetterSize } from "../shapes/lettering/layout.ts";
import type { GreyPicture } from "../shapes/picture/grey-picture.ts";
import type { Point } from "../shapes/point.ts";
import type { Region } from "../shapes/region.ts";
import type { Segment } from "../shapes/segment.ts";
import type { FaceName } from "./board.ts";
import type { At, FeatureBase } from "./feature-base.ts";

/**
 * A maker's mark as the user describes it: what is drawn, how it is made, and where it stands. Everything that comes from
 * another file is already read. mm, degrees. Filled by `readJob`; read by `parts`.
 */
export interface MarkDescription {
  readonly content: MarkContent;
  /** Where each copy of the part has its own (names, rows, numbers): one for each, in order; `content` is the first. */
  readonly each?: readonly MarkContent[];
  readonly made: MarkMade;
}

/** A mark on a face of a flat part. Its middle, or what `content` says of itself, stands at `at`. */
export interface MarkFeature extends MarkDescription {
  readonly kind: "mark";
  readonly at: At;
  /** Borders whose distance in `at` is half the face, whatever it says there: the mark stands midway. */
  readonly midway?: readonly FaceName[];
  /** A straight line runs from `at` to here; `content` then has no lines of its own. */
  readonly to?: At;
  /** Counter-clockwise seen on the face. */
  readonly turnedDeg: number;
}

/** A mark as it stands among the features of a flat part. */
export type FlatMark = FeatureBase & MarkFeature;

/**
 * A mark on a turned part. `around`: which way its middle looks, degrees from the crown over the upper edge; 90 or 270 is
 * the show face of a half. `along`: its middle, from the first end. Drawn unrolled: x along the axis, y around.
 */
export interface TurnedMark extends Omit<FeatureBase, "on">, MarkDescription {
  readonly around: number;
  readonly along: number;
  readonly turnedDeg: number;
  /** Guide lines in place of what `content` draws. */
  readonly guide?: TurnedGuide;
}

/** Guide lines on a turned part, straight along its axis; from the first end, mm. */
export type TurnedGuide =
  /** At `around`. */
  | { readonly kind: "along"; readonly from: number; readonly to: number }
  /** Where the saw splits it: the crown line beside the finger room, the line opposite, with `ends` across the ends too. */
  | { readonly kind: "split line"; readonly from: number; readonly to: number; readonly ends: boolean };

/**
 * What is drawn, about its own middle, Y up. The middle of text is the middle of its width, half-way between the top of
 * its first capitals and its last baseline, so that names with and without tails stand alike; text on an arc is about the
 * arc's centre; a drawing placed as drawn about its own origin.
 */
export type MarkContent =
  /** Lines for a point: every chain is drawn once. */
  | { readonly kind: "lines"; readonly chains: readonly (readonly Segment[])[]; readonly from: MarkOrigin }
  | { readonly kind: "area"; readonly region: Region; readonly from: MarkOrigin }
  /** Lines and areas of one drawing. */
  | {
      readonly kind: "lines and areas";
      readonly chains: readonly (readonly Segment[])[];
      readonly region: Region;
      readonly from: MarkOrigin;
    }
  /** `width` and `height` on the wood, mm. */
  | {
      readonly kind: "picture";
      readonly grey: GreyPicture;
      readonly width: number;
      readonly height: number;
      readonly from: MarkOrigin;
    };

/** What a mark was before it became geometry: printed on sheets, never read for motion. */
export type MarkOrigin =
  | { readonly kind: "text"; readonly text: string; readonly face: string; readonly size: LetterSize }
  | { readonly kind: "pictogram"; readonly row: number; readonly column: number }
  | { readonly kind: "drawing"; readonly file: string }
  | { readonly kind: "picture"; readonly file: string }
  | { readonly kind: "signature"; readonly file: string; readonly photo?: SignaturePhoto }
  /** A guide for the saw, or any straight line. */
  | { readonly kind: "line" }
  /** Cells of a test card or kerf card. */
  | { readonly kind: "card" };

/** The photo of a signature, its paper made white, for showing beside what was read from it. */
export interface SignaturePhoto {
  readonly grey: GreyPicture;
  /** The whole photo on the wood, mm, and where the middle of the mark lies in it, from its lower left corner. */
  readonly width: number;
  readonly height: number;
  readonly middle: Point;
}

/** How a mark is made. */
export type MarkMade =
  /** The beam follows the lines; an area's outline is followed once. `effect` names one of the shop's settings. */
  | { readonly by: "burned line"; readonly effect?: string }
  /** Parallel lines at an angle from the face's first direction, the outline last. */
  | {
      readonly by: "burned area";
      readonly effect?: string;
      readonly angleDeg: number;
      readonly ways: "one" | "two";
      readonly contour: boolean;
    }
  | {
      readonly by: "burned picture";
      readonly effect?: string;
      /** How tones become dots. */
      readonly tones: "error spread" | "wide error spread" | "ordered";
    }
  /** Cut through with the beam: the kept side is the part's. */
  | { readonly by: "burned through"; readonly effect?: string; readonly keep: "inside" | "outside" }
  | { readonly by: "cut line"; readonly depth: number; readonly bit?: string }
  /** `cap`: deepest. */
  | { readonly by: "v-groove"; readonly cap?: number; readonly bit?: string };

/** Where a mark's numbers stand in the file. */
export type MarkSources = Readonly<Record<string, Source>>;

/** One of several copies: its drawer's name, and where that stands in the front view, counted from the top left. */
export interface NamedCopy {
  readonly name: string;
  readonly row?: number;
  readonly column?: number;
}
