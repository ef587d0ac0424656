import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readJob } from "../../src/job/read-job.ts";
import { WRONG_FILES } from "./wrong-files.ts";

const SAMPLE = readFileSync(new URL("../../samples/first-part.yaml", import.meta.url), "utf8");

/** Reads a text and checks that every finding points inside it. */
function pointsInside(text: string): void {
  const job = readJob(text, "any.yaml", () => undefined);
  const body = text.startsWith("\ufeff") ? text.slice(1) : text;
  const lines = body.split("\n").map((l) => l.replace(/\r$/, ""));
  if (!job.ok) expect(job.findings.some((f) => f.grade === "refuse")).toBe(true);
  for (const f of job.findings) {
    const s = f.place.source!;
    expect(s.line).toBeGreaterThanOrEqual(1);
    expect(s.line).toBeLessThanOrEqual(lines.length);
    expect(s.text).toBe(lines[s.line - 1]);
    expect(s.column).toBeGreaterThanOrEqual(1);
    expect(s.column).toBeLessThanOrEqual(s.text.length + 1);
    expect(f.mend ?? "").not.toBe("");
  }
}

describe("any text", () => {
  it("of any characters is read or refused with places inside it", () => {
    fc.assert(fc.property(fc.string({ maxLength: 300 }), pointsInside), { numRuns: 500 });
    fc.assert(fc.property(fc.string({ unit: "binary", maxLength: 300 }), pointsInside), { numRuns: 300 });
  });

  it("of YAML's own signs, and of the job file's words", () => {
    const bit = fc.constantFrom(
      ..."title: ,units: mm,parts:,measured:,features:, blank: ,groove: ,from: lower edge,  ,    ,\n,\n,- ,: ,{,},[,],*a,&a,!x,#6,'".split(
        ",",
      ),
      ",",
      '"',
      "|",
      ">",
      "? ",
      "---",
      "<<",
      "3/4",
      "= a",
      "\t",
      "\r\n",
      "%",
      "@",
      "`",
      "~",
      "null",
      "__proto__: ",
    );
    fc.assert(
      fc.property(
        fc.array(bit, { maxLength: 60 }).map((b) => b.join("")),
        pointsInside,
      ),
      { numRuns: 800 },
    );
  });

  it("that a slip of the hand made of a good file", () => {
    const slip = fc.tuple(
      fc.nat(SAMPLE.length),
      fc.nat(12),
      fc.constantFrom("", ":", " ", "\n", "\t", "#", "*", '"', "'", "{", "[", ",", "-", "0", "x", "\u0007", "=", "("),
    );
    fc.assert(
      fc.property(fc.array(slip, { minLength: 1, maxLength: 3 }), (slips) => {
        pointsInside(slips.reduce((text, [at, cut, put]) => text.slice(0, at) + put + text.slice(at + cut), SAMPLE));
      }),
      { numRuns: 120 },
    );
  });

  it("that two wrong files make together", () => {
    const any = fc.constantFrom(...WRONG_FILES.map((w) => w.text.replaceAll("¦", "")).filter((t) => t.length < 2000));
    fc.assert(
      fc.property(any, any, fc.nat(400), (a, b, cut) => pointsInside(a.slice(0, cut) + b)),
      { numRuns: 120 },
    );
  });

  it("however hostile, at the largest size that is read at all", () => {
    const size = 64 * 1024;
    for (const unit of [
      "[",
      "{a: ",
      "- ",
      "? ",
      "a: b\n",
      "a,",
      '"',
      "'\n",
      "&a ",
      "*a ",
      "a: ",
      "\n",
      "#\n",
      ": ",
      ":\n",
      "-\n",
      "|\n",
      "a: |\n",
      "%a\n",
      "[a: b, ",
      "é",
      "a\n ",
      "=(",
      "\t",
    ]) {
      pointsInside(unit.repeat(Math.floor(size / unit.length)));
      pointsInside(`title: x\nunits: mm\nparts:\n  a: ${unit.repeat(Math.floor((size - 40) / unit.length))}`);
    }
  });
});
