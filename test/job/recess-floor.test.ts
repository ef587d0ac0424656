import { describe, expect, it } from "vitest";
import { readJob } from "../../src/job/read-job.ts";

const lines = (more: readonly string[]): string =>
  [
    "title: x",
    "units: mm",
    "parts:",
    "  front:",
    "    blank: {wood: ash, length: 190, width: 57, thickness: 22}",
    "    features:",
    "      - recess: finger room",
    "        shape: slot",
    "        length: 60",
    "        width: 25",
    "        depth: 11",
    "        centre at: 60 from first end, 28 from lower edge",
    ...more.map((l) => `        ${l}`),
    "",
  ].join("\n");

function recess(...more: readonly string[]) {
  const r = readJob(lines(more), "case.yaml", () => undefined);
  if (!r.ok) throw new Error(r.findings.map((f) => f.what).join());
  return r.value.parts[0]!.features[0]!;
}

function finding(...more: readonly string[]) {
  const r = readJob(lines(more), "case.yaml", () => undefined);
  const f = r.findings.find((x) => x.grade === "refuse");
  if (f === undefined) throw new Error("a finding was expected");
  return { code: f.code, line: f.place.source?.line, column: f.place.source?.column, mend: f.mend };
}

describe("the floor and the edge of a recess", () => {
  it.each([
    ["floor: dished 3", { dish: 3 }],
    ["floor: dished by 1/8 in", { dish: 3.175 }],
    ["floor: Hollowed 3 mm", { dish: 3 }],
    ["radius at floor: 4", { floorRadius: 4 }],
    ["edge: eased 1.5", { ease: 1.5 }],
    ["edge: rounded over to 2 mm", { ease: 2 }],
  ])("%s", (line, wanted) => {
    expect(recess(line)).toMatchObject(wanted);
  });

  it("flat and sharp, said or not, are the same", () => {
    expect(recess("floor: flat", "edge: sharp")).toEqual({ ...recess(), sources: expect.anything() });
    expect(recess()).not.toHaveProperty("dish");
    expect(recess()).not.toHaveProperty("ease");
  });

  it.each([
    ["floor: bowl", "word-unknown", 16, 'write "floor: flat" or "floor: dished 3"'],
    ["edge: soft", "word-unknown", 15, 'write "edge: sharp" or "edge: eased 1.5"'],
    ["floor: dished 0", "size-not-positive", undefined, undefined],
    ["edge: eased -1", "size-not-positive", undefined, undefined],
    ["floor: dished 3 deg", undefined, undefined, undefined],
    ["radius at flor: 3", undefined, undefined, undefined],
  ] as const)("refuses %s in its own line", (line, code, column, mend) => {
    const f = finding(line);
    expect(f.line).toBe(13);
    if (code !== undefined) expect(f.code).toBe(code);
    if (column !== undefined) expect(f.column).toBe(column);
    if (mend !== undefined) expect(f.mend).toBe(mend);
    expect(f.mend?.length).toBeGreaterThan(5);
  });
});
