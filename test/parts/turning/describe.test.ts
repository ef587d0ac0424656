import { describe, expect, it } from "vitest";
import { readJob } from "../../../src/job/read-job.ts";
import { describeWorkpieces } from "../../../src/parts/describe.ts";
import { lossPerHalf, solidOf } from "../../../src/parts/turned-piece.ts";
import { endForEndDifference } from "../../../src/parts/turning/alike.ts";
import { describeTurned } from "../../../src/parts/turning/describe-turned.ts";
import { volumeOfMeridian } from "../../../src/shapes/meridian-measures.ts";
import { topAt } from "../../../src/shapes/turned-solid.ts";
import { PULLS, pieces, readPulls } from "./sample.ts";

describe("the two pulls of the sample", () => {
  const [barrel, waisted] = pieces();

  it("fill their blanks with elements in the trade's names", () => {
    expect(barrel!.elements.map((e) => `${e.kind} ${e.from}-${e.to}`)).toEqual([
      "parting 22-27",
      "fillet 27-30",
      "bead 30-38",
      "fillet 38-40",
      "ogee 40-52",
      "cylinder 52-95",
      "cylinder 95-138",
      "ogee 138-150",
      "fillet 150-152",
      "bead 152-160",
      "fillet 160-163",
      "parting 163-168",
    ]);
    expect(barrel!.squares).toEqual([
      { from: 0, to: 22, side: 60 },
      { from: 168, to: 190, side: 60 },
    ]);
    expect(barrel!.waste).toEqual([
      { from: 22, to: 27 },
      { from: 163, to: 168 },
    ]);
    expect(barrel!.pulls).toEqual([{ from: 27, to: 163 }]);
    expect(barrel!.elements[2]).toMatchObject({ fromDiameter: 38, toDiameter: 38, least: 38, most: 46 });
    expect(waisted!.elements.map((e) => e.name)).toEqual([
      "waste at the end",
      "foot",
      "cylinder",
      "cove",
      "vee",
      "taper",
      "bead",
      "tenon",
      "waste at the end",
    ]);
    expect(volumeOfMeridian(barrel!.meridian)).toBeLessThan(Math.PI * 30 * 30 * 146);
  });

  it("know what each half loses, and how well their radius is known", () => {
    expect(lossPerHalf(barrel!.split!)).toEqual({ least: 1.1, most: 1.6 });
    expect(lossPerHalf(waisted!.split!)).toEqual({ least: 0.2, most: 0.2 });
    expect([barrel!.radiusError.value, waisted!.radiusError.value]).toEqual([0.01, 0.5]);
  });

  it("are alike end for end, or not", () => {
    expect(endForEndDifference(barrel!.meridian, barrel!.squares, 190)).toBeLessThan(1e-9);
    expect(endForEndDifference(waisted!.meridian, waisted!.squares, 170)).toBeGreaterThan(1);
  });

  it("give the router a whole blank with its crown up, and two halves with their flats up", () => {
    const d = describeWorkpieces(readPulls());
    if (!d.ok) throw new Error("the sample is right");
    expect(d.value.map((w) => [w.name, w.size, w.copies ?? 1])).toEqual([
      ["barrel pull", { length: 190, width: 60, thickness: 60 }, 1],
      ["waisted pull, first half", { length: 170, width: 60, thickness: 29.8 }, 1],
      ["waisted pull, second half", { length: 170, width: 60, thickness: 29.8 }, 1],
    ]);
    const [whole, first] = d.value;
    expect(whole!.round).toEqual(solidOf(barrel!));
    expect(whole!.labels).toMatchObject({ face: "crown", "upper edge": "90 degrees", back: "180 degrees" });
    expect(topAt(whole!.round!, 10, 5)).toBe(60);
    expect(topAt(whole!.round!, 95, 30)).toBe(56);
    expect(topAt(first!.round!, 71, 30)).toBe(29.8);
    expect(d.findings.map((f) => f.code)).toEqual([
      "turned-shoulders",
      "turned-shoulders",
      "turned-unmeasured",
      "finger-room-shallow",
      "turned-halves-differ",
    ]);
  });

  it("come out the same every time", () => {
    expect(JSON.stringify(describeWorkpieces(readPulls()))).toBe(JSON.stringify(describeWorkpieces(readPulls())));
  });
});

