import type { Finding, Source } from "../finding.ts";
import type { Size } from "../job/board.ts";
import type { OpeningDescription } from "../job/drawers.ts";
import type { PartDescription } from "../job/job.ts";
import type { Point } from "../shapes/point.ts";
import type { Year } from "./seasons.ts";
import type { SeasonalGap } from "./seasons-gaps.ts";
import type { Today } from "./seasons-today.ts";

/**
 * Everything that is fitted for a case of drawers: sizes, gaps, joints, runners, the order of work and the cut list. Filled
 * by `planFit`; read by the pipeline (parts, held back), by the sheets and by the cut list.
 *
 * All sizes are mm. A drawer lies in the coordinates of its opening: x from the left edge of the mouth to the right, y from
 * the case's front into the case, z up from the lower edge of the mouth at the left.
 */
export interface FitPlan {
  readonly drawers: readonly DrawerFit[];
  /** The parts written out, each once; alike ones are copies. */
  readonly parts: readonly FittedPart[];
  /** Boards that several fronts are sawn from, grain running through. */
  readonly runs: readonly FrontRun[];
  readonly cutList: readonly CutListItem[];
  /** The order of work at the bench. */
  readonly steps: readonly Step[];
  readonly holdPoints: readonly HoldPoint[];
  /** How runners go into the case: spacers, setbacks, pilot holes; one for each group of alike drawers, side-hung only. */
  readonly runnerFitting: readonly RunnersIn[];
  /** Every value that the job leaves out, with what is used for it and why. */
  readonly assumed: readonly Assumed[];
  /** How the seasons were reckoned: moisture in percent, dry, today, wet. */
  readonly year: Year;
  /** The moisture of the drawer sides today, as an example, and how it is known. */
  readonly today: Today;
}

/** How the runners of alike drawers go into the case. */
export interface RunnersIn {
  /** Names of the spacers' parts. */
  readonly spacers: readonly string[];
  /** No driver gets into some opening: the runners go on before the case is glued up. */
  readonly beforeGlueUp: boolean;
  /** Sentences for the page, in the order of work. */
  readonly words: readonly string[];
}

/** A default that was used. */
export interface Assumed {
  readonly what: string;
  readonly value: string;
  readonly why: string;
  readonly source: Source;
}

/** One drawer and where it goes. */
export interface DrawerFit {
  /** The opening's name. */
  readonly name: string;
  readonly row: number;
  readonly column: number;
  readonly mouth: Mouth;
  readonly box: BoxFit;
  readonly front: FrontFit;
  readonly side: SideFit;
  readonly back: BackFit;
  readonly bottom: BottomFit;
  readonly runner: RunnerFit;
  readonly frontJoint: JointFit;
  readonly backJoint: JointFit;
  /** Through the year, as fitted. */
  readonly gaps: readonly SeasonalGap[];
  readonly opening: OpeningDescription;
}

/** The real shape of an opening's mouth. The lower edge lies along x, its left corner in the origin. */
export interface Mouth {
  readonly corners: Quad;
  /** No diagonals were measured, and equal ones are taken. */
  readonly squareAssumed: boolean;
  /** How far the readings contradict each other, on a diagonal; absent when nothing could. */
  readonly contradiction?: number;
  /** How far the upper edge hangs down between its corners. */
  readonly sag: number;
  /** What an upright box loses in width because the sides lean or the width differs over the height. */
  readonly lean: number;
  /** The narrowest width at runner height, and where. */
  readonly narrowest: { readonly width: number; readonly at: "mouth" | "middle" | "back" };
  readonly depth: number;
}

/** Lower left, lower right, upper right, upper left. */
export type Quad = readonly [Point, Point, Point, Point];

/** The box when it is glued and cleaned up. */
export interface BoxFit {
  /** Across the outer faces of the sides. */
  readonly width: number;
  /** Of the sides. */
  readonly height: number;
  /** From the case's front to the farthest back of the drawer. */
  readonly depth: number;
  /** Left outer face of the box, x. */
  readonly left: number;
  /** Lower edge of the sides, z. */
  readonly bottom: number;
}

/** A drawer's front. */
export interface FrontFit {
  readonly part: string;
  /** What is sawn: a rectangle with `leave for fitting` on each edge. */
  readonly blank: Size;
  /** Lower left corner of the blank in the opening. */
  readonly at: Point;
  /** y of its show face and of its inside, from the case's front. */
  readonly show: number;
  readonly inside: number;
  /** Its real four-sided shape when it fits, in the opening. A lipped front: of what goes into the opening. */
  readonly shape: Quad;
  /** A lipped front's outline; absent for an inset one. */
  readonly lip?: Quad;
  /** What to plane off each edge of the blank, at its two ends. */
  readonly plane: readonly PlaneEdge[];
  /** How far its left and right end stand out beyond the box's sides when it fits, at least. */
  readonly overhang: { readonly left: number; readonly right: number };
  readonly pull?: string;
}

