import { convexOf, grownConvex, shrunkConvex } from "./convex.ts";
import { flattenRegion, flattenSegment } from "./flatten.ts";
import { cleaned, combine, fromGrid, groupRings, growPath, growShape, onGrid, toGrid } from "./kernel.ts";
import { distance, type Point } from "./point.ts";
import type { Region } from "./region.ts";
import { areaOfRing, type Polygons, type Ring } from "./rings.ts";
import type { Segment } from "./segment.ts";
import { simplifyLine, simplifyRing } from "./simplify.ts";

/**
 * Shares of a tolerance. Dropping points is what saves time on a dense outline, so it gets the more; joins cost little,
 * and short chords leave room for the arcs that will be fitted to them.
 */
const DROPPING = 2 / 3;
const JOINING = 1 / 3;

/**
 * Polygons grown (`delta` > 0) or shrunk (`delta` < 0) by |delta| mm, with round joins: the places at that distance
 * from the boundary. Outer rings counter-clockwise, holes clockwise; empty when nothing is left.
 *
 * Error: no point of the result lies nearer to the boundary than |delta| − tolerance, or farther than |delta| +
 * tolerance, each ± 0.2 µm of grid. Two thirds of the tolerance go to dropping input points, the rest to the chords of
 * the joins, which always cut towards the corner they go round. So where no cut may enter the part, ask for |delta| + tolerance.
 * @param tolerance mm, > 0
 * @throws RangeError on numbers that are not finite or beyond ±100 m
 */
export function offsetPolygons(polygons: Polygons, delta: number, tolerance: number): Polygons {
  needTolerance(tolerance);
  if (!Number.isFinite(delta)) throw new RangeError(`an offset must be finite, not ${delta}`);
  if (delta === 0) return polygons;
  return grown(
    polygons.map((ring) => simplifyRing(ring, DROPPING * tolerance)),
    delta,
    JOINING * tolerance,
  );
}

/**
 * A region grown or shrunk, as `offsetPolygons`; its arcs are flattened with half the tolerance. The result's chords
 * stay within 0.6 × tolerance of true arcs, so that `fitArcs` with the same tolerance finds them.
 */
export function offsetRegion(region: Region, delta: number, tolerance: number): Polygons {
  needTolerance(tolerance);
  if (!Number.isFinite(delta)) throw new RangeError(`an offset must be finite, not ${delta}`);
  const flat = flattenRegion(region, tolerance / 2);
  return delta === 0 ? flat : grown(flat, delta, JOINING * tolerance);
}

function grown(polygons: Polygons, delta: number, chordError: number): Polygons {
  const shapes = groupRings(polygons).map((shape) => grownShape(shape, delta, chordError).flat());
  const rings = shapes.flat();
  // Shapes that grow may meet; shapes that shrink cannot.
  return delta > 0 && shapes.length > 1 ? fromGrid(combine("union", toGrid(rings), [])) : rings;
}

/** Dents that rounding to the kernel's grid leaves in a convex ring, mm. */
const ROUNDING_DENT = 0.0002;

/** One connected shape, grown or shrunk: by closed form where it is convex, by the kernel otherwise. */
function grownShape(shape: Polygons, delta: number, chordError: number): Polygons[] {
  const [outer] = shape;
  const convex = shape.length === 1 && outer !== undefined ? convexOf(outer, ROUNDING_DENT) : undefined;
  if (convex === undefined) return growShape(toGrid(shape), delta, chordError).map(fromGrid);
  const ring = onGrid(delta > 0 ? grownConvex(convex, delta, chordError) : (shrunkConvex(convex, -delta) ?? []));
  return ring.length < 3 || isSliver(ring) ? [] : [[ring]];
}

/** Thinner than the grid can say: an edge, not an area. */
function isSliver(ring: Ring): boolean {
  let around = 0;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) around += distance(ring[j]!, ring[i]!);
  return areaOfRing(ring) < ROUNDING_DENT * around;
}

/** One ring of passes, all at the same distance from the boundary. */
export interface Pass {
  /** From the boundary inwards, mm. */
  readonly distance: number;
  /** Connected shapes inside the pass: each an outer ring and its holes. */
  readonly components: readonly Polygons[];
  /** For each component, which component of the pass before it lies in; 0 for all in the first pass. */
  readonly parents: readonly number[];
}

/**
 * Passes parallel to the boundary, from the outermost inwards, until nothing is left (or beyond `until` mm). Each is
 * computed from the one before with points dropped between: about a seventh of the work of going back to the boundary
 * each time (measured).
 * @param first distance of the first pass, mm, > 0
 * @param step distance between passes, mm, > 0
 * @param tolerance of the first pass as in `offsetPolygons`. Later passes lose up to a further half tolerance each
 *   where points are dropped.
 */
export function offsetPasses(
  area: Polygons,
  first: number,
  step: number,
  tolerance: number,
  until = Number.POSITIVE_INFINITY,
): Pass[] {
  needTolerance(tolerance);
  if (!(first > 0 && Number.isFinite(first))) throw new RangeError(`a first pass at ${first} mm lies nowhere`);
  if (!(step > 0)) throw new RangeError(`a step of ${step} mm never ends`);
  const passes: Pass[] = [];
  let shapes: Polygons[] = groupRings(area.map((ring) => simplifyRing(ring, tolerance / 2)));
  let inwards = first;
  let at = first;
  while (shapes.length > 0 && at <= until) {
    const inner = shapes.flatMap((shape, parent) =>
      grownShape(shape, -inwards, tolerance / 2).map((rings) => ({ rings, parent: passes.length === 0 ? 0 : parent })),
    );
    if (inner.length === 0) break;
    passes.push({
      distance: at,
      components: inner.map(({ rings }) => rings),
      parents: inner.map(({ parent }) => parent),
    });
    shapes = inner.map(({ rings }) => cleaned(rings, tolerance / 2)).filter((rings) => rings.length > 0);
    inwards = step;
    at = first + passes.length * step;
  }
  return passes;
}

/**
 * All that a disc of `radius` mm covers while its centre goes along the points. A single point gives a disc. The
 * chords keep within `tolerance` mm inside the true outline.
 */
export function sweepPolyline(points: readonly Point[], radius: number, tolerance: number): Polygons {
  needTolerance(tolerance);
  if (!(radius > 0 && Number.isFinite(radius))) throw new RangeError(`a sweep needs a radius, not ${radius}`);
  if (points.length === 0) return [];
  return fromGrid(growPath(toGrid([simplifyLine(points, tolerance / 2)], 1), radius, tolerance / 2));
}

/** All that a disc of `radius` mm covers while its centre goes along a line or an arc, within `tolerance` mm. */
export function sweepSegment(s: Segment, radius: number, tolerance: number): Polygons {
  needTolerance(tolerance);
  const points =
    s.kind === "line" && s.from.x === s.to.x && s.from.y === s.to.y ? [s.from] : flattenSegment(s, tolerance / 2);
  return sweepPolyline(points, radius, tolerance);
}

function needTolerance(tolerance: number): void {
  if (!(tolerance > 0 && Number.isFinite(tolerance)))
    throw new RangeError(`a tolerance must be above zero, not ${tolerance}`);
}
