import { type Finding, tidy } from "../finding.ts";
import type { Mark } from "../parts/marks/mark.ts";
import { flattenSegment } from "../shapes/flatten.ts";
import type { Point } from "../shapes/point.ts";
import { boundsOfRegion, containsPoint, regionSegments } from "../shapes/region.ts";
import { lengthOf, pointAt, type Segment } from "../shapes/segment.ts";
import { reachOver } from "../shapes/turned-section.ts";
import { type TurnedSolid, topAt } from "../shapes/turned-solid.ts";
import { widestHalfWidth } from "../shop/beam.ts";
import type { Laser } from "../shop/laser.ts";
import type { BeamAim, PlacedMark } from "./beam-setup.ts";

/** Places under the beam are looked at this far apart, mm. */
const STEP = 0.5;
/** A profile's steepest stretch between two places may hide this much, mm: told as part of the drop. */
const EDGE = 1e-6;

/** Where the focus is kept while burning. */
export interface Focus {
  readonly z: number;
  readonly follows?: true;
}

/** Highest and lowest wood under a mark: its level face, or the round of a turned blank, looked at each half millimetre. */
export function surfaceUnder(aim: BeamAim, top: number, round: TurnedSolid | undefined): PlacedMark["surface"] {
  if (round === undefined) return { top, bottom: top };
  let high = Number.NEGATIVE_INFINITY;
  let low = Number.POSITIVE_INFINITY;
  for (const p of placesOf(aim)) {
    // Beside the wood there is nothing to be in focus on; the proof tells what is burned there.
    const z = topAt(round, p.x, p.y);
    if (z === undefined) continue;
    high = Math.max(high, z);
    low = Math.min(low, z);
  }
  return high >= low ? { top: high, bottom: low } : { top, bottom: top };
}

/**
 * The focus half-way down the drop, so that the drop may be the whole depth of focus; or following the wood, where the
 * shop file allows it and the power follows the speed (a carriage slows at each change of slope); or refused, with the
 * widest that works.
 */
export function focusFor(
  mark: Mark,
  aim: BeamAim,
  surface: PlacedMark["surface"],
  round: TurnedSolid | undefined,
  laser: Laser,
): Focus | Finding {
  const drop = surface.top - surface.bottom;
  if (round === undefined || drop <= 2 * laser.focusRange + EDGE) return { z: (surface.top + surface.bottom) / 2 };
  const steady = laser.mode === "constant";
  if (laser.zFollows && !steady) return { z: surface.top, follows: true };
  const round2 = (mm: number): string => tidy(Math.round(mm * 100) / 100);
  const along = placesOf(aim).map((p) => p.x);
  const radius = reachOver(
    round,
    along.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY),
    along.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY),
  );
  const crowns = along.map((x) => reachOver(round, x, x));
  const falls = radius - crowns.reduce((a, b) => Math.min(a, b), radius);
  const half = widestHalfWidth(radius, Math.min(radius, 2 * laser.focusRange));
  const around = 2 * radius * Math.asin(Math.min(1, half / radius));
  // Either the profile falls along the axis, or the mark reaches too far around it.
  const profile = falls > 2 * laser.focusRange;
  return {
    grade: "refuse",
    code: "beam-out-of-focus",
    place: { part: mark.part, feature: mark.feature, source: mark.source },
    what: profile
      ? `"${mark.feature}" runs over too many heights of the profile to stay in focus`
      : `"${mark.feature}" reaches too far down the round to stay in focus`,
    why: profile
      ? `the profile falls by ${round2(falls)} mm along it`
      : `the wood drops by ${round2(drop)} mm beneath it; on a radius of ${round2(radius)} mm it may be ${tidy(Math.floor(around * 10) / 10)} mm wide around the wood`,
    mend: `make it ${profile ? "shorter" : "narrower"}, or ${
      laser.zFollows
        ? "use the controller's mode in which power follows speed: Z may follow the wood in that mode only"
        : 'let Z follow the wood: "Z follows: yes" for the laser in the shop file'
    }`,
    measured: { value: drop, bound: 0, unit: "mm" },
    limit: { value: 2 * laser.focusRange, unit: "mm", from: "twice the focus range measured in the shop" },
  };
}

/** Places of an aim: all along its lines, and a grid over its areas. */
export function placesOf(aim: BeamAim): readonly Point[] {
  switch (aim.kind) {
    case "lines":
      return aim.chains.flat().flatMap(along);
    case "through":
      return regionSegments(aim.outline).flatMap(along);
    case "area": {
      const box = boundsOfRegion(aim.region);
      const found = regionSegments(aim.region).flatMap(along);
      if (box === undefined) return found;
      for (let x = box.min.x + STEP / 2; x < box.max.x; x += STEP) {
        for (let y = box.min.y + STEP / 2; y < box.max.y; y += STEP) {
          if (containsPoint(aim.region, { x, y })) found.push({ x, y });
        }
      }
      return found;
    }
    case "dots": {
      const [u, v] = dotAxes(aim);
      const across = Math.max(1, Math.ceil((aim.columns * aim.pitch) / STEP));
      const down = Math.max(1, Math.ceil((aim.rows * aim.pitch) / STEP));
      const found: Point[] = [];
      for (let i = 0; i <= across; i++) {
        for (let k = 0; k <= down; k++) {
          const a = (i / across) * aim.columns * aim.pitch;
          const b = (k / down) * aim.rows * aim.pitch;
          found.push({ x: aim.corner.x + a * u.x + b * v.x, y: aim.corner.y + a * u.y + b * v.y });
        }
      }
      return found;
    }
  }
}

/** Directions of length 1 along the rows of a picture, and from row to row downwards. */
export function dotAxes(aim: Extract<BeamAim, { kind: "dots" }>): readonly [Point, Point] {
  const rad = (aim.alongDeg * Math.PI) / 180;
  const u = { x: Math.cos(rad), y: Math.sin(rad) };
  return [u, { x: u.y, y: -u.x }];
}

function along(s: Segment): Point[] {
  const n = Math.max(1, Math.ceil(lengthOf(s) / STEP));
  const even = Array.from({ length: n + 1 }, (_, i) => pointAt(s, i / n));
  return s.kind === "line" ? even : [...even, ...flattenSegment(s, 0.05)];
}
