import { tidy } from "../finding.ts";
import { turnedStretch } from "../parts/holding-kit/supports.ts";
import { linesToKnife } from "../parts/split.ts";
import type { TurnedPiece } from "../parts/turned-piece.ts";
import { radiiOver } from "../shapes/meridian.ts";
import { line, type Segment } from "../shapes/segment.ts";
import { boundsOfDrawing, type Drawing, type DrawingMark, roomFor, stroke, words } from "./template-drawing.ts";
import { type Station, settingOf, stationsOf } from "./template-stations.ts";
import { drawingSvg } from "./template-svg.ts";

const CUT = 0.35;
const THIN = 0.13;
const CENTRE: readonly number[] = [8, 1.5, 1.5, 1.5];
const DASHED: readonly number[] = [2, 1.2];
const DOTTED: readonly number[] = [0.6, 0.9];
/** Letters of labels and their pitch along the axis, mm. */
const LABEL = 2.5;
const PITCH = 3.4;
/** Card beyond the thickest place, mm: enough to hold it by. */
const HOLD = 28;
/** Height of the story stick, and of its lower share with the lines to knife, mm. */
const STICK = 26;
const KNIFE = 9;
const TITLE = 4.4;
/** Where the columns of the table begin, and the pitch of its rows, mm. */
const COLUMNS: readonly number[] = [0, 6, 62, 108];
const ROW = 4;

/** The half-profile template as SVG, true to scale. */
export function templateSvg(piece: TurnedPiece): string {
  return drawingSvg(withTable(piece, templateDrawing(piece)));
}

/** The story stick as SVG, true to scale. */
export function storyStickSvg(piece: TurnedPiece): string {
  return drawingSvg(withTable(piece, storyStickDrawing(piece)));
}

/**
 * The half profile to cut from card over the turned stretch, its centre line, and each transition numbered, as in
 * `stationTable`. X is measured from the first end of the blank, Y from the axis. mm.
 */
export function templateDrawing(piece: TurnedPiece): Drawing {
  const { from, to } = turnedStretch(piece);
  const { length } = piece.blank;
  const half = Math.max(0, ...piece.squares.map((s) => s.side / 2));
  const most = Math.max(half, radiiOver(piece.meridian, from, to)?.most ?? 0);
  const top = Math.ceil(most + HOLD);
  const middle = (from + to) / 2;
  const stations = stationsOf(piece);
  const title = `${piece.name}: half profile`;
  const marks: DrawingMark[] = [
    words({ x: 0, y: top + 4 }, title, TITLE, { bold: true }),
    stroke(box(from, 0, to, top), THIN),
    stroke([line({ x: -6, y: 0 }, { x: length + 6, y: 0 })], THIN, CENTRE),
    words({ x: length + 7, y: -0.8 }, "centre line", LABEL),
    stroke(piece.meridian.segments, CUT),
    ...piece.squares.map((s) => stroke(squareRun(s), THIN, DASHED)),
    words({ x: middle, y: top - 6 }, "cut along the heavy line", 3, { anchor: "middle", bold: true }),
    words({ x: middle, y: top - 10.5 }, "this side is held to the turning work", LABEL, { anchor: "middle" }),
    ...stations.map((s) =>
      stroke([line({ x: s.at, y: 0 }, { x: s.at, y: tallest(s) })], THIN, s.transition ? undefined : DOTTED),
    ),
    ...labels(stations, -2, -7, "down"),
  ];
  return { title, marks };
}

/**
 * The story stick: a strip with a line at every transition, numbered, and along its lower edge the lines to knife before
 * a split. mm.
 */
export function storyStickDrawing(piece: TurnedPiece): Drawing {
  const { length } = piece.blank;
  const stations = stationsOf(piece);
  const knifed = piece.split === undefined ? [] : linesToKnife(piece);
  const title = `${piece.name}: story stick`;
  const marks: DrawingMark[] = [
    words({ x: 0, y: STICK + 13 + labelled(stations) }, title, TITLE, { bold: true }),
    stroke(box(0, 0, length, STICK), CUT),
    words({ x: -2, y: 1 }, "first end", LABEL, { turnedDeg: 90 }),
    ...stations.map((s) =>
      stroke(
        [line({ x: s.at, y: s.transition ? KNIFE : STICK - 6 }, { x: s.at, y: STICK })],
        s.transition ? CUT : THIN,
      ),
    ),
    ...knifed.flatMap((l) => {
      if (l.kind !== "along") return [];
      const y = l.angleDeg === 0 ? 6 : 3;
      return [stroke([line({ x: l.from, y }, { x: l.to, y })], CUT)];
    }),
    ...(knifed.length === 0
      ? []
      : [
          words({ x: length + 2, y: 5.2 }, "knife along the crown (0°)", LABEL),
          words({ x: length + 2, y: 2.2 }, "knife along 180°", LABEL),
        ]),
    ...labels(stations, STICK + 1, STICK + 6, "up"),
  ];
  return { title, marks };
}

