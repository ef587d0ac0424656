/** Bars, in whole micrometres. */
export interface Bars {
  readonly kinds: readonly { readonly length: number; readonly count: number }[];
  readonly kerf: number;
}

/** Rounds of the linear programme: each adds one way of filling a bar. */
const ROUNDS = 300;
/** Branches in the search for a bar's most valuable filling; beyond them its upper bound stands for it. */
const BRANCHES = 20_000;
/** Steps of common measure up to which sums of bar lengths are looked for. */
const STEPS = 50_000;

/** A bound, and the bars that the linear programme would cut: parts of bars, as a rule. */
export interface Bound {
  readonly least: number;
  readonly fillings: readonly { readonly kind: number; readonly pieces: readonly number[]; readonly amount: number }[];
}

/**
 * A length of bars that no way of cutting goes below, micrometres: the larger of what the wood alone asks, and of the linear
 * programme over all ways of filling a bar, rounded up to a sum of bar lengths. The programme's prices are made feasible
 * before they are added up, so that the bound holds whenever the rounds end.
 * Source: Gilmore and Gomory, "A linear programming approach to the cutting-stock problem", Operations Research 9 (1961);
 * the scaling of prices: Farley, Operations Research 38 (1990). Both from memory.
 */
export function boundOf(bars: Bars, demand: readonly number[], lengths: readonly number[]): Bound {
  const used = demand.map((n, i) => ({ n, size: lengths[i]! + bars.kerf, at: i })).filter((d) => d.n > 0);
  if (used.length === 0 || bars.kinds.length === 0) return { least: 0, fillings: [] };
  const priced = byPrices(bars, used);
  return {
    least: sumOfBars(bars, Math.max(plain(bars, used), priced.least) * (1 - 1e-9) - 1e-3),
    fillings: priced.fillings.map((f) => ({
      ...f,
      pieces: demand.map((_, i) => f.pieces[used.findIndex((d) => d.at === i)] ?? 0),
    })),
  };
}

/** The same from what the wood alone asks: quick, and enough for a few pieces. */
export function woodAlone(bars: Bars, demand: readonly number[], lengths: readonly number[]): Bound {
  const used = demand.map((n, i) => ({ n, size: lengths[i]! + bars.kerf })).filter((d) => d.n > 0);
  if (used.length === 0 || bars.kinds.length === 0) return { least: 0, fillings: [] };
  return { least: sumOfBars(bars, plain(bars, used) * (1 - 1e-9) - 1e-3), fillings: [] };
}

function plain(bars: Bars, wanted: readonly Wanted[]): number {
  const wood = wanted.reduce((sum, d) => sum + d.n * d.size, 0);
  return wood * Math.min(...bars.kinds.map((k) => k.length / (k.length + bars.kerf)));
}

interface Wanted {
  readonly n: number;
  readonly size: number;
}

function byPrices(bars: Bars, wanted: readonly Wanted[]): Bound {
  const rooms = bars.kinds.map((k, kind) => ({ kind, cost: k.length, room: k.length + bars.kerf }));
  const longest = rooms[0]!;
  // One way of filling for each length to begin with: nothing but pieces of that length.
  const columns = wanted.map((w, i) => ({
    kind: longest.kind,
    cost: longest.cost,
    pieces: wanted.map((_, j) => (j === i ? Math.max(1, Math.floor(longest.room / w.size)) : 0)),
  }));
  let amounts = wanted.map((w, i) => w.n / columns[i]!.pieces[i]!);
  let least = 0;
  const now = (): Bound => ({ least, fillings: columns.map((c, i) => ({ ...c, amount: amounts[i]! })) });
  for (let round = 0; round < ROUNDS; round++) {
    const prices = solve(
      columns.map((c) => c.pieces),
      columns.map((c) => c.cost),
    )?.map((p) => Math.max(0, p));
    if (prices === undefined) return now();
    const priced = rooms.map((r) => ({ ...r, ...mostValuable(wanted, prices, r.room) }));
    const scale = Math.min(1, ...priced.map((p) => (p.atMost > 0 ? p.cost / p.atMost : 1)));
    least = Math.max(
      least,
      wanted.reduce((sum, w, i) => sum + w.n * prices[i]! * scale, 0),
    );
    const enters = priced.reduce((a, b) => (b.value - b.cost > a.value - a.cost ? b : a));
    if (enters.value - enters.cost <= 1e-7 * enters.cost) return now();
    const change = solve(
      wanted.map((_, i) => columns.map((c) => c.pieces[i]!)),
      enters.pieces,
    );
    if (change === undefined) return now();
    let leaves = -1;
    for (const [i, d] of change.entries()) {
      if (d > 1e-9 && (leaves < 0 || amounts[i]! / d < amounts[leaves]! / change[leaves]!)) leaves = i;
    }
    if (leaves < 0) return now();
    const step = amounts[leaves]! / change[leaves]!;
    amounts = amounts.map((a, i) => (i === leaves ? step : Math.max(0, a - step * change[i]!)));
    columns[leaves] = { kind: enters.kind, cost: enters.cost, pieces: [...enters.pieces] };
  }
  return now();
}

