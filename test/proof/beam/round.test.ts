import { describe, expect, it } from "vitest";
import type { BeamSetUp } from "../../../src/plan/beam-setup.ts";
import { line } from "../../../src/shapes/segment.ts";
import { onCylinder, widestHalfWidth } from "../../../src/shop/beam.ts";
import { mark } from "../../plan/beam-fixtures.ts";
import { burnText, proved, refusals, setUpFor, writingFor } from "./programs.ts";

const R = 15;
const AXIS = { y: 30, z: -R };

/** A cylinder of radius 15 along X, its crown at Z 0, with a line across it from −y to y. */
function across(y: number, from = -y): BeamSetUp {
  const chain = [line({ x: 40, y: AXIS.y + from }, { x: 40, y: AXIS.y + y })];
  const base = setUpFor([mark("band", { kind: "lines", chains: [chain] }, { by: "burned line" })]);
  const { drop } = onCylinder(R, y);
  return {
    ...base,
    round: { meridian: { segments: [line({ x: 0, y: R }, { x: 100, y: R })] }, axis: AXIS, squares: [] },
    blank: { min: { x: 0, y: AXIS.y - R, z: -2 * R }, max: { x: 100, y: AXIS.y + R, z: 0 } },
    bedZ: -40,
    marks: base.marks.map((m) => ({ ...m, surface: { top: 0, bottom: -drop } })),
  };
}

function textFor(setUp: BeamSetUp): string {
  const { aim } = setUp.marks[0]!;
  if (aim.kind !== "lines") throw new Error("lines were asked for");
  return burnText(
    writingFor(setUp),
    aim.chains.map((along) => ({ along })),
  );
}

describe("burning on the round", () => {
  it("half-way down the drop, a mark may be as wide as the whole depth of focus allows: √(2Rh − h²) to each side", () => {
    const widest = widestHalfWidth(R, 2 * 0.5);
    expect(widest).toBeCloseTo(5.385165, 6);
    const p = proved(across(widest), textFor(across(widest)));
    expect(refusals(p)).toEqual([]);
    expect(p.figures["off focus"]!.value).toBeCloseTo(0.5, 3);
    // R / √(R² − y²) = 1.0714: what falls on a level millimetre spreads over as much more.
    expect(p.figures["dose at the steepest"]!.value).toBeCloseTo(100 / onCylinder(R, widest).stretch, 3);
  });

  it("beyond that it is refused, unless Z follows the wood", () => {
    const wide = across(7);
    expect(refusals(proved(wide, textFor(wide)))).toEqual(["proof-beam-out-of-focus"]);
    const steps = Array.from({ length: 29 }, (_, i) => -7 + i / 2);
    const following = textFor(wide)
      .replace(/G1 Z-[\d.]+/, `G1 Z-${onCylinder(R, 7).drop.toFixed(4)}`)
      .replace(
        /G1 X40\.0000 Y37\.0000 F1500 S400\n/,
        steps
          .slice(1)
          .map(
            (y, i) =>
              `G1 X40. Y${(30 + y).toFixed(4)} Z${(-onCylinder(R, Math.abs(y)).drop).toFixed(4)}${i === 0 ? " F1500 S400" : ""}\n`,
          )
          .join(""),
      );
    expect(refusals(proved(wide, following))).toEqual([]);
  });

  it("beside the wood there is nothing to burn", () => {
    const beside = { ...across(5), round: { ...across(5).round!, axis: { y: 18, z: -R } } };
    expect(refusals(proved(beside, textFor(across(5))))).toContain("proof-beam-off-wood");
  });
});
