import type { Source } from "../finding.ts";

/**
 * A fit card: to be made, or already made and its groove chosen. Filled by `readJob`; read by `fit`, which writes an ordinary part
 * from it, or sizes grooves by it. mm
 */
export type FitCardDescription =
  | {
      readonly kind: "to make";
      readonly wood: string;
      readonly thickness: number;
      /** The real runner's width, measured. */
      readonly runner: number;
      readonly depth: number;
      readonly bit: string;
      /** How much wider than the runner the middle groove is. */
      readonly over?: number;
      readonly step?: number;
      readonly grooves?: number;
      /** Sizes written beside the grooves; absent: the tallies alone tell them. */
      readonly sizes?: "burned" | "cut";
      /** How the card is held on the router; absent: as the planner takes it. */
      readonly heldBy?: "tape" | "vacuum";
      readonly source: Source;
      /** Places of single values, by key. */
      readonly sources: Readonly<Record<string, Source>>;
    }
  | {
      readonly kind: "chosen";
      readonly bit: string;
      readonly runner: number;
      /** The width that stands beside the groove that fitted. */
      readonly chosen: number;
      readonly source: Source;
      readonly sources: Readonly<Record<string, Source>>;
    };
