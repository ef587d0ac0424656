import type { MarkContent } from "../../job/mark.ts";
import { boxOf } from "../../job/mark-content.ts";
import { boxGap, distanceBetween } from "../../shapes/nearest.ts";
import { polygon } from "../../shapes/outlines.ts";
import { mapPoint, mapRegion, mapSegment, type PlanMap, turnBy } from "../../shapes/plan-map.ts";
import type { Box, Point } from "../../shapes/point.ts";
import { containsPoint, type Region, regionSegments } from "../../shapes/region.ts";
import { boundsOf, pointAt, type Segment } from "../../shapes/segment.ts";
import type { Ink } from "./mark.ts";

/** What a mark draws, about its own middle. */
export function inkOf(content: MarkContent): Ink {
  switch (content.kind) {
    case "lines":
      return { kind: "lines", chains: content.chains };
    case "area":
      return { kind: "area", region: content.region };
    case "lines and areas":
      return { kind: "lines and area", chains: content.chains, region: content.region };
    case "picture":
      return {
        kind: "picture",
        grey: content.grey,
        corner: { x: -content.width / 2, y: -content.height / 2 },
        width: content.width,
        height: content.height,
        turnedDeg: 0,
      };
  }
}

/** Ink carried through a map that turns and shifts; arcs stay arcs. */
export function mapInk(map: PlanMap, ink: Ink): Ink {
  switch (ink.kind) {
    case "lines":
      return { ...ink, chains: mapChains(map, ink.chains) };
    case "area":
      return { ...ink, region: mapRegion(map, ink.region) };
    case "lines and area":
      return { ...ink, chains: mapChains(map, ink.chains), region: mapRegion(map, ink.region) };
    case "picture": {
      const turn = (Math.atan2(map.yx, map.xx) * 180) / Math.PI;
      return { ...ink, corner: mapPoint(map, ink.corner), turnedDeg: tidyDeg(ink.turnedDeg + turn) };
    }
  }
}

function mapChains(map: PlanMap, chains: readonly (readonly Segment[])[]): readonly (readonly Segment[])[] {
  return chains.map((c) => c.map((s) => mapSegment(map, s)));
}

/** An angle in (−180, 180], without the last digits of a quarter turn. */
function tidyDeg(deg: number): number {
  const within = deg - 360 * Math.ceil((deg - 180) / 360);
  const near = Math.round(within / 90) * 90;
  return Math.abs(within - near) < 1e-9 ? near + 0 : within;
}

/** The four corners of a picture's frame as a region. */
export function pictureFrame(ink: Extract<Ink, { kind: "picture" }>): Region {
  const turn = turnBy(ink.turnedDeg);
  const at = (x: number, y: number): Point => {
    const p = mapPoint(turn, { x, y });
    return { x: ink.corner.x + p.x, y: ink.corner.y + p.y };
  };
  return polygon([at(0, 0), at(ink.width, 0), at(ink.width, ink.height), at(0, ink.height)]);
}

/** All lines, outlines and frames that ink has. */
export function segmentsOfInk(ink: Ink): readonly Segment[] {
  switch (ink.kind) {
    case "lines":
      return ink.chains.flat();
    case "area":
      return regionSegments(ink.region);
    case "lines and area":
      return [...ink.chains.flat(), ...regionSegments(ink.region)];
    case "picture":
      return regionSegments(pictureFrame(ink));
  }
}

/** What of ink is an area; undefined for lines alone. */
export function areaOfInk(ink: Ink): Region | undefined {
  switch (ink.kind) {
    case "lines":
      return undefined;
    case "area":
    case "lines and area":
      return ink.region;
    case "picture":
      return pictureFrame(ink);
  }
}

/** The box around ink; undefined where there is none. mm. */
export function boundsOfInk(ink: Ink): Box | undefined {
  return boxOf(segmentsOfInk(ink));
}

/** True where ink lies over an area, or within `touch` mm of it. Exact for lines and arcs. */
export function inkMeets(ink: Ink, area: Region, touch: number): boolean {
  const border = regionSegments(area).map((s) => ({ s, box: boundsOf(s) }));
  const own = areaOfInk(ink);
  for (const s of segmentsOfInk(ink)) {
    const box = boundsOf(s);
    for (const t of border) {
      if (boxGap(box, t.box) <= touch && distanceBetween(s, t.s) <= touch) return true;
    }
    if (containsPoint(area, pointAt(s, 0.5))) return true;
  }
  // No border met: the area may still lie wholly within burned ink.
  const [first] = border;
  return own !== undefined && first !== undefined && containsPoint(own, pointAt(first.s, 0.5));
}

/** True where all ink lies within an area, no nearer its border than `touch` mm. */
export function inkWithin(ink: Ink, area: Region, touch: number): boolean {
  const border = regionSegments(area).map((s) => ({ s, box: boundsOf(s) }));
  return segmentsOfInk(ink).every((s) => {
    const box = boundsOf(s);
    const near = border.some((t) => boxGap(box, t.box) <= touch && distanceBetween(s, t.s) <= touch);
    return !near && containsPoint(area, pointAt(s, 0.5));
  });
}