describe("pulls that cannot be", () => {
  const refused = (from: string, to: string): readonly string[] => {
    if (!PULLS.includes(from)) throw new Error(`the sample has no "${from}"`);
    const job = readJob(PULLS.replace(from, to), "pulls.yaml", () => undefined);
    if (!job.ok) throw new Error(job.findings.map((f) => f.what).join("\n"));
    const d = describeTurned(job.value);
    expect(d.ok).toBe(!d.findings.some((f) => f.grade === "refuse"));
    return d.findings
      .filter((f) => f.grade === "refuse")
      .map((f) => {
        const s = f.place.source!;
        return `${f.code}: ${s.text.slice(s.column - 1, s.column - 1 + s.length)}`;
      });
  };

  it.each([
    [
      "a bead deeper than half round",
      "diameter: 46, from: 38",
      "diameter: 50, from: 38",
      ["turned-shape: = bead length"],
    ],
    [
      "an ogee too short",
      "ogee: {length: 12, from: 42, to: 52}",
      "ogee: {length: 4, from: 42, to: 52}",
      ["turned-shape: 4"],
    ],
    [
      "an element thicker than the blank",
      "cylinder: {length: 1 share, diameter: 52}",
      "cylinder: {length: 1 share, diameter: 62}",
      ["turned-too-thick: 62"],
    ],
    [
      "a vee below the axis",
      "vee: {length: 3, diameter: 52, depth: 1.2}",
      "vee: {length: 3, diameter: 52, bottom: 0.001 mm}",
      [],
    ],
    [
      "a tenon that doesn't fit",
      "tenon: {length: 12, diameter: 44}",
      "tenon: {length: 60, diameter: 44}",
      ["turned-lengths: "],
    ],
    [
      "a taper nobody knows the end of",
      "- taper: {length: 1 share, from: 52, to: 44}\n          - bead: {length: 9, diameter: 48, from: 44}",
      "- taper: {length: 1 share, from: 52}\n          - taper: {length: 9, to: 44}",
      ["turned-end-unknown: taper", "turned-end-unknown: taper"],
    ],
    ["too much room behind", "room behind: 16", "room behind: 26", ["finger-room-shape: 26"]],
    ["too long a hook", "hook: 11", "hook: 60", ["finger-room-shape: 60"]],
    ["room for a foot", "width: 58", "width: 158", ["finger-room-off-the-wood: 158"]],
    [
      "a room at the end",
      "centre at: 71 from first end",
      "centre at: 25 from first end",
      ["finger-room-off-the-wood: 25 from first end"],
    ],
    ["a rounding that doesn't fit", "inside radius: 3", "inside radius: 13", ["finger-room-shape: 13"]],
    ["no hook at all", "        hook: 11\n", "", ["finger-room-incomplete: finger room"]],
  ])("%s", (_, from, to, wanted) => {
    const found = refused(from, to);
    expect(found.map((f, i) => (wanted[i]?.endsWith(": ") ? f.slice(0, wanted[i]!.length) : f))).toEqual(wanted);
  });

  it("tell independent mistakes of both together", () => {
    const text = PULLS.replace("hook: 11", "hook: 60").replace("{length: 3, diameter: 52", "{length: 3, diameter: 70");
    const job = readJob(text, "pulls.yaml", () => undefined);
    if (!job.ok) throw new Error("only parts can tell");
    const d = describeTurned(job.value);
    expect(d.findings.filter((f) => f.grade === "refuse").map((f) => f.code)).toEqual([
      "finger-room-shape",
      "turned-too-thick",
    ]);
  });
});
