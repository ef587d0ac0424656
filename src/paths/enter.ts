import type { ClearOperation } from "../plan/operation.ts";
import type { SetUp } from "../plan/setup.ts";
import { largestInscribed } from "../shapes/inscribed.ts";
import type { Point } from "../shapes/point.ts";
import { comeDownBeside } from "./air.ts";
import { begunAt, type Chain, chainLength, circleChain, nearestSpot, samplesAlong } from "./chain.ts";
import { helixDown, pitchOf, spiralDown } from "./descend.ts";
import type { Grounds } from "./grounds.ts";
import { extentOf, nearestOnRing, wayInside } from "./inside.ts";
import { type Pass, walkedFor } from "./passes.ts";
import { noWayIn } from "./problems.ts";
import { feedTo, follow, here, type Trail } from "./trail.ts";
import { note, type Worked } from "./worked.ts";

/** Share of the cutter's radius that an entry helix takes where there is room: under 1, so that no core stands. */
const HELIX_SHARE = 0.85;
/** Room that a helix keeps from its walls, mm. */
const BESIDE_HELIX = 0.02;
/** Least share that makes a helix worth while; below it the cutter ramps along a ring. */
const LEAST_SHARE = 0.25;
/** From the air, an entry feeds in sideways at full width no further than this many cutter radii. */
const AIR_REACH = 8;
/** Most times round a ring that a ramp may need. */
const MOST_TURNS = 400;

/** How the cutter gets down into the innermost piece of a pocket. */
export type Entry =
  | { readonly kind: "air"; readonly from: Point; readonly to: Point }
  | { readonly kind: "helix"; readonly centre: Point; readonly radius: number; readonly fromRad: number }
  | { readonly kind: "ramp"; readonly of: Chain; readonly loop: Chain }
  /** No room to ramp; the cutter plunges. */
  | { readonly kind: "plunge"; readonly at: Point }
  /** No room to ramp, and this cutter cannot plunge. */
  | { readonly kind: "none"; readonly at: Point };

/**
 * Chooses the entry: from open air if that is near; a helix at the deepest place; else a ramp along the longest ring.
 * A cutter with a dead centre of radius c needs a way that leads at least c from its middle, or a core would stand.
 * @param needed height to go down at most, mm
 */
export function entryInto(
  pass: Pass,
  grounds: Grounds,
  operation: ClearOperation,
  climb: boolean,
  needed: number,
): Entry {
  const radius = operation.cutter.diameter / 2;
  const air = fromAir(pass, grounds, radius);
  if (air !== undefined) return air;
  // The ground itself reaches `inset` further than this piece does.
  const enough = HELIX_SHARE * radius + BESIDE_HELIX - pass.inset;
  const deepest = largestInscribed(pass.shape, Math.max(0.01, radius / 50), enough);
  const room = deepest.radius + pass.inset;
  const helix = Math.min(HELIX_SHARE * radius, room - BESIDE_HELIX);
  const dead = operation.cutter.deadCentre;
  if (helix >= Math.max(LEAST_SHARE * radius, dead)) {
    const spot = nearestSpot(pass.loops[0]!, deepest.centre).point;
    const fromRad = Math.atan2(spot.y - deepest.centre.y, spot.x - deepest.centre.x);
    return { kind: "helix", centre: deepest.centre, radius: helix, fromRad };
  }
  const of = longest(pass.loops);
  const loop = walkedFor(of, climb);
  const fall = chainLength(loop) * Math.tan((operation.rampAngle * Math.PI) / 180);
  const wide = extentOf([samplesAlong(loop, radius / 4)]) / 2;
  if (wide >= dead && fall * MOST_TURNS >= needed) return { kind: "ramp", of, loop };
  return { kind: dead > 0 ? "none" : "plunge", at: loop[0]!.from };
}

function longest(loops: readonly Chain[]): Chain {
  return loops.reduce((a, b) => (chainLength(b) > chainLength(a) + 1e-9 ? b : a));
}

function fromAir(pass: Pass, grounds: Grounds, radius: number): Entry | undefined {
  if (grounds.beside.length === 0) return undefined;
  const ways = pass.loops
    .flatMap((loop) => samplesAlong(loop, radius))
    .map((to) => {
      const spots = grounds.beside.map((shore) => nearestOnRing(shore, to));
      const nearest = spots.reduce((a, b) => (b.away < a.away - 1e-9 ? b : a));
      return { from: nearest.point, to, away: nearest.away };
    })
    .sort((a, b) => a.away - b.away);
  const way = ways.find((w) => w.away <= AIR_REACH * radius && wayInside(grounds.free, w.from, w.to, 0.05));
  return way === undefined ? undefined : { kind: "air", from: way.from, to: way.to };
}

/** Where an entry begins: the place to come down over. */
export function doorOf(entry: Entry): Point {
  switch (entry.kind) {
    case "air":
      return entry.from;
    case "helix": {
      const { centre, radius, fromRad } = entry;
      return circleChain(centre, radius, fromRad, true)[0]!.from;
    }
    case "ramp":
      return entry.loop[0]!.from;
    case "plunge":
    case "none":
      return entry.at;
  }
}

/**
 * Goes down by an entry to `z`. The tip must stand at its door (but for an entry from the air, which brings it there).
 */
export function goDown(
  trail: Trail,
  entry: Entry,
  z: number,
  operation: ClearOperation,
  setUp: SetUp,
  climb: boolean,
  worked: Worked,
): void {
  const { slot, plunge } = operation.speeds;
  switch (entry.kind) {
    case "air":
      comeDownBeside(trail, setUp, entry.from, z);
      feedTo(trail, { ...entry.to, z }, slot, "entry");
      note(worked, [{ kind: "line", from: entry.from, to: entry.to }]);
      return;
    case "helix": {
      const { centre, radius, fromRad } = entry;
      helixDown(trail, { centre, radius, fromRad, ccw: climb }, z, pitchOf(radius, operation.rampAngle));
      note(worked, circleChain(centre, radius, fromRad, climb));
      return;
    }
    case "ramp": {
      const end = spiralDown(trail, entry.loop, z, operation.rampAngle);
      follow(trail, begunAt(entry.loop, end), z, slot, "rough");
      note(worked, entry.loop);
      return;
    }
    case "plunge":
      feedTo(trail, { ...here(trail), z }, plunge, "entry");
      return;
    case "none":
      trail.findings.push(noWayIn(operation, setUp, entry.at));
      return;
  }
}
