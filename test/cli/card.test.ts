import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { verifySeal } from "../../src/program/seal.ts";
import { emptyFolder, tillwright } from "./run.ts";

const SHOP = resolve(import.meta.dirname, "../../samples/shop.yaml");

describe("card", () => {
  it("writes a test card's program and its outline walk, sealed, and prints the chosen cell as lines for the shop file", () => {
    const folder = emptyFolder();
    const words = ["card", "test", "--wood", "cherry", "--powers", "20,50", "--speeds", "800,1600", "--shop", SHOP];
    const ran = tillwright(folder, words);
    expect(ran.code, ran.err).toBe(0);
    const names = readdirSync(join(folder, "test-card")).filter((n) => n.endsWith(".nc"));
    expect(names).toHaveLength(2);
    for (const n of names)
      expect(verifySeal(readFileSync(join(folder, "test-card", n), "utf8"))).toMatchObject({ kind: "untouched" });
    const chosen = tillwright(folder, [...words, "--chosen", "row 2, column 1", "--effect", "dark line"]);
    expect(chosen.out).toBe("burns:\n  cherry:\n    dark line: {power: 50 %, speed: 800 mm/min}\n");
  });

  it.each([
    ["an unknown card", ["card", "tset", "--shop", SHOP], /no card called "tset"[\s\S]*did you mean "test"/],
    ["no shop file", ["card", "test", "--wood", "cherry"], /--shop/],
    ["no wood", ["card", "test", "--shop", SHOP], /--wood/],
    [
      "an unknown wood",
      ["card", "test", "--wood", "chery", "--shop", SHOP],
      /^refuse plan-wood-unknown: .*"chery"\n {2}why:[\s\S]*did you mean "cherry"/,
    ],
    [
      "words for a number",
      ["card", "test", "--wood", "cherry", "--cell", "wide", "--shop", SHOP],
      /"wide" is not a number/,
    ],
    ["a power beyond full", ["card", "test", "--wood", "cherry", "--powers", "50,140", "--shop", SHOP], /100 %/],
    ["a setting that isn't there", ["card", "kerf", "--effect", "throught", "--shop", SHOP], /no such setting/],
    [
      "a cell that isn't there",
      ["card", "test", "--wood", "cherry", "--chosen", "row 9, column 1", "--effect", "x", "--shop", SHOP],
      /no row 9/,
    ],
  ])("%s gets one clear message", (_, words, what) => {
    const ran = tillwright(emptyFolder(), words);
    expect(ran.code, ran.err).toBe(2);
    expect(ran.err).toMatch(what);
    expect(ran.err).toMatch(/mend:/);
    expect(ran.err).not.toMatch(/\n\s+at .*:\d+:\d+/);
  });
});

describe("make", () => {
  it("names laser programs with their time, and says what was checked of them", () => {
    const folder = emptyFolder();
    writeFileSync(join(folder, "shop.yaml"), readFileSync(SHOP));
    writeFileSync(
      join(folder, "tag.yaml"),
      `title: a tag
units: mm
shop: shop.yaml
parts:
  tag:
    blank: {wood: cherry, length: 60, width: 30, thickness: 6}
    held by: tape
    features:
      - mark: name
        text: till
        letters: upright
        cap height: 6
        centre at: middle, middle
        made by: burned line
`,
    );
    const ran = tillwright(folder, ["make", "tag.yaml", "--out", "out"]);
    expect(ran.code, ran.err).toBe(0);
    expect(ran.out).toMatch(/01-tag-face-up-laser\.nc {2}tag, face up, laser, bench router, about \d+ s/);
    expect(ran.out).toMatch(/Checked:[\s\S]*beam is off[\s\S]*Not checked:/);
  });
});