/** What each number on a template and a story stick stands for: distances and settings, a row each. */
export function stationTable(piece: TurnedPiece): Drawing {
  const title = `${piece.name}: distances and caliper settings`;
  const head = words({ x: 0, y: 8 }, title, TITLE, { bold: true });
  return { title, marks: [head, ...table(piece, 0)] };
}

function withTable(piece: TurnedPiece, drawing: Drawing): Drawing {
  const { min } = boundsOfDrawing(drawing);
  return { ...drawing, marks: [...drawing.marks, ...table(piece, min.y - 5)] };
}

/** Rows from a height downwards. */
function table(piece: TurnedPiece, top: number): readonly DrawingMark[] {
  const stations = stationsOf(piece);
  const rows: (readonly string[])[] = [["", "place", "from the first end", "across: set the calipers to"]];
  for (const [i, s] of stations.entries()) {
    const across = s.diameters.length === 0 ? ["square"] : s.diameters.map((d) => settingOf(d).both);
    rows.push([String(i + 1), cut(s.what), settingOf(s.at).both, across[0]!]);
    for (const then of across.slice(1)) rows.push(["", "", "", `then ${then}`]);
  }
  const below = headline(piece).map((h, i) => words({ x: 0, y: top - ROW * (rows.length + 0.6 + i) }, h, LABEL));
  return [
    ...rows.flatMap((row, i) =>
      row.flatMap((cell, column) =>
        cell === "" ? [] : [words({ x: COLUMNS[column]!, y: top - ROW * i }, cell, LABEL, { bold: i === 0 })],
      ),
    ),
    ...below,
  ];
}

function headline(piece: TurnedPiece): readonly string[] {
  const { blank } = piece;
  const size = blank.shape === "square" ? `${tidy(blank.across)} mm square` : `${tidy(blank.across)} mm round`;
  return [
    `Blank: ${piece.wood}, ${size}, ${settingOf(blank.length).both} long.`,
    "Fractions are the nearest 1/64 in; in brackets, by how much the fraction is larger (+) or smaller (-).",
  ];
}

function tallest(s: Station): number {
  return Math.max(0, ...s.diameters) / 2;
}

function box(x0: number, y0: number, x1: number, y1: number): readonly Segment[] {
  const at = [
    { x: x0, y: y0 },
    { x: x1, y: y0 },
    { x: x1, y: y1 },
    { x: x0, y: y1 },
  ];
  return at.map((p, i) => line(p, at[(i + 1) % 4]!));
}

function squareRun(s: { readonly from: number; readonly to: number; readonly side: number }): readonly Segment[] {
  const y = s.side / 2;
  return [
    line({ x: s.from, y: 0 }, { x: s.from, y }),
    line({ x: s.from, y }, { x: s.to, y }),
    line({ x: s.to, y }, { x: s.to, y: 0 }),
  ];
}

/** A label for each station, spread so that none covers another, with a leader from its place to its label. */
function labels(stations: readonly Station[], from: number, to: number, way: "up" | "down"): readonly DrawingMark[] {
  const places = spread(
    stations.map((s) => s.at),
    PITCH,
  );
  const sign = way === "up" ? 1 : -1;
  return stations.flatMap((s, i) => {
    const x = places[i]!;
    return [
      stroke([line({ x: s.at, y: from }, { x, y: to }), line({ x, y: to }, { x, y: to + sign * 1.5 })], THIN),
      // Read from the right: the letters' feet lie half a letter beside the leader.
      words({ x: x + LABEL * 0.36, y: to + sign * 2.5 }, labelOf(s, i + 1), LABEL, {
        turnedDeg: 90,
        anchor: way === "up" ? "start" : "end",
      }),
    ];
  });
}

/** Length that the longest label takes, mm. */
function labelled(stations: readonly Station[]): number {
  return Math.max(0, ...stations.map((s, i) => roomFor(labelOf(s, i + 1), LABEL)));
}

/** Names of a place that fit their column. */
function cut(text: string): string {
  return text.length <= 38 ? text : `${text.slice(0, 35)}...`;
}

function labelOf(s: Station, n: number): string {
  const across = s.diameters.map((d) => d.toFixed(2)).join(" then ");
  return `${n}: ${s.at.toFixed(2)}${across === "" ? "" : `  \u00d8 ${across}`}`;
}

/**
 * Places as near as can be to those wanted, in the same order, none closer than `pitch` to the next: least sum of squared
 * shifts (pools of touching neighbours about their mean).
 */
export function spread(wanted: readonly number[], pitch: number): readonly number[] {
  interface Pool {
    sum: number;
    count: number;
  }
  const pools: Pool[] = [];
  const mean = (p: Pool): number => p.sum / p.count;
  for (const [i, x] of wanted.entries()) {
    pools.push({ sum: x - i * pitch, count: 1 });
    while (pools.length > 1 && mean(pools[pools.length - 1]!) < mean(pools[pools.length - 2]!)) {
      const last = pools.pop()!;
      const before = pools.pop()!;
      pools.push({ sum: before.sum + last.sum, count: before.count + last.count });
    }
  }
  return pools.flatMap((p) => Array.from({ length: p.count }, () => mean(p))).map((x, i) => x + i * pitch);
}
