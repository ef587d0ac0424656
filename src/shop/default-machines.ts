import type { Controller, Machine } from "./machine.ts";

/** A controller that understands the whole published language. */
const FULL: Controller = {
  arcs: true,
  toolTable: true,
  toolChanger: true,
  homes: true,
  exactPath: true,
  cornerError: 0,
  axes: ["X", "Y", "Z"],
};

/** What the default routers share. The numbers are invented: a small shop router of ordinary strength. */
const SMALL_ROUTER = {
  travel: { x: 900, y: 600, z: 120 },
  topFeed: { x: 6000, y: 6000, z: 3000 },
  acceleration: { x: 500, y: 500, z: 300 },
  cornerDeviation: 0.01,
  spindle: { kind: "program", min: 6000, max: 24000 },
  spindlePowerWatts: 1500,
  spinUpSeconds: 4,
  spinDownSeconds: 8,
  nut: { diameter: 25, length: 20 },
  body: { diameter: 65, length: 180 },
  from: "built-in default",
} as const;

/**
 * Four routers, one for each built-in post, named by what they can do. All numbers are invented for the defaults, so a
 * shop file should describe the real machine.
 */
export function defaultMachines(): readonly Machine[] {
  return [
    {
      ...SMALL_ROUTER,
      name: "router, millimetre, with tool changer",
      controller: FULL,
      post: "millimetre",
    },
    {
      ...SMALL_ROUTER,
      name: "router, inch, with tool changer",
      controller: FULL,
      post: "inch",
    },
    {
      ...SMALL_ROUTER,
      name: "router, millimetre, straight lines only",
      controller: { ...FULL, arcs: false, toolTable: false, toolChanger: false },
      post: "no-arcs",
    },
    {
      ...SMALL_ROUTER,
      name: "router, plain, speed by dial",
      travel: { x: 600, y: 400, z: 80 },
      topFeed: { x: 3000, y: 3000, z: 1200 },
      acceleration: { x: 250, y: 250, z: 150 },
      spindle: {
        kind: "dial",
        positions: [
          { mark: "1", rpm: 10000 },
          { mark: "2", rpm: 12000 },
          { mark: "3", rpm: 16000 },
          { mark: "4", rpm: 20000 },
          { mark: "5", rpm: 24000 },
        ],
      },
      spindlePowerWatts: 700,
      spinUpSeconds: 3,
      spinDownSeconds: 6,
      controller: { ...FULL, toolTable: false, toolChanger: false, homes: false },
      post: "plain",
    },
  ];
}
