import type { FaceName } from "../../../job/board.ts";
import { fitArcs } from "../../../shapes/fit-arcs.ts";
import { flattenSegment } from "../../../shapes/flatten.ts";
import { type Meridian, radiiAt } from "../../../shapes/meridian.ts";
import { distance, type Point } from "../../../shapes/point.ts";
import type { Region } from "../../../shapes/region.ts";
import type { Segment } from "../../../shapes/segment.ts";
import type { SquareStretch } from "../../../shapes/turned-solid.ts";
import { boundsOfInk, segmentsOfInk } from "../ink.ts";
import type { Ink } from "../mark.ts";
import { drawnBeneath, layPicture, type PicturePlan } from "./lay-picture.ts";
import { type OnRound, type Unrolled, unrollingsAt } from "./unroll.ts";

/** The wood that a mark is laid on. mm. */
export interface RoundWood {
  readonly meridian: Meridian;
  readonly squares: readonly SquareStretch[];
  /** Length of the blank, and the side of the box around it. */
  readonly length: number;
  readonly across: number;
}

/** Which of the four sides is turned up for a mark, and how far its middle then stands aside of the crown, radians. */
export interface Side {
  readonly face: FaceName;
  readonly index: 0 | 90 | 180 | 270;
  readonly aside: number;
}

/** A mark as it lies around the wood. */
export interface LaidInk {
  /** In plan coordinates of the side's face. */
  readonly ink: Ink;
  /** How much longer its lines became at worst, ≥ 1. */
  readonly stretch: number;
  /** How far the wood falls beneath it, mm. */
  readonly drop: number;
  /** Steepest slope of the wood beneath it, degrees from level. */
  readonly slopeDeg: number;
  /** Its points on the wood: along the axis, and radians from the crown of the blank. */
  readonly points: readonly { readonly x: number; readonly radius: number; readonly angle: number }[];
}

/** Why a mark cannot be laid. */
export type LayTrouble =
  | { readonly trouble: "no wood" }
  /** It runs over a step, an end, or the border of a flat; the places along the axis that it may reach to. */
  | { readonly trouble: "step"; readonly over: number }
  /** It reaches round to where the wood turns under; `widest` could stand there, mm around. */
  | { readonly trouble: "too wide"; readonly widest: number }
  /** A square end has four sides and nothing between. */
  | { readonly trouble: "aside on a flat" }
  /** To be turned under the beam, and the wood beneath is no cylinder; radii are absent beside a turned stretch. */
  | { readonly trouble: "uneven"; readonly least: number | undefined; readonly most: number | undefined }
  /** It would lie over its own beginning; `whole` is the way once around, mm. */
  | { readonly trouble: "more than a turn"; readonly whole: number };

/** Farthest that laid lines stray from where they belong, mm: their chords, and the arcs fitted to them. */
const CHORDS = 0.001;
const FIT = 0.002;
/** Lines are looked at this often, mm: on a radius of 5 mm the wood then bows by 0.001 mm between. */
const STEP = 0.2;
/** The wood is upright here; a beam from above draws nothing beyond. Radians. */
const UPRIGHT = (89 * Math.PI) / 180;

/** The side of a blank that looks most the way a mark does; on the border of two, the one before. */
export function sideFor(aroundDeg: number): Side {
  const turns = (((aroundDeg % 360) + 360) % 360) / 90;
  const quarter = Math.ceil(turns - 0.5);
  const aside = ((turns - quarter) * Math.PI) / 2;
  switch (((quarter % 4) + 4) % 4) {
    case 1:
      return { face: "upper edge", index: 90, aside };
    case 2:
      return { face: "back", index: 180, aside };
    case 3:
      return { face: "lower edge", index: 270, aside };
    default:
      return { face: "face", index: 0, aside };
  }
}

/**
 * From along the axis, and across it towards growing angles, to plan coordinates of a side's face. Seen on any side with
 * the first end at the left, angles grow upwards; two of the faces are drawn the other way up (see `faceFrame`).
 */
export function ontoFace(
  wood: Pick<RoundWood, "length" | "across">,
  index: Side["index"],
  x: number,
  y: number,
): Point {
  switch (index) {
    case 0:
    case 270:
      return { x, y: wood.across / 2 + y };
    case 90:
    case 180:
      return { x: wood.length - x, y: wood.across / 2 - y };
  }
}

/** Lays ink, drawn about its own middle, around the wood with its middle at a place along it. */
export function layInk(ink: Ink, wood: RoundWood, along: number, side: Side): LaidInk | LayTrouble {
  const ways = unrollingsAt(wood.meridian, wood.squares, along);
  if (ways.length === 0) return { trouble: "no wood" };
  if (ways[0]?.kind === "flat" && Math.abs(side.aside) > 1e-9) return { trouble: "aside on a flat" };
  const drawn = segmentsOfInk(ink).flatMap(sampled);
  for (const way of ways) {
    const places = drawn.map((p) => way.onto(p.x, p.y));
    if (!places.every((p) => p !== undefined)) continue;
    if (way.kind !== "flat" && places.some((p) => Math.abs(side.aside + p.angle) >= UPRIGHT)) {
      const radius = least(places.map((p) => p.radius));
      return { trouble: "too wide", widest: 2 * radius * (UPRIGHT - Math.abs(side.aside)) };
    }
    return laid(ink, wood, side, way, places);
  }
  return { trouble: "step", over: stepOver(ways[ways.length - 1]!, ink) };
}

