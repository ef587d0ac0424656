import { describe, expect, it } from "vitest";
import { type FittedJob, fitJob } from "../../src/fit/fit-job.ts";
import type { GrooveFeature } from "../../src/job/job.ts";
import { readJob } from "../../src/job/read-job.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import type { Shop } from "../../src/shop/shop.ts";

/** One drawer on runners in its sides, measured a second time, so that the groove is cut. */
function cabinet(card: string, clearance = ""): string {
  return `title: one drawer
units: mm
${card}
case:
  wood: cherry
  side thickness: 15
  measured with: calipers
  openings:
    cloves: {width: 142.1, height: 58.5, depth: 205}
  seasons: {dry: 20 C at 35 %, wet: 22 C at 65 %}
  moisture today: 8 %
drawers:
  fronts: {wood: cherry, thickness: 14}
  sides: {wood: ash, thickness: 9}
  backs: {wood: ash, thickness: 8}
  bottoms: {wood: plywood, thickness: 4, kind: panel}
  runners: {wood: hard maple, tall: 9.5, thickness: 4.5${clearance}}
  front joint: half-blind
  back joint: through
  between runners: {cloves: {mouth: 134, back: 134}}
`;
}

function read(text: string) {
  const job = readJob(text, "job.yaml", () => undefined);
  if (!job.ok) throw new Error(job.findings.map((f) => `${f.place.source?.line}: ${f.what}`).join("\n"));
  return job.value;
}

function fitted(text: string, shop: Shop = DEFAULT_SHOP): FittedJob & { readonly codes: readonly string[] } {
  const done = fitJob(read(text), shop);
  if (!done.ok) throw new Error(done.findings.map((f) => `${f.code}: ${f.what}, ${f.why}`).join("\n"));
  return { ...done.value, codes: done.findings.map((f) => f.code) };
}

function grooves(job: FittedJob): readonly (GrooveFeature & { readonly cutter?: string })[] {
  return job.job.parts.flatMap((p) =>
    p.features.flatMap((f) => (f.kind === "groove" && f.name === "runner" ? [f] : [])),
  );
}

const CHOSEN = "fit card: {runner: 9.53, bit: 4 mm flat, chosen: 9.83}";

describe("runner grooves after a fit card", () => {
  const usual = grooves(fitted(cabinet("")));

  it("have the play that it showed in place of the usual 0.4, and are cut with its bit", () => {
    const done = fitted(cabinet(CHOSEN));
    expect(done.follows).toMatchObject({ over: 0.3, from: { bit: "4 mm flat" } });
    expect(usual.length).toBeGreaterThan(0);
    for (const [k, groove] of grooves(done).entries()) {
      expect(groove.width).toBeCloseTo(usual[k]!.width - 0.1, 6);
      expect(groove.cutter).toBe("4 mm flat");
      expect(usual[k]!.cutter).toBeUndefined();
    }
    expect(done.codes).not.toContain("fit-card-not-followed");
  });

  it("follow the shop's card where the job has none, the one whose runner is nearest", () => {
    const fitCards = [
      { name: "wide", bit: "6 mm flat", runner: 12, chosen: 12.2 },
      { name: "near", bit: "4 mm flat", runner: 9.4, chosen: 9.65 },
    ];
    const done = fitted(cabinet(""), { ...DEFAULT_SHOP, fitCards });
    expect(done.follows).toMatchObject({ over: 0.25, from: { name: "near" } });
    expect(grooves(done).every((g) => g.cutter === "4 mm flat")).toBe(true);
    // The job's own goes first, though the shop's is nearer.
    expect(fitted(cabinet(CHOSEN), { ...DEFAULT_SHOP, fitCards }).follows?.from.name).toBe("fit card");
  });

  it("do not where the job says a clearance, where the card's runner is another, or its bit cuts wide", () => {
    const said = fitted(cabinet(CHOSEN, ", clearance: 0.4"));
    expect(said.codes).toContain("fit-card-not-followed");
    expect(grooves(said).map((g) => g.width)).toEqual(usual.map((g) => g.width));
    const other = fitted(cabinet("fit card: {runner: 18, bit: 4 mm flat, chosen: 18.3}"));
    expect(other.codes).toContain("fit-card-not-followed");
    expect(other.follows).toBeUndefined();
    const wide = fitted(cabinet("fit card: {runner: 9.5, bit: 4 mm flat, chosen: 9.45}"));
    expect(wide.codes).toContain("fit-card-not-followed");
    expect(grooves(wide).map((g) => g.width)).toEqual(usual.map((g) => g.width));
  });

  it("wait for a card that is still to be made as little as for none", () => {
    const done = fitted(cabinet("fit card: {wood: ash, thickness: 9, runner: 9.5, depth: 3.5, bit: 4 mm flat}"));
    expect(done.cardCells.length).toBe(9);
    expect(done.job.parts.some((p) => p.name === "fit card")).toBe(true);
    expect(grooves(done).map((g) => g.width)).toEqual(usual.map((g) => g.width));
  });

  it("need no drawers at all for a card", () => {
    const done = fitted(
      "title: card\nunits: mm\nfit card: {wood: ash, thickness: 9, runner: 9.5, depth: 3.5, bit: 4 mm flat}",
    );
    expect(done.job.parts.map((p) => p.name)).toEqual(["fit card"]);
    const wrong = fitJob(
      read("title: card\nunits: mm\nfit card: {wood: ash, thickness: 9, runner: 9.5, depth: 3.5, bit: none}"),
      DEFAULT_SHOP,
    );
    expect(wrong).toMatchObject({ ok: false, findings: [{ code: "name-unknown" }] });
  });
});

describe("the gaps of a job's drawers", () => {
  const OWN = { calipers: 0.02, "moisture meter": 0.3, "by hand": 0.06, router: 0.02, unsaid: 0.1 };

  it("are as sure as the shop says of its own measuring and making", () => {
    const usual = fitted(cabinet("")).plan!.drawers[0]!.gaps;
    const own = fitted(cabinet(""), { ...DEFAULT_SHOP, measuring: OWN }).plan!.drawers[0]!.gaps;
    expect(usual.length).toBeGreaterThan(0);
    for (const [k, gap] of own.entries()) {
      const spread = (g: typeof gap): number => g.tightest.worst.most - g.tightest.worst.least;
      expect(spread(gap), gap.name).toBeLessThanOrEqual(0.35 * spread(usual[k]!));
    }
  });
});
