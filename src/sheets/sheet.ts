import { type Finding, tidy } from "../finding.ts";
import type { TargetCavity } from "../parts/target.ts";
import { isDished } from "../plan/hollow.ts";
import { HOLLOW_RIDGE } from "../plan/levels.ts";
import type { SetUp } from "../plan/setup.ts";
import type { ReadMove, ReadProgram } from "../reader/read-move.ts";
import type { Hollow } from "../shapes/hollow.ts";
import type { Point } from "../shapes/point.ts";
import { arc, line, pointAt, type Segment } from "../shapes/segment.ts";
import { type DepthInk, depthInks, inkFor } from "./ink.ts";
import {
  borders,
  checkLine,
  drawnBounds,
  grainMark,
  holdingWords,
  keepOuts,
  MARGIN,
  perRow,
  zeroCross,
} from "./lying.ts";
import { onSheet, regionData, runData, type Sheet } from "./path-data.ts";
import { roundBlank, roundLegend, roundWords } from "./round-blank.ts";
import { cutSignatures, signaturePhotos } from "./signature-photo.ts";
import { decimal, element, escapeXml, text } from "./svg.ts";

/** One step of a program as the sheet's table shows it. */
export interface SheetStep {
  /** The number of the line the step begins at: N10. */
  readonly n: number;
  readonly title: string;
  readonly cutter: string;
  readonly why: string;
  readonly rpm: number;
  readonly feed: number;
  readonly seconds: number;
}

/** All that one sheet shows: the set-up, the program as read back, and what the proof said. */
export interface SheetContent {
  readonly jobTitle: string;
  readonly file: string;
  readonly setUp: SetUp;
  readonly read: ReadProgram;
  readonly steps: readonly SheetStep[];
  readonly findings: readonly Finding[];
  readonly seconds: number;
  readonly defaultsUsed: readonly string[];
  /** The proof's two boxes. */
  readonly checked: readonly string[];
  readonly notChecked: readonly string[];
}

const ROUND = 17;
const INK = "#1d1a16";
const PATH = "#1c5d6b";
const RAPID = "#8a8f93";

/**
 * The preview of one program as SVG, true to scale: one user unit is a millimetre. Drawn from the program's text as it
 * was read back, over the part as it should become. Same input, same bytes.
 */
export function drawSheet(content: SheetContent): string {
  const { setUp } = content;
  const bounds = drawnBounds(setUp);
  const width = Math.max(bounds.max.x - bounds.min.x + 2 * (MARGIN + ROUND), 190);
  const head = heading(content, width);
  const top = head.bottom;
  const sheet: Sheet = { left: MARGIN + ROUND - bounds.min.x, baseline: top + ROUND + bounds.max.y };
  const drawingBottom = sheet.baseline - bounds.min.y + ROUND;
  const inks = depthInks(setUp.target.cavities.filter((c) => c.profile === undefined).map((c) => depthOf(c, setUp)));
  const drawn = paths(sheet, content.read, setUp);
  const below = belowDrawing(content, inks, drawingBottom + 8, width);
  const height = below.bottom + MARGIN;
  return [
    '<?xml version="1.0" encoding="UTF-8"?>\n',
    element(
      "svg",
      {
        xmlns: "http://www.w3.org/2000/svg",
        width: `${decimal(width)}mm`,
        height: `${decimal(height)}mm`,
        viewBox: `0 0 ${decimal(width)} ${decimal(height)}`,
        "font-family": "sans-serif",
        "font-size": 3.4,
        fill: INK,
      },
      element("title", {}, escapeXml(content.file)),
      definitions(inks, sheet, setUp),
      element("rect", { x: 0, y: 0, width, height, fill: "#ffffff" }),
      ...head.parts,
      ...blankAndCuts(sheet, setUp, inks),
      ...keepOuts(sheet, setUp),
      ...drawn.paths,
      ...depthLabels(sheet, setUp),
      ...drawn.numbers,
      ...borders(sheet, setUp),
      ...zeroAndMarks(sheet, setUp),
      ...below.parts,
    ),
    "\n",
  ].join("\n");
}

