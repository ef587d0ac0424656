import type { BeamSetUp, PlacedMark } from "../plan/beam-setup.ts";
import type { Box, Point } from "../shapes/point.ts";
import { boundsOf, type Segment } from "../shapes/segment.ts";
import { onSheet, type Sheet } from "./path-data.ts";
import { element, text } from "./svg.ts";

/** A line of text and where it stands, set-up coordinates, mm. */
export interface Label {
  readonly words: string;
  readonly box: Box;
}

const SIZE = 2.8;
const HIGH = 3.8;
const CLEAR = 0.8;
/** How far from its mark a label is tried, rows. */
const ROWS = 6;

/**
 * One label for each mark, with the settings it is burned with: below it, else above, else beside, at the first place where it
 * covers no ink, nothing that holds the wood and no other label; where there is none, where it covers least.
 */
export function markLabels(setUp: BeamSetUp): readonly Label[] {
  const marks = [...new Set(setUp.marks.map((m) => m.mark.feature))].map((feature) => {
    const own = setUp.marks.filter((m) => m.mark.feature === feature);
    const effects = [...new Set(own.map((m) => m.setting.effect))];
    return { words: `${feature}, ${effects.join(" and ")}`, ink: own.flatMap(inkBoxes) };
  });
  const taken = [...marks.flatMap((m) => m.ink), ...setUp.keepOuts.map((k) => k.box), ...borderLines(setUp.blank)];
  const placed: Label[] = [];
  for (const { words, ink } of marks) {
    const around = unionOf(ink);
    if (around === undefined) continue;
    const tried = places(around, words.length * 1.56 + 2);
    const least = Math.min(...tried.map((box) => covered(box, taken)));
    const box = tried.find((b) => covered(b, taken) === least)!;
    placed.push({ words, box });
    taken.push(box);
  }
  return placed;
}

/** The labels on a white ground. */
export function drawLabels(sheet: Sheet, setUp: BeamSetUp): string[] {
  return markLabels(setUp).flatMap(({ words, box }) => {
    const corner = onSheet(sheet, { x: box.min.x, y: box.max.y });
    const size = { width: box.max.x - box.min.x, height: HIGH };
    const ground = { ...corner, ...size, fill: "#ffffff", "fill-opacity": 0.85, rx: 0.8 };
    const style = { "font-size": SIZE, "text-anchor": "middle" };
    return [element("rect", ground), text(corner.x + size.width / 2, corner.y + SIZE, words, style)];
  });
}

/** Places for a label, the likeliest first. */
function places({ min, max }: Box, width: number): readonly Box[] {
  const at = (x: number, y: number): Box => ({ min: { x, y }, max: { x: x + width, y: y + HIGH } });
  const middle = { x: (min.x + max.x - width) / 2, y: (min.y + max.y - HIGH) / 2 };
  const rows = Array.from({ length: ROWS }, (_, i) => i);
  return [
    at(middle.x, min.y - CLEAR - HIGH),
    at(middle.x, max.y + CLEAR),
    at(max.x + CLEAR, middle.y),
    at(min.x - CLEAR - width, middle.y),
    ...rows.map((i) => at(middle.x, min.y - CLEAR - HIGH * (i + 2))),
    ...rows.map((i) => at(middle.x, max.y + CLEAR + HIGH * (i + 1))),
    // Inside a mark that fills the face: between its lines.
    ...rows.map((i) => at(middle.x, min.y + CLEAR + (i / ROWS) * (max.y - min.y))),
  ];
}

/** The border of the blank as thin boxes: no label lies across it. */
function borderLines({ min, max }: Box): readonly Box[] {
  return [
    { min, max: { x: max.x, y: min.y } },
    { min: { x: min.x, y: max.y }, max },
    { min, max: { x: min.x, y: max.y } },
    { min: { x: max.x, y: min.y }, max },
  ].map(grown);
}

function grown({ min, max }: Box): Box {
  const by = 0.3;
  return { min: { x: min.x - by, y: min.y - by }, max: { x: max.x + by, y: max.y + by } };
}

/** How much of a box is covered by others, mm². */
function covered(box: Box, others: readonly Box[]): number {
  let sum = 0;
  for (const o of others) {
    const w = Math.min(box.max.x, o.max.x) - Math.max(box.min.x, o.min.x);
    const h = Math.min(box.max.y, o.max.y) - Math.max(box.min.y, o.min.y);
    if (w > 0 && h > 0) sum += w * h;
  }
  return sum;
}

/** Boxes of what a mark burns: one for each piece of a line, one for each loop of an area. */
function inkBoxes({ aim }: PlacedMark): readonly Box[] {
  switch (aim.kind) {
    case "lines":
      return aim.chains.flat().map((s) => grown(boundsOf(s)));
    case "area":
      return aim.region.loops.flatMap(loopBox);
    case "through":
      return aim.outline.loops.flatMap(loopBox);
    case "dots": {
      const rad = (aim.alongDeg * Math.PI) / 180;
      const corner = (u: number, v: number): Point => ({
        x: aim.corner.x + u * Math.cos(rad) + v * Math.sin(rad),
        y: aim.corner.y + u * Math.sin(rad) - v * Math.cos(rad),
      });
      const w = aim.columns * aim.pitch;
      const h = aim.rows * aim.pitch;
      const all = [corner(0, 0), corner(w, 0), corner(0, h), corner(w, h)];
      return [unionOf(all.map((p) => ({ min: p, max: p }))) ?? []].flat();
    }
  }
}

function loopBox(loop: readonly Segment[]): readonly Box[] {
  return [unionOf(loop.map(boundsOf)) ?? []].flat();
}

function unionOf(boxes: readonly Box[]): Box | undefined {
  const [first, ...rest] = boxes;
  if (first === undefined) return undefined;
  return rest.reduce<Box>(
    (b, o) => ({
      min: { x: Math.min(b.min.x, o.min.x), y: Math.min(b.min.y, o.min.y) },
      max: { x: Math.max(b.max.x, o.max.x), y: Math.max(b.max.y, o.max.y) },
    }),
    first,
  );
}
