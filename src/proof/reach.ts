import { insetOf, leanOf } from "../parts/lean.ts";
import type { Slab, Target, TargetCavity } from "../parts/target.ts";
import { componentsOf, differenceOf, intersectionOf, unionOf } from "../shapes/boolean.ts";
import { flattenRegion } from "../shapes/flatten.ts";
import { offsetPolygons } from "../shapes/offset.ts";
import type { Box } from "../shapes/point.ts";
import type { Polygons } from "../shapes/polygons.ts";
import { boundsOfRegion, type Region } from "../shapes/region.ts";
import type { Shop } from "../shop/shop.ts";

/** Chord error where the accuracy itself is checked, mm: well under it. */
export const FINE = 0.0005;

/** Chord error where only the ridges of a sloped wall are checked, or how large something is, mm. */
export const COARSE = 0.002;

/**
 * A bit is taken as this much smaller when asking where it can go, mm, so that a groove exactly as wide as the bit does
 * not vanish in rounding. It sharpens a right-angled corner by 0.5 µm.
 */
const EASE = 0.0012;

/** A bit whose radius is this little above the accepted corner radius still counts, mm: the accuracy hides it. */
const CORNER_WITHIN = 0.012;

/** Width of the strip along an outline that must be clear, mm: the rest of the cut's width is nobody's concern. */
const STRIP = 0.2;

/** Beyond the reach of the widest bit, this much more may stay beside a tab, mm. */
const TAB_MARGIN = 0.5;

/**
 * The area of a cavity that must be clear at a height, as far as the best of the shop's bits reaches: never mind which
 * bit the program uses, so choosing too large a one is no excuse. Empty when no bit gets in at all. Set-up coordinates.
 *
 * Reach at a bit radius R is the area that discs of radius R inside the air of the target can cover (air of other
 * cavities and the room beside the blank included). The largest suitable bit within the corner radius that the user
 * accepts decides about corners; smaller ones decide about necks and slots that it cannot enter.
 * @param chord largest chord error, mm: `FINE` or `COARSE`
 */
export function mustBeClear(target: Target, cavity: TargetCavity, z: number, shop: Shop, chord: number): Polygons {
  const section = wanted(target, cavity, z, shop, chord);
  if (section.length === 0) return [];
  if (isRoundHole(cavity)) return section;
  const radii = suitableRadii(cavity, shop);
  const largest = radii[0];
  if (largest === undefined) return [];
  const slab = slabAt(target, z);
  if (slab === undefined) return section;
  const box = boxOf(section);
  const air = airAround(target, slab, z, grown(box, 2 * largest + 1), chord);
  return intersectionOf(reached(air, section, radii, chord), section);
}

/**
 * All of a cavity that is wanted clear at a height, reached by a bit or not: holds `mustBeClear`, and costs far less. What
 * clears this clears that.
 */
export function wanted(target: Target, cavity: TargetCavity, z: number, shop: Shop, chord: number): Polygons {
  return sectionAt(target, cavity, z, chord, besideTabs(cavity, shop));
}

/** Radii of the shop's bits that could cut the cavity, largest first; those beyond the accepted corner only if no other. */
export function suitableRadii(cavity: TargetCavity, shop: Shop): readonly number[] {
  const depth = cavity.zFrom - cavity.zTo;
  const radii = shop.cutters
    .filter((c) => c.form.kind === "flat" && c.fluteLength >= depth - 1e-6 && c.stickOut > depth)
    .map((c) => c.diameter / 2);
  const sorted = [...new Set(radii)].sort((a, b) => b - a);
  const within = sorted.filter((r) => r <= cavity.cavity.insideRadius + CORNER_WITHIN);
  return within.length > 0 ? within : sorted.slice(-1);
}

/** Holes, countersinks and drill points are wanted whole: a bit that fits them reaches all of them. */
export function isRoundHole(cavity: TargetCavity): boolean {
  return cavity.cavity.shape.kind === "hole";
}

/**
 * What discs of the largest radius cover, and the slots beyond that only smaller ones enter. Corners may stay as round
 * as the largest leaves them. A slot is told from a corner by having room for the smaller bit, and by reaching farther
 * than a corner of 54 degrees does: ρ(1/sin 27° − 1) = 1.2 ρ; nooks less deep than that count as corners.
 */
function reached(air: Polygons, section: Polygons, radii: readonly number[], chord: number): Polygons {
  const largest = radii[0]!;
  let all = opened(air, largest, chord);
  for (const radius of radii.slice(1)) {
    const corners = all.length === 0 ? [] : offsetPolygons(all, 1.2 * largest, COARSE);
    if (differenceOf(section, corners).length === 0) return all;
    // What a wider bit has cleared of a slot counts before a narrower one is asked.
    const slots = componentsOf(differenceOf(opened(air, radius, chord), all)).filter(
      (c) => offsetPolygons(c, -0.9 * radius, COARSE).length > 0 && differenceOf(c, corners).length > 0,
    );
    if (slots.length > 0) all = unionOf(all, ...slots);
  }
  return all;
}

function opened(air: Polygons, radius: number, chord: number): Polygons {
  const centres = offsetPolygons(air, -(radius - EASE), chord);
  return centres.length === 0 ? [] : offsetPolygons(centres, radius - EASE, chord);
}