function heading(c: SheetContent, width: number): { readonly parts: readonly string[]; readonly bottom: number } {
  const { workpiece, face, turnOver, zero, machine } = c.setUp;
  const faceSide = face === workpiece.faceSide ? ", the face side" : "";
  const size = `${tidy(workpiece.size.length)} × ${tidy(workpiece.size.width)} × ${tidy(workpiece.size.thickness)} mm`;
  const said: readonly (readonly [string, Readonly<Record<string, string | number>>])[] = [
    [`${c.file} — up: ${workpiece.labels[face]}${faceSide} — ${machine.name} — about ${minutes(c.seconds)}`, {}],
    [`blank ${size}, ${workpiece.wood}; ${holdingWords(c.setUp)}; zero: ${zero.how}`, {}],
    ...roundWords(c.setUp).map((words) => [words, { "font-weight": "bold" }] as const),
    ...(turnOver === undefined
      ? []
      : [
          [
            `turn over ${turnOver.how}; keep the ${turnOver.edgeAtFence} at the fence`,
            { "font-weight": "bold" },
          ] as const,
        ]),
  ];
  const parts = [text(MARGIN, 11, `${c.jobTitle}: ${workpiece.name}`, { "font-size": 5.6, "font-weight": "bold" })];
  let y = 17.5;
  for (const [sentence, attributes] of said) {
    for (const row of wrap(sentence, perRow(width, 3.4))) {
      parts.push(text(MARGIN, y, row, attributes));
      y += 4.8;
    }
  }
  return { parts, bottom: y };
}

function depthOf(c: TargetCavity, setUp: SetUp): number {
  return Math.min(setUp.blank.max.z - c.zTo, setUp.blank.max.z - setUp.blank.min.z);
}

function definitions(inks: readonly DepthInk[], sheet: Sheet, setUp: SetUp): string {
  const corner = onSheet(sheet, { x: setUp.blank.min.x, y: setUp.blank.max.y });
  return element(
    "defs",
    {},
    element("clipPath", { id: "blank" }, element("rect", { ...corner, ...sizeOf(setUp) })),
    ...inks.map((ink, i) => hatching(ink, i)),
  );
}

function hatching(ink: DepthInk, i: number): string {
  const gap = ink.gap > 0 ? ink.gap : 4;
  const stroke = { stroke: INK, "stroke-width": 0.18 };
  const lines =
    ink.gap === 0
      ? []
      : [
          element("line", { x1: 0, y1: 0, x2: gap, y2: 0, ...stroke }),
          ...(ink.crossed ? [element("line", { x1: 0, y1: 0, x2: 0, y2: gap, ...stroke })] : []),
        ];
  return element(
    "pattern",
    {
      id: `depth${i}`,
      width: gap,
      height: gap,
      patternUnits: "userSpaceOnUse",
      patternTransform: `rotate(${decimal(ink.angle)})`,
    },
    element("rect", { x: 0, y: 0, width: gap, height: gap, fill: ink.tint }),
    ...lines,
  );
}

function sizeOf(setUp: SetUp): { width: number; height: number } {
  return { width: setUp.blank.max.x - setUp.blank.min.x, height: setUp.blank.max.y - setUp.blank.min.y };
}

function blankAndCuts(sheet: Sheet, setUp: SetUp, inks: readonly DepthInk[]): string[] {
  const corner = onSheet(sheet, { x: setUp.blank.min.x, y: setUp.blank.max.y });
  const round = setUp.round === undefined ? undefined : roundBlank(sheet, setUp.round);
  const cuts = [...setUp.target.cavities].sort((a, b) => b.zTo - a.zTo);
  const areas = cuts.map((c) => {
    const profile = c.profile;
    if (profile !== undefined) {
      return element("path", { d: regionData(sheet, profile), fill: "none", stroke: INK, "stroke-width": 0.7 });
    }
    return element("path", {
      d: regionData(sheet, c.section),
      fill: `url(#depth${inkFor(depthOf(c, setUp), inks)})`,
      "fill-rule": "evenodd",
      stroke: INK,
      "stroke-width": 0.3,
    });
  });
  const kept = cuts.flatMap((c) =>
    c.keeps.map((k) =>
      element("path", {
        d: regionData(sheet, k.area),
        fill: "#ffffff",
        stroke: INK,
        "stroke-width": 0.25,
        "stroke-dasharray": "0.8 0.5",
      }),
    ),
  );
  return [
    ...(round?.wood ?? [element("rect", { ...corner, ...sizeOf(setUp), fill: "#fdfaf2", stroke: "none" })]),
    element("g", { "clip-path": "url(#blank)" }, ...areas, ...kept),
    ...(round?.lines ?? [
      element("rect", { ...corner, ...sizeOf(setUp), fill: "none", stroke: INK, "stroke-width": 0.6 }),
    ]),
  ];
}

