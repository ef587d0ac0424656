import { describe, expect, it } from "vitest";
import { printFinding } from "../../src/finding.ts";
import { readJob } from "../../src/job/read-job.ts";
import { unmarked } from "./marks.ts";
import { WRONG_MARKS } from "./wrong-marks.ts";

describe("wrong marks", () => {
  it("are many, each of its own name", () => {
    expect(WRONG_MARKS.length).toBeGreaterThanOrEqual(55);
    expect(new Set(WRONG_MARKS.map((w) => w.name)).size).toBe(WRONG_MARKS.length);
  });

  it.each(WRONG_MARKS.map((w) => [w.name, w] as const))("%s", (_, wrong) => {
    const { text, marks } = unmarked(wrong.text);
    const job = readJob(text, "case.yaml", () => undefined);
    const found = job.findings.map((f) => `${f.code} ${f.place.source?.line}:${f.place.source?.column}`);
    expect(found).toEqual(wrong.codes.map((c, i) => `${c} ${marks[Math.min(i, marks.length - 1)]}`));
    expect(job.ok).toBe(false);
    for (const f of job.findings) {
      expect(f.what).toMatch(/^[^\n]{3,200}$/);
      expect(f.mend?.length ?? 0).toBeGreaterThan(4);
      expect(printFinding(f)).not.toMatch(/undefined|\bNaN\b|\[object|zod/);
    }
  });
});
