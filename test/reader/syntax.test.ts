import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { newBlock } from "../../src/reader/block.ts";
import { readLine } from "../../src/reader/lex.ts";
import { openLog } from "../../src/reader/log.ts";
import type { Scan } from "../../src/reader/numbers.ts";
import { type OracleLine, oracleLine } from "./line-grammar.ts";

const PARAMETERS = new Map([
  [1, 2],
  [2, -3.5],
  [3, 0.25],
  [5399, 1],
]);

/** The reader's own reading of a line in the oracle's terms, or undefined when it breaks the syntax. */
function readerLine(line: string): OracleLine | undefined {
  const text = `${line}\n`;
  const log = openLog("line", text, "any");
  log.line = 1;
  const scan: Scan = { text, log, ours: false, parameters: new Map(PARAMETERS), pos: 0 };
  const block = newBlock();
  const end = readLine(scan, block, 0);
  expect(end).toBe(line.length);
  const broken = log.findings.some((f) => /^rs-e(03|05|06|07|08|09|10|11|56)/.test(f.code));
  expect(block.cut && !broken).toBe(false);
  if (broken) return undefined;
  const words: [string, number][] = [];
  for (let k = 0; k < 26; k++) {
    if ((block.letters >> k) & 1) words.push([String.fromCharCode(65 + k), block.values[k]!]);
  }
  const settings: [number, number][] = [];
  for (let k = 0; k < block.settings.length; k += 2) settings.push([block.settings[k]!, block.settings[k + 1]!]);
  return { deleted: block.deleted, percent: block.percent, n: block.n < 0 ? undefined : block.n, words, settings };
}

/** Both readings must reject, or say the same. */
function agree(line: string): "accepted" | "rejected" {
  const oracle = oracleLine(line, PARAMETERS);
  const reader = readerLine(line);
  expect(reader === undefined, `oracle ${oracle ? "accepts" : "rejects"} ${JSON.stringify(line)}`).toBe(
    oracle === undefined,
  );
  if (oracle === undefined || reader === undefined) return "rejected";
  expect([reader.deleted, reader.percent, reader.n]).toEqual([oracle.deleted, oracle.percent, oracle.n]);
  expect(reader.settings.length).toBe(oracle.settings.length);
  for (const [k, [index, value]] of oracle.settings.entries()) {
    expect(reader.settings[k]![0]).toBe(index);
    near(reader.settings[k]![1], value);
  }
  // Codes and counts are kept apart or rounded; the last of repeated letters stands.
  const last = new Map(oracle.words.filter(([letter]) => !"GMDHLT".includes(letter)));
  const read = new Map(reader.words.filter(([letter]) => !"DHLT".includes(letter)));
  expect([...read.keys()].sort()).toEqual([...last.keys()].sort());
  for (const [letter, value] of last) near(read.get(letter)!, value);
  return "accepted";
}

function near(a: number, b: number): void {
  expect(Math.abs(a - b)).toBeLessThanOrEqual(1e-12 * Math.max(1, Math.abs(b)));
}

const blanks = fc.constantFrom("", "", "", " ", "\t", "  ");
const digits = fc.stringMatching(/^[0-9]{1,7}$/);
const real = fc
  .tuple(
    fc.constantFrom("", "", "-", "+"),
    fc.oneof(
      digits,
      digits.map((d) => `${d}.`),
      digits.map((d) => `.${d}`),
      fc.tuple(digits, digits).map((p) => p.join(".")),
    ),
  )
  .map((p) => p.join(""));
const value: fc.Arbitrary<string> = fc.letrec<{ value: string; sum: string }>((tie) => ({
  value: fc.oneof(
    { maxDepth: 4 },
    { weight: 5, arbitrary: real },
    { weight: 1, arbitrary: fc.constantFrom("#1", "#2", "#3", "##1", "#[#1*2]", "#5399", "#0", "#5400", "#77") },
    { weight: 2, arbitrary: tie("sum").map((s) => `[${s}]`) },
    {
      weight: 2,
      arbitrary: fc
        .tuple(
          fc.constantFrom("ABS", "ACOS", "ASIN", "COS", "EXP", "FIX", "FUP", "LN", "ROUND", "SIN", "SQRT", "TAN"),
          tie("sum"),
        )
        .map(([f, s]) => `${f}[${s}]`),
    },
    { weight: 1, arbitrary: fc.tuple(tie("sum"), tie("sum")).map(([y, x]) => `ATAN[${y}]/[${x}]`) },
  ),
  sum: fc
    .tuple(
      tie("value"),
      fc.array(fc.tuple(fc.constantFrom("+", "-", "*", "/", "**", "MOD", "OR", "XOR", "AND"), tie("value")), {
        maxLength: 3,
      }),
    )
    .map(([head, tail]) => head + tail.map((t) => t.join("")).join("")),
})).value;
const word = fc
  .tuple(
    fc.constantFrom(..."ABCDFGHIJKLMPQRSTXYZ"),
    fc.oneof({ weight: 4, arbitrary: real }, { weight: 1, arbitrary: value }),
  )
  .map((p) => p.join(""));
