import { flattenRegion } from "../../shapes/flatten.ts";
import { heightAt, shiftedHollow } from "../../shapes/hollow.ts";
import { largestInscribed } from "../../shapes/inscribed.ts";
import { boundsOfRegion, type Region } from "../../shapes/region.ts";
import { line, pointAt, radiusOf, type Segment, sweepRad, tangentAt } from "../../shapes/segment.ts";
import type { FingerRoom } from "../turned-piece.ts";
import type { AxisBox } from "./outer.ts";
import { signedDistance } from "./outline-distance.ts";
import { moveOf, type RecessMove, type SetUpErrors } from "./set-up-errors.ts";

/** What of a finger room the law of wall and lip reads. */
export type HollowRoom = Pick<FingerRoom, "section" | "hollow" | "depth" | "cut">;

/** How a place of the lattice stands to the outline's middle line: on the surface, a little beyond, or far beyond. */
export const ON_SURFACE = 0;
export const JUST_BEYOND = 1;
export const FAR_BEYOND = 2;

/** Places where the cells' borders cross, as meant: place (i, j) at i × rows + j. Corners of chain and outline are among them. */
export interface Lattice {
  /** g of each column, and the first column of each closed loop, with the number of all at the end. */
  readonly columns: Float64Array;
  readonly loops: readonly number[];
  /** Row j lies at c = j. */
  readonly rows: number;
  /** x, u, v of each place. */
  readonly at: Float64Array;
  readonly beyond: Uint8Array;
}

/** A recess's surface as meant, for laying into a blank with set-up errors: samples are the same for all of them. */
export interface RecessSheet {
  readonly lattice: Lattice;
  /** The surface where errors of zero, angle and tilt put it; those of sizes are the sheet's own. */
  laid(errors: SetUpErrors): RecessSurface;
}

/**
 * A recess's surface as a sheet of cells: along its outline by g (one cell a unit), down its wall and over its floor by c.
 * Places are in axis coordinates, set-up errors applied. Beyond the outline's own middle line a place is not on the
 * surface: `spare` tells.
 */
export interface RecessSurface {
  readonly lattice: Lattice;
  /** Cells along the outline and down the chain. */
  readonly along: number;
  readonly down: number;
  /** Where the eased edge ends and the wall to be judged begins, in c. */
  readonly judgedFrom: number;
  /** Lowest height of the recess as meant, in axis coordinates, mm. */
  readonly lowest: number;
  readonly move: RecessMove;
  /** Puts x, u, v at 0, 1, 2 and the distance inside the outline at 3, and as meant at 4, 5, 6. */
  place(g: number, c: number, out: Float64Array): void;
  /** How much farther from the outline than its own place a point of the plane (as meant) is: < 0 beyond the middle line. */
  spare(out: Float64Array): number;
  /** No two points of a patch lie farther apart than twice this; from its middle no farther than this. */
  reach(g0: number, g1: number, c0: number, c1: number): number;
  /** A box around a patch. */
  box(g0: number, g1: number, c0: number, c1: number): AxisBox;
  /** Whether a point, errors applied, lies in the air of the recess. */
  inAir(x: number, u: number, v: number): boolean;
  /** Unit normal of the surface into the recess's air, errors applied, at (g, c) as an end of a cell of the chain. */
  normal(g: number, c: number, cell: number, out: Float64Array): void;
  /** Direction in plan from the outline inwards, at g. */
  inwards(g: number): { readonly x: number; readonly y: number };
  /** The outline's own place at g, a hair beneath the plane where the recess begins; written as by `place`. */
  placeOutline(g: number, out: Float64Array): void;
}

interface Station {
  readonly segment: Segment | undefined;
  readonly corner: { readonly x: number; readonly y: number; readonly from: number; readonly turn: number } | undefined;
  readonly t0: number;
  readonly t1: number;
  /** Level-line length of the cell, at most, and the angle it turns through. */
  readonly width: number;
  readonly turn: number;
}

interface ChainCell {
  readonly segment: Segment;
  readonly t0: number;
  readonly t1: number;
  readonly length: number;
  readonly bulge: number;
}

/** The height of the plane where a room's section and hollow begin, above the axis, mm. */
export interface SurfaceOptions {
  readonly mouth: number;
  /** Highest wood, above the axis: the wall is carried up to it. */
  readonly highest: number;
  readonly step: number;
  /** Error of the bit's diameter, mm. */
  readonly bit: number;
  /** Narrower all round by this (wider when negative), mm: for asking how wide it may be. */
  readonly narrower: number;
}

