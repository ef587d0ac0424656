import { type Finding, type Outcome, refuses } from "../finding.ts";
import type { Operation } from "../plan/operation.ts";
import type { SetUp } from "../plan/setup.ts";
import { distance, type Point, type Point3 } from "../shapes/point.ts";
import { lengthOf, type Segment } from "../shapes/segment.ts";
import type { Chain } from "./chain.ts";
import type { Move, Purpose } from "./move.ts";

/** Height above wood or cut ground at which feeding straight down gives way to a ramp or helix, mm. */
const TOUCH_GAP = 0.3;

/**
 * The moves of one operation while they are being laid down, with where the tip stands. Lives inside one call of
 * `pathFor`; only the functions of this file write to it.
 */
export interface Trail {
  readonly operation: Operation;
  readonly safeZ: number;
  readonly approach: number;
  readonly moves: Move[];
  readonly findings: Finding[];
  tip: Point3 | undefined;
}

/** An empty trail. */
export function startTrail(operation: Operation, setUp: SetUp): Trail {
  return { operation, safeZ: setUp.safeZ, approach: setUp.habits.approach, moves: [], findings: [], tip: undefined };
}

/** The finished trail, or why there is none. */
export function endTrail(trail: Trail): Outcome<readonly Move[]> {
  lift(trail);
  const { findings, moves } = trail;
  return refuses(findings) ? { ok: false, findings } : { ok: true, value: moves, findings };
}

/** Up to safe height, if not there yet. */
export function lift(trail: Trail): void {
  const tip = trail.tip;
  if (tip === undefined || tip.z >= trail.safeZ) return;
  trail.moves.push({ kind: "rapid z", z: trail.safeZ });
  trail.tip = { ...tip, z: trail.safeZ };
}

/**
 * Over a point by rapids, then down to `approach` above `ground` by a rapid and to a hair above it at plunge feed. Ground is
 * the height of wood, or of cut ground, beneath the whole cutter there.
 * @returns the height reached
 */
export function comeDown(trail: Trail, to: Point, ground: number): number {
  hover(trail, to);
  const rapidTo = Math.min(trail.safeZ, ground + trail.approach);
  if (rapidTo < trail.safeZ) trail.moves.push({ kind: "rapid z", z: rapidTo });
  const z = Math.min(rapidTo, ground + TOUCH_GAP);
  trail.tip = { ...to, z: rapidTo };
  feedTo(trail, { ...to, z }, trail.operation.speeds.plunge, "entry");
  return z;
}

/** Over a point at safe height, by rapids. */
export function hover(trail: Trail, to: Point): void {
  lift(trail);
  const tip = trail.tip;
  if (tip === undefined || tip.x !== to.x || tip.y !== to.y) trail.moves.push({ kind: "rapid xy", to: flat(to) });
  trail.tip = { ...flat(to), z: trail.safeZ };
}

/** Straight down by a rapid to a height that the caller knows to be clear. */
export function rapidDown(trail: Trail, z: number): void {
  const tip = here(trail);
  if (z >= tip.z) return;
  trail.moves.push({ kind: "rapid z", z });
  trail.tip = { ...tip, z };
}

/** Straight up by a rapid. */
export function rapidUp(trail: Trail, z: number): void {
  const tip = here(trail);
  if (z <= tip.z) return;
  trail.moves.push({ kind: "rapid z", z });
  trail.tip = { ...tip, z };
}

/** In a straight line at a feed; nothing when already there. */
export function feedTo(trail: Trail, to: Point3, feed: number, why: Purpose): void {
  const tip = here(trail);
  if (tip.x === to.x && tip.y === to.y && tip.z === to.z) return;
  trail.moves.push({ kind: "line", to: { x: to.x, y: to.y, z: to.z }, feed, why });
  trail.tip = { x: to.x, y: to.y, z: to.z };
}

/** Along a chain that begins where the tip stands, level or evenly rising or falling to `z`. */
export function follow(trail: Trail, chain: Chain, z: number, feed: number, why: Purpose): void {
  const from = here(trail).z;
  const first = chain[0];
  if (first === undefined) return;
  if (distance(first.from, here(trail)) > 1e-6)
    throw new RangeError("a chain must begin where the tip stands: this is a bug in paths");
  const total = chain.reduce((sum, s) => sum + lengthOf(s), 0);
  let done = 0;
  for (const s of chain) {
    done += lengthOf(s);
    const share = total === 0 ? 1 : done / total;
    cut(trail, s, s === chain[chain.length - 1] ? z : from + (z - from) * share, feed, why);
  }
}

function cut(trail: Trail, s: Segment, z: number, feed: number, why: Purpose): void {
  const to = { x: s.to.x, y: s.to.y, z };
  switch (s.kind) {
    case "line":
      feedTo(trail, to, feed, why);
      return;
    case "arc":
      trail.moves.push({ kind: "arc", to, centre: flat(s.centre), ccw: s.ccw, feed, why });
      trail.tip = to;
      return;
  }
}

/** Where the tip stands. */
export function here(trail: Trail): Point3 {
  if (trail.tip === undefined) throw new RangeError("the tip has no place yet: this is a bug in paths");
  return trail.tip;
}

function flat(p: Point): Point {
  return { x: p.x, y: p.y };
}
