import { describe, expect, it } from "vitest";
import { fitJob } from "../../src/fit/fit-job.ts";
import { readJob } from "../../src/job/read-job.ts";
import { describeWorkpieces } from "../../src/parts/describe.ts";
import { boundsOfInk } from "../../src/parts/marks/ink.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import { unmarked } from "../job/marks.ts";

/** Two drawers side by side above a wide one's place, with marks on their bottoms. */
function cabinet(marks: string, front = ""): string {
  return `title: two drawers
units: mm
${front}case:
  wood: cherry
  side thickness: 15
  divider thickness: 12
  columns: 2
  measured with: calipers
  openings:
    cloves: {width: 142.1, height: 58.5, depth: 205}
    cumin: {width: 130, height: 58.5, depth: 205}
  moisture today: 8 %
drawers:
  fronts: {wood: cherry, thickness: 14}
  sides: {wood: ash, thickness: 9}
  backs: {wood: ash, thickness: 8}
  bottoms:
    wood: plywood
    thickness: 4
    marks:
${marks}
  runners: {wood: hard maple, tall: 9.5, thickness: 4.5}
  front joint: half-blind
  back joint: through
`;
}

const SIGNED = `      - mark: signed
        on: inside
        text: ["{drawer}", "{row}.{column} of {count}"]
        cap height: 5
        centre at: middle, 70 from front edge
        made by: burned line
      - mark: place
        on: inside
        pictogram: own
        width: 24
        centre at: middle
        made by: burned area`;

describe("marks on the bottoms of fitted drawers", () => {
  it("show each drawer its own name and place, midway on a bottom of its own size", () => {
    const job = readJob(cabinet(SIGNED), "job.yaml", () => undefined);
    if (!job.ok) throw new Error(job.findings.map((f) => `${f.place.source?.line}: ${f.what}`).join("\n"));
    const fitted = fitJob(job.value, DEFAULT_SHOP);
    if (!fitted.ok) throw new Error(fitted.findings.map((f) => f.what).join("\n"));
    const made = describeWorkpieces(fitted.value.job);
    if (!made.ok) throw new Error(made.findings.map((f) => f.what).join("\n"));
    const bottoms = made.value.filter((w) => w.name.endsWith("bottom"));
    expect(bottoms.map((b) => b.marks?.map((m) => (m.from.kind === "text" ? m.from.text : m.from)))).toEqual([
      ["cloves\n1.1 of 2", { kind: "pictogram", row: 1, column: 1 }],
      ["cumin\n1.2 of 2", { kind: "pictogram", row: 1, column: 2 }],
    ]);
    expect(bottoms[0]!.size.length).not.toBe(bottoms[1]!.size.length);
    for (const b of bottoms) {
      const [text, place] = b.marks!.map((m) => boundsOfInk(m.ink)!);
      expect((text!.min.x + text!.max.x) / 2).toBeCloseTo(b.size.length / 2, 9);
      expect((place!.min.x + place!.max.x) / 2).toBeCloseTo(b.size.length / 2, 9);
      expect((place!.min.y + place!.max.y) / 2).toBeCloseTo(b.size.width / 2, 9);
      expect(b.labels[b.marks![0]!.face]).toBe("inside");
    }
  });

  it("take their places from a front view where the job has one", () => {
    const front = "front view:\n  - [cloves, cumin]\n  - [door, door]\n";
    const job = readJob(cabinet(SIGNED, front), "job.yaml", () => undefined);
    const marks = job.ok ? job.value.cabinet?.drawers?.bottoms.marks : undefined;
    const place = marks?.[1]?.each?.[0];
    // The door's row is drawn too: three levels of line, the last of the door.
    expect(place?.kind === "lines and areas" && place.chains.length).toBe(6);
  });

  it.each([
    ["a mark that is no mark", ["feature-kind-unsaid"], "      - ¦hole: x\n        diameter: 4"],
    ["marks that are no list", ["kind-wrong"], "      ¦mark: signed\n      text: oak"],
    [
      "two of one name",
      ["name-twice"],
      `${SIGNED}\n${SIGNED.replace("mark: signed", "mark: ¦signed")
        .slice(0, SIGNED.indexOf("      - mark: place") + 1)
        .trimEnd()}`,
    ],
    ["a face that a bottom hasn't", ["face-unknown"], SIGNED.replace("on: inside", "on: ¦outside")],
  ] as const)("refuse %s once, where it stands", (_, codes, marks) => {
    const { text, marks: places } = unmarked(cabinet(marks));
    const job = readJob(text, "job.yaml", () => undefined);
    expect(job.findings.map((f) => `${f.code} ${f.place.source?.line}:${f.place.source?.column}`)).toEqual(
      codes.map((c, i) => `${c} ${places[i]}`),
    );
  });
});
