import { describe, expect, it } from "vitest";
import { printFinding } from "../../src/finding.ts";
import { planFit } from "../../src/fit/plan-fit.ts";
import { readJob } from "../../src/job/read-job.ts";
import { describeWorkpieces } from "../../src/parts/describe.ts";
import { readShop } from "../../src/shop/read-shop.ts";
import { unmarked } from "../job/marks.ts";

const BASE = `title: A case with a rail
units: mm
parts:
  right case side:
    blank: {wood: cherry, length: 214, width: 200, thickness: 15}
    mirrored as: left case side
    faces: {face: inside, back: outside, first end: bottom end, second end: top end, lower edge: front edge, upper edge: back edge}
dividers:
  rail:
    wood: cherry
    length: 300
    depth: 190
    thickness: 15
    at: 72
    set back: 4
    into: right case side
`;

const shop = readShop(undefined, "built-in defaults");

function fitted(text: string) {
  const job = readJob(text, "case.yaml", () => undefined);
  if (!job.ok || !shop.ok) return { found: job.findings };
  const fit = planFit(job.value, shop.value);
  return { found: fit.findings, ...(fit.ok && { fit: fit.value }) };
}

describe("a divider on loose tenons", () => {
  const { found, fit } = fitted(BASE);

  it("is written out with its tenons, and its mortises lie opposite each other in both boards", () => {
    expect(found.filter((f) => f.grade === "refuse").map(printFinding)).toEqual([]);
    const names = fit!.job.parts.map((p) => p.name);
    expect(names.slice(0, 2)).toEqual(["right case side", "rail"]);
    expect(names).toHaveLength(3);
    const { joints } = fit!.dividers![0]!;
    const work = describeWorkpieces(fit!.job);
    expect(work.findings.filter((f) => f.grade === "refuse").map(printFinding)).toEqual([]);
    if (!work.ok) return;
    const middles = (name: string) =>
      work.value
        .find((w) => w.name === name)!
        .cavities.map((c) => c.section.loops[0]!.flatMap((s) => [s.from, s.to]))
        .map((ps) => ({
          x: (Math.min(...ps.map((p) => p.x)) + Math.max(...ps.map((p) => p.x))) / 2,
          y: (Math.min(...ps.map((p) => p.y)) + Math.max(...ps.map((p) => p.y))) / 2,
        }));
    const right = middles("right case side");
    const left = middles("left case side");
    expect(right.length).toBe(joints.places.length);
    // A mirror image: as far from its own bottom end, which is now its second; as far from the front edge.
    for (const [i, m] of right.entries()) {
      expect(m.x).toBeCloseTo(72, 6);
      expect(m.y).toBeCloseTo(4 + joints.places[i]!.centre, 6);
      expect(left[i]!.x).toBeCloseTo(214 - 72, 6);
      expect(left[i]!.y).toBeCloseTo(m.y, 6);
    }
    // Each tenon fills both mortises but for the glue's room (Popular Woodworking: 1/16 to 1/8 in).
    const room = joints.depth.board + joints.depth.divider - joints.tenon.length;
    expect(room / 2).toBeGreaterThanOrEqual(1.59);
    expect(room / 2).toBeLessThanOrEqual(3.2);
  });

  const wrong: readonly (readonly [string, string, string, string])[] = [
    ["a board that is none", "into: right case side", "into: ¦case top", "part-unknown"],
    ["a key with a typo", "    at: 72", "    ¦att: 72\n    at: 72", "key-unknown"],
    ["a divider without its length", "    length: 300\n", "", "key-missing"],
    ["a place beyond the board", "at: 72", "at: ¦212", "fit-divider-outside"],
    ["a divider deeper than its board", "depth: 190", "depth: ¦198", "fit-divider-outside"],
    ["a name that a part has", "  rail:", "  right case side:", "fit-name-taken"],
  ];
  it.each(wrong)("tells of %s, once", (_, from, to, code) => {
    const { text, marks } = unmarked(BASE.replace(from, to));
    const refused = fitted(text).found.filter((f) => f.grade === "refuse");
    expect(refused.map((f) => f.code)).toEqual([code]);
    const s = refused[0]!.place.source!;
    if (marks[0] !== undefined) expect(`${s.line}:${s.column}`).toBe(marks[0]);
  });
});
