import type { Outcome } from "../finding.ts";
import type { BoreOperation } from "../plan/operation.ts";
import type { SetUp } from "../plan/setup.ts";
import type { Point } from "../shapes/point.ts";
import { pointAt, type Segment } from "../shapes/segment.ts";
import { circleChain } from "./chain.ts";
import { helixDown, pitchOf } from "./descend.ts";
import type { Move } from "./move.ts";
import { inShortOrder } from "./order.ts";
import { fitsNowhere, noWayIn } from "./problems.ts";
import { comeDown, endTrail, feedTo, follow, here, lift, startTrail, type Trail } from "./trail.ts";

/** Share of the cutter's radius that an entry helix takes: under 1, so that no core can stand. */
const HELIX_SHARE = 0.9;

/** A helix narrower than this turns on the spot. mm */
const LEAST_REACH = 0.05;

/**
 * Round holes opened with a smaller cutter: a helix to the floor, a level circle, wider circles each begun by a
 * half circle that touches both, and a finish circle entered and left along tangents. Climb: counter-clockwise.
 */
export function bore(operation: BoreOperation, setUp: SetUp, from?: Point): Outcome<readonly Move[]> {
  const trail = startTrail(operation, setUp);
  const reach = boreReach(operation);
  const first = Math.min(reach, HELIX_SHARE * (operation.cutter.diameter / 2));
  const centre = operation.centres[0];
  if (centre !== undefined && reach <= 0) trail.findings.push(fitsNowhere(operation, setUp, centre));
  else if (centre !== undefined && first < Math.max(operation.cutter.deadCentre, LEAST_REACH))
    trail.findings.push(noWayIn(operation, setUp, centre));
  if (trail.findings.length > 0) return endTrail(trail);
  for (const centre of inShortOrder(operation.centres, from)) {
    oneHole(trail, operation, centre);
    lift(trail);
  }
  return endTrail(trail);
}

/** Largest distance of the cutter's centre from the hole's, mm: what both helix and finish stay within. */
export function boreReach(operation: BoreOperation): number {
  return (operation.diameter - operation.cutter.diameter) / 2;
}

function oneHole(trail: Trail, operation: BoreOperation, centre: Point): void {
  const { speeds, allowance, topZ, floorZ } = operation;
  const reach = boreReach(operation);
  const cutterRadius = operation.cutter.diameter / 2;
  const finishing = reach > allowance.wall && (allowance.wall > 0 || allowance.floor > 0);
  const rough = finishing ? reach - allowance.wall : reach;
  const roughCcw = operation.roughing === "climb";
  const floor = finishing ? floorZ + allowance.floor : floorZ;
  const radii = widening(Math.min(rough, HELIX_SHARE * cutterRadius), rough, operation.step);
  const angle = operation.rampAngle;
  for (const [i, radius] of radii.entries()) {
    const start = { x: centre.x + radius, y: centre.y };
    if (i === 0) {
      comeDown(trail, start, topZ);
      const pitch = Math.min(operation.depthPerTurn, pitchOf(radius, angle));
      helixDown(trail, { centre, radius, fromRad: 0, ccw: roughCcw }, floor, pitch);
    } else if (topZ - floor <= operation.cutter.diameter) {
      widen(trail, centre, radii[i - 1]!, radius, roughCcw, speeds.feed, "rough");
    } else {
      // Deeper than the cutter is wide, a whole side at once would be too much: down again, a radius of depth a turn.
      lift(trail);
      comeDown(trail, { x: centre.x + radii[i - 1]!, y: centre.y }, topZ);
      feedTo(trail, { ...start, z: here(trail).z }, speeds.feed, "link");
      const pitch = Math.min(Math.max(operation.depthPerTurn, cutterRadius), pitchOf(radius, angle));
      helixDown(trail, { centre, radius, fromRad: 0, ccw: roughCcw }, floor, pitch);
    }
  }
  if (finishing) finish(trail, operation, centre, rough, reach);
}

/** Radii of the circles from the helix out, evenly, none further from the last than `step`. */
function widening(first: number, last: number, step: number): number[] {
  const n = Math.max(0, Math.ceil((last - first) / step - 1e-9));
  const radii = [first];
  for (let i = 1; i <= n; i++) radii.push(first + ((last - first) * i) / n);
  return radii;
}

