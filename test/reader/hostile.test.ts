import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { closeLog, complain, openLog } from "../../src/reader/log.ts";
import { READER_CODES } from "../../src/reader/rules.ts";
import { about, FULL, lineOf, readAny, readOurs, told } from "./controllers.ts";

describe("hostile texts are read to their end", () => {
  it("any text at all gives findings on its own lines, never an exception", () => {
    const alphabet = [
      ..."GMXYZIJKRFSTNHPQLD0123456789.-+[]#=()%/ \n\r\t;$eE*",
      "ATAN",
      "MOD",
      "\u0000",
      "\ufeff",
      "\u{1f600}",
    ];
    const text = fc.oneof(
      fc.string({ unit: "binary", maxLength: 300 }),
      fc.array(fc.constantFrom(...alphabet), { maxLength: 400 }).map((p) => p.join("")),
    );
    fc.assert(
      fc.property(text, (t) => {
        for (const read of [readOurs(t), readAny(t), readAny(about(t), {}, FULL)]) {
          for (const f of read.findings) {
            expect(lineOf(f)).toBeGreaterThanOrEqual(1);
            expect(lineOf(f)).toBeLessThanOrEqual(Math.max(1, read.lineCount));
          }
          for (const e of read.events) {
            if (e.kind !== "move") continue;
            for (const v of [e.to.x, e.to.y, e.to.z, e.feed]) expect(Number.isNaN(v)).toBe(false);
          }
        }
      }),
      { numRuns: 1500 },
    );
  });

  it.each([
    ["a million open parentheses", "(".repeat(1_000_000), "rs-e10-comment"],
    ["a million open brackets", `G21 G0 X${"[".repeat(1_000_000)}`, "rs-e56-expression"],
    ["a million parameter signs", `G21 G0 X${"#".repeat(1_000_000)}`, "rs-e56-expression"],
    ["a million functions", `G21 G0 X${"SIN[".repeat(1_000_000)}`, "rs-e56-expression"],
    ["a million digits", `G21 G0 X${"1".repeat(1_000_000)}`, "rs-e06-line-too-long"],
    ["a million blanks in a number", `G21 G0 X1${" ".repeat(1_000_000)}2`, "rs-e06-line-too-long"],
    ["a million words", "X1".repeat(1_000_000), "rs-e14-letter-repeated"],
    ["a million unbroken characters", "\u00e9".repeat(1_000_000), "rs-e05-illegal-byte"],
  ])("%s", (_, text, code) => {
    expect(readAny(text).findings.map((f) => f.code)).toContain(code);
  });

  it("ten megabytes of noise: few findings, the rest counted", () => {
    let seed = 12345;
    const noise = new Uint8Array(10_000_000).map(() => {
      seed = (Math.imul(seed, 1103515245) + 12345) >>> 0;
      return 10 + ((seed >>> 16) % 117);
    });
    const text = Buffer.from(noise).toString("latin1");
    const read = readOurs(text);
    expect(read.findings.length).toBeLessThanOrEqual(200 + READER_CODES.length + 1);
    const last = read.findings[read.findings.length - 1]!;
    expect(last.code).toBe("rs-more-findings");
    expect(read.lineCount).toBe(text.split(/\r\n|\r|\n/).length - (/[\r\n]$/.test(text) ? 1 : 0));
    expect(read.events).toEqual([]);
  });

  it("many findings of one kind: twenty are listed, the rest counted, and others still found", () => {
    const lines = Array.from({ length: 1000 }, (_, k) => `G0 X${k}. Z${20 + (k % 2)}.`);
    const read = readOurs(about(...lines, "G1 X1e3"));
    expect(told(read).filter((t) => t.startsWith("rs-l12")).length).toBe(20);
    expect(told(read)).toContain("rs-e11-number:1006");
    const note = read.findings[read.findings.length - 1]!;
    expect(note.code).toBe("rs-more-findings");
    expect(note.grade).toBe("note");
    expect(note.why).toContain("979 × rs-l12-rapid-slanting");
  });

  it("no crowd of cautions hides a refusal: the first of each code is always listed", () => {
    const log = openLog("crowd", "\n", "any");
    for (const code of READER_CODES) {
      for (let k = 0; k < 30; k++) {
        log.line++;
        complain(log, code);
      }
    }
    const findings = closeLog(log);
    expect(new Set(findings.map((f) => f.code))).toEqual(new Set(READER_CODES));
    expect(findings.length).toBeLessThanOrEqual(200 + READER_CODES.length + 1);
  });

  it("numbers of any size stay numbers", () => {
    const read = readAny(`G21 G17 G90 G94\nG0 Z${"9".repeat(240)}\nM2\n`);
    expect(read.events.filter((e) => e.kind === "move").every((m) => Number.isFinite(m.to.z))).toBe(true);
  });

  it("quoted text in findings stays short", () => {
    const read = readAny(`(${"x".repeat(100_000)}`);
    expect(read.findings[0]!.place.program!.text!.length).toBeLessThanOrEqual(200);
  });
});
