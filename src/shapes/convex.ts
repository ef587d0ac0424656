import type { Point } from "./point.ts";
import type { Ring } from "./rings.ts";

/**
 * Most shapes of a workshop bulge all round: slots, circles, ovals, rounded rectangles. Their offsets have closed forms
 * that take O(n) instead of a sweep over all edges.
 */

/**
 * A counter-clockwise ring without its dents, when none is deeper than `dent` mm; undefined for a ring that is not convex
 * but for those, winds more than once, or holds no area. O(n).
 */
export function convexOf(ring: Ring, dent: number): Ring | undefined {
  const n = ring.length;
  if (n < 3) return undefined;
  const start = lowestOf(ring);
  // Indices into the ring, going round once; the start is repeated as the last.
  const kept: number[] = [];
  for (let i = 0; i <= n; i++) {
    const p = ring[(start + i) % n]!;
    while (kept.length > 1) {
      const a = ring[(start + kept[kept.length - 2]!) % n]!;
      const b = ring[(start + kept[kept.length - 1]!) % n]!;
      if ((b.x - a.x) * (p.y - b.y) - (b.y - a.y) * (p.x - b.x) > 0) break;
      if (awayFrom(b, a, p) > dent) return undefined;
      kept.pop();
    }
    kept.push(i);
  }
  if (kept.length < 4) return undefined;
  const out = kept.slice(0, -1).map((i) => ring[(start + i) % n]!);
  if (!turnsOnce(out)) return undefined;
  if (out.length === n) return out;
  // A point dropped early may lie deeper below what later points have dropped.
  for (let k = 0; k + 1 < kept.length; k++) {
    const a = ring[(start + kept[k]!) % n]!;
    const b = ring[(start + kept[k + 1]!) % n]!;
    for (let i = kept[k]! + 1; i < kept[k + 1]!; i++) {
      if (awayFrom(ring[(start + i) % n]!, a, b) > dent) return undefined;
    }
  }
  return out;
}

function lowestOf(ring: Ring): number {
  let lowest = 0;
  for (let i = 1; i < ring.length; i++) {
    const p = ring[i]!;
    const q = ring[lowest]!;
    if (p.y < q.y || (p.y === q.y && p.x < q.x)) lowest = i;
  }
  return lowest;
}

