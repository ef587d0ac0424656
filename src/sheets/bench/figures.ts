import type { DrawerFit } from "../../fit/fit-plan.ts";
import type { FaceName } from "../../job/board.ts";
import type { BeamAim, BeamSetUp } from "../../plan/beam-setup.ts";
import type { SetUp } from "../../plan/setup.ts";
import type { TurningSetUp } from "../../plan/turning-setup.ts";
import { extentOfMeridian, type Meridian } from "../../shapes/meridian.ts";
import type { Box, Point } from "../../shapes/point.ts";
import { boundsOfRegion, type Loop, type Region } from "../../shapes/region.ts";
import { arc, line, pointAt, type Segment } from "../../shapes/segment.ts";
import { silhouetteOf } from "../../shapes/turned-section.ts";
import type { Lying } from "../lying.ts";
import { type DrawingMark, stroke, words } from "../template-drawing.ts";
import type { Figure, FigureMark } from "./block.ts";
import { hundredth, type LengthWords } from "./length-words.ts";

const SMALL = 2.7;
const OUTLINE = 0.45;
const CUT = 0.3;
const THIN = 0.18;
/** Grey of what is cut away, light enough for a pencil. */
const GREY = 0.86;
const MOST = 56;

/** A set-up on the router seen from above: blank, cuts with their numbers, clamps, zero, witness marks, borders' names. */
export function setUpFigure(setUp: SetUp, numbered: readonly { readonly n: number; readonly at: Point }[]): Figure {
  const cuts = [...setUp.target.cavities].sort((a, b) => b.zTo - a.zTo);
  const areas = cuts.flatMap((c): readonly FigureMark[] => {
    if (c.profile !== undefined) return c.profile.loops.map((loop) => stroke(loop, 0.6));
    const seen = within(c.section, setUp.blank);
    return [
      { kind: "area", loops: seen.loops, grey: GREY },
      ...seen.loops.map((loop) => stroke(loop, CUT)),
      ...c.keeps.flatMap((k) => k.area.loops.map((loop) => stroke(loop, THIN, [0.8, 0.5]))),
    ];
  });
  return {
    most: MOST,
    marks: [
      ...areas,
      ...blankMarks(setUp),
      ...clampMarks(setUp),
      ...borderNames(setUp),
      ...zeroMarks({ x: 0, y: 0 }, "X", "Y", perPaper(setUp.blank)),
      ...setUp.marks.flatMap((m) => witness(m.at, m.name.split(":")[0] ?? m.name, perPaper(setUp.blank))),
      ...numbered.map(({ n, at }): FigureMark => ({ kind: "ring", at, text: String(n) })),
    ],
  };
}

/** A set-up under the beam: what is burned, in grey, and the blank around it. */
export function beamFigure(setUp: BeamSetUp): Figure {
  const burned = setUp.marks.flatMap(({ aim }) => burnedMarks(aim));
  return {
    most: MOST,
    marks: [
      ...burned,
      ...blankMarks(setUp),
      ...clampMarks(setUp),
      ...borderNames(setUp),
      ...zeroMarks({ x: 0, y: 0 }, "X", "Y", perPaper(setUp.blank)),
    ],
  };
}

function burnedMarks(aim: BeamAim): readonly FigureMark[] {
  switch (aim.kind) {
    case "lines":
      return aim.chains.map((chain) => stroke(chain, 0.3));
    case "area":
      return [{ kind: "area", loops: aim.region.loops, grey: 0.3 }];
    case "through":
      return aim.outline.loops.map((loop) => stroke(loop, 0.6));
    case "dots": {
      const along = (aim.alongDeg * Math.PI) / 180;
      const [w, h] = [aim.columns * aim.pitch, aim.rows * aim.pitch];
      const at = (x: number, y: number): Point => ({
        x: aim.corner.x + x * Math.cos(along) + y * Math.sin(along),
        y: aim.corner.y + x * Math.sin(along) - y * Math.cos(along),
      });
      const corners = [at(0, 0), at(w, 0), at(w, h), at(0, h)];
      return [{ kind: "area", loops: [closed(corners)], grey: 0.7 }, stroke(closed(corners), CUT)];
    }
  }
}

