import type { Source } from "../finding.ts";
import type { FinishSaid } from "./finish-said.ts";
import type { FlatMark } from "./mark.ts";

/**
 * A cabinet of drawers as the job describes it: the case as measured, and what the drawers are to be. Filled by `readJob`
 * from `case:` and `drawers:`; read by `fit`, which writes ordinary part descriptions from it. mm, degrees Celsius, percent.
 */
export interface CabinetDescription {
  readonly case: CaseDescription;
  /** Absent: a case without drawers, measured only. */
  readonly drawers?: DrawersDescription;
}

/** A value with its place in the file; one that the job leaves out has the place of what it belongs to, and says why. */
export interface Given<T = number> {
  readonly value: T;
  readonly source: Source;
  /** Only for what the job leaves out: where the value comes from, e.g. "common practice, no source". */
  readonly assumed?: string;
}

/** What a size was measured with. */
export type MeasuredWith = "rule" | "tape" | "calipers" | "gauge" | "unsaid";

/** The case that the drawers go into. */
export interface CaseDescription {
  readonly wood: Given<string>;
  readonly sideThickness: Given;
  /** Which way the grain of the case sides runs: upright, so that the depth moves, or from mouth to back. */
  readonly sideGrain: Given<"upright" | "mouth to back">;
  /** How the case's boards are sawn: which coefficient their width moves by. */
  readonly sawn: Given<"flat" | "quarter">;
  readonly backThickness: Given;
  /** Thickness of the upright dividers between columns; absent with one column. */
  readonly dividerThickness?: Given;
  /** Number of columns, ≥ 1. Openings fill rows from the top, each from the left. */
  readonly columns: number;
  readonly openings: readonly OpeningDescription[];
  readonly seasons: SeasonsDescription;
  /** Wax, shellac or the like on a face of the case that takes part in a gap. */
  readonly finish: Given<FinishSaid>;
  readonly source: Source;
}

/** One opening, seen from the front, as measured. Readings that were not taken are absent. */
export interface OpeningDescription {
  readonly name: string;
  /** From 1 at the top. */
  readonly row: number;
  /** From 1 at the left. */
  readonly column: number;
  /** Across, at runner height; `mouthTop` and `mouthBottom` at the upper and lower edge of the mouth. */
  readonly width: {
    readonly mouth: Given;
    readonly middle?: Given;
    readonly back?: Given;
    readonly mouthTop?: Given;
    readonly mouthBottom?: Given;
  };
  /** Upright, at the mouth. */
  readonly height: { readonly left: Given; readonly middle?: Given; readonly right: Given; readonly back?: Given };
  /** From the mouth to the case back, the least. */
  readonly depth: Given;
  /** Across the mouth: `rising` from lower left to upper right, `falling` from upper left to lower right. */
  readonly diagonals?: { readonly rising: Given; readonly falling: Given };
  /** How far one corner of the mouth stands out of the plane of the other three. */
  readonly wind?: Given;
  readonly with: MeasuredWith;
  readonly source: Source;
}

/** Air in the shop or house. */
export interface Climate {
  readonly celsius: number;
  /** Relative humidity, percent, 0 < h < 100. */
  readonly humidity: number;
  readonly source: Source;
}

/** The year that the drawers live through, and how moist the wood is today. */
export interface SeasonsDescription {
  readonly dry: Given<Climate>;
  readonly wet: Given<Climate>;
  readonly today: MoistureToday;
}

/** How the wood's moisture today is known. `guess`: nothing is said, and every gap "now" is a guess. */
export type MoistureToday =
  | { readonly kind: "meter"; readonly percent: number; readonly source: Source }
  /** It has lain in this air for so many weeks. */
  | { readonly kind: "weeks"; readonly weeks: number; readonly air: Climate; readonly source: Source }
  | { readonly kind: "guess"; readonly source: Source };

