import type { Cutter, CutterForm, FluteSense } from "./cutter.ts";

/** What differs from cutter to cutter; the rest is filled in alike. mm. */
interface Sizes {
  readonly diameter: number;
  readonly flute: number;
  readonly stickOut: number;
  readonly shank: number;
  readonly flutes?: number;
  readonly sense?: FluteSense;
  readonly deadCentre?: number;
  readonly material?: "carbide" | "steel";
}

/**
 * A drawer of ordinary bits, in the order of their slots. The sizes are invented for the defaults, as such bits are
 * commonly sold; none has been measured. A shop file that lists cutters replaces them all.
 */
export function defaultCutters(): readonly Cutter[] {
  const flat: CutterForm = { kind: "flat" };
  const list: readonly (readonly [string, CutterForm, Sizes])[] = [
    ["3 mm flat", flat, { diameter: 3, flute: 12, stickOut: 20, shank: 6, sense: "up-cut" }],
    ["4 mm flat", flat, { diameter: 4, flute: 15, stickOut: 22, shank: 6, sense: "up-cut" }],
    ["6 mm flat", flat, { diameter: 6, flute: 22, stickOut: 28, shank: 6, sense: "up-cut" }],
    ["6 mm flat down-cut", flat, { diameter: 6, flute: 22, stickOut: 28, shank: 6, sense: "down-cut" }],
    ["1/4 in flat", flat, { diameter: 6.35, flute: 22, stickOut: 28, shank: 6.35, sense: "up-cut" }],
    // A compression bit's up-cut end throws chips back over its own tip: taken as not plunging within 1 mm of the axis.
    ["6 mm compression", flat, { diameter: 6, flute: 22, stickOut: 28, shank: 6, sense: "compression", deadCentre: 1 }],
    ["8 mm flat", flat, { diameter: 8, flute: 25, stickOut: 32, shank: 8, sense: "up-cut" }],
    // Straight cutters of this size are often ground without end cutting at the middle.
    ["12 mm flat", flat, { diameter: 12, flute: 30, stickOut: 38, shank: 12, sense: "straight", deadCentre: 1.5 }],
    ["6 mm round-nose", { kind: "round-nose" }, { diameter: 6, flute: 20, stickOut: 28, shank: 6, sense: "up-cut" }],
    [
      "6 mm radiused corner",
      { kind: "radiused-corner", cornerRadius: 1 },
      { diameter: 6, flute: 20, stickOut: 28, shank: 6, sense: "up-cut" },
    ],
    [
      "60 degree V",
      { kind: "v", includedAngle: 60, tipFlat: 0.2 },
      { diameter: 12, flute: 11, stickOut: 26, shank: 6, sense: "straight" },
    ],
    [
      "90 degree V",
      { kind: "v", includedAngle: 90, tipFlat: 0.2 },
      { diameter: 12, flute: 8, stickOut: 26, shank: 6, sense: "straight" },
    ],
    ...[2.5, 3, 4, 5].map((d): readonly [string, CutterForm, Sizes] => [
      `${d} mm drill`,
      { kind: "drill", pointAngle: 118 },
      { diameter: d, flute: 8 * d + 10, stickOut: 8 * d + 16, shank: d, sense: "up-cut", material: "steel" },
    ]),
    [
      "82 degree countersink",
      { kind: "countersink", includedAngle: 82, tipFlat: 1 },
      { diameter: 12, flute: 7, stickOut: 26, shank: 6, sense: "straight", flutes: 3, material: "steel" },
    ],
    [
      "90 degree countersink",
      { kind: "countersink", includedAngle: 90, tipFlat: 1 },
      { diameter: 12, flute: 6, stickOut: 26, shank: 6, sense: "straight", flutes: 3, material: "steel" },
    ],
  ];
  return list.map(([name, form, s], k) => ({
    name,
    slot: k + 1,
    form,
    fluteSense: s.sense ?? "up-cut",
    flutes: s.flutes ?? 2,
    nominalDiameter: s.diameter,
    diameter: s.diameter,
    diameterMeasured: false,
    fluteLength: s.flute,
    stickOut: s.stickOut,
    shankDiameter: s.shank,
    deadCentre: s.deadCentre ?? 0,
    material: s.material ?? "carbide",
    chipLoads: {},
    from: "built-in default",
  }));
}
