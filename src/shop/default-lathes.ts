import type { HeadHolding, Lathe, TailHolding, TurningTool } from "./lathe.ts";

/** The drive centre taken where the shop file names none. Invented: ordinary for a small lathe. */
export const DEFAULT_HEAD: HeadHolding = { kind: "drive centre", diameter: 25, length: 40, grip: 0 };

/** The live centre taken where the shop file names none. Invented: ordinary for a small lathe. */
export const DEFAULT_TAIL: TailHolding = { kind: "live centre", diameter: 30, length: 12 };

const SMALL_LATHE = {
  travel: { x: 120, z: 500 },
  topFeed: { x: 1500, z: 3000 },
  acceleration: { x: 150, z: 200 },
  spindle: { kind: "program", min: 200, max: 3500 },
  spindlePowerWatts: 750,
  spinUpSeconds: 5,
  spinDownSeconds: 8,
  swing: 250,
  betweenCentres: 450,
  spindleWord: "M3",
  controller: {
    arcs: true,
    toolTable: false,
    toolChanger: false,
    homes: true,
    exactPath: true,
    cornerError: 0,
    axes: ["X", "Z"],
  },
  from: "built-in default",
} as const satisfies Partial<Lathe> | { readonly controller: unknown };

/** Two small lathes, one for each way of writing X. All numbers are invented, so a shop file should describe the real one. */
export function defaultLathes(): readonly Lathe[] {
  return [
    {
      ...SMALL_LATHE,
      controller: { ...SMALL_LATHE.controller, axes: ["X", "Z"] },
      name: "lathe, X as radius, tool behind the work",
      xWords: "radius",
      toolPost: "rear",
      post: "lathe-radius",
    },
    {
      ...SMALL_LATHE,
      controller: { ...SMALL_LATHE.controller, homes: false, axes: ["X", "Z"] },
      name: "lathe, X as diameter, tool in front of the work",
      xWords: "diameter",
      toolPost: "front",
      post: "lathe-diameter",
    },
  ];
}

/** Four turning tools of ordinary shape. All sizes are invented. */
export function defaultTurningTools(): readonly TurningTool[] {
  const common = { reach: 40, holderHalfWidth: 10, point: "tip middle", from: "built-in default" } as const;
  return [
    {
      ...common,
      name: "6 mm round-nose",
      slot: 1,
      kind: "round-nose",
      noseRadius: 3,
      width: 6,
      flanks: { first: 0, second: 0 },
      maxBite: 1.5,
    },
    {
      ...common,
      name: "3 mm round-nose",
      slot: 2,
      kind: "round-nose",
      noseRadius: 1.5,
      width: 3,
      flanks: { first: 0, second: 0 },
      maxBite: 0.8,
    },
    {
      ...common,
      name: "detail 35 deg",
      slot: 3,
      kind: "detail",
      noseRadius: 0.4,
      width: 10,
      flanks: { first: 17.5, second: 17.5 },
      maxBite: 0.6,
    },
    {
      ...common,
      name: "3 mm parting",
      slot: 4,
      kind: "parting",
      noseRadius: 0.1,
      width: 3,
      flanks: { first: 0, second: 0 },
      maxBite: 0.8,
    },
  ];
}