/** What the drawers are to be. All alike but for what `each` says. */
export interface DrawersDescription {
  readonly fronts: FrontWish;
  readonly sides: StuffWish & {
    /** All sides as the least opening asks, so that they are cut at one setting; or each as its own opening asks. */
    readonly alike: Given<"all" | "row" | "no">;
  };
  readonly backs: StuffWish;
  readonly bottoms: BottomWish;
  readonly runners: RunnerWish;
  readonly frontJoint: FrontJointWish;
  readonly backJoint: BackJointWish;
  /** Even gap around an inset front, per edge, that stays in the wet month. */
  readonly reveal: Given;
  /** Between drawer side and case side, per side, that stays in the wet month. */
  readonly sideClearance: Given;
  /** Between the drawer and the case back, beyond what the case shrinks. */
  readonly backClearance: Given;
  /** On a face of the drawers that takes part in a gap; absent: as in the case. */
  readonly finish?: Given<FinishSaid>;
  /** Left on each edge of a front, to be planed off when it is fitted. */
  readonly leaveForFitting: Given;
  /** Planed off each outer face of the sides after glue. */
  readonly cleanUp: Given;
  /** Left on the length where a bit or saw may tear, and taken off when ends are squared: rough over finished, per end. */
  readonly roughLength: Given;
  /** The same across the width, per edge. */
  readonly roughWidth: Given;
  /** The same on the thickness, both faces together. */
  readonly roughThickness: Given;
  readonly kerf: Given;
  /** How the parts are held on the router; absent: the planner's choice. */
  readonly heldBy?: Given<"tape" | "vacuum">;
  /** A turned part of this job that each front carries. */
  readonly pull?: Given<string>;
  /** Second measuring, when the runners are in, by opening. */
  readonly betweenRunners: readonly BetweenRunners[];
  readonly source: Source;
}

/** Wood of one thickness. */
export interface StuffWish {
  readonly wood: Given<string>;
  /** As planned. */
  readonly thickness: Given;
  /** As planed and measured; replaces `thickness` in all that follows. */
  readonly asPlaned?: Given;
  readonly sawn: Given<"flat" | "quarter">;
  readonly source: Source;
}

export interface FrontWish extends StuffWish {
  readonly set: Given<"inset" | "lipped">;
  /** How far a lip reaches over the case on each edge, and how thick it is; lipped fronts only. */
  readonly lip?: { readonly over: Given; readonly thickness: Given };
  /** Fronts cut from one board with the grain running through: those of a row side by side, of a column one above the other. */
  readonly oneBoard: Given<"row" | "column" | "no">;
}

export interface BottomWish extends StuffWish {
  /** `solid`: grain side to side, glued or pinned in front, free at the back. */
  readonly kind: Given<"solid" | "panel">;
  readonly in: Given<"grooves" | "slips">;
  /** Lower edge of the drawer side to the bottom's groove. */
  readonly grooveAt: Given;
  readonly grooveDepth: Given;
  /** Groove over bottom thickness. */
  readonly grooveClearance: Given;
  /** Width (across) and height of the glued-in slips; `in: slips` only. */
  readonly slip?: { readonly width: Given; readonly height: Given };
  /** Marks on every bottom; what each drawer has of its own follows the openings. Absent: none. */
  readonly marks?: readonly FlatMark[];
}

/** Runners at the sides in stopped grooves, or strips below with others above that keep the drawer from tipping. */
export interface RunnerWish extends StuffWish {
  readonly kind: Given<"side-hung" | "below">;
  /** Section: `height` upright, `thickness` from the case side outwards (runners below: their width). */
  readonly height: Given;
  /** As planed and measured; replaces `height`. */
  readonly heightAsPlaned?: Given;
  /** How deep the runner is let into the case side. */
  readonly letIn: Given;
  /** Lower edge of the drawer side to the wall that carries; absent: planned. Side-hung only. */
  readonly bearingAt?: Given;
  /** Groove over runner height, beside what the runner grows. */
  readonly clearance: Given;
  /** Groove deeper than the runner reaches. */
  readonly freeDepth: Given;
  readonly nose: Given<"round" | "square">;
  /** From the front of the box to the end of the groove. */
  readonly stopFromFront: Given;
  /** By name, as in `screws.ts`. */
  readonly screw: Given<string>;
  readonly screwLength: Given;
  readonly screws: Given;
}

/** How the sides meet the front. Sizes that are absent are planned from the thicknesses. */
export interface FrontJointWish {
  readonly kind: Given<"half-blind" | "through" | "rabbet" | "butt">;
  /** Wood of the front left before the ends of the sides; half-blind and rabbet. */
  readonly lap?: Given;
  /** How far tails or pins stand out, to be planed flush. */
  readonly proud: Given;
  /** Number of tails; half-blind and through. */
  readonly tails?: Given;
}

/** How the sides meet the back. */
export interface BackJointWish {
  readonly kind: Given<"through" | "half-blind" | "housing" | "rabbet" | "butt">;
  readonly lap?: Given;
  readonly proud: Given;
  readonly tails?: Given;
  /** Depth of the housing or rabbet in the sides. */
  readonly depth?: Given;
  /** Wood left behind a housing. */
  readonly behind?: Given;
}

/** What was measured between the fitted runners of one opening. */
export interface BetweenRunners {
  readonly opening: string;
  readonly mouth: Given;
  readonly back: Given;
  readonly with: MeasuredWith;
  readonly source: Source;
}
