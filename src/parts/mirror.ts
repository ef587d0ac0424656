import type { FaceName } from "../job/board.ts";
import type { At, Feature, From, PartDescription, PlanShape } from "../job/job.ts";
import type { HoldingWish, SetUpWishes } from "../job/wishes.ts";
import { mapRegion, mirrorAlongX } from "../shapes/plan-map.ts";
import { runsTowards } from "./faces.ts";

/**
 * The description of a part's mirror-image twin, as another ordinary description: x becomes length − x. Faces and edges
 * keep their names, and the two ends change places: of a pair of drawer sides both have the inside as their face and the
 * groove at the lower edge, and the front end of one is the back end of the other. Labels go with the wood they name.
 * @param name the twin's own name
 */
export function mirroredDescription(part: PartDescription, name: string): PartDescription {
  const { mirroredAs: _, ...rest } = part;
  return {
    ...rest,
    name,
    labels: {
      ...part.labels,
      "first end": part.labels["second end"],
      "second end": part.labels["first end"],
    },
    faceSide: swapped(part.faceSide),
    faceEdge: swapped(part.faceEdge),
    features: part.features.map(mirroredFeature),
    wishes: mirroredWishes(part),
  };
}

/** The face that takes a face's place in the mirror. */
function swapped(face: FaceName): FaceName {
  switch (face) {
    case "first end":
      return "second end";
    case "second end":
      return "first end";
    case "face":
    case "back":
    case "lower edge":
    case "upper edge":
      return face;
  }
}

function mirroredFeature(f: Feature): Feature {
  const on = swapped(f.on);
  switch (f.kind) {
    case "recess":
      return { ...f, on, shape: mirroredShape(f.shape), at: mirroredAt(f.at), turnedDeg: turnedBack(f.turnedDeg) };
    case "mortise":
      return { ...f, on, at: mirroredAt(f.at), turnedDeg: turnedBack(f.turnedDeg) };
    case "hole":
      return { ...f, on, centres: f.centres.map(mirroredAt) };
    case "rabbet":
      return { ...f, on, along: swapped(f.along), stops: mirroredStops(f.on, f.along, f.stops) };
    case "outline":
      return {
        ...f,
        on,
        shape: f.shape.kind === "blank" ? f.shape : mirroredShape(f.shape),
        ...(f.at === undefined ? {} : { at: mirroredAt(f.at) }),
        turnedDeg: turnedBack(f.turnedDeg),
      };
    case "mark":
      // What it shows stays as it reads: only its place is mirrored.
      return {
        ...f,
        on,
        at: mirroredAt(f.at),
        ...(f.midway === undefined ? {} : { midway: f.midway.map(swapped) }),
        ...(f.to === undefined ? {} : { to: mirroredAt(f.to) }),
        turnedDeg: turnedBack(f.turnedDeg),
      };
    case "groove": {
      const run: typeof f.run =
        f.run.kind === "along"
          ? {
              kind: "along",
              from: mirroredFrom(f.run.from),
              stops: mirroredStops(f.on, f.run.from.border, f.run.stops),
            }
          : { kind: "between", start: mirroredAt(f.run.start), end: mirroredAt(f.run.end) };
      return {
        ...f,
        on,
        run,
        ...(f.bearingWall === undefined ? {} : { bearingWall: swapped(f.bearingWall) }),
      };
    }
  }
}

function mirroredFrom(from: From): From {
  return { ...from, border: swapped(from.border) };
}

function mirroredAt(at: At): At {
  return [mirroredFrom(at[0]), mirroredFrom(at[1])];
}

/** Minus zero would print as such. */
function turnedBack(deg: number): number {
  return deg === 0 ? 0 : -deg;
}

function mirroredShape(shape: PlanShape): PlanShape {
  return shape.kind === "drawing" ? { ...shape, region: mapRegion(mirrorAlongX(0), shape.region) } : shape;
}

interface Stops {
  readonly first?: number;
  readonly second?: number;
}

/** Stops are measured from the first and the second of two borders; the ends change places and the others don't. */
function mirroredStops(on: FaceName, border: FaceName, stops: Stops): Stops {
  const towards = runsTowards(on, border);
  if (towards === undefined || towards[0] !== "first end") return stops;
  return {
    ...(stops.second === undefined ? {} : { first: stops.second }),
    ...(stops.first === undefined ? {} : { second: stops.first }),
  };
}

function mirroredWishes(part: PartDescription): SetUpWishes {
  const { wishes } = part;
  const corners = {
    "left front": "right front",
    "right front": "left front",
    "left back": "right back",
    "right back": "left back",
  } as const;
  return {
    ...wishes,
    ...(wishes.zeroCorner === undefined ? {} : { zeroCorner: corners[wishes.zeroCorner] }),
    ...(wishes.turned === undefined ? {} : { turned: turnedBack(wishes.turned) }),
    ...(wishes.holding === undefined ? {} : { holding: mirroredHolding(wishes.holding, part.size.length) }),
  };
}

function mirroredHolding(holding: HoldingWish, length: number): HoldingWish {
  switch (holding.by) {
    case "tape":
    case "vacuum":
      return holding;
    case "clamps":
      return {
        ...holding,
        clamps: holding.clamps.map((c) => ({ ...c, at: { x: length - c.at.x - c.size.x, y: c.at.y } })),
      };
    case "screws":
      return { ...holding, at: holding.at.map((p) => ({ x: length - p.x, y: p.y })) };
    case "jaws":
      return { ...holding, jaws: holding.jaws.map((j) => ({ ...j, at: length - j.at - j.along })) };
    case "cradles":
      return { ...holding, cradles: holding.cradles.map((c) => ({ ...c, at: length - c.at - c.along })) };
  }
}
