import type { TurningPath } from "../paths/turning/move.ts";
import type { TurningSetUp } from "../plan/turning-setup.ts";
import type { TurningTool } from "../shop/lathe.ts";
import type { Post } from "./post.ts";

/** All that is needed to write the programs of one mounting on the lathe. */
export interface TurningWriteInput {
  readonly setUp: TurningSetUp;
  /** In the order they are to be cut. */
  readonly paths: readonly TurningPath[];
  readonly post: Post;
  readonly title: string;
  /** Of this project, for the seal line. */
  readonly version: string;
  /** Place in the order of work of the set-up's first program, from 1; begins the file's name. Default 1. */
  readonly sequence?: number;
  /** Findings that the user overrides, printed in the first lines. */
  readonly overrides?: readonly { readonly code: string; readonly because: string }[];
  /** Cautions to print in the header, each a sentence. */
  readonly cautions?: readonly string[];
  /** Job text, shop text, version and report, once the check has passed; absent: written but not yet checked. */
  readonly sealed?: readonly string[];
}

/** One program file for the lathe. */
export interface TurningProgramText {
  /** File name, without a folder. */
  readonly name: string;
  readonly text: string;
  /** The set-up's name. */
  readonly setUp: string;
  readonly post: string;
  readonly unit: "mm" | "inch";
  /** What its X words mean, and on which side of the axis they count. */
  readonly xWords: "radius" | "diameter";
  /** Nothing turns and nothing is touched. */
  readonly dryRun: boolean;
  /** In order, each with the line number at which it begins. */
  readonly operations: readonly {
    readonly id: string;
    readonly title: string;
    readonly label: number;
    readonly tool: string;
  }[];
  /** In the order they are called. */
  readonly tools: readonly TurningTool[];
}
