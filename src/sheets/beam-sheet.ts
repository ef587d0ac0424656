import { type Finding, tidy } from "../finding.ts";
import { beamCautions } from "../plan/beam-cautions.ts";
import type { BeamSetUp, PlacedMark } from "../plan/beam-setup.ts";
import { moveSegment } from "../reader/motion.ts";
import type { ReadProgram } from "../reader/read-move.ts";
import { type Box, distance, type Point } from "../shapes/point.ts";
import { boundsOfRegion } from "../shapes/region.ts";
import { boundsOf, type Segment, tangentAt } from "../shapes/segment.ts";
import { lineWidth } from "../shop/laser.ts";
import { beamRun } from "../simulate/beam.ts";
import { headDrawing } from "./beam-head.ts";
import { drawLabels } from "./beam-labels.ts";
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
import { roundBlank, roundLegend } from "./round-blank.ts";
import { minutes, wrap } from "./sheet.ts";
import { burnedSignatures, signaturePhotos } from "./signature-photo.ts";
import { decimal, element, escapeXml, text } from "./svg.ts";
import { aroundScale, flatSetUp, turnedLegend, upAxis } from "./unrolled.ts";

/** One step of a beam program as the sheet's table shows it. Power is a share of full; energies are with the rated power. */
export interface BeamSheetStep {
  /** The number of the line the step begins at: N10. */
  readonly n: number;
  readonly title: string;
  /** The shop's own word for the setting. */
  readonly effect: string;
  readonly power: number;
  readonly feed: number;
  readonly passes: number;
  readonly joulesPerMm: number;
  /** null for lines. */
  readonly joulesPerMm2: number | null;
  /** How far the dose of an area swings, as a share; null for lines. */
  readonly evenness: number | null;
  readonly seconds: number;
}

/** All that the sheet of one beam program shows. */
export interface BeamSheetContent {
  readonly jobTitle: string;
  readonly file: string;
  readonly setUp: BeamSetUp;
  readonly read: ReadProgram;
  readonly steps: readonly BeamSheetStep[];
  readonly findings: readonly Finding[];
  readonly seconds: number;
  readonly defaultsUsed: readonly string[];
  /** The proof's two boxes. */
  readonly checked: readonly string[];
  readonly notChecked: readonly string[];
  /** What the proof measured, by name; absent: not printed. */
  readonly figures?: Readonly<
    Record<string, { readonly value: number; readonly bound: number; readonly unit: string }>
  >;
}

const ROUND = 17;
const INK = "#1d1a16";
const RUN_UP = "#1c5d6b";
const TRAVEL = "#8a8f93";
const CHAR = "#3a2412";
const SOOT = "#000000";

/**
 * The preview of one beam program as SVG, true to scale: one user unit is a millimetre. Every burn is drawn where the beam will
 * be on, its lag counted, and as wide as the spot makes it. Same input, same bytes.
 */
