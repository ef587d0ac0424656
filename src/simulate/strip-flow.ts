/** Columns that wood may flow through, numbered from 0, with their four neighbours. Capacities are whole numbers. */
export interface StripGraph {
  readonly count: number;
  /** Neighbour m (0 left, 1 right, 2 below, 3 above) of column k at 4k + m, or −1. */
  readonly beside: Int32Array;
  /** What column k and that neighbour may pass to each other, at 4k + m. */
  readonly shared: Int32Array;
  /** What column k itself may pass. */
  readonly own: Int32Array;
  /** Where the flow starts: columns, and what each may take in. */
  readonly starts: readonly { readonly column: number; readonly capacity: number }[];
  /** 1 for columns where the flow ends. */
  readonly ends: Uint8Array;
}

/** Arcs of a node: through the column itself, to four neighbours, to the sink. */
const ARCS = 6;
const SINK_ARC = 5;

/**
 * The largest flow, or `limit` once it is reached: shortest ways one after the other, with distances to the sink that
 * are raised only where a way fails (Ahuja & Orlin, 1991, from memory). Column k is two nodes, 2k where the flow comes
 * in and 2k + 1 where it goes out, so that `own` bounds what passes.
 */
export function stripFlow(g: StripGraph, limit: number): number {
  const { count, beside, shared, own, ends } = g;
  const sink = 2 * count;
  const source = sink + 1;
  const through = new Int32Array(count);
  const sent = new Int32Array(4 * count);
  const started = new Int32Array(g.starts.length);
  const distance = distances(g);
  const levels = new Int32Array(2 * count + 3);
  for (const d of distance) levels[d]!++;
  const arc = new Int32Array(2 * count + 2);

  const arcsOf = (u: number) => (u === source ? g.starts.length : ARCS);
  const headOf = (u: number, a: number): number => {
    if (u === source) return 2 * g.starts[a]!.column;
    if (a === 0) return u ^ 1;
    if (a === SINK_ARC) return u & 1 && ends[u >> 1] === 1 ? sink : -1;
    const v = beside[4 * (u >> 1) + a - 1]!;
    return v < 0 ? -1 : u & 1 ? 2 * v : 2 * v + 1;
  };
  const roomOf = (u: number, a: number): number => {
    if (u === source) return g.starts[a]!.capacity - started[a]!;
    const k = u >> 1;
    if (a === SINK_ARC) return limit;
    if (a === 0) return u & 1 ? through[k]! : own[k]! - through[k]!;
    const m = a - 1;
    // Out: what may still be sent to the neighbour. In: what came from it and may be sent back.
    return u & 1 ? shared[4 * k + m]! - sent[4 * k + m]! : sent[4 * beside[4 * k + m]! + (m ^ 1)]!;
  };
  const push = (u: number, a: number, amount: number): void => {
    if (u === source) started[a]! += amount;
    else if (a === 0) through[u >> 1]! += u & 1 ? -amount : amount;
    else if (a !== SINK_ARC) {
      const e = 4 * (u >> 1) + a - 1;
      if (u & 1) sent[e]! += amount;
      else sent[4 * beside[e]! + ((a - 1) ^ 1)]! -= amount;
    }
  };

  let total = 0;
  const way: number[] = [];
  let u = source;
  while (total < limit && distance[source]! < 2 * count + 2) {
    if (u === sink) {
      let amount = limit - total;
      for (const v of way) amount = Math.min(amount, roomOf(v, arc[v]!));
      for (const v of way) push(v, arc[v]!, amount);
      total += amount;
      way.length = 0;
      u = source;
      continue;
    }
    let a = arc[u]!;
    const n = arcsOf(u);
    for (; a < n; a++) {
      const v = headOf(u, a);
      if (v >= 0 && distance[v] === distance[u]! - 1 && roomOf(u, a) > 0) break;
    }
    if (a < n) {
      arc[u] = a;
      way.push(u);
      u = headOf(u, a);
      continue;
    }
    // No way on from here: as far from the sink as the nearest node that still has room, and one more.
    let nearest = 2 * count + 1;
    for (let b = 0; b < n; b++) {
      const v = headOf(u, b);
      if (v >= 0 && roomOf(u, b) > 0) nearest = Math.min(nearest, distance[v]!);
    }
    const was = distance[u]!;
    if (--levels[was]! === 0) break; // nothing stands between: the sink is cut off
    distance[u] = nearest + 1;
    levels[nearest + 1]!++;
    arc[u] = 0;
    if (way.length > 0) u = way.pop()!;
  }
  return total;
}

/** Steps from each node to the sink at first; what cannot reach it is as far as can be. The source comes last. */
function distances(g: StripGraph): Int32Array {
  const far = 2 * g.count + 2;
  const distance = new Int32Array(2 * g.count + 2).fill(far);
  distance[2 * g.count] = 0;
  const queue = new Int32Array(g.count);
  let tail = 0;
  for (let k = 0; k < g.count; k++) {
    if (g.ends[k] !== 1) continue;
    distance[2 * k + 1] = 1;
    distance[2 * k] = 2;
    queue[tail++] = k;
  }
  for (let head = 0; head < tail; head++) {
    const k = queue[head]!;
    for (let m = 0; m < 4; m++) {
      const v = g.beside[4 * k + m]!;
      if (v < 0 || distance[2 * v]! < far || g.shared[4 * k + m]! <= 0) continue;
      distance[2 * v + 1] = distance[2 * k]! + 1;
      distance[2 * v] = distance[2 * k]! + 2;
      queue[tail++] = v;
    }
  }
  let least = far - 1;
  for (const s of g.starts) least = Math.min(least, distance[2 * s.column]!);
  distance[2 * g.count + 1] = least + 1;
  return distance;
}
