import { type Cut, costOf, type Supply } from "./cutting-plan-parts.ts";

/** What a search came to. */
export interface ExactCuts {
  /** The best plan found for all pieces; absent: none was. */
  readonly cuts: readonly Cut[] | undefined;
  /** True: there is no better one (or none at all). False: the search was given up. */
  readonly finished: boolean;
}

/**
 * The way of cutting that takes the least length of bars, by branch and bound over whole bars: the longest piece left lies
 * in some bar, so each kind of bar and each full way of filling it up beside that piece is tried. Ways that leave room for
 * another piece need not be: moving that piece over never makes a plan longer. What is left over after some bars is looked
 * at again only when it was reached with less.
 * @param best a plan to beat, for all pieces
 * @param aim no plan takes less: one that takes as little ends the search
 * @param branches given up after so many
 */
export function cutExactly(
  s: Supply,
  demand: readonly number[],
  best: readonly Cut[] | undefined,
  aim: number,
  branches: number,
): ExactCuts {
  let found = best;
  let cost = best === undefined ? Number.POSITIVE_INFINITY : costOf(s, best);
  let budget = branches;
  const seen = new Map<string, number>();
  const cheapest = Math.min(...s.kinds.map((k) => k.length / (k.length + s.kerf)));

  const search = (left: number[], there: number[], cuts: Cut[], spent: number): void => {
    if (budget <= 0 || cost <= aim) return;
    const first = left.findIndex((n) => n > 0);
    if (first < 0) {
      if (spent < cost) [found, cost] = [[...cuts], spent];
      return;
    }
    const wood = left.reduce((sum, n, i) => sum + n * (s.lengths[i]! + s.kerf), 0);
    // Rounded down a little, so that no plan is cut off by the dust of a division.
    if (spent + wood * cheapest * (1 - 1e-12) > cost - 1) return;
    const key = `${left.join()} ${there.map((n) => (Number.isFinite(n) ? n : "")).join()}`;
    if ((seen.get(key) ?? Number.POSITIVE_INFINITY) <= spent) return;
    seen.set(key, spent);
    for (const [kind, { length }] of s.kinds.entries()) {
      if (there[kind]! <= 0 || length < s.lengths[first]! || spent + length >= cost) continue;
      there[kind]! -= 1;
      for (const pieces of fillings(s, left, first, length + s.kerf)) {
        if (--budget <= 0) break;
        const rest = left.map((n, i) => n - pieces[i]!);
        cuts.push({ kind, pieces });
        search(rest, there, cuts, spent + length);
        cuts.pop();
      }
      there[kind]! += 1;
    }
  };
  search(
    [...demand],
    s.kinds.map((k) => k.count),
    [],
    0,
  );
  return { cuts: found, finished: budget > 0 || cost <= aim };
}

/** All full ways of filling a bar that hold one piece at least of length `first`; fuller with long pieces come first. */
function* fillings(s: Supply, left: readonly number[], first: number, room: number): Generator<number[]> {
  const taken = left.map(() => 0);
  function* from(i: number, free: number): Generator<number[]> {
    if (i === left.length) {
      const more = left.some((n, j) => n > taken[j]! && s.lengths[j]! + s.kerf <= free);
      if (!more) yield [...taken];
      return;
    }
    const each = s.lengths[i]! + s.kerf;
    const most = Math.min(left[i]!, each === 0 ? left[i]! : Math.floor(free / each));
    for (let n = most; n >= (i === first ? 1 : 0); n--) {
      taken[i] = n;
      yield* from(i + 1, free - n * each);
    }
    taken[i] = 0;
  }
  yield* from(first, room);
}
