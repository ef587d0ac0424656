import type { FormGrid } from "../job/form-grid.ts";
import { line } from "../shapes/segment.ts";
import { caseFigure, mouthFigure, planFigure } from "./form-figures.ts";
import { box, PAGE, paragraph, rowOf } from "./form-parts.ts";
import { drawingsPdf } from "./pdf.ts";
import type { PaperName } from "./pdf-tiles.ts";
import { type Drawing, type DrawingMark, stroke, words } from "./template-drawing.ts";

/** One reading: its key as the job file has it, and how it is taken. */
interface Reading {
  readonly key: string;
  readonly how: string;
}

/** A place to stand at, and what is read there. */
interface Station {
  readonly title: string;
  readonly readings: readonly Reading[];
}

/** What is measured in each opening, in the order in which one walks round the case. */
const STATIONS: readonly Station[] = [
  {
    title: "In front: the mouth",
    readings: [
      { key: "with", how: "rule, tape or calipers" },
      { key: "width: mouth top", how: "along the upper edge" },
      { key: "width: mouth", how: "at runner height; the one you need" },
      { key: "width: mouth bottom", how: "along the lower edge" },
      { key: "height: left", how: "5 mm from the left side" },
      { key: "height: middle", how: "does the upper edge sag?" },
      { key: "height: right", how: "5 mm from the right side" },
      { key: "diagonals: rising", how: "lower left to upper right" },
      { key: "diagonals: falling", how: "upper left to lower right" },
      { key: "wind", how: "over two winding sticks" },
    ],
  },
  {
    title: "Reaching in",
    readings: [
      { key: "width: middle", how: "half way in, runner height" },
      { key: "depth: left", how: "mouth to back, at the left" },
      { key: "depth: middle", how: "the same in the middle" },
      { key: "depth: right", how: "the same at the right" },
    ],
  },
  {
    title: "Behind, while the back is off; else reaching in",
    readings: [
      { key: "width: back", how: "at the back, runner height" },
      { key: "height: back", how: "at the back, in the middle" },
    ],
  },
];

/** What is measured once, for the whole case. */
const CASE: readonly Reading[] = [
  { key: "wood", how: "of the case sides" },
  { key: "side thickness", how: "calipers, front edge" },
  { key: "side grain", how: "upright, or mouth to back" },
  { key: "back thickness", how: "calipers" },
  { key: "divider thickness", how: "between columns; calipers" },
  { key: "columns", how: "openings side by side" },
  { key: "measured with", how: "what most sizes are read with" },
  { key: "moisture today", how: "8 % by meter, or 4 weeks at 20 C and 45 %" },
];

const HOW = [
  "Measure when the case is glued and cleaned up, standing as it will stand. Write what you read, not what it ought to be; leave free what you cannot read.",
  "Widths: inside calipers, or two sticks that slide on each other and are then laid to a rule. A rule reads to 0.5 mm, a tape to 1 mm, calipers to 0.1 mm: common practice, no source. Runner height is where the runner will sit, about the middle.",
  "Diagonals: a stick pointed at both ends, or a tape held on its 100 mm line: then take 100 off.",
  "Wind: lay one winding stick across the lower edge of the mouth, the other across the upper, both flat on the case's front, and sight over them from in front. Where one end stands off, hold a rule there: that gap is the wind.",
  "In the job file, the names before a colon are written above those behind it: width: {mouth: 142.3, middle: 142.1, back: 142.4}. Names and order of the openings are those of the drawing.",
];

/** Openings on one page. */
const ACROSS = 4;
const LABEL = 62;
const ROW = 8.6;

/** The measuring sheet of a case: a page for the whole, one for every four openings, and one for when the runners are in. */
export function formPages(grid: FormGrid): readonly Drawing[] {
  const groups: (readonly string[])[] = [];
  for (let i = 0; i < grid.names.length; i += ACROSS) groups.push(grid.names.slice(i, i + ACROSS));
  const count = groups.length + 2;
  const title = (page: number, what: string): string => `${grid.title}: ${what}, page ${page} of ${count}`;
  return [
    { title: title(1, "measuring sheet"), marks: casePage(grid) },
    ...groups.map((names, i) => ({ title: title(i + 2, "measuring sheet"), marks: openingsPage(grid, names) })),
    { title: title(count, "measured later"), marks: laterPage(grid) },
  ].map((page) => ({ ...page, marks: [...page.marks, ...corner()] }));
}

/** A dot at the page's lower right corner: it keeps every page upright, and all of one size. */
function corner(): readonly DrawingMark[] {
  const at = { x: PAGE.width, y: -PAGE.height };
  return [stroke([line({ x: at.x - 0.2, y: at.y }, at)], 0.1)];
}

/** The measuring sheet for one paper, true to scale with its own check lines. */
export function formPdf(grid: FormGrid, paper: PaperName): Uint8Array {
  return drawingsPdf(formPages(grid), paper);
}

