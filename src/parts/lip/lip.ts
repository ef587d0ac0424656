import type { Point, Point3 } from "../../shapes/point.ts";
import type { Region } from "../../shapes/region.ts";
import { lengthOf, pointAt, type Segment, tangentAt } from "../../shapes/segment.ts";
import type { TurnedSolid } from "../../shapes/turned-solid.ts";
import { type Outer, outerOf } from "../walls/outer.ts";
import type { Cavity } from "../workpiece.ts";

/**
 * The eased lip of a recess in round stock. Let the core be all wood that lies at least the ease's radius e beneath the
 * turned surface and as far behind the recess's wall. Wood farther than e from the core is taken: a ball of radius e
 * rolled beneath the edge touches all that stays. The core's own edge is a curve, e beneath both surfaces; around it the
 * eased lip is a tube of radius e, tangent to both. Filled from the target, read by plan and proof. Set-up coordinates, mm.
 */
export interface Lip {
  readonly ease: number;
  readonly runs: readonly LipRun[];
}

/** One stretch of the core's edge, its places in the sense of the outline: the recess on the left. */
export interface LipRun {
  readonly closed: boolean;
  readonly places: readonly LipPlace[];
}

/** A place of the core's edge. */
export interface LipPlace {
  readonly at: Point3;
  /** Unit normals: of the wall, into the recess; and of the turned surface, outwards. Both square to the edge. */
  readonly wall: Point3;
  readonly skin: Point3;
  /** Angle from one to the other, rad. */
  readonly turn: number;
}

/** The straight upper part of a recess's wall: at height z it stands (zFrom − z)·tan inside the section, down to zEnd. */
export interface LipWall {
  readonly section: Region;
  readonly zFrom: number;
  readonly zEnd: number;
  readonly tan: number;
}

/** Joints that turn by less than this are smooth, as the sine of the angle. */
const SMOOTH = 1e-4;
/** The core's edge is found this exactly, mm. */
const FOUND = 1e-8;
const MOST_STEPS = 400;
/** For slopes of the depth, mm. */
const STEP = 1e-4;
/** Where the depth has no single slope as steep as this, two parts of the surface are as near: there is no tube. */
const SINGLE = 0.9995;
/** Surfaces that turn into each other by less than this have no edge to ease, rad. */
const NO_EDGE = 0.02;

/** The wall of a cavity whose mouth is to be eased; undefined where it does not begin straight. */
export function lipWallOf(
  cavity: Pick<Cavity, "hollow" | "slopeTan">,
  section: Region,
  zFrom: number,
  zTo: number,
): LipWall | undefined {
  const first = cavity.hollow?.segments[0];
  if (cavity.hollow === undefined) return { section, zFrom, zEnd: zTo, tan: cavity.slopeTan };
  if (first?.kind !== "line" || first.from.y <= first.to.y) return undefined;
  const tan = (first.to.x - first.from.x) / (first.from.y - first.to.y);
  return { section, zFrom, zEnd: zFrom + first.to.y, tan };
}

/** True where the outline has no sharp corner: only then is the lip one smooth edge. */
export function isSmooth(section: Region): boolean {
  return section.loops.every((loop) =>
    loop.every((s, i) => {
      const [a, b] = [tangentAt(s, 1), tangentAt(loop[(i + 1) % loop.length]!, 0)];
      return Math.abs(a.x * b.y - a.y * b.x) < SMOOTH && a.x * b.x + a.y * b.y > 0;
    }),
  );
}

/**
 * The core's edge all along an outline. Straight down each line of the wall's own slope, e behind it, the first place e
 * beneath the turned surface is found by steps no longer than what still lacks: depth changes no faster than places do,
 * so none is stepped over. Where there is no wood there is none.
 * @param step mm between places along the outline
 */
export function lipOf(solid: TurnedSolid, wall: LipWall, ease: number, step: number): Lip {
  const outer = outerOf(solid);
  const top = solid.axis.z + Math.max(outer.section.most, ...solid.squares.map((s) => s.side));
  const runs = wall.section.loops.flatMap((loop) => {
    const found = stationsOf(loop, step).map((s) => placeOn(solid, outer, wall, ease, top, s));
    return stretches(found);
  });
  return { ease, runs };
}

interface Station {
  readonly point: Point;
  readonly inwards: Point;
}

