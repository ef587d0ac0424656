import type { FaceName } from "../job/board.ts";
import type { SetUp } from "../plan/setup.ts";
import type { Point } from "../shapes/point.ts";
import { onSheet, type Sheet } from "./path-data.ts";
import { decimal, element, text } from "./svg.ts";

/** What a workpiece needs to be drawn as it lies on the machine, whatever works on it. */
export type Lying = Pick<SetUp, "workpiece" | "frame" | "blank" | "round" | "keepOuts" | "holding">;

export const MARGIN = 14;
const INK = "#1d1a16";

/** How many characters of a font size fit a row: the widest common sans-serif takes 0.56 of its size a character. */
export function perRow(width: number, size: number): number {
  return Math.floor((width - 2 * MARGIN) / (size * 0.56));
}

/** How it is held. */
export function holdingWords(setUp: Lying): string {
  switch (setUp.holding.kind) {
    case "underside":
      return setUp.holding.by === "tape" ? "held by tape all over its underside" : "held by vacuum";
    case "spots":
      return heldWords(setUp.holding.by);
  }
}

function heldWords(by: Extract<SetUp["holding"], { readonly kind: "spots" }>["by"]): string {
  switch (by) {
    case "clamps":
    case "screws":
      return `held by ${by}`;
    case "jaws":
      return "held by its square ends in jaws";
    case "cradles":
      return "held in cradles, pressed down by cauls";
    case "rotary axis":
      return "held on the rotary axis, between chuck and centre";
  }
}

/** The blank and what sticks out beside it: clamps and zero. */
export function drawnBounds(setUp: Lying): { min: Point; max: Point } {
  const boxes = [setUp.blank, ...setUp.keepOuts.map((k) => k.box), { min: { x: 0, y: 0 }, max: { x: 0, y: 0 } }];
  return {
    min: { x: Math.min(...boxes.map((b) => b.min.x)), y: Math.min(...boxes.map((b) => b.min.y)) },
    max: { x: Math.max(...boxes.map((b) => b.max.x)), y: Math.max(...boxes.map((b) => b.max.y)) },
  };
}

/** Clamps and jaws, crossed and named. */
export function keepOuts(sheet: Sheet, setUp: Lying): string[] {
  const drawn = setUp.keepOuts.map((k) => {
    const a = onSheet(sheet, { x: k.box.min.x, y: k.box.max.y });
    const b = onSheet(sheet, { x: k.box.max.x, y: k.box.min.y });
    return { name: holderOf(k.name), a, b };
  });
  const stroke = { stroke: INK, "stroke-width": 0.4 };
  const solids = drawn.flatMap(({ a, b }) => [
    element("rect", {
      x: a.x,
      y: a.y,
      width: b.x - a.x,
      height: b.y - a.y,
      fill: "#d9d9d4",
      "fill-opacity": 0.8,
      ...stroke,
    }),
    element("line", { x1: a.x, y1: a.y, x2: b.x, y2: b.y, ...stroke }),
    element("line", { x1: a.x, y1: b.y, x2: b.x, y2: a.y, ...stroke }),
  ]);
  // One name for all that belongs together, above its highest piece.
  const labels = [...new Set(drawn.map((d) => d.name))].map((name) => {
    const own = drawn.filter((d) => d.name === name);
    const highest = own.reduce((p, q) => (q.a.y < p.a.y ? q : p));
    return text((highest.a.x + highest.b.x) / 2, highest.a.y - 1, name, { "font-size": 2.8, "text-anchor": "middle" });
  });
  return [...solids, ...labels];
}

/** What a solid is a piece of: both horns and the caul of a cradle are the cradle. */
function holderOf(name: string): string {
  return name.replace(/^caul over /, "").replace(/, (front|back) (horn|cheek)$/, "");
}

const NORMALS: Readonly<Record<FaceName, readonly [number, number, number]>> = {
  face: [0, 0, 1],
  back: [0, 0, -1],
  "lower edge": [0, -1, 0],
  "upper edge": [0, 1, 0],
  "first end": [-1, 0, 0],
  "second end": [1, 0, 0],
};

/** Names of the four borders as they lie on the machine, and the face-edge mark. */
export function borders(sheet: Sheet, setUp: Lying): string[] {
  const { min, max } = setUp.blank;
  const middle = { x: (min.x + max.x) / 2, y: (min.y + max.y) / 2 };
  return (Object.keys(NORMALS) as FaceName[]).flatMap((face) => {
    const n = NORMALS[face];
    const [row0, row1] = setUp.frame.rotation;
    const dx = Math.round(row0[0] * n[0] + row0[1] * n[1] + row0[2] * n[2]);
    const dy = Math.round(row1[0] * n[0] + row1[1] * n[1] + row1[2] * n[2]);
    if (dx === 0 && dy === 0) return [];
    const edge = onSheet(sheet, {
      x: dx === 0 ? middle.x : dx > 0 ? max.x : min.x,
      y: dy === 0 ? middle.y : dy > 0 ? max.y : min.y,
    });
    const isFaceEdge = face === setUp.workpiece.faceEdge;
    const label = setUp.workpiece.labels[face] + (isFaceEdge ? " (face edge)" : "");
    const x = edge.x + dx * 13;
    const y = edge.y - dy * 11 + (dy === 0 ? 0 : 1.2);
    const turned = dx === 0 ? {} : { transform: `rotate(${dx > 0 ? 90 : -90} ${decimal(x)} ${decimal(y)})` };
    return [
      text(x, y, label, { "text-anchor": "middle", "font-size": 3.2, ...turned }),
      isFaceEdge ? element("path", { d: edgeMark(edge, dx, dy), fill: "none", stroke: INK, "stroke-width": 0.45 }) : "",
    ];
  });
}

