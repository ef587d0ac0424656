import type { Finding } from "../finding.ts";
import { distanceOfRegions } from "../parts/section-distance.ts";
import type { Cavity } from "../parts/workpiece.ts";
import { rectangle } from "../shapes/outlines.ts";
import { assemblyOf } from "../shop/assembly.ts";
import type { Cutter } from "../shop/cutter.ts";
import type { Machine } from "../shop/machine.ts";
import type { KeepOut } from "./setup.ts";
import { largestRadiusOf } from "./widest.ts";

/** One cavity as it will be cut, for looking whether clamps leave room for it. */
export interface Cut {
  readonly cavity: Cavity;
  /** In set-up coordinates. */
  readonly there: Cavity;
  readonly cutter: Cutter;
  readonly tipZ: number;
}

/**
 * Clamps and screws that a cut would meet: standing on it, or so near that the shank, the nut or the spindle body would
 * touch them while the tip is at its floor.
 */
export function clampFindings(
  cuts: readonly Cut[],
  keepOuts: readonly KeepOut[],
  machine: Machine,
): readonly Finding[] {
  const findings: Finding[] = [];
  for (const { cavity, there, cutter, tipZ } of cuts) {
    for (const k of keepOuts) {
      const gap = distanceOfRegions(there.section, rectangle(k.box.min, k.box.max));
      const place = { part: cavity.part, feature: cavity.feature, source: cavity.source };
      if (gap <= 0) {
        findings.push({
          grade: "refuse",
          code: "plan-clamp-in-the-way",
          place,
          what: `"${k.name}" stands on "${cavity.feature}"`,
          why: "the cutter would run into it",
          mend: "move it, or hold the wood another way",
        });
        continue;
      }
      // The cutter's middle keeps a radius from the cavity's border, so only what is wider counts.
      const beside = gap + cutter.diameter / 2;
      const meets = assemblyOf(cutter, machine).pieces.find(
        (p) => tipZ + p.profile.from < k.box.max.z && largestRadiusOf(p) > beside,
      );
      if (meets === undefined || meets.member === "cutter") continue;
      findings.push({
        grade: "refuse",
        code: "plan-clamp-in-the-way",
        place,
        what: `the ${meets.member} would meet "${k.name}" while "${cavity.feature}" is cut`,
        why: `the ${meets.member} of "${cutter.name}" comes down to ${mm(tipZ + meets.profile.from)} beside it, which stands up to ${mm(k.box.max.z)}`,
        mend: "move it away or use a lower one, or set the bit farther out",
        measured: { value: beside, bound: 0, unit: "mm" },
        limit: { value: largestRadiusOf(meets), unit: "mm", from: `the ${meets.member}'s radius` },
      });
    }
  }
  return findings;
}

function mm(value: number): string {
  return `Z ${Number(value.toFixed(2))} mm`;
}
