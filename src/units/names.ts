import type { Read } from "./problem.ts";
import type { Value } from "./value.ts";

/**
 * The sizes that a formula may name. Names are compared by `nameKey`. `valueOf` may work a size out on the way; an
 * unreadable one gives a problem whose `code` is "formula-name-broken", so that a mistake is told once, where it is.
 */
export interface NameTable {
  readonly names: readonly string[];
  /** Undefined: no such name. */
  readonly valueOf: (key: string) => Read<Value> | undefined;
}

/** No names at all. */
export const NO_NAMES: NameTable = { names: [], valueOf: () => undefined };

/**
 * Why a name cannot name a measured size, or nothing if it can. A name is words of letters and digits that begin with
 * a letter; words are joined by spaces, by a hyphen between letters, or by an apostrophe.
 */
export function nameTrouble(name: string): string | undefined {
  if (name.length > 60) return "a name has at most 60 letters";
  if (!/^\p{L}/u.test(name)) return "a name begins with a letter";
  if (!/^[\p{L}\p{M}\p{N}_'. -]+$/u.test(name))
    return "a name holds only letters, digits and spaces, so that a formula can name it";
  if (/-(?!\p{L})|(?<!\p{L})-|\.(?!\p{L}|\p{N})/u.test(name)) return "a hyphen in a name stands between two letters";
  return undefined;
}

/** The stretch at `at` that could be a name, and the places in it where a shorter name could end, longest first. */
export function nameRun(text: string, at: number): readonly number[] {
  const run = /\p{L}(?:[\p{L}\p{M}\p{N}_]|'(?=\p{L})|\.(?=[\p{L}\p{N}])|-(?=\p{L})| +(?=[\p{L}\p{N}]))*/uy;
  run.lastIndex = at;
  const found = run.exec(text);
  if (!found) return [];
  const ends: number[] = [];
  for (let i = 1; i < found[0].length; i++) {
    if (/[ -]/.test(found[0][i]!) && found[0][i - 1] !== " ") ends.unshift(at + i);
  }
  return [at + found[0].length, ...ends];
}
