import { type Lip, type LipPlace, type LipRun, type LipWall, lipPassAngle, outwards } from "../parts/lip/lip.ts";
import { outerOf } from "../parts/walls/outer.ts";
import type { Point3 } from "../shapes/point.ts";
import { distanceToBoundary } from "../shapes/region.ts";
import { tangentAt } from "../shapes/segment.ts";
import type { TurnedSolid } from "../shapes/turned-solid.ts";
import { HOLLOW_RIDGE } from "./levels.ts";
import type { LipPass } from "./operation.ts";

/** Passes of a round nose over an eased lip, and how much of the lip they reach. */
export interface LipPasses {
  /** From the wall up to the turned surface. */
  readonly passes: readonly LipPass[];
  /** Share of the lip's length that the nose gets at, 0 to 1. */
  readonly reached: number;
}

/** A nose may come nearer to anything else by this, mm: half of what the proof allows. */
const SLACK = 0.004;
/** Ridges aimed at: a little lower than stated, for the chords between places. */
const RIDGE = 0.9 * HOLLOW_RIDGE;
/** Places dropped from a pass lie this near to the chord that stands for them, mm. */
const CHORD = 0.002;
const SMOOTH = 1e-4;

/** The ways of a round nose's tip along an eased lip, its middle kept e + ρ from the core's edge. */
export function lipPasses(lip: Lip, wall: LipWall, solid: TurnedSolid, nose: number): LipPasses {
  const fits = fitter(lip, wall, solid, nose);
  const angle = lipPassAngle(lip.ease, nose, RIDGE);
  let all = 0;
  let good = 0;
  const passes: LipPass[] = [];
  for (const run of lip.runs) {
    const ok = run.places.map(fits);
    all += ok.length;
    good += ok.filter(Boolean).length;
    for (const stretch of stretchesOf(run, ok)) {
      const count = Math.max(1, Math.ceil(Math.max(...stretch.places.map((p) => p.turn)) / angle - 1e-9));
      for (let k = 0; k <= count; k++) passes.push(passOf(stretch, k / count, lip.ease + nose, nose));
    }
  }
  return { passes, reached: all === 0 ? 0 : good / all };
}

function passOf(run: LipRun, share: number, far: number, nose: number): LipPass {
  const points = run.places.map((p): Point3 => {
    const c = middleAt(p, share, far);
    return { x: c.x, y: c.y, z: c.z - nose };
  });
  const first = points[0]!;
  return { points: thinned(run.closed ? [...points, first] : points), closed: run.closed };
}

function middleAt(p: LipPlace, share: number, far: number): Point3 {
  const n = outwards(p, share);
  return { x: p.at.x + far * n.x, y: p.at.y + far * n.y, z: p.at.z + far * n.z };
}

/** Whether a nose touches the lip at a place from wall to skin and nothing else anywhere. */
function fitter(lip: Lip, wall: LipWall, solid: TurnedSolid, nose: number): (p: LipPlace) => boolean {
  const outer = outerOf(solid);
  const far = lip.ease + nose;
  const slant = Math.hypot(1, wall.tan);
  const corners = sharpCornersOf(solid);
  const spots = lip.runs.flatMap((r) => r.places.map((q) => q.at));
  const lowest = Math.min(solid.axis.z, (solid.flatTop ?? Number.POSITIVE_INFINITY) - lip.ease);
  const flat = solid.flatTop;
  return (p) => {
    const above = middleAt(p, 1, far);
    const beside = middleAt(p, 0, far);
    if (beside.z < lowest || beside.z - nose < wall.zEnd) return false;
    const air = (distanceToBoundary(wall.section, beside) - (wall.zFrom - beside.z) * wall.tan) / slant;
    if (air < nose - SLACK) return false;
    const out = -outer.depth(above.x, above.y - solid.axis.y, above.z - solid.axis.z, Number.POSITIVE_INFINITY);
    if (out < nose - SLACK) return false;
    for (const c of [beside, middleAt(p, 0.5, far), above]) {
      const rho = Math.hypot(c.y - solid.axis.y, c.z - solid.axis.z);
      if (corners.some((k) => Math.hypot(c.x - k.x, rho - k.y) < nose)) return false;
      // A half's flat has an edge of its own where it ends.
      if (
        flat !== undefined &&
        c.z < flat + nose &&
        outer.section.distance(c.x, Math.hypot(c.y - solid.axis.y, flat - solid.axis.z), nose) < nose
      )
        return false;
      if (solid.squares.some((s) => c.x + far > s.from && c.x - far < s.to)) return false;
      if (spots.some((q) => Math.hypot(c.x - q.x, c.y - q.y, c.z - q.z) < far - SLACK)) return false;
    }
    return true;
  };
}

/** Corners of the meridian that stand out, its ends among them: there the surface has no single slope. */
function sharpCornersOf({ meridian }: TurnedSolid): readonly { readonly x: number; readonly y: number }[] {
  const { segments } = meridian;
  return [
    segments[0]!.from,
    ...segments.flatMap((s, i) => {
      const next = segments[i + 1];
      if (next === undefined) return [s.to];
      const [a, b] = [tangentAt(s, 1), tangentAt(next, 0)];
      return a.x * b.y - a.y * b.x < -SMOOTH || a.x * b.x + a.y * b.y < 0 ? [s.to] : [];
    }),
  ];
}

function stretchesOf(run: LipRun, ok: readonly boolean[]): readonly LipRun[] {
  if (ok.every(Boolean)) return [run];
  const n = run.places.length;
  const begin = run.closed ? ok.indexOf(false) : -1;
  const out: LipRun[] = [];
  let here: LipPlace[] = [];
  for (let k = 1; k <= n; k++) {
    const i = run.closed ? (begin + k) % n : k - 1;
    if (ok[i]!) here.push(run.places[i]!);
    if ((!ok[i]! || k === n) && here.length > 0) {
      if (here.length > 1) out.push({ closed: false, places: here });
      here = [];
    }
  }
  return out;
}

/** Points of a way, those left out that lie within `CHORD` of the chord over them. */
function thinned(points: readonly Point3[]): readonly Point3[] {
  const out: Point3[] = [points[0]!];
  let from = 0;
  for (let to = 2; to < points.length; to++) {
    if (withinChord(points, from, to)) continue;
    out.push(points[to - 1]!);
    from = to - 1;
  }
  out.push(points[points.length - 1]!);
  return out;
}

function withinChord(points: readonly Point3[], from: number, to: number): boolean {
  const [a, b] = [points[from]!, points[to]!];
  const [dx, dy, dz] = [b.x - a.x, b.y - a.y, b.z - a.z];
  const long = dx * dx + dy * dy + dz * dz;
  for (let k = from + 1; k < to; k++) {
    const p = points[k]!;
    const t = long === 0 ? 0 : ((p.x - a.x) * dx + (p.y - a.y) * dy + (p.z - a.z) * dz) / long;
    if (Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy, p.z - a.z - t * dz) > CHORD) return false;
  }
  return true;
}
