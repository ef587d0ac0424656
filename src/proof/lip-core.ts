import { type Lip, type LipWall, lipOf, lipWallOf } from "../parts/lip/lip.ts";
import type { TargetCavity } from "../parts/target.ts";
import { FOOT } from "../parts/walls/half-section.ts";
import { outerOf } from "../parts/walls/outer.ts";
import type { SetUp } from "../plan/setup.ts";
import { nearestOn } from "../shapes/nearest-on.ts";
import type { Point3 } from "../shapes/point.ts";
import { containsPoint, regionSegments } from "../shapes/region.ts";
import { tangentAt } from "../shapes/segment.ts";
import type { TurnedSolid } from "../shapes/turned-solid.ts";

/** The eased lip of one cavity as the proof sees it: how far the middle of a round nose is from touching what must stay. */
export interface LipCore {
  readonly cavity: TargetCavity;
  readonly wall: LipWall;
  readonly lip: Lip;
  /** The middle of a nose must not be lower than this: below, what follows here would not hold. */
  readonly lowest: number;
  /**
   * By how much a ball of radius `nose` about a point keeps clear of wood that must stay, mm; negative: goes into it by as
   * much. Undefined where it cannot be told: beside squares, sharp corners of the turned surface, or too low.
   */
  clearance(c: Point3, nose: number): number | undefined;
}

/** Places along the lip, mm. */
const STEP = 0.15;
const SMOOTH = 1e-4;
/** Places of the core's edge that are bounded together. */
const BUNCH = 24;

/** The cores of all cavities of a set-up whose lips are eased by program. */
export function lipCores(setUp: SetUp): readonly LipCore[] {
  const { round } = setUp;
  if (round === undefined) return [];
  return setUp.target.cavities.flatMap((c) => {
    const ease = c.cavity.lipEase;
    const wall = lipWallOf(c.cavity, c.section, c.zFrom, c.zTo);
    return ease === undefined || wall === undefined ? [] : [coreOf(c, wall, round, ease)];
  });
}

/**
 * Clear of the core by e + ρ is clear of the eased lip by ρ. The nearest place of the core is one of three: on its edge,
 * which is traced; on the face e beneath the turned surface, and then the ball's foot on that surface lies straight above
 * it; or on the face e behind the wall, and then so does its foot there. So it is the least of the way to the edge and of
 * the feet under which there is core. Feet farther than 2e from the edge count in any case: a thin web has no core.
 */
function coreOf(cavity: TargetCavity, wall: LipWall, solid: TurnedSolid, ease: number): LipCore {
  const lip = lipOf(solid, wall, ease, STEP);
  const outer = outerOf(solid);
  const { axis } = solid;
  const slant = Math.hypot(1, wall.tan);
  const edge = edgeOf(lip);
  const segments = regionSegments(wall.section);
  const corners = cornersOf(solid);
  const feet = new Float64Array(FOOT * outer.section.feetAtMost);
  const flat = solid.flatTop;
  const lowest = Math.min(axis.z, (flat ?? Number.POSITIVE_INFINITY) - ease);

  const skinDepth = (x: number, y: number, z: number): number =>
    outer.depth(x, y - axis.y, z - axis.z, Number.POSITIVE_INFINITY);
  /** How far behind the wall, > 0 in the wood. */
  const wallDepth = (x: number, y: number, z: number): number => {
    let near = Number.POSITIVE_INFINITY;
    for (const s of segments) near = Math.min(near, nearestOn(s, { x, y }).distance);
    const inset = containsPoint(wall.section, { x, y }) ? near : -near;
    return ((wall.zFrom - z) * wall.tan - inset) / slant;
  };
  /** A foot on the turned surface with its outward normal. */
  const skinFoot = (d: number, x: number, y: number, z: number, nx: number, ny: number, nz: number): boolean => {
    const behind = wallDepth(x, y, z);
    if (behind <= 0) return false;
    return behind > 2 * ease || d < 0 || wallDepth(x - ease * nx, y - ease * ny, z - ease * nz) >= ease - 1e-9;
  };

  const clearance = (c: Point3, nose: number): number | undefined => {
    const far = ease + nose;
    if (c.z < lowest || c.z - nose < wall.zEnd) return undefined;
    if (solid.squares.some((s) => c.x + far > s.from && c.x - far < s.to)) return undefined;
    const [u, v] = [c.y - axis.y, c.z - axis.z];
    const rho = Math.hypot(u, v);
    if (rho < 1e-6) return undefined;
    let least = edge.distance(c) - far;
    if (skinDepth(c.x, c.y, c.z) >= ease && wallDepth(c.x, c.y, c.z) >= ease) return -far;
    for (const k of corners) {
      if (Math.hypot(k.x - c.x, k.y - rho) >= nose) continue;
      const [y, z] = [axis.y + (u * k.y) / rho, axis.z + (v * k.y) / rho];
      if (wallDepth(k.x, y, z) > 0 && (flat === undefined || z <= flat)) return undefined;
    }
    const n = outer.section.feet(c.x, rho, nose, feet);
    for (let i = 0; i < n; i++) {
      const o = FOOT * i;
      const r = feet[o + 1]!;
      const [x, y, z] = [feet[o]!, axis.y + (u * r) / rho, axis.z + (v * r) / rho];
      if (flat !== undefined && z > flat) continue;
      const [nx, nr] = [feet[o + 3]!, feet[o + 4]!];
      if (skinFoot(feet[o + 2]!, x, y, z, nx, (nr * u) / rho, (nr * v) / rho))
        least = Math.min(least, feet[o + 2]! - nose);
    }
    if (flat !== undefined && c.z - flat < nose && c.z > flat) {
      // Where the flat ends within the nose's reach it has an edge of its own.
      if (outer.section.distance(c.x, Math.hypot(u, flat - axis.z), nose) < nose) return undefined;
      if (skinFoot(c.z - flat, c.x, c.y, flat, 0, 0, 1)) least = Math.min(least, c.z - flat - nose);
    }
    const inside = containsPoint(wall.section, c);
    for (const s of segments) {
      const near = nearestOn(s, c);
      if (near.distance < 1e-9) continue;
      const side = inside ? 1 : -1;
      const a = (side * near.distance - (wall.zFrom - c.z) * wall.tan) / slant;
      if (a >= nose || a <= -ease) continue;
      const by = side / near.distance / slant;
      const [nx, ny, nz] = [(c.x - near.point.x) * by, (c.y - near.point.y) * by, wall.tan / slant];
      const behind = (depth: number): number => skinDepth(c.x - depth * nx, c.y - depth * ny, c.z - depth * nz);
      if ((a > 0 && behind(a) > 2 * ease) || behind(a + ease) >= ease - 1e-9) least = Math.min(least, a - nose);
    }
    return least;
  };
  return { cavity, wall, lip, lowest, clearance };
}

