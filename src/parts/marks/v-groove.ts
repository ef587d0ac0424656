import type { Finding } from "../../finding.ts";
import { unionOf } from "../../shapes/boolean.ts";
import { flattenRegion } from "../../shapes/flatten.ts";
import { largestInscribed } from "../../shapes/inscribed.ts";
import { polygon } from "../../shapes/outlines.ts";
import type { Polygons } from "../../shapes/polygons.ts";
import type { Region } from "../../shapes/region.ts";
import { TOLERANCE } from "../../tolerance.ts";
import { mmText } from "../ground.ts";
import type { Cavity, VForm } from "../workpiece.ts";
import type { CutGround } from "./cut-ground.ts";

/** What a V-groove is taken for until its bit is known: 60 degrees, sharp. */
const UNTIL_KNOWN: VForm = { tan: Math.tan(Math.PI / 6), tipFlat: 0 };
/** How exactly the widest place is found, mm. */
const WIDEST_WITHIN = 0.001;

/**
 * The cavity of a V-groove: the area between its outlines, its edges straight within the budget's share, and as deep as
 * the widest place asks or `cap` allows.
 */
export function vGrooveCavity(area: Region, cap: number | undefined, { base, deep }: CutGround): Cavity | Finding {
  const edges = unionOf(flattenRegion(area, TOLERANCE.flattening));
  const source = base.sources?.deepest ?? base.sources?.["made by"] ?? base.source;
  const place = { part: base.part, feature: base.feature, source };
  if (edges.length === 0) {
    return {
      grade: "refuse",
      code: "mark-kind-unfit",
      place,
      what: "there is no area here for a V-groove to follow",
      why: "its outlines enclose nothing",
      mend: "take outlines that close, or cut lines",
    };
  }
  if (cap !== undefined && cap >= deep) {
    return {
      grade: "refuse",
      code: "mark-kind-unfit",
      place,
      what: `a V-groove ${mmText(cap)} deep goes through the wood`,
      why: `the wood is ${mmText(deep)} thick there`,
      mend: 'make "deepest" less',
    };
  }
  const cavity: Cavity = {
    ...base,
    section: { loops: edges.flatMap((ring) => polygon(ring).loops) },
    from: 0,
    to: 0,
    through: false,
    slopeTan: 0,
    insideRadius: 0,
    shape: { kind: "v-groove", ...(cap !== undefined && { cap }) },
  };
  const { shape, ...guess } = withVForm(cavity, UNTIL_KNOWN);
  return { ...guess, to: Math.min(guess.to, deep * 0.999), shape: cavity.shape };
}

/**
 * A V-groove with its bit known: walls lean as the bit does, depth = (r − tip flat / 2) / tan(half angle) at the widest
 * place of radius r, or the cap. 0 < depth where the tip gets in at all.
 */
export function withVForm(cavity: Cavity, bit: VForm): Cavity {
  const { shape } = cavity;
  if (shape.kind !== "v-groove") throw new RangeError("a V-groove was expected");
  const widest = vGrooveWidest(cavity);
  const whole = (widest + WIDEST_WITHIN - bit.tipFlat / 2) / bit.tan;
  return {
    ...cavity,
    to: Math.min(shape.cap ?? Number.POSITIVE_INFINITY, Math.max(whole, WIDEST_WITHIN)),
    slopeTan: bit.tan,
    shape: { ...shape, bit },
  };
}

/** Radius of the largest circle between the outlines of a V-groove, mm. */
export function vGrooveWidest(cavity: Cavity): number {
  return largestInscribed(edgesOf(cavity), WIDEST_WITHIN).radius;
}

/** A V-groove's outlines as rings of points, bit for bit. */
export function edgesOf({ section }: Pick<Cavity, "section">): Polygons {
  return section.loops.map((loop) => loop.map((s) => s.from));
}
