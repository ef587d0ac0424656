import type { Finding } from "../../finding.ts";
import { unionOf } from "../../shapes/boolean.ts";
import { flattenSegment } from "../../shapes/flatten.ts";
import { sweepPolyline } from "../../shapes/offset.ts";
import { polygon } from "../../shapes/outlines.ts";
import type { Point } from "../../shapes/point.ts";
import type { Region } from "../../shapes/region.ts";
import type { Segment } from "../../shapes/segment.ts";
import type { Cutter } from "../../shop/cutter.ts";
import { cutterRadiusAt } from "../../shop/profile.ts";
import { TOLERANCE } from "../../tolerance.ts";
import { mmText } from "../ground.ts";
import type { Cavity } from "../workpiece.ts";
import type { CutGround } from "./cut-ground.ts";

/** Half the width of a cut line until its bit is known, mm. Common practice, no source. */
const UNTIL_KNOWN = 0.5;

/** The cavity of lines cut at one depth, mm. */
export function cutLineCavity(
  chains: readonly (readonly Segment[])[],
  depth: number,
  { base, deep }: CutGround,
): Cavity | Finding {
  const place = { part: base.part, feature: base.feature, source: base.sources?.depth ?? base.source };
  if (depth >= deep) {
    return {
      grade: "refuse",
      code: "mark-kind-unfit",
      place,
      what: `a line ${mmText(depth)} deep goes through the wood`,
      why: `the wood is ${mmText(deep)} thick there`,
      mend: 'make "depth" less; what is to come free is an "outline"',
    };
  }
  const drawn = chains.filter((c) => c.length > 0);
  return {
    ...base,
    section: sweptBy(drawn, UNTIL_KNOWN),
    from: 0,
    to: depth,
    through: false,
    slopeTan: 0,
    insideRadius: UNTIL_KNOWN,
    shape: { kind: "cut line", chains: drawn },
  };
}

/** Cut lines with their bit known: as wide as it is at the surface when its tip stands at the depth asked for. */
export function withLineBit(cavity: Cavity, cutter: Cutter): Cavity {
  const { shape } = cavity;
  if (shape.kind !== "cut line") throw new RangeError("a cut line was expected");
  const radius = cutterRadiusAt(cutter, cavity.to - cavity.from);
  return {
    ...cavity,
    section: sweptBy(shape.chains, radius),
    insideRadius: radius,
    shape: { ...shape, bit: cutter.name },
  };
}

/** What a disc sweeps along chains, within the budget's shares. */
function sweptBy(chains: readonly (readonly Segment[])[], radius: number): Region {
  const swept = unionOf(...chains.map((c) => sweepPolyline(pointsAlong(c), radius, TOLERANCE.offset)));
  return { loops: swept.flatMap((ring) => polygon(ring).loops) };
}

function pointsAlong(chain: readonly Segment[]): readonly Point[] {
  const first = chain[0];
  if (first === undefined) return [];
  return [first.from, ...chain.flatMap((s) => flattenSegment(s, TOLERANCE.flattening).slice(1))];
}
