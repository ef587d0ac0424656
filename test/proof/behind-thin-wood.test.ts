import { describe, expect, it } from "vitest";
import { makeAll } from "../../src/pipeline.ts";
import { textsOf } from "../pipeline/texts.ts";

/** A sloped slot close to the part's own edge: the outline's cutter passes behind the thin wood between the two. */
const JOB = `title: thin
units: mm
shop: shop.yaml
parts:
  board:
    blank: {wood: ash, length: 150, width: 100, thickness: 14}
    held by: tape
    features:
      - recess: room
        shape: slot
        length: 38.5
        width: 8
        centre at: 60 from first end, 4.7 from lower edge
        depth: 9
        wall: sloped 6 deg
      - outline: shape
        side: outside
        corners: sharp
        hold by: 3 tabs, 8 wide, 1.5 high
boards:
  sheet:
    blank: {wood: ash, length: 190, width: 140, thickness: 14}
    held by: tape
    places:
      - {part: board, at: "20 from first end, 20 from lower edge"}
`;

describe("a cutter behind thin wood", () => {
  it("is not charged with a lean that leads away from it", () => {
    const made = makeAll(textsOf(JOB));
    expect(made.findings.filter((f) => f.grade === "refuse").map((f) => `${f.code}: ${f.what}`)).toEqual([]);
  });
});