/** Lays cells over a recess's surface. */
export function recessSheet(room: HollowRoom, o: SurfaceOptions): RecessSheet {
  const shift = o.narrower - o.bit / 2;
  const hollow = shift === 0 ? room.hollow : shiftedHollow(room.hollow, shift);
  const chain = hollow.segments;
  const first = chain[0];
  const last = chain[chain.length - 1];
  if (first === undefined || last === undefined) throw new RangeError("an empty hollow has no surface");
  const widest = inscribedOf(room.section);
  const cells: ChainCell[] = [];
  const lead = o.highest + 1 - o.mouth - first.from.y;
  if (lead > 0) pushCells(cells, line({ x: first.from.x, y: first.from.y + lead }, first.from), o.step);
  let judgedFrom = cells.length;
  for (const [i, s] of chain.entries()) {
    pushCells(cells, s, o.step);
    if (i === 0 && room.hollow.segments[0]!.kind === "arc" && room.hollow.segments[0]!.from.x < 0)
      judgedFrom = cells.length;
  }
  const eased = judgedFrom > 0 && chain[0]!.kind === "arc" && room.hollow.segments[0]!.from.x < 0;
  if (last.to.x < widest) pushCells(cells, line(last.to, { x: widest, y: last.to.y }), o.step);
  const reachIn = Math.max(widest, last.to.x);
  const reachOut = Math.min(0, first.from.x);
  const stations: Station[] = [];
  const loops: number[] = [0];
  for (const loop of room.section.loops) {
    pushLoop(stations, loop, reachOut, reachIn, o.step);
    loops.push(stations.length);
  }
  const box = boundsOfRegion(room.section);
  if (box === undefined) throw new RangeError("a recess without an outline");
  const middle = (box.min.x + box.max.x) / 2;
  const border = signedDistance(room.section);
  const floor = last.to.y;

  const plan = new Float64Array(4);
  const stationAt = (g: number): void => {
    const k = Math.min(stations.length - 1, Math.max(0, Math.floor(g)));
    const s = stations[k]!;
    const t = s.t0 + (g - k) * (s.t1 - s.t0);
    if (s.corner) {
      const a = s.corner.from + t * s.corner.turn;
      plan[0] = s.corner.x;
      plan[1] = s.corner.y;
      plan[2] = Math.cos(a);
      plan[3] = Math.sin(a);
      return;
    }
    const seg = s.segment!;
    if (seg.kind === "line") {
      const dx = seg.to.x - seg.from.x;
      const dy = seg.to.y - seg.from.y;
      const l = Math.sqrt(dx * dx + dy * dy);
      plan[0] = seg.from.x + t * dx;
      plan[1] = seg.from.y + t * dy;
      plan[2] = -dy / l;
      plan[3] = dx / l;
      return;
    }
    const p = pointAt(seg, t);
    const r = radiusOf(seg) * (seg.ccw ? -1 : 1);
    plan[0] = p.x;
    plan[1] = p.y;
    plan[2] = (p.x - seg.centre.x) / r;
    plan[3] = (p.y - seg.centre.y) / r;
  };
  const chainAt = (c: number): void => {
    const k = Math.min(cells.length - 1, Math.max(0, Math.floor(c)));
    const cell = cells[k]!;
    const t = cell.t0 + (c - k) * (cell.t1 - cell.t0);
    const q = cell.segment;
    if (q.kind === "line") {
      inside = q.from.x + t * (q.to.x - q.from.x);
      height = q.from.y + t * (q.to.y - q.from.y);
    } else {
      const at = pointAt(q, t);
      inside = at.x;
      height = at.y;
    }
  };
  let lastC = Number.NaN;
  let inside = 0;
  let height = 0;
  let lastG = Number.NaN;
  // Middles of cells are asked for most.
  const middles = Float64Array.from(
    cells.flatMap((q) => {
      const m = pointAt(q.segment, (q.t0 + q.t1) / 2);
      return [m.x, m.y];
    }),
  );
  const meant = (g: number, c: number): void => {
    if (c !== lastC) {
      const k = Math.floor(c);
      if (c - k === 0.5) {
        inside = middles[2 * k]!;
        height = middles[2 * k + 1]!;
      } else {
        chainAt(c);
      }
      lastC = c;
    }
    if (g !== lastG) {
      stationAt(g);
      lastG = g;
    }
  };
  const reach = (g0: number, g1: number, c0: number, c1: number): number => {
    const s = stations[Math.min(stations.length - 1, Math.floor(g0))]!;
    const q = cells[Math.min(cells.length - 1, Math.floor(c0))]!;
    const wide = s.width * (g1 - g0);
    const high = q.length * (c1 - c0);
    return Math.sqrt(wide * wide + high * high) / 2;
  };
  const inAirAsMeant = (x: number, u: number, v: number): boolean => {
    const d = border(x, u);
    return d > first.from.x && v - o.mouth > heightAt(hollow, d);
  };

  const loopColumns: number[] = [];
  const columns: number[] = [];
  for (let l = 0; l + 1 < loops.length; l++) {
    loopColumns.push(columns.length);
    for (let i = loops[l]!; i < loops[l + 1]!; i++) {
      columns.push(i);
      // At a sharp corner of the outline the cell before ends elsewhere than the next begins.
      const next = i + 1 < loops[l + 1]! ? i + 1 : loops[l]!;
      if (stations[next]!.t0 !== 0) continue;
      stationAt(i + 1 - 1e-9);
      const [nx, ny] = [plan[2]!, plan[3]!];
      stationAt(next);
      if (Math.abs(nx - plan[2]!) + Math.abs(ny - plan[3]!) > 1e-6) columns.push(i + 1 - 1e-9);
    }
  }
  loopColumns.push(columns.length);
  const rows = cells.length + 1;
  const at = new Float64Array(3 * columns.length * rows);
  const beyond = new Uint8Array(columns.length * rows);
  const insides = new Float64Array(rows);
  const heights = new Float64Array(rows);
  for (let j = 0; j < rows; j++) {
    chainAt(j);
    insides[j] = inside;
    heights[j] = o.mouth + height;
  }
  for (const [i, g] of columns.entries()) {
    stationAt(g);
    for (let j = 0; j < rows; j++) {
      const k = i * rows + j;
      const x = plan[0]! + insides[j]! * plan[2]!;
      const u = plan[1]! + insides[j]! * plan[3]!;
      at[3 * k] = x;
      at[3 * k + 1] = u;
      at[3 * k + 2] = heights[j]!;
      if (insides[j]! <= 0) continue;
      const spare = border(x, u) - insides[j]!;
      if (spare < -1e-7) beyond[k] = spare < -4 * o.step ? FAR_BEYOND : JUST_BEYOND;
      if (spare >= -4 * o.step) continue;
      // Farther down it is only farther beyond.
      for (let m = j + 1; m < rows; m++) beyond[i * rows + m] = FAR_BEYOND;
      break;
    }
  }
  lastG = Number.NaN;
  lastC = Number.NaN;
  const lattice: Lattice = { columns: Float64Array.from(columns), loops: loopColumns, rows, at, beyond };

  const laid = (errors: SetUpErrors): RecessSurface => {
    const move = moveOf(errors, middle);
    const place = (g: number, c: number, out: Float64Array): void => {
      meant(g, c);
      const x = plan[0]! + inside * plan[2]!;
      const u = plan[1]! + inside * plan[3]!;
      const v = o.mouth + height;
      move.there(x, u, v, out);
      out[3] = inside;
      out[4] = x;
      out[5] = u;
      out[6] = v;
    };
    const corners = new Float64Array(7);
    return {
      lattice,
      along: stations.length,
      down: cells.length,
      judgedFrom: eased ? judgedFrom : 0,
      lowest: o.mouth + floor,
      move,
      place,
      spare: (out) => border(out[4]!, out[5]!) - out[3]!,
      reach,
      box: (g0, g1, c0, c1) => {
        const s = stations[Math.min(stations.length - 1, Math.floor(g0))]!;
        const q = cells[Math.min(cells.length - 1, Math.floor(c0))]!;
        const bulge = (s.width * s.turn * (g1 - g0) ** 2) / 8 + q.bulge * (c1 - c0) ** 2 + 1e-9;
        let [x0, x1, u0, u1, v0, v1] = [Infinity, -Infinity, Infinity, -Infinity, Infinity, -Infinity];
        // Just within the cell's own ends, so that a corner isn't taken for the next cell's beginning.
        const e = 1e-9;
        for (let k = 0; k < 4; k++) {
          place(k < 2 ? g0 + e : g1 - e, k % 2 === 0 ? c0 + e : c1 - e, corners);
          const x = corners[0]!;
          const u = corners[1]!;
          const v = corners[2]!;
          if (x < x0) x0 = x;
          if (x > x1) x1 = x;
          if (u < u0) u0 = u;
          if (u > u1) u1 = u;
          if (v < v0) v0 = v;
          if (v > v1) v1 = v;
        }
        return {
          x0: x0 - bulge,
          x1: x1 + bulge,
          u0: u0 - bulge,
          u1: u1 + bulge,
          v0: v0 - bulge,
          v1: v1 + bulge,
        };
      },
      inAir: (x, u, v) => {
        move.back(x, u, v, corners);
        return inAirAsMeant(corners[0]!, corners[1]!, corners[2]!);
      },
      normal: (g, c, k, out) => {
        stationAt(g);
        lastG = Number.NaN;
        const cell = cells[Math.min(cells.length - 1, Math.max(0, k))]!;
        const along = tangentAt(cell.segment, cell.t0 + (c - k) * (cell.t1 - cell.t0));
        move.there(0, 0, 0, corners);
        move.there(-along.y * plan[2]!, -along.y * plan[3]!, along.x, out);
        for (let q = 0; q < 3; q++) out[q] = out[q]! - corners[q]!;
      },
      inwards: (g) => {
        stationAt(g);
        lastG = Number.NaN;
        return { x: plan[2]!, y: plan[3]! };
      },
      placeOutline: (g, out) => {
        stationAt(g);
        lastG = Number.NaN;
        const v = o.mouth - 0.01;
        move.there(plan[0]!, plan[1]!, v, out);
        out[3] = 0;
        out[4] = plan[0]!;
        out[5] = plan[1]!;
        out[6] = v;
      },
    };
  };
  return { lattice, laid };
}

