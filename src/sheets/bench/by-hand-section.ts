import { type HandCut, handCuts } from "../../fit/by-hand.ts";
import type { Block } from "./block.ts";
import { sentence } from "./length-words.ts";
import type { BenchWork } from "./work.ts";

/** A ten-inch blade, for the ramp it leaves at a stopped end; common practice, no source. mm */
const BLADE = 254;
/** Kerf of a common blade where no cabinet says one, mm; common practice, no source. */
const KERF = 3;

/** Fence, height and stops for each groove, rabbet and hole, for those who would rather cut it by hand. */
export function byHandSection({ job, shop }: BenchWork): readonly Block[] {
  const kerf = job.cabinet?.drawers?.kerf.value ?? KERF;
  const bits = shop.cutters.filter((c) => c.form.kind === "flat").map((c) => c.diameter);
  const parts = job.parts.map((part) => ({
    part,
    cuts: handCuts(part, { bits, kerf, bladeDiameter: BLADE }),
  }));
  const some = parts.filter((p) => p.cuts.length > 0);
  if (some.length === 0) return [];
  return [
    { kind: "heading", level: 1, text: "If you'd rather cut it by hand" },
    {
      kind: "paragraph",
      text: `Settings for a router table, a table saw with a kerf of ${kerf} mm and a blade of 10 in, and a drill press: use one way for each cut. Set the tool by a rule, cut in scrap, measure, then cut. Guards and splitters stay on wherever the cut allows; where it doesn't, choose another way.`,
    },
    ...some.flatMap(({ part, cuts }): readonly Block[] => [
      {
        kind: "heading",
        level: 3,
        text: part.mirroredAs === undefined ? part.name : `${part.name} (${part.mirroredAs}: the mirror image)`,
      },
      {
        kind: "table",
        columns: [
          { head: "cut", share: 16 },
          { head: "way", share: 13 },
          { head: "on the table", share: 13 },
          { head: "settings", share: 36 },
          { head: "mind", share: 22 },
        ],
        rows: cuts.map((c) => [
          c.feature,
          c.way,
          `${c.face}${c.way === "drill press" ? " up" : " down"}`,
          c.settings.map((s) => s.words).join("; "),
          notesOf(c),
        ]),
      },
    ]),
  ];
}

function notesOf(c: HandCut): string {
  return c.notes.map(sentence).join(" ");
}
