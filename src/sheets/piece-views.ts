import { roomStretches } from "../parts/holding-kit/supports.ts";
import { halvesOf, type KnifeLine, linesToKnife } from "../parts/split.ts";
import { lossPerHalf, mouthHeight, type TurnedPiece } from "../parts/turned-piece.ts";
import { radiiAt } from "../shapes/meridian.ts";
import { afterwards, mapRegion, mapSegment, mirrorAlongX, type PlanMap, shiftBy, turnBy } from "../shapes/plan-map.ts";
import type { Point } from "../shapes/point.ts";
import { boundsOfRegion } from "../shapes/region.ts";
import { lengthOf, line, pointAt, reversed, type Segment } from "../shapes/segment.ts";
import { runData, type Sheet } from "./path-data.ts";
import { decimal, element, text } from "./svg.ts";

const INK = "#1d1a16";
const WOOD = "#fdfaf2";
const HOLLOW = "#cfa966";
const OUTLINE = { fill: "none", stroke: INK, "stroke-width": 0.5 } as const;
const HIDDEN = { fill: "none", stroke: INK, "stroke-width": 0.3, "stroke-dasharray": "1.6 0.9" } as const;
const SAW = { fill: "none", stroke: INK, "stroke-width": 0.35, "stroke-dasharray": "7 1.2 1.2 1.2" } as const;

/** A view with its caption; `drawn` is SVG, `height` what it takes on the sheet, mm. */
export interface View {
  readonly drawn: readonly string[];
  readonly height: number;
}

const ACROSS: PlanMap = afterwards(mirrorAlongX(0), turnBy(180));

/** Half the width of a piece at its widest, mm. */
export function halfWidth(piece: TurnedPiece): number {
  return Math.max(...piece.meridian.segments.flatMap((s) => [s.from.y, s.to.y]), piece.blank.across / 2);
}

/** From the front with the crown up: the silhouette, finger room hidden, and where each index position is. */
export function elevation(piece: TurnedPiece, left: number, top: number): View {
  const half = halfWidth(piece);
  const sheet: Sheet = { left, baseline: top + half + 6 };
  return {
    drawn: [
      text(left, top + 2.5, "from the front, crown up, first end at the left", { "font-size": 3 }),
      ...silhouette(piece, sheet),
      ...hiddenRooms(piece, sheet),
      ...centre(piece, sheet),
      ...angles(piece, sheet, "crown, 0°", "180°"),
    ],
    height: 2 * half + 14,
  };
}

/** Down on the crown (index 0): finger room, saw line, and the lines to knife. */
export function crownView(piece: TurnedPiece, left: number, top: number): View {
  const half = halfWidth(piece);
  const sheet: Sheet = { left, baseline: top + half + 6 };
  const room = piece.fingerRoom;
  const hollows =
    room === undefined || room.cut === "back"
      ? []
      : [0, ...(room.alsoAt ?? [])].map((dx) =>
          element("path", {
            d: mapRegion(shiftBy(dx, 0), room.section)
              .loops.map((l) => `${runData(sheet, l)}Z`)
              .join(""),
            fill: HOLLOW,
            stroke: INK,
            "stroke-width": 0.35,
          }),
        );
  const knifed = piece.split === undefined ? [] : linesToKnife(piece);
  return {
    drawn: [
      text(
        left,
        top + 2.5,
        `index 0: down on the crown${piece.split === undefined ? "" : "; heavy: lines to knife; dash and dot: the split"}`,
        { "font-size": 3 },
      ),
      ...silhouette(piece, sheet),
      ...hollows,
      ...(piece.split === undefined ? centre(piece, sheet) : splitLine(piece, sheet)),
      ...knifed.flatMap((l) => knife(l, sheet)),
      ...angles(piece, sheet, "90° (half 1)", "270° (half 2)"),
    ],
    height: 2 * half + 14,
  };
}