export function drawBeamSheet(content: BeamSheetContent): string {
  const setUp = flatSetUp(content.setUp);
  const bounds = spread(drawnBounds(setUp), content.read);
  const width = Math.max(bounds.max.x - bounds.min.x + 2 * (MARGIN + ROUND), 190);
  const parts: string[] = [];
  let y = 11;
  const say = (sentence: string, size = 3.4, look: Readonly<Record<string, string>> = {}): void => {
    for (const row of wrap(sentence, perRow(width, size))) {
      parts.push(text(MARGIN, y, row, { "font-size": size, ...look }));
      y += size * 1.38;
    }
  };
  say(`${content.jobTitle}: ${setUp.workpiece.name}, laser`, 5.6, { "font-weight": "bold" });
  for (const line of subtitle(content)) say(line);
  for (const line of eyewear(setUp)) say(line, 3.8, { "font-weight": "bold" });
  const sheet: Sheet = { left: MARGIN + ROUND - bounds.min.x, baseline: y + ROUND + bounds.max.y };
  const corner = onSheet(sheet, { x: setUp.blank.min.x, y: setUp.blank.max.y });
  const size = { width: setUp.blank.max.x - setUp.blank.min.x, height: setUp.blank.max.y - setUp.blank.min.y };
  const round = setUp.round === undefined ? undefined : roundBlank(sheet, setUp.round);
  parts.push(
    ...(round?.wood ?? [element("rect", { ...corner, ...size, fill: "#fdfaf2", stroke: "none" })]),
    ...(round?.lines ?? [element("rect", { ...corner, ...size, fill: "none", stroke: INK, "stroke-width": 0.6 })]),
    ...keepOuts(sheet, setUp),
    ...ways(sheet, content.read, setUp),
    ...burned(sheet, content.read, setUp),
    ...drawLabels(sheet, setUp),
    ...(setUp.turning === undefined ? borders(sheet, setUp) : []),
    ...zeroCross(sheet, setUp, upAxis(setUp)),
    ...aroundScale(sheet, setUp),
    ...grainMark(sheet, setUp),
  );
  y = sheet.baseline - bounds.min.y + ROUND + 8;
  parts.push(...checkLine(MARGIN, y));
  y += 8;
  say(
    "dark: burned, as wide as the spot. thin line: run-up, beam off, at burning speed. dashed: on the way, beam off. light outline: the drawing. boxed 0: zero of the beam.",
    3,
  );
  if (setUp.round !== undefined) say(roundLegend(setUp.round), 3);
  if (setUp.turning !== undefined) say(turnedLegend(setUp.turning), 3);
  y += 2;
  for (const s of content.steps) say(stepWords(s));
  for (const line of figureWords(content)) say(line, 3);
  const photos = signaturePhotos(burnedSignatures(setUp.marks), MARGIN, y, width - 2 * MARGIN);
  parts.push(...photos.parts);
  y = photos.bottom;
  const head = headDrawing(setUp, MARGIN, y + 2);
  parts.push(...head.parts);
  y = head.bottom + 6;
  for (const f of content.findings) {
    say(
      `${f.grade}: ${f.what}${f.why === undefined ? "" : ` (${f.why})`}${f.mend === undefined ? "" : ` — ${f.mend}`}`,
      3.4,
      {
        "font-weight": "bold",
      },
    );
  }
  if (content.defaultsUsed.length > 0) {
    say(`Built-in defaults, not measured in this shop: ${content.defaultsUsed.join(", ")}.`, 3);
  }
  say(`Checked: ${content.checked.join("; ")}.`, 3);
  say(`Not checked: ${content.notChecked.join("; ")}.`, 3);
  y += 2;
  say("Cautions", 3.4, { "font-weight": "bold" });
  for (const c of beamCautions(setUp)) say(c, 3.2);
  say("Your machine's manual, local rules and qualified people come before this sheet. Rehearse in scrap.", 3.2);
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
      element("rect", { x: 0, y: 0, width, height, fill: "#ffffff" }),
      ...parts,
    ),
    "\n",
  ].join("\n");
}

function subtitle(c: BeamSheetContent): readonly string[] {
  const { workpiece, face, machine, zero, turnOver, index, round } = c.setUp;
  const { length, width, thickness } = workpiece.size;
  const faceSide = face === workpiece.faceSide ? ", the face side" : "";
  return [
    `${c.file} — up: ${workpiece.labels[face]}${faceSide} — ${machine.name} — about ${minutes(c.seconds)}`,
    `blank ${tidy(length)} × ${tidy(width)} × ${tidy(thickness)} mm, ${workpiece.wood}; ${holdingWords(c.setUp)}; zero: ${zero.how}`,
    ...(index === undefined
      ? []
      : [round?.flatTop === undefined ? `index ${index}°: "${workpiece.labels[face]}" up` : "the trued flat up"]),
    ...(turnOver === undefined ? [] : [`turn over ${turnOver.how}; keep the ${turnOver.edgeAtFence} at the fence`]),
  ];
}

