import { type Finding, tidy } from "../finding.ts";
import type { Mark } from "../parts/marks/mark.ts";
import { fitRegion } from "../shapes/fit-arcs.ts";
import { flattenRegion } from "../shapes/flatten.ts";
import { offsetPolygons, offsetRegion } from "../shapes/offset.ts";
import type { Region } from "../shapes/region.ts";
import { runUp } from "../shop/beam.ts";
import { burnEnergy, lineSpacing } from "../shop/burn-energy.ts";
import { type BurnSetting, lineWidth } from "../shop/laser.ts";
import type { BeamMachine } from "./beam-choice.ts";
import { hairlinesOf } from "./beam-hairlines.ts";
import type { BeamArea } from "./beam-setup.ts";

/** Offset error of a burned area's border, mm: far below any spot. */
const WITHIN = 0.0005;
/** How far inside the border the spot's middle keeps, as a share of half the spot: what is just as wide as it still fits. */
const INSIDE = 0.9;
/** A dose that swings by more than this share of its mean shows as lines. Common practice, no source. */
const SHOWS = 0.1;

/** An area to be burned, in set-up coordinates. */
export interface AreaDrawing {
  readonly region: Region;
  /** Of the lines, from X. */
  readonly angleDeg: number;
  readonly ways: "one" | "two";
  readonly contour: boolean;
}

/** What an area's operation has beside what all have. */
export type AreaWay = Pick<
  BeamArea,
  "kind" | "region" | "spacing" | "angleDeg" | "ways" | "runUp" | "contour" | "hairlines"
>;

/** Where the middle of the spot goes for an area, and what is told of it. */
export function areaWay(
  mark: Mark,
  drawing: AreaDrawing,
  setting: BurnSetting,
  machine: BeamMachine,
): { readonly way: AreaWay; readonly findings: readonly Finding[] } {
  const { laser } = machine;
  const { region, angleDeg, ways, contour } = drawing;
  const half = Math.max(laser.spot.x, laser.spot.y) / 2;
  const inset = offsetRegion(region, -INSIDE * half, WITHIN);
  const spacing = lineSpacing(setting, laser, angleDeg);
  const place = { part: mark.part, feature: mark.feature, source: mark.source };
  const findings: Finding[] = [];
  // What comes back when the spot's way is grown again is what a spot can fill; a hair more, so that rounding is no loss.
  const filled = offsetPolygons(inset, INSIDE * half + 3 * WITHIN, WITHIN);
  const hair = hairlinesOf(flattenRegion(region, WITHIN), filled, half);
  // At constant power short lines burn black at their ends: there the hairs stay bare.
  const burnsHair = laser.mode === "follows speed" && hair.chains.length > 0;
  if (hair.area > 0) {
    findings.push({
      grade: "caution",
      code: "beam-detail-too-fine",
      place,
      what: `"${mark.feature}" has detail finer than the spot: it is ${burnsHair ? "burned as single lines, wider than drawn" : "left bare"}`,
      why: `the spot is ${tidy(2 * half)} mm wide; ${tidy(Math.round(hair.area * 1000) / 1000)} mm² of the drawing are narrower`,
      mend: "make the mark larger or simpler",
    });
  }
  const { evenness } = burnEnergy(setting, laser, { spacing, travelDeg: angleDeg });
  const swing = Math.max(evenness?.above ?? 0, evenness?.below ?? 0);
  if (swing > SHOWS) {
    findings.push({
      grade: "caution",
      code: "beam-lines-show",
      place,
      what: `the lines of "${mark.feature}" will show`,
      why: `${tidy(spacing)} mm apart with a spot ${tidy(Math.round(lineWidth(laser, angleDeg) * 1000) / 1000)} mm wide, the dose swings by ${Math.round(swing * 100)} % (Poisson's summation formula)`,
      mend: "set the lines at half the spot apart, unless they are meant to show",
    });
  }
  const way: AreaWay = {
    kind: "area",
    region: fitRegion(inset, WITHIN),
    spacing,
    angleDeg,
    ways,
    runUp: runUpFor(machine, setting, angleDeg),
    contour,
    ...(burnsHair ? { hairlines: hair.chains } : {}),
  };
  return { way, findings };
}

/**
 * Run-up at each end of a line, mm: v² / 2a with the acceleration that the axes reach together in its direction, and the way
 * made before a late beam answers.
 */
export function runUpFor(machine: BeamMachine, setting: BurnSetting, travelDeg: number): number {
  const speed = setting.speed / 60;
  return runUp(speed, leastAlong(machine.acceleration, travelDeg)) + speed * machine.laser.lag;
}

/** What both axes give together in a direction, as each has its share of it. */
export function leastAlong(axes: { readonly x: number; readonly y: number }, travelDeg: number): number {
  const rad = (travelDeg * Math.PI) / 180;
  const of = (limit: number, share: number): number => (share > 1e-9 ? limit / share : Number.POSITIVE_INFINITY);
  return Math.min(of(axes.x, Math.abs(Math.cos(rad))), of(axes.y, Math.abs(Math.sin(rad))));
}
