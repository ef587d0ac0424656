import { overlap } from "./pieces.ts";
import { stripFlow } from "./strip-flow.ts";
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
const NOWHERE = -1;
const PIECE = -2;

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
  const place = new Int32Array(n).fill(NOWHERE);
  const piece = new Int32Array(n);
  let pieces = 0;
  let full = 0;
  for (let c = 0; c < n; c++) {
    if (isEmpty(wood.least, c)) continue;
    full++;
    if (!inPiece(c)) continue;
    if (isHeld(c)) return { area: Number.POSITIVE_INFINITY, enough: true };
    place[c] = PIECE;
    piece[pieces++] = c;
  }
  const besideOf = (c: number, m: number): number => {
    const i = c % nx;
    if (m === 0) return i > 0 ? c - 1 : -1;
    if (m === 1) return i < nx - 1 ? c + 1 : -1;
    if (m === 2) return c >= nx ? c - nx : -1;
    return c < n - nx ? c + nx : -1;
  };
  // Columns that hang on the piece, numbered as they are reached; a held one ends the way.
  const room = full - pieces;
  const reached = new Int32Array(room);
  const ends = new Uint8Array(room);
  const own = new Int32Array(room);
  const beside = new Int32Array(4 * room).fill(-1);
  const shared = new Int32Array(4 * room);
  const starts: { column: number; capacity: number }[] = [];
  let count = 0;
  const number = (d: number): number => {
    if (place[d]! !== NOWHERE) return place[d]!;
    reached[count] = d;
    ends[count] = isHeld(d) ? 1 : 0;
    own[count] = Math.floor(overlap(wood.least, d, d) * UNIT);
    place[d] = count++;
    return place[d]!;
  };
  for (let p = 0; p < pieces; p++) {
    const c = piece[p]!;
    for (let m = 0; m < 4; m++) {
      const d = besideOf(c, m);
      if (d < 0 || place[d] === PIECE) continue;
      const capacity = Math.floor(overlap(wood.least, c, d) * UNIT);
      if (capacity > 0) starts.push({ column: number(d), capacity });
    }
  }
  for (let k = 0; k < count; k++) {
    if (ends[k] === 1) continue;
    const c = reached[k]!;
    for (let m = 0; m < 4; m++) {
      const d = besideOf(c, m);
      if (d < 0 || place[d] === PIECE || beside[4 * k + m]! >= 0) continue;
      const through = Math.floor(overlap(wood.least, c, d) * UNIT);
      if (through <= 0) continue;
      const other = number(d);
      beside[4 * k + m] = other;
      beside[4 * other + (m ^ 1)] = k;
      shared[4 * k + m] = through;
      shared[4 * other + (m ^ 1)] = through;
    }
  }
  const limit = Math.ceil((enough / cell) * UNIT);
  const flow = stripFlow({ count, beside, shared, own, starts, ends }, limit);
  return { area: (flow / UNIT) * cell, enough: flow >= limit };
}