/** The joiner's face-edge mark: a small V whose point touches the edge. */
function edgeMark(at: Point, dx: number, dy: number): string {
  const inX = -dx * 5;
  const inY = dy * 5;
  const sideX = dy === 0 ? 0 : 2.4;
  const sideY = dx === 0 ? 0 : 2.4;
  return `M${decimal(at.x + inX - sideX)} ${decimal(at.y + inY - sideY)}L${decimal(at.x)} ${decimal(at.y)}L${decimal(at.x + inX + sideX)} ${decimal(at.y + inY + sideY)}`;
}

/** Whether zero lies at the right border of the blank: its letters then stand outside, on the right. */
function atRight(setUp: Lying): boolean {
  return Math.abs(setUp.blank.max.x) < 1e-6;
}

/** Zero, boxed, with both axes. @param up what grows up the page */
export function zeroCross(sheet: Sheet, setUp: Lying, up: "Y" | "A" | "−A" = "Y"): string[] {
  const z = onSheet(sheet, { x: 0, y: 0 });
  const stroke = { stroke: INK, "stroke-width": 0.5, fill: "none" };
  return [
    element("path", {
      d: `M${decimal(z.x)} ${decimal(z.y - 9)}V${decimal(z.y)}H${decimal(z.x + 9)}M${decimal(z.x - 1.2)} ${decimal(z.y - 7)}L${decimal(z.x)} ${decimal(z.y - 9.4)}L${decimal(z.x + 1.2)} ${decimal(z.y - 7)}M${decimal(z.x + 7)} ${decimal(z.y - 1.2)}L${decimal(z.x + 9.4)} ${decimal(z.y)}L${decimal(z.x + 7)} ${decimal(z.y + 1.2)}`,
      ...stroke,
    }),
    element("rect", {
      x: z.x - 1.6,
      y: z.y - 1.6,
      width: 3.2,
      height: 3.2,
      fill: "#ffffff",
      stroke: INK,
      "stroke-width": 0.5,
    }),
    text(z.x, z.y + 1, "0", { "font-size": 2.8, "text-anchor": "middle" }),
    text(z.x + 8, z.y + 4.4, "X", { "font-size": 3 }),
    text(atRight(setUp) ? z.x + 2 : z.x - 4.2, z.y - 7.4, up, { "font-size": 3 }),
  ];
}

/** Which way the grain runs: a double arrow outside the blank's upper right corner. */
export function grainMark(sheet: Sheet, setUp: Lying): string[] {
  const grain = setUp.workpiece.grain;
  if (grain === "none") return [];
  const [row0, row1] = setUp.frame.rotation;
  const along = grain === "along length" ? 0 : 1;
  const across = Math.abs(row0[along]) < Math.abs(row1[along]);
  const { min, max } = setUp.blank;
  // What holds a round blank stands at its ends: there the mark goes below, beside the middle.
  const at = setUp.round === undefined ? max : { x: min.x + (max.x - min.x) * 0.36, y: min.y - 14 };
  const a = onSheet(sheet, { x: at.x, y: at.y });
  const stroke = { stroke: INK, "stroke-width": 0.35, fill: "none" };
  const arrow = across
    ? `M${decimal(a.x + 4)} ${decimal(a.y + 1)}v12m-1 -1.8l1 1.8l1 -1.8m-2 -8.4l1 -1.8l1 1.8`
    : `M${decimal(a.x - 13)} ${decimal(a.y - 6)}h12m-1.8 -1l1.8 1l-1.8 1m-8.4 -2l-1.8 1l1.8 1`;
  const label = across
    ? text(a.x + 1, a.y - 1, "grain", { "font-size": 2.8 })
    : text(a.x - 15, a.y - 5, "grain", { "font-size": 2.8, "text-anchor": "end" });
  return [element("path", { d: arrow, ...stroke }), label];
}

/** A line of 100 mm to measure a print by. */
export function checkLine(x: number, y: number): string[] {
  const stroke = { stroke: INK, "stroke-width": 0.35 };
  return [
    element("line", { x1: x, y1: y, x2: x + 100, y2: y, ...stroke }),
    element("line", { x1: x, y1: y - 2, x2: x, y2: y + 2, ...stroke }),
    element("line", { x1: x + 100, y1: y - 2, x2: x + 100, y2: y + 2, ...stroke }),
    text(x + 102, y + 1.2, "100 mm: measure it before you trust a print", { "font-size": 3 }),
  ];
}
