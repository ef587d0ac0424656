import type { Sourced, WoodKind } from "../shop/wood.ts";
import { FIBRE_SATURATION } from "./moisture.ts";

/** Which way a size runs through the wood. `across`: across the grain, rings not said; then the larger coefficient counts. */
export type GrainDirection = "along" | "radial" | "tangential" | "across" | "in sheet" | "through sheet";

/** How a board was sawn from the log. `unsaid` counts the larger coefficient both ways. */
export type Sawn = "flat-sawn" | "quartersawn" | "unsaid";

/** Moisture range of the published coefficients, %. Title of Table 13-5 of the Wood Handbook FPL-GTR-190. */
export const COEFFICIENT_RANGE = { least: 6, most: 14 } as const;

/** Which of the handbook's two formulas a growth rests on. */
export type MovementForm = "6 to 14 %" | "outside 6 to 14 %";

/** What a wood moves by in one direction. */
export interface Coefficient {
  /** Change per size and per 1 % moisture, the larger where tables disagree. */
  readonly used: Sourced;
  /** What other tables have. */
  readonly elsewhere: readonly Sourced[];
  /** Shrinkage from green to oven-dry that goes with it, %: the larger of the published one and S = 3000 C / (1 + 20 C). */
  readonly shrinkage: Sourced;
  /** True when the shop knows no number for this wood and another wood's stands in. */
  readonly assumed: boolean;
  /** True when the number is remembered or assumed, so that it may caution but never refuse. */
  readonly unsure: boolean;
}

/** The change of one size between two moistures. */
export interface Growth {
  /** mm, signed: wood that takes up moisture grows. */
  readonly change: number;
  /** The size afterwards over the size before. */
  readonly factor: number;
  readonly form: MovementForm;
  /** Absent along the grain, where nothing is counted. */
  readonly coefficient?: Coefficient;
}

/**
 * The direction of a board's length, width or thickness.
 * A flat-sawn board's rings lie flat in its width, so its width moves tangentially and its thickness radially; quartersawn the
 * other way about. Sheets have their own two.
 */
export function directionOf(
  dimension: "length" | "width" | "thickness",
  grain: "along length" | "along width" | "none",
  sawn: Sawn,
  wood: WoodKind,
): GrainDirection {
  if (wood.class === "plywood" || wood.class === "mdf") return dimension === "thickness" ? "through sheet" : "in sheet";
  if (dimension === "thickness")
    return across(sawn === "unsaid" ? undefined : sawn === "flat-sawn" ? "radial" : "tangential");
  // Wood without a grain said: either direction may be the one that moves.
  if (grain !== "none" && (grain === "along length") === (dimension === "length")) return "along";
  return across(sawn === "unsaid" ? undefined : sawn === "flat-sawn" ? "tangential" : "radial");
}

function across(known: "radial" | "tangential" | undefined): GrainDirection {
  return known ?? "across";
}

/**
 * What a wood moves by in a direction; nothing along the grain. A wood without numbers moves by those of American beech, the
 * largest of the built-in woods (a sheet: of mdf), and says so.
 */
export function coefficientOf(wood: WoodKind, direction: GrainDirection): Coefficient | undefined {
  switch (direction) {
    case "along":
      return undefined;
    case "radial":
      return (
        coefficient(wood.radialPerPercent, wood.radialElsewhere, wood.radialShrinkage) ??
        standIn(wood, 0.0019, "American beech across the rings, Wood Handbook Table 13-5")
      );
    case "tangential":
      return (
        coefficient(wood.tangentialPerPercent, wood.tangentialElsewhere, wood.tangentialShrinkage) ??
        standIn(wood, 0.00431, "American beech along the rings, Wood Handbook Table 13-5")
      );
    case "across":
      return larger(coefficientOf(wood, "radial"), coefficientOf(wood, "tangential"));
    case "in sheet":
      return (
        larger(
          coefficient(wood.radialPerPercent, wood.radialElsewhere, undefined),
          coefficient(wood.tangentialPerPercent, wood.tangentialElsewhere, undefined),
        ) ?? standIn(wood, 0.0003, "mdf in the plane of the sheet, from memory")
      );
    case "through sheet":
      return (
        coefficient(wood.throughSheetPerPercent, undefined, undefined) ??
        standIn(wood, 0.005, "mdf through the sheet, from memory")
      );
  }
}

