import type { Meridian } from "../../shapes/meridian.ts";
import { radiusOf } from "../../shapes/segment.ts";

/**
 * A meridian packed for asking distances often: the distance from a point to a surface of revolution is the distance
 * from (x, radius) to its meridian in the half plane, in closed form. mm.
 */
export interface HalfSection {
  readonly from: number;
  readonly to: number;
  /** Largest radius. */
  readonly most: number;
  /** Radius at x, the larger at a shoulder; −1 beyond the ends. */
  radiusAt(x: number): number;
  /** Distance from (x, radius) to the chain; `cut` is known to be no less than the answer matters for. */
  distance(x: number, radius: number, cut: number): number;
  /**
   * Nearest points of each piece nearer than `within`, written as x, radius, distance, outward normal (x, radius) to
   * `out` (`FOOT` numbers each, at most `feetAtMost` of them); how many.
   */
  feet(x: number, radius: number, within: number, out: Float64Array): number;
  readonly feetAtMost: number;
  /** No more than the distance of any point of the box from the chain; ≤ 0 when the box is not wholly beneath it. */
  leastDistance(x0: number, x1: number, radius0: number, radius1: number): number;
}

const STRIDE = 9;
/** Numbers a foot is told by. */
export const FOOT = 5;

/**
 * Packs a meridian, with the flat ends that close it towards the axis where nothing adjoins.
 * @param grown added to every radius, mm: an error of the blank's size
 */