/** From 90°: the side of half 1 that shows on its drawer front, first end at the right. */
export function sideView(piece: TurnedPiece, left: number, top: number): View {
  const half = halfWidth(piece);
  const { length } = piece.blank;
  const seen = mirroredPiece(piece);
  const sheet: Sheet = { left, baseline: top + half + 6 };
  return {
    drawn: [
      text(left, top + 2.5, "index 90: what shows of half 1, crown up; first end at the right", { "font-size": 3 }),
      ...silhouette(seen, sheet),
      ...centre(seen, sheet),
      text(left + length + 3, sheet.baseline - 1.5, "first end", { "font-size": 2.8 }),
    ],
    height: 2 * half + 14,
  };
}

/**
 * Two halves that are a mirror pair, as they go on drawer fronts with their mouths down, seen from the room: which way
 * each one's first end points. Half size.
 */
export function pairView(piece: TurnedPiece, left: number, top: number): View {
  if (piece.split === undefined || piece.fingerRoom === undefined) return { drawn: [], height: 0 };
  const { alike, halves } = halvesOf(piece);
  if (alike) return { drawn: [], height: 0 };
  const half = halfWidth(piece);
  const sheet: Sheet = { left: 0, baseline: half };
  const drawn = halves.map((h, i) => {
    const seen = h.firstEnd.mouthDown === "left" ? piece : mirroredPiece(piece);
    const x = left + i * (piece.blank.length / 2 + 6);
    const name = `${h.name}, first end ${h.firstEnd.mouthDown}`;
    const mouths = roomStretches(piece).map((r) => {
      const middle = (r.from + r.to) / 2;
      const at = seen === piece ? middle : piece.blank.length - middle;
      const foot = { x: at, y: -(radiiAt(piece.meridian, middle)?.least ?? half) };
      const [a, b] = [
        { x: at - 3, y: foot.y - 6 },
        { x: at + 3, y: foot.y - 6 },
      ];
      return element("path", { d: `${runData(sheet, [line(foot, a), line(a, b), line(b, foot)])}Z`, fill: INK });
    });
    return [
      element(
        "g",
        { transform: `translate(${decimal(x)} ${decimal(top + 5)}) scale(0.5)` },
        ...silhouette(seen, sheet),
        ...mouths,
      ),
      text(x, top + half + 11, name, { "font-size": 2.8 }),
    ];
  });
  return {
    drawn: [
      text(left, top + 2.5, "a mirror pair: on their drawer fronts, mouths (black) down, half size", {
        "font-size": 3,
      }),
      ...drawn.flat(),
    ],
    height: half + 16,
  };
}

/** Down on the trued flat of half 1, the crown line at the upper edge: the flat's true outline, and finger room in it. */
export function flatView(piece: TurnedPiece, left: number, top: number): View {
  const room = piece.fingerRoom;
  if (room === undefined || room.cut !== "back") return { drawn: [], height: 0 };
  const half = halfWidth(piece);
  const loss = piece.split === undefined ? 0 : lossPerHalf(piece.split).most;
  const sheet: Sheet = { left, baseline: top + half + 6 };
  const upper = piece.meridian.segments.flatMap((s) => flatOutline(s, loss));
  const lower = [...upper].reverse().map((p) => ({ x: p.x, y: -p.y }));
  const outline = [...upper, ...lower];
  const d = `${runData(
    sheet,
    outline.map((p, i) => line(p, outline[(i + 1) % outline.length]!)),
  )}Z`;
  const hollows = [0, ...(room.alsoAt ?? [])].map((dx) =>
    element("path", {
      d: mapRegion(shiftBy(dx, 0), room.section)
        .loops.map((l) => `${runData(sheet, l)}Z`)
        .join(""),
      fill: HOLLOW,
      stroke: INK,
      "stroke-width": 0.35,
    }),
  );
  return {
    drawn: [
      text(left, top + 2.5, "down on the trued flat of half 1, the crown line at the top", { "font-size": 3 }),
      element("defs", {}, element("clipPath", { id: "flat" }, element("path", { d }))),
      element("path", { d, ...OUTLINE, fill: WOOD }),
      element("g", { "clip-path": "url(#flat)" }, ...hollows),
      ...centre(piece, sheet),
    ],
    height: 2 * half + 14,
  };
}

