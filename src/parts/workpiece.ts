import type { Source } from "../finding.ts";
import type { FaceName, Size } from "../job/board.ts";
import type { SignaturePhoto } from "../job/mark.ts";
import type { SetUpWishes } from "../job/wishes.ts";
import type { Frame } from "../shapes/frame.ts";
import type { Hollow } from "../shapes/hollow.ts";
import type { Point } from "../shapes/point.ts";
import type { Region } from "../shapes/region.ts";
import type { Segment } from "../shapes/segment.ts";
import type { TurnedSolid } from "../shapes/turned-solid.ts";
import type { Mark } from "./marks/mark.ts";

/**
 * What lies on the machine and what is to be cut from it, in its own coordinates (see `PartPoint`). Filled by `parts`
 * from the job; read by plan, paths, proof and sheets. All lengths mm.
 */
export interface Workpiece {
  /** The part's or the board's name. */
  readonly name: string;
  readonly wood: string;
  readonly size: Size;
  readonly grain: "along length" | "along width" | "none";
  /** The parts that come out of it, one for a plain part. */
  readonly pieces: readonly Piece[];
  /** How often the same programs are to be run, each on a blank of its own: a part's copies. 1 when absent. */
  readonly copies?: number;
  readonly cavities: readonly Cavity[];
  /** What is burned on it; absent: nothing. */
  readonly marks?: readonly Mark[];
  /** What this shop calls each face: "inside", "outside", "front end"; printed on sheets. */
  readonly labels: Readonly<Record<FaceName, string>>;
  /** Which face is the face side and which edge the face edge (US: reference face and edge). */
  readonly faceSide: FaceName;
  readonly faceEdge: FaceName;
  /** How the user wants it held, zeroed and turned, as far as the job says. */
  readonly wishes: SetUpWishes;
  /**
   * A turned blank, or a half of one, that fills its box no more than this: in workpiece coordinates, its axis along x.
   * `size` is then the box around it.
   */
  readonly round?: TurnedSolid;
  readonly source: Source;
}

/** One part within a workpiece. */
export interface Piece {
  readonly part: string;
  /** 1 for the first copy. */
  readonly copy: number;
  /** true when planned from a mirrored description. */
  readonly mirrored: boolean;
  /** Where the part lies within the workpiece: part's own coordinates → workpiece coordinates. */
  readonly place: Frame;
  readonly size: Size;
}

/**
 * Wood to be taken: a prism or frustum beneath one face. `section` is its outline at depth `from`, in the coordinates
 * of that face (see `faceFrame`); it may reach beyond the blank, where it is open to the air.
 */
export interface Cavity {
  /** Unique within the workpiece: part, feature, and a number where a feature makes several. */
  readonly id: string;
  readonly part: string;
  readonly feature: string;
  readonly source: Source;
  /** Places in the file of single values of the feature, by key: "depth", "width", "bit". */
  readonly sources?: Readonly<Record<string, Source>>;
  readonly face: FaceName;
  readonly section: Region;
  /** Depths below the face, mm: 0 ≤ from < to. */
  readonly from: number;
  readonly to: number;
  /** Cuts to or beyond the far face. */
  readonly through: boolean;
  /**
   * Tangent of the wall's lean from upright, ≥ 0. The section at depth d is {p : distance from p to the outside of
   * `section` ≥ (d − from) × slopeTan}: the true round inset.
   */
  readonly slopeTan: number;
  /**
   * A wall and floor that are not straight, instead of `slopeTan` (then 0): heights are measured from depth `from`, and
   * the lowest is at depth `to`.
   */
  readonly hollow?: Hollow;
  /** In round stock: the edge of the box over which it runs out of the wood on purpose, no breakthrough there. */
  readonly opensOver?: FaceName;
  /** In round stock: radius to which the edge of its mouth is eased by program; absent: none is. */
  readonly lipEase?: number;
  /** In round stock: least wood that must stand between it and any other surface, mm. */
  readonly leastWall?: number;
  /** Largest inside-corner radius the user accepts on the walls; corners are reached at least this well. */
  readonly insideRadius: number;
  /** `all`: nothing may be left inside. `walls`: only the wall along `shape.profile` must be reached (outlines). */
  readonly clear: "all" | "walls";
  /** Wood that stays standing inside the section: tabs. */
  readonly keeps: readonly Keep[];
  readonly shape: CavityShape;
  /** The bit that the job names for it, if any. */
  readonly cutter?: string;
  /** Allowed error of size or depth the user gave, mm. */
  readonly tolerance?: number;
  /** The photo that a signature was read from: shown beside it, never read for motion. */
  readonly photo?: SignaturePhoto;
}

/** A prism of wood left standing inside a cavity, from the cavity's floor up to `from` below the face. */
export interface Keep {
  readonly area: Region;
  readonly from: number;
}

/** A bridge of wood that holds a piece in its board, across the cut along an outline. */
export interface Tab {
  /** Middle of the bridge on the finished outline. */
  readonly at: Point;
  /** Direction of the outline there, length 1. */
  readonly along: Point;
  /** Length along the outline, and height above the underside, mm. */
  readonly width: number;
  readonly height: number;
}

/** The middle line of a shape that is equally wide all along, from tip to tip: a bit of its width may follow it. */
export interface Middle {
  readonly start: Point;
  readonly end: Point;
  readonly width: number;
}

/** What a cavity is, with what planning needs to know of it. Plan coordinates of its face. */
export type CavityShape =
  | { readonly kind: "recess"; readonly middle?: Middle }
  | { readonly kind: "mortise"; readonly middle?: Middle }
  | { readonly kind: "rabbet" }
  | {
      readonly kind: "groove";
      /** Centre line from its first to its last point, end radii included, running out into the air where open. */
      readonly start: Point;
      readonly end: Point;
      readonly width: number;
      readonly openStart: boolean;
      readonly openEnd: boolean;
      /** Which wall carries the load, named by the border it lies towards. */
      readonly bearingWall?: FaceName;
    }
  | {
      readonly kind: "hole";
      readonly centre: Point;
      readonly diameter: number;
      readonly role: "bore" | "counterbore" | "countersink" | "drill tip";
    }
  | {
      readonly kind: "outline";
      readonly side: "outside" | "inside";
      /** The finished outline. */
      readonly profile: Region;
      /** What is left standing across the cut, from which `keeps` are made. */
      readonly tabs?: readonly Tab[];
    }
  /**
   * A groove of a V-shaped bit that is as deep as its outlines are far apart: straight edges only. Walls lean as the bit
   * does, so depth and lean are a guess (60 degrees, a sharp tip) until the bit is known, and `bit` then stands here.
   */
  | { readonly kind: "v-groove"; readonly cap?: number; readonly bit?: VForm }
  /**
   * Lines followed by the middle of a bit at one depth. The section is what the bit sweeps, seen from above: a guess until
   * the bit is known, and `bit` is then its name.
   */
  | { readonly kind: "cut line"; readonly chains: readonly (readonly Segment[])[]; readonly bit?: string };

/** A V-shaped bit as the wood sees it: tangent of half its angle, and the diameter of the flat at its tip, mm. */
export interface VForm {
  readonly tan: number;
  readonly tipFlat: number;
}
