import { overlap } from "./pieces.ts";
import { isEmpty, type Wood } from "./wood.ts";

/** The least cross-section that joins a piece to held wood. */
export interface Joint {
  /** mm²; the true one is no smaller. 0 when nothing joins them; ∞ when the piece itself is held. */
  readonly area: number;
  /** The search stopped at `enough`: the joint is at least that. */
  readonly enough: boolean;
}

/** Capacities are whole thousandths of a mm of height, rounded down. */
const UNIT = 1000;

/**
 * A lower bound of the smallest cross-section through which a piece hangs on held wood: the largest flow from its
 * columns to held columns, from neighbour to neighbour among four, where a column passes no more than its height and
 * two neighbours no more than the height they share, times the side of a cell.
 *
 * Why it is a lower bound: a flow falls into strips one cell wide that pass only through columns of `least`, whose
 * every point is wood, and share nothing. Any surface that parts the piece from what is held must cut each strip from
 * side to side, over at least a cell's side times the strip's least height.
 * @param inPiece columns of the piece: all of it, as its outline says
 * @param isHeld columns that are held
 * @param enough mm² at which the search may stop
 */
export function jointArea(
  wood: Wood,
  inPiece: (column: number) => boolean,
  isHeld: (column: number) => boolean,
  enough: number,
): Joint {
  const { cell, nx, ny } = wood.grid;
  const n = nx * ny;
  const PIECE = -2;
  const HELD = -3;
  const place = new Int32Array(n).fill(-1);
  const reached: number[] = [];
  for (let c = 0; c < n; c++) {
    if (isEmpty(wood.least, c)) continue;
    const held = isHeld(c);
    if (inPiece(c)) {
      if (held) return { area: Number.POSITIVE_INFINITY, enough: true };
      place[c] = PIECE;
      reached.push(c);
    } else if (held) place[c] = HELD;
  }
  const pieceColumns = reached.length;
  const beside = (c: number): number[] => {
    const i = c % nx;
    const out: number[] = [];
    if (i > 0) out.push(c - 1);
    if (i < nx - 1) out.push(c + 1);
    if (c >= nx) out.push(c - nx);
    if (c < n - nx) out.push(c + nx);
    return out;
  };
  const shared = (c: number, d: number) => Math.floor(overlap(wood.least, c, d) * UNIT);
  // Columns that hang on the piece, and the first held ones: the flow goes through each of them, numbered as reached.
  const ends: number[] = [];
  for (let k = 0; k < reached.length; k++) {
    const c = reached[k]!;
    for (const d of beside(c)) {
      const was = place[d]!;
      if ((was !== -1 && was !== HELD) || isEmpty(wood.least, d) || shared(c, d) <= 0) continue;
      // A held column ends the way: it takes a number, but nothing beyond it is looked at.
      if (was === HELD) place[d] = HELD - 1 - ends.push(d);
      else place[d] = reached.push(d) - 1 - pieceColumns;
    }
  }
  const middle = reached.length - pieceColumns;
  const source = 2 * (middle + ends.length);
  const sink = source + 1;
  const net = new Network(sink + 1);
  const numberOf = (c: number) => (place[c]! >= 0 ? place[c]! : middle + (HELD - 2 - place[c]!));
  const own = (c: number) => Math.floor(overlap(wood.least, c, c) * UNIT);
  for (const c of reached.slice(pieceColumns)) net.add(2 * numberOf(c), 2 * numberOf(c) + 1, own(c));
  for (const c of ends) net.add(2 * numberOf(c), sink, own(c));
  for (const c of reached) {
    const from = place[c] === PIECE ? source : 2 * numberOf(c) + 1;
    for (const d of beside(c)) {
      if (place[d] === PIECE || place[d] === -1 || place[d] === HELD) continue;
      const through = shared(c, d);
      if (through > 0) net.add(from, 2 * numberOf(d), through);
    }
  }
  const limit = Math.ceil((enough / cell) * UNIT);
  const flow = net.flow(source, sink, limit);
  return { area: (flow / UNIT) * cell, enough: flow >= limit };
}

/**
 * Largest flow by layers of shortest ways (Dinic, 1970). A class because it owns growing arrays.
 * Edge e and e ^ 1 are each other's reverse.
 */
class Network {
  private readonly head: Int32Array;
  private readonly level: Int32Array;
  private readonly current: Int32Array;
  private readonly next: number[] = [];
  private readonly to: number[] = [];
  private readonly room: number[] = [];

  constructor(nodes: number) {
    this.head = new Int32Array(nodes).fill(-1);
    this.level = new Int32Array(nodes);
    this.current = new Int32Array(nodes);
  }

  add(from: number, to: number, capacity: number): void {
    this.half(from, to, capacity);
    this.half(to, from, 0);
  }

  flow(source: number, sink: number, limit: number): number {
    let total = 0;
    while (total < limit && this.layer(source, sink)) {
      this.current.set(this.head);
      for (;;) {
        const pushed = this.push(source, sink, limit - total);
        if (pushed === 0) break;
        total += pushed;
        if (total >= limit) break;
      }
    }
    return total;
  }

  private half(from: number, to: number, capacity: number): void {
    this.next.push(this.head[from]!);
    this.head[from] = this.to.length;
    this.to.push(to);
    this.room.push(capacity);
  }

  private layer(source: number, sink: number): boolean {
    this.level.fill(-1);
    this.level[source] = 0;
    const queue = [source];
    for (let k = 0; k < queue.length && this.level[sink]! < 0; k++) {
      const u = queue[k]!;
      for (let e = this.head[u]!; e >= 0; e = this.next[e]!) {
        const v = this.to[e]!;
        if (this.room[e]! <= 0 || this.level[v]! >= 0) continue;
        this.level[v] = this.level[u]! + 1;
        queue.push(v);
      }
    }
    return this.level[sink]! >= 0;
  }

  /** One way from source to sink down the layers, filled; without recursion, as ways may be long. */
  private push(source: number, sink: number, most: number): number {
    const trail: number[] = [];
    let u = source;
    while (u !== sink) {
      const e = this.current[u]!;
      if (e < 0) {
        if (u === source) return 0;
        const back = trail.pop()!;
        u = this.to[back ^ 1]!;
        this.current[u] = this.next[this.current[u]!]!;
        continue;
      }
      const v = this.to[e]!;
      if (this.room[e]! > 0 && this.level[v] === this.level[u]! + 1) {
        trail.push(e);
        u = v;
      } else this.current[u] = this.next[e]!;
    }
    const amount = trail.reduce((m, e) => Math.min(m, this.room[e]!), most);
    for (const e of trail) {
      this.room[e]! -= amount;
      this.room[e ^ 1]! += amount;
    }
    return amount;
  }
}
