import type { Source } from "../../finding.ts";
import type { FaceName } from "../../job/board.ts";
import type { MarkMade, MarkOrigin } from "../../job/mark.ts";
import type { GreyPicture } from "../../shapes/picture/grey-picture.ts";
import type { Point } from "../../shapes/point.ts";
import type { Region } from "../../shapes/region.ts";
import type { Segment } from "../../shapes/segment.ts";

/**
 * A mark to be burned on one face of a workpiece, in the plan coordinates of that face (see `faceFrame`): what the beam,
 * coming straight down, is to draw. On round stock it is already laid around the wood, so that it lies true there. mm.
 * Filled by `parts/marks`; read by plan, proof and sheets.
 */
export interface Mark {
  /** Unique within the workpiece. */
  readonly id: string;
  readonly part: string;
  readonly feature: string;
  readonly source: Source;
  readonly sources?: Readonly<Record<string, Source>>;
  readonly face: FaceName;
  readonly ink: Ink;
  /**
   * Round stock turned under the beam by a rotary axis: `ink` is then unrolled, x from the first end, y along the surface from
   * the crown over the upper edge, on wood of this radius; `face` is the crown.
   */
  readonly unrolled?: { readonly radius: number };
  readonly made: Extract<MarkMade, { by: `burned ${string}` }>;
  readonly from: MarkOrigin;
  /** Round stock only: how much longer lines of the flat drawing became by lying on the round, at worst, ≥ 1. */
  readonly stretch?: number;
  /** How far the wood falls beneath it, mm, and its steepest slope there, degrees from level: the beam spreads by 1 / cos. */
  readonly drop?: number;
  readonly slopeDeg?: number;
}

/** What is drawn. */
export type Ink =
  | { readonly kind: "lines"; readonly chains: readonly (readonly Segment[])[] }
  | { readonly kind: "area"; readonly region: Region }
  | {
      readonly kind: "lines and area";
      readonly chains: readonly (readonly Segment[])[];
      readonly region: Region;
    }
  /** The picture's lower left corner, the length of its two sides, and its turn, degrees counter-clockwise. */
  | {
      readonly kind: "picture";
      readonly grey: GreyPicture;
      readonly corner: Point;
      readonly width: number;
      readonly height: number;
      readonly turnedDeg: number;
    };
