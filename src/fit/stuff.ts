import type { Finding, Source } from "../finding.ts";
import type { CabinetDescription, CaseDescription, DrawersDescription, Given, StuffWish } from "../job/drawers.ts";
import type { Cutter } from "../shop/cutter.ts";
import type { OwnTolerances } from "../shop/fitting.ts";
import type { Shop } from "../shop/shop.ts";
import type { WoodKind } from "../shop/wood.ts";
import { closest } from "../units/closest.ts";
import { filmSaid } from "./finish.ts";
import { directionOf, type GrainDirection, type Sawn } from "./movement.ts";
import { type Year, yearOf } from "./seasons.ts";
import { changeOf } from "./seasons-change.ts";
import { type Today, type TodayKnown, todayOf } from "./seasons-today.ts";
import type { Change } from "./through-year.ts";

/** Wood of one kind and thickness, as it is today. Thickness in mm, as planed where that was measured. */
export interface Stuff {
  readonly wood: WoodKind;
  readonly thickness: number;
  readonly sawn: Sawn;
  readonly today: Today;
  readonly source: Source;
}

/** All that is reckoned with, beside the openings. */
export interface FitGround {
  readonly case: CaseDescription;
  readonly drawers: DrawersDescription;
  readonly year: Year;
  readonly caseSide: Stuff;
  readonly front: Stuff;
  readonly side: Stuff;
  readonly back: Stuff;
  readonly bottom: Stuff;
  readonly runner: Stuff;
  /** Finish on the two faces of a gap together, the case's and the drawer's, mm. */
  readonly film: number;
  /** How far this shop's own measuring may be off. */
  readonly measuring: OwnTolerances;
  /** Flat bits of the shop. */
  readonly bits: readonly Cutter[];
}

/** Looks up woods, seasons and today's moisture. No ground where something is unknown. */
export function groundOf(
  cabinet: CabinetDescription,
  drawers: DrawersDescription,
  shop: Shop,
): { readonly ground?: FitGround; readonly findings: readonly Finding[] } {
  const c = cabinet.case;
  const { seasons } = c;
  const { year, findings } = yearOf({ dry: seasons.dry.value, wet: seasons.wet.value }, (name) => ({
    source: name === "wet" ? seasons.wet.source : seasons.dry.source,
  }));
  if (year === undefined) return { findings };
  const found: Finding[] = [...findings];
  const known: TodayKnown = seasons.today;
  const measuring = shop.measuring ?? {};
  const read = (wood: Given<string>, thickness: number, sawn: "flat" | "quarter"): Stuff | undefined => {
    const kind = woodCalled(shop, wood, found);
    const { today, findings: moist } = todayOf(known, thickness, year, { source: seasons.today.source }, measuring);
    // Said once, however many woods there are.
    found.push(...moist.filter((f) => !found.some((o) => o.code === f.code)));
    if (kind === undefined || today === undefined) return undefined;
    return { wood: kind, thickness, sawn: sawn === "flat" ? "flat-sawn" : "quartersawn", today, source: wood.source };
  };
  const stuff = (w: StuffWish): Stuff | undefined => read(w.wood, thicknessOf(w), w.sawn.value);
  const caseSide = read(c.wood, c.sideThickness.value, c.sawn.value);
  const front = stuff(drawers.fronts);
  const side = stuff(drawers.sides);
  const back = stuff(drawers.backs);
  const bottom = stuff(drawers.bottoms);
  const runner = stuff(drawers.runners);
  if (!caseSide || !front || !side || !back || !bottom || !runner) return { findings: found };
  const film = filmSaid(c.finish.value).thickness + filmSaid((drawers.finish ?? c.finish).value).thickness;
  const bits = shop.cutters.filter((b) => b.form.kind === "flat");
  return {
    ground: { case: c, drawers, year, caseSide, front, side, back, bottom, runner, film, measuring, bits },
    findings: found,
  };
}

/** The thickness that counts: as planed, else as planned. */
export function thicknessOf(w: StuffWish): number {
  return (w.asPlaned ?? w.thickness).value;
}

function woodCalled(shop: Shop, wood: Given<string>, found: Finding[]): WoodKind | undefined {
  const wanted = wood.value.trim().toLowerCase();
  const kind = shop.woods.find((w) => [w.name, ...w.alsoCalled].some((n) => n.toLowerCase() === wanted));
  if (kind !== undefined) return kind;
  if (found.some((f) => f.code === "plan-wood-unknown" && f.place.source === wood.source)) return undefined;
  const near = closest(
    wanted,
    shop.woods.flatMap((w) => [w.name, ...w.alsoCalled]),
  );
  found.push({
    grade: "refuse",
    code: "plan-wood-unknown",
    place: { source: wood.source },
    what: `the shop knows no wood called "${wood.value}"`,
    why: "gaps hang on how the wood moves",
    mend:
      near === undefined
        ? `known woods: ${shop.woods.map((w) => w.name).join(", ")}; or add it to the shop file`
        : `did you mean "${near}"?`,
  });
  return undefined;
}

/** Which way a size of a part runs through its wood; grain along the part's length. */
export function directionIn(stuff: Stuff, dimension: "length" | "width" | "thickness"): GrainDirection {
  return directionOf(dimension, "along length", stuff.sawn, stuff.wood);
}

/** How a size of a part changes from today to the driest and the wettest season, mm. */
export function changeIn(stuff: Stuff, dimension: "length" | "width" | "thickness", size: number, year: Year): Change {
  return changeOf(size, stuff.wood, directionIn(stuff, dimension), stuff.today, year);
}

/** By how much a size grows at most until some season, mm, never below 0. */
export function growth(change: Change): number {
  return Math.max(0, change.dry, change.wet);
}

/** By how much a size shrinks at most until some season, mm, never below 0. */
export function shrinkage(change: Change): number {
  return Math.max(0, -change.dry, -change.wet);
}

/** How the depth of the case changes: across the grain of upright sides, not at all along it. */
export function caseDepthChange(g: FitGround, depth: number): Change {
  return changeIn(g.caseSide, g.case.sideGrain.value === "upright" ? "width" : "length", depth, g.year);
}

/** Rounded down to a step; a hair keeps an exact multiple from falling to the one below. */
export function downTo(step: number, size: number): number {
  return clean(Math.floor(size / step + 1e-6) * step);
}

/** Rounded up to a step. */
export function upTo(step: number, size: number): number {
  return clean(Math.ceil(size / step - 1e-6) * step);
}

/** Rounded to the nearest step. */
export function nearTo(step: number, size: number): number {
  return clean(Math.round(size / step) * step);
}

/** Without the dust of binary fractions, so that sizes print as they were meant. */
export function clean(size: number): number {
  return Math.round(size * 1e6) / 1e6 + 0;
}
