import fc from "fast-check";
import type { ReadMove } from "../../src/reader/read-move.ts";
import type { Box3, Point, Point3 } from "../../src/shapes/point.ts";
import { assemblyOf } from "../../src/shop/assembly.ts";
import type { Assembly, Cutter, CutterForm } from "../../src/shop/cutter.ts";
import type { Machine } from "../../src/shop/machine.ts";

/** A machine with round numbers, all invented. */
export const MACHINE: Machine = {
  name: "test router",
  travel: { x: 900, y: 600, z: 120 },
  topFeed: { x: 6000, y: 6000, z: 3000 },
  acceleration: { x: 500, y: 500, z: 500 },
  cornerDeviation: 0.01,
  spindle: { kind: "program", min: 6000, max: 24000 },
  spindlePowerWatts: 1500,
  spinUpSeconds: 4,
  spinDownSeconds: 8,
  nut: { diameter: 25, length: 20 },
  body: { diameter: 65, length: 180 },
  controller: {
    arcs: true,
    toolTable: true,
    toolChanger: true,
    homes: true,
    exactPath: true,
    cornerError: 0,
    axes: ["X", "Y", "Z"],
  },
  post: "millimetre",
  from: "built-in default",
};

/** A cutter of a form; long in the flute unless said otherwise. */
export function cutterOf(form: CutterForm, diameter: number, more: Partial<Cutter> = {}): Cutter {
  return {
    name: "test bit",
    slot: 1,
    form,
    fluteSense: "up-cut",
    flutes: 2,
    nominalDiameter: diameter,
    diameter,
    diameterMeasured: true,
    fluteLength: 25,
    stickOut: 40,
    shankDiameter: diameter,
    deadCentre: 0,
    material: "carbide",
    chipLoads: {},
    from: "built-in default",
    ...more,
  };
}

/** The same, held in the test machine. */
export function held(form: CutterForm, diameter: number, more: Partial<Cutter> = {}): Assembly {
  return assemblyOf(cutterOf(form, diameter, more), MACHINE);
}

/** A move between two places; `arc` makes it an arc in XY unless a plane is named. */
export function move(
  from: Point3,
  to: Point3,
  more: Partial<ReadMove> & { arc?: { centre: Point; ccw: boolean; plane?: "XY" | "XZ" | "YZ" } } = {},
): ReadMove {
  const { arc, ...rest } = more;
  return {
    kind: "move",
    line: 1,
    rapid: false,
    from,
    to,
    path: arc ? { kind: "arc", plane: arc.plane ?? "XY", centre: arc.centre, ccw: arc.ccw } : { kind: "line" },
    machine: false,
    feed: 1200,
    spindle: { turning: "clockwise", rpm: 18000 },
    tool: 1,
    exactPath: false,
    ...rest,
  };
}

/** Lines through the given places, numbered from `line`. */
export function polyline(places: readonly Point3[], line = 1): ReadMove[] {
  return places.slice(1).map((to, i) => move(places[i]!, to, { line: line + i }));
}

export const at = (x: number, y: number, z: number): Point3 => ({ x, y, z });

/** A blank from the origin, its top at z = 0. */
export function board(length: number, width: number, thickness: number): Box3 {
  return { min: at(0, 0, -thickness), max: at(length, width, 0) };
}

/** A coordinate between two bounds, drawn in whole micrometres. */
export function mm(low: number, high: number): fc.Arbitrary<number> {
  return fc.integer({ min: Math.round(low * 1000), max: Math.round(high * 1000) }).map((n) => n / 1000);
}

/** Every form of cutting end, of workable sizes. */
export const anyForm: fc.Arbitrary<CutterForm> = fc.oneof(
  fc.constant<CutterForm>({ kind: "flat" }),
  fc.constant<CutterForm>({ kind: "round-nose" }),
  mm(0.2, 1.4).map((cornerRadius): CutterForm => ({ kind: "radiused-corner", cornerRadius })),
  fc
    .tuple(fc.integer({ min: 30, max: 140 }), mm(0, 0.8))
    .map(([includedAngle, tipFlat]): CutterForm => ({ kind: "v", includedAngle, tipFlat })),
  fc.integer({ min: 60, max: 150 }).map((pointAngle): CutterForm => ({ kind: "drill", pointAngle })),
  fc
    .integer({ min: 60, max: 110 })
    .map((includedAngle): CutterForm => ({ kind: "countersink", includedAngle, tipFlat: 0.5 })),
);
