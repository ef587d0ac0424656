import { type Finding, tidy } from "../finding.ts";
import type { TurningMark, TurningSetUp } from "../plan/turning-setup.ts";
import type { ReadProgram } from "../reader/read-move.ts";
import { extentOfMeridian } from "../shapes/meridian.ts";
import type { Box, Point } from "../shapes/point.ts";
import type { Segment } from "../shapes/segment.ts";
import { halfPlanePath } from "../simulate/turning-path.ts";
import { onSheet, runData, type Sheet } from "./path-data.ts";
import { minutes, wrap } from "./sheet.ts";
import { decimal, element, escapeXml, text } from "./svg.ts";
import { spread } from "./template.ts";
import { type Station, stationsOf } from "./template-stations.ts";
import { turnedWorkCautions } from "./turning-cautions.ts";

/** One step of a turning program as the sheet's table shows it. */
export interface TurningSheetStep {
  /** The number of the line the step begins at: N10. */
  readonly n: number;
  readonly title: string;
  readonly tool: string;
  readonly why: string;
  readonly rpm: number;
  readonly feed: number;
}

/** All that the sheet of one turning program shows. */
export interface TurningSheetContent {
  readonly jobTitle: string;
  readonly file: string;
  readonly setUp: TurningSetUp;
  readonly read: ReadProgram;
  readonly steps: readonly TurningSheetStep[];
  readonly findings: readonly Finding[];
  readonly seconds: number;
  readonly defaultsUsed: readonly string[];
  readonly checked: readonly string[];
  readonly notChecked: readonly string[];
}

const MARGIN = 14;
const INK = "#1d1a16";
const PATH = "#1c5d6b";
const RAPID = "#8a8f93";
const WOOD = "#f3e6c8";
/** How much of jaws and centres is drawn beyond the wood, mm. */
const BESIDE = 26;
/** Least distance between two station labels, mm. */
const PITCH = 4.4;
/** How far below the axis the labels begin, mm. */
const BELOW = 9;

/**
 * The preview of one turning program as SVG, true to scale: one user unit is a millimetre. The half above the axis, headstock
 * at the left: the blank as it turns, the finished shape, jaws and centres, the way of the tool's point as it was read back,
 * and the stations with their diameters. Same input, same bytes.
 */
export function drawTurningSheet(content: TurningSheetContent): string {
  const { setUp } = content;
  const bounds = drawnBounds(setUp);
  const width = Math.max(bounds.max.x - bounds.min.x + 2 * MARGIN, 190);
  const parts: string[] = [];
  let y = 11;
  const say = (sentence: string, size = 3.4, look: Readonly<Record<string, string>> = {}): void => {
    // The widest common sans-serif takes 0.56 of its size a character.
    for (const row of wrap(sentence, Math.floor((width - 2 * MARGIN) / (size * 0.56)))) {
      parts.push(text(MARGIN, y, row, { "font-size": size, ...look }));
      y += size * 1.38;
    }
  };
  say(`${content.jobTitle}: ${setUp.piece.name}`, 5.6, { "font-weight": "bold" });
  for (const line of subtitle(content)) say(line);
  const sheet: Sheet = { left: MARGIN - bounds.min.x, baseline: y + 4 + bounds.max.y };
  const ways = toolWays(sheet, content.read, setUp);
  const labels = stations(sheet, setUp);
  parts.push(
    ...keepOuts(sheet, setUp),
    ...wood(sheet, setUp),
    ...ways.lines,
    ...axis(sheet, bounds),
    ...ways.numbers,
    ...labels.parts,
  );
  y = sheet.baseline + labels.depth + 6;
  parts.push(...checkLine(MARGIN, y));
  y += 8;
  say(
    "full line: way of the tool's point. dashed: at full speed, clear of the wood. long dashes: the blank as it turns. crossed: keep out. ringed number: a step begins. hatched: waste. Ø diameter, and how far from the first end.",
    3,
  );
  y += 2;
  for (const line of marksAndRest(setUp)) say(line);
  for (const s of content.steps) {
    say(`N${s.n}  ${s.title} — ${s.tool}, ${s.why} — ${s.rpm} rpm, ${tidy(Math.round(s.feed))} mm/min`);
  }
  say(`Speeds: ${setUp.speedReason}.`, 3);
  y += 2;
  for (const f of content.findings) {
    say(`${f.grade}: ${f.what}${whereOf(f)}${f.mend === undefined ? "" : ` — ${f.mend}`}`, 3.4, {
      "font-weight": "bold",
    });
  }
  if (content.defaultsUsed.length > 0) {
    say(`Built-in defaults, not measured in this shop: ${content.defaultsUsed.join(", ")}.`, 3);
  }
  say(`Checked: ${content.checked.join("; ")}.`, 3);
  say(`Not checked: ${content.notChecked.join("; ")}.`, 3);
  y += 2;
  say("Cautions", 3.4, { "font-weight": "bold" });
  for (const c of turnedWorkCautions(setUp.piece.split !== undefined)) say(c, 3.2);
  const height = y + MARGIN;
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
      element("defs", {}, hatch()),
      element("rect", { x: 0, y: 0, width, height, fill: "#ffffff" }),
      ...parts,
    ),
    "\n",
  ].join("\n");
}

