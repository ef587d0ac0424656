/**
 * Least number of letters to add, drop, change or swap with their neighbour to make one word of another.
 * Source: the optimal string alignment distance (Damerau 1964; Levenshtein 1966). Cost: O(|a|·|b|).
 */
export function editDistance(a: string, b: string): number {
  let before: number[] = [];
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let least = Math.min(row[j]! + 1, next[j - 1]! + 1, row[j - 1]! + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) least = Math.min(least, before[j - 2]! + 1);
      next.push(least);
    }
    before = row;
    row = next;
  }
  return row[b.length]!;
}

/**
 * The candidate nearest to a word, if near enough to be meant: at most one slip for each three letters, and never
 * more than three. Words over 60 letters are nobody's slip. `tip_flat` and `tip-flat` are `tip flat`, in any case.
 */
export function closest(word: string, candidates: readonly string[]): string | undefined {
  if (word.length > 60) return undefined;
  let best: string | undefined;
  let least = Math.min(3, Math.max(1, Math.floor(word.length / 3))) + 1;
  for (const candidate of candidates) {
    if (Math.abs(candidate.length - word.length) >= least) continue;
    const d = editDistance(plain(word), plain(candidate));
    if (d < least) {
      least = d;
      best = candidate;
    }
  }
  return best;
}

function plain(word: string): string {
  return word
    .toLowerCase()
    .replace(/[\s_-]+/g, " ")
    .trim();
}
