import { planFit } from "../../src/fit/plan-fit.ts";
import { readJob } from "../../src/job/read-job.ts";
import { readShop } from "../../src/shop/read-shop.ts";
import { type Row, timed } from "./row.ts";

/** Columns × rows of slightly unlike openings, each measured in all its places. */
function cabinet(columns: number, rows: number): string {
  const openings = Array.from({ length: columns * rows }, (_, i) => {
    const off = ((i * 7) % 5) / 10;
    return `    opening ${i + 1}: {width: {mouth: ${142.3 + off}, middle: ${142.1 + off}, back: ${142.4 + off}}, height: {left: ${58.6 - off}, middle: ${58.4 - off}, right: ${58.5 - off}}, depth: ${205 + off}, diagonals: {rising: ${153.9 + off}, falling: ${153.7 + off}}}`;
  });
  const between = Array.from({ length: columns * rows }, (_, i) => `    opening ${i + 1}: {mouth: 134.6, back: 134.7}`);
  return `title: Bench
units: mm
case:
  wood: cherry
  side thickness: 15
  divider thickness: 14
  columns: ${columns}
  measured with: calipers
  moisture today: 8 % by meter
  openings:
${openings.join("\n")}
drawers:
  fronts: {wood: cherry, thickness: 14}
  sides: {wood: ash, thickness: 9, alike: all}
  bottoms: {wood: cherry, thickness: 4, kind: solid}
  runners: {wood: hard maple, tall: 11, thickness: 4}
  front joint: half-blind
  back joint: through
  between runners:
${between.join("\n")}
`;
}

export default async function (): Promise<Row[]> {
  const shop = readShop(undefined, "built-in defaults");
  if (!shop.ok) throw new Error("the built-in shop is wrong");
  const rows: Row[] = [];
  for (const [columns, count] of [
    [2, 3],
    [3, 8],
  ] as const) {
    const text = cabinet(columns, count);
    const job = readJob(text, "bench.yaml", () => undefined);
    if (!job.ok) throw new Error(job.findings.map((f) => f.what).join());
    let sum = 0;
    const fit = timed(() => {
      const planned = planFit(job.value, shop.value);
      if (!planned.ok) throw new Error(planned.findings.map((f) => f.what).join());
      // A sum that a faster wrong answer would change.
      sum = planned.value.plan?.cutList.reduce((s, i) => s + i.count * i.finished.length, 0) ?? 0;
    }, 15);
    rows.push({
      name: `fit ${columns * count} drawers`,
      value: fit.value,
      unit: "ms",
      ...(columns === 2 && { goal: "< 20 ms" }),
      spread: fit.spread,
      note: `sum of lengths ${sum.toFixed(1)} mm`,
    });
    const read = timed(() => void readJob(text, "bench.yaml", () => undefined));
    rows.push({ name: `read ${columns * count} openings`, value: read.value, unit: "ms", spread: read.spread });
  }
  return rows;
}
