import { spawnSync } from "node:child_process";
import { cpSync, mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

const root = resolve(import.meta.dirname, "../..");
const main = join(root, "dist/cli/main.js");

/** What a command gave. */
export interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** Runs the real command in a folder, as a person would; nothing typed unless `input` says so. */
export function tillwright(folder: string, args: readonly string[], input = ""): Ran {
  const run = spawnSync(process.execPath, [main, ...args], { cwd: folder, input, encoding: "utf8", timeout: 120_000 });
  return { code: run.status, out: run.stdout, err: run.stderr };
}

/** Path of the built command. */
export const COMMAND = main;

/** A new empty folder, with copies of samples where asked. */
export function emptyFolder(...samples: readonly string[]): string {
  const folder = mkdtempSync(join(tmpdir(), "tillwright-"));
  for (const name of samples) cpSync(join(root, "samples", name), join(folder, name));
  return folder;
}