/** Solves rows · x = right by elimination with pivots; undefined where the rows depend on each other. */
function solve(rows: readonly (readonly number[])[], right: readonly number[]): number[] | undefined {
  const n = right.length;
  const a = rows.map((row, i) => [...row, right[i]!]);
  for (let c = 0; c < n; c++) {
    let p = c;
    for (let r = c + 1; r < n; r++) if (Math.abs(a[r]![c]!) > Math.abs(a[p]![c]!)) p = r;
    if (Math.abs(a[p]![c]!) < 1e-10) return undefined;
    [a[c], a[p]] = [a[p]!, a[c]!];
    const pivot = a[c]!;
    for (let r = 0; r < n; r++) {
      if (r === c) continue;
      const row = a[r]!;
      const f = row[c]! / pivot[c]!;
      if (f !== 0) for (let k = c; k <= n; k++) row[k]! -= f * pivot[k]!;
    }
  }
  return a.map((row, i) => row[n]! / row[i]!);
}

/** The filling of a bar that is worth most, and a value that none exceeds. */
function mostValuable(
  wanted: readonly Wanted[],
  prices: readonly number[],
  room: number,
): { readonly pieces: readonly number[]; readonly value: number; readonly atMost: number } {
  const order = wanted.map((_, i) => i).sort((a, b) => prices[b]! / wanted[b]!.size - prices[a]! / wanted[a]!.size);
  const taken = wanted.map(() => 0);
  let pieces = [...taken];
  let value = 0;
  let branches = BRANCHES;
  const density = (k: number): number => (k < order.length ? prices[order[k]!]! / wanted[order[k]!]!.size : 0);
  const go = (k: number, free: number, worth: number): void => {
    if (worth > value) [pieces, value] = [[...taken], worth];
    if (k === order.length || branches <= 0 || worth + free * density(k) <= value * (1 + 1e-12)) return;
    const i = order[k]!;
    const w = wanted[i]!;
    const most = Math.min(w.n, Math.floor(free / w.size));
    for (let n = most; n >= 0; n--) {
      branches -= 1;
      taken[i] = n;
      go(k + 1, free - n * w.size, worth + n * prices[i]!);
    }
    taken[i] = 0;
  };
  go(0, room, 0);
  return { pieces, value, atMost: branches > 0 ? value * (1 + 1e-12) : Math.max(value, room * density(0)) };
}

/** The least sum of bar lengths that is not below a length; the length itself where sums are too many to look at. */
function sumOfBars(bars: Bars, least: number): number {
  if (least <= 0) return 0;
  const lengths = bars.kinds.map((k) => k.length);
  const measure = lengths.reduce(gcd);
  const reach = Math.ceil((least + lengths[0]!) / measure);
  if (reach > STEPS) return least;
  // Fewest bars do not matter here, only which sums there are; how many of each kind are there is not asked.
  const can = new Uint8Array(reach + 1);
  can[0] = 1;
  for (let at = 0; at <= reach; at++) {
    if (can[at] === 0) continue;
    if (at * measure >= least) return at * measure;
    for (const l of lengths) if (at + l / measure <= reach) can[at + l / measure] = 1;
  }
  return least;
}

function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
}
