import { faceFrame } from "../parts/faces.ts";
import { insetOf, isUpright, leanOf } from "../parts/lean.ts";
import type { Cavity, Keep } from "../parts/workpiece.ts";
import type { SetUp } from "../plan/setup.ts";
import { flattenRegion } from "../shapes/flatten.ts";
import { compose, type Frame, inverse } from "../shapes/frame.ts";
import { type Hollow, heightAt } from "../shapes/hollow.ts";
import type { Box3, Point } from "../shapes/point.ts";
import type { Polygons } from "../shapes/polygons.ts";
import type { Region } from "../shapes/region.ts";
import type { TurnedSolid } from "../shapes/turned-solid.ts";
import { downwards, type OpenColumns, takeFrom, upwards } from "./columns.ts";
import { gridOver } from "./grid.ts";
import { both, rowNear, rowWithin, type Stretches, without } from "./stretches.ts";
import { turnedColumns } from "./turned.ts";
import { type Grid, halfDiagonal, type Wood } from "./wood.ts";

/**
 * A cavity that was cut before this set-up: a prism, or a frustum with round inset, beneath one face of the wood. The
 * cutter came in from that face, so what lies above the section is open too. Depths mm below the face; ∞ where it goes
 * through.
 */
export interface Taken {
  /** Set-up coordinates → that face's (surface at 0, wood beneath at negative z). */
  readonly toFace: Frame;
  /** Outline at depth `from`. */
  readonly section: Region;
  readonly from: number;
  readonly to: number;
  /** How fast the walls lean inwards with depth. */
  readonly slopeTan: number;
  /** Instead of an even slope; begins at x ≥ 0. */
  readonly hollow?: Hollow;
  readonly keeps: readonly Keep[];
}

/** The cavities that earlier set-ups of the same workpiece have cut, as they lie in this one. */
export function takenBefore(setUp: SetUp): readonly Taken[] {
  return setUp.earlier.map((c: Cavity) => ({
    toFace: compose(inverse(setUp.frame), faceFrame(setUp.workpiece.size, c.face)),
    section: c.section,
    from: c.from,
    to: c.through ? Number.POSITIVE_INFINITY : c.to,
    slopeTan: c.slopeTan,
    ...(c.hollow === undefined ? {} : { hollow: c.hollow }),
    keeps: c.keeps,
  }));
}

/** Chord error of sections; both bounds are widened by it. mm. */
const FLATTENING = 0.0005;

/** The same beneath leaning walls, where each column asks for its distance to every chord. mm. */
const LEANING_FLATTENING = 0.02;

/**
 * The wood as it lies in the machine: a full blank, less what earlier set-ups took. `most` loses only what was surely
 * taken at every point of a cell, `least` all that may have been taken at any.
 * @param cell side of a cell, mm; see `cellFor`
 * @param round the wood itself, where it is turned and does not fill the blank
 * @throws RangeError when a face of `taken` stands neither level nor upright in the set-up
 */
export function startWood(blank: Box3, cell: number, taken: readonly Taken[] = [], round?: TurnedSolid): Wood {
  const grid = gridOver(blank, cell);
  const full = round === undefined ? undefined : turnedColumns(grid, round);
  const most = full?.most ?? fullColumns(grid, blank, "most");
  const least = full?.least ?? fullColumns(grid, blank, "least");
  for (const t of taken) {
    const lie = lieOf(t.toFace);
    const chord = !isUpright(t) ? LEANING_FLATTENING : FLATTENING;
    const section = flattenRegion(t.section, chord);
    const keeps = t.keeps.map((k) => ({ from: k.from, area: flattenRegion(k.area, chord) }));
    for (const [columns, which] of [
      [most, "most"],
      [least, "least"],
    ] as const) {
      const job: Taking = { grid, blank, columns, which, by: halfDiagonal(grid) + chord, t, section, keeps };
      if (lie === "level") takeLevel(job);
      else takeUpright(job);
    }
  }
  return { blank, grid, most, least };
}

interface Taking {
  readonly grid: Grid;
  readonly blank: Box3;
  readonly columns: OpenColumns;
  readonly which: "most" | "least";
  /** Half a cell's diagonal and the chord error. */
  readonly by: number;
  readonly t: Taken;
  readonly section: Polygons;
  readonly keeps: readonly { readonly from: number; readonly area: Polygons }[];
}

