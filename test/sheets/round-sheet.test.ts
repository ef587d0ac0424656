import { describe, expect, it } from "vitest";
import { readOptions } from "../../src/proof/prove.ts";
import { readProgram } from "../../src/reader/read.ts";
import { areaOf, regionSegments } from "../../src/shapes/region.ts";
import { arc, line } from "../../src/shapes/segment.ts";
import { silhouetteOf } from "../../src/shapes/turned-section.ts";
import { drawSheet } from "../../src/sheets/sheet.ts";
import { allThrough, type Through } from "../pipeline/round-through.ts";
import { BLANK, room, slot, workpieceOf } from "../plan/round-stock.ts";

function sheetOf({ setUp, texts, proof }: Through): string {
  const { file, text } = texts[0]!;
  const read = readProgram(text, file, setUp.machine.controller, readOptions(setUp));
  const { checked, notChecked } = proof;
  return drawSheet({
    jobTitle: "Pulls",
    file,
    setUp,
    read,
    steps: [],
    findings: [],
    seconds: 60,
    defaultsUsed: [],
    checked,
    notChecked,
  });
}

describe("a turned blank on its sheet", () => {
  const section = slot({ x: 80, y: 20 }, 50, 12);

  it("shows its outline instead of the box, its axis, its crossed square ends and its index", () => {
    const made = allThrough(workpieceOf({ ...BLANK, radii: [18, 12, 18] }, [room(section, 18)]))[0]!;
    const svg = sheetOf(made);
    expect(svg).toContain("index 0°: &quot;crown&quot; up, first end at the left");
    expect(svg).toContain("crossed: square waste,");
    expect(svg).toContain('stroke-dasharray="6 1.2 1 1.2"');
    // The waist's narrowest place is a corner of the drawn outline, true to scale: 24 mm across at mid length.
    const outline = /<path d="([^"]*)" fill="none" stroke="#1d1a16" stroke-width="0.6"/.exec(svg)![1]!;
    const corners = [...outline.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map(
      (m) => [Number(m[1]), Number(m[2])] as const,
    );
    const left = Math.min(...corners.map(([x]) => x));
    const waist = corners.filter(([x]) => Math.abs(x - left - 80) < 1e-6).map(([, y]) => y);
    expect(waist).toHaveLength(2);
    expect(Math.abs(waist[0]! - waist[1]!)).toBeCloseTo(24, 6);
  });

  it("names cradles with their seats where its ends are round", () => {
    const made = allThrough(workpieceOf({ ...BLANK, square: 0, radii: [18, 14] }, [room(section, 20)]))[0]!;
    const svg = sheetOf(made);
    expect(svg).toContain("held in cradles, pressed down by cauls");
    for (const rest of made.setUp.rests!) expect(svg).toContain(`${rest.name} from X`);
    expect(svg).not.toContain("square waste");
  });
});

describe("silhouette", () => {
  it("is the half section on both sides of the axis, arcs as arcs: its area is twice the half section's", () => {
    // A half-round bead of radius 5 on a core of radius 8 between two fillets.
    const meridian = {
      segments: [
        line({ x: 0, y: 8 }, { x: 10, y: 8 }),
        arc({ x: 10, y: 8 }, { x: 20, y: 8 }, { x: 15, y: 8 }, false),
        line({ x: 20, y: 8 }, { x: 30, y: 8 }),
      ],
    };
    const seen = silhouetteOf({ meridian, axis: { y: 3, z: 0 }, squares: [{ from: 30, to: 40, side: 20 }] });
    expect(areaOf(seen)).toBeCloseTo(2 * (30 * 8 + (Math.PI * 25) / 2) + 200, 9);
    expect(regionSegments(seen).filter((s) => s.kind === "arc")).toHaveLength(2);
  });
});