function subtitle(c: TurningSheetContent): readonly string[] {
  const { piece, lathe, safeRadius, tools } = c.setUp;
  const { blank } = piece;
  const across = blank.shape === "square" ? `${tidy(blank.across)} mm square` : `Ø ${tidy(blank.across)} mm`;
  const side =
    lathe.toolPost === "rear" ? "above 0, the tool behind the work" : "below 0, the tool in front of the work";
  return [
    `${c.file} — ${lathe.name} — about ${minutes(c.seconds)}`,
    `blank ${tidy(blank.length)} mm long, ${across}, ${piece.wood}; zero: Z at the tailstock end, X on the axis; X words are the ${lathe.xWords}, ${side}`,
    `${tools.map((t) => `slot ${t.slot}: ${t.name}, zero at its ${t.point}`).join("; ")}; clear beyond Ø ${tidy(2 * safeRadius)} mm`,
  ];
}

/** Where the still tool halts a gauge block before the spindle starts, and what else stands on the bed. */
export function marksAndRest(setUp: TurningSetUp): readonly string[] {
  const block = tidy(setUp.habits.gaugeBlock);
  const marks = (setUp.marks ?? []).map(
    (m) => `witness mark ${m.name}: a gauge block of ${block} mm just fits between the tip and ${againstWords(m)}`,
  );
  const { rest } = setUp.lathe;
  if (rest === undefined) return marks;
  const { fromTailstock, width, opening, reach } = rest;
  return [
    ...marks,
    `rest: its middle ${tidy(fromTailstock)} mm from the wood's tailstock end, ${tidy(width)} mm along the axis, opening Ø ${tidy(opening)} mm, standing out ${tidy(reach)} mm from the axis; the tool is kept clear of it there and nowhere else`,
  ];
}

function againstWords(m: TurningMark): string {
  const once = m.untouched ? "" : "; before anything is turned there";
  switch (m.against) {
    case "flat":
      return `a flat of the square, turned to face it${once}`;
    case "corner":
      return `a corner of the square, turned to face it${once}`;
    case "round":
      return `the round wood${once}`;
    case "end":
      return "the end face of the wood at the tailstock";
  }
}

function whereOf(f: Finding): string {
  return f.why === undefined ? "" : ` (${f.why})`;
}

function drawnBounds(setUp: TurningSetUp): Box {
  const { from, to } = extentOfMeridian(setUp.start);
  const tall = Math.max(setUp.safeRadius, ...setUp.start.segments.flatMap((s) => [s.from.y, s.to.y]));
  return { min: { x: from - BESIDE, y: 0 }, max: { x: to + BESIDE, y: tall + 3 } };
}

