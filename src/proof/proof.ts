import type { Finding, Measured } from "../finding.ts";
import type { SetUp } from "../plan/setup.ts";
import type { ReadMove, ReadProgram } from "../reader/read-move.ts";
import type { Point3 } from "../shapes/point.ts";
import type { Assembly, Cutter } from "../shop/cutter.ts";
import type { Shop } from "../shop/shop.ts";
import type { WoodKind } from "../shop/wood.ts";
import type { Simulation } from "../simulate/run.ts";

/** What a proof gives. Filled by `proveSetUp`; read by the pipeline and sheets. */
export interface Proof {
  readonly findings: readonly Finding[];
  /** Every number that was measured, by what it is: "gouge", 'wood left: groove "runner"', "least web". */
  readonly figures: Readonly<Record<string, Figure>>;
  /** What has been checked, and what has not, in plain words. */
  readonly checked: readonly string[];
  readonly notChecked: readonly string[];
}

/** A measured number, with the place where it was found. */
export interface Figure extends Measured {
  readonly at?: Point3;
}

/** Findings with the figures they rest on. */
export interface Measures {
  readonly findings: readonly Finding[];
  readonly figures: Readonly<Record<string, Figure>>;
}

/** A program to prove, as text. */
export interface ProgramToProve {
  readonly file: string;
  readonly text: string;
}

/** One program with all that is known of it; what every rule reads. */
export interface Case {
  readonly setUp: SetUp;
  readonly shop: Shop;
  readonly file: string;
  /** Lines of the text, for quoting. */
  readonly lines: readonly string[];
  readonly read: ReadProgram;
  readonly wood: WoodKind | undefined;
  readonly cutterFor: (move: ReadMove) => Cutter | undefined;
  readonly assemblyFor: (move: ReadMove) => Assembly | undefined;
  readonly simulation: Simulation;
}