const comment = fc.stringMatching(/^[ -'*-~]{0,12}$/).map((t) => `(${t})`);
const setting = fc.tuple(fc.constantFrom("#1", "#[1+1]", "##1", "#5400", "#12"), value).map(([p, v]) => `${p}=${v}`);
const item = fc.oneof(
  { weight: 6, arbitrary: word },
  { weight: 1, arbitrary: comment },
  { weight: 1, arbitrary: setting },
);
const line = fc
  .tuple(
    fc.constantFrom("", "", "/"),
    fc.oneof(
      fc.constant(""),
      fc.integer({ min: 0, max: 99999 }).map((n) => `N${n}`),
    ),
    fc.array(item, { maxLength: 6 }),
  )
  .map(([slash, n, items]) => slash + n + items.join(""));

/** Sprinkles blanks and lower case over a line, outside comments. */
const sprinkled = line.chain((text) =>
  fc.array(fc.tuple(blanks, fc.boolean()), { minLength: text.length, maxLength: text.length }).map((marks) => {
    let inside = false;
    return [...text]
      .map((c, k) => {
        if (c === "(") inside = true;
        const [blank, lower] = marks[k]!;
        const out = inside ? c : blank + (lower ? c.toLowerCase() : c);
        if (c === ")") inside = false;
        return out;
      })
      .join("");
  }),
);

const STRANGE = [..."XYZGMNFSPQREOUVW0123456789.+-*/[]#=()%; ,:$\"'!", "\t", "\u00e9", "\u0000", "\u2028", "\ufeff"];
const mutated = fc
  .tuple(
    sprinkled,
    fc.array(fc.tuple(fc.nat(), fc.constantFrom("insert", "drop", "swap", "cut"), fc.constantFrom(...STRANGE)), {
      minLength: 1,
      maxLength: 3,
    }),
  )
  .map(([text, changes]) =>
    changes.reduce((t, [place, how, c]) => {
      const k = t.length === 0 ? 0 : place % (t.length + 1);
      switch (how) {
        case "insert":
          return t.slice(0, k) + c + t.slice(k);
        case "drop":
          return t.slice(0, k) + t.slice(k + 1);
        case "swap":
          return t.slice(0, k) + c + t.slice(k + 1);
        case "cut":
          return t.slice(0, k);
      }
      return t;
    }, text),
  );

describe("line syntax against a grammar of its own", () => {
  it("agrees on lines made to be right", () => {
    const tally = { accepted: 0, rejected: 0 };
    fc.assert(
      fc.property(sprinkled, (text) => {
        tally[agree(text)]++;
      }),
      { numRuns: 3000 },
    );
    expect(tally.accepted).toBeGreaterThan(1000);
  });

  it("agrees on lines damaged by a few characters", () => {
    const tally = { accepted: 0, rejected: 0 };
    fc.assert(
      fc.property(mutated, (text) => {
        tally[agree(text)]++;
      }),
      { numRuns: 4000 },
    );
    expect(Math.min(tally.accepted, tally.rejected)).toBeGreaterThan(500);
  });

  it("agrees on noise", () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...STRANGE), { maxLength: 20 }), (cs) => {
        agree(cs.join(""));
      }),
      { numRuns: 2000 },
    );
  });

  it.each([
    "%",
    " % ",
    "%%",
    "/%",
    "N1%",
    "(a)%",
    "%(a)",
    "/",
    "//",
    "/N1",
    "N1/",
    "",
    " ",
    "X1E3",
    "XN1",
    "N1N2",
    "#1=2X3",
    "X#1#2=3",
  ])("agrees on %j", (text) => {
    agree(text);
  });

  it("reads numbers to the last bit", () => {
    fc.assert(
      fc.property(real, (text) => {
        const read = readerLine(`X${text}`);
        expect(Object.is(read?.words[0]?.[1], Number(text))).toBe(true);
      }),
      { numRuns: 3000 },
    );
    for (const text of [
      "123456789012345678901234.5",
      "0.00000000000000000000000012345",
      ".1",
      "-0",
      "00000000000000000000001.5",
    ]) {
      expect(readerLine(`X${text}`)?.words[0]?.[1]).toBe(Number(text));
    }
  });
});
