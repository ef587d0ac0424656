import peggy from "peggy";

/**
 * A grammar of the text that we write, made from NISTIR 6556 §3.3 and its Appendix E, narrowed to our own subset. It shares
 * nothing with the writer or the reader.
 */
const GRAMMAR = String.raw`
program = lines:line* { return lines.filter((l) => l !== null); }
line = c:comment "\n" { return { comment: c }; }
     / n:label? w:words "\n" { return { label: n ?? undefined, words: w }; }
     / "%" "\n" { return { percent: true }; }
label = "N" d:$([0-9]|1..5|) " " { return Number(d); }
comment = "(" t:$([ -'*-~]|0..118|) ")" { return t; }
words = head:word tail:(" " w:word { return w; })* { return [head, ...tail]; }
word = code / integer / real
code = l:[GM] v:$([0-9]|1..2| ("." [0-9])?) { return { letter: l, value: Number(v) }; }
integer = l:[STH] v:$([0-9]|1..5|) { return { letter: l, value: Number(v) }; }
real = l:[XYZIJFP] v:$("-"? [0-9]+ "." [0-9]+) { return { letter: l, value: Number(v), text: v }; }
`;

export interface Word {
  readonly letter: string;
  readonly value: number;
  readonly text?: string;
}

export interface Line {
  readonly comment?: string;
  readonly percent?: boolean;
  readonly label?: number;
  readonly words?: readonly Word[];
}

/** The lines of a program; throws with line and column where the text is not of our subset. */
export const parseProgram: (text: string) => readonly Line[] = (() => {
  const parser = peggy.generate(GRAMMAR);
  return (text) => parser.parse(text) as readonly Line[];
})();

/** A line's words as text, for comparing: "G1 X12.5". */
export function spelled(line: Line): string {
  return (line.words ?? []).map((w) => `${w.letter}${w.text ?? w.value}`).join(" ");
}

/** One motion as written, with the position it leads from and to, mm. */
export interface Motion {
  readonly code: number;
  readonly from: readonly [number | undefined, number | undefined, number | undefined];
  readonly to: readonly [number | undefined, number | undefined, number | undefined];
  readonly centre?: readonly [number, number];
  readonly feed: number | undefined;
}

/** A plain walk through the lines: what moves where. Unit from G20/G21; G53 makes Z unknown. */
export function motionsOf(lines: readonly Line[]): readonly Motion[] {
  let unit = Number.NaN;
  let feed: number | undefined;
  let at: [number | undefined, number | undefined, number | undefined] = [undefined, undefined, undefined];
  const motions: Motion[] = [];
  for (const { words } of lines) {
    if (!words) continue;
    const get = (letter: string): number | undefined => words.find((w) => w.letter === letter)?.value;
    const codes = words.filter((w) => w.letter === "G").map((w) => w.value);
    if (codes.includes(21)) unit = 1;
    if (codes.includes(20)) unit = 25.4;
    const f = get("F");
    if (f !== undefined) feed = f * unit;
    if (codes.includes(53)) {
      at = [at[0], at[1], undefined];
      continue;
    }
    const code = codes.find((c) => c <= 3);
    if (code === undefined || codes.length !== 1) continue;
    const from = at;
    const next = (k: 0 | 1 | 2, letter: string): number | undefined => {
      const v = get(letter);
      return v === undefined ? from[k] : v * unit;
    };
    at = [next(0, "X"), next(1, "Y"), next(2, "Z")];
    const i = get("I");
    const j = get("J");
    motions.push({
      code,
      from,
      to: at,
      ...(i === undefined || j === undefined ? {} : { centre: [from[0]! + i * unit, from[1]! + j * unit] as const }),
      feed: code === 0 ? undefined : feed,
    });
  }
  return motions;
}
