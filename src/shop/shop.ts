import type { Cutter } from "./cutter.ts";
import type { FitCardRecord, OwnTolerances } from "./fitting.ts";
import type { BurnSetting } from "./laser.ts";
import type { Lathe, TurningTool } from "./lathe.ts";
import type { Machine } from "./machine.ts";
import type { WoodKind } from "./wood.ts";

/** How this shop likes to work, where the job doesn't say otherwise. mm. */
export interface Habits {
  /** Direction of roughing passes and of finish passes. */
  readonly roughing: "climb" | "conventional";
  readonly finishing: "climb" | "conventional";
  /** Clear height above everything in the set-up for sideways rapids. */
  readonly clearance: number;
  /** Height above cleared ground at which a rapid down ends and feed begins. */
  readonly approach: number;
  /** How far a through cut may go into the waste board beneath. */
  readonly intoWasteBoard: number;
  /** Wood left on walls and floor for the finish pass. */
  readonly allowance: number;
  /** The block that the witness stops are checked with. */
  readonly gaugeBlock: number;
  /** Least wood between cuts from two faces. */
  readonly leastWeb: number;
  /** Least joint area that holds a piece while it is cut, mm². */
  readonly leastHold: number;
  /** Wood that the last sanding takes off a face; absent: not said. */
  readonly sanding?: number;
}

/** All that this shop owns, without gaps: the user's shop file over built-in defaults. */
export interface Shop {
  readonly machines: readonly Machine[];
  readonly cutters: readonly Cutter[];
  readonly woods: readonly WoodKind[];
  readonly habits: Habits;
  /** Which of the above still come from the defaults: printed on every page. */
  readonly defaultsUsed: readonly string[];
  /** Absent: the built-in ones of `default-lathes.ts`. */
  readonly lathes?: readonly Lathe[];
  /** What the shop found good for the laser; absent: none. */
  readonly burns?: readonly BurnSetting[];
  /** How far this user's own measuring may be off; absent: as is usual. */
  readonly measuring?: OwnTolerances;
  /** What fit cards showed; absent: none was made. */
  readonly fitCards?: readonly FitCardRecord[];
  readonly turningTools?: readonly TurningTool[];
  /** The same as `defaultsUsed` for turning: printed where something is turned. */
  readonly turningDefaultsUsed?: readonly string[];
}
