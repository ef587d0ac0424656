import type { Point } from "./point.ts";

/**
 * The order of a round: which stop comes after which, so that the way between them is short.
 *
 * Made by nearest neighbours, then by turning stretches round (2-opt; Croes, Operations Research 6, 1958) and moving
 * short ones elsewhere (Or-opt; Or, thesis, Northwestern University 1976), looking only at near neighbours and only
 * where something changed (Bentley, ORSA Journal on Computing 4, 1992), then by exchanging two neighbouring stretches at
 * random places and mending, which is kept where it is shorter (Martin, Otto & Felten, Complex Systems 5, 1991; all from
 * memory). Chance comes from a fixed seed and work is bounded by counts, never by a clock: the same stops give the same
 * order.
 */

/** A place to visit: a point where `from` and `to` are the same; else a stretch, walked from either end. */
export interface Stop {
  readonly from: Point;
  readonly to: Point;
}

/** What is asked of a tour. */
export interface TourWish {
  /** Where one comes from; absent: begins anywhere. Not looked at when `closed`. */
  readonly start?: Point;
  /** Where one must go afterwards; absent: ends anywhere. Not looked at when `closed`. */
  readonly end?: Point;
  /** Comes back to where it began, wherever that is. */
  readonly closed?: boolean;
  /** How often chance is tried, for each stop; 0 for none. */
  readonly tries: number;
}

/** Tries a stop that suit a set-up: within 1 % of the best on the published instances, in milliseconds. */
export const USUAL_TRIES = 5;

/** A stop in its turn. */
export interface Turn {
  /** In the list that was given. */
  readonly index: number;
  /** Walked from `to` to `from`. */
  readonly reversed: boolean;
}

/** An order and the length of the ways between its stops (with those from the start, to the end, or back), mm. */
export interface Tour {
  readonly turns: readonly Turn[];
  readonly length: number;
}

/** Near neighbours that are looked at, for each end of a stop. */
const NEIGHBOURS = 8;
/** Longest stretch that Or-opt moves, stops. */
const LONGEST_MOVED = 3;
/** Farthest that a random exchange reaches, stops. */
const REACH = 30;
/** What a change must gain, mm: no changes of mind on last digits. */
const GAIN = 1e-9;

/**
 * A short tour of stops, each visited once.
 * @throws RangeError when a coordinate is not a finite number
 */
export function tourOf(stops: readonly Stop[], wish: TourWish): Tour {
  for (const s of stops)
    for (const v of [s.from.x, s.from.y, s.to.x, s.to.y])
      if (!Number.isFinite(v)) throw new RangeError("a stop must have finite coordinates");
  if (stops.length === 0) return { turns: [], length: 0 };
  const round = new Round(stops, wish);
  round.improve();
  round.tryExchanges(Math.round(wish.tries * stops.length));
  return round.tour();
}

/** Length of a tour that is given: for comparing. */
export function tourLength(
  stops: readonly Stop[],
  turns: readonly Turn[],
  wish: Pick<TourWish, "start" | "end" | "closed">,
): number {
  const walked = turns.map(({ index, reversed }) => {
    const { from, to } = stops[index]!;
    return reversed ? { from: to, to: from } : { from, to };
  });
  const first = walked[0];
  const last = walked[walked.length - 1];
  if (first === undefined || last === undefined) return 0;
  let sum = 0;
  for (let i = 1; i < walked.length; i++) sum += gap(walked[i - 1]!.to, walked[i]!.from);
  if (wish.closed) return sum + gap(last.to, first.from);
  return sum + (wish.start ? gap(wish.start, first.from) : 0) + (wish.end ? gap(last.to, wish.end) : 0);
}

/** The order that goes to the nearest stop left each time: what a tour is measured against. */
export function nearestTour(stops: readonly Stop[], wish: Omit<TourWish, "tries">): Tour {
  const turns = nearestTurns(stops, wish.closed ? undefined : wish.start);
  return { turns, length: tourLength(stops, turns, wish) };
}