/** "3.5 deep" beside each cut, once for each feature, on a white ground so that it reads on any tint. */
function depthLabels(sheet: Sheet, setUp: SetUp): string[] {
  const said = new Set<string>();
  // The deepest full-width cut speaks for its feature: not the point that a drill leaves.
  const speaking = setUp.target.cavities
    .filter((c) => !(c.cavity.shape.kind === "hole" && c.cavity.shape.role === "drill tip"))
    .sort((a, b) => a.zTo - b.zTo);
  return speaking.flatMap((c) => {
    const key = `${c.cavity.part}/${c.cavity.feature}`;
    if (said.has(key)) return [];
    said.add(key);
    const at = onSheet(sheet, labelSpot(c, setUp));
    const depth = depthWords(c, setUp);
    const label = `${c.cavity.feature}, ${depth}`;
    const w = label.length * 1.62 + 2;
    return [
      element("rect", {
        x: at.x - w / 2,
        y: at.y - 3.1,
        width: w,
        height: 4.3,
        fill: "#ffffff",
        "fill-opacity": 0.88,
        rx: 0.8,
      }),
      text(at.x, at.y, label, { "font-size": 3, "text-anchor": "middle" }),
    ];
  });
}

/** "8 deep", "through", or what an outline leaves standing. */
function depthWords(c: TargetCavity, setUp: SetUp): string {
  if (c.keeps.length > 0) return `through, ${c.keeps.length} tabs stay`;
  if (c.cavity.through) return "through";
  const depth = Math.round(depthOf(c, setUp) * 100) / 100;
  if (c.cavity.hollow !== undefined) return hollowWords(c.cavity.hollow, depth);
  if (c.profile === undefined) return `${tidy(depth)} deep`;
  return `a skin of ${tidy(Math.round((setUp.blank.max.z - setUp.blank.min.z - depth) * 100) / 100)} stays`;
}

/** "14 deep in the middle, ridges to 0.02": what passes of a round nose leave is said where it is looked for. */
function hollowWords(hollow: Hollow, depth: number): string {
  return `${tidy(depth)} deep${isDished(hollow) ? " in the middle" : ""}, ridges to ${tidy(HOLLOW_RIDGE)}`;
}

/** Where a cut's label stands: just above or below it; on a cut from border to border, in its
 * middle; above a blank too narrow for any of these. */
function labelSpot(c: TargetCavity, setUp: SetUp): Point {
  const points = (c.profile ?? c.section).loops.flatMap((loop) => loop.flatMap((s) => [s.from, pointAt(s, 0.5)]));
  const clampX = (x: number) => Math.min(Math.max(x, setUp.blank.min.x), setUp.blank.max.x);
  const clampY = (y: number) => Math.min(Math.max(y, setUp.blank.min.y), setUp.blank.max.y);
  const xs = points.map((p) => clampX(p.x));
  const ys = points.map((p) => clampY(p.y));
  const top = Math.max(...ys);
  const { min, max } = setUp.blank;
  const below = Math.min(...ys) - 4.2;
  // Never across the blank's own outline: inside above the cut, inside below it, or outside above the blank.
  const across = (Math.min(...ys) + top) / 2;
  const outside = top - Math.min(...ys) > 16 ? across : max.y + 2.4;
  const above = top + 6 <= max.y ? top + 2.4 : below >= min.y + 2 ? below : outside;
  return { x: (Math.min(...xs) + Math.max(...xs)) / 2, y: above };
}