function eyewear({ laser }: BeamSetUp): readonly string[] {
  const nm = tidy(laser.wavelength);
  return [
    `LASER ${nm} nm, ${tidy(laser.ratedPower)} W. Eyewear for ${nm} nm on everyone in the room. Never leave it alone.`,
  ];
}

/** The blank's bounds with all that the spot moves over beside it. */
function spread(bounds: Box, read: ReadProgram): Box {
  let { min, max } = bounds;
  for (const e of read.events) {
    if (e.kind !== "move" || e.rapid) continue;
    const s = moveSegment(e);
    if (s === undefined) continue;
    const b = boundsOf(s);
    min = { x: Math.min(min.x, b.min.x), y: Math.min(min.y, b.min.y) };
    max = { x: Math.max(max.x, b.max.x), y: Math.max(max.y, b.max.y) };
  }
  return { min, max };
}

/** Where the spot goes with the beam off: run-ups at burning speed, and the ways between. */
function ways(sheet: Sheet, read: ReadProgram, setUp: BeamSetUp): string[] {
  const runUps: string[] = [];
  const travels: string[] = [];
  const speeds = new Set(setUp.marks.map((m) => Math.round(m.setting.speed)));
  for (const e of read.events) {
    if (e.kind !== "move" || e.beam?.on === true) continue;
    const s = moveSegment(e);
    if (s === undefined || distance(s.from, s.to) < 1e-9) continue;
    if (!e.rapid && speeds.has(Math.round(e.feed))) runUps.push(runData(sheet, [s]));
    else travels.push(runData(sheet, [s]));
  }
  const thin = { fill: "none", "stroke-width": 0.12 };
  return [
    element("path", { d: travels.join(""), ...thin, stroke: TRAVEL, "stroke-dasharray": "1.6 1" }),
    element("path", { d: runUps.join(""), ...thin, "stroke-width": 0.07, stroke: RUN_UP }),
  ];
}

/** The burns, each as wide as the spot makes it in its direction; what is cut through in black. */
function burned(sheet: Sheet, read: ReadProgram, setUp: BeamSetUp): string[] {
  const { laser, machine } = setUp;
  const byWidth = new Map<string, Segment[][]>();
  let last: { key: string; to: Point } | undefined;
  for (const { curve } of beamRun(read.events, laser, machine).burns) {
    const t = tangentAt(curve, 0.5);
    const width = lineWidth(laser, (Math.atan2(t.y, t.x) * 180) / Math.PI);
    const through = setUp.marks.some((m) => m.mark.made.by === "burned through" && nearBox(m, curve));
    const key = `${through ? SOOT : CHAR} ${decimal(width)}`;
    const runs = byWidth.get(key) ?? [];
    byWidth.set(key, runs);
    const goesOn = last?.key === key && distance(last.to, curve.from) < 1e-9;
    if (goesOn) runs[runs.length - 1]!.push(curve);
    else runs.push([curve]);
    last = { key, to: curve.to };
  }
  const drawn = [...byWidth].map(([key, runs]) => {
    const [stroke, width] = key.split(" ");
    return element("path", {
      d: runs.map((run) => runData(sheet, run)).join(""),
      fill: "none",
      stroke,
      "stroke-width": width,
      "stroke-linecap": "round",
      "stroke-linejoin": "round",
    });
  });
  const outlines = setUp.marks.flatMap(({ aim }) => {
    if (aim.kind !== "area" && aim.kind !== "through") return [];
    const region = aim.kind === "area" ? aim.region : aim.outline;
    return [element("path", { d: regionData(sheet, region), fill: "none", stroke: TRAVEL, "stroke-width": 0.05 })];
  });
  return [...drawn, ...outlines];
}

