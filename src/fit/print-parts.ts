import type { FaceName } from "../job/board.ts";
import { FACES, standardLabels } from "../job/faces.ts";
import type { At, Depth, Feature, From, PartDescription } from "../job/job.ts";
import { clean } from "./stuff.ts";

/**
 * Parts as a job file says them, to be copied under `parts:`. Sizes are in mm and say so, so that they mean the same in a
 * file of inches. Read again they give the same parts. What the planner of drawers never writes (recesses, outlines, marks)
 * is named in a comment.
 */
export function printParts(parts: readonly PartDescription[]): string {
  return ["parts:", ...parts.flatMap(partLines)].join("\n").concat("\n");
}

function partLines(p: PartDescription): readonly string[] {
  const { length, width, thickness } = p.size;
  const faces = Object.entries(standardLabels()).filter(([face, label]) => p.labels[face as FaceName] !== label);
  return [
    `  ${text(p.name)}:`,
    `    blank: {wood: ${text(p.wood)}, length: ${mm(length)}, width: ${mm(width)}, thickness: ${mm(thickness)}, grain: ${p.grain}}`,
    ...(p.copies > 1 ? [`    copies: ${p.copies}`] : []),
    ...(p.mirroredAs === undefined ? [] : [`    mirrored as: ${text(p.mirroredAs)}`]),
    ...(faces.length === 0
      ? []
      : [`    faces: {${faces.map(([face]) => `${face}: ${text(p.labels[face as FaceName])}`).join(", ")}}`]),
    ...(p.faceSide === "face" ? [] : [`    face side: ${text(p.labels[p.faceSide])}`]),
    ...(p.faceEdge === "lower edge" ? [] : [`    face edge: ${text(p.labels[p.faceEdge])}`]),
    ...(p.wishes.holding?.by === "tape" || p.wishes.holding?.by === "vacuum"
      ? [`    held by: ${p.wishes.holding.by}`]
      : []),
    ...(p.features.length === 0 ? [] : ["    features:"]),
    ...p.features.flatMap((f) => featureLines(f, p.labels)),
  ];
}

type Labels = PartDescription["labels"];

function featureLines(f: Feature, labels: Labels): readonly string[] {
  const head = (kind: string, rest: readonly string[]): readonly string[] => [
    `      - ${kind}: ${text(f.name)}`,
    ...(f.on === "face" ? [] : [`        on: ${text(labels[f.on])}`]),
    ...rest.map((l) => `        ${l}`),
    ...(f.cutter === undefined ? [] : [`        bit: ${text(f.cutter)}`]),
  ];
  switch (f.kind) {
    case "groove": {
      const { run } = f;
      const where =
        run.kind === "along"
          ? [
              `from: ${text(labels[run.from.border])}`,
              ...(f.bearingWall === undefined ? [] : [`bearing wall: ${text(labels[f.bearingWall])}`]),
              `${run.from.reach} at: ${mm(run.from.distance)}`,
              ...stops(run.stops, f.on, run.from.border, labels),
            ]
          : [`start at: ${place(run.start, labels)}`, `end at: ${place(run.end, labels)}`];
      const square = f.ends === "square" ? ["ends: square"] : [];
      const radius = f.insideRadius === undefined ? [] : [`inside radius: ${mm(f.insideRadius)}`];
      return head("groove", [...where, `width: ${mm(f.width)}`, depth(f.depth), ...square, ...radius]);
    }
    case "rabbet":
      return head("rabbet", [
        `along: ${text(labels[f.along])}`,
        `width: ${mm(f.width)}`,
        depth(f.depth),
        ...stops(f.stops, f.on, f.along, labels),
        ...(f.insideRadius === undefined ? [] : [`inside radius: ${mm(f.insideRadius)}`]),
      ]);
    case "mortise":
      return head("mortise", [
        `length: ${mm(f.length)}`,
        `width: ${mm(f.width)}`,
        depth(f.depth),
        `centre at: ${place(f.at, labels)}`,
        ...(f.turnedDeg === 0 ? [] : [`turned: ${clean(f.turnedDeg)} deg`]),
      ]);
    case "hole": {
      const { head: top } = f;
      return head("hole", [
        `diameter: ${mm(f.diameter)}`,
        depth(f.depth),
        ...(top.kind === "countersunk"
          ? [`countersunk: {head diameter: ${mm(top.headDiameter)}, angle: ${clean(top.includedAngle)} deg}`]
          : top.kind === "counterbored"
            ? [`counterbored: {diameter: ${mm(top.diameter)}, depth: ${mm(top.depth)}}`]
            : []),
        ...(f.centres.length === 1
          ? [`centre at: ${place(f.centres[0]!, labels)}`]
          : ["centres at:", ...f.centres.map((c) => `  - ${place(c, labels)}`)]),
      ]);
    }
    case "recess":
    case "outline":
    case "mark":
      return [`      # ${f.kind} "${f.name}" stands in the job as it was written`];
  }
}

/** Where a run stops, from the borders that it runs towards. */
function stops(
  at: { readonly first?: number; readonly second?: number },
  on: FaceName,
  along: FaceName,
  labels: Labels,
): readonly string[] {
  const axis = (face: FaceName): number => FACES.indexOf(face) >> 1;
  const ends = FACES.filter((f) => axis(f) !== axis(on) && axis(f) !== axis(along));
  const told = [at.first, at.second].flatMap((d, i) => (d === undefined ? [] : [`${mm(d)} from ${labels[ends[i]!]}`]));
  return told.length === 0 ? [] : [`stops: [${told.map((t) => text(t)).join(", ")}]`];
}

function place(at: At, labels: Labels): string {
  return text(at.map((f: From) => `${mm(f.distance)} from ${labels[f.border]}`).join(", "));
}

function depth(d: Depth): string {
  return d.kind === "through" ? "depth: through" : `depth: ${mm(d.depth)}`;
}

function mm(size: number): string {
  return `${clean(size)} mm`;
}

/** A text as YAML takes it: in quotes where a mark in it would mean something. */
function text(said: string): string {
  return /^[\p{L}\p{N}][\p{L}\p{N} .'°/-]*$/u.test(said) ? said : `"${said.replace(/["\\]/g, "'")}"`;
}
