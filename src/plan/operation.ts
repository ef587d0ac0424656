import type { VForm } from "../parts/workpiece.ts";
import type { Point, Point3 } from "../shapes/point.ts";
import type { Polygons } from "../shapes/polygons.ts";
import type { Region } from "../shapes/region.ts";
import type { Segment } from "../shapes/segment.ts";
import type { Cutter } from "../shop/cutter.ts";

/**
 * One thing done with one cutter in one set-up. Filled by `plan`; read by `paths` (and by sheets for its title and
 * reasons), never by the proof. Set-up coordinates; mm, mm/min, rpm.
 */
export type Operation =
  | ClearOperation
  | FollowOperation
  | BoreOperation
  | PeckOperation
  | SinkOperation
  | ContourOperation
  | EaseOperation
  | VGrooveOperation
  | TraceOperation;

interface OperationBase {
  readonly id: string;
  /** For the program's comment and the sheet: 'groove "runner"'. */
  readonly title: string;
  readonly cavityIds: readonly string[];
  readonly cutter: Cutter;
  /** Why this cutter: "largest that fits the 6.4 mm groove". */
  readonly cutterReason: string;
  readonly speeds: Speeds;
  readonly roughing: "climb" | "conventional";
  readonly finishing: "climb" | "conventional";
  /** Top of the wood where this operation works: feed begins `approach` above it. */
  readonly topZ: number;
}

/** Spindle speed and feeds, with where they come from. */
export interface Speeds {
  readonly rpm: number;
  /** Sideways in full cut as planned. */
  readonly feed: number;
  /** Straight down. */
  readonly plunge: number;
  /** Down a ramp or helix, measured along the path. */
  readonly ramp: number;
  /** Where the cutter is buried full width. */
  readonly slot: number;
  readonly reason: string;
}

/** A height to cut at, with what may be cleared there. */
export interface Level {
  readonly z: number;
  /** Section of the cavity at this height, before allowance: the cutter must stay inside it. */
  readonly area: Region;
  /**
   * How far inside `area` the cutter's axis keeps, mm; its radius where this is absent. In a hollow the area is the mouth,
   * and a rounded nose comes nearer to it or keeps farther from it than its radius, as its height asks.
   */
  readonly keep?: number;
  /**
   * Where there is wood to take between this height and the level above, where that is not everywhere: round stock.
   * Holds all of it. Beside it the cutter may go down through air.
   */
  readonly wood?: Region;
  /** Passes keep to the wood; absent: they go over all of the area, as going from place to place would take longer. */
  readonly sparing?: boolean;
}

/** Clear an area by levels, rings inside out; then finish the floor and walls. */
export interface ClearOperation extends OperationBase {
  readonly kind: "clear";
  /** From the top down; evenly spaced roughing levels. The last is the floor. */
  readonly levels: readonly Level[];
  /** Sideways step between rings; ≤ cutter radius. */
  readonly step: number;
  /** Wood left on walls and floor for the finish; 0 for none. */
  readonly allowance: { readonly wall: number; readonly floor: number };
  /** Heights of the finishing rings along the wall, top down: the floor alone for straight walls. */
  readonly finishLevels: readonly Level[];
  /** Parts of the area's boundary that are open to the air are inside this region: cutters may pass there. */
  readonly openAir: Region;
  /** Steepest descent of a ramp or helix, degrees from level. */
  readonly rampAngle: number;
  /** Exits across the grain come last, or need a backing strip. */
  readonly grainDeg: number | undefined;
}

/** Follow a centre line with a cutter as wide as the groove. */
export interface FollowOperation extends OperationBase {
  readonly kind: "follow";
  readonly start: Point;
  readonly end: Point;
  readonly openStart: boolean;
  readonly openEnd: boolean;
  readonly levels: readonly number[];
  readonly rampAngle: number;
}

/** Open a round hole with a smaller cutter, by a helix and level circles. */
export interface BoreOperation extends OperationBase {
  readonly kind: "bore";
  readonly centres: readonly Point[];
  readonly diameter: number;
  readonly floorZ: number;
  readonly step: number;
  readonly allowance: { readonly wall: number; readonly floor: number };
  readonly rampAngle: number;
  /** Deepest bite of one turn of the helix. */
  readonly depthPerTurn: number;
}

/** Drill holes, lifting clear between bites. */
export interface PeckOperation extends OperationBase {
  readonly kind: "peck";
  readonly centres: readonly Point[];
  /** Tip height at full depth. */
  readonly tipZ: number;
  readonly bite: number;
}

/** Sink a V-shaped or countersink cutter straight down its own axis. */
export interface SinkOperation extends OperationBase {
  readonly kind: "sink";
  readonly centres: readonly Point[];
  readonly tipZ: number;
  readonly dwellSeconds: number;
}

/** Go around a finished outline, level by level, leaving tabs. */
export interface ContourOperation extends OperationBase {
  readonly kind: "contour";
  readonly profile: Region;
  readonly side: "outside" | "inside";
  readonly levels: readonly number[];
  /** Wood that stays below `zTop`: the path rises over these areas (already in set-up coordinates). */
  readonly tabs: readonly { readonly area: Region; readonly zTop: number }[];
  readonly allowance: number;
  readonly rampAngle: number;
}

/** Round the lip of a recess in round stock with a round nose that follows it, pass by pass from the wall upwards. */
export interface EaseOperation extends OperationBase {
  readonly kind: "ease";
  readonly passes: readonly LipPass[];
}

/** A way of the tip along a lip, in space; the recess on its left. A closed one ends where it begins. */
export interface LipPass {
  readonly points: readonly Point3[];
  readonly closed: boolean;
}

/** Cut between outlines with a V, as deep as they are far apart and no deeper than `cap`. */
export interface VGrooveOperation extends OperationBase {
  readonly kind: "v-groove";
  /** Outer rings counter-clockwise, holes clockwise. */
  readonly edges: Polygons;
  readonly bit: VForm;
  /** Deepest below `topZ`, mm; Infinity where the width alone decides. */
  readonly cap: number;
  /** Heights to cut at on the way down; the last is the groove's deepest. */
  readonly levels: readonly number[];
  /** Highest ridge that may stay between passes over the floor at the cap. */
  readonly floorRidge: number;
  /** What of the floor another bit has cleared before; absent: nothing. */
  readonly cleared?: Polygons;
}

/** Follow lines with the middle of a bit at one depth. */
export interface TraceOperation extends OperationBase {
  readonly kind: "trace";
  readonly chains: readonly (readonly Segment[])[];
  /** The last is the depth asked for. */
  readonly levels: readonly number[];
}
