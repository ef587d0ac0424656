import { describe, expect, it } from "vitest";
import { filmSaid } from "../../src/fit/finish.ts";
import { planFit } from "../../src/fit/plan-fit.ts";
import { gapInWords } from "../../src/fit/sureness-words.ts";
import { finishIn } from "../../src/job/finish-said.ts";
import { readJob } from "../../src/job/read-job.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";

function cabinet(inCase: string, inDrawers = ""): string {
  return `title: one drawer
units: mm
case:
  wood: cherry
  side thickness: 15
  measured with: calipers
${inCase}  openings:
    cloves: {width: {mouth: 142.1, back: 142.3}, height: 58.5, depth: 205}
drawers:
  fronts: {wood: cherry, thickness: 14}
  sides: {wood: ash, thickness: 9}
  bottoms: {wood: plywood, thickness: 4}
  runners: {wood: hard maple, tall: 9.5, thickness: 4}
  front joint: half-blind
  back joint: through
${inDrawers}`;
}

const METER = "  moisture today: 8 % by meter\n";

function planned(text: string) {
  const job = readJob(text, "job.yaml", () => undefined);
  if (!job.ok) throw new Error(job.findings.map((f) => f.what).join("\n"));
  const fit = planFit(job.value, DEFAULT_SHOP);
  if (!fit.ok || fit.value.plan === undefined) throw new Error(fit.findings.map((f) => f.what).join("\n"));
  const drawer = fit.value.plan.drawers[0]!;
  const gap = (starts: string) => drawer.gaps.find((g) => g.name.startsWith(starts))!;
  return { plan: fit.value.plan, drawer, gap, findings: fit.findings };
}

describe("a finish in words", () => {
  it("is read: bare, oil and wax, coats by number or word", () => {
    expect(finishIn("bare wood")).toEqual({ kind: "none" });
    expect(finishIn("Wax")).toEqual({ kind: "oil or wax" });
    expect(finishIn("two coats of shellac")).toEqual({ kind: "coats", of: "shellac", coats: 2 });
    expect(finishIn("3 coats lacquer")).toEqual({ kind: "coats", of: "lacquer", coats: 3 });
    expect(finishIn("varnish")).toEqual({ kind: "coats", of: "varnish", coats: 1 });
    for (const odd of ["two coats of jam", "40 coats of varnish", "0 coats of shellac", "shiny"])
      expect(finishIn(odd)).toBeUndefined();
  });

  it("is as thick as wet film × solids has it, or as remembered, and says whose number that is", () => {
    // 5 mil wet of 30 %: 1.5 mil dry (a woodworking journal, 2013).
    expect(filmSaid({ kind: "coats", of: "lacquer", coats: 2 }).thickness).toBeCloseTo(2 * 1.5 * 0.0254, 12);
    expect(filmSaid({ kind: "coats", of: "varnish", coats: 3 }).thickness).toBeCloseTo(0.125, 12);
    expect(filmSaid({ kind: "coats", of: "shellac", coats: 1 }).source).toMatch(/from memory/);
  });

  it("that is none is refused with what is known; a thickness is taken as it is", () => {
    const wrong = readJob(cabinet(`${METER}  finish: two coats of jam\n`), "job.yaml", () => undefined);
    expect(wrong.findings.map((f) => f.code)).toEqual(["finish-unreadable"]);
    expect(planned(cabinet(`${METER}  finish: 0.03\n`)).plan.assumed.some((a) => a.what.startsWith("finish"))).toBe(
      false,
    );
  });
});

describe("gaps of a finished drawer", () => {
  it("lose the film of both faces once it is on, and are planned so much wider", () => {
    const bare = planned(cabinet(METER));
    const both = planned(cabinet(`${METER}  finish: 0.05\n`));
    const one = planned(cabinet(`${METER}  finish: 0.05\n`, "  finish: bare\n"));
    const side = "gap on each side";
    for (const [fit, film] of [
      [both, 0.1],
      [one, 0.05],
    ] as const) {
      const room = (fit.drawer.mouth.narrowest.width - fit.drawer.box.width) / 2;
      expect(fit.gap(side).now.value).toBeCloseTo(room, 9);
      const grown = bare.gap(side).now.value - bare.gap(side).tightest.value;
      expect(fit.gap(side).tightest.value).toBeCloseTo(room - grown - film, 9);
      // What stays in the wet month is no less than the clearance, and no more than the reveal that bounds the box.
      expect(fit.gap(side).tightest.value).toBeGreaterThan(0.4 - 1e-9);
      expect(fit.gap(side).tightest.value).toBeLessThan(0.6 + 0.06);
    }
  });

  it("say the film and whose number it is among what is taken", () => {
    const { plan } = planned(cabinet(`${METER}  finish: two coats of lacquer\n`));
    const said = plan.assumed.find((a) => a.what.startsWith("finish"))!;
    expect(said.value).toBe("2 coats of lacquer, 0.076 mm on a face");
    expect(said.why).toMatch(/wet film × volume solids.*woodworking journal/);
  });
});

describe("gaps sideways", () => {
  it("keep at a front's ends what they have, all the year: no grain runs across there", () => {
    const ends = planned(cabinet(METER)).gap("gap at each end of the front");
    expect(ends.now.value).toBeCloseTo(0.6, 9);
    for (const s of ends.seasons) expect(s.value).toBeCloseTo(0.6, 9);
    // Half of each error: calipers ± 0.1, planed by hand ± 0.3.
    expect(ends.now.value - ends.now.worst.least).toBeCloseTo(0.2, 9);
  });

  it("at the grooves' floors follow what lies between the runners, side and runner swelling towards each other", () => {
    const { drawer, gap } = planned(cabinet(METER, "  between runners: {cloves: {mouth: 134.0, back: 134.3}}\n"));
    const floor = gap("gap between each runner");
    const depth = drawer.side.runnerGroove!.depth - 0.3;
    expect(floor.now.value).toBeCloseTo(depth - (drawer.box.width - 134) / 2, 9);
    expect(floor.tightest.when).toBe("wet");
    expect(floor.tightest.value).toBeGreaterThan(0.5);
    expect(floor.now.shares.map((s) => s.name)).toContain("cloves, between the runners, at the back");
    const play = gap("play of each runner");
    const groove = drawer.side.runnerGroove!;
    expect(play.now.value).toBeCloseTo(groove.upper - groove.lower - 9.5, 9);
  });
});

describe("sizes that are made", () => {
  it("have an error of making, said as such", () => {
    const box = planned(cabinet(METER)).gap("gap on each side");
    expect(box.now.matters).toMatchObject({ name: "cloves, width of the box, as cleaned up" });
    expect(gapInWords(box).find((w) => w.includes("matters most"))).toBe(
      '"cloves, width of the box, as cleaned up" matters most: ± 0.3 mm made by hand (common practice, no source) is ± 0.15 mm of the gap',
    );
    // What is still to be made is never to be measured again.
    expect(box.now.measureAgain?.tolerance.instrument).not.toBe("by hand");
  });
});