/** The part of the cavity within the blank that is wanted clear at z: all of it, or the strip along an outline. */
function sectionAt(target: Target, c: TargetCavity, z: number, chord: number, besideTab: number): Polygons {
  const inset = insetOf(leanOf(c.cavity, c.zFrom), z);
  let area = c.cavity.clear === "walls" ? stripAlong(c, chord) : flattenRegion(c.section, chord);
  if (inset > 1e-9) area = offsetPolygons(area, -inset, chord);
  if (area.length === 0) return area;
  const { min, max } = target.blank;
  const box = boxOf(area);
  if (box.min.x < min.x || box.min.y < min.y || box.max.x > max.x || box.max.y > max.y) {
    area = intersectionOf(area, [rectangleRing({ min, max })]);
  }
  if (c.cavity.clear === "all") area = withoutWaste(target, area, chord);
  for (const keep of c.keeps) {
    if (z >= keep.zTop) continue;
    area = differenceOf(area, offsetPolygons(flattenRegion(keep.area, chord), besideTab, chord));
  }
  return area;
}

/** What lies outside the finished outlines is waste: a groove that runs out over it need not be clean there. */
function withoutWaste(target: Target, area: Polygons, chord: number): Polygons {
  const profiles = (side: "outside" | "inside"): readonly Polygons[] =>
    target.cavities.flatMap((w) =>
      w.cavity.shape.kind === "outline" && w.cavity.shape.side === side && w.profile !== undefined
        ? [flattenRegion(w.profile, chord)]
        : [],
    );
  const parts = profiles("outside");
  const kept = parts.length === 0 ? area : intersectionOf(area, unionOf(...parts));
  return profiles("inside").reduce((rest, opening) => (rest.length === 0 ? rest : differenceOf(rest, opening)), kept);
}

/**
 * How far beside a tab wood may stay, mm: what a round bit leaves in the corner between tab and wall is pared away with
 * the tab, so there any bit of the shop that gets to the depth will do, however wide.
 */
function besideTabs(c: TargetCavity, shop: Shop): number {
  const depth = c.zFrom - c.zTo;
  const deepEnough = shop.cutters.filter((b) => b.form.kind === "flat" && b.fluteLength >= depth - 1e-6);
  return TAB_MARGIN + Math.max(0, ...deepEnough.map((b) => b.diameter / 2));
}

function stripAlong(c: TargetCavity, chord: number): Polygons {
  const shape = c.cavity.shape;
  if (shape.kind !== "outline" || c.profile === undefined) return flattenRegion(c.section, chord);
  const profile = flattenRegion(c.profile, chord);
  switch (shape.side) {
    case "outside":
      return differenceOf(offsetPolygons(profile, STRIP, chord), profile);
    case "inside":
      return differenceOf(profile, offsetPolygons(profile, -STRIP, chord));
  }
}

/** The slab that holds height z; at a border, the upper one. */
function slabAt(target: Target, z: number): Slab | undefined {
  return target.slabs.find((s) => z >= s.zLow - 1e-9 && z < s.zHigh - 1e-9);
}

/** All that is air at height z within a window: the cavities, and the room beside the blank. */
function airAround(target: Target, slab: Slab, z: number, window: Box, chord: number): Polygons {
  const areas: Polygons[] = [];
  for (const a of slab.air) {
    const bounds = boundsOfRegion(a.section);
    if (bounds === undefined || !meets(bounds, window)) continue;
    const flat = flattenRegion(a.section, chord);
    const inset = insetOf(a, z);
    areas.push(inset > 1e-9 ? offsetPolygons(flat, -inset, chord) : flat);
  }
  const { min, max } = target.blank;
  const frame = [rectangleRing(window)];
  if (window.min.x < min.x || window.min.y < min.y || window.max.x > max.x || window.max.y > max.y) {
    areas.push(differenceOf(frame, [rectangleRing({ min, max })]));
  }
  const air = areas.length === 1 ? areas[0]! : unionOf(...areas);
  const kept: readonly Region[] = slab.kept;
  const open =
    kept.length === 0
      ? air
      : differenceOf(
          air,
          kept.flatMap((k) => flattenRegion(k, chord)),
        );
  return intersectionOf(open, frame);
}

function rectangleRing({ min, max }: Box): { x: number; y: number }[] {
  return [
    { x: min.x, y: min.y },
    { x: max.x, y: min.y },
    { x: max.x, y: max.y },
    { x: min.x, y: max.y },
  ];
}

function meets(a: Box, b: Box): boolean {
  return a.min.x <= b.max.x && b.min.x <= a.max.x && a.min.y <= b.max.y && b.min.y <= a.max.y;
}

function grown(box: Box, by: number): Box {
  return { min: { x: box.min.x - by, y: box.min.y - by }, max: { x: box.max.x + by, y: box.max.y + by } };
}

/** The box around polygons that are not empty. */
export function boxOf(polygons: Polygons): Box {
  const min = { x: Number.POSITIVE_INFINITY, y: Number.POSITIVE_INFINITY };
  const max = { x: Number.NEGATIVE_INFINITY, y: Number.NEGATIVE_INFINITY };
  for (const ring of polygons) {
    for (const p of ring) {
      min.x = Math.min(min.x, p.x);
      min.y = Math.min(min.y, p.y);
      max.x = Math.max(max.x, p.x);
      max.y = Math.max(max.y, p.y);
    }
  }
  return { min, max };
}