/** What to plane off one edge. Linear from one end to the other. */
export interface PlaneEdge {
  readonly edge: "lower edge" | "right end" | "upper edge" | "left end";
  /** Seen from the front: lower and upper edge from left to right, ends from the bottom up. */
  readonly first: number;
  readonly second: number;
  /** In words for the bench: "0.4 off the right end at the top, to nothing at the bottom". */
  readonly words: string;
}

/** A drawer's two sides, mirror images. */
export interface SideFit {
  readonly parts: { readonly left: string; readonly right: string };
  /** Before clean-up: its thickness is what the joints are cut from. */
  readonly size: Size;
  /** y of its front end, from the case's front. */
  readonly frontAt: number;
  readonly bottomGroove?: GrooveFit;
  /** Side-hung only; its depth is from the face before clean-up. */
  readonly runnerGroove?: GrooveFit;
}

/** A groove as it is set out on its part. */
export interface GrooveFit {
  /** Lower edge of the part to the groove's lower and upper wall. */
  readonly lower: number;
  readonly upper: number;
  readonly depth: number;
  /** From the front end (sides) or the left end (fronts) to the groove's farthest point; absent: runs out. */
  readonly stop?: number;
}

export interface BackFit {
  readonly part: string;
  readonly size: Size;
  /** Its lower left corner: x of its left end, y of its front face, z of its lower edge. */
  readonly at: { readonly x: number; readonly y: number; readonly z: number };
}

export interface BottomFit {
  readonly part: string;
  /** `length` side to side, `width` from front to back. */
  readonly size: Size;
  readonly grain: "along length" | "none";
  readonly at: { readonly x: number; readonly y: number; readonly z: number };
  /** Growth from front to back, from today to the wet month. */
  readonly growth: number;
  readonly slipPart?: string;
}

/** A drawer's two runners (side-hung: also what they bear; below: with kickers above). */
export interface RunnerFit {
  readonly kind: "side-hung" | "below";
  readonly part: string;
  readonly kickerPart?: string;
  /** `length` from front to back, `width` upright, `thickness` across. */
  readonly size: Size;
  /** How far it stands out from the case side. */
  readonly reach: number;
  /** z of its upper, carrying face. */
  readonly bearing: number;
  /** Runners below: z of the kickers' lower faces. */
  readonly kickerAt?: number;
  /** Case's front to the runner's front end. */
  readonly setback: number;
  /** What lies beneath it while it is screwed: from the opening's lower edge to its lower face. */
  readonly spacer: number;
  /** Measured between the two, or reckoned from the opening where it has not been. */
  readonly between: { readonly mouth: number; readonly back: number; readonly measured: boolean };
}

/** What a joint takes, and what gauges are set to. */
export interface JointFit {
  readonly kind: "half-blind" | "through" | "rabbet" | "butt" | "housing";
  /** How much of the side's length lies within the front or back. */
  readonly takes: number;
  readonly settings: readonly GaugeSetting[];
  /** Tails on the side, from its lower edge, widest; dovetails only. */
  readonly tails: readonly { readonly from: number; readonly to: number }[];
}

/** A marking gauge's setting, for cutting by hand. */
export interface GaugeSetting {
  readonly name: "lap" | "baseline" | "proud" | "shoulder" | "depth" | "inset";
  readonly value: number;
  /** Where it is scribed. */
  readonly where: string;
}

/** What a part is in a drawer or the case. */
export type Role = "front" | "side" | "back" | "bottom" | "slip" | "runner" | "kicker" | "spacer";

/** A part that was written out. */
export interface FittedPart {
  readonly role: Role;
  /** Names of the openings it serves. */
  readonly drawers: readonly string[];
  readonly description: PartDescription;
}

/** A board that fronts are sawn from, in the order in which they lie on it. */
export interface FrontRun {
  readonly name: string;
  readonly way: "row" | "column";
  readonly wood: string;
  readonly parts: readonly { readonly part: string; readonly from: number; readonly to: number }[];
  /** Kerf and planing of both edges between two neighbours. */
  readonly between: number;
  readonly size: Size;
}

/** A line of the cut list. */
export interface CutListItem {
  readonly part: string;
  readonly role: Role;
  readonly wood: string;
  readonly count: number;
  readonly finished: Size;
  readonly rough: Size;
  readonly grain: "along length" | "along width" | "none";
  readonly from: "board" | "strip" | "panel";
  /** The run it is sawn from. */
  readonly run?: string;
  readonly source: Source;
}

/** One step of the order of work. */
export interface Step {
  readonly id: string;
  readonly text: string;
  /** Parts that it is about, whose programs are run in it. */
  readonly parts: readonly string[];
  /** A hold point that stands before it. */
  readonly hold?: string;
}

/** A place in the order where something is measured before the next step is safe. */
export interface HoldPoint {
  readonly id: string;
  readonly what: string;
  /** What to measure, and where it goes in the job. */
  readonly measure: readonly { readonly name: string; readonly write: string }[];
  readonly done: boolean;
  /** Parts whose programs are not made until then. */
  readonly holdsBack: readonly string[];
  readonly finding: Finding;
}
