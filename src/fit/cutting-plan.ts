import { type Bars, boundOf, woodAlone } from "./cutting-plan-bound.ts";
import { cutExactly } from "./cutting-plan-exact.ts";
import { cutByFilling, type FilledCuts, improved } from "./cutting-plan-fill.ts";
import { type Cut, costOf, loadOf, type Supply } from "./cutting-plan-parts.ts";

/** Pieces of one length that are to be sawn off. mm */
export interface CutWanted {
  readonly name: string;
  readonly length: number;
  readonly count: number;
}

/** What they are sawn from: boards along their length, or boards across their width. mm */
export interface BarKind {
  readonly length: number;
  /** How many there are; absent: as many as it takes. */
  readonly count?: number;
}

/** One bar as it is cut up, from its first end. Pieces, kerfs and offcut add up to its length, to the micrometre. mm */
export interface Bar {
  readonly length: number;
  readonly pieces: readonly { readonly name: string; readonly from: number; readonly to: number }[];
  /** What the saw takes in all: one kerf behind each piece, the last one only as far as there is wood. */
  readonly kerfs: number;
  readonly offcut: number;
}

/** How pieces are sawn from bars. */
export interface CuttingPlan {
  readonly bars: readonly Bar[];
  /** Pieces for which there is no bar, or none long enough. */
  readonly missing: readonly CutWanted[];
  /** Length of all bars that are cut into, mm. */
  readonly used: number;
  /** No way of cutting all that is cut here takes less than this, mm. */
  readonly least: number;
}

/** Micrometres in a millimetre: lengths are whole numbers inside, so that sums are exact. */
const FINE = 1000;
/** Most branches that a search for the best plan follows. */
const BRANCHES = 8000;

/**
 * Cuts pieces from bars so that the least length of bars is cut into. Few pieces are cut in the best way there is, found by
 * branch and bound and proved: `used` is then `least`. Many are cut by filling bar after bar and cutting the emptiest anew;
 * `least` then tells how much better any plan could be.
 * @param kerf mm, ≥ 0: between two pieces, and behind the last one
 * Cost: bounded by the number of branches; the same plan for the same pieces in the same order.
 */
export function planCuts(wanted: readonly CutWanted[], bars: readonly BarKind[], kerf: number): CuttingPlan {
  const saw = Math.round(kerf * FINE);
  const kinds = merged(bars);
  const longest = Math.max(0, ...kinds.map((k) => k.length));
  // Rounded up, so that no piece comes out short; a bar is rounded down.
  const sizes = wanted.map((w) => Math.ceil(w.length * FINE - 1e-6));
  const fits = wanted.map((w, i) => w.count > 0 && sizes[i]! <= longest);
  const lengths = [...new Set(sizes.filter((_, i) => fits[i]))].sort((a, b) => b - a);
  const demand = lengths.map((l) => wanted.reduce((n, w, i) => n + (fits[i] && sizes[i] === l ? w.count : 0), 0));
  const supply: Supply = { kinds, lengths, kerf: saw };
  const { cuts, least } = bestCuts(supply, demand);
  const queues = lengths.map((l) =>
    wanted.flatMap((w, i) => (fits[i] && sizes[i] === l ? Array.from({ length: w.count }, () => w) : [])),
  );
  const laid = [...cuts]
    .sort((a, b) => kinds[b.kind]!.length - kinds[a.kind]!.length || loadOf(supply, b) - loadOf(supply, a))
    .map((cut) => barOf(supply, cut, queues));
  const missing = [
    ...queues.flat(),
    ...wanted.flatMap((w, i) => (fits[i] ? [] : (Array(w.count).fill(w) as CutWanted[]))),
  ];
  return {
    bars: laid,
    missing: wanted.flatMap((w) => {
      const count = missing.filter((m) => m === w).length;
      return count > 0 ? [{ ...w, count }] : [];
    }),
    used: costOf(supply, cuts) / FINE,
    least: Math.min(least, costOf(supply, cuts)) / FINE,
  };
}

/** One kind for each length, longest first. */
function merged(bars: readonly BarKind[]): Supply["kinds"] {
  const lengths = [...new Set(bars.map((b) => Math.floor(b.length * FINE + 1e-6)))].sort((a, b) => b - a);
  return lengths
    .filter((l) => l > 0)
    .map((length) => {
      const own = bars.filter((b) => Math.floor(b.length * FINE + 1e-6) === length);
      const count = own.reduce((n, b) => n + (b.count ?? Number.POSITIVE_INFINITY), 0);
      return { length, count };
    });
}

function barsOf(supply: Supply): Bars {
  return { kinds: supply.kinds, kerf: supply.kerf };
}

function bestCuts(
  supply: Supply,
  demand: readonly number[],
): { readonly cuts: readonly Cut[]; readonly least: number } {
  const bars = barsOf(supply);
  const quick = woodAlone(bars, demand, supply.lengths);
  const first = cutByFilling(supply, demand, quick);
  if (isWhole(first) && costOf(supply, first.cuts) <= quick.least) return { cuts: first.cuts, least: quick.least };
  const bound = boundOf(bars, demand, supply.lengths);
  const filled = cutByFilling(supply, demand, bound);
  const all = isWhole(filled);
  const { least } = bound;
  if (all && costOf(supply, filled.cuts) <= least) return { cuts: filled.cuts, least };
  // Where the boards seem not to hold all pieces, a short look for a way in which they do.
  const branches = all ? BRANCHES : BRANCHES / 10;
  const exact = cutExactly(supply, demand, all ? filled.cuts : undefined, least, branches);
  // Beaten by none, it is itself the least.
  if (exact.cuts !== undefined && exact.finished) return { cuts: exact.cuts, least: costOf(supply, exact.cuts) };
  const found = exact.cuts ?? filled.cuts;
  if (all || exact.cuts !== undefined) return { cuts: improved(supply, found, least), least };
  // Not all came out: what can be said is about those that did.
  const done = demand.map((_, i) => found.reduce((n, c) => n + c.pieces[i]!, 0));
  return { cuts: found, least: boundOf(bars, done, supply.lengths).least };
}

function isWhole(plan: FilledCuts): boolean {
  return plan.short.every((n) => n === 0);
}

/** Lays a bar's pieces down from its first end, longest first, taking them from what is still wanted. */
function barOf(supply: Supply, cut: Cut, queues: readonly CutWanted[][]): Bar {
  const length = supply.kinds[cut.kind]!.length;
  const pieces: Bar["pieces"][number][] = [];
  let at = 0;
  let kerfs = 0;
  for (const [i, n] of cut.pieces.entries()) {
    for (let k = 0; k < n; k++) {
      const { name } = queues[i]!.shift()!;
      const to = at + supply.lengths[i]!;
      pieces.push({ name, from: at / FINE, to: to / FINE });
      const saw = Math.min(supply.kerf, length - to);
      kerfs += saw;
      at = to + saw;
    }
  }
  return { length: length / FINE, pieces, kerfs: kerfs / FINE, offcut: (length - at) / FINE };
}
