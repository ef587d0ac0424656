import { type HandCut, handCuts } from "../../fit/by-hand.ts";
import type { Block } from "./block.ts";
import { sentence } from "./length-words.ts";
import type { BenchWork } from "./work.ts";

/** A ten-inch blade, for the ramp it leaves at a stopped end; common practice, no source. mm */
const BLADE = 254;
/** What the part is called that a fit card becomes. */
const CARD = "fit card";
/** Kerf of a common blade where no cabinet says one, mm; common practice, no source. */
const KERF = 3;

/** Fence, height and stops for each groove, rabbet and hole, for those who would rather cut it by hand. */
export function byHandSection({ job, shop, cardCells }: BenchWork): readonly Block[] {
  const kerf = job.cabinet?.drawers?.kerf.value ?? KERF;
  const bits = shop.cutters.filter((c) => c.form.kind === "flat").map((c) => c.diameter);
  // A fit card finds what the bit really cuts: by hand it would find nothing.
  const card = cardCells.length > 0 ? CARD : undefined;
  const own = job.parts.filter((p) => p.name !== card);
  const parts = own.map((part) => ({
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
          { head: "cut", share: 13 },
          { head: "way", share: 11 },
          { head: "on the table", share: 11 },
          { head: "settings", share: 40 },
          { head: "mind", share: 25 },
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
