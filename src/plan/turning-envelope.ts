import { arc, line, radiusOf, type Segment } from "../shapes/segment.ts";

/**
 * Upper envelopes of lines and arcs as functions of one coordinate, exact: what the planning of turning reckons with.
 * x runs along the axis, values are radii. mm.
 */

/** The endless line or half circle that a piece lies on. Compared by identity. */
export type Carrier =
  | { readonly kind: "line"; readonly x: number; readonly y: number; readonly slope: number }
  | {
      readonly kind: "arc";
      readonly cx: number;
      readonly cy: number;
      readonly radius: number;
      /** The upper half of the circle, or the lower. */
      readonly upper: boolean;
    };

/** A carrier over an interval, from ≤ to. */
export interface Piece {
  readonly from: number;
  readonly to: number;
  readonly on: Carrier;
}

/** Pieces in order that do not overlap; between two of them there may be a gap or a jump. */
export type Envelope = readonly Piece[];

/** Intervals shorter than this hold nothing worth keeping, mm. */
const SLIVER = 1e-12;

/** Value of a carrier at x. */
export function valueOn(c: Carrier, x: number): number {
  switch (c.kind) {
    case "line":
      return c.y + c.slope * (x - c.x);
    case "arc": {
      const h = Math.sqrt(Math.max(0, (c.radius - (x - c.cx)) * (c.radius + (x - c.cx))));
      return c.upper ? c.cy + h : c.cy - h;
    }
  }
}

/** A level or sloping piece between two points; undefined for an upright one. */
export function linePiece(x0: number, y0: number, x1: number, y1: number): Piece | undefined {
  if (x1 < x0) return linePiece(x1, y1, x0, y0);
  if (x1 - x0 <= SLIVER) return undefined;
  return { from: x0, to: x1, on: { kind: "line", x: x0, y: y0, slope: (y1 - y0) / (x1 - x0) } };
}

/** Pieces of segments along which x never goes back; upright ones have none. */
export function piecesOf(segments: readonly Segment[]): Piece[] {
  const pieces: Piece[] = [];
  for (const s of segments) {
    switch (s.kind) {
      case "line": {
        const p = linePiece(s.from.x, s.from.y, s.to.x, s.to.y);
        if (p !== undefined) pieces.push(p);
        break;
      }
      case "arc": {
        if (s.to.x - s.from.x <= SLIVER) break;
        const on: Carrier = {
          kind: "arc",
          cx: s.centre.x,
          cy: s.centre.y,
          radius: radiusOf(s),
          // Walked to the right, the lower half of a circle turns counter-clockwise.
          upper: !s.ccw,
        };
        pieces.push({ from: s.from.x, to: s.to.x, on });
        break;
      }
    }
  }
  return pieces;
}

/** The largest of all pieces at each x. Cost: O(n log n) merges of neighbours. */
export function upperEnvelope(pieces: readonly Piece[]): Envelope {
  if (pieces.length <= 1) return pieces;
  const half = pieces.length >> 1;
  return merged(upperEnvelope(pieces.slice(0, half)), upperEnvelope(pieces.slice(half)));
}

/** The larger of two envelopes at each x. */
export function merged(a: Envelope, b: Envelope): Envelope {
  const out: Piece[] = [];
  const stops = stopsOf(a, b);
  let i = 0;
  let j = 0;
  for (let k = 0; k + 1 < stops.length; k++) {
    const from = stops[k]!;
    const to = stops[k + 1]!;
    if (to - from <= SLIVER) continue;
    while (i < a.length && a[i]!.to <= from) i++;
    while (j < b.length && b[j]!.to <= from) j++;
    const p = a[i] !== undefined && a[i]!.from <= from ? a[i] : undefined;
    const q = b[j] !== undefined && b[j]!.from <= from ? b[j] : undefined;
    if (p === undefined || q === undefined) {
      const only = p ?? q;
      if (only !== undefined) append(out, from, to, only.on);
      continue;
    }
    const cuts = [from, ...meetings(p.on, q.on).filter((x) => x > from && x < to), to].sort((m, n) => m - n);
    for (let c = 0; c + 1 < cuts.length; c++) {
      const middle = (cuts[c]! + cuts[c + 1]!) / 2;
      append(out, cuts[c]!, cuts[c + 1]!, valueOn(p.on, middle) >= valueOn(q.on, middle) ? p.on : q.on);
    }
  }
  return out;
}