/** Where a flat, so far from the axis, leaves a turned surface: points no farther apart than drawing needs. */
function flatOutline(s: Segment, loss: number): readonly Point[] {
  const n = Math.max(1, Math.ceil(lengthOf(s) / 0.4));
  return Array.from({ length: n + 1 }, (_, i) => {
    const p = pointAt(s, i / n);
    return { x: p.x, y: Math.sqrt(Math.max(0, p.y * p.y - loss * loss)) };
  });
}

/** The same piece seen from behind: x runs the other way. For drawing alone. */
function mirroredPiece(piece: TurnedPiece): TurnedPiece {
  const { length } = piece.blank;
  const segments = [...piece.meridian.segments].reverse().map((s) => reversed(mapSegment(mirrorAlongX(length), s)));
  return {
    ...piece,
    meridian: { segments },
    squares: piece.squares.map((s) => ({ ...s, from: length - s.to, to: length - s.from })),
  };
}

/** Across the axis through the middle of the finger room: the wood, the hollow, the kerf, and what each half loses. */
export function crossSection(piece: TurnedPiece, left: number, top: number): View {
  const room = piece.fingerRoom;
  const box = room === undefined ? undefined : boundsOfRegion(room.section);
  if (room === undefined || box === undefined) return { drawn: [], height: 0 };
  const x = (box.min.x + box.max.x) / 2;
  const radius = radiiAt(piece.meridian, x)?.most ?? 0;
  const id = "across";
  const loss = piece.split === undefined ? undefined : lossPerHalf(piece.split);
  const back = room.cut === "back";
  const flat = back ? -(loss?.most ?? 0) : mouthHeight(piece.meridian, room);
  const sheet: Sheet = { left: left + radius + 4, baseline: top + 7 + (back ? flat : radius) };
  const circle = { cx: sheet.left, cy: sheet.baseline, r: radius };
  const hollow = hollowAcross(room.hollow.segments, box.min.y, box.max.y, flat, radius + 2);
  const upright = (y: number, look: Readonly<Record<string, string | number>>): string =>
    element("path", {
      d: runData(sheet, [line({ x: y, y: -radius - 3 }, { x: y, y: radius + 3 })]),
      ...look,
    });
  // A half lies flat up; the blank has its crown up.
  const level = (z: number): string =>
    element("path", { d: runData(sheet, [line({ x: -radius - 3, y: z }, { x: radius + 3, y: z })]), ...HIDDEN });
  const clip = back
    ? element("rect", { x: sheet.left - radius, y: sheet.baseline - flat, width: 2 * radius, height: radius + flat })
    : element("circle", circle);
  const wood = back
    ? element(
        "g",
        { "clip-path": `url(#${id})` },
        element("circle", { ...circle, fill: WOOD, stroke: INK, "stroke-width": 0.5 }),
      )
    : element("circle", { ...circle, fill: WOOD, stroke: INK, "stroke-width": 0.5 });
  const words = back
    ? `across a half at ${x.toFixed(1)} mm, flat up, crown side at the right`
    : `across at ${x.toFixed(1)} mm, seen from the second end: half 1 at the right`;
  return {
    drawn: [
      element(
        "defs",
        {},
        element("clipPath", { id }, clip),
        element("clipPath", { id: `${id}2` }, element("circle", circle)),
      ),
      text(left, top + 2.5, words, { "font-size": 3 }),
      wood,
      element(
        "g",
        { "clip-path": `url(#${id}2)` },
        element(
          "g",
          { "clip-path": `url(#${id})` },
          element("path", { d: `${runData(sheet, hollow)}Z`, fill: "#ffffff", stroke: INK, "stroke-width": 0.5 }),
        ),
      ),
      ...(back
        ? [level(flat)]
        : loss === undefined
          ? []
          : [upright(0, SAW), upright(loss.most, HIDDEN), upright(-loss.most, HIDDEN)]),
      ...(loss === undefined || back
        ? []
        : [
            text(
              sheet.left + radius + 6,
              sheet.baseline,
              `each half loses ${loss.least.toFixed(2)} to ${loss.most.toFixed(2)} mm`,
              { "font-size": 2.8 },
            ),
          ]),
    ],
    height: (back ? flat : radius) + radius + 13,
  };
}

