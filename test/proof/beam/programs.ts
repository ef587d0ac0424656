import type { Finding } from "../../../src/finding.ts";
import type { Mark } from "../../../src/parts/marks/mark.ts";
import type { BeamSetUp } from "../../../src/plan/beam-setup.ts";
import { proveBeam } from "../../../src/proof/beam/prove-beam.ts";
import type { Proof } from "../../../src/proof/proof.ts";
import type { Point } from "../../../src/shapes/point.ts";
import type { Segment } from "../../../src/shapes/segment.ts";
import type { Laser } from "../../../src/shop/laser.ts";
import { laserMachine, laserShop, marked, planned } from "../../plan/beam-fixtures.ts";

/** Programs for the beam as a person would write them: nothing here comes from the making side. */

/** A way with the beam on or off. */
export interface Stroke {
  readonly along: readonly Segment[];
  /** Straight on before and behind, beam off, mm. */
  readonly runUp?: number;
  readonly power?: number;
  readonly feed?: number;
}

/** How a text is written; faults are planted by changing it. */
export interface Writing {
  readonly start: "M3" | "M4";
  readonly fullScale: number;
  readonly mode: "follows speed" | "constant";
  readonly power: number;
  readonly feed: number;
  readonly z: number;
  readonly safeZ: number;
  readonly slot?: number;
}

/** How a text is written for a set-up's first mark. */
export function writingFor(setUp: BeamSetUp, nth = 0): Writing {
  const { laser } = setUp;
  const { setting, surface } = setUp.marks[nth]!;
  return {
    start: laser.start,
    fullScale: laser.fullScale,
    mode: laser.mode,
    power: setting.power,
    feed: setting.speed,
    z: (surface.top + surface.bottom) / 2,
    safeZ: setUp.safeZ,
    ...(laser.slot === undefined ? {} : { slot: laser.slot }),
  };
}

/** A whole program that burns strokes. */
export function burnText(w: Writing, strokes: readonly Stroke[]): string {
  const lines = [
    `(S${w.fullScale} is full power. Power ${w.mode === "constant" ? "is constant" : "follows speed"})`,
    "M5 S0",
    "G17 G21 G40 G54 G61 G80 G90 G94",
    "(MSG, Bit out, laser mode)",
    "M0",
    "G17 G21 G40 G54 G61 G80 G90 G94",
    "G53 G0 Z0.",
    ...(w.slot === undefined ? [] : [`G43 H${w.slot}`]),
  ];
  const n = (v: number): string => v.toFixed(4);
  const first = begin(strokes[0]!);
  lines.push(`G0 X${n(first.x)} Y${n(first.y)}`, `G0 Z${n(w.safeZ)}`, `G1 Z${n(w.z)} F600.`, `${w.start} S0`);
  for (const s of strokes) {
    const power = s.power ?? w.power;
    const feed = s.feed ?? w.feed;
    const a = begin(s);
    lines.push(`G1 X${n(a.x)} Y${n(a.y)} F6000. S0`);
    if (s.runUp !== undefined) lines.push(`G1 X${n(s.along[0]!.from.x)} Y${n(s.along[0]!.from.y)} F${feed}`);
    for (const [i, e] of s.along.entries()) {
      const words = i === 0 ? ` F${feed} S${Math.round(power * w.fullScale)}` : "";
      lines.push(
        e.kind === "line"
          ? `G1 X${n(e.to.x)} Y${n(e.to.y)}${words}`
          : `${e.ccw ? "G3" : "G2"} X${n(e.to.x)} Y${n(e.to.y)} I${n(e.centre.x - e.from.x)} J${n(e.centre.y - e.from.y)}${words}`,
      );
    }
    if (s.runUp !== undefined) {
      const last = s.along[s.along.length - 1]!;
      const d = direction(last);
      lines.push(`G1 X${n(last.to.x + s.runUp * d.x)} Y${n(last.to.y + s.runUp * d.y)} S0`);
    }
  }
  lines.push("M5 S0", "G53 G0 Z0.", "(MSG, Disconnect the beam)", "M0", "M2", "");
  return lines.join("\n");
}

function begin(s: Stroke): Point {
  const first = s.along[0]!;
  const d = direction(first);
  return { x: first.from.x - (s.runUp ?? 0) * d.x, y: first.from.y - (s.runUp ?? 0) * d.y };
}

function direction(s: Segment): Point {
  const length = Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y);
  return { x: (s.to.x - s.from.x) / length, y: (s.to.y - s.from.y) / length };
}

/** A set-up with marks on a board, planned; the mark's coordinates are the program's own. */
export function setUpFor(marks: readonly Mark[], laser: Partial<Laser> = {}): BeamSetUp {
  return planned(marked(marks), laserShop(laserMachine({ spot: { x: 0.14, y: 0.14 }, ...laser }))).setUp;
}

export function proved(setUp: BeamSetUp, text: string): Proof {
  return proveBeam({ setUp, programs: [{ file: "burn.ngc", text }], shop: laserShop() });
}

/** Codes that refuse. */
export function refusals(p: { readonly findings: readonly Finding[] }): readonly string[] {
  return [...new Set(p.findings.filter((f) => f.grade === "refuse").map((f) => f.code))].sort();
}
