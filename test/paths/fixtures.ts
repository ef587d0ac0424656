import type { ClearOperation, Speeds } from "../../src/plan/operation.ts";
import type { SetUp } from "../../src/plan/setup.ts";
import { IDENTITY } from "../../src/shapes/frame.ts";
import type { Point } from "../../src/shapes/point.ts";
import { EMPTY_REGION, type Region } from "../../src/shapes/region.ts";
import type { Cutter } from "../../src/shop/cutter.ts";

/** A set-up with a blank of the given size, lower left corner and top at zero. */
export function setUpOf(length: number, width: number, thickness: number, changes: Partial<SetUp> = {}): SetUp {
  const size = { length, width, thickness };
  const labels = {
    face: "inside",
    back: "outside",
    "lower edge": "lower edge",
    "upper edge": "upper edge",
    "first end": "first end",
    "second end": "second end",
  };
  const source = { file: "job.yaml", line: 1, column: 1, length: 1, text: "part" };
  return {
    name: "part, face up",
    workpiece: {
      name: "part",
      wood: "ash",
      size,
      grain: "along length",
      pieces: [],
      cavities: [],
      labels,
      faceSide: "face",
      faceEdge: "lower edge",
      wishes: {},
      source,
    },
    face: "face",
    machine: {
      name: "router",
      travel: { x: 600, y: 400, z: 80 },
      topFeed: { x: 4000, y: 4000, z: 1500 },
      acceleration: { x: 500, y: 500, z: 300 },
      cornerDeviation: 0.01,
      spindle: { kind: "program", min: 5000, max: 24000 },
      spindlePowerWatts: 800,
      spinUpSeconds: 4,
      spinDownSeconds: 4,
      nut: { diameter: 20, length: 15 },
      body: { diameter: 65, length: 100 },
      controller: {
        arcs: true,
        toolTable: true,
        toolChanger: false,
        homes: true,
        exactPath: true,
        cornerError: 0,
        axes: ["X", "Y", "Z"],
      },
      post: "plain mm",
      from: "built-in default",
    },
    frame: IDENTITY,
    blank: { min: { x: 0, y: 0, z: -thickness }, max: { x: length, y: width, z: 0 } },
    bedZ: -thickness - 12,
    intoWasteBoard: 1,
    holding: { kind: "underside", by: "tape" },
    keepOuts: [],
    zero: { corner: "left front", z: "top", how: "touch off on the wood" },
    safeZ: 10,
    cavities: [],
    earlier: [],
    target: {
      blank: { min: { x: 0, y: 0, z: -thickness }, max: { x: length, y: width, z: 0 } },
      slabs: [],
      cavities: [],
    },
    marks: [],
    habits: {
      roughing: "climb",
      finishing: "climb",
      clearance: 10,
      approach: 2,
      intoWasteBoard: 1,
      allowance: 0.3,
      gaugeBlock: 10,
      leastWeb: 2,
      leastHold: 20,
    },
    cutters: [],
    ...changes,
  };
}

/** A flat cutter. */
export function flat(diameter: number, deadCentre = 0): Cutter {
  return {
    name: `${diameter} mm flat`,
    slot: 1,
    form: { kind: "flat" },
    fluteSense: "up-cut",
    flutes: 2,
    nominalDiameter: diameter,
    diameter,
    diameterMeasured: true,
    fluteLength: 25,
    stickOut: 35,
    shankDiameter: diameter,
    deadCentre,
    material: "carbide",
    chipLoads: {},
    from: "shop file",
  };
}

export const SPEEDS: Speeds = { rpm: 18000, feed: 1500, plunge: 300, ramp: 700, slot: 900, reason: "test" };

/** What all operations share. */
export function baseOf(diameter: number, deadCentre = 0) {
  return {
    id: "op",
    title: 'recess "test"',
    cavityIds: ["test"],
    cutter: flat(diameter, deadCentre),
    cutterReason: "test",
    speeds: SPEEDS,
    roughing: "climb",
    finishing: "climb",
    topZ: 0,
  } as const;
}

/** Clears one area with straight walls at the given levels. */
export function clearOf(
  area: Region,
  diameter: number,
  levels: readonly number[],
  changes: Partial<ClearOperation> = {},
): ClearOperation {
  const floor = levels[levels.length - 1]!;
  return {
    ...baseOf(diameter),
    kind: "clear",
    levels: levels.map((z) => ({ z, area })),
    step: 0.4 * diameter,
    allowance: { wall: 0, floor: 0 },
    finishLevels: [{ z: floor, area }],
    openAir: EMPTY_REGION,
    rampAngle: 3,
    grainDeg: undefined,
    ...changes,
  };
}

/** The star of the bench set: r = size(1 + depth·cos(lobes·t)) in n corners. */
export function star(n: number, size: number, depth: number, lobes: number, centre: Point): Point[] {
  return Array.from({ length: n }, (_, i) => {
    const t = (2 * Math.PI * i) / n;
    const r = size * (1 + depth * Math.cos(lobes * t));
    return { x: centre.x + r * Math.cos(t), y: centre.y + r * Math.sin(t) };
  });
}
