import Delaunator from "delaunator";
import type { Point } from "./point.ts";
import type { Polygons, Ring } from "./rings.ts";
import { line } from "./segment.ts";
import { indexSegments, nearestDistance, type SegmentIndex } from "./segment-index.ts";

/** A place on the medial axis, with its distance to the boundary: exact. mm. */
export interface AxisNode {
  readonly at: Point;
  readonly radius: number;
}

/**
 * The medial axis of an area: the places with more than one nearest boundary point, as straight stretches between
 * nodes. Between two nodes, the radius that runs evenly from one to the other exceeds the true distance by no more than
 * the tolerance asked for. mm.
 */
export interface MedialAxis {
  readonly nodes: readonly AxisNode[];
  /** Pairs of nodes. */
  readonly stretches: readonly (readonly [number, number])[];
}

/** What a medial axis is to keep to. */
export interface AxisWish {
  /** Distance between samples of the boundary, mm: half of it bounds how far a node may lie beside the true axis. */
  readonly spacing: number;
  /** How far an evenly running radius may exceed the true distance, mm. */
  readonly overcut: number;
  /**
   * Least angle, degrees, between the ways from a place to its two nearest boundary points: flatter branches, which
   * lead into blunt corners and the flats of curves, are left out.
   */
  readonly leastAngleDeg: number;
  /** Corners sharper than this, degrees inside, get a branch right into them. */
  readonly sharpCornerDeg: number;
}

/** What suits lettering: measured over three fonts to leave no gap beyond 10 µm. */
export const AXIS_FOR_LETTERS: AxisWish = { spacing: 0.05, overcut: 0.001, leastAngleDeg: 40, sharpCornerDeg: 140 };

/** Longest that a stretch is cut in half again, mm: below it the radii differ by less than any tolerance. */
const SHORTEST = 1e-4;

/**
 * The medial axis by the dual of the Delaunay triangulation of boundary samples (Brandt, CVGIP: Image Understanding 59
 * (1994) 116–124, on sampling; Attali & Montanvert, CVIU 67 (1997) 261–273, on pruning by angle; both from memory). Each
 * triangle whose circumcentre lies inside gives a node; its radius is then replaced by the exact distance to the boundary,
 * so an error of place only makes it smaller. Corners get their branches, and stretches are halved until radii run evenly.
 * @param area outer rings counter-clockwise, holes clockwise, no ring crossing another or itself
 * @throws RangeError when a wish is not above zero
 */
export function medialAxis(area: Polygons, wish: AxisWish): MedialAxis {
  if (!(wish.spacing > 0 && wish.overcut > 0)) throw new RangeError("spacing and overcut must be above zero");
  const rings = area.map(withoutRepeats).filter((r) => r.length > 2);
  if (rings.length === 0) return { nodes: [], stretches: [] };
  const samples = sampled(rings, wish.spacing);
  const index = indexSegments(rings.flatMap((r) => r.map((p, i) => line(p, r[(i + 1) % r.length]!))));
  const raw = branchesOf(rings, samples, wish);
  const nodes: AxisNode[] = raw.centres.map((at) => ({ at, radius: nearestDistance(index, at) }));
  const stretches = [...raw.stretches];
  addCorners(rings, nodes, stretches, wish);
  return evenedOut(nodes, stretches, index, wish.overcut);
}

function withoutRepeats(ring: Ring): Ring {
  return ring.filter((p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    return p.x !== q.x || p.y !== q.y;
  });
}

/** Points along all rings, no farther apart than asked, the rings' own points among them. */
interface Samples {
  readonly xy: Float64Array;
  /** For each sample, the next one on its ring. */
  readonly next: Int32Array;
}

function sampled(rings: readonly Ring[], spacing: number): Samples {
  const xy: number[] = [];
  const next: number[] = [];
  for (const ring of rings) {
    const first = next.length;
    for (const [i, a] of ring.entries()) {
      const b = ring[(i + 1) % ring.length]!;
      const n = Math.max(1, Math.ceil(Math.hypot(b.x - a.x, b.y - a.y) / spacing));
      for (let k = 0; k < n; k++) {
        xy.push(a.x + ((b.x - a.x) * k) / n, a.y + ((b.y - a.y) * k) / n);
        next.push(next.length + 1);
      }
    }
    next[next.length - 1] = first;
  }
  return { xy: Float64Array.from(xy), next: Int32Array.from(next) };
}

