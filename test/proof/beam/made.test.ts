import { describe, expect, it } from "vitest";
import { printFinding } from "../../../src/finding.ts";
import type { Mark } from "../../../src/parts/marks/mark.ts";
import { beamPath } from "../../../src/paths/beam/beam-path.ts";
import type { BeamSetUp } from "../../../src/plan/beam-setup.ts";
import { outlineWalkOf, writeBeamProgram } from "../../../src/program/write-beam.ts";
import { proveBeam, proveOutlineWalk } from "../../../src/proof/beam/prove-beam.ts";
import { circle, rectangle, slot } from "../../../src/shapes/outlines.ts";
import { greyPicture } from "../../../src/shapes/picture/grey-picture.ts";
import { arc, line } from "../../../src/shapes/segment.ts";
import type { Laser } from "../../../src/shop/laser.ts";
import { laserMachine, laserShop, mark, marked, planned } from "../../plan/beam-fixtures.ts";
import { type PostName, post } from "../../program/fixtures.ts";
import { refusals } from "./programs.ts";

const at = (x: number, y: number) => ({ x, y });
const GREYS = Array.from({ length: 6 * 5 }, (_, i) => ((i * 7) % 11) / 10);
const MARKS: readonly Mark[] = [
  mark(
    "name",
    {
      kind: "lines",
      chains: [
        [line(at(50, 20), at(60, 20)), arc(at(60, 20), at(60, 26), at(60, 23), true)],
        [line(at(52, 30), at(60, 35))],
      ],
    },
    { by: "burned line" },
  ),
  mark(
    "patch",
    { kind: "area", region: circle(at(25, 25), 4) },
    { by: "burned area", angleDeg: 30, ways: "two", contour: true },
  ),
  mark(
    "bar",
    { kind: "area", region: slot(at(45, 45), 12, 3, 20) },
    { by: "burned area", angleDeg: 90, ways: "one", contour: false },
  ),
  mark(
    "face",
    { kind: "picture", grey: greyPicture(6, 5, GREYS), corner: at(70, 20), width: 6, height: 5, turnedDeg: 15 },
    { by: "burned picture", tones: "error spread" },
  ),
  mark("cut", { kind: "area", region: rectangle(at(5, 45), at(15, 55)) }, { by: "burned through", keep: "inside" }),
];

function made(
  name: PostName,
  laser: Partial<Laser>,
): { readonly setUp: BeamSetUp; readonly text: string; readonly walk: string } {
  const table = name === "millimetre" || name === "inch";
  const own: Partial<Laser> = table ? laser : { ...laser, slot: undefined as never };
  const plan = planned(marked(MARKS), laserShop(laserMachine(own, {}, name)));
  const input = {
    setUp: plan.setUp,
    paths: plan.operations.map((o) => beamPath(o, plan.setUp)),
    post: post(name),
    title: "Lid",
    version: "0.1.0",
  };
  const program = writeBeamProgram(input);
  const walk = outlineWalkOf(input);
  if (!program.ok || !walk.ok) throw new Error("not written");
  return { setUp: plan.setUp, text: program.value.text, walk: walk.value.text };
}

describe("what the making side writes", () => {
  it.each([
    ["millimetre", "follows speed"],
    ["inch", "constant"],
    ["no-arcs", "constant"],
    ["plain", "follows speed"],
  ] as const)("%s, %s: proved", (name, mode) => {
    const late = { mode, start: mode === "constant" ? "M3" : "M4", lag: 0.0005, pilot: 0.01 } as const;
    const { setUp, text, walk } = made(name, late);
    const proof = proveBeam({ setUp, programs: [{ file: "a.ngc", text }], shop: laserShop() });
    expect(
      refusals(proof),
      proof.findings
        .filter((f) => f.grade === "refuse")
        .map(printFinding)
        .join("\n"),
    ).toEqual([]);
    const walked = proveOutlineWalk(setUp, { file: "walk.ngc", text: walk });
    expect(refusals(walked), walked.findings.map(printFinding).join("\n")).toEqual([]);
  });
});