/** From a circle to a wider one: a half circle touching both inside, then once round. The tip stands at some angle on the first. */
function widen(
  trail: Trail,
  centre: Point,
  from: number,
  to: number,
  ccw: boolean,
  feed: number,
  why: "rough" | "finish",
): void {
  const tip = here(trail);
  const angle = Math.atan2(tip.y - centre.y, tip.x - centre.x);
  const out = { x: Math.cos(angle), y: Math.sin(angle) };
  const across: Segment = {
    kind: "arc",
    from: { x: tip.x, y: tip.y },
    to: { x: centre.x - to * out.x, y: centre.y - to * out.y },
    centre: { x: centre.x - ((to - from) / 2) * out.x, y: centre.y - ((to - from) / 2) * out.y },
    ccw,
  };
  follow(trail, [across], tip.z, feed, why === "finish" ? "lead" : why);
  follow(trail, circleFrom(trail, centre, to, ccw), tip.z, feed, why);
}

/** A whole circle from where the tip stands, its start and end bit for bit there. */
function circleFrom(trail: Trail, centre: Point, radius: number, ccw: boolean): Segment[] {
  const tip = here(trail);
  const round = circleChain(centre, radius, Math.atan2(tip.y - centre.y, tip.x - centre.x), ccw);
  const at = { x: tip.x, y: tip.y };
  return [
    { ...round[0]!, from: at },
    { ...round[1]!, to: at },
  ];
}

/** Floor over again at full depth where wood was left on it, then the wall: in along a half circle, out along another. */
function finish(trail: Trail, operation: BoreOperation, centre: Point, rough: number, reach: number): void {
  const ccw = operation.finishing === "climb";
  const { feed, slot } = operation.speeds;
  const inner = Math.min(rough, HELIX_SHARE * (operation.cutter.diameter / 2));
  if (operation.allowance.floor > 0) {
    const angle = Math.atan2(here(trail).y - centre.y, here(trail).x - centre.x);
    const back = { x: centre.x + inner * Math.cos(angle), y: centre.y + inner * Math.sin(angle), z: here(trail).z };
    feedTo(trail, back, feed, "link");
    helixDown(
      trail,
      { centre, radius: inner, fromRad: angle, ccw },
      operation.floorZ,
      Math.min(operation.depthPerTurn, pitchOf(inner, operation.rampAngle)),
    );
    const radii = widening(inner, rough, operation.step);
    for (let i = 1; i < radii.length; i++) widen(trail, centre, radii[i - 1]!, radii[i]!, ccw, feed, "finish");
  }
  const tip = here(trail);
  // From a circle of half the reach, so that the way in and the way out touch the wall's circle as half circles.
  const from = Math.min(rough, reach / 2);
  const angle = Math.atan2(tip.y - centre.y, tip.x - centre.x);
  const at = { x: centre.x + from * Math.cos(angle), y: centre.y + from * Math.sin(angle), z: tip.z };
  feedTo(trail, at, feed, "link");
  widen(trail, centre, from, reach, ccw, operation.allowance.wall > 0 ? feed : slot, "finish");
  // A little further round than once, so that nothing shows where the pass begins.
  follow(trail, [overlap(trail, centre, ccw)], operation.floorZ, feed, "finish");
  const wall = here(trail);
  const turn = Math.atan2(wall.y - centre.y, wall.x - centre.x);
  const leave: Segment = {
    kind: "arc",
    from: { x: wall.x, y: wall.y },
    to: centre,
    centre: { x: centre.x + (reach / 2) * Math.cos(turn), y: centre.y + (reach / 2) * Math.sin(turn) },
    ccw,
  };
  follow(trail, [leave], operation.floorZ, feed, "lead");
}

/** An eighth of a turn from where the tip stands. */
function overlap(trail: Trail, centre: Point, ccw: boolean): Segment {
  const from = { x: here(trail).x, y: here(trail).y };
  const whole: Segment = { kind: "arc", from, to: from, centre, ccw };
  return { ...whole, to: pointAt(whole, 0.125) };
}
