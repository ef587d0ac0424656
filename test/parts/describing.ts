import type { Source } from "../../src/finding.ts";
import type { FaceName, Size } from "../../src/job/board.ts";
import type { At, BoardDescription, Feature, From, Job, PartDescription } from "../../src/job/job.ts";

/** A place in an imagined job file. */
export function at(line: number, text = ""): Source {
  return { file: "job.yaml", line, column: 1, length: 1, text };
}

export const LABELS: Readonly<Record<FaceName, string>> = {
  face: "inside",
  back: "outside",
  "lower edge": "lower edge",
  "upper edge": "upper edge",
  "first end": "front end",
  "second end": "back end",
};

/** A part with features; 200 × 60 × 12 mm of ash unless said otherwise. */
export function part(features: readonly Feature[], more: Partial<PartDescription> = {}): PartDescription {
  return {
    name: "left side",
    wood: "ash",
    size: { length: 200, width: 60, thickness: 12 },
    grain: "along length",
    copies: 1,
    labels: LABELS,
    faceSide: "face",
    faceEdge: "lower edge",
    features,
    wishes: { holding: { by: "tape" } },
    source: at(2),
    ...more,
  };
}

export function job(parts: readonly PartDescription[], boards: readonly BoardDescription[] = []): Job {
  return { file: "job.yaml", title: "test", unit: "mm", measured: [], parts, boards, overrides: [] };
}

type Bare<T> = T extends unknown ? Omit<T, "name" | "on" | "source" | "sources" | "cutter"> : never;

/** A feature at a line of the file; single values at the lines given by key. */
export function feature(
  name: string,
  line: number,
  body: Bare<Feature>,
  more: { readonly on?: FaceName; readonly cutter?: string; readonly lines?: Readonly<Record<string, number>> } = {},
): Feature {
  const sources = Object.fromEntries(Object.entries(more.lines ?? {}).map(([key, n]) => [key, at(n)]));
  return {
    name,
    on: more.on ?? "face",
    source: at(line),
    sources,
    ...(more.cutter === undefined ? {} : { cutter: more.cutter }),
    ...body,
  } as Feature;
}

export function from(distance: number, border: FaceName, reach: From["reach"] = "centre"): From {
  return { distance, border, reach };
}

/** A place by its distances from the first end and the lower edge. */
export function spot(x: number, y: number): At {
  return [from(x, "first end"), from(y, "lower edge")];
}

export const SIZE: Size = { length: 200, width: 60, thickness: 12 };

export function groove(
  name: string,
  line: number,
  more: {
    readonly from?: From;
    readonly width?: number;
    readonly depth?: number;
    readonly first?: number;
    readonly second?: number;
    readonly ends?: "round" | "square";
    readonly insideRadius?: number;
    readonly on?: FaceName;
    readonly cutter?: string;
    readonly lines?: Readonly<Record<string, number>>;
  } = {},
): Feature {
  return feature(
    name,
    line,
    {
      kind: "groove",
      run: {
        kind: "along",
        from: more.from ?? from(10, "lower edge", "near edge"),
        stops: {
          ...(more.first === undefined ? {} : { first: more.first }),
          ...(more.second === undefined ? {} : { second: more.second }),
        },
      },
      width: more.width ?? 6,
      depth: { kind: "to", depth: more.depth ?? 4 },
      ends: more.ends ?? "round",
      ...(more.insideRadius === undefined ? {} : { insideRadius: more.insideRadius }),
    },
    more,
  );
}