/** A mounting on the lathe seen from above: the blank dashed, what is turned full, keep-outs, zero, witness marks. */
export function turningFigure(setUp: TurningSetUp): Figure {
  const { from, to } = extentOfMeridian(setUp.start);
  // Below all that is drawn, jaws and centres with it.
  const drawn = [
    ...setUp.start.segments.flatMap((s) => [s.from.y, s.to.y]),
    ...setUp.keepOuts.flatMap((k) => k.outline.map((p) => p.y)),
  ];
  const lowest = -Math.max(...drawn);
  return {
    most: 48,
    marks: [
      ...setUp.keepOuts.flatMap(({ outline }): readonly FigureMark[] => {
        const both = [outline, outline.map((p) => ({ x: p.x, y: -p.y }))].map(closed);
        return [{ kind: "area", loops: both, grey: GREY }, ...both.map((loop) => stroke(loop, THIN))];
      }),
      stroke(aboutAxis(setUp.start), THIN, [1.6, 1]),
      stroke(aboutAxis(setUp.target), OUTLINE),
      stroke([line({ x: from - 4, y: 0 }, { x: to + 4, y: 0 })], THIN, [6, 1.2, 1, 1.2]),
      ...zeroMarks({ x: 0, y: 0 }, "Z", "X", 1),
      words({ x: from, y: lowest - 6 }, "first end, headstock", SMALL, { anchor: "start" }),
      words({ x: to, y: lowest - 6 }, "second end, tailstock", SMALL, { anchor: "end" }),
      ...(setUp.marks ?? []).flatMap((m, i) => witness(m.at, letterOf(i), 1)),
    ],
  };
}

/** What a witness mark on the lathe is called: A, B, C. */
export function letterOf(i: number): string {
  return String.fromCharCode(65 + (i % 26));
}

/** Both outlines of a turned shape, and its two ends. */
function aboutAxis({ segments }: Meridian): readonly Segment[] {
  const ends = [segments[0]?.from, segments.at(-1)?.to].flatMap((p) =>
    p === undefined ? [] : [line(p, { x: p.x, y: -p.y })],
  );
  return [...segments, ...segments.map(flipped), ...ends];
}

/**
 * The openings as measured, repeated back: each mouth in its place, its real shape, the widths at mouth, middle and back, the
 * heights and the depth. Rows and columns stand apart by a gap that is not to scale.
 */
