import type { FaceName, Size } from "../job/board.ts";
import { axisOf, FACE_PAIRS, FACES, isLow, opposite } from "../job/faces.ts";
import type { At, Feature, From, GrooveFeature, MortiseFeature, PartDescription, RabbetFeature } from "../job/job.ts";

/** A straight cut along a border, as it passes a fence. mm */
export interface HandRun {
  /** Runs along the fence. */
  readonly fence: FaceName;
  /** From the fence to the cut's two walls. */
  readonly near: number;
  readonly far: number;
  /** The end that goes first and the one that follows, the cut face lying on the table. */
  readonly ends: { readonly lead: FaceName; readonly trail: FaceName };
  /** From those ends to the cut's farthest points; absent: it runs out. */
  readonly stops: { readonly lead?: number; readonly trail?: number };
}

/** A groove, rabbet or mortise as a run along a fence; undefined where it slants. */
export function runOf(
  part: PartDescription,
  f: Feature & (GrooveFeature | RabbetFeature | MortiseFeature),
): HandRun | undefined {
  switch (f.kind) {
    case "rabbet":
      return withStops(part, f.on, f.along, 0, f.width, stopsOf(f.on, f.along, f.stops));
    case "groove":
      return f.run.kind === "along"
        ? alongRun(part, f, f.run.from, f.run.stops)
        : betweenRun(part, f.on, f.run.start, f.run.end, f.width);
    case "mortise":
      return mortiseRun(part, f);
  }
}

/** How far the part reaches away from a face. */
function across(size: Size, face: FaceName): number {
  return [size.length, size.width, size.thickness][axisOf(face)]!;
}

function alongRun(
  part: PartDescription,
  f: Feature & GrooveFeature,
  from: From,
  stops: { readonly first?: number; readonly second?: number },
): HandRun {
  const near = nearOf(from, f.width / 2);
  return withStops(part, f.on, from.border, near, near + f.width, stopsOf(f.on, from.border, stops));
}

/** From a border to the nearer wall of what lies `half` to both sides. */
function nearOf(from: From, half: number): number {
  switch (from.reach) {
    case "near edge":
      return from.distance;
    case "centre":
      return from.distance - half;
    case "far edge":
      return from.distance - 2 * half;
  }
}

type Stops = Partial<Readonly<Record<FaceName, number>>>;

/** `first` is measured from the low one of the two faces that the run goes towards. */
function stopsOf(on: FaceName, border: FaceName, stops: { readonly first?: number; readonly second?: number }): Stops {
  const [low, high] = towards(on, border);
  return {
    ...(stops.first === undefined ? {} : { [low]: stops.first }),
    ...(stops.second === undefined ? {} : { [high]: stops.second }),
  };
}

function towards(on: FaceName, border: FaceName): readonly [FaceName, FaceName] {
  return FACE_PAIRS[3 - axisOf(on) - axisOf(border)]!;
}

function withStops(
  part: PartDescription,
  on: FaceName,
  fence: FaceName,
  near: number,
  far: number,
  stops: Stops,
): HandRun {
  const lead = leadEnd(on, fence);
  const trail = opposite(lead);
  const at = { lead: stops[lead], trail: stops[trail] };
  // A stop at or beyond the end is no stop.
  const real = (stop: number | undefined): stop is number =>
    stop !== undefined && stop > 0 && stop < across(part.size, lead);
  return {
    fence,
    near,
    far,
    ends: { lead, trail },
    stops: { ...(real(at.lead) ? { lead: at.lead } : {}), ...(real(at.trail) ? { trail: at.trail } : {}) },
  };
}

/**
 * The end that goes first: the cut face down on the table, the border against a fence behind it, fed from right to left.
 * Looking at the face with the border beneath, it is the end at the left, which is where (border × face) points, both as
 * directions out of the wood; turned over about that line it stays there.
 */
export function leadEnd(on: FaceName, fence: FaceName): FaceName {
  const b = outwards(fence);
  const n = outwards(on);
  const left = [b[1] * n[2] - b[2] * n[1], b[2] * n[0] - b[0] * n[2], b[0] * n[1] - b[1] * n[0]] as const;
  const found = FACES.find((f) => outwards(f).every((c, i) => c === left[i]! + 0));
  if (found === undefined) throw new Error(`"${fence}" doesn't border "${on}"`);
  return found;
}

function outwards(face: FaceName): readonly [number, number, number] {
  const s = isLow(face) ? -1 : 1;
  const axis = axisOf(face);
  return [axis === 0 ? s : 0, axis === 1 ? s : 0, axis === 2 ? s : 0];
}

/** A distance from the low face of its axis, for what reaches `half` to both sides. */
function fromLow(part: PartDescription, from: From, half: number): number {
  const middle = nearOf(from, half) + half;
  return isLow(from.border) ? middle : across(part.size, from.border) - middle;
}

/** A groove between two points that runs along one of the face's directions. */
function betweenRun(part: PartDescription, on: FaceName, start: At, end: At, width: number): HandRun | undefined {
  const half = width / 2;
  for (const k of [0, 1] as const) {
    const side = start[k];
    const a = fromLow(part, side, half);
    if (Math.abs(a - fromLow(part, end[k], half)) > 1e-9) continue;
    const [p, q] = [fromLow(part, start[k === 0 ? 1 : 0], half), fromLow(part, end[k === 0 ? 1 : 0], half)];
    const [low, high] = towards(on, side.border);
    const near = (isLow(side.border) ? a : across(part.size, side.border) - a) - half;
    return withStops(part, on, side.border, near, near + width, {
      [low]: Math.min(p, q),
      [high]: across(part.size, high) - Math.max(p, q),
    });
  }
  return undefined;
}

/** A mortise that lies along one of the face's directions. */
function mortiseRun(part: PartDescription, f: Feature & MortiseFeature): HandRun | undefined {
  const quarter = ((f.turnedDeg % 180) + 180) % 180;
  if (quarter !== 0 && quarter !== 90) return undefined;
  // The face's first direction is x where it has it, else y; the length lies along it before turning.
  const alongFirst = quarter === 0;
  const [run, side] = alongFirst ? [f.at[0], f.at[1]] : [f.at[1], f.at[0]];
  const near = nearOf(side, f.width / 2);
  const middle = fromLow(part, run, f.length / 2);
  const [low, high] = towards(f.on, side.border);
  return withStops(part, f.on, side.border, near, near + f.width, {
    [low]: middle - f.length / 2,
    [high]: across(part.size, high) - middle - f.length / 2,
  });
}