/** The hollow across the axis: its chain down from both sides of the mouth, walls carried up to `above`. */
function hollowAcross(
  chain: readonly Segment[],
  y0: number,
  y1: number,
  plane: number,
  above: number,
): readonly Segment[] {
  const down = chain.map((s) => mapSegment(shiftBy(y0, plane), s));
  const mirrored = down.map((s) => mapSegment(mirrorAlongX(y0 + y1), s));
  const up = [...mirrored].reverse().map(reversed);
  const [first, last] = [down[0], up[up.length - 1]];
  const [foot, next] = [down[down.length - 1], up[0]];
  if (first === undefined || last === undefined || foot === undefined || next === undefined) return [];
  return [
    line({ x: first.from.x, y: above }, first.from),
    ...down,
    line(foot.to, next.from),
    ...up,
    line(last.to, { x: last.to.x, y: above }),
  ];
}

/** The piece as seen from any side: its meridian on both sides of the axis, and what is square. */
export function silhouette(piece: TurnedPiece, sheet: Sheet): readonly string[] {
  const upper = piece.meridian.segments;
  const first = upper[0];
  const last = upper[upper.length - 1];
  if (first === undefined || last === undefined) return [];
  const lower = [...upper].reverse().map((s) => reversed(mapSegment(ACROSS, s)));
  const turned: readonly Segment[] = [
    ...upper,
    line(last.to, { x: last.to.x, y: -last.to.y }),
    ...lower,
    line({ x: first.from.x, y: -first.from.y }, first.from),
  ];
  return [
    element("path", { d: `${runData(sheet, turned)}Z`, ...OUTLINE, fill: WOOD }),
    ...piece.squares.map((s) =>
      element("path", {
        d: `${runData(sheet, box({ x: s.from, y: -s.side / 2 }, { x: s.to, y: s.side / 2 }))}Z`,
        ...OUTLINE,
        fill: WOOD,
      }),
    ),
  ];
}

function box(min: Point, max: Point): readonly Segment[] {
  const at = [min, { x: max.x, y: min.y }, max, { x: min.x, y: max.y }];
  return at.map((p, i) => line(p, at[(i + 1) % 4]!));
}

/** Finger rooms cut along the axis, as hidden lines. */
function hiddenRooms(piece: TurnedPiece, sheet: Sheet): readonly string[] {
  const room = piece.fingerRoom;
  const limits = room === undefined ? undefined : boundsOfRegion(room.section);
  if (room === undefined || limits === undefined || room.cut === "back") return [];
  const plane = mouthHeight(piece.meridian, room);
  return [0, ...(room.alsoAt ?? [])].map((dx) => {
    const chain = hollowAcross(room.hollow.segments, limits.min.x + dx, limits.max.x + dx, plane, plane + 1);
    return element("path", { d: runData(sheet, chain), ...HIDDEN });
  });
}

function centre(piece: TurnedPiece, sheet: Sheet): readonly string[] {
  return [
    element("path", {
      d: runData(sheet, [line({ x: -5, y: 0 }, { x: piece.blank.length + 5, y: 0 })]),
      ...SAW,
      "stroke-width": 0.2,
    }),
  ];
}

function splitLine(piece: TurnedPiece, sheet: Sheet): readonly string[] {
  return [element("path", { d: runData(sheet, [line({ x: -8, y: 0 }, { x: piece.blank.length + 8, y: 0 })]), ...SAW })];
}

/** Lines along the crown and across the ends; those at 180° lie beneath. */
function knife(l: KnifeLine, sheet: Sheet): readonly string[] {
  if (l.kind !== "along" || l.angleDeg !== 0) return [];
  return [
    element("path", {
      d: runData(sheet, [line({ x: l.from, y: 0 }, { x: l.to, y: 0 })]),
      fill: "none",
      stroke: INK,
      "stroke-width": 0.7,
    }),
  ];
}

function angles(piece: TurnedPiece, sheet: Sheet, above: string, below: string): readonly string[] {
  const x = sheet.left + piece.blank.length + 3;
  const half = halfWidth(piece);
  return [
    text(x, sheet.baseline - half + 3, above, { "font-size": 2.8 }),
    text(x, sheet.baseline + half - 1, below, { "font-size": 2.8 }),
  ];
}
