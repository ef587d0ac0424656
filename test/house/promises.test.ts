import { spawnSync } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { ACCURACY, TOLERANCE } from "../../src/tolerance.ts";
import { VERSION } from "../../src/version.ts";

const root = resolve(import.meta.dirname, "../..");
const text = (name: string): string => readFileSync(join(root, name), "utf8");

describe("the tolerance budget", () => {
  it("adds up to less than the stated accuracy", () => {
    const spent = Object.values(TOLERANCE).reduce((sum, share) => sum + share, 0);
    expect(spent).toBeLessThan(ACCURACY);
    expect(Math.min(...Object.values(TOLERANCE))).toBeGreaterThan(0);
  });
});

describe("what the README says", () => {
  const readme = text("README.md");

  it("names commands that the command line knows, and all of them", () => {
    const { stdout } = spawnSync(process.execPath, [join(root, "dist/cli/main.js"), "--help"], { encoding: "utf8" });
    const known = [...stdout.matchAll(/^ {2}([a-z]+) /gm)].map((m) => m[1]!).filter((c) => /^[a-z]+$/.test(c));
    const section = readme.slice(readme.indexOf("## Commands"), readme.indexOf("Exit codes"));
    for (const command of known) expect(section).toContain(command);
    for (const m of readme.matchAll(/`tillwright ([a-z]+)/g)) expect(known).toContain(m[1]);
  });

  it("shows library code that runs as it stands", () => {
    const code = /```ts\n([\s\S]*?)```/.exec(readme)![1]!;
    const folder = mkdtempSync(join(tmpdir(), "tillwright-"));
    mkdirSync(join(folder, "node_modules"));
    symlinkSync(root, join(folder, "node_modules/tillwright"));
    cpSync(join(root, "samples/first-part.yaml"), join(folder, "case.yaml"));
    writeFileSync(join(folder, "try.mjs"), code);
    const ran = spawnSync(process.execPath, ["try.mjs"], { cwd: folder, encoding: "utf8" });
    expect(ran.stderr).toBe("");
    expect(ran.stdout).toMatch(/^program 01-right-side-outside-up\.nc \d+$/m);
    expect(ran.stdout).toMatch(/^report report\.json \d+$/m);
  });

  it("carries the version of the package", () => {
    expect(VERSION).toBe((JSON.parse(text("package.json")) as { version: string }).version);
  });
});
