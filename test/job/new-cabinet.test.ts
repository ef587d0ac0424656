import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { planFit } from "../../src/fit/plan-fit.ts";
import { readAnswer } from "../../src/job/new-answer.ts";
import {
  caseQuestions,
  drawerQuestions,
  type NewCabinetAnswers,
  openingQuestions,
  runnerQuestions,
  writeCabinet,
} from "../../src/job/new-cabinet.ts";
import { readJob } from "../../src/job/read-job.ts";
import { readShop } from "../../src/shop/read-shop.ts";

/** What comes of pressing Enter at every question that offers something. */
function standards(unit: "mm" | "in", kind: string): Record<string, unknown> {
  const questions = [...caseQuestions(1, unit), ...drawerQuestions(unit), ...runnerQuestions(kind, unit)];
  return Object.fromEntries(
    questions.flatMap((q) => {
      const read = readAnswer(q, q.key === "sideThickness" ? "15 mm" : "", unit);
      if (!read.ok) throw new Error(`${q.key}: ${read.say}`);
      return read.value === undefined ? [] : [[q.key, read.value]];
    }),
  );
}

function answers(unit: "mm" | "in", more: Partial<NewCabinetAnswers> = {}): NewCabinetAnswers {
  const kind = more.runnerKind ?? "side-hung";
  return {
    title: "Cabinet: of #1",
    unit,
    columns: 2,
    dividerThickness: 12,
    openings: [
      { name: "salt", width: [142.3, 142.1, 142.4], height: [58.6, 58.5], depth: [205, 204.9, 205.1] },
      { name: "salt", width: [142], height: [58.5], depth: [205], diagonals: [153.6, 153.5] },
    ],
    ...standards(unit, kind),
    ...more,
  } as NewCabinetAnswers;
}

function read(text: string) {
  const r = readJob(text, "new.yaml", () => undefined);
  if (!r.ok) throw new Error(`${r.findings.map((f) => `${f.place.source?.line}: ${f.what}`).join("\n")}\n${text}`);
  return r.value;
}

const shop = readShop(undefined, "defaults");

describe("a cabinet written from answers", () => {
  it("is read back as measured, with one name for each opening", () => {
    const job = read(writeCabinet(answers("mm", { moisture: 8.5 })));
    expect(job.title).toBe("Cabinet: of #1");
    const [one, two] = job.cabinet!.case.openings;
    expect([one!.name, two!.name]).toEqual(["salt", "salt 2"]);
    expect(one!.width).toMatchObject({ mouth: { value: 142.3 }, middle: { value: 142.1 }, back: { value: 142.4 } });
    expect(one!.height).toMatchObject({ left: { value: 58.6 }, right: { value: 58.5 } });
    expect(one!.depth.value).toBe(204.9);
    expect(two!.diagonals).toMatchObject({ rising: { value: 153.6 }, falling: { value: 153.5 } });
    expect(job.cabinet!.case.seasons.today).toMatchObject({ kind: "meter", percent: 8.5 });
  });

  it("fits with all that is offered, in either unit, whatever is chosen", () => {
    const choices = fc.record({
      unit: fc.constantFrom("mm" as const, "in" as const),
      set: fc.constantFrom("inset", "lipped"),
      frontJoint: fc.constantFrom("half-blind", "rabbet", "butt"),
      backJoint: fc.constantFrom("through", "half-blind", "housing", "rabbet", "butt"),
      bottomKind: fc.constantFrom("panel", "solid"),
      runnerKind: fc.constantFrom("side-hung", "below"),
      pulls: fc.constantFrom("none", "turned"),
      signs: fc.constantFrom("no", "yes"),
      width: fc.integer({ min: 120_000, max: 400_000 }).map((um) => um / 1000),
      height: fc.integer({ min: 56_000, max: 130_000 }).map((um) => um / 1000),
      depth: fc.integer({ min: 180_000, max: 400_000 }).map((um) => um / 1000),
    });
    fc.assert(
      fc.property(choices, ({ unit, width, height, depth, ...more }) => {
        const opening = { name: "one", width: [width], height: [height], depth: [depth] };
        const bottom = more.bottomKind === "solid" ? { bottomWood: "cherry" } : {};
        const job = read(
          writeCabinet(
            answers(unit, { ...more, ...bottom, moisture: 9, openings: [opening, { ...opening, name: "two" }] }),
          ),
        );
        expect(job.cabinet!.case.openings[0]!.width.mouth.value).toBe(width);
        expect(job.turned?.length ?? 0).toBe(more.pulls === "turned" ? 1 : 0);
        if (!shop.ok) throw new Error("the built-in shop is wrong");
        const fit = planFit(job, shop.value);
        expect(fit.findings.filter((f) => f.grade === "refuse").map((f) => `${f.what}: ${f.why}`)).toEqual([]);
      }),
      { numRuns: 25 },
    );
  });

  it("takes any name without changing the file's meaning", () => {
    const name = fc
      .string({ minLength: 1, maxLength: 40 })
      .filter((s) => readAnswer(openingQuestions(1, 1, 1)[0]!, s, "mm").ok);
    fc.assert(
      fc.property(name, name, (title, opening) => {
        const said = (s: string): string => s.trim() || "x";
        const text = writeCabinet(
          answers("mm", {
            title: said(title),
            openings: [
              { name: said(opening), width: [142], height: [58], depth: [205] },
              { name: "other one", width: [142], height: [58], depth: [205] },
            ],
          }),
        );
        const r = readJob(text, "new.yaml", () => undefined);
        const wrong = r.findings.filter((f) => f.grade === "refuse" && !["key-unknown", "name-twice"].includes(f.code));
        expect(wrong.map((f) => f.what)).toEqual([]);
      }),
      { numRuns: 15 },
    );
  });
});

describe("answers from the measuring sheet", () => {
  const [, width, , , diagonals] = openingQuestions(1, 1, 1);

  it("are one reading or as many as there are places, commas and spaces between", () => {
    expect(readAnswer(width!, "142.3, 142.1, 142.4", "mm")).toEqual({ ok: true, value: [142.3, 142.1, 142.4] });
    expect(readAnswer(width!, "5 5/8; 5 5/8; 5 21/32", "in")).toMatchObject({ ok: true });
    expect(readAnswer(width!, "142.3, 142.1", "mm")).toEqual({
      ok: false,
      say: "1 or 3 sizes, please, with a comma and a space between",
    });
  });

  it("are asked for again where a digit slipped or a comma stands for a point", () => {
    expect(readAnswer(width!, "142.3, 124.1, 142.4", "mm")).toMatchObject({
      ok: false,
      say: expect.stringContaining("slipped"),
    });
    expect(readAnswer(width!, "142,3", "mm").ok).toBe(false);
    expect(readAnswer(diagonals!, "153.9, 150.1", "mm")).toEqual({ ok: true, value: [153.9, 150.1] });
    expect(readAnswer(diagonals!, "", "mm")).toEqual({ ok: true, value: undefined });
  });

  it("are whole numbers and percents where those are asked", () => {
    const moisture = caseQuestions(1, "mm").find((q) => q.key === "moisture")!;
    expect(readAnswer(moisture, "8.5 %", "mm")).toEqual({ ok: true, value: 8.5 });
    expect(readAnswer(moisture, "85", "mm").ok).toBe(false);
    const rows = { key: "rows", text: "", answer: { kind: "count", most: 12 } } as const;
    expect([readAnswer(rows, "3", "mm"), readAnswer(rows, "0", "mm").ok, readAnswer(rows, "2.5", "mm").ok]).toEqual([
      { ok: true, value: 3 },
      false,
      false,
    ]);
  });
});
