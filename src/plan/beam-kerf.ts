import type { Finding } from "../finding.ts";
import type { Mark } from "../parts/marks/mark.ts";
import { fitRegion } from "../shapes/fit-arcs.ts";
import { offsetRegion } from "../shapes/offset.ts";
import { containsPoint, type Loop, type Region } from "../shapes/region.ts";
import type { BurnSetting } from "../shop/laser.ts";

/** Offset error of a cut's way, mm: far below any kerf. */
const WITHIN = 0.002;

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
  const region = fitRegion(offsetRegion(outline, keep === "inside" ? kerf / 2 : -kerf / 2, WITHIN), WITHIN);
  const loops = insideFirst(region);
  if (loops.length === outline.loops.length) return { loops, findings: [] };
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
