/**
 * Gaps as functions of named sizes: sums of sizes, the smallest or largest of several. Each keeps every branch, so the
 * derivative by a name is exact, and worst cases are bounds and not samples.
 */

/** A constant plus factors times named sizes. mm; the names' own values are those that were read. */
interface Linear {
  readonly constant: number;
  readonly factors: ReadonlyMap<string, number>;
}

/**
 * A gap, or any size. Make one with `exactly` and `sized`, join with `plus`, `minus`, `times`, `leastOf`, `mostOf`.
 * Inside: the smallest over rows of the largest in each row.
 */
export interface Gap {
  readonly rows: readonly (readonly Linear[])[];
  /** What each name was read as. */
  readonly readings: ReadonlyMap<string, number>;
}

/** More branches than this are a mistake of ours. */
const MOST_BRANCHES = 20_000;

/** A size that is known: chosen, or set by the machine. mm */
export function exactly(size: number): Gap {
  return { rows: [[{ constant: size, factors: new Map() }]], readings: new Map() };
}

/**
 * The true size behind a reading: the reading, and an error of its own. One name always stands for the same reading.
 * @param reading mm (or % for a moisture)
 */
export function sized(name: string, reading: number): Gap {
  return { rows: [[{ constant: 0, factors: new Map([[name, 1]]) }]], readings: new Map([[name, reading]]) };
}

/** The sum of any number of sizes. */
export function plus(...gaps: readonly Gap[]): Gap {
  const [first, ...rest] = gaps;
  return first === undefined ? exactly(0) : rest.reduce(plusTwo, first);
}

/** a − b. */
export function minus(a: Gap, b: Gap): Gap {
  return plusTwo(a, times(-1, b));
}

/** A size times a plain number. */
export function times(k: number, gap: Gap): Gap {
  const scaled = gap.rows.map((row) =>
    row.map((l) => ({ constant: k * l.constant, factors: new Map([...l.factors].map(([n, f]) => [n, k * f])) })),
  );
  return { rows: k < 0 ? turned(scaled) : scaled, readings: gap.readings };
}

/** The smallest of several sizes, such as an opening measured at mouth, middle and back. */
export function leastOf(gaps: readonly Gap[]): Gap {
  return { rows: few(gaps.flatMap((g) => g.rows)), readings: readingsOf(gaps) };
}

/** The largest of several sizes. */
export function mostOf(gaps: readonly Gap[]): Gap {
  return times(-1, leastOf(gaps.map((g) => times(-1, g))));
}

/**
 * A size by a formula that bends, taken straight about its readings: value there and exact derivatives by name. Worst cases
 * are then right to the first order of the errors.
 */
export function straightened(
  value: number,
  by: readonly { readonly name: string; readonly reading: number; readonly derivative: number }[],
): Gap {
  return plus(
    exactly(value),
    ...by.map((b) => times(b.derivative, minus(sized(b.name, b.reading), exactly(b.reading)))),
  );
}

/**
 * A gap of which the value is known and what it hangs on: each named size counts `share` times with its error. For a gap
 * that is a plain sum, exact; a name may stand in the list several times.
 */
export function hangingOn(value: number, on: readonly { readonly name: string; readonly share: number }[]): Gap {
  return straightened(
    value,
    on.map(({ name, share }) => ({ name, reading: 0, derivative: share })),
  );
}

/** The value where every name is as it was read, or as `at` says. */
export function gapValue(gap: Gap, at: ReadonlyMap<string, number> = new Map()): number {
  const here = (l: Linear): number => {
    let sum = l.constant;
    for (const [name, factor] of l.factors) sum += factor * (at.get(name) ?? readingOf(gap, name));
    return sum;
  };
  return leastMost(gap, here);
}

/** How much the gap changes per mm of each name, at the readings: the exact derivative of the branch that counts there. */
export function sensitivities(gap: Gap): ReadonlyMap<string, number> {
  return new Map([...activeBranch(gap).factors].filter(([, f]) => f !== 0));
}

/** Every name the gap hangs on anywhere, in order of the alphabet. */
export function namesIn(gap: Gap): readonly string[] {
  const names = new Set(
    gap.rows.flatMap((row) => row.flatMap((l) => [...l.factors].flatMap(([n, f]) => (f === 0 ? [] : [n])))),
  );
  return [...names].sort((a, b) => (a < b ? -1 : 1));
}

/**
 * The gap's least and most when every name is off by up to its tolerance. True bounds: no errors inside the tolerances lead
 * outside them; where the gap is one sum, or the smallest of sums, the least is also reached.
 */
