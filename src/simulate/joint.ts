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
const HELD = -3;

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
  const piece: number[] = [];
  for (let c = 0; c < n; c++) {
    if (isEmpty(wood.least, c)) continue;
    const held = isHeld(c);
    if (inPiece(c)) {
      if (held) return { area: Number.POSITIVE_INFINITY, enough: true };
      place[c] = PIECE;
      piece.push(c);
    } else if (held) place[c] = HELD;
  }
  const shared = (c: number, d: number) => Math.floor(overlap(wood.least, c, d) * UNIT);
  const besideOf = (c: number, m: number): number => {
    const i = c % nx;
    if (m === 0) return i > 0 ? c - 1 : -1;
    if (m === 1) return i < nx - 1 ? c + 1 : -1;
    if (m === 2) return c >= nx ? c - nx : -1;
    return c < n - nx ? c + nx : -1;
  };
  // Columns that hang on the piece, numbered as they are reached; a held one ends the way.
  const reached: number[] = [];
  const ends: number[] = [];
  const starts: { column: number; capacity: number }[] = [];
  const reach = (c: number, d: number): number => {
    const was = place[d]!;
    if (was >= 0 || was === PIECE) return was;
    if (isEmpty(wood.least, d) || shared(c, d) <= 0) return NOWHERE;
    place[d] = reached.push(d) - 1;
    ends.push(was === HELD ? 1 : 0);
    return place[d]!;
  };
  for (const c of piece) {
    for (let m = 0; m < 4; m++) {
      const d = besideOf(c, m);
      const k = d < 0 ? NOWHERE : reach(c, d);
      if (k >= 0) starts.push({ column: k, capacity: shared(c, d) });
    }
  }
  for (let k = 0; k < reached.length; k++) {
    for (let m = 0; ends[k] === 0 && m < 4; m++) {
      const d = besideOf(reached[k]!, m);
      if (d >= 0) reach(reached[k]!, d);
    }
  }
  const count = reached.length;
  const beside = new Int32Array(4 * count).fill(-1);
  const between = new Int32Array(4 * count);
  const own = new Int32Array(count);
  for (const [k, c] of reached.entries()) {
    own[k] = Math.floor(overlap(wood.least, c, c) * UNIT);
    for (let m = 0; m < 4; m++) {
      const d = besideOf(c, m);
      if (d < 0 || place[d]! < 0) continue;
      beside[4 * k + m] = place[d]!;
      between[4 * k + m] = shared(c, d);
    }
  }
  const limit = Math.ceil((enough / cell) * UNIT);
  const flow = stripFlow({ count, beside, shared: between, own, starts, ends: Uint8Array.from(ends) }, limit);
  return { area: (flow / UNIT) * cell, enough: flow >= limit };
}