/** Begins, without a start, at the end that lies lowest and then leftmost. Cost: O(n²). */
function nearestTurns(stops: readonly Stop[], start: Point | undefined): Turn[] {
  const left = stops.map((_, i) => i);
  const turns: Turn[] = [];
  let at = start;
  while (left.length > 0) {
    let best = 0;
    let reversed = false;
    let least: number | undefined;
    for (let k = 0; k < left.length; k++) {
      const { from, to } = stops[left[k]!]!;
      const ahead = at === undefined ? from.y + from.x * 1e-6 : gap(at, from);
      const back = at === undefined ? to.y + to.x * 1e-6 : gap(at, to);
      const near = Math.min(ahead, back);
      if (least !== undefined && near >= least - GAIN) continue;
      least = near;
      best = k;
      reversed = back < ahead - GAIN;
    }
    const index = left[best]!;
    left[best] = left[left.length - 1]!;
    left.pop();
    turns.push({ index, reversed });
    at = reversed ? stops[index]!.from : stops[index]!.to;
  }
  return turns;
}

function gap(a: Point, b: Point): number {
  return Math.hypot(b.x - a.x, b.y - a.y);
}

/**
 * A closed round of ends: stop i has the ends 2i and 2i + 1, which stay side by side in `order`; what lies between an odd
 * and the next even place is a way that may be changed. An open tour has one stop more, the home, whose ends cost what
 * the wish says. Every change is a turning round of stretches, so it can be taken back.
 */
class Round {
  readonly #x: Float64Array;
  readonly #y: Float64Array;
  /** 1 for an end of the home that costs nothing. */
  readonly #free: Uint8Array;
  readonly #home: number;
  readonly #ends: number;
  readonly #order: Int32Array;
  readonly #place: Int32Array;
  readonly #near: readonly Int32Array[];
  /** Ends around which something changed. */
  readonly #queue: number[] = [];
  readonly #queued: Uint8Array;
  /** Turnings since the last state that was kept. */
  #done: [number, number][] = [];