function inscribedOf(section: Region): number {
  return largestInscribed(flattenRegion(section, 0.001), 0.01).radius + 0.012;
}

function pushCells(cells: ChainCell[], s: Segment, step: number): void {
  const length =
    s.kind === "line" ? Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y) : radiusOf(s) * Math.abs(sweepRad(s));
  if (length < 1e-9) return;
  const n = Math.max(1, Math.ceil(length / step - 1e-6));
  for (let i = 0; i < n; i++) {
    const cell = length / n;
    cells.push({
      segment: s,
      t0: i / n,
      t1: (i + 1) / n,
      length: cell,
      bulge: s.kind === "arc" ? (cell * cell) / (8 * radiusOf(s)) : 0,
    });
  }
}

function pushLoop(stations: Station[], loop: readonly Segment[], out: number, inner: number, step: number): void {
  const begin = stations.length;
  for (const [i, s] of loop.entries()) {
    const before = loop[(i + loop.length - 1) % loop.length]!;
    const a = tangentAt(before, 1);
    const b = tangentAt(s, 0);
    const turn = Math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y);
    // Around a corner that points into the recess the wall goes in a round; around one that points out, an edge's ease.
    const swing = turn < 0 ? inner : -out;
    if (Math.abs(turn) > 1e-6 && swing > 0) {
      const n = Math.max(1, Math.ceil((Math.abs(turn) * swing) / step));
      for (let k = 0; k < n; k++) {
        stations.push({
          segment: undefined,
          corner: { x: s.from.x, y: s.from.y, from: Math.atan2(a.y, a.x) + Math.PI / 2, turn },
          t0: k / n,
          t1: (k + 1) / n,
          width: (Math.abs(turn) * Math.max(inner, -out)) / n,
          turn: Math.abs(turn) / n,
        });
      }
    }
    const sweep = s.kind === "arc" ? Math.abs(sweepRad(s)) : 0;
    const level =
      s.kind === "line"
        ? Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y)
        : sweep * (s.ccw ? radiusOf(s) - out : radiusOf(s) + inner);
    const n = Math.max(1, Math.ceil(level / step - 1e-6));
    for (let k = 0; k < n; k++) {
      stations.push({
        segment: s,
        corner: undefined,
        t0: k / n,
        t1: (k + 1) / n,
        width: level / n,
        turn: sweep / n,
      });
    }
  }
  if (stations.length === begin) throw new RangeError("an outline without a segment");
}