interface Branches {
  readonly centres: readonly Point[];
  readonly stretches: readonly [number, number][];
}

/** The dual edges that count: both ends inside, sites not neighbours on one ring, seen apart by enough of an angle. */
function branchesOf(rings: readonly Ring[], samples: Samples, wish: AxisWish): Branches {
  const { xy, next } = samples;
  const { triangles, halfedges } = new Delaunator(xy);
  const count = triangles.length / 3;
  const inside = insideTester(rings);
  const cx = new Float64Array(count);
  const cy = new Float64Array(count);
  const state = new Int8Array(count);
  const isInside = (t: number): boolean => {
    if (state[t] === 0) {
      const c = circumcentre(xy, triangles[3 * t]!, triangles[3 * t + 1]!, triangles[3 * t + 2]!);
      cx[t] = c.x;
      cy[t] = c.y;
      state[t] = Number.isFinite(c.x) && Number.isFinite(c.y) && inside(c.x, c.y) ? 1 : -1;
    }
    return state[t] === 1;
  };
  const cos = Math.cos((wish.leastAngleDeg * Math.PI) / 180);
  const numbers = new Int32Array(count).fill(-1);
  const centres: Point[] = [];
  const nodeOf = (t: number): number => {
    if (numbers[t]! < 0) {
      numbers[t] = centres.length;
      centres.push({ x: cx[t]!, y: cy[t]! });
    }
    return numbers[t]!;
  };
  const stretches: [number, number][] = [];
  for (let e = 0; e < triangles.length; e++) {
    const other = halfedges[e]!;
    if (other < e) continue;
    const a = triangles[e]!;
    const b = triangles[other]!;
    if (next[a] === b || next[b] === a) continue;
    const t = Math.floor(e / 3);
    const u = Math.floor(other / 3);
    if (!isInside(t) || !isInside(u)) continue;
    // The sites are seen under the widest angle from the nearer centre.
    if (Math.min(cosSeen(xy, a, b, cx[t]!, cy[t]!), cosSeen(xy, a, b, cx[u]!, cy[u]!)) > cos) continue;
    stretches.push([nodeOf(t), nodeOf(u)]);
  }
  return { centres, stretches };
}

function circumcentre(xy: Float64Array, i: number, j: number, k: number): Point {
  const ax = xy[2 * i]!;
  const ay = xy[2 * i + 1]!;
  const bx = xy[2 * j]! - ax;
  const by = xy[2 * j + 1]! - ay;
  const dx = xy[2 * k]! - ax;
  const dy = xy[2 * k + 1]! - ay;
  const d = 2 * (bx * dy - by * dx);
  const b2 = bx * bx + by * by;
  const d2 = dx * dx + dy * dy;
  return { x: ax + (dy * b2 - by * d2) / d, y: ay + (bx * d2 - dx * b2) / d };
}

function cosSeen(xy: Float64Array, a: number, b: number, x: number, y: number): number {
  const ax = xy[2 * a]! - x;
  const ay = xy[2 * a + 1]! - y;
  const bx = xy[2 * b]! - x;
  const by = xy[2 * b + 1]! - y;
  return (ax * bx + ay * by) / Math.sqrt((ax * ax + ay * ay) * (bx * bx + by * by));
}

