import type { Finding } from "../../finding.ts";
import type { BeamSetUp } from "../../plan/beam-setup.ts";
import { distance } from "../../shapes/point.ts";
import type { Region } from "../../shapes/region.ts";
import { lengthOf } from "../../shapes/segment.ts";
import { indexSegments } from "../../shapes/segment-index.ts";
import type { Figure } from "../proof.ts";
import { mm } from "../say.ts";
import { strayingOf } from "./along.ts";
import { type BeamMeasures, cornerSlack, lateBy, nameOf, placeOfBurn, placeOfMark } from "./case.ts";
import { cornersOf } from "./corners.ts";
import { type FittedMark, KEPT_SIDE, kerfOf } from "./fit.ts";
import { passesFinding } from "./lines.ts";
import { timesAlong } from "./times.ts";

/**
 * A cut-through against its outline: all along, the cut stands to the kept side. Where a burn lies was judged before; here,
 * that it goes all round. Into a corner of the kept side that points into the wood the beam cannot follow: it leaves a
 * rounding of half a kerf.
 */
export function cutThrough(
  setUp: BeamSetUp,
  fitted: FittedMark,
  outline: Region,
  keep: "inside" | "outside",
): BeamMeasures {
  const { placed, burns } = fitted;
  const name = nameOf(placed);
  const kerf = kerfOf(setUp, placed);
  const index = indexSegments(burns.map((b) => b.burn.curve));
  const allowed = kerf / 2 + KEPT_SIDE + cornerSlack(setUp) + lateBy(setUp, placed);
  const inward = cornersOf(outline, keep).hollow;
  const findings: Finding[] = [];
  let uncut = 0;
  for (const s of outline.loops.flat()) {
    const found = strayingOf(s, index, allowed, (p, half) =>
      inward.some((c) => distance(p, c) + half <= kerf + KEPT_SIDE),
    );
    uncut += found.beyond;
    if (found.beyond === 0) continue;
    findings.push({
      grade: "refuse",
      code: "proof-beam-uncut",
      place: placeOfMark(placed, found.at),
      what: `the ${name} is not cut all round`,
      why: `beside ${mm(found.beyond)} of its outline there is no cut`,
      mend: "make the program again",
    });
  }
  for (const b of burns) {
    const over = timesAlong(b.burn.curve, index, () => placed.setting.passes);
    if (over === undefined || over === 0) continue;
    findings.push(passesFinding(fitted, over, placeOfBurn(b)));
    break;
  }
  if (placed.setting.kerf === undefined) {
    findings.push({
      grade: "caution",
      code: "proof-beam-kerf-unmeasured",
      place: placeOfMark(placed),
      what: `how wide the beam cuts for the ${name} was not measured`,
      why: `the width of a burned line, ${mm(kerf)}, stands in for it`,
      mend: "burn a kerf card, and write the kerf with the setting",
    });
  }
  findings.push({
    grade: "note",
    code: "proof-beam-falls-free",
    place: placeOfMark(placed),
    what: `what the ${name} frees drops or tilts as the cut closes`,
    why: "a piece that tilts up can be struck by the head, and one that drops can burn on beneath",
    mend: "support it from below, and look before you reach in",
  });
  const figures: Record<string, Figure> = {
    [`off the kept side: ${name}`]: { value: fitted.off, bound: 0.002, unit: "mm" },
    [`not cut of the ${name}`]: { value: uncut, bound: 0.002, unit: "mm" },
    [`length of the ${name}`]: {
      value: outline.loops.flat().reduce((sum, s) => sum + lengthOf(s), 0),
      bound: 0,
      unit: "mm",
    },
  };
  return { findings, figures };
}