/** All ends of both, in order. */
function stopsOf(a: Envelope, b: Envelope): readonly number[] {
  const stops: number[] = [];
  const add = (x: number): void => {
    if (stops.length === 0 || x > stops[stops.length - 1]!) stops.push(x);
  };
  // Each envelope's ends are in order already: from, to, from, to …
  const end = (e: Envelope, k: number): number => (k % 2 === 0 ? e[k >> 1]!.from : e[k >> 1]!.to);
  let i = 0;
  let j = 0;
  while (i < 2 * a.length || j < 2 * b.length) {
    const x = i < 2 * a.length ? end(a, i) : Number.POSITIVE_INFINITY;
    const y = j < 2 * b.length ? end(b, j) : Number.POSITIVE_INFINITY;
    if (x <= y) i++;
    else j++;
    add(Math.min(x, y));
  }
  return stops;
}

function append(out: Piece[], from: number, to: number, on: Carrier): void {
  const last = out[out.length - 1];
  if (last !== undefined && last.on === on && from - last.to <= SLIVER) out[out.length - 1] = { ...last, to };
  else if (to - from > SLIVER) out.push({ from, to, on });
}

/** x at which two carriers meet. Circles are taken whole: a meeting of the wrong halves only splits in vain. */
function meetings(a: Carrier, b: Carrier): readonly number[] {
  if (a.kind === "line" && b.kind === "line") {
    const turn = a.slope - b.slope;
    // From the point of one of them, so that steep lines far from zero keep their digits.
    return turn === 0 ? [] : [a.x + (valueOn(b, a.x) - a.y) / turn];
  }
  if (a.kind === "line") return b.kind === "line" ? [] : lineCircle(a, b);
  if (b.kind === "line") return lineCircle(b, a);
  const dx = b.cx - a.cx;
  const dy = b.cy - a.cy;
  const apart = Math.hypot(dx, dy);
  if (apart === 0) return [];
  const along = (apart * apart + (a.radius - b.radius) * (a.radius + b.radius)) / (2 * apart);
  const square = (a.radius - along) * (a.radius + along);
  if (square < 0) return [];
  const off = Math.sqrt(square);
  return [1, -1].map((k) => a.cx + (along * dx - k * off * dy) / apart);
}

function lineCircle(l: Extract<Carrier, { kind: "line" }>, c: Extract<Carrier, { kind: "arc" }>): readonly number[] {
  const norm = Math.hypot(1, l.slope);
  const ux = 1 / norm;
  const uy = l.slope / norm;
  const wx = c.cx - l.x;
  const wy = c.cy - l.y;
  const off = ux * wy - uy * wx;
  const square = (c.radius - off) * (c.radius + off);
  if (square < 0) return [];
  const middle = ux * wx + uy * wy;
  const half = Math.sqrt(square);
  return [l.x + (middle - half) * ux, l.x + (middle + half) * ux];
}

/** The piece at x: at a joint the one that begins there unless `left` asks for the one that ends there. */
export function pieceAt(e: Envelope, x: number, left = false): Piece | undefined {
  let low = 0;
  let high = e.length - 1;
  while (low < high) {
    const mid = (low + high) >> 1;
    const past = left ? e[mid]!.to < x : e[mid]!.to <= x;
    if (past && mid < e.length - 1) low = mid + 1;
    else high = mid;
  }
  const p = e[low];
  return p !== undefined && p.from <= x + SLIVER && p.to >= x - SLIVER ? p : undefined;
}

/** Value at x, the larger at a jump; −Infinity in a gap. */
export function envelopeAt(e: Envelope, x: number): number {
  const right = pieceAt(e, x);
  const left = pieceAt(e, x, true);
  return Math.max(
    right === undefined ? Number.NEGATIVE_INFINITY : valueOn(right.on, x),
    left === undefined || left === right ? Number.NEGATIVE_INFINITY : valueOn(left.on, x),
  );
}

/** The same upside down: what was an upper envelope's lower side becomes its upper. */
export function negated(e: readonly Piece[]): Piece[] {
  return e.map((p) => ({ ...p, on: negatedCarrier(p.on) }));
}

function negatedCarrier(c: Carrier): Carrier {
  switch (c.kind) {
    case "line":
      return { ...c, y: -c.y, slope: -c.slope };
    case "arc":
      return { ...c, cy: -c.cy, upper: !c.upper };
  }
}

/** The same shifted. */
export function shiftedPieces(e: readonly Piece[], dx: number, dy: number): Piece[] {
  return e.map((p) => {
    const on: Carrier =
      p.on.kind === "line"
        ? { ...p.on, x: p.on.x + dx, y: p.on.y + dy }
        : { ...p.on, cx: p.on.cx + dx, cy: p.on.cy + dy };
    return { from: p.from + dx, to: p.to + dx, on };
  });
}

