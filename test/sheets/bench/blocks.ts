import fc from "fast-check";
import { line } from "../../../src/shapes/segment.ts";
import type { BenchPage, Block, Figure } from "../../../src/sheets/bench/block.ts";

/** Words of every length, some wider than a page, some that would end a tag or a text of a PDF. */
const word = fc.oneof(
  { weight: 12, arbitrary: fc.string({ minLength: 1, maxLength: 9, unit: fc.constantFrom(..."abcdefgHIJ0123.,") }) },
  { weight: 1, arbitrary: fc.constant("W".repeat(170)) },
  { weight: 1, arbitrary: fc.constantFrom("</p>", "<script>", "\\)", "](x)", "&amp;", "\u2192", "\u00d8", '"q"') },
);
const words = (most: number): fc.Arbitrary<string> =>
  fc.array(word, { minLength: 1, maxLength: most }).map((w) => w.join(" "));

const figure: fc.Arbitrary<Figure> = fc
  .record({ w: fc.integer({ min: 5, max: 900 }), h: fc.integer({ min: 5, max: 900 }), label: words(2) })
  .map(({ w, h, label }) => ({
    most: 60,
    marks: [
      {
        kind: "run",
        width: 0.4,
        segments: [line({ x: 0, y: 0 }, { x: w, y: 0 }), line({ x: w, y: 0 }, { x: w, y: h })],
      },
      { kind: "ring", at: { x: w / 2, y: h }, text: "1" },
      {
        kind: "text",
        at: { x: 0, y: -4 },
        text: label.slice(0, 30),
        size: 3,
        turnedDeg: 90,
        anchor: "end",
        bold: false,
      },
    ],
  }));

const flat: fc.Arbitrary<Block> = fc.oneof(
  fc.record({ kind: fc.constant("heading" as const), level: fc.constantFrom(1, 2, 3), text: words(8) }),
  fc.record({ kind: fc.constant("paragraph" as const), text: words(90) }),
  fc.record({ kind: fc.constant("list" as const), items: fc.array(words(40), { minLength: 1, maxLength: 12 }) }),
  fc.record({
    kind: fc.constant("checklist" as const),
    items: fc.array(fc.record({ text: words(30), notes: fc.array(words(20), { maxLength: 4 }) }), {
      minLength: 1,
      maxLength: 14,
    }),
  }),
  fc.record({
    kind: fc.constant("table" as const),
    caption: words(6),
    columns: fc.constant([
      { head: "first", share: 1 },
      { head: "second", share: 3 },
      { head: "found", share: 1 },
    ]),
    rows: fc.array(fc.tuple(words(3), words(40), fc.constant(null)), { minLength: 1, maxLength: 40 }),
  }),
  fc.record({ kind: fc.constant("figure" as const), figure, caption: words(30) }),
  fc.record({
    kind: fc.constant("blanks" as const),
    items: fc.array(fc.record({ label: words(20), unit: fc.constant("mm") }), { minLength: 1, maxLength: 5 }),
  }),
  fc.record({
    kind: fc.constant("caution" as const),
    title: words(6),
    items: fc.array(words(40), { minLength: 1, maxLength: 12 }),
  }),
);

/** Pages of any blocks. */
export const pages: fc.Arbitrary<BenchPage> = fc.record({
  title: words(12),
  foot: words(12),
  blocks: fc.array(
    fc.oneof(
      { weight: 5, arbitrary: flat },
      {
        weight: 1,
        arbitrary: fc.record({
          kind: fc.constant("together" as const),
          blocks: fc.array(flat, { minLength: 1, maxLength: 4 }),
        }),
      },
    ),
    { minLength: 1, maxLength: 10 },
  ),
});
