import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readJob } from "../../../src/job/read-job.ts";
import { describeWorkpieces } from "../../../src/parts/describe.ts";
import { PULLS } from "./sample.ts";

/** Reads a text and, where it can be read, describes it; every finding says where and how to mend it. */
function told(text: string): "read" | "described" | "refused" {
  const lines = text.split("\n");
  const job = readJob(text, "pulls.yaml", () => undefined);
  const described = job.ok ? describeWorkpieces(job.value) : undefined;
  for (const f of [...job.findings, ...(described?.findings ?? [])]) {
    const s = f.place.source!;
    expect(s.text).toBe(lines[s.line - 1]);
    expect(s.column).toBeLessThanOrEqual(s.text.length + 1);
    expect(f.mend ?? "").not.toBe("");
    expect(`${f.what} ${f.why ?? ""} ${f.mend}`).not.toMatch(/undefined|NaN|Infinity|\[object/);
  }
  if (described === undefined) return "refused";
  if (!described.ok) return "read";
  for (const w of described.value) {
    for (const n of [...Object.values(w.size), ...w.cavities.map((c) => c.to)]) expect(n).toBeGreaterThan(0);
  }
  return "described";
}

describe("jobs of turned parts", () => {
  it("with slips of the hand are read or refused at a place", () => {
    const slip = fc.tuple(
      fc.nat(PULLS.length),
      fc.nat(9),
      fc.constantFrom(
        "",
        ":",
        " ",
        "\n",
        "#",
        '"',
        "{",
        "}",
        "[",
        ",",
        "-",
        "0",
        "9",
        ".",
        "x",
        "=",
        "1 share",
        "of blank",
      ),
    );
    fc.assert(
      fc.property(fc.array(slip, { minLength: 1, maxLength: 2 }), (slips) => {
        told(slips.reduce((text, [at, cut, put]) => text.slice(0, at) + put + text.slice(at + cut), PULLS));
      }),
      { numRuns: 40 },
    );
  });

  it("with any other numbers are described or refused at a place", () => {
    const numbers = [...PULLS.matchAll(/(?<=[:{,] |from |= )\d+(?:\.\d+)?/g)].map((m) => ({
      at: m.index,
      length: m[0].length,
    }));
    expect(numbers.length).toBeGreaterThan(40);
    const other = fc.oneof(
      fc.integer({ min: 0, max: 70_000 }).map((n) => String(n / 1000)),
      fc.constantFrom("0", "0.001", "1000", "-3", "1e3", "200", "1/2 in", "1 share", "3/4 of blank", "45 deg"),
    );
    const outcomes = new Set<string>();
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.nat(numbers.length - 1), other), { minLength: 1, maxLength: 3 }), (changes) => {
        const apart = [...new Map(changes)].sort((a, b) => b[0] - a[0]);
        const text = apart.reduce((t, [k, put]) => {
          const { at, length } = numbers[k]!;
          return t.slice(0, at) + put + t.slice(at + length);
        }, PULLS);
        outcomes.add(told(text));
      }),
      { numRuns: 90 },
    );
    expect(outcomes).toEqual(new Set(["read", "described", "refused"]));
  });
});
