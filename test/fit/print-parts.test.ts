import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { printFinding } from "../../src/finding.ts";
import { planFit } from "../../src/fit/plan-fit.ts";
import { printParts } from "../../src/fit/print-parts.ts";
import type { PartDescription } from "../../src/job/job.ts";
import { readJob } from "../../src/job/read-job.ts";
import { readShop } from "../../src/shop/read-shop.ts";
import { cabinets, jobText } from "./cabinets.ts";

/** All of a part but where it was said; numbers to the micrometre. */
function bare(parts: readonly PartDescription[]): unknown {
  return JSON.parse(
    JSON.stringify(parts, (key, value) =>
      key === "source" || key === "sources"
        ? undefined
        : typeof value === "number"
          ? Number(value.toFixed(4)) + 0
          : value,
    ),
  );
}

describe("parts of drawers, printed as a job says them", () => {
  it("read again give the same parts", () => {
    const shop = readShop(undefined, "built-in defaults");
    if (!shop.ok) throw new Error("the built-in shop is wrong");
    fc.assert(
      fc.property(cabinets, (c) => {
        const job = readJob(jobText(c), "cabinet.yaml", () => undefined);
        const fit = job.ok ? planFit(job.value, shop.value) : job;
        if (!fit.ok) throw new Error(fit.findings.map(printFinding).join("\n"));
        const { parts } = (fit.value as { job: { parts: readonly PartDescription[] } }).job;
        const again = readJob(`title: Again\nunits: in\n${printParts(parts)}`, "again.yaml", () => undefined);
        expect(again.findings.map(printFinding)).toEqual([]);
        expect(again.ok && bare(again.value.parts)).toEqual(bare(parts));
      }),
      { numRuns: 10 },
    );
  });
});