/** Cutter paths from the read text: feed moves drawn full, rapids dashed; entries ringed and numbered in order. */
function paths(
  sheet: Sheet,
  read: ReadProgram,
  setUp: SetUp,
): { readonly paths: readonly string[]; readonly numbers: readonly string[] } {
  const cuts: string[] = [];
  const rapids: string[] = [];
  const entries: Point[] = [];
  const firsts: { readonly n: number; readonly at: Point }[] = [];
  let run: Segment[] = [];
  let step = 0;
  let numbered = 0;
  const flush = (): void => {
    if (run.length > 0) cuts.push(runData(sheet, run));
    run = [];
  };
  for (const e of read.events) {
    if (e.kind === "line number") step = e.n;
    if (e.kind !== "move") continue;
    const s = planSegment(e);
    if (e.rapid) {
      flush();
      if (s !== undefined) rapids.push(runData(sheet, [s]));
      continue;
    }
    if (s !== undefined) run.push(s);
    const enters = (e.from.z ?? 0) >= setUp.blank.max.z - 1e-6 && (e.to.z ?? 0) < setUp.blank.max.z - 1e-6;
    if (enters && e.from.x !== undefined && e.from.y !== undefined && e.spindle.turning !== "off") {
      const at = { x: e.from.x, y: e.from.y };
      entries.push(at);
      if (step !== numbered) firsts.push({ n: step, at });
      numbered = step;
    }
  }
  flush();
  const lines = [
    element("path", {
      d: rapids.join(""),
      fill: "none",
      stroke: RAPID,
      "stroke-width": 0.2,
      "stroke-dasharray": "1.6 1",
    }),
    element("path", { d: cuts.join(""), fill: "none", stroke: PATH, "stroke-width": 0.14 }),
    ...entries.map((p) =>
      element("circle", { ...circleAt(sheet, p), r: 1.1, fill: "none", stroke: PATH, "stroke-width": 0.35 }),
    ),
  ];
  const numbers = firsts.map((f, i) => {
    const at = onSheet(sheet, f.at);
    // Steps that begin at one place stand beside each other.
    const before = firsts.slice(0, i).filter((g) => Math.hypot(g.at.x - f.at.x, g.at.y - f.at.y) < 3).length;
    const x = at.x + 3.4 + 5.6 * before;
    return (
      element("circle", { cx: x, cy: at.y - 3.4, r: 2.5, fill: "#ffffff", stroke: INK, "stroke-width": 0.3 }) +
      text(x, at.y - 2.4, String(f.n), { "font-size": 2.6, "text-anchor": "middle" })
    );
  });
  return { paths: lines, numbers };
}

function circleAt(sheet: Sheet, p: Point): { cx: number; cy: number } {
  const at = onSheet(sheet, p);
  return { cx: at.x, cy: at.y };
}

/** What a move looks like from above; undefined when it goes straight up or down or its place is unknown. */
function planSegment(m: ReadMove): Segment | undefined {
  const { from, to } = m;
  if (from.x === undefined || from.y === undefined || to.x === undefined || to.y === undefined) return undefined;
  const a = { x: from.x, y: from.y };
  const b = { x: to.x, y: to.y };
  if (m.path.kind === "arc" && m.path.plane === "XY") return arc(a, b, m.path.centre, m.path.ccw);
  return a.x === b.x && a.y === b.y ? undefined : line(a, b);
}

function zeroAndMarks(sheet: Sheet, setUp: SetUp): string[] {
  const stroke = { stroke: INK, "stroke-width": 0.5, fill: "none" };
  return [
    ...zeroCross(sheet, setUp),
    ...grainMark(sheet, setUp),
    ...setUp.marks.flatMap((m) => {
      const p = onSheet(sheet, m.at);
      return [
        element("path", {
          d: `M${decimal(p.x - 2.4)} ${decimal(p.y)}H${decimal(p.x + 2.4)}M${decimal(p.x)} ${decimal(p.y - 2.4)}V${decimal(p.y + 2.4)}M${decimal(p.x - 1)} ${decimal(p.y - 1)}h2v2h-2z`,
          ...stroke,
          "stroke-width": 0.3,
        }),
        text(p.x + 2.6, p.y - 1.6, m.name.split(":")[0] ?? m.name, { "font-size": 3, "font-weight": "bold" }),
      ];
    }),
  ];
}

