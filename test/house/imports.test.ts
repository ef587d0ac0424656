import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { describe, expect, it } from "vitest";

const src = resolve(import.meta.dirname, "../../src");

/** Which stages each stage may import from, beside its own folder and the ground files. */
const MAKING = ["units", "shapes", "shop", "job", "fit", "parts", "plan", "paths", "program"];
const CHECKING = ["reader", "simulate", "proof", "sheets"];
const GROUND = ["finding.ts", "finding-codes.ts", "tolerance.ts"];
const TOP = ["pipeline.ts", "pipeline", "index.ts", "version.ts", "cli"];

/** All that a stage may know. The second line hangs on `plan` for the set-up, never on `paths` or `program`. */
function allowed(stage: string): readonly string[] {
  const i = MAKING.indexOf(stage);
  if (i >= 0) return [...GROUND, ...MAKING.slice(0, i + 1)];
  const k = CHECKING.indexOf(stage);
  if (k >= 0) return [...GROUND, ...MAKING.slice(0, MAKING.indexOf("paths")), ...CHECKING.slice(0, k + 1)];
  if (GROUND.includes(stage)) return [...GROUND, "shapes"];
  return [...GROUND, ...MAKING, ...CHECKING, ...TOP];
}

function filesBelow(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((e) =>
    e.isDirectory() ? filesBelow(join(folder, e.name)) : e.name.endsWith(".ts") ? [join(folder, e.name)] : [],
  );
}

function importsOf(text: string): string[] {
  return [...text.matchAll(/(?:from|import)\s*\(?\s*["'](\.[^"']+)["']/g)].map((m) => m[1]!);
}

function stageOf(file: string): string {
  return relative(src, file).split("/")[0]!;
}

/** Imports that point the wrong way, as sentences. */
function wrongWay(files: ReadonlyMap<string, string>): string[] {
  const wrong: string[] = [];
  for (const [file, text] of files) {
    const may = allowed(stageOf(file));
    for (const target of importsOf(text)) {
      const to = stageOf(resolve(dirname(file), target));
      if (!may.includes(to)) wrong.push(`${relative(src, file)} imports ${target}`);
    }
  }
  return wrong;
}

/** The first circle among the files, as a list of files, or nothing. */
function circle(files: ReadonlyMap<string, string>): string[] | undefined {
  const done = new Set<string>();
  const walk = (file: string, trail: readonly string[]): string[] | undefined => {
    const at = trail.indexOf(file);
    if (at >= 0) return [...trail.slice(at), file].map((f) => relative(src, f));
    if (done.has(file)) return undefined;
    for (const target of importsOf(files.get(file) ?? "")) {
      const found = walk(resolve(dirname(file), target), [...trail, file]);
      if (found) return found;
    }
    done.add(file);
    return undefined;
  };
  for (const file of files.keys()) {
    const found = walk(file, []);
    if (found) return found;
  }
  return undefined;
}

const files = new Map(filesBelow(src).map((f) => [f, readFileSync(f, "utf8")]));

describe("the pipeline is the architecture", () => {
  it("imports point to stages on the left only", () => {
    expect(wrongWay(files)).toEqual([]);
  });

  it("imports form no circle", () => {
    expect(circle(files)).toBeUndefined();
  });

  it("finds a planted wrong import and a planted circle", () => {
    const planted = new Map([
      [join(src, "proof/a.ts"), 'import { x } from "../paths/move.ts";'],
      [join(src, "units/a.ts"), 'export * from "./b.ts";'],
      [join(src, "units/b.ts"), 'const a = await import("./a.ts");'],
    ]);
    expect(wrongWay(planted)).toEqual(["proof/a.ts imports ../paths/move.ts"]);
    expect(circle(planted)).toEqual(["units/a.ts", "units/b.ts", "units/a.ts"]);
  });
});
