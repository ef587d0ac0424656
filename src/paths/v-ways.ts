import type { VGrooveOperation } from "../plan/operation.ts";
import { type AxisWish, type MedialAxis, medialAxis } from "../shapes/medial-axis.ts";
import type { Point } from "../shapes/point.ts";

/** A place of the tip, with its depth below the surface, mm. */
export interface Tip extends Point {
  readonly depth: number;
}

/**
 * How the axis is found. Branches into corners as blunt as 168 degrees count: beyond, the last circle comes within
 * r·(1/sin 84° − 1) = 0.0055 r of the corner by itself.
 */
const AXIS: AxisWish = { spacing: 0.05, overcut: 0.001, leastAngleDeg: 12, sharpCornerDeg: 168 };

/** How far a way may stray from the axis, and its radius from the axis's, both together, mm. */
const STRAY = 0.0025;

/**
 * The ways of the tip along the medial axis: depth = (r − tip flat / 2) / tan(half angle), from where the flat just fits
 * between the outlines to where the cap is reached. Each is as long as the axis lets it be, straightest on at forks.
 */
export function waysAlongAxis(operation: Pick<VGrooveOperation, "edges" | "bit" | "cap">): readonly (readonly Tip[])[] {
  const { bit, cap, edges } = operation;
  const graph = graphOf(medialAxis(edges, AXIS), bit.tipFlat / 2, bit.tipFlat / 2 + cap * bit.tan);
  prune(graph);
  return walksOf(graph).map((walk) =>
    simplified(walk).map(({ x, y, r }) => ({ x, y, depth: Math.min(cap, (r - bit.tipFlat / 2) / bit.tan) })),
  );
}

/** Places this near each other are one, mm. */
const SAME = 1e-5;

/** A place on the axis with its radius. */
interface Node extends Point {
  readonly r: number;
}

interface Graph {
  readonly nodes: Node[];
  /** Neighbours of each node. */
  readonly beside: Set<number>[];
}

/** The share of an axis where the radius lies between two values, cut there. */
function graphOf(axis: MedialAxis, least: number, most: number): Graph {
  const nodes: Node[] = axis.nodes.map(({ at, radius }) => ({ x: at.x, y: at.y, r: radius }));
  const beside: Set<number>[] = nodes.map(() => new Set());
  // Boundary samples that lie on one circle give the same place more than once.
  const known = new Map<string, number>();
  const same = nodes.map((n, i) => {
    const key = `${Math.round(n.x / SAME)},${Math.round(n.y / SAME)}`;
    const first = known.get(key) ?? i;
    known.set(key, first);
    return first;
  });
  const cutAt = (a: Node, b: Node, r: number): number => {
    const t = (r - a.r) / (b.r - a.r);
    nodes.push({ x: a.x + t * (b.x - a.x), y: a.y + t * (b.y - a.y), r });
    beside.push(new Set());
    return nodes.length - 1;
  };
  for (const [one, other] of axis.stretches) {
    const [i, k] = [same[one]!, same[other]!];
    if (i === k) continue;
    const [low, high] = nodes[i]!.r <= nodes[k]!.r ? [i, k] : [k, i];
    const a = nodes[low]!;
    const b = nodes[high]!;
    if (b.r <= least || a.r >= most) continue;
    const from = a.r < least ? cutAt(a, b, least) : low;
    const to = b.r > most ? cutAt(a, b, most) : high;
    if (nodes[from]!.x === nodes[to]!.x && nodes[from]!.y === nodes[to]!.y) continue;
    beside[from]!.add(to);
    beside[to]!.add(from);
  }
  return { nodes, beside };
}

