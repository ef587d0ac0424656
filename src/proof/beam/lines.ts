import type { Finding } from "../../finding.ts";
import type { BeamSetUp } from "../../plan/beam-setup.ts";
import { lengthOf, type Segment } from "../../shapes/segment.ts";
import { indexSegments } from "../../shapes/segment-index.ts";
import { ACCURACY } from "../../tolerance.ts";
import type { Figure } from "../proof.ts";
import { mm } from "../say.ts";
import { strayingOf } from "./along.ts";
import { type BeamMeasures, cornerSlack, lateBy, nameOf, placeOfBurn, placeOfMark } from "./case.ts";
import type { FittedMark } from "./fit.ts";
import { countAt, timesAlong } from "./times.ts";

/** Drawn lines against burned ones, both ways, and how often each was burned. */
export function linesBurned(
  setUp: BeamSetUp,
  fitted: FittedMark,
  chains: readonly (readonly Segment[])[],
): BeamMeasures {
  const { placed, burns } = fitted;
  const name = nameOf(placed);
  const findings: Finding[] = [];
  const drawn = chains.flat();
  const index = indexSegments(burns.map((b) => b.burn.curve));
  const allowed = ACCURACY + cornerSlack(setUp) + lateBy(setUp, placed);
  let missed = 0;
  let worst = fitted.off;
  for (const s of drawn) {
    const found = strayingOf(s, index, allowed);
    missed += found.beyond;
    worst = Math.max(worst, Math.min(found.worst, 1e3));
    if (found.beyond === 0) continue;
    findings.push({
      grade: "refuse",
      code: "proof-beam-line-missed",
      place: placeOfMark(placed, found.at),
      what: `part of ${name} is not burned`,
      why: `${mm(found.beyond)} of it have no burned line within ${mm(allowed)}`,
      mend: "make the program again",
      limit: { value: allowed, unit: "mm", from: "the stated accuracy, and what a late beam makes of it" },
    });
  }
  const drawnIndex = indexSegments(drawn);
  for (const b of burns) {
    const over = timesAlong(b.burn.curve, index, (p, t) => placed.setting.passes * countAt(p, t, drawnIndex));
    if (over === undefined || over === 0) continue;
    findings.push(passesFinding(fitted, over, placeOfBurn(b)));
    break;
  }
  const figures: Record<string, Figure> = {
    [`off the ${name}`]: { value: worst, bound: 0.001, unit: "mm" },
    [`not burned of the ${name}`]: { value: missed, bound: 0.002 * drawn.length, unit: "mm" },
    [`length of the ${name}`]: { value: drawn.reduce((sum, s) => sum + lengthOf(s), 0), bound: 0, unit: "mm" },
  };
  return { findings, figures };
}

/** A line is burned more or less often than the setting says. */
export function passesFinding({ placed }: FittedMark, over: number, place: Finding["place"]): Finding {
  const { passes } = placed.setting;
  return {
    grade: "refuse",
    code: "proof-beam-passes",
    place: { ...placeOfMark(placed), ...place },
    what: `a line of the ${nameOf(placed)} is burned ${over > 0 ? "too often" : "too seldom"}`,
    why: `${Math.abs(over)} ${Math.abs(over) === 1 ? "time" : "times"} ${over > 0 ? "more" : "fewer"} than the shop's setting "${placed.setting.effect}" says, ${passes}`,
    mend: "make the program again",
  };
}
