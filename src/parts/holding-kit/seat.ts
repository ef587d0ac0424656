import type { Source } from "../../finding.ts";
import type { FaceName } from "../../job/board.ts";
import type { At, Feature, PartDescription } from "../../job/job.ts";
import { rectangle } from "../../shapes/outlines.ts";
import type { Point } from "../../shapes/point.ts";
import type { Region } from "../../shapes/region.ts";
import { arc, line } from "../../shapes/segment.ts";

/**
 * A seat is an arc of 120°, so that the wood can neither roll out nor wedge: its chord stands half a radius above its
 * lowest point.
 */
const CHORD = Math.cos(Math.PI / 3);
const HALF_CHORD = Math.sin(Math.PI / 3);
/** Wood left around a support's outline in its blank, mm: room for the bit. */
const AROUND = 12;

/** Diameter of the end screw, mm, and of its hole in the plate: snug, since play in it would be an error of the axis. */
export const SCREW = 5;
export const SCREW_HOLE = 5;

/** Wood of a caul over its seat, mm. Common practice, no source. */
export const OVER_SEAT = 12;

/** Names of a support's faces as it is cut, lying on its side; it stands on its foot afterwards. */
const LABELS: Readonly<Record<FaceName, string>> = {
  face: "marked side",
  back: "other side",
  "lower edge": "foot edge",
  "upper edge": "seat edge",
  "first end": "left end",
  "second end": "right end",
};

/** What a support is made of and for. Lengths mm. */
export interface SeatWish {
  readonly name: string;
  readonly wood: string;
  /** Along the turned blank's axis. */
  readonly thickness: number;
  readonly source: Source;
}

/** A part that stands on its foot, the middle of its seat's arc `centreHeight` above the foot. @throws RangeError if it has no wood below the seat */
export function cradlePart(wish: SeatWish, radius: number, centreHeight: number): PartDescription {
  if (!(centreHeight > radius)) throw new RangeError("a cradle needs wood below its seat");
  const [half, top] = [widthFor(radius) / 2, centreHeight - radius * CHORD];
  const lip = radius * HALF_CHORD;
  const region = closed(
    [
      { x: -half, y: 0 },
      { x: half, y: 0 },
      { x: half, y: top },
      { x: lip, y: top },
    ],
    [
      { x: -lip, y: top },
      { x: -half, y: top },
    ],
    { x: 0, y: centreHeight },
  );
  return supportPart(wish, region, 2 * half, top, radius);
}

/** A part that presses from above: its seat opens downwards, its top lies level, `above` over the seat's highest point. */
export function caulPart(wish: SeatWish, radius: number, above: number): PartDescription {
  const [half, top] = [widthFor(radius) / 2, radius * (1 - CHORD) + above];
  const lip = radius * HALF_CHORD;
  const region = closed(
    [
      { x: half, y: 0 },
      { x: half, y: top },
      { x: -half, y: top },
      { x: -half, y: 0 },
      { x: -lip, y: 0 },
    ],
    [{ x: lip, y: 0 }],
    { x: 0, y: -radius * CHORD },
  );
  return supportPart(wish, region, 2 * half, top, radius);
}

/** A plate that stands at an end, with a hole for the end screw at the axis. */
export function endPlatePart(wish: SeatWish, width: number, axisHeight: number, holeDiameter: number): PartDescription {
  const height = axisHeight + 20;
  const plate = supportPart(wish, rectangle({ x: -width / 2, y: 0 }, { x: width / 2, y: height }), width, height);
  const hole: Feature = {
    kind: "hole",
    name: "end screw",
    ...said(wish),
    diameter: holeDiameter,
    depth: { kind: "through" },
    centres: [placed(AROUND + width / 2, AROUND + axisHeight)],
    head: { kind: "plain" },
  };
  return { ...plate, features: [hole, ...plate.features] };
}

/** An outline through the points, by the seat's arc (clockwise, bulging into the wood), and through the rest. */
function closed(before: readonly Point[], after: readonly Point[], centre: Point): Region {
  const lines = (points: readonly Point[]) => points.slice(1).map((p, i) => line(points[i]!, p));
  const [from, to] = [before[before.length - 1]!, after[0]!];
  const back = after[after.length - 1]!;
  const home = before[0]!;
  return { loops: [[...lines(before), arc(from, to, centre, false), ...lines(after), line(back, home)]] };
}

/** @param insideRadius of the seat, its only inside corner: any bit that fits it will do */
function supportPart(
  wish: SeatWish,
  region: Region,
  width: number,
  height: number,
  insideRadius?: number,
): PartDescription {
  const outline: Feature = {
    kind: "outline",
    name: "outline",
    ...said(wish),
    side: "outside",
    shape: { kind: "drawing", region, placed: "as drawn", file: wish.source.file },
    at: placed(AROUND + width / 2, AROUND),
    turnedDeg: 0,
    ...(insideRadius === undefined ? {} : { insideRadius }),
    hold: { kind: "none" },
  };
  return {
    name: wish.name,
    wood: wish.wood,
    size: { length: width + 2 * AROUND, width: height + 2 * AROUND, thickness: wish.thickness },
    grain: "along length",
    copies: 1,
    labels: LABELS,
    faceSide: "face",
    faceEdge: "lower edge",
    features: [outline],
    wishes: { holding: { by: "tape" } },
    source: wish.source,
  };
}

function said(wish: SeatWish): Pick<Feature, "on" | "source" | "sources"> {
  return { on: "face", source: wish.source, sources: {} };
}

/** Wide enough to stand firmly: the seat's chord and 12 mm at each side, to a whole 5 mm. Common practice, no source. */
export function widthFor(radius: number): number {
  return Math.max(50, Math.ceil((2 * radius * HALF_CHORD + 24) / 5) * 5);
}

function placed(x: number, y: number): At {
  return [
    { distance: x, border: "first end", reach: "centre" },
    { distance: y, border: "lower edge", reach: "centre" },
  ];
}
