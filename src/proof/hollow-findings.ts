import type { Finding } from "../finding.ts";
import type { TargetCavity } from "../parts/target.ts";
import { HOLLOW_RIDGE } from "../plan/levels.ts";
import { ACCURACY } from "../tolerance.ts";
import type { HollowLeft } from "./hollow-left.ts";
import { mm, placeOfCavity } from "./say.ts";

/**
 * What is wrong with a hollow: passes that keep off its surface, ridges higher than stated.
 * @param slack how far the controller may round off corners, mm: allowed beside the accuracy
 */
export function hollowFindings(cavity: TargetCavity, left: HollowLeft, slack: number): readonly Finding[] {
  const place = { ...placeOfCavity(cavity), ...(left.at === undefined ? {} : { at: left.at }) };
  if (left.nothing) {
    return [
      {
        grade: "refuse",
        code: "proof-wood-left",
        place,
        what: "nothing goes round the walls and floor of this hollow",
        why: "no level pass by a bit that its corners accept follows its outline all the way",
        mend: "make the program again; if it comes back, use a narrower round-nosed bit",
      },
    ];
  }
  const touch = ACCURACY + slack;
  const ridge = HOLLOW_RIDGE + touch;
  if (left.ridge + left.bound > ridge) {
    return [
      {
        grade: "refuse",
        code: "proof-wood-left",
        place,
        what: `the hollow keeps a ridge of ${mm(left.ridge)}`,
        why: "a pass is missing there, or keeps off the surface",
        mend: "make the program again",
        measured: { value: left.ridge, bound: left.bound, unit: "mm" },
        limit: { value: ridge, unit: "mm", from: "the ridges that the sheet states for hollows, and the accuracy" },
      },
    ];
  }
  if (left.touch + left.bound <= touch) return [];
  return [
    {
      grade: "refuse",
      code: "proof-wood-left",
      place,
      what: `a pass keeps ${mm(left.touch)} off the hollow's surface`,
      why: "it stands too high there, or too far from the wall",
      mend: "make the program again",
      measured: { value: left.touch, bound: left.bound, unit: "mm" },
      limit: { value: touch, unit: "mm", from: "the accuracy that programs promise" },
    },
  ];
}