export function halfSectionOf(m: Meridian, grown: number, openFirst: boolean, openLast: boolean): HalfSection {
  const chain = m.segments;
  const first = chain[0];
  const last = chain[chain.length - 1];
  if (first === undefined || last === undefined) throw new RangeError("an empty meridian has no surface");
  const rows: number[][] = [];
  const straight = (x0: number, y0: number, x1: number, y1: number): void => {
    if (x0 !== x1 || y0 !== y1) rows.push([0, x0, y0, x1, y1, 0, 0, 0, 0]);
  };
  if (!openFirst) straight(first.from.x, 0, first.from.x, first.from.y + grown);
  for (const s of chain) {
    if (s.kind === "line") straight(s.from.x, s.from.y + grown, s.to.x, s.to.y + grown);
    // x never goes back: clockwise arcs lie above their centre, the others below.
    else
      rows.push([
        1,
        s.from.x,
        s.from.y + grown,
        s.to.x,
        s.to.y + grown,
        s.centre.x,
        s.centre.y + grown,
        radiusOf(s),
        s.ccw ? -1 : 1,
      ]);
  }
  if (!openLast) straight(last.to.x, last.to.y + grown, last.to.x, 0);
  const data = Float64Array.from(rows.flat());
  const count = rows.length;
  const get = (i: number, k: number): number => data[i * STRIDE + k]!;
  const from = first.from.x;
  const to = last.to.x;

  /** Height of piece i at x within its stretch; the larger end of an upright. */
  const heightOn = (i: number, x: number): number => {
    const o = i * STRIDE;
    const x0 = data[o + 1]!;
    const x1 = data[o + 3]!;
    if (x1 === x0) return Math.max(data[o + 2]!, data[o + 4]!);
    if (data[o] === 0) return data[o + 2]! + ((x - x0) / (x1 - x0)) * (data[o + 4]! - data[o + 2]!);
    const r = data[o + 7]!;
    const dx = x - data[o + 5]!;
    return data[o + 6]! + data[o + 8]! * Math.sqrt(Math.max(0, r * r - dx * dx));
  };

  // Pieces follow each other along x: for each millimetre the first that reaches so far.
  const starts = new Int32Array(Math.max(1, Math.ceil(to - from) + 1));
  for (let b = 0, i = 0; b < starts.length; b++) {
    while (i < count - 1 && data[i * STRIDE + 3]! < from + b) i++;
    starts[b] = i;
  }
  const startAt = (x: number): number => starts[Math.min(starts.length - 1, Math.max(0, Math.floor(x - from)))]!;

  const radiusAt = (x: number): number => {
    let most = -1;
    if (x < from || x > to) return most;
    for (let i = startAt(x); i < count && data[i * STRIDE + 1]! <= x; i++) {
      if (x <= data[i * STRIDE + 3]!) most = Math.max(most, heightOn(i, x));
    }
    return most;
  };

  let footX = 0;
  let footRadius = 0;
  /** Distance to piece i; leaves the foot. */
  const toPiece = (i: number, x: number, y: number): number => {
    const o = i * STRIDE;
    const x0 = data[o + 1]!;
    const y0 = data[o + 2]!;
    const x1 = data[o + 3]!;
    const y1 = data[o + 4]!;
    if (data[o] === 0) {
      const dx = x1 - x0;
      const dy = y1 - y0;
      const t = Math.min(1, Math.max(0, ((x - x0) * dx + (y - y0) * dy) / (dx * dx + dy * dy)));
      footX = x0 + t * dx;
      footRadius = y0 + t * dy;
      return Math.sqrt((x - footX) ** 2 + (y - footRadius) ** 2);
    }
    const cx = data[o + 5]!;
    const cy = data[o + 6]!;
    const side = data[o + 8]!;
    const r = data[o + 7]!;
    const dx = x - cx;
    const dy = y - cy;
    const out = Math.sqrt(dx * dx + dy * dy);
    // Seen from the centre, p lies between the ends, which span less than half a turn on one side of it.
    const a = side * ((x0 - cx) * dy - (y0 - cy) * dx);
    const b = side * (dx * (y1 - cy) - dy * (x1 - cx));
    if (a <= 0 && b <= 0 && out > 0 && side * dy >= -1e-12 * r) {
      footX = cx + (dx * r) / out;
      footRadius = cy + (dy * r) / out;
      return Math.abs(out - r);
    }
    const d0 = (x - x0) ** 2 + (y - y0) ** 2;
    const d1 = (x - x1) ** 2 + (y - y1) ** 2;
    footX = d0 <= d1 ? x0 : x1;
    footRadius = d0 <= d1 ? y0 : y1;
    return Math.sqrt(Math.min(d0, d1));
  };

  const distance = (x: number, radius: number, cut: number): number => {
    let least = cut;
    const start = startAt(x);
    for (let i = start; i < count && data[i * STRIDE + 1]! - x < least; i++) {
      const d = toPiece(i, x, radius);
      if (d < least) least = d;
    }
    for (let i = start - 1; i >= 0 && x - data[i * STRIDE + 3]! < least; i--) {
      const d = toPiece(i, x, radius);
      if (d < least) least = d;
    }
    return least;
  };

  const feet = (x: number, radius: number, within: number, out: Float64Array): number => {
    let n = 0;
    const note = (i: number, d: number): void => {
      const o = i * STRIDE;
      const k = FOOT * n++;
      out[k] = footX;
      out[k + 1] = footRadius;
      out[k + 2] = d;
      if (data[o] === 0) {
        const dx = data[o + 3]! - data[o + 1]!;
        const dy = data[o + 4]! - data[o + 2]!;
        const l = Math.sqrt(dx * dx + dy * dy);
        out[k + 3] = -dy / l;
        out[k + 4] = dx / l;
      } else {
        const r = data[o + 7]! * data[o + 8]!;
        out[k + 3] = (footX - data[o + 5]!) / r;
        out[k + 4] = (footRadius - data[o + 6]!) / r;
      }
    };
    for (let i = 0; i < count; i++) {
      const o = i * STRIDE;
      if (data[o + 1]! - x >= within || x - data[o + 3]! >= within) continue;
      const d = toPiece(i, x, radius);
      if (d < within) note(i, d);
      if (data[o] !== 1) continue;
      // Seen from beyond its centre both ends of an arc may be nearest in turn.
      for (const e of [1, 3]) {
        const x1 = data[o + e]!;
        const y1 = data[o + e + 1]!;
        if (x1 === footX && y1 === footRadius) continue;
        const away = Math.sqrt((x - x1) ** 2 + (radius - y1) ** 2);
        if (away >= within) continue;
        footX = x1;
        footRadius = y1;
        note(i, away);
      }
    }
    return n;
  };

  const leastRadius = (x0: number, x1: number): number => {
    let least = Number.POSITIVE_INFINITY;
    for (let i = 0; i < count; i++) {
      const a = get(i, 1);
      const b = get(i, 3);
      if (b < x0 || a > x1) continue;
      if (a === b) continue;
      const p = Math.max(a, x0);
      const q = Math.min(b, x1);
      least = Math.min(least, heightOn(i, p), heightOn(i, q));
      const cx = get(i, 5);
      if (get(i, 0) === 1 && get(i, 8) < 0 && cx > p && cx < q) least = Math.min(least, get(i, 6) - get(i, 7));
    }
    return least;
  };

  const leastDistance = (x0: number, x1: number, r0: number, r1: number): number => {
    const beneath = leastRadius(Math.max(from, x0), Math.min(to, x1)) - r1;
    if (x0 < from || x1 > to || !(beneath > 0)) return Math.min(0, beneath, x0 - from, to - x1);
    let least = Number.POSITIVE_INFINITY;
    const toBox = (x: number, y: number): number => {
      const dx = x < x0 ? x0 - x : x > x1 ? x - x1 : 0;
      const dy = y < r0 ? r0 - y : y > r1 ? y - r1 : 0;
      return Math.sqrt(dx * dx + dy * dy);
    };
    for (let i = 0; i < count; i++) {
      if (get(i, 1) - x1 >= least || x0 - get(i, 3) >= least) continue;
      least = Math.min(least, toBox(get(i, 1), get(i, 2)), toBox(get(i, 3), get(i, 4)));
      least = Math.min(least, toPiece(i, x0, r0), toPiece(i, x1, r0), toPiece(i, x0, r1), toPiece(i, x1, r1));
      // A box and an arc are also nearest where the arc runs along an edge of the box: at its own top or foot.
      const cx = get(i, 5);
      if (get(i, 0) === 1 && cx > get(i, 1) && cx < get(i, 3))
        least = Math.min(least, toBox(cx, get(i, 6) + get(i, 8) * get(i, 7)));
    }
    return least;
  };

  const most = rows.reduce((m0, _, i) => {
    const top = get(i, 0) === 1 && get(i, 8) > 0 && get(i, 5) > get(i, 1) && get(i, 5) < get(i, 3);
    return Math.max(m0, get(i, 2), get(i, 4), top ? get(i, 6) + get(i, 7) : 0);
  }, 0);
  return { from, to, most, radiusAt, distance, feet, feetAtMost: 3 * count, leastDistance };
}