/** Corners of the meridian that stand out, its ends among them: there the surface has no single slope. */
function cornersOf({ meridian }: TurnedSolid): readonly { readonly x: number; readonly y: number }[] {
  const { segments } = meridian;
  return segments.flatMap((s, i) => {
    const next = segments[i + 1];
    const first = i === 0 ? [s.from] : [];
    if (next === undefined) return [...first, s.to];
    const [a, b] = [tangentAt(s, 1), tangentAt(next, 0)];
    // Walked along x, the wood on the right: a turn to the right stands out.
    const standsOut = a.x * b.y - a.y * b.x < -SMOOTH || a.x * b.x + a.y * b.y < 0;
    return standsOut ? [...first, s.to] : first;
  });
}

/** Numbers of one chord: its beginning, its way, one over its length squared, and what it may cut off. */
const CHORD = 8;

/**
 * The core's edge as chords, what each cuts off taken off its distance: half of how far the nearer places lie off the line
 * between their neighbours; a quarter would do where places are evenly apart.
 */
function edgeOf(lip: Lip): { distance(c: Point3): number } {
  const rows: number[] = [];
  for (const { places, closed } of lip.runs) {
    const n = places.length;
    const at = (i: number): Point3 => places[closed ? (i + n) % n : Math.min(n - 1, Math.max(0, i))]!.at;
    const bendAt = (i: number): number => {
      const k = closed ? i : Math.min(n - 2, Math.max(1, i));
      return n < 3 ? 0 : toChord(at(k), at(k - 1), at(k + 1));
    };
    for (let i = 0; i < (closed ? n : n - 1); i++) {
      const [p, q] = [at(i), at(i + 1)];
      const way = [q.x - p.x, q.y - p.y, q.z - p.z] as const;
      const long = way[0] ** 2 + way[1] ** 2 + way[2] ** 2;
      rows.push(p.x, p.y, p.z, ...way, long > 0 ? 1 / long : 0, Math.max(bendAt(i), bendAt(i + 1)) / 2);
    }
  }
  const data = Float64Array.from(rows);
  const count = rows.length / CHORD;
  // Each bunch: a place, and how far from it the rest of the bunch may lie.
  const bunches = Array.from({ length: Math.ceil(count / BUNCH) }, (_, b) => {
    const [from, to] = [b * BUNCH, Math.min(count, (b + 1) * BUNCH)];
    const o = CHORD * ((from + to) >> 1);
    const middle = { x: data[o]!, y: data[o + 1]!, z: data[o + 2]! };
    let reach = 0;
    for (let k = from; k < to; k++) {
      const q = CHORD * k;
      const near = Math.hypot(data[q]! - middle.x, data[q + 1]! - middle.y, data[q + 2]! - middle.z);
      reach = Math.max(reach, near + Math.hypot(data[q + 3]!, data[q + 4]!, data[q + 5]!) + data[q + 7]!);
    }
    return { from, to, middle, reach };
  });
  return {
    distance: (c) => {
      let least = Number.POSITIVE_INFINITY;
      for (const { from, to, middle, reach } of bunches) {
        if (apart(c, middle) - reach >= least) continue;
        for (let k = from; k < to; k++) {
          const o = CHORD * k;
          const x = c.x - data[o]!;
          const y = c.y - data[o + 1]!;
          const z = c.z - data[o + 2]!;
          const dx = data[o + 3]!;
          const dy = data[o + 4]!;
          const dz = data[o + 5]!;
          const t = Math.min(1, Math.max(0, (x * dx + y * dy + z * dz) * data[o + 6]!));
          const d = Math.sqrt((x - t * dx) ** 2 + (y - t * dy) ** 2 + (z - t * dz) ** 2) - data[o + 7]!;
          if (d < least) least = d;
        }
      }
      return least;
    },
  };
}

function apart(a: Point3, b: Point3): number {
  return Math.hypot(a.x - b.x, a.y - b.y, a.z - b.z);
}

/** Distance from c to the chord from a to b, mm. */
export function toChord(c: Point3, a: Point3, b: Point3): number {
  const [dx, dy, dz] = [b.x - a.x, b.y - a.y, b.z - a.z];
  const long = dx * dx + dy * dy + dz * dz;
  const t = long === 0 ? 0 : ((c.x - a.x) * dx + (c.y - a.y) * dy + (c.z - a.z) * dz) / long;
  const s = Math.min(1, Math.max(0, t));
  return Math.hypot(c.x - a.x - s * dx, c.y - a.y - s * dy, c.z - a.z - s * dz);
}
