import { describe, expect, it } from "vitest";
import type { TurningSetUp } from "../../src/plan/turning-setup.ts";
import { proveTurning, turningReadOptions } from "../../src/proof/turning/prove.ts";
import { readProgram } from "../../src/reader/read.ts";
import { readXml } from "../../src/shapes/xml.ts";
import { drawTurningSheet } from "../../src/sheets/turning-sheet.ts";
import { programFor, SHOP, sampleProfile, turningSetUp } from "../proof/turning/fixture.ts";

const setUp = turningSetUp(sampleProfile());
const text = programFor(setUp, sampleProfile());
const proof = proveTurning({ setUp, programs: [{ file: "a.ngc", text }], shop: SHOP });

function sheet(title = "Pulls", shown: TurningSetUp = setUp): string {
  return drawTurningSheet({
    jobTitle: title,
    file: "a.ngc",
    setUp: shown,
    read: readProgram(text, "a.ngc", setUp.lathe.controller, turningReadOptions(setUp)),
    steps: [{ n: 10, title: "finish", tool: "3 mm round-nose", why: "it fits", rpm: 2800, feed: 240 }],
    findings: proof.findings,
    seconds: proof.figures.time!.value,
    defaultsUsed: [],
    checked: proof.checked,
    notChecked: proof.notChecked,
  });
}

/** Text that a person reads on the sheet, rows joined. */
function words(svg: string): string {
  return [...svg.matchAll(/<text[^>]*>([^<]*)/g)].map((m) => m[1]).join(" ");
}

describe("the sheet of a turning program", () => {
  it("is true to scale: width in mm is the width of its own units, and the check line is 100 of them", () => {
    const svg = sheet();
    const [, width, box] = /width="([\d.]+)mm".*?viewBox="0 0 ([\d.]+)/.exec(svg)!;
    expect(width).toBe(box);
    const lines = [...svg.matchAll(/<line x1="([\d.]+)" y1="([\d.]+)" x2="([\d.]+)" y2="([\d.]+)"/g)];
    expect(lines.some(([, x1, y1, x2, y2]) => Number(x2) - Number(x1) === 100 && y1 === y2)).toBe(true);
  });

  it("shows the finished shape with its arcs as arcs, at their radii", () => {
    const radii = [...sheet().matchAll(/A([\d.]+) /g)].map((m) => Number(m[1]));
    // The profile's own cove and bead, and the nose's way beside them, 1.5 mm from both.
    for (const r of [7.071, 5.571, 8.571]) expect(radii).toContain(r);
  });

  it("carries the cautions of the lathe, both boxes and every finding with its place", () => {
    const said = words(sheet());
    for (const caution of ["crack", "by hand first", "rest close", "line of the work", "never a cloth"]) {
      expect(said).toContain(caution);
    }
    expect(said).toContain("Checked:");
    expect(said).toContain("Not checked:");
    expect(said).toContain("no tool of the shop gets in here");
    expect(said).toMatch(/mm from the first\s+end/);
    expect(said).toContain("drive centre");
  });

  it("is the same twice, and no name can close an element", () => {
    expect(sheet()).toBe(sheet());
    const hostile = sheet('</svg><script x="1">');
    expect(hostile).not.toContain("<script");
    expect(readXml(hostile)).toBeDefined();
  });

  it("lists the witness marks with what the block goes against, and the rest", () => {
    const marked: TurningSetUp = {
      ...setUp,
      lathe: { ...setUp.lathe, rest: { fromTailstock: 40, width: 25, opening: 70, reach: 60 } },
      marks: [
        {
          name: "beside the wood, 40 mm from its tailstock end",
          at: { x: -40, y: 30 },
          against: "corner",
          untouched: false,
        },
        { name: "beside the end of the wood at the tailstock", at: { x: 10, y: 31 }, against: "end", untouched: true },
      ],
    };
    const said = words(sheet("Pulls", marked));
    expect(said).toContain("witness mark beside the wood, 40 mm from its tailstock end:");
    expect(said).toMatch(/a corner of the square, turned to face it; before\s+anything is turned there/);
    expect(said).toContain("the end face of the wood at the tailstock");
    expect(said).toMatch(/rest: its middle 40 mm from the wood's tailstock end, .*opening Ø 70 mm/);
    expect(words(sheet())).not.toContain("rest: its middle");
  });
});
