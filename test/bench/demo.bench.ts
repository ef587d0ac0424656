import { spawnSync } from "node:child_process";
import { copyFileSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { parse, stringify } from "yaml";
import type { Row } from "./row.ts";

const root = resolve(import.meta.dirname, "../..");
const main = join(root, "dist/cli/main.js");

/** Prints the peak of its memory as it ends, kB. */
const PEAK = `data:text/javascript,process.on("exit",()=>process.stderr.write("peak "+process.resourceUsage().maxRSS+"\\n"))`;

/** The whole demo as a person runs it, after the build; and what `--help` costs beside an empty run of node. */
export default async function bench(): Promise<Row[]> {
  const out = mkdtempSync(join(tmpdir(), "tillwright-bench-"));
  const demo = (job: string) => run(["--import", PEAK, main, "make", job, "--out", out]);
  const flat = flatParts();
  const made = [demo(flat), demo(flat), demo(flat)];
  const whole = [demo("samples/spice-cabinet.yaml"), demo("samples/spice-cabinet.yaml")];
  const help = Array.from({ length: 9 }, () => run([main, "--help"]).ms);
  const empty = Array.from({ length: 9 }, () => run(["-e", "0"]).ms);
  const peaks = made.map((m) => Number(/peak (\d+)/.exec(m.err)?.[1] ?? Number.NaN) / 1024);
  return [
    {
      name: "sample cabinet's flat parts, described to written",
      value: middle(made.map((m) => m.ms)),
      unit: "ms",
      goal: "< 2,000 ms",
      spread: ends(made.map((m) => m.ms)),
      note: `exit ${made.map((m) => m.code).join(", ")}`,
    },
    { name: "its peak memory", value: Math.max(...peaks), unit: "MB", goal: "< 300 MB" },
    {
      name: "the whole sample cabinet, with its pulls",
      value: Math.min(...whole.map((m) => m.ms)),
      unit: "ms",
      spread: ends(whole.map((m) => m.ms)),
      note: `exit ${whole.map((m) => m.code).join(", ")}`,
    },
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

/** The sample cabinet without its turned parts, in a folder of its own with the files it names. */
function flatParts(): string {
  const folder = mkdtempSync(join(tmpdir(), "tillwright-bench-"));
  const job = parse(readFileSync(join(root, "samples/spice-cabinet.yaml"), "utf8"));
  const parts = Object.entries<{ blank: object }>(job.parts).filter(
    ([, part]) => !("square" in part.blank) && !("diameter" in part.blank),
  );
  for (const name of readdirSync(join(root, "samples")))
    if (/^shop|svg$/.test(name)) copyFileSync(join(root, "samples", name), join(folder, name));
  const { pulls: _, ...drawers } = job.drawers ?? {};
  writeFileSync(join(folder, "flat.yaml"), stringify({ ...job, drawers, parts: Object.fromEntries(parts) }));
  return join(folder, "flat.yaml");
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
