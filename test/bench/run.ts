import { readdirSync } from "node:fs";
import { join } from "node:path";
import type { Row } from "./row.ts";

/** Runs every `*.bench.ts` beside this file (or those named on the command line) and prints one table. */
const only = process.argv.slice(2);
const files = readdirSync(import.meta.dirname)
  .filter((f) => f.endsWith(".bench.ts"))
  .filter((f) => only.length === 0 || only.some((o) => f.startsWith(o)))
  .sort();
for (const file of files) {
  process.stdout.write(`\n${file.replace(".bench.ts", "")}\n`);
  const { default: bench } = (await import(join(import.meta.dirname, file))) as { default: () => Promise<Row[]> };
  for (const row of await bench()) process.stdout.write(`${format(row)}\n`);
}

function format(r: Row): string {
  const spread = r.spread ? ` (${short(r.spread[0])}–${short(r.spread[1])})` : "";
  const ratio = r.reference
    ? `  ${short(r.value / r.reference.value)} × ${r.reference.name} (${short(r.reference.value)})`
    : "";
  const goal = r.goal ? `  goal ${r.goal}` : "";
  return `  ${r.name.padEnd(52)} ${short(r.value)} ${r.unit}${spread}${ratio}${goal}${r.note ? `  ${r.note}` : ""}`;
}

function short(n: number): string {
  return Math.abs(n) >= 1000 ? Math.round(n).toLocaleString("en") : Number(n.toPrecision(3)).toString();
}
