import type { Finding } from "../finding.ts";
import type { Mark } from "../parts/marks/mark.ts";
import { componentsOf, differenceOf } from "../shapes/boolean.ts";
import { fitRegion } from "../shapes/fit-arcs.ts";
import { flattenRegion } from "../shapes/flatten.ts";
import { offsetPolygons, offsetRegion } from "../shapes/offset.ts";
import { areaOfPolygons, type Polygons } from "../shapes/polygons.ts";
import { containsPoint, type Loop, type Region } from "../shapes/region.ts";
import type { BurnSetting } from "../shop/laser.ts";

/** Offset error of a cut's way, mm: far below any kerf. */
const WITHIN = 0.0005;
/**
 * Places that the cut cannot reach count from this area, as a share of the kerf's square: a corner keeps a round of less,
 * (1 − π/4) / 4 of it where it is square.
 */
const NARROW = 0.25;

/**
 * The way of the beam's middle beside an outline: half a kerf out of a piece that is kept, half a kerf into an opening; what
 * lies inside comes before what surrounds it.
 */
export function kerfPath(
  mark: Mark,
  outline: Region,
  keep: "inside" | "outside",
  setting: BurnSetting,
): { readonly loops: readonly Loop[]; readonly findings: readonly Finding[] } {
  const place = { part: mark.part, feature: mark.feature, source: mark.source };
  const { kerf } = setting;
  if (kerf === undefined) {
    return {
      loops: [],
      findings: [
        {
          grade: "refuse",
          code: "beam-no-kerf",
          place,
          what: `the shop has no kerf for "${setting.effect}" on ${setting.wood}`,
          why: "the beam must run half a kerf beside the outline of what is kept",
          mend: 'burn a kerf card, measure its pieces, and write "kerf" with the setting in the shop file',
        },
      ],
    };
  }
  const half = keep === "inside" ? kerf / 2 : -kerf / 2;
  const way = offsetRegion(outline, half, WITHIN);
  const loops = insideFirst(fitRegion(way, WITHIN));
  // Beside a gap that is too narrow the way does not come back to the outline when it is moved back by half a kerf.
  const flat = flattenRegion(outline, WITHIN);
  const back = offsetPolygons(way, -half, WITHIN);
  const missed = keep === "inside" ? differenceOf(back, grown(flat)) : differenceOf(flat, grown(back));
  const narrow = componentsOf(missed).some((c) => areaOfPolygons(c) > NARROW * kerf * kerf);
  if (loops.length === outline.loops.length && !narrow) return { loops, findings: [] };
  return {
    loops: [],
    findings: [
      {
        grade: "refuse",
        code: "beam-narrower-than-kerf",
        place,
        what: `"${mark.feature}" has an opening or a gap narrower than the kerf`,
        why: "beside its walls the beam's way vanishes or runs into itself",
        mend: "draw it wider, or cut it as a line",
        measured: { value: kerf, bound: 0, unit: "mm" },
      },
    ],
  };
}

/** A hair more, so that rounding is no gap. */
function grown(polygons: Polygons): Polygons {
  return offsetPolygons(polygons, 4 * WITHIN, WITHIN);
}

/** Loops with those that lie within others before them. */
function insideFirst(region: Region): readonly Loop[] {
  const depth = (loop: Loop): number => {
    const at = loop[0];
    return at === undefined
      ? 0
      : region.loops.filter((other) => other !== loop && containsPoint({ loops: [other] }, at.from)).length;
  };
  return region.loops
    .map((loop) => ({ loop, depth: depth(loop) }))
    .sort((a, b) => b.depth - a.depth)
    .map(({ loop }) => loop);
}