interface Below {
  readonly parts: readonly string[];
  readonly bottom: number;
}

/** Legend, steps, cautions and the check line, beneath the drawing. */
function belowDrawing(c: SheetContent, inks: readonly DepthInk[], from: number, width: number): Below {
  const parts: string[] = [];
  let y = from;
  const say = (content: string, attributes: Readonly<Record<string, string | number>> = {}): void => {
    for (const row of wrap(content, perRow(width, Number(attributes["font-size"] ?? 3.4)))) {
      parts.push(text(MARGIN, y, row, attributes));
      y += 4.6;
    }
  };
  parts.push(...checkLine(MARGIN, y));
  y += 9;
  let x = MARGIN;
  for (const [i, ink] of inks.entries()) {
    parts.push(
      element("rect", { x, y: y - 4, width: 9, height: 5, fill: `url(#depth${i})`, stroke: INK, "stroke-width": 0.3 }),
    );
    const label = isOneDepth(ink, inks, i) ? `${tidy(ink.upTo)} mm deep` : `${tidy(ink.over)} to ${tidy(ink.upTo)} mm`;
    parts.push(text(x + 10.5, y, label));
    x += 40;
    if (x > width - MARGIN - 34) {
      x = MARGIN;
      y += 6.5;
    }
  }
  if (inks.length > 0) y += 6.5;
  say(
    "full line: cutter's path. dashed: above the wood. small ring: the cutter goes in. ringed number: a step begins. square cross: witness mark. boxed 0: zero.",
    { "font-size": 3 },
  );
  if (c.setUp.round !== undefined) say(roundLegend(c.setUp.round), { "font-size": 3 });
  y += 2;
  for (const m of c.setUp.marks) say(`witness mark ${m.name}`);
  for (const s of c.steps) {
    say(
      `N${s.n}  ${s.title} — ${s.cutter}, ${s.why} — ${s.rpm} rpm, ${tidy(Math.round(s.feed))} mm/min, ${minutes(s.seconds)}`,
    );
  }
  for (const f of c.setUp.notes ?? []) say(`${f.what}${f.why === undefined ? "" : ` (${f.why})`}`);
  const photos = signaturePhotos(cutSignatures(c.setUp), MARGIN, y, width - 2 * MARGIN);
  parts.push(...photos.parts);
  y = photos.bottom + 2;
  for (const f of c.findings)
    say(`${f.grade}: ${f.what}${f.mend === undefined ? "" : ` — ${f.mend}`}`, { "font-weight": "bold" });
  if (c.defaultsUsed.length > 0)
    say(`Built-in defaults, not measured in this shop: ${c.defaultsUsed.join(", ")}.`, { "font-size": 3 });
  say(`Checked: ${c.checked.join("; ")}.`, { "font-size": 3 });
  say(`Not checked: ${c.notChecked.join("; ")}.`, { "font-size": 3 });
  say(
    "Spinning bits cut hands: glasses and ear protection on, cuffs tied, stop in reach, hands off until it stands still. Your machine's manual, local rules and qualified people come before this sheet.",
    { "font-size": 3 },
  );
  return { parts, bottom: y };
}

function isOneDepth(ink: DepthInk, inks: readonly DepthInk[], i: number): boolean {
  const evenStep = inks.length === 6 && Math.abs(ink.upTo - (inks[5]!.upTo * (i + 1)) / 6) < 1e-9;
  return !evenStep;
}

/** Breaks text into rows of at most `most` characters, at spaces. */
export function wrap(content: string, most: number): string[] {
  const rows: string[] = [];
  let row = "";
  for (const word of content.split(/\s+/)) {
    if (row !== "" && row.length + 1 + word.length > most) {
      rows.push(row);
      row = word;
    } else row = row === "" ? word : `${row} ${word}`;
  }
  if (row !== "") rows.push(row);
  return rows;
}

/** Seconds as a person says them. */
export function minutes(seconds: number): string {
  if (seconds < 90) return `${Math.max(1, Math.round(seconds))} s`;
  return `${Math.round(seconds / 60)} min`;
}
