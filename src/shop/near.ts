import { closest } from "../units/closest.ts";

/** The known word nearest to what was written, for "did you mean". `tip_flat` and `tip-flat` are near `tip flat`. */
export function nearestWord(written: string, known: readonly string[]): string | undefined {
  const plain = (s: string): string => s.replace(/[\s_-]+/g, " ").trim();
  const near = closest(plain(written), known.map(plain));
  return near === undefined ? undefined : known.find((k) => plain(k) === near);
}
