import { describe, expect, it } from "vitest";
import { withFitCard } from "../../src/fit/fit-card-job.ts";
import { readJob } from "../../src/job/read-job.ts";
import { jobSchema } from "../../src/job/schema.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import type { Shop } from "../../src/shop/shop.ts";

const MADE = "fit card: {wood: ash, thickness: 9, runner: 9.53, depth: 3.5, bit: 4 mm flat}";

function read(card: string, more = "") {
  return readJob(`title: fit\nunits: mm\n${card}\n${more}`, "job.yaml", () => undefined);
}

function withCard(card: string, shop: Shop = DEFAULT_SHOP) {
  const job = read(card);
  if (!job.ok) throw new Error(job.findings.map((f) => f.what).join());
  return withFitCard(job.value, shop);
}

describe("a fit card in a job", () => {
  it("needs no parts beside it, and becomes one", () => {
    const done = withCard(MADE);
    expect(done.ok && done.value.job.parts.map((p) => p.name)).toEqual(["fit card"]);
    expect(done.ok && done.value.cells.length).toBe(9);
    const five = withCard(MADE.replace("}", ", grooves: 5, step: 0.1, over: 0.4}"));
    const held = withCard(MADE.replace("}", ", held by: vacuum}"));
    expect(held.ok && held.value.job.parts[0]?.wishes).toEqual({ holding: { by: "vacuum" } });
    expect(five.ok && five.value.cells.map((c) => c.width)).toEqual([9.7, 9.8, 9.9, 10, 10.1]);
  });

  it("once chosen is on record before the shop's own, and is not made again", () => {
    const shop: Shop = { ...DEFAULT_SHOP, fitCards: [{ name: "old", bit: "4 mm flat", runner: 9.5, chosen: 9.7 }] };
    const done = withCard(MADE.replace("}", ", chosen: 9.85}"), shop);
    expect(done.ok && done.value).toMatchObject({
      job: { parts: [] },
      cells: [],
      records: [{ name: "fit card", bit: "4 mm flat", runner: 9.53, chosen: 9.85 }, { name: "old" }],
    });
  });

  it("leaves a job without one as it is", () => {
    const job = read("parts: {strip: {blank: {wood: ash, length: 100, width: 20, thickness: 9}}}");
    const done = job.ok ? withFitCard(job.value, DEFAULT_SHOP) : job;
    expect(done.ok && done.value).toEqual({ job: job.ok && job.value, cells: [], records: [] });
  });

  it.each([
    ["a key missing", "fit card: {thickness: 9, runner: 9.5, depth: 3, bit: 4 mm flat}", "key-missing", "wood"],
    ["an unknown key", MADE.replace("}", ", steps: 0.1}"), "key-unknown", "steps"],
    ["no map", "fit card: yes", "kind-wrong", ""],
    ["too many grooves", MADE.replace("}", ", grooves: 99}"), "count-not-whole", "99"],
    ["a size of nothing", MADE.replace("9.53", "0"), "size-not-positive", "nothing"],
    ["the runner missing beside the chosen", "fit card: {bit: 4 mm flat, chosen: 9.85}", "key-missing", "runner"],
  ])("is refused with %s", (_, text, code, word) => {
    const job = read(text);
    expect(job.ok).toBe(false);
    expect(job.findings[0]).toMatchObject({ code, place: { source: { line: 3 } } });
    expect(job.findings[0]?.what).toContain(word);
  });

  it.each([
    ["a bit that the shop has not", MADE.replace("4 mm flat", "4 mm flatt"), "name-unknown"],
    ["a bit that cuts no flat floor", MADE.replace("4 mm flat", "6 mm round-nose"), "fit-card-does-not-fit"],
    ["a bit too wide", MADE.replace("4 mm flat", "12 mm flat"), "fit-card-bit-too-wide"],
    ["a groove that cannot have fitted", MADE.replace("}", ", chosen: 19.85}"), "fit-card-does-not-fit"],
  ])("is refused with %s", (_, text, code) => {
    const done = withCard(text);
    expect(done.ok ? [] : done.findings.map((f) => [f.code, f.place.source?.line])).toEqual([[code, 3]]);
  });

  it("shares its name with no part", () => {
    const job = read(MADE, "parts: {Fit card: {blank: {wood: ash, length: 100, width: 20, thickness: 9}}}");
    const done = job.ok ? withFitCard(job.value, DEFAULT_SHOP) : job;
    expect(done.ok ? [] : done.findings.map((f) => f.code)).toEqual(["name-twice"]);
  });

  it("is explained to editors", () => {
    expect(JSON.stringify(jobSchema())).toContain("A card of grooves that finds the fit of runner and bit");
  });
});
