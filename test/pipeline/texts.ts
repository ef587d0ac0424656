import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { type Made, makeAll, type Texts } from "../../src/pipeline.ts";
import { readProgram } from "../../src/reader/read.ts";
import type { ReadMove } from "../../src/reader/read-move.ts";
import type { Controller } from "../../src/shop/machine.ts";

const root = resolve(import.meta.dirname, "../..");

/** A file of the project, as text. */
export function projectText(name: string): string {
  return readFileSync(join(root, name), "utf8");
}

/** Texts for a job given as text; files it names come from `samples/`. */
export function textsOf(jobText: string, more: Partial<Texts> = {}): Texts {
  return {
    jobText,
    jobFile: "job.yaml",
    readText: (name) => {
      try {
        return projectText(join("samples", name));
      } catch {
        return undefined;
      }
    },
    readBytes: (name) => {
      try {
        return readFileSync(join(root, "samples", name));
      } catch {
        return undefined;
      }
    },
    bookFont: () =>
      readFileSync(join(root, "node_modules/@expo-google-fonts/eb-garamond/400Regular/EBGaramond_400Regular.ttf")),
    postText: (name) => {
      try {
        return projectText(join("post", `${name}.yaml`));
      } catch {
        return undefined;
      }
    },
    ...more,
  };
}

/** A sample job, made. */
export function madeSample(name: string): Made {
  return makeAll({ ...textsOf(projectText(join("samples", name))), jobFile: name });
}

/** Programs of a run, without dry runs. */
export function programsOf(made: Made): readonly { readonly name: string; readonly text: string }[] {
  return made.files.filter((f) => f.kind === "program");
}

/** A text without comments: all that can move a machine. */
export function bare(text: string): string {
  return text.replace(/\([^)]*\)/g, "").replace(/\n+/g, "\n");
}

/** Moves of a program as rows of numbers, mm. */
export function motionOf(text: string, controller: Controller): readonly ReadMove[] {
  return readProgram(text, "x", controller, { manner: "any" }).events.filter((e): e is ReadMove => e.kind === "move");
}

/** One part of ash in a job, with features written as YAML lines. */
export function oneBoard(
  features: readonly string[],
  size = { length: 120, width: 80, thickness: 18 },
  head = "",
): string {
  return [
    "title: test",
    "units: mm",
    "shop: shop.yaml",
    head,
    "parts:",
    "  board:",
    `    blank: {wood: ash, length: ${size.length}, width: ${size.width}, thickness: ${size.thickness}}`,
    "    held by: tape",
    "    features:",
    ...features.map((l) => `      ${l}`),
    "",
  ].join("\n");
}