function casePage(grid: FormGrid): readonly DrawingMark[] {
  const marks: DrawingMark[] = [words({ x: 0, y: -5 }, `Measuring sheet: ${grid.title}`, 5, { bold: true })];
  let y = -12;
  marks.push(...caseFigure(grid, { x: 0, y, width: PAGE.width, height: 72 }));
  y -= 78;
  marks.push(words({ x: 0, y }, "case:", 3.4, { bold: true }));
  y -= 3;
  for (const [i, r] of CASE.entries()) {
    const left = i % 2 === 0;
    const x = left ? 0 : PAGE.width / 2 + 2;
    const given = r.key === "columns" ? String(grid.columns) : "";
    const unit = r.key.endsWith("thickness") ? grid.unit : "";
    marks.push(...rowOf({ x, y, width: PAGE.width / 2 - 2, height: 10 }, r.key, r.how, 40, unit, given));
    if (!left) y -= 11;
  }
  y -= 5;
  marks.push(words({ x: 0, y }, "How", 3.4, { bold: true }));
  for (const text of HOW) {
    const p = paragraph({ x: 0, y: y - 4.6 }, text, 2.8, PAGE.width);
    marks.push(...p.marks);
    y = p.below - 0.4;
  }
  return marks;
}

function openingsPage(grid: FormGrid, names: readonly string[]): readonly DrawingMark[] {
  const wide = (PAGE.width - LABEL) / ACROSS;
  const marks: DrawingMark[] = [
    ...mouthFigure({ x: 0, y: 0, width: 84, height: 56 }),
    ...planFigure({ x: 91, y: 0, width: 84, height: 56 }),
  ];
  let y = -62;
  marks.push(words({ x: 0, y: y - 4 }, "openings:", 3.4, { bold: true }));
  for (const [i, name] of names.entries()) {
    marks.push(
      words({ x: LABEL + (i + 0.5) * wide, y: y - 4 }, short(name, wide), 3.2, { bold: true, anchor: "middle" }),
    );
  }
  y -= 6;
  for (const [n, station] of STATIONS.entries()) {
    marks.push(words({ x: 0, y: y - 4 }, `${n + 1}. ${station.title}`, 3.2, { bold: true }));
    y -= 5.5;
    for (const r of station.readings) {
      marks.push(words({ x: 0, y: y - 3.6 }, `${r.key}:`, 2.9, { bold: true }), words({ x: 0, y: y - 7 }, r.how, 2.4));
      const unit = r.key === "with" ? "" : grid.unit;
      for (const i of names.keys()) {
        marks.push(...box({ x: LABEL + i * wide, y, width: wide, height: ROW }, unit));
      }
      y -= ROW;
    }
    y -= 1.5;
  }
  return marks;
}

/** Second measuring: thicknesses as planed, and between the fitted runners. */
function laterPage(grid: FormGrid): readonly DrawingMark[] {
  const marks: DrawingMark[] = [words({ x: 0, y: -5 }, "Measured later, below drawers:", 4.2, { bold: true })];
  const planed = paragraph(
    { x: 0, y: -11 },
    "When the stock is planed: each thickness with calipers, in three places; write the largest.",
    2.8,
    PAGE.width,
  );
  marks.push(...planed.marks);
  let y = planed.below + 1;
  const stuffs = [
    "fronts: as planed",
    "sides: as planed",
    "backs: as planed",
    "bottoms: as planed",
    "runners: as planed",
    "runners: tall as planed",
  ];
  for (const [i, key] of stuffs.entries()) {
    const x = i % 2 === 0 ? 0 : PAGE.width / 2 + 2;
    marks.push(...rowOf({ x, y, width: PAGE.width / 2 - 2, height: 10 }, key, "", 44, grid.unit, ""));
    if (i % 2 === 1) y -= 11;
  }
  const between = paragraph(
    { x: 0, y: y - 4 },
    "When the runners are in: between the two of each opening, inside calipers, at their front ends and at the back. Until then no runner groove is cut.",
    2.8,
    PAGE.width,
  );
  marks.push(...between.marks, words({ x: 0, y: between.below - 2 }, "between runners:", 3.4, { bold: true }));
  y = between.below - 3;
  const left = 60;
  const wide = (PAGE.width - left) / 2;
  for (const [i, key] of ["mouth", "back"].entries()) {
    marks.push(words({ x: left + (i + 0.5) * wide, y: y - 2 }, `${key}:`, 3, { bold: true, anchor: "middle" }));
  }
  y -= 4;
  const height = Math.min(ROW, (PAGE.height + y) / Math.max(1, grid.names.length));
  for (const name of grid.names) {
    marks.push(
      words({ x: 0, y: y - height / 2 - 1 }, `${short(name, left)}:`, Math.min(3, height * 0.6), { bold: true }),
    );
    for (const i of [0, 1]) marks.push(...box({ x: left + i * wide, y, width: wide, height }, grid.unit));
    y -= height;
  }
  return marks;
}

/** A name cut to a width. */
function short(name: string, width: number): string {
  const most = Math.max(4, Math.floor(width / 1.75));
  return name.length <= most ? name : `${name.slice(0, most - 1)}.`;
}