/** All the blank: `most` in every cell that it touches, `least` in those that it fills. */
function fullColumns(grid: Grid, blank: Box3, which: "most" | "least"): OpenColumns {
  const n = grid.nx * grid.ny;
  const low = new Float32Array(n).fill(Number.POSITIVE_INFINITY);
  const high = new Float32Array(n).fill(Number.NEGATIVE_INFINITY);
  const more = which === "most";
  const cells = (from: number, to: number, origin: number): [number, number] => {
    const a = (from - origin) / grid.cell;
    const b = (to - origin) / grid.cell;
    return more ? [Math.floor(a + 1e-9), Math.ceil(b - 1e-9)] : [Math.ceil(a - 1e-9), Math.floor(b + 1e-9)];
  };
  const [i0, i1] = cells(blank.min.x, blank.max.x, grid.origin.x);
  const [j0, j1] = cells(blank.min.y, blank.max.y, grid.origin.y);
  for (let j = j0; j < j1; j++) {
    low.fill(more ? downwards(blank.min.z) : upwards(blank.min.z), j * grid.nx + i0, j * grid.nx + i1);
    high.fill(more ? upwards(blank.max.z) : downwards(blank.max.z), j * grid.nx + i0, j * grid.nx + i1);
  }
  return { low: [low], high: [high], lowIsShared: false };
}

function lieOf(frame: Frame): "level" | "upright" {
  const up = Math.abs(frame.rotation[2][2]);
  if (up > 1 - 1e-9) return "level";
  const inFace = frame.rotation.slice(0, 2).some((row) => Math.abs(row[2]) > 1 - 1e-9);
  if (up < 1e-9 && inFace) return "upright";
  throw new RangeError("earlier cuts lie beneath a face that is level or upright in the set-up");
}

/** Distance that a section is drawn in by (out where negative), for this bound. */
function inset(job: Taking, more: number): number {
  return job.which === "most" ? job.by + more : -job.by + more;
}

/** A cavity beneath the face that is up or down: prisms row by row, frusta cell by cell. */
function takeLevel(job: Taking): void {
  const { grid, t, columns, which } = job;
  const back = inverse(t.toFace);
  const toPlan = (polygons: Polygons): Polygons =>
    polygons.map((ring) =>
      ring.map((p) => {
        const [a, b] = back.rotation;
        return { x: a[0] * p.x + a[1] * p.y + back.shift.x, y: b[0] * p.x + b[1] * p.y + back.shift.y };
      }),
    );
  const section = toPlan(job.section);
  const keeps = job.keeps.map((k) => ({ from: k.from, area: toPlan(k.area) }));
  const heightAt = (depth: number) => back.rotation[2][2] * -depth + back.shift.z;
  const take = (c: number, depth: number) => {
    if (depth <= t.from) return;
    const a = heightAt(-1);
    const b = heightAt(depth);
    takeFrom(columns, c, Math.min(a, b), Math.max(a, b), which);
  };
  const end = Math.min(t.to, job.blank.max.z - job.blank.min.z + 1);
  for (let j = 0; j < grid.ny; j++) {
    const y = grid.origin.y + (j + 0.5) * grid.cell;
    const whole = rowWithin(section, y, inset(job, 0));
    if (whole.length === 0) continue;
    // Of a leaning wall's cavity, the middle is open all the way; distances are needed at the rim only.
    const middle = isUpright(t) ? whole : rowWithin(section, y, inset(job, leanAt(t, end)));
    const down = (cells: Stretches, to: number) => {
      eachCell(grid, both(cells, middle), (i) => take(j * grid.nx + i, to));
      if (!isUpright(t)) {
        eachCell(grid, without(cells, middle), (i) => take(j * grid.nx + i, leaning(job, section, i, y, to)));
      }
    };
    let plain = whole;
    for (const k of keeps) {
      // What may be kept stays in `most`; what is surely kept stays in `least`.
      const kept = rowWithin(k.area, y, -inset(job, 0));
      down(both(plain, kept), Math.min(end, k.from));
      plain = without(plain, kept);
    }
    down(plain, end);
  }
}