function nearBox(m: PlacedMark, curve: Segment): boolean {
  const box = boxOf(m);
  const p = curve.from;
  return box !== undefined && p.x > box.min.x - 2 && p.x < box.max.x + 2 && p.y > box.min.y - 2 && p.y < box.max.y + 2;
}

function boxOf({ aim }: PlacedMark): Box | undefined {
  switch (aim.kind) {
    case "area":
      return boundsOfRegion(aim.region);
    case "through":
      return boundsOfRegion(aim.outline);
    case "lines":
      return around(aim.chains.flat().flatMap((s) => [boundsOf(s).min, boundsOf(s).max]));
    case "dots": {
      const rad = (aim.alongDeg * Math.PI) / 180;
      const corners = [0, aim.columns * aim.pitch].flatMap((u) =>
        [0, aim.rows * aim.pitch].map((v) => ({
          x: aim.corner.x + u * Math.cos(rad) + v * Math.sin(rad),
          y: aim.corner.y + u * Math.sin(rad) - v * Math.cos(rad),
        })),
      );
      return around(corners);
    }
  }
}

function around(points: readonly Point[]): Box | undefined {
  const [first, ...rest] = points;
  if (first === undefined) return undefined;
  return rest.reduce<Box>(
    (b, p) => ({
      min: { x: Math.min(b.min.x, p.x), y: Math.min(b.min.y, p.y) },
      max: { x: Math.max(b.max.x, p.x), y: Math.max(b.max.y, p.y) },
    }),
    { min: first, max: first },
  );
}

function stepWords(s: BeamSheetStep): string {
  const passes = s.passes === 1 ? "1 pass" : `${s.passes} passes`;
  const area =
    s.joulesPerMm2 === null
      ? ""
      : `, ${tidy(round(s.joulesPerMm2))} J/mm²${s.evenness === null ? "" : `, even to ± ${tidy(round(100 * s.evenness, 10))} %`}`;
  return `N${s.n}  ${s.title} — "${s.effect}": ${tidy(round(100 * s.power, 10))} % of full power, ${tidy(Math.round(s.feed))} mm/min, ${passes}; at most ${tidy(round(s.joulesPerMm))} J/mm${area} — ${minutes(s.seconds)}`;
}

/** Measured numbers that a person can use, in the order of the marks. */
function figureWords({ figures, setUp }: BeamSheetContent): readonly string[] {
  if (figures === undefined) return [];
  const said = (name: string, words: string): string[] => {
    const f = figures[name];
    if (f === undefined) return [];
    const bound = f.bound > 0 ? ` ± ${tidy(round(f.bound))}` : "";
    return [`${words} ${tidy(round(f.value))}${bound} ${f.unit}`];
  };
  const marks = [...new Set(setUp.marks.map((m) => m.mark.feature))].flatMap((feature) => {
    const own = [
      ...said(`off the line "${feature}"`, "line off its place at most"),
      ...said(`burned over: area "${feature}"`, "burned over"),
      ...said(`left bare: area "${feature}"`, "left bare"),
      ...said(`dots: picture "${feature}"`, "burned"),
      ...said(`dots off their places: picture "${feature}"`, "dots off their places at most"),
      ...said(`off the kept side: cut-through "${feature}"`, "cut off the kept side at most"),
    ];
    return own.length === 0 ? [] : [`Measured, ${feature}: ${own.join("; ")}.`];
  });
  const all = [
    ...said("burned outside the marks", "burned outside the marks"),
    ...said("hottest against even", "hottest place"),
    ...said("off focus", "off focus at most"),
    ...said("least clearance of head and nut", "head and nut clear all by"),
  ];
  return [
    ...marks,
    ...(all.length === 0
      ? []
      : [`Measured: ${all.join("; ")}. Doses compare places; they don't tell how dark it becomes.`]),
  ];
}

function round(value: number, per = 1000): number {
  return Math.round(value * per) / per;
}
