import type { Finding, Outcome, Source } from "../finding.ts";
import type { FaceName } from "../job/board.ts";
import type { FeatureBase } from "../job/feature-base.ts";
import type { At, Feature, PartDescription } from "../job/job.ts";
import { type DrawnSize, drawSize, sizeMark } from "./fit-card-sizes.ts";

/** What a fit card is to be made from. mm */
export interface FitCardWish {
  readonly name: string;
  readonly wood: string;
  /** Thickness of the card; best an offcut of the very sides. */
  readonly thickness: number;
  /** Width of the real runner where it goes into the groove, measured. */
  readonly runner: number;
  /** Depth of the real groove. */
  readonly depth: number;
  readonly bit: { readonly name: string; readonly diameter: number };
  /** How much wider than the runner the middle groove is. Default 0.25; common practice has 0.2 to 0.5. */
  readonly over?: number;
  /** From groove to groove. Default 0.05. */
  readonly step?: number;
  /** Number of grooves, 3 to 14. Default 9. */
  readonly grooves?: number;
  readonly heldBy?: "tape" | "vacuum";
  /** Writes each size beside its groove as well; absent: the tallies alone tell them. */
  readonly sizes?: "burned" | "cut";
  readonly source: Source;
}

/** One groove of the card. */
export interface FitCardCell {
  /** From 1, the narrowest. */
  readonly number: number;
  /** As programmed: this is what is written down as chosen. */
  readonly width: number;
  /** Width over the runner. */
  readonly over: number;
  /** What is cut beside it: strokes count five, dots one. */
  readonly tally: { readonly strokes: number; readonly dots: number };
  /** "stroke, dot, dot": the tally read outward from the groove. */
  readonly tallyInWords: string;
  /** Middle of the groove above the card's lower edge, and the end it opens to. */
  readonly at: number;
  readonly opensTo: "first end" | "second end";
}

/** A card of grooves that find the fit of the real runner and the real bit. */
export interface FitCard {
  readonly part: PartDescription;
  readonly cells: readonly FitCardCell[];
}

/** Clear wood between grooves, and around the card. */
const WALL = 8;
/** Length of the grooves: enough to feel a slide. */
const GROOVE_LENGTH = 45;
/** Depth of dots and strokes. */
const TALLY_DEPTH = 1;
const STEP = 0.05;

/**
 * A fit card: stopped grooves along the grain, from narrow to wide in even steps around the runner's width, in two columns that
 * open to the two ends, so that the runner is tried in each by sliding it in. Beside each stands its number as a tally cut with
 * the same bit, so that the card is read without its sheet: a stroke counts five, a dot one. Widths are rounded to the step.
 *
 * Refused: a bit as wide as the narrowest groove (its own width is then all it can cut), a groove as deep as the card,
 * numbers that make no card.
 */
export function fitCard(wish: FitCardWish): Outcome<FitCard> {
  const step = wish.step ?? STEP;
  const count = wish.grooves ?? 9;
  const over = wish.over ?? 0.25;
  const found = wrong(wish, step, count, over);
  if (found) return { ok: false, findings: [found] };
  const middle = Math.round((wish.runner + over) / step);
  const first = middle - Math.floor(count / 2);
  const widths = Array.from({ length: count }, (_, k) => tidied((first + k) * step));
  const narrowest = widths[0] ?? 0;
  const widest = widths[count - 1] ?? 0;
  if (narrowest <= wish.bit.diameter + 0.01) return { ok: false, findings: [bitTooWide(wish, narrowest)] };

  const dot = tidied(wish.bit.diameter * 1.5);
  const stroke = tidied(2.5 * dot);
  const gap = tidied(Math.max(3.2, dot / 2));
  const tallies = widths.map((_, k) => ({ strokes: Math.floor((k + 1) / 5), dots: (k + 1) % 5 }));
  const tallyLength = Math.max(...tallies.map((t) => t.strokes * (stroke + gap) + t.dots * (dot + gap)));
  const rows = Math.ceil(count / 2);
  const pitch = widest + WALL;
  const drawn = wish.sizes === undefined ? [] : widths.map((w) => drawSize(w.toFixed(2)));
  const sizesLength = drawn.length === 0 ? 0 : Math.max(...drawn.map((d) => d.width)) + 2 * gap;
  const length = tidied(2 * (GROOVE_LENGTH + tallyLength + sizesLength + WALL));
  const width = tidied(rows * pitch + WALL);

  const cells = widths.map((w, k): FitCardCell => {
    const tally = tallies[k] ?? { strokes: 0, dots: 0 };
    return {
      number: k + 1,
      width: w,
      over: tidied(w - wish.runner),
      tally,
      tallyInWords: [...Array(tally.strokes).fill("stroke"), ...Array(tally.dots).fill("dot")].join(", "),
      at: tidied(WALL + ((k % rows) + 0.5) * pitch - WALL / 2),
      opensTo: k < rows ? "first end" : "second end",
    };
  });
  const features = cells.flatMap((cell, k) => [
    grooveOf(cell, wish, length),
    ...tallyOf(cell, wish, length, { dot, stroke, gap }),
    ...sizeOf(cell, wish, length, GROOVE_LENGTH + tallyLength + sizesLength / 2, drawn[k]),
  ]);
  const part: PartDescription = {
    name: wish.name,
    wood: wish.wood,
    size: { length, width, thickness: wish.thickness },
    grain: "along length",
    copies: 1,
    labels: PLAIN_LABELS,
    faceSide: "face",
    faceEdge: "lower edge",
    features,
    wishes: wish.heldBy === undefined ? {} : { holding: { by: wish.heldBy } },
    source: wish.source,
  };
  return { ok: true, value: { part, cells }, findings: [] };
}

