import { describe, expect, it } from "vitest";
import { refuses } from "../../src/finding.ts";
import { prove } from "../../src/proof/prove.ts";
import { roundedRectangle } from "../../src/shapes/outlines.ts";
import { plantFaults, tryFaults } from "./faults.ts";
import { bit, cavity, programText, rectangleRings, setUpOf, shop, targetOf } from "./fixture.ts";

const c = cavity({ section: roundedRectangle({ x: 45, y: 37.5 }, 30, 24, 3, 0), zTo: -5 });
const setUp = setUpOf(targetOf([c]), [bit("6 mm flat")]);
const moves = [-2.5, -5].flatMap((z) => rectangleRings({ x: 30, y: 25.5 }, { x: 60, y: 49.5 }, 3, z));
const text = programText(moves);

/** Reasons that are good ones: the part comes out right, and nothing breaks. */
const GOOD_REASONS = [
  "another feed, within what bit, wood and machine stand",
  "another speed, within what bit and machine stand",
  "a longer wait than needed",
  "another way through waste: the wood comes out the same",
];

describe("planted faults", () => {
  it("the right program passes", () => {
    expect(refuses(prove({ setUp, text, file: "a.ngc", shop }).findings)).toBe(false);
  });

  it("are told, unless the wood comes out the same and nothing is strained", () => {
    const verdicts = tryFaults(setUp, "a.ngc", text, shop, plantFaults(text, 60, 7));
    expect(verdicts.harmful).toBeGreaterThan(30);
    for (const { why, fault } of verdicts.letThrough) {
      expect(GOOD_REASONS, `line ${fault.line}: ${fault.was} became ${fault.is}`).toContain(why);
    }
    expect(verdicts.caught / verdicts.harmful).toBeGreaterThan(0.5);
  });
});
