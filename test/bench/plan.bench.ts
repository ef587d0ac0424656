import type { Feature } from "../../src/job/job.ts";
import { describeWorkpieces } from "../../src/parts/describe.ts";
import { volumeOfTarget } from "../../src/parts/section.ts";
import { planJob } from "../../src/plan/plan-job.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import { feature, from, groove, job, part } from "../parts/describing.ts";
import { type Row, timed } from "./row.ts";

const side: readonly Feature[] = [
  groove("bottom", 1, { width: 4.2 }),
  groove("runner", 2, { on: "back", from: from(24, "lower edge", "near edge"), width: 9.9, depth: 3.5, first: 12 }),
  feature("back", 3, { kind: "rabbet", along: "second end", width: 8, depth: { kind: "to", depth: 5 }, stops: {} }),
];

/** A board of 600 × 300 mm with n × n holes, blind and drilled. */
function holes(n: number): Feature {
  const centres = Array.from({ length: n * n }, (_, k) => {
    const x = 20 + ((k % n) * 560) / n;
    const y = 20 + (Math.floor(k / n) * 260) / n;
    return [from(x, "first end"), from(y, "lower edge")] as const;
  });
  return feature("pegs", 1, {
    kind: "hole",
    diameter: 5,
    depth: { kind: "to", depth: 8 },
    centres,
    head: { kind: "plain" },
  });
}

function both(features: readonly Feature[], more: Parameters<typeof part>[1]): number {
  const j = job([part(features, more)]);
  const parts = describeWorkpieces(j);
  if (!parts.ok) throw new Error(parts.findings.map((f) => f.what).join());
  const planned = planJob(j, parts.value, DEFAULT_SHOP);
  if (!planned.ok) throw new Error(planned.findings.map((f) => f.what).join());
  // A sum that a faster wrong answer would change.
  return planned.value.reduce((sum, s) => sum + s.operations.length + s.setUp.cavities.length, 0);
}

export default async function (): Promise<Row[]> {
  const pair = timed(() => both(side, { mirroredAs: "right side" }));
  const rows: Row[] = [
    {
      name: "describe and plan a pair of drawer sides",
      unit: "ms",
      ...pair,
      note: `checksum ${both(side, { mirroredAs: "right side" })}`,
    },
  ];
  const board = { size: { length: 600, width: 300, thickness: 18 } };
  const few = timed(() => both([holes(7)], board), 5);
  const many = timed(() => both([holes(10)], board), 5);
  rows.push({ name: "describe and plan 49 drilled holes", unit: "ms", ...few });
  rows.push({
    name: "the same for 100 holes",
    unit: "ms",
    ...many,
    goal: "≤ 2.3 × per doubling",
    reference: { name: "49 holes", value: few.value },
  });
  const parts = describeWorkpieces(job([part(side)]));
  if (parts.ok) {
    const planned = planJob(job([part(side)]), parts.value, DEFAULT_SHOP);
    if (planned.ok) {
      const target = planned.value[0]!.setUp.target;
      rows.push({
        name: "volume of a drawer side's target",
        unit: "ms",
        ...timed(() => volumeOfTarget(target)),
        note: `${volumeOfTarget(target).toFixed(1)} mm³`,
      });
    }
  }
  return rows;
}
