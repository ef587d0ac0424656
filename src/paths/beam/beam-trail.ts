import type { BeamOperation, BeamSetUp } from "../../plan/beam-setup.ts";
import { flattenSegment } from "../../shapes/flatten.ts";
import { distance, type Point, type Point3 } from "../../shapes/point.ts";
import type { Segment } from "../../shapes/segment.ts";
import { topAt } from "../../shapes/turned-solid.ts";
import type { BeamMove } from "./beam-move.ts";

/** Where Z follows the wood, it is taken this often along a line, mm. */
const FOLLOW_STEP = 0.5;
/** Heights that differ by less than this are one, mm: far below any depth of focus. */
const LEVEL = 0.01;
/** A wall steeper than this, as rise over run, is not burned: a beam from above spreads to nothing on it. */
const STEEPEST = 3;
/** Walls are found to within this, mm: far below any spot. */
const WALL = 0.01;
/** Chord error of arcs where Z follows the wood, mm. */
const CHORD = 0.005;
/** Chord error of arcs on wood that turns beneath the beam, mm. */
const TURNED_CHORD = 0.001;

/**
 * The moves of one operation while they are laid down, with where the spot stands. Lives inside one call of `beamPath`; only
 * the functions of this file write to it.
 */
export interface BeamTrail {
  readonly operation: BeamOperation;
  readonly setUp: BeamSetUp;
  readonly moves: BeamMove[];
  spot: Point3 | undefined;
}

/** An empty trail. */
export function startBeam(operation: BeamOperation, setUp: BeamSetUp): BeamTrail {
  return { operation, setUp, moves: [], spot: undefined };
}

/** The finished trail: up to safe height. */
export function endBeam(trail: BeamTrail): readonly BeamMove[] {
  if (trail.spot !== undefined) trail.moves.push({ kind: "rapid z", z: trail.setUp.safeZ });
  return trail.moves;
}

/**
 * Over a point with the beam off: by a rapid from safe height at first, then straight at the height of burning.
 * @param z the height to burn at, where that is not the height over the point itself
 */
export function goTo(trail: BeamTrail, to: Point, z = heightAt(trail, to)): void {
  const { operation, setUp, spot } = trail;
  if (spot === undefined) {
    trail.moves.push({ kind: "rapid xy", to: { x: to.x, y: to.y } });
    trail.spot = { x: to.x, y: to.y, z: setUp.safeZ };
    line(trail, { x: to.x, y: to.y, z }, setUp.machine.topFeed.z, 0);
    return;
  }
  // From slope to slope over the crown: the head keeps its height above the highest wood beneath the mark.
  const over = operation.follows === true && distance(spot, to) > FOLLOW_STEP;
  if (over) line(trail, { ...spot, z: operation.z }, setUp.machine.topFeed.z, 0);
  line(trail, { x: to.x, y: to.y, z: over ? operation.z : z }, linkFeed(trail), 0);
  if (over) line(trail, { x: to.x, y: to.y, z }, setUp.machine.topFeed.z, 0);
}

/** Straight on with the beam off, at the speed of burning: run-ups, and gaps within a line. @param z height at its end */
export function runOn(trail: BeamTrail, to: Point, z = here(trail).z): void {
  line(trail, { x: to.x, y: to.y, z }, trail.operation.speed, 0);
}

/** Along a segment that begins where the spot stands, the beam on. */
export function burnAlong(trail: BeamTrail, s: Segment): void {
  const { operation } = trail;
  const from = here(trail);
  if (distance(from, s.from) > 1e-6) throw new RangeError("a burned line begins where the spot stands: a bug in paths");
  if (operation.follows === true) {
    burnOverRound(trail, s);
    return;
  }
  switch (s.kind) {
    case "line":
      line(trail, { x: s.to.x, y: s.to.y, z: from.z }, operation.speed, operation.power);
      return;
    case "arc":
      if (trail.setUp.turning !== undefined) {
        // An arc in the drawing is none in X and A: chords, far finer than any spot.
        for (const to of flattenSegment(s, TURNED_CHORD).slice(1)) {
          line(trail, { x: to.x, y: to.y, z: from.z }, operation.speed, operation.power);
        }
        return;
      }
      trail.moves.push({
        kind: "arc",
        to: { x: s.to.x, y: s.to.y, z: from.z },
        centre: { x: s.centre.x, y: s.centre.y },
        ccw: s.ccw,
        feed: operation.speed,
        power: operation.power,
      });
      trail.spot = { x: s.to.x, y: s.to.y, z: from.z };
      return;
  }
}

/** In chords short enough for the height to follow the wood; dark where a wall stands up that no beam from above sees. */
function burnOverRound(trail: BeamTrail, s: Segment): void {
  const { operation } = trail;
  const corners = flattenSegment(s, CHORD);
  for (const [i, to] of corners.slice(1).entries()) {
    const from = corners[i]!;
    const n = Math.max(1, Math.ceil(distance(from, to) / FOLLOW_STEP));
    const between = Array.from({ length: n }, (_, k): Point3 => {
      const t = (k + 1) / n;
      return onWood(trail, { x: from.x + t * (to.x - from.x), y: from.y + t * (to.y - from.y) });
    });
    const start = here(trail).z;
    const level = between.every((p) => Math.abs(p.z - start) <= LEVEL);
    if (level) line(trail, { ...between[n - 1]!, z: start }, operation.speed, operation.power);
    else for (const p of between) climbTo(trail, p);
  }
}

/** To a place on the wood near by: burning, unless it lies up or down a wall, which is found to within a hair first. */
function climbTo(trail: BeamTrail, to: Point3): void {
  const { operation, setUp } = trail;
  const from = here(trail);
  const along = distance(from, to);
  const up = Math.abs(to.z - from.z);
  const steep = up > STEEPEST * along && up > LEVEL;
  if (steep && along > WALL) {
    climbTo(trail, onWood(trail, { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 }));
    climbTo(trail, to);
    return;
  }
  // Where Z climbs more slowly than that, the carriage slows down and its power with it.
  const climb = up > 0 ? (setUp.machine.topFeed.z * Math.hypot(along, up)) / up : Number.POSITIVE_INFINITY;
  line(trail, to, steep ? Math.min(operation.speed, climb) : operation.speed, steep ? 0 : operation.power);
}

function onWood(trail: BeamTrail, p: Point): Point3 {
  return { x: p.x, y: p.y, z: heightAt(trail, p) };
}

/** Height of the focus over a place: level, or on the wood. */
export function heightAt(trail: BeamTrail, p: Point): number {
  const { operation, setUp } = trail;
  if (operation.follows !== true || setUp.round === undefined) return operation.z;
  return Math.min(operation.z, topAt(setUp.round, p.x, p.y) ?? operation.z);
}

/** Where the spot stands. */
export function here(trail: BeamTrail): Point3 {
  if (trail.spot === undefined) throw new RangeError("the spot has no place yet: this is a bug in paths");
  return trail.spot;
}

function line(trail: BeamTrail, to: Point3, feed: number, power: number): void {
  const { spot } = trail;
  if (spot !== undefined && spot.x === to.x && spot.y === to.y && spot.z === to.z) return;
  trail.moves.push({ kind: "line", to, feed, power });
  trail.spot = to;
}

function linkFeed(trail: BeamTrail): number {
  const { topFeed } = trail.setUp.machine;
  return Math.min(topFeed.x, topFeed.y);
}