/** Takes off loose ends whose circles lie, within half of what may stray, in the circle at the fork they hang on. */
function prune({ nodes, beside }: Graph): void {
  for (let n = 0; n < nodes.length; n++) {
    if (beside[n]!.size !== 1) continue;
    const branch = [n];
    let before = -1;
    let here = n;
    while (beside[here]!.size <= 2) {
      const next = [...beside[here]!].find((k) => k !== before);
      if (next === undefined) break;
      before = here;
      here = next;
      branch.push(here);
    }
    if (beside[here]!.size < 3) continue;
    const fork = nodes[here]!;
    const within = branch.every((k) => reach(nodes[k]!, fork) + nodes[k]!.r <= fork.r + STRAY / 2);
    if (!within) continue;
    for (const [i, k] of branch.entries()) {
      const on = branch[i + 1];
      if (on === undefined) break;
      beside[k]!.delete(on);
      beside[on]!.delete(k);
    }
  }
}

/** Every stretch of a graph once, in walks: from loose ends and odd forks first, what is left are rings. */
function walksOf({ nodes, beside }: Graph): Node[][] {
  const left = beside.map((s) => new Set(s));
  const walks: Node[][] = [];
  const walkFrom = (start: number): void => {
    const walk = [start];
    let before = -1;
    let here = start;
    while (left[here]!.size > 0) {
      const next = straightest(nodes, before, here, left[here]!);
      left[here]!.delete(next);
      left[next]!.delete(here);
      before = here;
      here = next;
      walk.push(here);
    }
    walks.push(walk.map((k) => nodes[k]!));
  };
  const starts = [...beside.keys()].filter((n) => beside[n]!.size === 1);
  const odd = [...beside.keys()].filter((n) => beside[n]!.size % 2 === 1);
  for (const n of [...starts, ...odd]) if (left[n]!.size > 0) walkFrom(n);
  for (const n of beside.keys()) while (left[n]!.size > 0) walkFrom(n);
  return walks;
}

function straightest(nodes: readonly Node[], before: number, here: number, on: ReadonlySet<number>): number {
  const at = nodes[here]!;
  const from = nodes[before];
  let best = -1;
  let most = Number.NEGATIVE_INFINITY;
  for (const k of on) {
    const to = nodes[k]!;
    const length = Math.hypot(to.x - at.x, to.y - at.y);
    const ahead =
      from === undefined ? 0 : ((at.x - from.x) * (to.x - at.x) + (at.y - from.y) * (to.y - at.y)) / (length || 1);
    if (ahead > most || best < 0) {
      most = ahead;
      best = k;
    }
  }
  return best;
}

/**
 * Fewer places along a walk. Between two that stay, a left-out one with radius r lies e beside the straight way, whose
 * radius there is ρ; |ρ − r| + e ≤ the stray allowed, so the circle of either reaches no farther beyond the other's.
 */
function simplified(walk: readonly Node[]): Node[] {
  const kept: Node[] = [walk[0]!];
  let from = 0;
  while (from < walk.length - 1) {
    let to = from + 1;
    let step = 1;
    while (step > 0) {
      const next = Math.min(walk.length - 1, to + step);
      if (next > to && runsEven(walk, from, next)) {
        to = next;
        step *= 2;
      } else step = step > 1 ? Math.floor(step / 4) : 0;
    }
    kept.push(walk[to]!);
    from = to;
  }
  return kept;
}

function runsEven(walk: readonly Node[], from: number, to: number): boolean {
  const a = walk[from]!;
  const b = walk[to]!;
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const square = dx * dx + dy * dy;
  if (square < 1e-12) return false;
  for (let k = from + 1; k < to; k++) {
    const m = walk[k]!;
    const t = ((m.x - a.x) * dx + (m.y - a.y) * dy) / square;
    if (t < 0 || t > 1) return false;
    const aside = Math.hypot(a.x + t * dx - m.x, a.y + t * dy - m.y);
    if (aside + Math.abs(a.r + t * (b.r - a.r) - m.r) > STRAY) return false;
  }
  return true;
}

function reach(a: Point, b: Point): number {
  return Math.hypot(a.x - b.x, a.y - b.y);
}