  constructor(stops: readonly Stop[], wish: TourWish) {
    const open = !wish.closed;
    const n = stops.length + (open ? 1 : 0);
    this.#ends = 2 * n;
    this.#home = open ? stops.length : -1;
    this.#x = new Float64Array(this.#ends);
    this.#y = new Float64Array(this.#ends);
    this.#free = new Uint8Array(this.#ends);
    this.#queued = new Uint8Array(this.#ends);
    for (const [i, s] of stops.entries()) {
      this.#x[2 * i] = s.from.x;
      this.#y[2 * i] = s.from.y;
      this.#x[2 * i + 1] = s.to.x;
      this.#y[2 * i + 1] = s.to.y;
    }
    if (open) {
      // One comes to the home by its even end and leaves it by its odd one.
      for (const [end, p] of [
        [2 * this.#home, wish.end],
        [2 * this.#home + 1, wish.start],
      ] as const) {
        this.#free[end] = p === undefined ? 1 : 0;
        this.#x[end] = p?.x ?? 0;
        this.#y[end] = p?.y ?? 0;
      }
    }
    this.#order = new Int32Array(this.#ends);
    this.#place = new Int32Array(this.#ends);
    const turns = nearestTurns(stops, open ? wish.start : undefined);
    const all = open ? [{ index: this.#home, reversed: false }, ...turns] : turns;
    for (const [k, t] of all.entries()) {
      this.#order[2 * k] = 2 * t.index + (t.reversed ? 1 : 0);
      this.#order[2 * k + 1] = 2 * t.index + (t.reversed ? 0 : 1);
    }
    for (let p = 0; p < this.#ends; p++) this.#place[this.#order[p]!] = p;
    this.#near = nearestEnds(this.#x, this.#y, this.#free);
  }

  #cost(a: number, b: number): number {
    if (this.#free[a] === 1 || this.#free[b] === 1) return 0;
    return Math.hypot(this.#x[b]! - this.#x[a]!, this.#y[b]! - this.#y[a]!);
  }

  #at(place: number): number {
    const n = this.#ends;
    return this.#order[place < 0 ? place + n : place >= n ? place - n : place]!;
  }

  #wake(end: number): void {
    if (this.#queued[end] === 1) return;
    this.#queued[end] = 1;
    this.#queue.push(end);
  }

  /** Turns the stretch from one place to another round, or the rest of the round, whichever is shorter: the same tour. */
  #turn(from: number, to: number): void {
    const n = this.#ends;
    const inner = (to - from + n) % n;
    let i = from;
    let k = to;
    let count = (inner + 1) >> 1;
    if (inner + 1 > n >> 1) {
      i = (to + 1) % n;
      k = (from - 1 + n) % n;
      count = (n - inner - 1) >> 1;
    }
    for (; count > 0; count--) {
      const a = this.#order[i]!;
      const b = this.#order[k]!;
      this.#order[i] = b;
      this.#order[k] = a;
      this.#place[b] = i;
      this.#place[a] = k;
      i = i + 1 === n ? 0 : i + 1;
      k = k === 0 ? n - 1 : k - 1;
    }
  }

  /** The same, told by its two outer ends as they stand in the order, and remembered. */
  #turnEnds(first: number, last: number): void {
    this.#turn(this.#place[first]!, this.#place[last]!);
    this.#done.push([first, last]);
  }

  /** Takes back every turning since the last state that was kept. */
  #undo(): void {
    for (let k = this.#done.length - 1; k >= 0; k--) {
      const [p, q] = this.#done[k]!;
      // The stretch lies the other way round now, or as it did where the rest of the round was turned instead.
      const [first, last] = this.#place[p]! % 2 === 0 ? [p, q] : [q, p];
      this.#turn(this.#place[first]!, this.#place[last]!);
    }
    this.#done = [];
  }

  improve(): void {
    for (let e = 0; e < this.#ends; e++) this.#wake(e);
    this.#settle();
    this.#done = [];
  }

  /** Improves around all that is awake until nothing gains. Returns what was gained. */
  #settle(): number {
    let gained = 0;
    for (let k = 0; k < this.#queue.length; k++) {
      const end = this.#queue[k]!;
      this.#queued[end] = 0;
      for (let g = this.#better(end); g > 0; g = this.#better(end)) gained += g;
    }
    this.#queue.length = 0;
    return gained;
  }

  /** Finds a change that shortens the way at this end, and makes it. */
  #better(a: number): number {
    // A way leaves `a`: forwards where it is the second end of its stop in the order, else backwards.
    const forwards = this.#place[a]! % 2 === 1;
    const b = this.#beyond(a);
    const old = this.#cost(a, b);
    for (const c of this.#near[a]!) {
      const fresh = this.#cost(a, c);
      if (fresh >= old - GAIN) break;
      const d = this.#beyond(c);
      if (c === b || d === a) continue;
      if ((this.#place[c]! % 2 === 1) === forwards) {
        const gain = old + this.#cost(c, d) - fresh - this.#cost(b, d);
        if (gain > GAIN) {
          if (forwards) this.#turnEnds(b, c);
          else this.#turnEnds(a, d);
          for (const e of [a, b, c, d]) this.#wake(e);
          return gain;
        }
      }
      const gain = this.#moved(a, b, c);
      if (gain > 0) return gain;
    }
    return 0;
  }

  /** The end that the way from this one leads to. */
  #beyond(end: number): number {
    const p = this.#place[end]!;
    return p % 2 === 1 ? this.#at(p + 1) : this.#at(p - 1);
  }

  /** The other end of the same stop. */
  #other(end: number): number {
    return end % 2 === 0 ? end + 1 : end - 1;
  }

  /**
   * Or-opt: the stretch of one to three stops that ends in `a`, on the side away from `b`, goes beside `c`, so that `a`
   * meets it, between `c` and whichever neighbour gains more. `a`, `b`: a way now.
   */
  #moved(a: number, b: number, c: number): number {
    let tail = this.#other(a);
    const d = this.#beyond(c);
    // Set once the stretch has grown over the way from `c`.
    let over = d >> 1 === a >> 1;
    for (let length = 1; length <= LONGEST_MOVED; length++) {
      if (length > 1) {
        const next = this.#beyond(tail);
        tail = this.#other(next);
        over ||= d >> 1 === next >> 1;
      }
      if (c >> 1 === tail >> 1 || b >> 1 === tail >> 1) return 0;
      const before = this.#beyond(tail);
      if (over || before === b) continue;
      const without =
        this.#cost(a, b) + this.#cost(tail, before) + this.#cost(c, d) - this.#cost(before, b) - this.#cost(c, a);
      const gain = without - this.#cost(tail, d);
      if (gain <= GAIN) continue;
      this.#carry(a, tail, c, d);
      for (const e of [a, b, c, d, tail, before]) this.#wake(e);
      return gain;
    }
    return 0;
  }