function hatch(): string {
  return element(
    "pattern",
    { id: "waste", width: 2.4, height: 2.4, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" },
    element("line", { x1: 0, y1: 0, x2: 0, y2: 2.4, stroke: INK, "stroke-width": 0.2 }),
  );
}

/** The blank's swept outline, the finished half section, and the waste in it. */
function wood(sheet: Sheet, setUp: TurningSetUp): string[] {
  const { piece, zShift } = setUp;
  const start = closed(sheet, setUp.start.segments);
  const target = closed(sheet, setUp.target.segments);
  const waste = piece.waste.map((w) => {
    const a = onSheet(sheet, { x: w.from + zShift, y: 0 });
    const b = onSheet(sheet, { x: w.to + zShift, y: 0 });
    return element("rect", {
      x: a.x,
      y: a.y - 400,
      width: b.x - a.x,
      height: 400,
      fill: "url(#waste)",
      "clip-path": "url(#stock)",
    });
  });
  return [
    element("defs", {}, element("clipPath", { id: "stock" }, element("path", { d: start }))),
    element("path", { d: start, fill: "#fdfaf2", stroke: INK, "stroke-width": 0.3, "stroke-dasharray": "6 2" }),
    element("path", { d: target, fill: WOOD, stroke: INK, "stroke-width": 0.6 }),
    ...waste,
  ];
}

/** An outline over the axis as a closed area. */
function closed(sheet: Sheet, segments: readonly Segment[]): string {
  const first = segments[0];
  const last = segments[segments.length - 1];
  if (first === undefined || last === undefined) return "";
  const b = onSheet(sheet, { x: last.to.x, y: 0 });
  const a = onSheet(sheet, { x: first.from.x, y: 0 });
  return `${runData(sheet, segments)}L${decimal(b.x)} ${decimal(b.y)}L${decimal(a.x)} ${decimal(a.y)}Z`;
}

/** Jaws, centres and rest, crossed, cut off beside the wood. */
function keepOuts(sheet: Sheet, setUp: TurningSetUp): string[] {
  const bounds = drawnBounds(setUp);
  return setUp.keepOuts.flatMap((k) => {
    const shown = k.outline.map((p) => ({
      x: Math.min(bounds.max.x, Math.max(bounds.min.x, p.x)),
      y: Math.min(bounds.max.y, Math.max(0, p.y)),
    }));
    if (shown.length === 0) return [];
    const xs = shown.map((p) => p.x);
    const top = Math.max(...shown.map((p) => p.y));
    const corner = (p: Point): string => {
      const q = onSheet(sheet, p);
      return `${decimal(q.x)} ${decimal(q.y)}`;
    };
    const [left, right] = [Math.min(...xs), Math.max(...xs)];
    const stroke = { stroke: INK, "stroke-width": 0.4, fill: "none" };
    // At the outer edge, so that neither wood nor tool ways run through the name.
    const outer = right > 0 ? right : left;
    const at = onSheet(sheet, { x: outer, y: top });
    return [
      element("path", {
        d: `M${shown.map(corner).join("L")}Z`,
        fill: "#d9d9d4",
        stroke: INK,
        "stroke-width": 0.4,
      }),
      element("path", {
        d: `M${corner({ x: left, y: 0 })}L${corner({ x: right, y: top })}M${corner({ x: left, y: top })}L${corner({ x: right, y: 0 })}`,
        ...stroke,
        "stroke-width": 0.25,
      }),
      text(at.x, at.y - 1.2, k.name, { "font-size": 2.8, "text-anchor": right > 0 ? "end" : "start" }),
    ];
  });
}

/** Way of the tool's programmed point from the read text, and where each step begins. */
function toolWays(
  sheet: Sheet,
  read: ReadProgram,
  setUp: TurningSetUp,
): { readonly lines: readonly string[]; readonly numbers: readonly string[] } {
  const cuts: string[] = [];
  const rapids: string[] = [];
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
    const s = halfPlanePath(e, setUp.lathe);
    if (e.rapid || s === undefined) {
      flush();
      if (s !== undefined && (s.from.x !== s.to.x || s.from.y !== s.to.y)) rapids.push(runData(sheet, [s]));
      continue;
    }
    if (step !== numbered) firsts.push({ n: step, at: s.from });
    numbered = step;
    run.push(s);
  }
  flush();
  const numbers = firsts.map((f, i) => {
    const at = onSheet(sheet, f.at);
    // Steps that begin at one place stand beside each other.
    const before = firsts.slice(0, i).filter((g) => Math.hypot(g.at.x - f.at.x, g.at.y - f.at.y) < 6).length;
    const x = at.x + 3.4 + 5.6 * before;
    return (
      element("circle", { cx: x, cy: at.y - 3.4, r: 2.5, fill: "#ffffff", stroke: INK, "stroke-width": 0.3 }) +
      text(x, at.y - 2.4, String(f.n), { "font-size": 2.6, "text-anchor": "middle" })
    );
  });
  const lines = [
    element("path", {
      d: rapids.join(""),
      fill: "none",
      stroke: RAPID,
      "stroke-width": 0.2,
      "stroke-dasharray": "1.6 1",
    }),
    element("path", { d: cuts.join(""), fill: "none", stroke: PATH, "stroke-width": 0.16 }),
  ];
  return { lines, numbers };
}

