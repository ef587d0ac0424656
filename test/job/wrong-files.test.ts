import { describe, expect, it } from "vitest";
import { printFinding } from "../../src/finding.ts";
import { readJob } from "../../src/job/read-job.ts";
import { unmarked } from "./marks.ts";
import { WRONG_FILES } from "./wrong-files.ts";
import { WRONG_TURNED } from "./wrong-turned.ts";

const ALL = [...WRONG_FILES, ...WRONG_TURNED];

describe("wrong job files", () => {
  it("are many, and of every sort", () => {
    expect(WRONG_FILES.length).toBeGreaterThanOrEqual(160);
    expect(WRONG_TURNED.length).toBeGreaterThanOrEqual(60);
    expect(new Set(ALL.map((w) => w.name)).size).toBe(ALL.length);
    expect(new Set(WRONG_FILES.flatMap((w) => w.codes)).size).toBeGreaterThanOrEqual(65);
  });

  it.each(ALL.map((w) => [w.name, w] as const))("%s", (_, wrong) => {
    const { text, marks } = unmarked(wrong.text);
    const job = readJob(text, "case.yaml", () => undefined);
    expect(job.ok).toBe(false);
    const found = job.findings.map((f) => `${f.code} ${f.place.source?.line}:${f.place.source?.column}`);
    // A file that lacks two things at one place has one mark for both.
    const wanted = wrong.codes.map((c, i) => `${c} ${marks[Math.min(i, marks.length - 1)]}`);
    expect(found).toEqual(wanted);
    for (const f of job.findings) {
      const s = f.place.source!;
      expect(s.text).toBe(text.split("\n")[s.line - 1]!.replace(/\r$/, ""));
      expect(s.length).toBeGreaterThanOrEqual(1);
      expect(s.column + s.length - 1).toBeLessThanOrEqual(Math.max(1, s.text.length));
      expect(f.what).toMatch(/^[^\n]{3,300}$/);
      expect(f.what.endsWith(".")).toBe(false);
      expect(f.mend?.length ?? 0).toBeGreaterThan(4);
      const printed = printFinding(f);
      expect(printed).not.toMatch(/undefined|\bNaN\b|\[object|Error:|zod|node_modules/);
      expect(printed).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f]/);
    }
  });

  it("asks for a known word where one is near", () => {
    const mends = (text: string): string =>
      readJob(text, "case.yaml", () => undefined)
        .findings.map((f) => f.mend)
        .join("\n");
    const base = "title: x\nunits: mm\nparts:\n  a:\n    blank: {wood: ash, length: 9, width: 9, thickness: 9}\n";
    expect(mends(`${base}    featurs: []\n`)).toContain('do you mean "features"?');
    expect(mends(`${base}    mirored as: b\n`)).toContain('do you mean "mirrored as"?');
    expect(mends(`${base}    refrence edge: lower edge\n`)).toContain('do you mean "reference edge"?');
    expect(mends(base.replace("length", "lenght"))).toContain('do you mean "length"?');
    expect(mends(base.replace("parts", "prats"))).toContain('do you mean "parts"?');
    expect(mends(`${base}    faces: {secnd end: x}\n`)).toContain('do you mean "second end"?');
  });

  it("names what people really type", () => {
    const first = (text: string): string => readJob(text, "case.yaml", () => undefined).findings[0]!.mend!;
    const part = "title: x\nunits: mm\nparts:\n  a:\n    blank: {wood: ash, length: 9, width: 9, thickness: 9}\n";
    const hole =
      "    features:\n      - hole: x\n        depth: through\n        centre at: 4 from first end, 4 from lower edge\n";
    expect(first(`${part}${hole}        screw: #6\n`)).toBe("write screw: no 6");
    expect(first("title: x\nunits: mm\nmeasured:\n  a: [142,3, 142,1]\nparts: {}\n")).toContain("142.3");
    expect(first("title: x\nunits:mm\nparts: {}\n")).toBe('write "units: mm"');
  });
});