  /** Puts the stretch with the outer ends `a` and `tail` between `c` and `d`, `a` beside `c`, by turning stretches round. */
  #carry(a: number, tail: number, c: number, d: number): void {
    // Of the two ends, `first` comes first in the order as it stands.
    const first = this.#place[a]! % 2 === 0 ? a : tail;
    const last = first === a ? tail : a;
    const n = this.#ends;
    // How far the way c–d lies ahead of the stretch.
    const ahead = (this.#place[c]! - this.#place[last]! + n) % n;
    const behind = (this.#place[first]! - this.#place[c]! + n) % n;
    const [inner, outer] = this.#place[c]! % 2 === 1 ? [c, d] : [d, c];
    if (ahead <= behind) {
      // … stretch, R (ends with inner), outer …: exchange stretch and R, then turn the stretch where `a` must meet `c`.
      const r0 = this.#at(this.#place[last]! + 1);
      this.#exchange(first, last, r0, inner);
    } else {
      const r1 = this.#at(this.#place[first]! - 1);
      this.#exchange(outer, r1, first, last);
    }
    if (this.#beyond(c) !== a) {
      const [f, l] = this.#place[a]! % 2 === 0 ? [a, tail] : [tail, a];
      this.#turnEnds(f, l);
    }
  }

  /** Exchanges two stretches that follow each other; each keeps its sense. */
  #exchange(a0: number, a1: number, b0: number, b1: number): void {
    this.#turnEnds(a0, b1);
    // Turning may have been done on the rest of the round instead: then the order reads the other way about.
    this.#turnStretch(b0, b1);
    this.#turnStretch(a0, a1);
  }

  /** Turns the stretch between two outer ends round, whichever of them stands first now. */
  #turnStretch(p: number, q: number): void {
    if (this.#place[p]! % 2 === 0) this.#turnEnds(p, q);
    else this.#turnEnds(q, p);
  }