function stationsOf(loop: readonly Segment[], step: number): readonly Station[] {
  return loop.flatMap((s) => {
    const count = Math.max(1, Math.ceil(lengthOf(s) / step));
    return Array.from({ length: count }, (_, i): Station => {
      const along = tangentAt(s, i / count);
      return { point: pointAt(s, i / count), inwards: { x: -along.y, y: along.x } };
    });
  });
}

function placeOn(
  solid: TurnedSolid,
  outer: Outer,
  wall: LipWall,
  ease: number,
  top: number,
  { point, inwards }: Station,
): LipPlace | undefined {
  const slant = Math.hypot(1, wall.tan);
  const at = (z: number): Point3 => {
    const inset = (wall.zFrom - z) * wall.tan - ease * slant;
    return { x: point.x + inwards.x * inset, y: point.y + inwards.y * inset, z };
  };
  const depth = (p: Point3): number =>
    outer.depth(p.x, p.y - solid.axis.y, p.z - solid.axis.z, Number.POSITIVE_INFINITY);
  let z = top;
  for (let n = 0; ; n++) {
    const lacks = ease - depth(at(z));
    if (lacks < FOUND) break;
    z -= lacks / slant;
    if (z < wall.zEnd || n > MOST_STEPS) return undefined;
  }
  const p = at(z);
  const slope = (dx: number, dy: number, dz: number): number =>
    (depth({ x: p.x + dx, y: p.y + dy, z: p.z + dz }) - depth({ x: p.x - dx, y: p.y - dy, z: p.z - dz })) / (2 * STEP);
  const g = { x: slope(STEP, 0, 0), y: slope(0, STEP, 0), z: slope(0, 0, STEP) };
  const steep = Math.hypot(g.x, g.y, g.z);
  if (steep < SINGLE) return undefined;
  const skin = { x: -g.x / steep, y: -g.y / steep, z: -g.z / steep };
  const normal = { x: inwards.x / slant, y: inwards.y / slant, z: wall.tan / slant };
  const cos = normal.x * skin.x + normal.y * skin.y + normal.z * skin.z;
  const turn = Math.acos(Math.min(1, Math.max(-1, cos)));
  return turn < NO_EDGE ? undefined : { at: p, wall: normal, skin, turn };
}

/** Places that follow each other, as runs; one that goes all round is closed. */
function stretches(found: readonly (LipPlace | undefined)[]): readonly LipRun[] {
  const gap = found.indexOf(undefined);
  if (gap < 0) return [{ closed: true, places: found as readonly LipPlace[] }];
  const runs: LipRun[] = [];
  let run: LipPlace[] = [];
  for (let k = 1; k <= found.length; k++) {
    const place = found[(gap + k) % found.length];
    if (place !== undefined) run.push(place);
    else {
      if (run.length > 1) runs.push({ closed: false, places: run });
      run = [];
    }
  }
  return runs;
}

/** Unit direction out of the tube, a share of the way from the wall's normal to the skin's. */
export function outwards({ wall, skin, turn }: LipPlace, share: number): Point3 {
  const sin = Math.sin(turn);
  const a = Math.sin((1 - share) * turn) / sin;
  const b = Math.sin(share * turn) / sin;
  return { x: a * wall.x + b * skin.x, y: a * wall.y + b * skin.y, z: a * wall.z + b * skin.z };
}

/**
 * Angle between passes of a round nose about the tube that leaves ridges of a height between them, rad. The noses' middles
 * lie on a circle of radius e + ρ; half-way between two, they leave wood up to d = (e + ρ) cos(φ/2) − √(ρ² − (e + ρ)² sin²(φ/2)).
 * Source: plane geometry.
 */
export function lipPassAngle(ease: number, nose: number, ridge: number): number {
  const far = ease + nose;
  const left = (angle: number): number => {
    const sin = far * Math.sin(angle / 2);
    return sin >= nose
      ? Number.POSITIVE_INFINITY
      : far * Math.cos(angle / 2) - Math.sqrt(nose * nose - sin * sin) - ease;
  };
  let [low, high] = [0, Math.PI / 2];
  for (let k = 0; k < 50; k++) {
    const m = (low + high) / 2;
    if (left(m) > ridge) high = m;
    else low = m;
  }
  return low;
}