/**
 * How a size changes from one moisture to another. Along the grain nothing.
 *
 * From 6 to 14 %: ΔD = D · C · (M₂ − M₁), Wood Handbook FPL-GTR-190, eq. 13-2. When either moisture lies outside:
 * ΔD = D · (M₂ − M₁) / (3000 / S − 30 + M₁), the same chapter's eq. 13-3 (its form from memory; the two agree at
 * M₁ = 10 %, where C = S / (3000 − 20 S), which the tables' rows confirm).
 *
 * @param dimension mm, at the first moisture
 * @param from, to moisture in %, 0 to 30: above that wood does not swell, and RangeError says it is our bug to ask
 */
export function growthOf(
  dimension: number,
  wood: WoodKind,
  direction: GrainDirection,
  from: number,
  to: number,
): Growth {
  const form = movementForm(from, to);
  const found = coefficientOf(wood, direction);
  if (!found) return { change: 0, factor: 1, form };
  const share = form === "6 to 14 %" ? found.used.value * (to - from) : (to - from) / (lever(found) + from);
  return { change: dimension * share, factor: 1 + share, form, coefficient: found };
}

/** By how much the share of growth changes per 1 % of the first moisture, at that moisture: the exact derivative, never positive. */
export function growthPerPercentNow(wood: WoodKind, direction: GrainDirection, from: number, to: number): number {
  const found = coefficientOf(wood, direction);
  if (!found) return 0;
  if (movementForm(from, to) === "6 to 14 %") return -found.used.value;
  const k = lever(found);
  return -(k + to) / (k + from) ** 2;
}

/** Which formula holds between two moistures. */
export function movementForm(from: number, to: number): MovementForm {
  for (const m of [from, to]) {
    if (!(m >= 0 && m <= FIBRE_SATURATION)) throw new RangeError("a wood's moisture lies from 0 to 30 %");
  }
  const { least, most } = COEFFICIENT_RANGE;
  const within = Math.min(from, to) >= least && Math.max(from, to) <= most;
  return within ? "6 to 14 %" : "outside 6 to 14 %";
}

/** One sentence on where a coefficient comes from, with every number that was found: for the page. */
export function coefficientInWords(c: Coefficient): string {
  const others = c.elsewhere.map((o) => `; ${o.value} (${o.source})`).join("");
  return `${c.used.value} per 1 % moisture (${c.used.source})${others}`;
}

/** 3000 / S − 30. */
function lever(c: Coefficient): number {
  return 3000 / c.shrinkage.value - 30;
}

function coefficient(
  used: Sourced | undefined,
  elsewhere: Sourced | undefined,
  shrinkage: Sourced | undefined,
): Coefficient | undefined {
  if (!used) return undefined;
  // The shrinkage that gives this coefficient: where tables disagree it is the larger too.
  const implied = (3000 * used.value) / (1 + 20 * used.value);
  const published = shrinkage !== undefined && shrinkage.value >= implied;
  return {
    used,
    elsewhere: elsewhere ? [elsewhere] : [],
    shrinkage: published ? shrinkage : { value: implied, source: `S = 3000 C / (1 + 20 C), ${used.source}` },
    assumed: false,
    unsure: /memory|remembered/.test(used.source),
  };
}

function standIn(wood: WoodKind, value: number, of: string): Coefficient {
  const made = coefficient({ value, source: `no number for ${wood.name}; ${of}, stands in` }, undefined, undefined);
  if (!made) throw new Error("a coefficient was expected");
  return { ...made, assumed: true, unsure: true };
}

function larger(a: Coefficient | undefined, b: Coefficient | undefined): Coefficient | undefined {
  return !b || (a && a.used.value > b.used.value) ? a : b;
}
