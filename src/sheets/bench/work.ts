import type { CutList } from "../../fit/cut-list-job.ts";
import type { FitCardCell } from "../../fit/fit-card.ts";
import type { FitPlan } from "../../fit/fit-plan.ts";
import type { Job } from "../../job/job.ts";
import type { HoldingKit } from "../../parts/holding-kit/holding.ts";
import type { TurnedPiece } from "../../parts/turned-piece.ts";
import type { BeamSetUp } from "../../plan/beam-setup.ts";
import type { SetUp } from "../../plan/setup.ts";
import type { TurningSetUp } from "../../plan/turning-setup.ts";
import type { Shop } from "../../shop/shop.ts";
import type { Report } from "../report.ts";

/** All that the bench page is made from. The report tells programs, times and findings; the rest is as planned. */
export interface BenchWork {
  /** With the parts of its drawers written out. */
  readonly job: Job;
  readonly shop: Shop;
  readonly report: Report;
  readonly fit?: FitPlan;
  readonly cutList: CutList;
  readonly cardCells: readonly FitCardCell[];
  /** In the order of work, held-back ones too. */
  readonly setUps: readonly SetUp[];
  readonly turnings: readonly TurningSetUp[];
  readonly beams: readonly BeamSetUp[];
  readonly pieces: readonly BenchPiece[];
}

/** A turned part with what holds it. */
export interface BenchPiece {
  readonly piece: TurnedPiece;
  readonly kit?: HoldingKit;
}

/** A program as the order of work names it. */
export interface Run {
  readonly file: string;
  readonly dryRun: string | null;
  readonly setUp: string;
  readonly parts: readonly string[];
  readonly seconds: number;
  readonly on: "router" | "lathe" | "laser";
}

/** All programs, in the order of work. */
export function runsOf({ turnings, programs, beams }: Report): readonly Run[] {
  const run = (
    p: { readonly file: string; readonly dryRun: string | null; readonly setUp: string; readonly seconds: number },
    parts: readonly string[],
    on: Run["on"],
  ): Run => ({ file: p.file, dryRun: p.dryRun, setUp: p.setUp, parts, seconds: p.seconds, on });
  return [
    ...turnings.map((p) => run(p, [p.part], "lathe")),
    ...programs.map((p) => run(p, p.parts, "router")),
    ...beams.map((p) => run(p, p.parts, "laser")),
  ];
}
