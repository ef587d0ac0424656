import type { Cavity } from "../workpiece.ts";

/** Where a cut mark stands: what all its cavities share, and the wood beneath that face, mm. */
export interface CutGround {
  readonly base: Pick<Cavity, "id" | "part" | "feature" | "source" | "sources" | "face" | "keeps" | "clear" | "cutter">;
  readonly deep: number;
}