/** Tells whether a point lies inside, with the edges sorted into level bands. */
function insideTester(rings: readonly Ring[]): (x: number, y: number) => boolean {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let edges = 0;
  for (const ring of rings) {
    edges += ring.length;
    for (const p of ring) {
      low = Math.min(low, p.y);
      high = Math.max(high, p.y);
    }
  }
  const bands = Math.max(1, Math.min(512, edges));
  const scale = bands / Math.max(high - low, 1e-12);
  const held: number[][] = Array.from({ length: bands }, () => []);
  const bandOf = (y: number): number => Math.max(0, Math.min(bands - 1, Math.floor((y - low) * scale)));
  for (const ring of rings) {
    for (const [i, a] of ring.entries()) {
      const b = ring[(i + 1) % ring.length]!;
      const last = bandOf(Math.max(a.y, b.y));
      for (let k = bandOf(Math.min(a.y, b.y)); k <= last; k++) held[k]!.push(a.x, a.y, b.x, b.y);
    }
  }
  return (x, y) => {
    if (!(y >= low && y <= high)) return false;
    const band = held[bandOf(y)]!;
    let winding = 0;
    for (let i = 0; i < band.length; i += 4) {
      const ay = band[i + 1]!;
      const by = band[i + 3]!;
      if (ay <= y === by <= y) continue;
      const side = (band[i + 2]! - band[i]!) * (y - ay) - (by - ay) * (x - band[i]!);
      if (by > ay ? side > 0 : side < 0) winding += by > ay ? 1 : -1;
    }
    return winding !== 0;
  };
}

/**
 * Branches into convex corners: samples stop about one spacing short of them. The axis there is the corner's bisector,
 * so the end of a branch nearest to the corner is joined to it, with radius 0.
 */
function addCorners(rings: readonly Ring[], nodes: AxisNode[], stretches: [number, number][], wish: AxisWish): void {
  const ends = new Int32Array(nodes.length);
  for (const [a, b] of stretches) {
    ends[a]!++;
    ends[b]!++;
  }
  const count = nodes.length;
  const reach = 4 * wish.spacing;
  for (const ring of rings) {
    for (const [i, corner] of ring.entries()) {
      const before = ring[(i + ring.length - 1) % ring.length]!;
      const after = ring[(i + 1) % ring.length]!;
      const inner = insideAngle(before, corner, after);
      if (inner >= (wish.sharpCornerDeg * Math.PI) / 180) continue;
      let best = -1;
      let away = reach / Math.max(Math.sin(inner / 2), 0.05);
      for (let n = 0; n < count; n++) {
        const { at, radius } = nodes[n]!;
        const d = Math.hypot(at.x - corner.x, at.y - corner.y);
        // On the bisector, the distance to the walls is d·sin of half the angle; another branch's nodes are off it.
        if (d >= away || ends[n] === 0 || radius > d || radius < d * Math.sin(inner / 2) * 0.9 - 1e-9) continue;
        best = n;
        away = d;
      }
      if (best < 0) continue;
      nodes.push({ at: corner, radius: 0 });
      stretches.push([best, nodes.length - 1]);
    }
  }
}

/** The angle inside an area at a corner of its boundary, radians, 0 to 2π. */
function insideAngle(before: Point, corner: Point, after: Point): number {
  const ax = after.x - corner.x;
  const ay = after.y - corner.y;
  const bx = before.x - corner.x;
  const by = before.y - corner.y;
  const turn = Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
  return turn < 0 ? turn + 2 * Math.PI : turn;
}

/**
 * Halves stretches until the mean of two radii exceeds the exact one in the middle by no more than half the tolerance.
 * The excess is concave along a stretch where the radius is convex, as it is between two sites, so it is nowhere more
 * than twice what it is in the middle.
 */
function evenedOut(
  nodes: AxisNode[],
  stretches: readonly (readonly [number, number])[],
  index: SegmentIndex,
  overcut: number,
): MedialAxis {
  const out: (readonly [number, number])[] = [];
  const waiting = [...stretches];
  for (let s = waiting.pop(); s !== undefined; s = waiting.pop()) {
    const a = nodes[s[0]]!;
    const b = nodes[s[1]]!;
    const length = Math.hypot(a.at.x - b.at.x, a.at.y - b.at.y);
    // Radii are 1-Lipschitz: over a short stretch nothing can exceed by more than half its length.
    if (length / 2 <= overcut || length <= SHORTEST) {
      out.push(s);
      continue;
    }
    const at = { x: (a.at.x + b.at.x) / 2, y: (a.at.y + b.at.y) / 2 };
    const radius = nearestDistance(index, at);
    if ((a.radius + b.radius) / 2 - radius <= overcut / 2) {
      out.push(s);
      continue;
    }
    nodes.push({ at, radius });
    const middle = nodes.length - 1;
    waiting.push([s[0], middle], [middle, s[1]]);
  }
  return { nodes, stretches: out };
}
