import { readFileSync } from "node:fs";
import { readJob } from "../../src/job/read-job.ts";
import { readQuantity } from "../../src/units/quantity.ts";
import { type Row, timed } from "./row.ts";

/** Reading sizes and job files: one size, the sample, and a job as large as is read at all. */
export default async function bench(): Promise<Row[]> {
  const sample = readFileSync(new URL("../../samples/first-part.yaml", import.meta.url), "utf8");
  const part = (i: number): string =>
    `  part ${i}:\n    blank: {wood: ash, length: = a - 15, width: 57, thickness: 9}\n    features:\n      - {groove: g, from: lower edge, near edge at: 6, width: 1/4 in, depth: 4}\n`;
  const whole = (n: number): string =>
    `title: x\nunits: mm\nmeasured:\n  a: 205\nparts:\n${Array.from({ length: n }, (_, i) => part(i)).join("")}`;
  const nothing = (): undefined => undefined;
  const size = timed(() => {
    for (let i = 0; i < 1000; i++) readQuantity(`${i} 5/16"`, "length", "mm");
  });
  const first = timed(() => {
    readJob(sample, "a", nothing);
  });
  const [half, full] = [100, 200].map((n) => timed(() => void readJob(whole(n), "a", nothing), 5));
  return [
    { name: "one size, mean of 1000", value: size.value, unit: "µs", spread: size.spread },
    { name: "the sample of a first part", value: first.value, unit: "ms", spread: first.spread },
    {
      name: `200 parts, ${Math.round(whole(200).length / 1024)} KB`,
      value: full!.value,
      unit: "ms",
      spread: full!.spread,
      reference: { name: "100 parts", value: half!.value },
      goal: "≤ 2.3 × for twice as many",
    },
  ];
}
