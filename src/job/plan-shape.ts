import { readDrawing } from "../shapes/drawing.ts";
import type { Files } from "./files.ts";
import { fileIn } from "./files.ts";
import type { PlanShape } from "./job.ts";
import { type OnPart, refuseAt, sourceAtPath } from "./places.ts";

/** The sizes that a shape may be given with. */
export interface ShapeSizes {
  readonly length?: number | undefined;
  readonly width?: number | undefined;
  readonly diameter?: number | undefined;
  readonly "corner radius"?: number | undefined;
  readonly drawing?: string | undefined;
  readonly id?: string | undefined;
  readonly class?: string | undefined;
  readonly placed?: "centred" | "as drawn" | undefined;
}

type ShapeKind = PlanShape["kind"];
type SizeKey = keyof ShapeSizes;

const NEEDS: Readonly<Record<ShapeKind, readonly SizeKey[]>> = {
  slot: ["length", "width"],
  circle: ["diameter"],
  oval: ["length", "width"],
  "rounded rectangle": ["length", "width", "corner radius"],
  drawing: ["drawing"],
};

const MAY: Readonly<Record<ShapeKind, readonly SizeKey[]>> = {
  slot: [],
  circle: [],
  oval: [],
  "rounded rectangle": [],
  drawing: ["id", "class", "placed"],
};

const ALL: readonly SizeKey[] = ["length", "width", "diameter", "corner radius", "drawing", "id", "class", "placed"];

/** A shape with its sizes, all of them and no other; undefined when findings were made. */
export function planShape(on: OnPart, kind: ShapeKind, said: ShapeSizes, files: Files): PlanShape | undefined {
  let whole = true;
  for (const key of ALL) {
    const needed = NEEDS[kind].includes(key);
    if (needed && said[key] === undefined) {
      refuseAt(
        on,
        [],
        "shape-incomplete",
        `"${key}" is missing: ${article(kind)} needs ${NEEDS[kind].join(" and ")}`,
        `add "${key}: ${exampleOf(key)}"`,
      );
      whole = false;
    }
    if (!needed && !MAY[kind].includes(key) && said[key] !== undefined) {
      refuseAt(
        on,
        [key],
        "shape-impossible",
        `${article(kind)} has no ${key}`,
        `take it out; ${article(kind)} has ${NEEDS[kind].join(" and ")}`,
      );
      whole = false;
    }
  }
  if (!whole) return undefined;
  const [length, width] = [said.length ?? 0, said.width ?? 0];
  switch (kind) {
    case "slot":
      if (length < width) {
        refuseAt(
          on,
          ["length"],
          "shape-impossible",
          "this slot is shorter than it is wide",
          'give the longer size as "length", and turn it with "turned: 90 deg"',
        );
        return undefined;
      }
      return { kind, length, width };
    case "circle":
      return { kind, diameter: said.diameter ?? 0 };
    case "oval":
      return { kind, length, width };
    case "rounded rectangle": {
      const radius = said["corner radius"] ?? 0;
      if (radius > Math.min(length, width) / 2) {
        refuseAt(
          on,
          ["corner radius"],
          "shape-impossible",
          "the corners are rounder than the rectangle is wide",
          `at most half the shorter side: ${Math.min(length, width) / 2} mm`,
        );
        return undefined;
      }
      return { kind, length, width, radius };
    }
    case "drawing":
      return drawn(on, said, files);
  }
}

function drawn(on: OnPart, said: ShapeSizes, files: Files): PlanShape | undefined {
  const named = said.drawing ?? "";
  const file = fileIn(files, named);
  if (!file.ok) {
    refuseAt(on, ["drawing"], file.code, file.what, file.mend);
    return undefined;
  }
  const read = readDrawing(file.text, {
    file: file.path,
    ...(said.id !== undefined && { id: said.id }),
    ...(said.class !== undefined && { class: said.class }),
  });
  for (const f of read.findings) {
    // The drawing's own line is the place to mend; where there is none, the job's line that names it.
    const source = f.place.source ?? sourceAtPath(on, ["drawing"]);
    const own = {
      ...(on.part !== undefined && { part: on.part }),
      ...(on.feature !== undefined && { feature: on.feature }),
    };
    on.found.push({
      ...f,
      mend: f.mend ?? "draw one closed path and give it an id",
      place: { ...f.place, source, ...own },
    });
  }
  if (!read.ok) return undefined;
  return { kind: "drawing", region: read.value, placed: said.placed ?? "centred", file: file.path };
}

function article(kind: ShapeKind): string {
  return kind === "oval" ? "an oval" : `a ${kind}`;
}

function exampleOf(key: SizeKey): string {
  switch (key) {
    case "length":
      return "40";
    case "width":
      return "12";
    case "diameter":
      return "35";
    case "corner radius":
      return "6";
    case "drawing":
      return "leaf.svg";
    case "id":
      return "leaf";
    case "class":
      return "cut";
    case "placed":
      return "centred";
  }
}