/** The axis as a chain line, zero at the tailstock end, and which end is which. */
function axis(sheet: Sheet, bounds: Box): string[] {
  const a = onSheet(sheet, { x: bounds.min.x, y: 0 });
  const b = onSheet(sheet, { x: bounds.max.x, y: 0 });
  const z = onSheet(sheet, { x: 0, y: 0 });
  return [
    element("line", {
      x1: a.x,
      y1: a.y,
      x2: b.x,
      y2: b.y,
      stroke: INK,
      "stroke-width": 0.25,
      "stroke-dasharray": "7 1.2 1.2 1.2",
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
    text(a.x, a.y + 4.4, "headstock, first end", { "font-size": 2.8 }),
    text(b.x, b.y + 4.4, "tailstock", { "font-size": 2.8, "text-anchor": "end" }),
  ];
}

/** Each station on a leader below the axis: how far from the first end, which diameter, what is there. */
function stations(sheet: Sheet, setUp: TurningSetUp): { readonly parts: readonly string[]; readonly depth: number } {
  const all = stationsOf(setUp.piece);
  const wanted = all.map((s) => onSheet(sheet, { x: s.at + setUp.zShift, y: 0 }).x);
  const places = spread(wanted, PITCH);
  const words = all.map(stationWords);
  const parts = all.flatMap((s, i) => {
    const x = wanted[i]!;
    const at = places[i]!;
    const foot = sheet.baseline + BELOW;
    const top = onSheet(sheet, { x: 0, y: Math.max(0, ...s.diameters) / 2 }).y;
    return [
      element("path", {
        d: `M${decimal(x)} ${decimal(top)}V${decimal(sheet.baseline + 2)}L${decimal(at)} ${decimal(foot - 1)}`,
        fill: "none",
        stroke: INK,
        "stroke-width": s.transition ? 0.2 : 0.12,
        "stroke-dasharray": s.transition ? undefined : "0.8 0.6",
      }),
      text(at, foot, words[i]!, {
        "font-size": 2.8,
        transform: `rotate(90 ${decimal(at)} ${decimal(foot)})`,
      }),
    ];
  });
  const longest = words.reduce((most, w) => Math.max(most, w.length), 0);
  return { parts, depth: BELOW + longest * 2.8 * 0.56 };
}

function stationWords(s: Station): string {
  const across = s.diameters.map((d) => `Ø ${tidy(Math.round(d * 100) / 100)}`).join(" / ");
  return `${tidy(Math.round(s.at * 100) / 100)}${across === "" ? "" : `  ${across}`}  ${s.what}`;
}

function checkLine(x: number, y: number): string[] {
  const stroke = { stroke: INK, "stroke-width": 0.35 };
  return [
    element("line", { x1: x, y1: y, x2: x + 100, y2: y, ...stroke }),
    element("line", { x1: x, y1: y - 2, x2: x, y2: y + 2, ...stroke }),
    element("line", { x1: x + 100, y1: y - 2, x2: x + 100, y2: y + 2, ...stroke }),
    text(x + 102, y + 1.2, "100 mm: measure it before you trust a print", { "font-size": 3 }),
  ];
}
