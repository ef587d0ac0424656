import { spawnSync } from "node:child_process";
import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import type { Row } from "./row.ts";

const root = resolve(import.meta.dirname, "../..");
const main = join(root, "dist/cli/main.js");

/** Prints the peak of its memory as it ends, kB. */
const PEAK = `data:text/javascript,process.on("exit",()=>process.stderr.write("peak "+process.resourceUsage().maxRSS+"\\n"))`;

/** The whole demo as a person runs it, after the build; and what `--help` costs beside an empty run of node. */
export default async function bench(): Promise<Row[]> {
  const out = mkdtempSync(join(tmpdir(), "tillwright-bench-"));
  const demo = () => run(["--import", PEAK, main, "make", "samples/spice-cabinet.yaml", "--out", out]);
  const made = [demo(), demo(), demo()];
  const help = Array.from({ length: 9 }, () => run([main, "--help"]).ms);
  const empty = Array.from({ length: 9 }, () => run(["-e", "0"]).ms);
  const peaks = made.map((m) => Number(/peak (\d+)/.exec(m.err)?.[1] ?? Number.NaN) / 1024);
  return [
    {
      name: "sample cabinet, described to written",
      value: middle(made.map((m) => m.ms)),
      unit: "ms",
      goal: "< 2,000 ms",
      spread: ends(made.map((m) => m.ms)),
      note: `exit ${made.map((m) => m.code).join(", ")}`,
    },
    { name: "its peak memory", value: Math.max(...peaks), unit: "MB", goal: "< 300 MB" },
    {
      name: "--help",
      value: middle(help),
      unit: "ms",
      goal: "≤ 2 × empty node",
      spread: ends(help),
      reference: { name: "node -e 0", value: middle(empty) },
    },
  ];
}

function run(args: readonly string[]): { readonly ms: number; readonly err: string; readonly code: number | null } {
  const start = performance.now();
  const ran = spawnSync(process.execPath, args, { cwd: root, encoding: "utf8" });
  return { ms: performance.now() - start, err: ran.stderr, code: ran.status };
}

function middle(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
}

function ends(values: readonly number[]): readonly [number, number] {
  return [Math.min(...values), Math.max(...values)];
}
