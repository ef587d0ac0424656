import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { emptyFolder, tillwright } from "./run.ts";

const KNOB = `title: one pull
units: mm
parts:
  bar pull:
    blank: {wood: cherry, length: 120, square: 50}
    turned by: machine
    square ends: 18
    features:
      - turning: profile
        waste at ends: 6
        elements:
          - cylinder: {length: 1 share, diameter: 46}
`;

const BY_HAND = KNOB.replace("turned by: machine", "turned by: hand").replace("bar pull", "hand pull");

const AT = "bar-pull-on-the-lathe";

describe("a turned part at the command line", () => {
  const folder = emptyFolder();
  const programs = (): string[] =>
    readdirSync(join(folder, "out"))
      .filter((n) => n.endsWith(".nc") && !n.includes("dry-run"))
      .map((n) => `out/${n}`);

  beforeAll(() => {
    writeFileSync(join(folder, "job.yaml"), KNOB);
    const ran = tillwright(folder, ["make", "job.yaml", "--out", "out"]);
    expect(ran.code, ran.err).toBe(0);
  });

  it("is made: turning programs with dry runs and sheets, and the piece's own page", () => {
    const names = readdirSync(join(folder, "out"));
    expect(names.some((n) => n.startsWith(`01-${AT}`) && n.endsWith(".nc"))).toBe(true);
    expect(names.some((n) => n.includes("dry-run"))).toBe(true);
    expect(names).toContain("piece-1-bar-pull.svg");
    expect(names).toContain("report.json");
    expect(names.filter((n) => n.includes("template"))).toEqual([]);
  });

  it("its programs are proved together from disk, in the order they are run", () => {
    const all = tillwright(folder, ["check", ...programs(), "--job", "job.yaml"]);
    expect(all.code, all.err).toBe(0);
    expect(all.out.match(/proved against its part/g)).toHaveLength(programs().length);
  });

  it("one that was changed refuses them all", () => {
    const [first, ...rest] = programs();
    const changed = readFileSync(join(folder, first!), "utf8").replace(
      /^G1 X(\d+\.\d+)/m,
      (_, x) => `G1 X${Number(x) - 9}`,
    );
    writeFileSync(join(folder, "changed.nc"), changed);
    const ran = tillwright(folder, ["check", "changed.nc", ...rest, "--job", "job.yaml"]);
    expect(ran.code).toBe(1);
    expect(ran.out).not.toMatch(/proved against its part/);
  });

  it("is read by its lathe's own rules, and a lathe nobody has is named", () => {
    const lathe = "lathe, X as radius, tool behind the work";
    expect(tillwright(folder, ["check", programs()[0]!, "--machine", lathe])).toMatchObject({ code: 0 });
    const unknown = tillwright(folder, ["check", programs()[0]!, "--machine", "lathe"]);
    expect(unknown.code).toBe(2);
    expect(unknown.err).toContain(lathe);
  });

  it("turned by hand gives template and story stick, as drawings and as PDF for both papers", () => {
    const clean = emptyFolder();
    writeFileSync(join(clean, "job.yaml"), BY_HAND);
    const ran = tillwright(clean, ["make", "job.yaml", "--out", "out"]);
    expect(ran.code, ran.err).toBe(0);
    expect(readdirSync(join(clean, "out")).sort()).toEqual([
      "bench-a4.pdf",
      "bench-letter.pdf",
      "bench.html",
      "cut-list.csv",
      "piece-1-hand-pull-story-stick.svg",
      "piece-1-hand-pull-template-a4.pdf",
      "piece-1-hand-pull-template-letter.pdf",
      "piece-1-hand-pull-template.svg",
      "piece-1-hand-pull.svg",
      "report.json",
    ]);
    expect(readFileSync(join(clean, "out/piece-1-hand-pull-template-a4.pdf")).subarray(0, 5).toString()).toBe("%PDF-");
  });

  it("lists lathes and turning tools", () => {
    expect(tillwright(folder, ["lathes"]).out).toMatch(/swing.*\n[\s\S]*turning tool/);
    const told = JSON.parse(tillwright(folder, ["lathes", "--json"]).out) as { lathes: unknown[]; tools: unknown[] };
    expect(told.lathes.length).toBeGreaterThan(0);
    expect(told.tools.length).toBeGreaterThan(0);
  });
});
