import type { Finding } from "../../src/finding.ts";
import type { Job } from "../../src/job/job.ts";
import type { SetUpWishes } from "../../src/job/wishes.ts";
import type { Cavity, Workpiece } from "../../src/parts/workpiece.ts";
import { type PlannedSetUp, planJob } from "../../src/plan/plan-job.ts";
import type { Meridian } from "../../src/shapes/meridian.ts";
import type { Point } from "../../src/shapes/point.ts";
import type { Region } from "../../src/shapes/region.ts";
import { arc, line } from "../../src/shapes/segment.ts";
import type { SquareStretch, TurnedSolid } from "../../src/shapes/turned-solid.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import type { Shop } from "../../src/shop/shop.ts";
import { job } from "../parts/describing.ts";

const SOURCE = { file: "job.yaml", line: 4, column: 3, length: 4, text: "  pull:" };

/** A turned blank with square ends, 160 mm long, 40 mm across unless said otherwise. */
export interface Blank {
  readonly length: number;
  readonly across: number;
  /** Length left square at each end; 0 for round ends. */
  readonly square: number;
  /** Radii along the axis at even distances between the squares, joined by straight lines. */
  readonly radii: readonly number[];
  /** Wood taken from a half below the axis plane; absent for the whole blank. */
  readonly half?: number;
}

export const BLANK: Blank = { length: 160, across: 40, square: 20, radii: [17, 17] };

export function solidOfBlank(b: Blank): TurnedSolid {
  const a = b.square;
  const span = b.length - 2 * a;
  const n = b.radii.length - 1;
  const points = b.radii.map((y, i): Point => ({ x: a + (span * i) / n, y }));
  const meridian: Meridian = { segments: points.slice(1).map((to, i) => line(points[i]!, to)) };
  const squares: SquareStretch[] =
    a === 0
      ? []
      : [
          { from: 0, to: a, side: b.across },
          { from: b.length - a, to: b.length, side: b.across },
        ];
  const axis = { y: b.across / 2, z: b.across / 2 };
  return { meridian, axis, squares, ...(b.half === undefined ? {} : { flatTop: b.across / 2 - b.half }) };
}

/** A slot along X about a middle, its ends round. */
export function slot(middle: Point, length: number, width: number): Region {
  const r = width / 2;
  const h = length / 2 - r;
  const { x, y } = middle;
  const right = { x: x + h, y };
  const left = { x: x - h, y };
  return {
    loops: [
      [
        line({ x: x - h, y: y - r }, { x: x + h, y: y - r }),
        arc({ x: x + h, y: y - r }, { x: x + h, y: y + r }, right, true),
        line({ x: x + h, y: y + r }, { x: x - h, y: y + r }),
        arc({ x: x - h, y: y + r }, { x: x - h, y: y - r }, left, true),
      ],
    ],
  };
}

/** Finger room in the crown: depth from the top of the box. */
export function room(section: Region, to: number, more: Partial<Cavity> = {}): Cavity {
  return {
    id: "pull/finger room",
    part: "pull",
    feature: "finger room",
    source: SOURCE,
    face: "face",
    section,
    from: 0,
    to,
    through: false,
    slopeTan: 0,
    insideRadius: 6,
    clear: "all",
    keeps: [],
    shape: { kind: "recess" },
    ...more,
  };
}

export function workpieceOf(b: Blank, cavities: readonly Cavity[], wishes: SetUpWishes = {}): Workpiece {
  return {
    name: "pull",
    wood: "ash",
    size: { length: b.length, width: b.across, thickness: b.half === undefined ? b.across : b.across / 2 - b.half },
    grain: "along length",
    pieces: [],
    cavities,
    labels: {
      face: "crown",
      back: "far side",
      "lower edge": "lower flank",
      "upper edge": "upper flank",
      "first end": "first end",
      "second end": "second end",
    },
    faceSide: "face",
    faceEdge: "lower edge",
    wishes,
    round: solidOfBlank(b),
    source: SOURCE,
  };
}

export function planRound(
  workpiece: Workpiece,
  shop: Shop = DEFAULT_SHOP,
): { readonly setUps: readonly PlannedSetUp[]; readonly findings: readonly Finding[] } {
  const none: Job = job([]);
  const planned = planJob(none, [workpiece], shop);
  return { setUps: planned.ok ? planned.value : [], findings: planned.findings };
}