  /** Exchanges neighbouring stretches at random places, mends, and keeps what is shorter. */
  tryExchanges(times: number): void {
    const stops = this.#ends / 2;
    if (stops < 5) return;
    const chance = evenly(stops);
    for (let k = 0; k < times; k++) {
      const reach = Math.min(REACH, stops - 2);
      const start = Math.floor(chance() * stops);
      const one = 1 + Math.floor(chance() * (reach - 1));
      const two = 1 + Math.floor(chance() * (reach - one));
      if (one + two >= stops) continue;
      const a0 = this.#at((2 * start) % this.#ends);
      const a1 = this.#at((2 * (start + one) - 1) % this.#ends);
      const b0 = this.#at((2 * (start + one)) % this.#ends);
      const b1 = this.#at((2 * (start + one + two) - 1) % this.#ends);
      const before = this.#at((2 * start - 1 + this.#ends) % this.#ends);
      const after = this.#at((2 * (start + one + two)) % this.#ends);
      const lost =
        this.#cost(before, b0) +
        this.#cost(b1, a0) +
        this.#cost(a1, after) -
        this.#cost(before, a0) -
        this.#cost(a1, b0) -
        this.#cost(b1, after);
      this.#exchange(a0, a1, b0, b1);
      for (const e of [before, a0, a1, b0, b1, after]) this.#wake(e);
      if (this.#settle() - lost > GAIN) this.#done = [];
      else this.#undo();
    }
  }

  tour(): Tour {
    const n = this.#ends;
    const from = this.#home < 0 ? 0 : this.#place[2 * this.#home + 1]!;
    // Forwards from the home's odd end, or backwards where the home lies the other way about.
    const step = from % 2 === 1 || this.#home < 0 ? 1 : -1;
    const begin = this.#home < 0 ? 0 : from + step;
    const turns: Turn[] = [];
    const stops = n / 2 - (this.#home < 0 ? 0 : 1);
    for (let k = 0; k < stops; k++) {
      const end = this.#order[(((begin + step * 2 * k) % n) + n) % n]!;
      turns.push({ index: end >> 1, reversed: end % 2 === 1 });
    }
    let length = 0;
    for (let p = 1; p < n; p += 2) length += this.#cost(this.#order[p]!, this.#at(p + 1));
    return { turns, length };
  }
}

/** For each end, the nearest ends of other stops, nearest first; free ends are near nobody. */
function nearestEnds(x: Float64Array, y: Float64Array, free: Uint8Array): Int32Array[] {
  const n = x.length;
  const grid = gridOf(x, y);
  const found = new Int32Array(NEIGHBOURS);
  const at = new Float64Array(NEIGHBOURS);
  return Array.from({ length: n }, (_, i) => {
    if (free[i] === 1) return new Int32Array(0);
    let count = 0;
    const offer = (j: number): void => {
      if (j >> 1 === i >> 1 || free[j] === 1) return;
      const d = (x[j]! - x[i]!) ** 2 + (y[j]! - y[i]!) ** 2;
      if (count === NEIGHBOURS && d >= at[count - 1]!) return;
      let k = count < NEIGHBOURS ? count++ : count - 1;
      for (; k > 0 && at[k - 1]! > d; k--) {
        at[k] = at[k - 1]!;
        found[k] = found[k - 1]!;
      }
      at[k] = d;
      found[k] = j;
    };
    const cx = Math.floor((x[i]! - grid.x0) / grid.size);
    const cy = Math.floor((y[i]! - grid.y0) / grid.size);
    const widest = Math.max(grid.columns, grid.rows);
    for (let ring = 0; ring <= widest; ring++) {
      // Nothing in this ring or beyond is nearer than the inner edge of the ring.
      if (count === NEIGHBOURS && ((ring - 1) * grid.size) ** 2 > at[count - 1]! && ring > 0) break;
      for (let gy = cy - ring; gy <= cy + ring; gy++) {
        if (gy < 0 || gy >= grid.rows) continue;
        const rim = gy === cy - ring || gy === cy + ring;
        for (let gx = cx - ring; gx <= cx + ring; gx += rim || ring === 0 ? 1 : 2 * ring) {
          if (gx < 0 || gx >= grid.columns) continue;
          for (const j of grid.cells[gy * grid.columns + gx]!) offer(j);
        }
      }
    }
    return found.slice(0, count);
  });
}

/** Ends in square cells, about two a cell. */
function gridOf(x: Float64Array, y: Float64Array) {
  let [x0, y0, x1, y1] = [x[0]!, y[0]!, x[0]!, y[0]!];
  for (let i = 1; i < x.length; i++) {
    x0 = Math.min(x0, x[i]!);
    y0 = Math.min(y0, y[i]!);
    x1 = Math.max(x1, x[i]!);
    y1 = Math.max(y1, y[i]!);
  }
  const longest = Math.max(x1 - x0, y1 - y0);
  const size = Math.max(Math.sqrt(((x1 - x0) * (y1 - y0) * 2) / x.length), (longest * 2) / x.length, 1e-6);
  const columns = Math.floor((x1 - x0) / size) + 1;
  const rows = Math.floor((y1 - y0) / size) + 1;
  const cells: number[][] = Array.from({ length: columns * rows }, () => []);
  for (let i = 0; i < x.length; i++) {
    cells[Math.floor((y[i]! - y0) / size) * columns + Math.floor((x[i]! - x0) / size)]!.push(i);
  }
  return { x0, y0, size, columns, rows, cells };
}

/** Numbers in [0, 1) from a seed. Source: Marsaglia, Xorshift RNGs, Journal of Statistical Software 8(14), 2003. */
function evenly(seed: number): () => number {
  let s = (seed * 2654435761 + 88172645) >>> 0 || 1;
  return () => {
    s ^= s << 13;
    s >>>= 0;
    s ^= s >>> 17;
    s ^= s << 5;
    s >>>= 0;
    return s / 4294967296;
  };
}
