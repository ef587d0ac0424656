import { tidy } from "../finding.ts";
import type { JudgedBody, WallMap } from "../parts/walls/wall-map.ts";
import type { Sheet } from "./path-data.ts";
import { onSheet } from "./path-data.ts";
import type { View } from "./piece-views.ts";
import { element, text } from "./svg.ts";

const INK = "#1d1a16";
/** Side of the squares a map is drawn in, mm. */
const CELL = 1;
/** Shades of spare wood, from none (black) to plenty: each lighter than the one before, so that grey says the same. */
const SHADES = [
  { upTo: 0, tint: "#1d1a16", said: "too thin" },
  { upTo: 0.5, tint: "#7d5629", said: "up to 0.5 mm to spare" },
  { upTo: 1, tint: "#ab7f42", said: "up to 1 mm" },
  { upTo: 2, tint: "#cfa966", said: "up to 2 mm" },
  { upTo: 4, tint: "#e6cf9c", said: "up to 4 mm" },
  { upTo: Number.POSITIVE_INFINITY, tint: "#f6ecd2", said: "more" },
] as const;

const NAMES: Readonly<Record<JudgedBody, string>> = {
  blank: "the blank",
  "upper half": "half 1 (90°)",
  "lower half": "half 2 (270°)",
  half: "a half",
};

/**
 * The maps of walls, one for the blank and each half, seen from where they are cut: in each millimetre the least wood to
 * spare over what the law of wall and lip asks; the thinnest place is ringed. True to scale.
 */
export function wallViews(map: WallMap, left: number, top: number, width: number): View {
  const drawn: string[] = [];
  let x = left;
  let y = top;
  let row = 0;
  for (const body of map.bodies) {
    const view = bodyView(body, x, y);
    if (x > left && x + view.width > left + width) {
      x = left;
      y += row + 3;
      row = 0;
      const again = bodyView(body, x, y);
      drawn.push(...again.drawn);
      x += again.width + 8;
      row = again.height;
      continue;
    }
    drawn.push(...view.drawn);
    x += view.width + 8;
    row = Math.max(row, view.height);
  }
  const legend = legendOf(left, y + row + 6, width);
  return { drawn: [...drawn, ...legend.drawn], height: y + row + 6 - top + legend.height };
}

function bodyView(
  body: WallMap["bodies"][number],
  left: number,
  top: number,
): { readonly drawn: readonly string[]; readonly width: number; readonly height: number } {
  const cells = new Map<string, { readonly i: number; readonly j: number; readonly spare: number }>();
  for (const s of body.samples) {
    const [i, j] = [Math.floor(s.x / CELL), Math.floor(s.y / CELL)];
    const there = cells.get(`${i}/${j}`);
    if (there === undefined || s.spare < there.spare) cells.set(`${i}/${j}`, { i, j, spare: s.spare });
  }
  const list = [...cells.values()].sort((a, b) => a.i - b.i || a.j - b.j);
  const said = figures(body);
  const textTop = top + 2.5;
  const lines = [NAMES[body.body], ...said].map((t, n) =>
    text(left, textTop + 3.6 * n, t, { "font-size": 2.8, ...(n === 0 ? { "font-weight": "bold" } : {}) }),
  );
  const below = top + 3.6 * (said.length + 1);
  if (list.length === 0) return { drawn: lines, width: 70, height: below - top };
  const [iMin, iMax] = [list[0]!.i, list[list.length - 1]!.i + 1];
  const jMin = Math.min(...list.map((c) => c.j));
  const jMax = Math.max(...list.map((c) => c.j)) + 1;
  const sheet: Sheet = { left: left - iMin * CELL, baseline: below + jMax * CELL };
  // Runs of one shade along the axis become one rectangle.
  const runs: { i: number; to: number; j: number; shade: number }[] = [];
  for (const c of [...list].sort((a, b) => a.j - b.j || a.i - b.i)) {
    const shade = SHADES.findIndex((s) => c.spare <= s.upTo);
    const last = runs[runs.length - 1];
    if (last !== undefined && last.j === c.j && last.to === c.i && last.shade === shade) last.to = c.i + 1;
    else runs.push({ i: c.i, to: c.i + 1, j: c.j, shade });
  }
  const squares = runs.map((r) => {
    const at = onSheet(sheet, { x: r.i * CELL, y: (r.j + 1) * CELL });
    return element("rect", { x: at.x, y: at.y, width: (r.to - r.i) * CELL, height: CELL, fill: SHADES[r.shade]!.tint });
  });
  const rings = [body.thinnest?.at, body.breakOut?.at].flatMap((p) => {
    if (p === undefined) return [];
    const at = onSheet(sheet, p);
    return [element("circle", { cx: at.x, cy: at.y, r: 1.6, fill: "none", stroke: INK, "stroke-width": 0.5 })];
  });
  const size = { width: (iMax - iMin) * CELL, height: (jMax - jMin) * CELL };
  return {
    drawn: [
      ...lines,
      ...squares,
      element("rect", { x: left, y: below, ...size, fill: "none", stroke: INK, "stroke-width": 0.25 }),
      ...rings,
    ],
    width: Math.max(size.width, 70),
    height: below - top + size.height,
  };
}

/** Thinnest wall, sharpest lip, and where it breaks out, in words. */
function figures(body: WallMap["bodies"][number]): readonly string[] {
  const where = (p: { readonly x: number }): string => `${p.x.toFixed(1)} mm from the first end`;
  return [
    ...(body.thinnest === undefined
      ? []
      : [`thinnest wall ${body.thinnest.value.toFixed(2)} mm, ${where(body.thinnest.at)}`]),
    ...(body.lip === undefined ? [] : [`sharpest lip ${body.lip.value.toFixed(0)}°, ${where(body.lip.at)}`]),
    ...(body.breakOut === undefined ? [] : [`breaks out ${body.breakOut.how}, ${where(body.breakOut.at)}`]),
  ];
}

function legendOf(left: number, top: number, width: number): View {
  const drawn: string[] = [];
  let [x, y] = [left, top];
  for (const s of SHADES) {
    const long = 8 + s.said.length * 1.7 + 3;
    if (x + long > left + width) {
      x = left;
      y += 5;
    }
    drawn.push(element("rect", { x, y: y - 3, width: 6, height: 4, fill: s.tint, stroke: INK, "stroke-width": 0.25 }));
    drawn.push(text(x + 7.5, y, s.said, { "font-size": 2.8 }));
    x += long;
  }
  drawn.push(
    text(
      left,
      y + 5,
      `wood to spare over what wall and lip ask, in squares of ${tidy(CELL)} mm; ringed: the thinnest place`,
      { "font-size": 2.8 },
    ),
  );
  return { drawn, height: y + 8 - top };
}
