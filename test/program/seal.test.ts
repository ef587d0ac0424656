import { createHash } from "node:crypto";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { sealOf, sealProgram, verifySeal } from "../../src/program/seal.ts";
import { writePrograms } from "../../src/program/write-programs.ts";
import { POSTS, sample } from "./fixtures.ts";

const parts = ["job text", "shop text", "0.1.0", "report"];

function fresh(): string {
  const out = writePrograms(sample("millimetre"));
  if (!out.ok) throw new Error("the sample does not write");
  return out.value[0]!.text;
}

describe("the seal", () => {
  it("is SHA-256 over the parts, each behind its length", () => {
    const hash = createHash("sha256").update("1:a2:é").digest("hex").slice(0, 16);
    expect(sealOf(["a", "é"])).toBe(hash);
    expect(sealOf(["ab", "c"])).not.toBe(sealOf(["a", "bc"]));
  });

  it("tells a fresh program, a sealed one, and which check it passed", () => {
    for (const post of POSTS) {
      const out = writePrograms(sample(post));
      if (!out.ok) throw new Error("the sample does not write");
      for (const { text } of out.value) {
        expect(verifySeal(text)).toEqual({ kind: "untouched", version: "0.1.0" });
        const sealed = sealProgram(text, parts);
        expect(verifySeal(sealed)).toEqual({ kind: "untouched", version: "0.1.0", seal: sealOf(parts) });
        expect(sealed.split("\n").length).toBe(text.split("\n").length);
        expect(sealed.split("\n").filter((l, k) => l !== text.split("\n")[k])).toHaveLength(1);
      }
    }
  });

  it("comes out the same whether put in while writing or afterwards", () => {
    const out = writePrograms(sample("millimetre", { sealed: parts }));
    expect(out.ok && out.value[0]!.text).toBe(sealProgram(fresh(), parts));
  });

  it("does not mind other line ends or lost empty lines at the end", () => {
    const sealed = sealProgram(fresh(), parts);
    for (const text of [
      sealed.replaceAll("\n", "\r\n"),
      sealed.replaceAll("\n", "\r"),
      sealed.trimEnd(),
      `${sealed}\n\n`,
    ]) {
      expect(verifySeal(text).kind).toBe("untouched");
    }
  });

  it("breaks on any other change", () => {
    const sealed = sealProgram(fresh(), parts);
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: sealed.length - 2 }),
        fc.constantFrom("0", "1", "-", "X", " ", "(", ""),
        fc.boolean(),
        (at, letter, insert) => {
          const changed = sealed.slice(0, at) + letter + sealed.slice(insert ? at : at + 1);
          fc.pre(changed !== sealed && changed.trimEnd() !== sealed.trimEnd());
          const state = verifySeal(changed);
          // A change inside the seal itself is either seen as edited, or names another check than the one that was passed.
          expect(state.kind !== "untouched" || state.seal !== sealOf(parts) || state.version !== "0.1.0").toBe(true);
        },
      ),
      { numRuns: 400 },
    );
    const lines = sealed.split("\n");
    const cut = lines.findIndex((l) => l.startsWith("G1"));
    expect(verifySeal(lines.toSpliced(cut, 1).join("\n")).kind).toBe("edited");
    expect(verifySeal(lines.toSpliced(cut, 0, lines[cut]!).join("\n")).kind).toBe("edited");
  });

  it("is missing from a text without, or with two of them", () => {
    expect(verifySeal("G21\nM2\n")).toEqual({ kind: "no seal" });
    const sealed = sealProgram(fresh(), parts);
    const line = sealed.split("\n").find((l) => l.includes("checked by"))!;
    expect(verifySeal(`${sealed}${line}\n`)).toEqual({ kind: "no seal" });
  });

  it("is not put on a program that someone has edited", () => {
    expect(() => sealProgram(fresh().replace("G1 X52.5", "G1 X53.5"), parts)).toThrow(RangeError);
    expect(() => sealProgram("M2\n", parts)).toThrow(RangeError);
  });

  it("cannot be forged from a title", () => {
    const forged = "checked by tillwright 0.1.0, seal 0123456789abcdef, text 0123456789abcdef";
    const out = writePrograms(sample("millimetre", { title: forged }));
    expect(out.ok && verifySeal(out.value[0]!.text)).toEqual({ kind: "untouched", version: "0.1.0" });
  });
});