/** How far the walls have come in at a depth below the face, mm, ≥ 0. */
function leanAt(t: Taken, depth: number): number {
  return insetOf(leanOf(t, -t.from), -depth);
}

/** Depth that a leaning wall leaves open over a cell's centre, at most `end`. */
function leaning(job: Taking, section: Polygons, i: number, y: number, end: number): number {
  const p = { x: job.grid.origin.x + (i + 0.5) * job.grid.cell, y };
  const room = distanceToEdges(section, p) * (insideOf(section, p) ? 1 : -1) - inset(job, 0);
  const { t } = job;
  const below = t.hollow === undefined ? Math.max(0, room) / t.slopeTan : -heightAt(t.hollow, Math.max(0, room));
  return Math.min(end, t.from + below);
}

/** A cavity beneath an upright face: in each column, stretches of height. */
function takeUpright(job: Taking): void {
  const { grid, t, columns, which } = job;
  const [u, v, w] = t.toFace.rotation;
  const shift = t.toFace.shift;
  const vUp = Math.abs(v[2]) > 0.5;
  const up = vUp ? v : u;
  const side = vUp ? u : v;
  const upShift = vUp ? shift.y : shift.x;
  const sideShift = vUp ? shift.x : shift.y;
  // Rows of constant sideways place; stretches run along the upright direction.
  const lay = (polygons: Polygons): Polygons =>
    polygons.map((ring) => ring.map((p): Point => (vUp ? { x: p.y, y: p.x } : p)));
  const section = lay(job.section);
  const keeps = job.keeps.map((k) => ({ from: k.from, area: lay(k.area) }));
  const more = which === "most";
  const seen = new Map<number, Stretches>();
  for (let j = 0; j < grid.ny; j++) {
    for (let i = 0; i < grid.nx; i++) {
      const x = grid.origin.x + (i + 0.5) * grid.cell;
      const y = grid.origin.y + (j + 0.5) * grid.cell;
      const depth = -(w[0] * x + w[1] * y + shift.z);
      const margin = more ? job.by : -job.by;
      if (depth + margin > t.to) continue;
      const s = side[0] * x + side[1] * y + sideShift;
      const lean = leanAt(t, depth + margin);
      const key = Math.round(s * 1e6);
      let stretches = lean === 0 ? seen.get(key) : undefined;
      if (stretches === undefined) {
        // An upright wall: a column's cell spreads sideways only, so heights stay exact.
        const upright = isUpright(t);
        stretches = upright ? rowNear(section, s, job.by, FLATTENING, more) : rowWithin(section, s, inset(job, lean));
        if (lean === 0) seen.set(key, stretches);
      }
      for (const k of keeps) {
        if (depth + margin > k.from) stretches = without(stretches, rowWithin(k.area, s, -inset(job, 0)));
      }
      for (const [lo, hi] of stretches) {
        const a = (lo - upShift) / up[2];
        const b = (hi - upShift) / up[2];
        takeFrom(columns, j * grid.nx + i, Math.min(a, b), Math.max(a, b), which);
      }
    }
  }
}

function eachCell(grid: Grid, stretches: Stretches, visit: (i: number) => void): void {
  for (const [lo, hi] of stretches) {
    const first = Math.max(0, Math.ceil((lo - grid.origin.x) / grid.cell - 0.5));
    const last = Math.min(grid.nx - 1, Math.floor((hi - grid.origin.x) / grid.cell - 0.5));
    for (let i = first; i <= last; i++) visit(i);
  }
}

function distanceToEdges(polygons: Polygons, p: Point): number {
  let best = Number.POSITIVE_INFINITY;
  for (const ring of polygons) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const a = ring[j]!;
      const b = ring[i]!;
      const dx = b.x - a.x;
      const dy = b.y - a.y;
      const l2 = dx * dx + dy * dy;
      const s = l2 > 0 ? Math.max(0, Math.min(1, ((p.x - a.x) * dx + (p.y - a.y) * dy) / l2)) : 0;
      best = Math.min(best, Math.hypot(p.x - a.x - s * dx, p.y - a.y - s * dy));
    }
  }
  return best;
}

function insideOf(polygons: Polygons, p: Point): boolean {
  return rowWithin(polygons, p.y, 0).some(([lo, hi]) => p.x >= lo && p.x <= hi);
}