/** How far along the axis ink runs over what can be unrolled, mm: found by halving. */
function stepOver(way: Unrolled, ink: Ink): number {
  const box = boundsOfInk(ink);
  if (box === undefined) return 0;
  const over = (end: number): number => {
    if (way.onto(end, 0) !== undefined) return 0;
    let [good, bad] = [0, end];
    for (let i = 0; i < 40; i++) {
      const middle = (good + bad) / 2;
      if (way.onto(middle, 0) === undefined) bad = middle;
      else good = middle;
    }
    return Math.abs(end - good);
  };
  return Math.max(over(box.min.x), over(box.max.x));
}

function laid(ink: Ink, wood: RoundWood, side: Side, way: Unrolled, places: readonly OnRound[]): LaidInk {
  const put = (p: Point): Point => {
    const on = way.onto(p.x, p.y);
    if (on === undefined) throw new Error("a point between two laid ones lies nowhere");
    return ontoFace(wood, side.index, on.x, acrossOf(way, side, on));
  };
  const heights = places.map((p) => heightOf(way, side, p));
  const [lowest, highest] = [least(heights), Math.max(greatest(heights), ...crest(ink, way, side))];
  const turn = (side.index * Math.PI) / 180;
  return {
    ink: putInk(ink, put, (picture) => layPicture(picture, planOfPicture(wood, side, way, places))),
    stretch: places.reduce((worst, p) => Math.max(worst, p.stretch), 1),
    drop: highest - lowest,
    slopeDeg: (Math.acos(Math.min(1, least(places.map((p) => facing(way, side, p))))) * 180) / Math.PI,
    points: places.map((p) => ({
      x: p.x,
      radius: way.kind === "flat" ? Math.hypot(p.radius, p.angle) : p.radius,
      angle: turn + (way.kind === "flat" ? Math.atan2(p.angle, p.radius) : side.aside + p.angle),
    })),
  };
}

function planOfPicture(wood: RoundWood, side: Side, way: Unrolled, frame: readonly OnRound[]): PicturePlan {
  const across = frame.map((p) => acrossOf(way, side, p));
  const along = frame.map((p) => p.x);
  return {
    box: { minX: least(along), maxX: greatest(along), minY: least(across), maxY: greatest(across) },
    drawnAt: (x, y) => drawnBeneath(way, side.aside, (at) => radiiAt(wood.meridian, at)?.most, x, y),
    onto: (x, y) => ontoFace(wood, side.index, x, y),
    halfTurned: side.index === 90 || side.index === 180,
  };
}

// A drawing may have more points than a call takes arguments.
function least(values: readonly number[]): number {
  return values.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
}

function greatest(values: readonly number[]): number {
  return values.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
}

/** Across the axis, seen from above, mm: y = R sin(s / R) on a cylinder. */
export function acrossOf(way: Pick<Unrolled, "kind">, side: Side, p: OnRound): number {
  return way.kind === "flat" ? p.angle : p.radius * Math.sin(side.aside + p.angle);
}

function heightOf(way: Unrolled, side: Side, p: OnRound): number {
  return way.kind === "flat" ? p.radius : p.radius * Math.cos(side.aside + p.angle);
}

/** Share of a beam's width that falls on the wood square to it: the height of the surface's own normal. */
function facing(way: Unrolled, side: Side, p: OnRound): number {
  return way.kind === "flat" ? 1 : Math.cos(side.aside + p.angle) * Math.sqrt(1 - p.rise * p.rise);
}

/** Heights along the crown within an area: its outline may pass beside it. */
function crest(ink: Ink, way: Unrolled, side: Side): readonly number[] {
  const box = ink.kind === "lines" ? undefined : boundsOfInk(ink);
  const top = way.kind === "flat" || box === undefined ? undefined : way.onto(0, 0);
  if (box === undefined || top === undefined) return [];
  const v = -side.aside * top.radius;
  if (v < box.min.y || v > box.max.y) return [];
  const steps = Math.max(1, Math.ceil((box.max.x - box.min.x) / STEP));
  return Array.from({ length: steps + 1 }, (_, i) => {
    const p = way.onto(box.min.x + ((box.max.x - box.min.x) * i) / steps, 0);
    return p === undefined ? 0 : p.radius;
  });
}

function putInk(ink: Ink, put: (p: Point) => Point, picture: (ink: Extract<Ink, { kind: "picture" }>) => Ink): Ink {
  switch (ink.kind) {
    case "lines":
      return { ...ink, chains: putChains(ink.chains, put) };
    case "area":
      return { ...ink, region: putRegion(ink.region, put) };
    case "lines and area":
      return { ...ink, chains: putChains(ink.chains, put), region: putRegion(ink.region, put) };
    case "picture":
      return picture(ink);
  }
}

function putChains(chains: readonly (readonly Segment[])[], put: (p: Point) => Point): readonly (readonly Segment[])[] {
  return chains.map((chain) => fitArcs(pointsOf(chain).map(put), FIT, false)).filter((c) => c.length > 0);
}

function putRegion(region: Region, put: (p: Point) => Point): Region {
  return {
    loops: region.loops
      .map((loop) => fitArcs(pointsOf(loop).slice(0, -1).map(put), FIT, true))
      .filter((l) => l.length > 1),
  };
}

function pointsOf(chain: readonly Segment[]): readonly Point[] {
  return chain.flatMap((s, i) => (i === 0 ? sampled(s) : sampled(s).slice(1)));
}

/** Points of a segment, close together: on the round a straight line bends. */
function sampled(s: Segment): readonly Point[] {
  const chords = flattenSegment(s, CHORDS);
  return chords.flatMap((p, i) => {
    const before = chords[i - 1];
    if (before === undefined) return [p];
    const n = Math.max(1, Math.ceil(distance(before, p) / STEP));
    return Array.from({ length: n }, (_, k) => {
      const t = (k + 1) / n;
      return { x: before.x + t * (p.x - before.x), y: before.y + t * (p.y - before.y) };
    });
  });
}
