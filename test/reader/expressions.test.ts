import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readAny, told } from "./controllers.ts";

/** X that a line with expressions leads to, or the codes of what is wrong with it. */
function xOf(...lines: readonly string[]): number | string {
  const read = readAny(`G17 G21 G40 G54 G61 G90 G94\nG0 Z5.\n${lines.join("\n")}\nM2\n`);
  const bad = told(read).join(" ");
  const moves = read.events.filter((e) => e.kind === "move");
  return bad === "" ? moves[moves.length - 1]!.to.x! : bad;
}

describe("parameters and expressions", () => {
  it.each([
    ["[1+2*3]", 7],
    ["[2*3+1]", 7],
    ["[2-3-4]", -5],
    ["[2**3**2]", 64],
    ["[-2**2]", 4],
    ["[24/4/3]", 2],
    ["[7 MOD 3]", 1],
    ["[-7 MOD 3]", 2],
    ["[7 mod -3]", 1],
    ["[2 + 3 AND 0]", 0],
    ["[0 OR 5]", 1],
    ["[1 XOR 1]", 0],
    ["[1 + [2 * [3 + 4]]]", 15],
    ["abs[-1.5]", 1.5],
    ["ROUND[2.5]", 3],
    ["ROUND[-2.5]", -3],
    ["FIX[-2.5]", -3],
    ["FUP[-2.5]", -2],
    ["ATAN[1]/[-1]", 135],
    ["ATAN[-1]/[0]", -90],
    ["SIN[30]", 0.5],
    ["COS[60]", 0.5],
    ["TAN[45]", 1],
    ["ACOS[-1]", 180],
    ["ASIN[1]", 90],
    ["SQRT[16]", 4],
    ["EXP[LN[5]]", 5],
    ["[ 1 0 . 5 + . 5 ]", 11],
    ["S Q R T [ 9 ]", 3],
  ])("X%s is %d", (text, value) => {
    expect(xOf(`G0 X${text}`)).toBeCloseTo(value, 12);
  });

  it("a setting takes effect after its whole line, whatever the order", () => {
    expect(xOf("#1=3", "#1=8 G0 X#1")).toBe(3);
    expect(xOf("#1=3", "G0 X#1 #1=8", "X#1")).toBe(8);
    expect(xOf("#1=3 #1=4", "G0 X#1")).toBe(4);
    expect(xOf("#7=2", "#2=6.5", "G0 X##7")).toBe(6.5);
    expect(xOf("#[1+1]=9", "G0 X#2")).toBe(9);
  });

  it("a code may be an expression when it comes out whole", () => {
    expect(xOf("#1=0", "G#1 X[5]")).toBe(5);
    expect(xOf("G[0.5+0.3] X5.")).toBe("rs-e18-unknown-g:3");
    expect(xOf("G[1/3*3-1] X5.")).toBe(5);
  });

  it("a parameter that only the controller knows is told, and events end there", () => {
    expect(xOf("G0 X#100")).toBe("rs-parameter-unknown:3");
  });

  const number = fc.integer({ min: -40, max: 40 }).map((n) => n / 4);

  /** A chain of operands and operations, with the value that a slow and plain evaluator gives it. */
  type Tree = number | { readonly f: string; readonly of: Chain } | Chain;
  interface Chain {
    readonly head: Tree;
    readonly tail: readonly (readonly [string, Tree])[];
  }
  const tree = fc.letrec<{ tree: Tree; chain: Chain }>((tie) => ({
    tree: fc.oneof(
      { maxDepth: 3 },
      { weight: 4, arbitrary: number },
      {
        weight: 1,
        arbitrary: fc.record({
          f: fc.constantFrom("ABS", "FIX", "FUP", "ROUND", "SIN", "COS", "SQRT"),
          of: tie("chain"),
        }),
      },
      { weight: 2, arbitrary: tie("chain") },
    ),
    chain: fc.record({
      head: tie("tree"),
      tail: fc.array(fc.tuple(fc.constantFrom("+", "-", "*", "/", "MOD", "OR", "XOR", "AND", "**"), tie("tree")), {
        maxLength: 4,
      }),
    }),
  }));

  const print = (t: Tree): string =>
    typeof t === "number"
      ? String(t)
      : "f" in t
        ? `${t.f}${print(t.of)}`
        : `[${print(t.head)}${t.tail.map(([o, r]) => ` ${o} ${print(r)}`).join("")}]`;

  /** Works a chain out by striking operations from the tightest level down, leftmost first. NaN for no value. */
  const value = (t: Tree): number => {
    if (typeof t === "number") return t;
    if ("f" in t) return named(t.f, value(t.of));
    const operands = [value(t.head), ...t.tail.map(([, r]) => value(r))];
    const operations = t.tail.map(([o]) => o);
    if (operands.some(Number.isNaN)) return Number.NaN;
    for (const level of [["**"], ["*", "/", "MOD"], ["+", "-", "OR", "XOR", "AND"]]) {
      for (
        let k = operations.findIndex((o) => level.includes(o));
        k >= 0;
        k = operations.findIndex((o) => level.includes(o))
      ) {
        const result = binary(operations[k]!, operands[k]!, operands[k + 1]!);
        if (!Number.isFinite(result)) return Number.NaN;
        operands.splice(k, 2, result);
        operations.splice(k, 1);
      }
    }
    return operands[0]!;
  };
  const named = (f: string, x: number): number => {
    const table: Record<string, number> = {
      ABS: Math.abs(x),
      FIX: Math.floor(x),
      FUP: Math.ceil(x),
      ROUND: x < 0 ? -Math.round(-x) : Math.round(x),
      SIN: Math.sin(x / (180 / Math.PI)),
      COS: Math.cos(x / (180 / Math.PI)),
      SQRT: Math.sqrt(x),
    };
    return table[f]!;
  };
  const binary = (o: string, a: number, b: number): number => {
    const truth = (x: boolean): number => (x ? 1 : 0);
    const table: Record<string, number> = {
      "+": a + b,
      "-": a - b,
      "*": a * b,
      "/": a / b,
      MOD: a % b < 0 ? (a % b) + Math.abs(b) : a % b,
      "**": a ** b,
      OR: truth(a !== 0 || b !== 0),
      XOR: truth((a !== 0) !== (b !== 0)),
      AND: truth(a !== 0 && b !== 0),
    };
    return table[o]!;
  };

  it("works chains out as a slow and plain evaluator does", () => {
    let worked = 0;
    fc.assert(
      fc.property(tree.chain, (chain) => {
        const text = `G0 X${print(chain)}`;
        fc.pre(text.length < 200);
        const expected = value(chain);
        const got = xOf(text);
        if (Number.isNaN(expected)) {
          expect(got).toBe("rs-e56-expression:3");
        } else {
          expect(got as number).toBeCloseTo(expected, 6 - Math.ceil(Math.log10(Math.max(1, Math.abs(expected)))));
          worked++;
        }
      }),
      { numRuns: 2000 },
    );
    expect(worked).toBeGreaterThan(600);
  });
});
