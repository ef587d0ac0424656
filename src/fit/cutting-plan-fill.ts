import type { Bound } from "./cutting-plan-bound.ts";
import { cutExactly } from "./cutting-plan-exact.ts";
import { type Cut, costOf, loadOf, type Supply, stillThere } from "./cutting-plan-parts.ts";

/** A plan that may leave pieces over. */
export interface FilledCuts {
  readonly cuts: readonly Cut[];
  /** How many of each length found no bar. */
  readonly short: readonly number[];
}

/** Steps in the search for a bar's best filling. */
const STEPS = 4000;
/** Bars that are cut anew together, and branches for it. */
const TOGETHER = 4;
const BRANCHES = 3000;

/**
 * A good plan, quickly: the best of first-fit decreasing, of filling bar after bar as full as it goes around the longest
 * piece left, and of the same behind the whole bars that the linear programme would cut; then each bar's pieces move to the
 * shortest bar that holds them.
 */
export function cutByFilling(s: Supply, demand: readonly number[], bound: Bound): FilledCuts {
  const plans = [
    barByBar(s, demand),
    barByBar(s, demand, wholeBars(s, demand, bound)),
    ...s.kinds.map((_, kind) => firstFit(s, demand, kind)),
  ].map((plan) => ({
    ...plan,
    cuts: shortened(s, plan.cuts),
  }));
  const lacking = (plan: FilledCuts): number => plan.short.reduce((sum, n, i) => sum + n * s.lengths[i]!, 0);
  return plans.reduce((best, plan) => {
    const less = lacking(plan) - lacking(best);
    return less < 0 || (less === 0 && costOf(s, plan.cuts) < costOf(s, best.cuts)) ? plan : best;
  });
}

/** Cuts the emptiest bars anew, a few at a time, in the best way there is, as long as that makes the plan shorter. */
export function improved(s: Supply, cuts: readonly Cut[], aim: number): readonly Cut[] {
  let plan = [...cuts];
  for (let round = 0; round < 3 * TOGETHER && costOf(s, plan) > aim; round++) {
    const empty = (c: Cut): number => s.kinds[c.kind]!.length + s.kerf - loadOf(s, c);
    plan.sort((a, b) => empty(b) - empty(a));
    // The emptiest stays in, with other neighbours each round.
    const anew = plan.filter((_, i) => i === 0 || (i > round && i < round + TOGETHER));
    const kept = plan.filter((c) => !anew.includes(c));
    const demand = s.lengths.map((_, i) => anew.reduce((n, c) => n + c.pieces[i]!, 0));
    const there = stillThere(s, kept);
    const own: Supply = { ...s, kinds: s.kinds.map((k, i) => ({ ...k, count: there[i]! })) };
    const better = cutExactly(own, demand, anew, 0, BRANCHES).cuts ?? anew;
    if (costOf(s, better) < costOf(s, anew)) {
      plan = [...kept, ...better];
      round = -1;
    }
  }
  return plan;
}

/** The programme's bars, each as often as it goes whole, as far as they are there and their pieces are wanted. */
function wholeBars(s: Supply, demand: readonly number[], bound: Bound): readonly Cut[] {
  const left = [...demand];
  const there = s.kinds.map((k) => k.count);
  const cuts: Cut[] = [];
  for (const { kind, pieces, amount } of bound.fillings) {
    for (let n = 1; n <= amount + 1e-6; n++) {
      if (there[kind]! <= 0 || pieces.some((p, i) => p > left[i]!)) break;
      for (const [i, p] of pieces.entries()) left[i]! -= p;
      there[kind]! -= 1;
      cuts.push({ kind, pieces });
    }
  }
  return cuts;
}

/** Fills one bar after the other around the longest piece left, in the kind of bar that it fills best. */
function barByBar(s: Supply, demand: readonly number[], begun: readonly Cut[] = []): FilledCuts {
  const left = demand.map((n, i) => n - begun.reduce((sum, c) => sum + c.pieces[i]!, 0));
  const there = stillThere(s, begun);
  const cuts: Cut[] = [...begun];
  const short = demand.map(() => 0);
  for (;;) {
    const first = left.findIndex((n) => n > 0);
    if (first < 0) return { cuts, short };
    let best: (Cut & { readonly waste: number }) | undefined;
    for (const [kind, { length }] of s.kinds.entries()) {
      if (there[kind]! <= 0 || length < s.lengths[first]!) continue;
      const pieces = fullest(s, left, first, length + s.kerf);
      const waste = 1 - loadOf(s, { kind, pieces }) / (length + s.kerf);
      if (best === undefined || waste < best.waste - 1e-12) best = { kind, pieces, waste };
    }
    if (best === undefined) {
      short[first]! += left[first]!;
      left[first] = 0;
      continue;
    }
    for (const [i, n] of best.pieces.entries()) left[i]! -= n;
    there[best.kind]! -= 1;
    cuts.push({ kind: best.kind, pieces: best.pieces });
  }
}

/** The fullest filling with one piece at least of length `first`, as far as the steps reach. */
function fullest(s: Supply, left: readonly number[], first: number, room: number): readonly number[] {
  const taken = left.map(() => 0);
  taken[first] = 1;
  let best = [...taken];
  let least = room - s.lengths[first]! - s.kerf;
  let steps = STEPS;
  const go = (i: number, free: number): void => {
    if (free < least) [best, least] = [[...taken], free];
    if (i === left.length || least === 0 || --steps <= 0) return;
    const each = s.lengths[i]! + s.kerf;
    const before = taken[i]!;
    const most = Math.min(left[i]! - before, each === 0 ? left[i]! - before : Math.floor(free / each));
    for (let n = most; n >= 0; n--) {
      taken[i] = before + n;
      go(i + 1, free - n * each);
    }
    taken[i] = before;
  };
  go(first, least);
  return best;
}

/** First-fit decreasing: each piece into the first bar that has room, else into a new bar of the kind named, or a longer. */
function firstFit(s: Supply, demand: readonly number[], kind: number): FilledCuts {
  const there = s.kinds.map((k) => k.count);
  const bars: { kind: number; pieces: number[]; free: number }[] = [];
  const short = demand.map(() => 0);
  for (const [i, count] of demand.entries()) {
    const each = s.lengths[i]! + s.kerf;
    for (let n = 0; n < count; n++) {
      let bar = bars.find((b) => b.free >= each);
      if (bar === undefined) {
        const fits = (k: number): boolean => there[k]! > 0 && s.kinds[k]!.length + s.kerf >= each;
        const next = fits(kind) ? kind : s.kinds.findIndex((_, k) => fits(k));
        if (next < 0) {
          short[i]! += 1;
          continue;
        }
        there[next]! -= 1;
        bar = { kind: next, pieces: demand.map(() => 0), free: s.kinds[next]!.length + s.kerf };
        bars.push(bar);
      }
      bar.pieces[i]! += 1;
      bar.free -= each;
    }
  }
  return { cuts: bars.map(({ kind: k, pieces }) => ({ kind: k, pieces })), short };
}

/** Moves each bar's pieces to the shortest bar still there that holds them. */
function shortened(s: Supply, cuts: readonly Cut[]): readonly Cut[] {
  const there = stillThere(s, cuts);
  return cuts.map((cut) => {
    const load = loadOf(s, cut);
    let kind = cut.kind;
    for (const [k, { length }] of s.kinds.entries()) {
      if (there[k]! > 0 && length + s.kerf >= load && length < s.kinds[kind]!.length) kind = k;
    }
    there[cut.kind]! += 1;
    there[kind]! -= 1;
    return { ...cut, kind };
  });
}
