import type { Outcome } from "../../finding.ts";
import type { MarkMade } from "../../job/mark.ts";
import type { Cavity } from "../workpiece.ts";
import type { Ink } from "./mark.ts";

/** Marks that the router cuts. */
export type CutMade = Extract<MarkMade, { by: "cut line" | "v-groove" }>;

/** Where a cut mark stands: what all its cavities share, and the wood beneath that face, mm. */
export interface CutGround {
  readonly base: Pick<Cavity, "id" | "part" | "feature" | "source" | "sources" | "face" | "keeps" | "clear" | "cutter">;
  readonly deep: number;
}

/**
 * The wood that a cut mark takes: ink in plan coordinates of its face, as cavities beneath it.
 * Several cavities have the base's id with a number after a stroke.
 */
export function cutMark(ink: Ink, made: CutMade, ground: CutGround): Outcome<readonly Cavity[]> {
  const { base } = ground;
  return {
    ok: false,
    findings: [
      {
        grade: "refuse",
        code: "mark-kind-unfit",
        place: { part: base.part, feature: base.feature, source: base.sources?.["made by"] ?? base.source },
        what: `a ${made.by} is not cut yet`,
        why: `${ink.kind} on "${base.face}", ${ground.deep} mm of wood beneath`,
        mend: 'burn it: "made by: burned line"',
      },
    ],
  };
}