/** Distance of p from the stretch a–b. */
function awayFrom(p: Point, a: Point, b: Point): number {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const l2 = dx * dx + dy * dy;
  const t = l2 > 0 ? Math.max(0, Math.min(1, ((p.x - a.x) * dx + (p.y - a.y) * dy) / l2)) : 0;
  return Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

/** Begun at its lowest point, a ring of left turns that goes round once rises once and falls once. */
function turnsOnce(ring: Ring): boolean {
  let changes = 0;
  let up = true;
  for (let i = 0; i < ring.length; i++) {
    const dy = ring[(i + 1) % ring.length]!.y - ring[i]!.y;
    if (dy === 0 || dy > 0 === up) continue;
    up = !up;
    changes++;
  }
  return changes === 1;
}

interface Edge {
  /** A point on the moved edge, and its direction, length 1. */
  readonly x: number;
  readonly y: number;
  readonly ux: number;
  readonly uy: number;
}

/**
 * A convex ring shrunk by `by` mm: all that lies to the left of every edge by at least as much. Exact; undefined when
 * nothing is left. Edges are met in order of direction, so the half planes' intersection takes O(n) (Preparata &
 * Shamos, Computational Geometry, 1985, §7.2.5; from memory).
 * @param ring as `convexOf` gives it
 */
export function shrunkConvex(ring: Ring, by: number): Point[] | undefined {
  const edges: Edge[] = [];
  for (let i = 0; i < ring.length; i++) {
    const a = ring[i]!;
    const b = ring[(i + 1) % ring.length]!;
    const dx = b.x - a.x;
    const dy = b.y - a.y;
    const l = Math.sqrt(dx * dx + dy * dy);
    edges.push({ x: a.x - (dy / l) * by, y: a.y + (dx / l) * by, ux: dx / l, uy: dy / l });
  }
  // corners[k] lies between stack[k] and stack[k + 1].
  const stack: Edge[] = [];
  const corners: Point[] = [];
  let front = 0;
  for (const e of edges) {
    while (stack.length - front > 1 && !leftOf(e, corners[corners.length - 1]!)) {
      stack.pop();
      corners.pop();
    }
    while (stack.length - front > 1 && !leftOf(e, corners[front]!)) front++;
    const last = stack[stack.length - 1];
    if (last !== undefined) {
      const corner = meeting(last, e);
      if (corner === undefined) return undefined;
      corners.push(corner);
    }
    stack.push(e);
  }
  while (stack.length - front > 2 && !leftOf(stack[front]!, corners[corners.length - 1]!)) {
    stack.pop();
    corners.pop();
  }
  while (stack.length - front > 2 && !leftOf(stack[stack.length - 1]!, corners[front]!)) front++;
  if (stack.length - front < 3) return undefined;
  const closing = meeting(stack[stack.length - 1]!, stack[front]!);
  if (closing === undefined) return undefined;
  const left = stack.slice(front);
  const out = [...corners.slice(front), closing];
  return clearOfAll(edges, left, out) ? out : undefined;
}

/** Rounding of a corner, mm. */
const HAIR = 1e-7;

/**
 * Where nothing is left, the half planes that do remain may still bound something. An edge that was dropped is farthest
 * outside, if at all, at the corner between the two remaining edges whose directions lie around its own.
 */
function clearOfAll(edges: readonly Edge[], left: readonly Edge[], corners: readonly Point[]): boolean {
  let k = left.length - 1;
  for (const e of edges) {
    const next = (k + 1) % left.length;
    if (e === left[next]) k = next;
    const p = corners[k]!;
    if (e.ux * (p.y - e.y) - e.uy * (p.x - e.x) < -HAIR) return false;
  }
  return true;
}

function leftOf(e: Edge, p: Point): boolean {
  return e.ux * (p.y - e.y) - e.uy * (p.x - e.x) > 0;
}

/** Where two moved edges meet; undefined unless the second turns left by less than half a turn. */
function meeting(a: Edge, b: Edge): Point | undefined {
  const turn = a.ux * b.uy - a.uy * b.ux;
  if (turn <= 0) return undefined;
  const t = ((b.x - a.x) * b.uy - (b.y - a.y) * b.ux) / turn;
  return { x: a.x + t * a.ux, y: a.y + t * a.uy };
}

/**
 * A convex ring grown by `by` mm with round joins. Points lie on the true outline, chords within `chordError` mm inside
 * it.
 * @param ring as `convexOf` gives it
 */
export function grownConvex(ring: Ring, by: number, chordError: number): Point[] {
  const most = 2 * Math.acos(Math.max(0, 1 - chordError / by));
  const out: Point[] = [];
  const n = ring.length;
  for (let i = 0; i < n; i++) {
    const p = ring[i]!;
    const before = ring[(i + n - 1) % n]!;
    const after = ring[(i + 1) % n]!;
    const ax = p.x - before.x;
    const ay = p.y - before.y;
    const bx = after.x - p.x;
    const by2 = after.y - p.y;
    const turn = Math.atan2(ax * by2 - ay * bx, ax * bx + ay * by2);
    const l = Math.sqrt(ax * ax + ay * ay);
    const steps = Math.max(1, Math.ceil(turn / most));
    const cos = Math.cos(turn / steps);
    const sin = Math.sin(turn / steps);
    let nx = (ay / l) * by;
    let ny = (-ax / l) * by;
    for (let k = 0; k <= steps; k++) {
      out.push({ x: p.x + nx, y: p.y + ny });
      const x = nx * cos - ny * sin;
      ny = nx * sin + ny * cos;
      nx = x;
    }
  }
  return out;
}
