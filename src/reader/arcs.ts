import type { Point } from "../shapes/point.ts";
import { type Block, has, I, J, K, R } from "./block.ts";
import { complain } from "./log.ts";
import { complainOnce, type Extras, feedTo } from "./moves.ts";
import type { Position } from "./read-move.ts";
import { isStated, type Run } from "./state.ts";

/** Largest difference of the two radii: 0.002 mm or 0.0002 inch (NISTIR 6556 §3.5.3.2), in the text's own unit. */
const MISMATCH_MM = 0.002;
const MISMATCH_INCH = 0.0002;

/** Half a chord may exceed the radius by this share, and is then a semicircle (the reference program's limit). */
const CHORD_SLACK = 1e-12;

/** Arcs whose ends lie closer than this may become whole circles when a controller rounds them, mm. */
const NEARLY_CLOSED = 0.001;

/** How a plane's drawing is laid out: its two coordinates, its centre words, and whether G3 turns ccw in it. */
interface Plane {
  readonly name: "XY" | "XZ" | "YZ";
  readonly first: "x" | "y";
  readonly second: "y" | "z";
  readonly firstCentre: number;
  readonly secondCentre: number;
  /** G18 is looked at from +Y, where X right and Z up is a mirrored drawing (NISTIR 6556 §4.3.6.1). */
  readonly mirrored: boolean;
}

const XY: Plane = { name: "XY", first: "x", second: "y", firstCentre: I, secondCentre: J, mirrored: false };
const XZ: Plane = { name: "XZ", first: "x", second: "z", firstCentre: I, secondCentre: K, mirrored: true };
const YZ: Plane = { name: "YZ", first: "y", second: "z", firstCentre: J, secondCentre: K, mirrored: false };

/** Carries out G2 or G3 (NISTIR 6556 §3.5.3) from where the machine stands to `to`. */
export function arcTo(run: Run, b: Block, clockwise: boolean, to: Position, extras: Extras | undefined): void {
  const { state, log } = run;
  if (!isStated(state, 2)) complainOnce(run, 2, `the plane, ${run.options.lathe === undefined ? "G17" : "G18"}`);
  const plane = state.plane === 170 ? XY : state.plane === 180 ? XZ : YZ;
  const start = pointIn(plane, state.at);
  const end = pointIn(plane, to);
  if (start === undefined || end === undefined) {
    if (!state.lost) complain(log, "rs-l08-position-unknown", "an arc starts where nobody knows");
    state.at = to;
    state.lost = true;
    return;
  }
  const ccw = clockwise === plane.mirrored;
  const centre = has(b, R)
    ? centreFromRadius(run, start, end, b.values[R]! * state.scale, ccw)
    : centreFromOffsets(run, b, plane, start, end);
  if (centre === undefined) return;
  const apart = Math.hypot(end.x - start.x, end.y - start.y);
  if (apart === 0 ? run.options.wholeCircles === false : apart <= NEARLY_CLOSED) {
    complain(log, "rs-l05-arc-nearly-closed", undefined, {
      measured: { value: apart, bound: 0, unit: "mm" },
      limit: { value: NEARLY_CLOSED, unit: "mm", from: "ten times the last decimal written" },
    });
  }
  feedTo(run, to, { kind: "arc", plane: plane.name, centre, ccw }, extras);
}

function pointIn(plane: Plane, p: Position): Point | undefined {
  const x = p[plane.first];
  const y = p[plane.second];
  return x === undefined || y === undefined ? undefined : { x, y };
}

/** Centre format: offsets from the start, in G90 and G91 alike; a missing one is 0 (NISTIR 6556 §3.5.3.2). */
function centreFromOffsets(run: Run, b: Block, plane: Plane, start: Point, end: Point): Point | undefined {
  const { state, log } = run;
  const dx = has(b, plane.firstCentre) ? b.values[plane.firstCentre]! * state.scale : 0;
  const dy = has(b, plane.secondCentre) ? b.values[plane.secondCentre]! * state.scale : 0;
  const centre = { x: start.x + dx, y: start.y + dy };
  const atStart = Math.hypot(dx, dy);
  const atEnd = Math.hypot(end.x - centre.x, end.y - centre.y);
  if (atStart === 0 || atEnd === 0) {
    complain(log, "rs-e38-arc-zero-radius");
    return undefined;
  }
  const allowed = state.scale === 1 ? MISMATCH_MM : MISMATCH_INCH * state.scale;
  const mismatch = Math.abs(atStart - atEnd);
  if (mismatch > allowed) {
    complain(log, "rs-e37-arc-radius-mismatch", undefined, {
      measured: { value: mismatch, bound: 0, unit: "mm" },
      limit: { value: allowed, unit: "mm", from: "NISTIR 6556 §3.5.3.2" },
    });
    return undefined;
  }
  return centre;
}

/**
 * Radius format: R > 0 turns at most 180°, R < 0 at least 180° (NISTIR 6556 §3.5.3.1). The centre lies on the chord's
 * middle normal, √(R² − (chord/2)²) from it: to the left of the way for a short counter-clockwise arc.
 */
function centreFromRadius(run: Run, start: Point, end: Point, radius: number, ccw: boolean): Point | undefined {
  const dx = end.x - start.x;
  const dy = end.y - start.y;
  const chord = Math.hypot(dx, dy);
  if (chord === 0) {
    complain(run.log, "rs-e40-arc-radius-no-chord");
    return undefined;
  }
  const half = chord / 2;
  const share = half / Math.abs(radius);
  if (!(share <= 1 + CHORD_SLACK)) {
    complain(run.log, "rs-e39-arc-radius-too-small", undefined, {
      measured: { value: Math.abs(radius), bound: 0, unit: "mm" },
      limit: { value: half, unit: "mm", from: "half the distance between the arc's ends" },
    });
    return undefined;
  }
  const away = share >= 1 - CHORD_SLACK ? 0 : Math.sqrt((Math.abs(radius) - half) * (Math.abs(radius) + half));
  const left = ccw === radius > 0 ? away : -away;
  return { x: start.x + dx / 2 - (dy / chord) * left, y: start.y + dy / 2 + (dx / chord) * left };
}
