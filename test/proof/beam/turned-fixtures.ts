import type { Ink, Mark } from "../../../src/parts/marks/mark.ts";
import type { Workpiece } from "../../../src/parts/workpiece.ts";
import { beamPath } from "../../../src/paths/beam/beam-path.ts";
import { planBeam } from "../../../src/plan/beam.ts";
import type { PlannedBeam } from "../../../src/plan/beam-setup.ts";
import type { BeamWriteInput } from "../../../src/program/beam-text.ts";
import { writeBeamProgram } from "../../../src/program/write-beam.ts";
import { proveBeam } from "../../../src/proof/beam/prove-beam.ts";
import { line } from "../../../src/shapes/segment.ts";
import type { Machine } from "../../../src/shop/machine.ts";
import type { RotaryAxis } from "../../../src/shop/rotary.ts";
import type { Shop } from "../../../src/shop/shop.ts";
import { laserMachine, laserShop, mark, marked } from "../../plan/beam-fixtures.ts";
import { type PostName, post } from "../../program/fixtures.ts";

export const ROTARY: RotaryAxis = {
  height: 90,
  swing: 120,
  chuck: { diameter: 40, over: 12 },
  centre: { diameter: 12, over: 0 },
  topSpeed: 20_000,
  acceleration: 3600,
  crownGoes: "front",
};

/** A laser router with a rotary axis. */
export function turningMachine(rotary: Partial<RotaryAxis> = {}, name: PostName = "millimetre"): Machine {
  const base = laserMachine({}, {}, name);
  return {
    ...base,
    rotary: { ...ROTARY, ...rotary },
    travel: { x: 600, y: 400, z: 200 },
    controller: { ...base.controller, axes: ["X", "Y", "Z", "A"] },
  };
}

export const RADIUS = 15;

/** 160 long, square 36 at both ends, a cylinder between. */
export function cylinder(marks: readonly Mark[], radius = RADIUS): Workpiece {
  return marked(marks, {
    size: { length: 160, width: 36, thickness: 36 },
    round: {
      meridian: { segments: [line({ x: 20, y: radius }, { x: 140, y: radius })] },
      axis: { y: 18, z: 18 },
      squares: [
        { from: 0, to: 20, side: 36 },
        { from: 140, to: 160, side: 36 },
      ],
    },
    wishes: { rotaryAxis: true },
  });
}

export function around(ink: Ink, made: Mark["made"], radius = RADIUS): Mark {
  return { ...mark("ring", ink, made), unrolled: { radius } };
}

export function turnedBeam(workpiece: Workpiece, shop: Shop = laserShop(turningMachine())): PlannedBeam {
  const planned = planBeam(workpiece, shop, []);
  const [one] = planned.ok ? planned.value : [];
  if (one === undefined)
    throw new Error(planned.findings.map((f) => `${f.code}: ${f.what}; ${f.why ?? ""}`).join("\n"));
  return one;
}

export function writing({ setUp, operations }: PlannedBeam, name: PostName = "millimetre"): BeamWriteInput {
  return { setUp, paths: operations.map((o) => beamPath(o, setUp)), post: post(name), title: "Ring", version: "0.0.0" };
}

export function textOf(planned: PlannedBeam, name: PostName = "millimetre"): string {
  const written = writeBeamProgram(writing(planned, name));
  if (!written.ok) throw new Error(written.findings.map((f) => f.what).join("\n"));
  return written.value.text;
}

/** Codes that refuse a text. */
export function refused({ setUp }: PlannedBeam, text: string): readonly string[] {
  const proof = proveBeam({ setUp, programs: [{ file: "a.nc", text }], shop: laserShop(setUp.machine) });
  return [...new Set(proof.findings.filter((f) => f.grade === "refuse").map((f) => f.code))];
}