export function worstCase(
  gap: Gap,
  tolerance: (name: string) => number,
): { readonly least: number; readonly most: number } {
  return spread(gap, (l) =>
    weigh(
      l,
      tolerance,
      (sum, part) => sum + part,
      (sum) => sum,
    ),
  );
}

/** The same with the errors' parts added as root of the sum of squares: what independent errors will hardly pass together. */
export function likelyCase(
  gap: Gap,
  tolerance: (name: string) => number,
): { readonly least: number; readonly most: number } {
  return spread(gap, (l) => weigh(l, tolerance, (sum, part) => sum + part * part, Math.sqrt));
}

/**
 * How many times the tolerances may be multiplied before the gap's worst case leaves the limits: 0 when the readings
 * themselves lie outside, infinite when no error matters.
 */
export function standsUpTo(
  gap: Gap,
  tolerance: (name: string) => number,
  limits: { readonly least: number; readonly most: number },
): number {
  const weighed = gap.rows.map((row) =>
    row.map((l) => ({
      at: branchValue(gap, l),
      weight: weigh(
        l,
        tolerance,
        (sum, part) => sum + part,
        (sum) => sum,
      ),
    })),
  );
  const until = (room: number, weight: number): number =>
    room < 0 ? 0 : weight === 0 ? Number.POSITIVE_INFINITY : room / weight;
  const below = weighed.map((row) => Math.max(...row.map((b) => until(b.at - limits.least, b.weight))));
  const above = weighed.map((row) => Math.min(...row.map((b) => until(limits.most - b.at, b.weight))));
  return Math.min(Math.min(...below), Math.max(...above));
}

function plusTwo(a: Gap, b: Gap): Gap {
  const rows = few(
    a.rows.flatMap((ra) => b.rows.map((rb) => few(ra.flatMap((la) => rb.map((lb) => addLinear(la, lb)))))),
  );
  return { rows, readings: readingsOf([a, b]) };
}

function addLinear(a: Linear, b: Linear): Linear {
  const factors = new Map(a.factors);
  for (const [name, f] of b.factors) factors.set(name, (factors.get(name) ?? 0) + f);
  return { constant: a.constant + b.constant, factors };
}

/** Largest over rows of the smallest in each, written as smallest of largest: one entry picked from every row. */
function turned(rows: readonly (readonly Linear[])[]): readonly (readonly Linear[])[] {
  let picks: readonly (readonly Linear[])[] = [[]];
  for (const row of rows) picks = few(picks.flatMap((pick) => row.map((l) => [...pick, l])));
  return picks;
}

function few<T>(list: readonly T[]): readonly T[] {
  if (list.length > MOST_BRANCHES) throw new RangeError("a gap with this many branches is a mistake");
  return list;
}

function readingsOf(gaps: readonly Gap[]): ReadonlyMap<string, number> {
  const all = new Map<string, number>();
  for (const gap of gaps) {
    for (const [name, reading] of gap.readings) {
      const before = all.get(name);
      if (before !== undefined && before !== reading) throw new RangeError(`two readings are called ${name}`);
      all.set(name, reading);
    }
  }
  return all;
}

function readingOf(gap: Gap, name: string): number {
  const reading = gap.readings.get(name);
  if (reading === undefined) throw new RangeError(`no reading is called ${name}`);
  return reading;
}

function branchValue(gap: Gap, l: Linear): number {
  let sum = l.constant;
  for (const [name, factor] of l.factors) sum += factor * readingOf(gap, name);
  return sum;
}

function leastMost(gap: Gap, of: (l: Linear) => number): number {
  return Math.min(...gap.rows.map((row) => Math.max(...row.map(of))));
}

function activeBranch(gap: Gap): Linear {
  const best = gap.rows.map((row) => row.reduce((a, b) => (branchValue(gap, b) > branchValue(gap, a) ? b : a)));
  return best.reduce((a, b) => (branchValue(gap, b) < branchValue(gap, a) ? b : a));
}

function weigh(
  l: Linear,
  tolerance: (name: string) => number,
  add: (sum: number, part: number) => number,
  end: (sum: number) => number,
): number {
  let sum = 0;
  for (const [name, factor] of l.factors) {
    if (factor !== 0) sum = add(sum, Math.abs(factor) * tolerance(name));
  }
  return end(sum);
}

function spread(gap: Gap, reach: (l: Linear) => number): { readonly least: number; readonly most: number } {
  return {
    least: leastMost(gap, (l) => branchValue(gap, l) - reach(l)),
    most: leastMost(gap, (l) => branchValue(gap, l) + reach(l)),
  };
}