const PLAIN_LABELS: Readonly<Record<FaceName, string>> = {
  face: "face",
  back: "back",
  "lower edge": "lower edge",
  "upper edge": "upper edge",
  "first end": "first end",
  "second end": "second end",
};

function base(name: string, wish: FitCardWish): FeatureBase {
  return { name, on: "face", source: wish.source, sources: {} };
}

/** What is cut with the bit that the card is for. */
function cutBase(name: string, wish: FitCardWish): FeatureBase {
  return { ...base(name, wish), cutter: wish.bit.name };
}

function grooveOf(cell: FitCardCell, wish: FitCardWish, length: number): Feature {
  const stop = length - GROOVE_LENGTH;
  return {
    ...cutBase(`${cell.number}, ${cell.width.toFixed(2)} mm`, wish),
    kind: "groove",
    run: {
      kind: "along",
      from: { distance: cell.at, border: "lower edge", reach: "centre" },
      stops: cell.opensTo === "first end" ? { second: stop } : { first: stop },
    },
    width: cell.width,
    depth: { kind: "to", depth: wish.depth },
    ends: "round",
  };
}

/** A place on the card: so far from the end that the groove opens to, in the line of its middle. */
function placeOf(cell: FitCardCell, length: number, along: number): At {
  return [
    { distance: tidied(cell.opensTo === "first end" ? along : length - along), border: "first end", reach: "centre" },
    { distance: cell.at, border: "lower edge", reach: "centre" },
  ];
}

/** The size in figures, beyond the longest tally so that all stand in one column. */
function sizeOf(
  cell: FitCardCell,
  wish: FitCardWish,
  length: number,
  along: number,
  drawn: DrawnSize | undefined,
): readonly Feature[] {
  if (wish.sizes === undefined || drawn === undefined) return [];
  return [sizeMark(base(`${cell.number}, size`, wish), drawn, placeOf(cell, length, along), wish.sizes)];
}

/** Strokes first, then dots, outward from the groove's closed end. */
function tallyOf(
  cell: FitCardCell,
  wish: FitCardWish,
  length: number,
  mark: { readonly dot: number; readonly stroke: number; readonly gap: number },
): readonly Feature[] {
  const at = (along: number): At => placeOf(cell, length, along);
  const depth = { kind: "to", depth: TALLY_DEPTH } as const;
  const start = GROOVE_LENGTH + mark.gap;
  const strokes = Array.from(
    { length: cell.tally.strokes },
    (_, k): Feature => ({
      ...cutBase(cell.tally.strokes === 1 ? `${cell.number}, stroke` : `${cell.number}, stroke ${k + 1}`, wish),
      kind: "recess",
      shape: { kind: "slot", length: mark.stroke, width: mark.dot },
      at: at(start + k * (mark.stroke + mark.gap) + mark.stroke / 2),
      turnedDeg: 0,
      depth,
      wallLeanDeg: 0,
    }),
  );
  if (cell.tally.dots === 0) return strokes;
  const first = start + cell.tally.strokes * (mark.stroke + mark.gap) + mark.dot / 2;
  return [
    ...strokes,
    {
      ...cutBase(`${cell.number}, ${cell.tally.dots === 1 ? "dot" : "dots"}`, wish),
      kind: "hole",
      diameter: mark.dot,
      depth,
      centres: Array.from({ length: cell.tally.dots }, (_, k) => at(first + k * (mark.dot + mark.gap))),
      head: { kind: "plain" },
    },
  ];
}

function wrong(wish: FitCardWish, step: number, count: number, over: number): Finding | undefined {
  const refusal = (what: string, why: string, mend: string): Finding => ({
    grade: "refuse",
    code: "fit-card-does-not-fit",
    place: { part: wish.name, source: wish.source },
    what,
    why,
    mend,
  });
  if (!(Number.isInteger(count) && count >= 3 && count <= 14)) {
    return refusal(`a fit card of ${count} grooves`, "it holds 3 to 14, so that its tallies stay short", "ask for 9");
  }
  if (!(step >= 0.01 && step <= 0.5)) {
    return refusal(`a fit card in steps of ${step} mm`, "less cannot be felt, more finds no fit", "ask for 0.05 mm");
  }
  if (!(wish.runner > 0 && Math.abs(over) <= 2)) {
    return refusal(
      "the runner's width or what the groove is wider makes no groove",
      `${wish.runner} and ${over} mm`,
      "measure the runner",
    );
  }
  if (!(wish.depth > 0 && wish.depth < wish.thickness - TALLY_DEPTH)) {
    return refusal(
      "the grooves are as deep as the card is thick",
      `${wish.depth} mm deep in ${wish.thickness} mm`,
      "make the card from an offcut of the sides",
    );
  }
  return undefined;
}

function bitTooWide(wish: FitCardWish, narrowest: number): Finding {
  return {
    grade: "refuse",
    code: "fit-card-bit-too-wide",
    place: { part: wish.name, source: wish.source },
    what: "the bit is as wide as the card's narrowest groove",
    why: "such a bit cuts its own width and nothing narrower, so the grooves would all be alike",
    mend: "use a narrower bit, and use it for the real grooves too",
    measured: { value: wish.bit.diameter, bound: 0, unit: "mm" },
    limit: { value: narrowest, unit: "mm", from: "the narrowest groove" },
  };
}

/** To the thousandth: what a program can tell apart. */
function tidied(mm: number): number {
  return Math.round(mm * 1000) / 1000;
}