export function openingsFigure(drawers: readonly DrawerFit[], say: LengthWords): Figure {
  const { perMm, cell } = gridOf(drawers);
  const short = (mm: number): string => (say.unit === "mm" ? hundredth(mm) : say.one(mm).replace(/ \(.*$/, ""));
  return {
    most: 130,
    marks: drawers.flatMap((d): readonly FigureMark[] => {
      const at = cell(d);
      const corners = d.mouth.corners.map((p) => ({ x: p.x + at.x, y: p.y + at.y }));
      const [low, right, high, left] = corners;
      if (!low || !right || !high || !left) return [];
      const { width, height, depth } = d.opening;
      const middle = (p: Point, q: Point): Point => ({ x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 });
      const m = middle(low, high);
      const row = 3.2 * perMm;
      const lines = [
        { text: d.name, bold: true },
        { text: `mouth ${short(width.mouth.value)}`, bold: false },
        ...(width.middle || width.back
          ? [
              {
                text: [
                  width.middle ? `middle ${short(width.middle.value)}` : "",
                  width.back ? `back ${short(width.back.value)}` : "",
                ]
                  .filter((t) => t !== "")
                  .join(", "),
                bold: false,
              },
            ]
          : []),
        { text: `deep ${short(depth.value)}`, bold: false },
      ];
      const top = m.y + ((lines.length - 1) * row) / 2 - row * 0.3;
      return [
        stroke(closed(corners), OUTLINE),
        ...lines.map((l, i) => words({ x: m.x, y: top - i * row }, l.text, SMALL, { anchor: "middle", bold: l.bold })),
        words({ x: left.x - 1.2 * perMm, y: m.y }, short(height.left.value), SMALL, {
          anchor: "middle",
          turnedDeg: 90,
        }),
        words({ x: right.x + 3 * perMm, y: m.y }, short(height.right.value), SMALL, {
          anchor: "middle",
          turnedDeg: 90,
        }),
      ];
    }),
  };
}

/**
 * All fronts in their places: as sawn, dashed, and as they fit, in full, with what is planed off at each corner beside it, mm.
 */
export function frontsFigure(drawers: readonly DrawerFit[]): Figure {
  const grid = gridOf(drawers);
  return {
    most: 150,
    marks: drawers.flatMap((d) => {
      const shift = grid.cell(d);
      return frontMarks(d).map((m) => shiftedMark(m, shift));
    }),
  };
}

function frontMarks(d: DrawerFit): readonly FigureMark[] {
  const { at, blank, shape, plane } = d.front;
  const right = at.x + blank.length;
  const top = at.y + blank.width;
  const sawn = [at, { x: right, y: at.y }, { x: right, y: top }, { x: at.x, y: top }];
  const off = (edge: (typeof plane)[number]["edge"], end: "first" | "second"): string => {
    const one = plane.find((p) => p.edge === edge);
    return one === undefined ? "" : one[end].toFixed(1);
  };
  // Letters keep their size when all is made smaller: room is left by the blank's own size.
  const k = blank.length / 75;
  const say = (x: number, y: number, text: string, anchor: "start" | "middle" | "end"): DrawingMark =>
    words({ x, y }, text, SMALL, { anchor });
  return [
    { kind: "area", loops: [closed(shape)], grey: 0.93 },
    stroke(closed(sawn), THIN, [1.6, 1]),
    stroke(closed(shape), OUTLINE),
    words({ x: (at.x + right) / 2, y: (at.y + top) / 2 - k }, d.name, SMALL, { anchor: "middle", bold: true }),
    say(at.x + 2 * k, top + 1.2 * k, off("upper edge", "first"), "start"),
    say(right - 2 * k, top + 1.2 * k, off("upper edge", "second"), "end"),
    say(at.x + 2 * k, at.y - 3.4 * k, off("lower edge", "first"), "start"),
    say(right - 2 * k, at.y - 3.4 * k, off("lower edge", "second"), "end"),
    say(at.x - k, at.y + 1 * k, off("left end", "first"), "end"),
    say(at.x - k, top - 3 * k, off("left end", "second"), "end"),
    say(right + k, at.y + 1 * k, off("right end", "first"), "start"),
    say(right + k, top - 3 * k, off("right end", "second"), "start"),
  ];
}

function shiftedMark(mark: FigureMark, by: Point): FigureMark {
  const at = (p: Point): Point => ({ x: p.x + by.x, y: p.y + by.y });
  switch (mark.kind) {
    case "run":
      return { ...mark, segments: mark.segments.map((s) => shiftedSegment(s, at)) };
    case "area":
      return { ...mark, loops: mark.loops.map((loop) => loop.map((s) => shiftedSegment(s, at))) };
    case "text":
    case "ring":
      return { ...mark, at: at(mark.at) };
  }
}

function shiftedSegment(s: Segment, at: (p: Point) => Point): Segment {
  return s.kind === "line" ? line(at(s.from), at(s.to)) : arc(at(s.from), at(s.to), at(s.centre), s.ccw);
}

/** Where each opening's lower left corner is drawn: rows and columns as in the case, apart by a gap that is not to scale. */
function gridOf(drawers: readonly DrawerFit[]): { readonly perMm: number; readonly cell: (d: DrawerFit) => Point } {
  const columns = [...new Set(drawers.map((d) => d.column))].sort((a, b) => a - b);
  const rows = [...new Set(drawers.map((d) => d.row))].sort((a, b) => a - b);
  const widths = columns.map((c) => Math.max(...drawers.filter((d) => d.column === c).map((d) => spread(d).x)));
  const heights = rows.map((r) => Math.max(...drawers.filter((d) => d.row === r).map((d) => spread(d).y)));
  // Figures are made smaller as a whole, their letters are not: room is left by the width of all.
  const perMm = Math.max(1, widths.reduce((sum, w) => sum + w, 0) / 140);
  const gap = { x: 15 * perMm, y: 9 * perMm };
  return {
    perMm,
    cell: (d) => ({
      x: widths.slice(0, columns.indexOf(d.column)).reduce((sum, w) => sum + w + gap.x, 0),
      y: -heights.slice(0, rows.indexOf(d.row) + 1).reduce((sum, h) => sum + h + gap.y, 0),
    }),
  };
}

function spread(d: DrawerFit): Point {
  const xs = d.mouth.corners.map((c) => c.x);
  const ys = d.mouth.corners.map((c) => c.y);
  return { x: Math.max(...xs) - Math.min(...xs), y: Math.max(...ys) - Math.min(...ys) };
}

function closed(points: readonly Point[]): Loop {
  return points.map((p, i) => line(p, points[(i + 1) % points.length] ?? p));
}

function flipped(s: Segment): Segment {
  const over = (p: Point): Point => ({ x: p.x, y: -p.y });
  return s.kind === "line" ? line(over(s.from), over(s.to)) : arc(over(s.from), over(s.to), over(s.centre), !s.ccw);
}

/**
 * A section cut off at the blank for drawing only: grooves that run out reach far into the air. One that lies within stays as it
 * is; of another its box is drawn.
 */
function within(section: Region, blank: Box): Region {
  const b = boundsOfRegion(section);
  if (b === undefined) return section;
  const inside =
    b.min.x >= blank.min.x - 1e-6 &&
    b.min.y >= blank.min.y - 1e-6 &&
    b.max.x <= blank.max.x + 1e-6 &&
    b.max.y <= blank.max.y + 1e-6;
  if (inside) return section;
  return { loops: section.loops.map((loop) => clipped(loop, blank)).filter((loop) => loop.length > 2) };
}

/** A loop cut to a box by its four sides in turn (Sutherland and Hodgman 1974), arcs as chords. */
function clipped(loop: Loop, box: Box): Loop {
  let points: readonly Point[] = loop.flatMap((s) =>
    s.kind === "line" ? [s.from] : Array.from({ length: 12 }, (_, i) => pointAt(s, i / 12)),
  );
  const sides: readonly ((p: Point) => number)[] = [
    (p) => p.x - box.min.x,
    (p) => box.max.x - p.x,
    (p) => p.y - box.min.y,
    (p) => box.max.y - p.y,
  ];
  for (const side of sides) {
    points = points.flatMap((p, i) => {
      const q = points[(i + 1) % points.length] ?? p;
      const [a, b] = [side(p), side(q)];
      const cross =
        a >= 0 === b >= 0 ? [] : [{ x: p.x + ((q.x - p.x) * a) / (a - b), y: p.y + ((q.y - p.y) * a) / (a - b) }];
      return a >= 0 ? [p, ...cross] : cross;
    });
  }
  return closed(points);
}

function blankMarks({ blank, round }: Pick<Lying, "blank" | "round">): readonly FigureMark[] {
  if (round !== undefined) return silhouetteOf(round).loops.map((loop) => stroke(loop, OUTLINE));
  const { min, max } = blank;
  return [stroke(closed([min, { x: max.x, y: min.y }, max, { x: min.x, y: max.y }]), OUTLINE)];
}

function clampMarks({ keepOuts }: Pick<Lying, "keepOuts">): readonly FigureMark[] {
  return keepOuts.flatMap(({ box: { min, max } }): readonly FigureMark[] => [
    stroke(closed([min, { x: max.x, y: min.y }, max, { x: min.x, y: max.y }]), THIN),
    stroke([line(min, max), line({ x: min.x, y: max.y }, { x: max.x, y: min.y })], THIN),
  ]);
}

/**
 * Millimetres of the drawing to one on paper, nearly: what is to have the same size on every page is drawn that much larger.
 */
function perPaper({ min, max }: Box): number {
  return Math.max(1, (max.x - min.x) / 150, (max.y - min.y) / (MOST - 14));
}

function witness(at: Point, name: string, k: number): readonly FigureMark[] {
  const r = 2 * k;
  return [
    stroke(
      [
        line({ x: at.x - r, y: at.y }, { x: at.x + r, y: at.y }),
        line({ x: at.x, y: at.y - r }, { x: at.x, y: at.y + r }),
      ],
      0.35,
    ),
    words({ x: at.x + r * 0.7, y: at.y + r * 0.5 }, name, 3, { bold: true }),
  ];
}

function zeroMarks(at: Point, across: string, up: string, k: number): readonly FigureMark[] {
  const arrow = 9 * k;
  return [
    stroke([line(at, { x: at.x + arrow, y: at.y }), line(at, { x: at.x, y: at.y + arrow })], 0.6),
    { kind: "ring", at, text: "0" },
    words({ x: at.x + arrow + 0.8 * k, y: at.y + 0.8 * k }, across, SMALL, {}),
    words({ x: at.x - 0.8 * k, y: at.y + arrow + 0.8 * k }, up, SMALL, { anchor: "end" }),
  ];
}

const NORMALS: Readonly<Record<FaceName, readonly [number, number, number]>> = {
  face: [0, 0, 1],
  back: [0, 0, -1],
  "lower edge": [0, -1, 0],
  "upper edge": [0, 1, 0],
  "first end": [-1, 0, 0],
  "second end": [1, 0, 0],
};

/** The four borders by the shop's own names, the face edge told as such. */
function borderNames({ frame, blank, workpiece }: Pick<Lying, "frame" | "blank" | "workpiece">): readonly FigureMark[] {
  const { min, max } = blank;
  const middle = { x: (min.x + max.x) / 2, y: (min.y + max.y) / 2 };
  const [row0, row1] = frame.rotation;
  const away = 5.5 * perPaper(blank);
  return (Object.keys(NORMALS) as FaceName[]).flatMap((face): readonly FigureMark[] => {
    const n = NORMALS[face];
    const dx = Math.round(row0[0] * n[0] + row0[1] * n[1] + row0[2] * n[2]);
    const dy = Math.round(row1[0] * n[0] + row1[1] * n[1] + row1[2] * n[2]);
    if (dx === 0 && dy === 0) return [];
    const label = workpiece.labels[face] + (face === workpiece.faceEdge ? " (face edge)" : "");
    const at = {
      x: dx === 0 ? middle.x : dx > 0 ? max.x + away : min.x - away,
      y: dy === 0 ? middle.y : dy > 0 ? max.y + away : min.y - away,
    };
    return [words(at, label, SMALL, { anchor: "middle", turnedDeg: dx === 0 ? 0 : dx > 0 ? -90 : 90 })];
  });
}
