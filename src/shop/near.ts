/**
 * The known word nearest to what was written, for "did you mean": fewest changed, added, dropped or swapped letters,
 * at most a third of the word's length. Letter case and the signs between words do not count.
 */
export function nearestWord(written: string, known: readonly string[]): string | undefined {
  const plain = (s: string): string =>
    s
      .slice(0, 60)
      .toLowerCase()
      .replace(/[\s_-]+/g, " ")
      .trim();
  const target = plain(written);
  let best: string | undefined;
  let least = Math.max(1, Math.floor(target.length / 3)) + 1;
  for (const word of known) {
    const changes = editDistance(target, plain(word));
    if (changes < least) {
      least = changes;
      best = word;
    }
  }
  return best;
}

/** Optimal string alignment distance: the Levenshtein distance, with a swap of neighbours as one change. */
function editDistance(a: string, b: string): number {
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let d = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + same);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) d = Math.min(d, before[j - 2]! + 1);
      row.push(d);
    }
    before = last;
    last = row;
  }
  return last[b.length]!;
}
