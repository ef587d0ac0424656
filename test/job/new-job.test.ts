import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readAnswer } from "../../src/job/new-answer.ts";
import {
  type NewFeature,
  type NewJobAnswers,
  newFeatureQuestions,
  newJobQuestions,
  writeJob,
} from "../../src/job/new-job.ts";
import { readJob } from "../../src/job/read-job.ts";

const ANSWERS: NewJobAnswers = {
  title: "A till: spices #1",
  unit: "mm",
  wood: "ash",
  part: "left side",
  length: 190,
  width: 57,
  thickness: 9,
  features: [
    {
      kind: "groove",
      name: "runner",
      from: "lower edge",
      nearEdgeAt: 24,
      width: 9.9,
      depth: 3.5,
      stop: 12,
      bearingWall: "upper edge",
    },
    { kind: "rabbet", name: "back", along: "second end", width: 6, depth: 4 },
    { kind: "recess", name: "finger room", length: 40, width: 14, depth: 4, fromFirstEnd: 95, fromLowerEdge: 45 },
    { kind: "hole", name: "hole", diameter: 4, fromFirstEnd: 20, fromLowerEdge: 10 },
    { kind: "hole", name: "hole", diameter: 4, depth: 5, fromFirstEnd: 60, fromLowerEdge: 10 },
  ],
};

function read(text: string) {
  const r = readJob(text, "new.yaml", () => undefined);
  if (!r.ok) throw new Error(`${r.findings.map((f) => `${f.place.source?.line}: ${f.what}`).join("\n")}\n${text}`);
  return r.value;
}

describe("a job written from answers", () => {
  it("is read back as answered", () => {
    const job = read(writeJob(ANSWERS));
    expect(job).toMatchObject({ title: ANSWERS.title, unit: "mm" });
    expect(job.parts[0]).toMatchObject({
      name: "left side",
      wood: "ash",
      size: { length: 190, width: 57, thickness: 9 },
    });
    expect(job.parts[0]!.features).toMatchObject([
      {
        kind: "groove",
        name: "runner",
        width: 9.9,
        bearingWall: "upper edge",
        run: { from: { distance: 24, reach: "near edge" }, stops: { first: 12 } },
      },
      { kind: "rabbet", along: "second end", width: 6 },
      { kind: "recess", shape: { kind: "slot", length: 40, width: 14 } },
      { kind: "hole", name: "hole", depth: { kind: "through" } },
      { kind: "hole", name: "hole 2", depth: { kind: "to", depth: 5 } },
    ]);
  });

  it("is commented, in shop words", () => {
    const text = writeJob(ANSWERS);
    expect(text.split("\n").filter((l) => l.includes("#")).length).toBeGreaterThan(10);
    expect(text).not.toMatch(/yaml|string|null|undefined/i);
  });

  it("whatever the names and sizes are", () => {
    const word = fc.string({ unit: "grapheme", minLength: 1, maxLength: 24 }).filter((s) => {
      const a = readAnswer(newJobQuestions()[0]!, s, "mm");
      return a.ok && s.trim() !== "" && !/^(?:__proto__|constructor|prototype|toString|valueOf)$/i.test(s.trim());
    });
    const size = fc.oneof(
      fc.integer({ min: 1, max: 500_000 }).map((um) => um / 1000),
      fc.integer({ min: 1, max: 640 }).map((n) => (n * 254) / 640),
    );
    const feature: fc.Arbitrary<NewFeature> = fc.oneof(
      fc.record({
        kind: fc.constant("rabbet" as const),
        name: word,
        along: fc.constantFrom("upper edge" as const, "first end" as const),
        width: size,
        depth: size,
      }),
      fc.record({
        kind: fc.constant("hole" as const),
        name: word,
        diameter: size,
        fromFirstEnd: size,
        fromLowerEdge: size,
      }),
      fc
        .record({
          kind: fc.constant("groove" as const),
          name: word,
          from: fc.constantFrom("lower edge" as const, "first end" as const),
          nearEdgeAt: size,
          width: size,
          depth: size,
          stop: size,
          bearingWall: fc.constant(undefined),
        })
        .map(({ bearingWall: _, ...f }) => ({ ...f, name: f.name.replace(/runner/gi, "x") })),
    );
    fc.assert(
      fc.property(
        word,
        word,
        word,
        fc.constantFrom("mm" as const, "in" as const),
        size,
        size,
        size,
        fc.array(feature, { maxLength: 3 }),
        (title, part, wood, unit, length, width, thickness, features) => {
          const job = read(writeJob({ title, part, wood, unit, length, width, thickness, features }));
          expect(job.title).toBe(title.trim());
          expect(job.unit).toBe(unit);
          expect(job.parts[0]).toMatchObject({ wood: wood.trim(), size: { length, width, thickness } });
          expect(job.parts[0]!.name).toBe(part.trim().replace(/\s+/g, " "));
          expect(job.parts[0]!.features.map((f) => f.kind)).toEqual(features.map((f) => f.kind));
        },
      ),
      { numRuns: 120 },
    );
  });
});

describe("the questions", () => {
  it("ask for everything that a job is written from", () => {
    const keys = newJobQuestions().map((q) => q.key);
    for (const key of ["title", "unit", "wood", "part", "length", "width", "thickness"]) expect(keys).toContain(key);
    for (const f of ANSWERS.features) {
      const asked = newFeatureQuestions(f.kind).map((q) => q.key);
      for (const key of Object.keys(f)) if (key !== "kind") expect(asked).toContain(key);
    }
    for (const q of [...newJobQuestions(), ...newFeatureQuestions("groove"), ...newFeatureQuestions("hole")]) {
      expect(q.text).toMatch(/[?)]$/);
      if (q.standard !== undefined) expect(readAnswer(q, "", "mm").ok).toBe(true);
    }
  });

  it("read answers through the units, and say what is wrong", () => {
    const long = newJobQuestions().find((q) => q.key === "length")!;
    expect(readAnswer(long, '7 1/2"', "mm")).toEqual({ ok: true, value: 190.5 });
    expect(readAnswer(long, "7 1/2", "in")).toEqual({ ok: true, value: 190.5 });
    for (const wrong of ["3/4", "-3", "0", "", "long", "142,3", "20 m"]) {
      const a = readAnswer(long, wrong, "mm");
      expect(a.ok).toBe(false);
      if (!a.ok) expect(a.say.length).toBeGreaterThan(5);
    }
    const unit = newJobQuestions().find((q) => q.key === "unit")!;
    expect(readAnswer(unit, "IN", "mm")).toEqual({ ok: true, value: "in" });
    expect(readAnswer(unit, "", "mm").ok).toBe(false);
    const stop = newFeatureQuestions("groove").find((q) => q.key === "stop")!;
    expect(readAnswer(stop, "", "mm")).toEqual({ ok: true, value: undefined });
  });
});
