import type { Cutter } from "./cutter.ts";
import type { WoodClass, WoodKind } from "./wood.ts";

/** Feed per tooth that suits, mm. */
export interface ChipLoad {
  readonly low: number;
  readonly high: number;
  /** Found by the user in this shop: only such a number may refuse. */
  readonly measured: boolean;
  readonly source: string;
}

/** [diameter mm, lowest mm, highest mm] */
type Row = readonly [number, number, number];

const INCH = 25.4;

/** Two-flute carbide router bits, four kinds of material. Source: a cutter maker's chart, given in inches. */
const GENERAL_CHART: Readonly<Record<WoodClass, readonly Row[]>> = {
  hardwood: inches([
    [0.125, 0.002, 0.004],
    [0.25, 0.005, 0.007],
    [0.375, 0.013, 0.015],
    [0.5, 0.017, 0.019],
  ]),
  softwood: inches([
    [0.125, 0.003, 0.005],
    [0.25, 0.006, 0.008],
    [0.375, 0.015, 0.017],
    [0.5, 0.019, 0.021],
  ]),
  plywood: inches([
    [0.125, 0.003, 0.005],
    [0.25, 0.006, 0.009],
    [0.375, 0.015, 0.018],
    [0.5, 0.018, 0.021],
  ]),
  mdf: inches([
    [0.125, 0.004, 0.007],
    [0.25, 0.012, 0.015],
    [0.375, 0.017, 0.019],
    [0.5, 0.02, 0.025],
  ]),
};

/** Two-flute carbide spirals in solid wood, hard or soft. Source: a second cutter maker's chart, given in inches. */
const SOLID_WOOD_CHART: readonly Row[] = inches([
  [0.125, 0.003, 0.005],
  [0.1875, 0.004, 0.006],
  [0.21875, 0.004, 0.006],
  [0.25, 0.005, 0.007],
  [0.3125, 0.005, 0.007],
  [0.375, 0.006, 0.008],
  [0.5, 0.007, 0.009],
]);

/** V-groove bits of any diameter. Source: a cutter maker's chart for carbide-tipped V bits, given in inches. */
const V_CHART: Readonly<Record<WoodClass, number>> = {
  hardwood: 0.0024 * INCH,
  softwood: 0.0024 * INCH,
  plywood: 0.0024 * INCH,
  mdf: 0.0048 * INCH,
};

/** A drill's bite a turn, mm, lowest and highest. Common practice, no source. */
const DRILL_BITE = [0.05, 0.15] as const;

/**
 * Feed per tooth for a cutter in a wood at a depth of cut.
 *
 * The user's own finding for the wood (by its name, another name of it, or its class) is used as it is. Otherwise two
 * cutter makers' charts, the lower where they disagree; even steps between the charts' diameters, shrunk with the diameter
 * below the smallest, held above the largest. Both charts are for a depth of one diameter: × 0.75 at two, × 0.5 at three,
 * even steps between, not below a half.
 * @param depth mm taken in one pass, ≥ 0
 */
export function chipLoadFor(cutter: Cutter, wood: WoodKind, depth: number): ChipLoad {
  const own = ownChipLoad(cutter, wood);
  if (own !== undefined) return { low: own, high: own, measured: true, source: `found in this shop for ${wood.name}` };
  const form = cutter.form.kind;
  if (form === "drill") {
    const [low, high] = DRILL_BITE;
    const lips = cutter.flutes;
    return { low: low / lips, high: high / lips, measured: false, source: "common practice, no source" };
  }
  const factor = depthFactor(depth / cutter.diameter);
  const deep = factor < 1 ? `, × ${Number(factor.toFixed(3))} for depth` : "";
  if (form === "v" || form === "countersink") {
    const value = V_CHART[wood.class] * factor;
    return { low: value, high: value, measured: false, source: `a cutter maker's chart for V bits${deep}` };
  }
  const general = between(GENERAL_CHART[wood.class], cutter.diameter);
  const solid = wood.class === "hardwood" || wood.class === "softwood";
  const second = solid ? between(SOLID_WOOD_CHART, cutter.diameter) : general;
  return {
    low: Math.min(general.low, second.low) * factor,
    high: Math.min(general.high, second.high) * factor,
    measured: false,
    source: `${solid ? "two cutter makers' charts, the lower" : "a cutter maker's chart"}${deep}`,
  };
}

/** Share of the chart's chip load that holds at a depth given in diameters. Source: both cutter makers' charts. */
export function depthFactor(diametersDeep: number): number {
  return Math.min(1, Math.max(0.5, 1 - 0.25 * (diametersDeep - 1)));
}

function ownChipLoad(cutter: Cutter, wood: WoodKind): number | undefined {
  const names = [wood.name, ...wood.alsoCalled, wood.class];
  for (const name of names) {
    const found = Object.entries(cutter.chipLoads).find(([key]) => key.toLowerCase() === name.toLowerCase());
    if (found) return found[1];
  }
  return undefined;
}

function between(rows: readonly Row[], diameter: number): { low: number; high: number } {
  const first = rows[0]!;
  const last = rows[rows.length - 1]!;
  if (diameter <= first[0]) {
    const share = diameter / first[0];
    return { low: first[1] * share, high: first[2] * share };
  }
  if (diameter >= last[0]) return { low: last[1], high: last[2] };
  const k = rows.findIndex((r) => r[0] >= diameter);
  const [d0, low0, high0] = rows[k - 1]!;
  const [d1, low1, high1] = rows[k]!;
  const t = (diameter - d0) / (d1 - d0);
  return { low: low0 + t * (low1 - low0), high: high0 + t * (high1 - high0) };
}

function inches(rows: readonly Row[]): readonly Row[] {
  return rows.map(([d, low, high]) => [d * INCH, low * INCH, high * INCH]);
}