/** The share of pieces between two places. */
export function clipped(e: readonly Piece[], from: number, to: number): Piece[] {
  return e.flatMap((p) => {
    const a = Math.max(from, p.from);
    const b = Math.min(to, p.to);
    return b - a > SLIVER ? [{ ...p, from: a, to: b }] : [];
  });
}

/** Joints closer than this are one point, mm; a wider step becomes an upright line. */
const WELD = 1e-6;

/**
 * An envelope without gaps as a chain of segments from its first end to its last, jumps as upright lines.
 * @throws RangeError for an envelope with a gap: a bug of ours
 */
export function chainOf(e: Envelope): Segment[] {
  const chain: Segment[] = [];
  let at: { readonly x: number; readonly y: number } | undefined;
  for (const p of e) {
    const start = { x: p.from, y: valueOn(p.on, p.from) };
    const end = { x: p.to, y: valueOn(p.on, p.to) };
    if (at !== undefined && start.x - at.x > WELD) throw new RangeError(`a gap at ${at.x}`);
    if (at !== undefined && Math.abs(start.y - at.y) > WELD) chain.push(line(at, { x: at.x, y: start.y }));
    const from = at === undefined ? start : Math.abs(start.y - at.y) > WELD ? { x: at.x, y: start.y } : at;
    if (p.on.kind === "line") chain.push(line(from, end));
    else chain.push(arc(from, end, { x: p.on.cx, y: p.on.cy }, !p.on.upper));
    at = end;
  }
  return chain;
}

/** A stretch of the axis. */
export interface Interval {
  readonly from: number;
  readonly to: number;
}

/** Where an envelope lies at or below a level: closed intervals in order, ends exact. */
export function below(e: Envelope, level: number): readonly Interval[] {
  const flat: Carrier = { kind: "line", x: 0, y: level, slope: 0 };
  return where(
    e,
    [{ from: Number.NEGATIVE_INFINITY, to: Number.POSITIVE_INFINITY, on: flat }],
    (v, l) => v <= l + 1e-9,
  );
}

/** Where the first envelope lies more than `by` above the second: intervals in order, ends exact. */
export function exceeds(a: Envelope, b: Envelope, by: number): readonly Interval[] {
  return where(a, shiftedPieces(b, 0, by), (v, w) => v > w);
}

/** Where both envelopes are and a comparison holds; it may change only where their carriers meet. */
function where(a: Envelope, b: Envelope, holds: (a: number, b: number) => boolean): readonly Interval[] {
  const found: { from: number; to: number }[] = [];
  let j = 0;
  for (const p of a) {
    while (j < b.length && b[j]!.to <= p.from) j++;
    for (let k = j; k < b.length && b[k]!.from < p.to; k++) {
      const q = b[k]!;
      const from = Math.max(p.from, q.from);
      const to = Math.min(p.to, q.to);
      if (to - from <= SLIVER) continue;
      // Cut at the poles too: two that only just touch there may meet in no number at all.
      const inner = [...meetings(p.on, q.on), ...poleOf(p.on), ...poleOf(q.on)];
      const cuts = [from, ...inner.filter((x) => x > from && x < to), to].sort((m, n) => m - n);
      for (let c = 0; c + 1 < cuts.length; c++) {
        const middle = (cuts[c]! + cuts[c + 1]!) / 2;
        if (!holds(valueOn(p.on, middle), valueOn(q.on, middle))) continue;
        const last = found[found.length - 1];
        if (last !== undefined && cuts[c]! - last.to <= 1e-9) last.to = cuts[c + 1]!;
        else found.push({ from: cuts[c]!, to: cuts[c + 1]! });
      }
    }
  }
  return found;
}

function poleOf(c: Carrier): readonly number[] {
  return c.kind === "arc" ? [c.cx] : [];
}

/** What two lists of intervals share. */
export function shared(a: readonly Interval[], b: readonly Interval[]): readonly Interval[] {
  return a
    .flatMap((p) => b.map((q) => ({ from: Math.max(p.from, q.from), to: Math.min(p.to, q.to) })))
    .filter((i) => i.to >= i.from);
}

/** The smaller of two envelopes at each x; where only one is, that one. */
export function lower(a: Envelope, b: Envelope): Envelope {
  return negated(merged(negated(a), negated(b)));
}
