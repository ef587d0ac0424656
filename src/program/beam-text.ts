import type { BeamPath } from "../paths/beam/beam-move.ts";
import type { BeamSetUp } from "../plan/beam-setup.ts";
import type { Post } from "./post.ts";

/** All that is needed to write the program of one set-up under the beam. */
export interface BeamWriteInput {
  readonly setUp: BeamSetUp;
  /** In the order they are to be burned. */
  readonly paths: readonly BeamPath[];
  readonly post: Post;
  readonly title: string;
  /** Of this project, for the seal line. */
  readonly version: string;
  /** Place in the order of work, from 1; begins the file's name. Default 1. */
  readonly sequence?: number;
  /** Findings that the user overrides, printed in the first lines. */
  readonly overrides?: readonly { readonly code: string; readonly because: string }[];
}

/** One program file for the beam. */
export interface BeamProgramText {
  /** File name, without a folder. */
  readonly name: string;
  readonly text: string;
  /** The set-up's name. */
  readonly setUp: string;
  readonly post: string;
  readonly unit: "mm" | "inch";
  /** An outline walk: beam off, or the visible pilot. */
  readonly dryRun: boolean;
  /** In order, each with the line number at which it begins. */
  readonly operations: readonly {
    readonly id: string;
    readonly title: string;
    readonly label: number;
    readonly markId: string;
  }[];
}
