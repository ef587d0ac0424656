import type { Finding } from "../finding.ts";
import type { OpeningDescription } from "../job/drawers.ts";
import type { Mouth } from "./fit-plan.ts";
import { falling, quadOf, rising, uprightWithin } from "./quad.ts";
import { fitFinding, mmText, PRACTICE, type Said } from "./said.ts";
import { usualTolerance } from "./sureness-instruments.ts";

/** An opening narrows, winds or leans by less than this without a word, mm: common practice, no source. */
const WORTH_A_WORD = { narrows: 0.1, wind: 0.3, lean: 0.3 };

/** The mouth of an opening as its readings have it; absent when no four-sided shape has them. */
export function mouthOf(o: OpeningDescription): { readonly mouth?: Mouth; readonly findings: readonly Finding[] } {
  const said = saidOf(o);
  const { width, height } = o;
  const at = width.mouth.value;
  const edges = {
    bottom: width.mouthBottom?.value ?? at,
    top: width.mouthTop?.value ?? at,
    left: height.left.value,
    right: height.right.value,
  };
  const d = o.diagonals;
  const difference = d === undefined ? 0 : d.rising.value - d.falling.value;
  const corners = quadOf(edges, difference);
  if (corners === undefined) {
    const finding = fitFinding(said, "refuse", "fit-mouth-impossible", {
      what: `no opening has these diagonals with these widths and heights`,
      why: `they differ by ${mmText(Math.abs(difference))}, and the corners would lean by more than 20 degrees`,
      mend: "measure both diagonals again, from corner to corner of the mouth",
      keys: ["diagonals", "width"],
    });
    return { findings: [finding] };
  }
  const middle = height.middle?.value ?? Number.POSITIVE_INFINITY;
  const sag = Math.max(0, (edges.left + edges.right) / 2 - middle);
  const widths = [
    { at: "mouth" as const, width: at },
    ...(width.middle ? [{ at: "middle" as const, width: width.middle.value }] : []),
    ...(width.back ? [{ at: "back" as const, width: width.back.value }] : []),
  ];
  const narrowest = widths.reduce((a, b) => (b.width < a.width ? b : a));
  const upright = uprightWithin(corners, 0, Math.min(edges.left, edges.right));
  const contradiction =
    d === undefined ? undefined : (rising(corners) + falling(corners) - d.rising.value - d.falling.value) / 2;
  const mouth: Mouth = {
    corners,
    squareAssumed: d === undefined,
    sag,
    // Where upper and lower width differ from the one at runner height, the lean counts from that one.
    lean: Math.max(0, at - (upright.right - upright.left)),
    ...(contradiction !== undefined && { contradiction }),
    narrowest,
    depth: o.depth.value,
  };
  return { mouth, findings: mouthFindings(o, said, mouth) };
}

/** Where an opening's values stand in the file. */
export function saidOf(o: OpeningDescription): Said {
  return {
    part: o.name,
    source: o.source,
    sources: {
      width: o.width.mouth.source,
      "width at the back": o.width.back?.source ?? o.width.mouth.source,
      height: o.height.left.source,
      depth: o.depth.source,
      ...(o.diagonals && { diagonals: o.diagonals.rising.source }),
      ...(o.wind && { wind: o.wind.source }),
    },
  };
}

function mouthFindings(o: OpeningDescription, said: Said, mouth: Mouth): readonly Finding[] {
  const out: Finding[] = [];
  const back = o.width.back?.value;
  const narrows = back === undefined ? 0 : o.width.mouth.value - back;
  if (narrows > WORTH_A_WORD.narrows) {
    out.push(
      fitFinding(
        said,
        "caution",
        "fit-narrower-at-back",
        {
          what: "this opening is narrower at the back than at the mouth",
          why: `${mmText(o.width.mouth.value)} at the mouth, ${mmText(back!)} at the back: the box follows the back, and has ${mmText(narrows)} too much room at the mouth`,
          mend: "ease the case at the back if you can, and measure again",
          keys: ["width at the back"],
        },
        { found: narrows, limit: WORTH_A_WORD.narrows, from: PRACTICE },
      ),
    );
  }
  const wind = o.wind?.value ?? 0;
  if (wind > WORTH_A_WORD.wind) {
    out.push(
      fitFinding(
        said,
        "caution",
        "fit-mouth-winds",
        {
          what: "the mouth of this opening is in wind",
          why: `one corner stands ${mmText(wind)} out of the plane of the others; a flat front will do so too`,
          mend: "plane the case's front edges flat, or plane the front's face to them when it is fitted",
          keys: ["wind"],
        },
        { found: wind, limit: WORTH_A_WORD.wind, from: PRACTICE },
      ),
    );
  }
  if (mouth.lean > WORTH_A_WORD.lean) {
    out.push(
      fitFinding(
        said,
        "caution",
        "fit-mouth-leans",
        {
          what: "this opening is out of square, and the box loses width by it",
          why: `an upright box has ${mmText(mouth.lean)} less than the width measured`,
          mend: "measure the diagonals again; if they are right, the box is planned so much narrower",
          keys: ["diagonals", "width"],
        },
        { found: mouth.lean, limit: WORTH_A_WORD.lean, from: PRACTICE },
      ),
    );
  }
  const tolerance = 2 * usualTolerance(o.with).plusMinus;
  if (Math.abs(mouth.contradiction ?? 0) > tolerance) {
    out.push(
      fitFinding(
        said,
        "caution",
        "fit-readings-disagree",
        {
          what: "the diagonals of this opening don't agree with its width and height",
          why: `with those widths and heights they would be ${mmText(Math.abs(mouth.contradiction!))} ${mouth.contradiction! > 0 ? "longer" : "shorter"}`,
          mend: "one of the readings is a slip: measure width, height and both diagonals again",
          keys: ["diagonals"],
        },
        { found: Math.abs(mouth.contradiction!), limit: tolerance, from: PRACTICE },
      ),
    );
  }
  return out;
}
