import type { IntPoint, Paths, PolyNode } from "clipper-lib";
import ClipperLib from "clipper-lib";
import type { Point } from "./point.ts";
import { areaOfRing, type Polygons, type Ring, windingOf } from "./rings.ts";

/**
 * The door to the integer polygon kernel: nothing of it passes beyond this file but whole-number paths. A grid of
 * 1e4 units/mm moves a point by at most 0.19 µm and stays on the kernel's fast path up to ±4.7 m (both measured).
 */

/** Units of the kernel's grid in a millimetre. */
export const UNITS_PER_MM = 1e4;
/** Largest coordinate taken, mm: far beyond any board, far below where the kernel loses digits. */
export const LARGEST_MM = 100_000;
/**
 * The kernel's arc tolerance is no bound: it leaves the remainder of a corner to the last chord, which may span 1.5
 * steps, hence 1.5² of the error (2.22 measured).
 */
const WORST_CHORD = 2.25;

/** Rings on the kernel's grid. */
export type GridPaths = Paths;

/**
 * Polygons on the grid. Rings of fewer than three points hold no area and are left out.
 * @throws RangeError on a coordinate that is no number, infinite, or beyond ±100 m
 */
export function toGrid(polygons: readonly Ring[], least = 3): GridPaths {
  const paths: GridPaths = [];
  for (const ring of polygons) {
    if (ring.length < least) continue;
    const path: IntPoint[] = new Array(ring.length);
    for (let i = 0; i < ring.length; i++) {
      const { x, y } = ring[i]!;
      needRange(ring[i]!);
      path[i] = { X: Math.round(x * UNITS_PER_MM), Y: Math.round(y * UNITS_PER_MM) };
    }
    paths.push(path);
  }
  return paths;
}

/** The kernel answers NaN with an empty result, without a word. */
function needRange({ x, y }: Point): void {
  if (!(Math.abs(x) <= LARGEST_MM && Math.abs(y) <= LARGEST_MM)) {
    throw new RangeError(`coordinate ${x}, ${y} is outside ±${LARGEST_MM} mm`);
  }
}

/** Polygons off the grid. */
export function fromGrid(paths: GridPaths): Polygons {
  // Adding 0 turns −0 into 0, so that equal shapes print alike.
  return paths.map((path) => path.map(({ X, Y }) => ({ x: X / UNITS_PER_MM + 0, y: Y / UNITS_PER_MM + 0 })));
}

/**
 * One connected shape, grown (delta > 0) or shrunk by round joins; mm. Returns the connected shapes that result, each
 * an outer ring and its holes. Chords of the joins keep within `chordError` mm, and run nearer to the shape's corners
 * than the true arc.
 */
export function growShape(shape: GridPaths, delta: number, chordError: number): GridPaths[] {
  const offset = new ClipperLib.ClipperOffset(2, arcTolerance(chordError));
  offset.AddPaths(shape, ClipperLib.JoinType.jtRound, ClipperLib.EndType.etClosedPolygon);
  const tree = new ClipperLib.PolyTree();
  offset.Execute(tree, delta * UNITS_PER_MM);
  return shapesOf(tree);
}

/** An open path grown to both sides with round ends and joins. A path of one point gives a disc. */
export function growPath(path: GridPaths, radius: number, chordError: number): GridPaths {
  const offset = new ClipperLib.ClipperOffset(2, arcTolerance(chordError));
  offset.AddPaths(path, ClipperLib.JoinType.jtRound, ClipperLib.EndType.etOpenRound);
  const out: GridPaths = [];
  offset.Execute(out, radius * UNITS_PER_MM);
  return out;
}

function arcTolerance(chordError: number): number {
  // Below a quarter of a unit the grid is coarser than the arc.
  return Math.max(0.25, (chordError * UNITS_PER_MM) / WORST_CHORD);
}

/** Which points count: in any, in both, in the first alone. */
export type Combination = "union" | "intersection" | "difference";

/** Combines areas. Rings come back without repeated points, outer ones counter-clockwise. */
export function combine(how: Combination, subject: GridPaths, clip: GridPaths): GridPaths {
  const clipper = clipperWith(subject, clip);
  // Without this, rings that touch themselves at a point come back as one ring with a repeated point.
  clipper.StrictlySimple = true;
  const out: GridPaths = [];
  clipper.Execute(clipType(how), out, ClipperLib.PolyFillType.pftPositive, ClipperLib.PolyFillType.pftPositive);
  return out;
}

/** The area that rings wind around at all, whichever way (`nonzero`), or an odd number of times. */
export function fill(paths: GridPaths, rule: "nonzero" | "even-odd"): GridPaths[] {
  const clipper = clipperWith(paths, []);
  const tree = new ClipperLib.PolyTree();
  const type = rule === "nonzero" ? ClipperLib.PolyFillType.pftNonZero : ClipperLib.PolyFillType.pftEvenOdd;
  clipper.Execute(ClipperLib.ClipType.ctUnion, tree, type, type);
  return shapesOf(tree);
}

/** Connected shapes, each an outer ring and its holes. */
export function connected(paths: GridPaths): GridPaths[] {
  const clipper = clipperWith(paths, []);
  const tree = new ClipperLib.PolyTree();
  // Strictly simple output would hang a few holes under the wrong outer ring (4 of 4,905 measured; without it none).
  const positive = ClipperLib.PolyFillType.pftPositive;
  clipper.Execute(ClipperLib.ClipType.ctUnion, tree, positive, positive);
  return shapesOf(tree);
}

/** A ring's points rounded to the grid, each once. */
export function onGrid(ring: Ring): Point[] {
  const out: Point[] = [];
  for (const { x, y } of ring) {
    const p = {
      x: Math.round(x * UNITS_PER_MM) / UNITS_PER_MM + 0,
      y: Math.round(y * UNITS_PER_MM) / UNITS_PER_MM + 0,
    };
    const last = out[out.length - 1];
    if (last === undefined || last.x !== p.x || last.y !== p.y) out.push(p);
  }
  const first = out[0];
  while (out.length > 1 && first!.x === out[out.length - 1]!.x && first!.y === out[out.length - 1]!.y) out.pop();
  return out;
}

/** Drops points that lie within `distance` mm of a neighbour or of the straight run between neighbours. */
export function cleaned(polygons: Polygons, distance: number): Polygons {
  return fromGrid(
    ClipperLib.Clipper.CleanPolygons(toGrid(polygons), distance * UNITS_PER_MM).filter((p) => p.length > 2),
  );
}

function clipperWith(subject: GridPaths, clip: GridPaths): ClipperLib.Clipper {
  const clipper = new ClipperLib.Clipper();
  clipper.AddPaths(subject, ClipperLib.PolyType.ptSubject, true);
  clipper.AddPaths(clip, ClipperLib.PolyType.ptClip, true);
  return clipper;
}

function clipType(how: Combination): ClipperLib.ClipType {
  switch (how) {
    case "union":
      return ClipperLib.ClipType.ctUnion;
    case "intersection":
      return ClipperLib.ClipType.ctIntersection;
    case "difference":
      return ClipperLib.ClipType.ctDifference;
  }
}

function shapesOf(tree: PolyNode): GridPaths[] {
  const shapes: GridPaths[] = [];
  const waiting: PolyNode[] = [...tree.Childs()];
  for (let node = waiting.pop(); node !== undefined; node = waiting.pop()) {
    const holes = node.Childs();
    shapes.push([node.Contour(), ...holes.map((h) => h.Contour())]);
    for (const hole of holes) waiting.push(...hole.Childs());
  }
  return shapes.reverse();
}

/**
 * Sorts rings into connected shapes without clipping: each hole goes to the smallest outer ring around it. Offsetting
 * shape by shape takes a tenth of the time of one call for all (measured on lettering). Holes without an outer ring
 * are left out.
 * @throws RangeError on a coordinate that is no number, infinite, or beyond ±100 m
 */
export function groupRings(polygons: Polygons): Polygons[] {
  const sized = polygons.filter((r) => r.length > 2).map((ring) => ({ ring, area: areaOfRing(ring) }));
  for (const { ring } of sized) ring.forEach(needRange);
  const outers = sized
    .filter((s) => s.area > 0)
    .sort((a, b) => a.area - b.area)
    .map((s) => ({ ring: s.ring, box: boxOf(s.ring), holes: [] as Ring[] }));
  const only = outers.length === 1 ? outers[0] : undefined;
  for (const { ring, area } of sized) {
    if (area >= 0) continue;
    const p = ring[0]!;
    const around =
      only ??
      outers.find(
        ({ ring: r, box: b }) => p.x >= b[0] && p.x <= b[1] && p.y >= b[2] && p.y <= b[3] && windingOf(r, p) !== 0,
      );
    around?.holes.push(ring);
  }
  return outers.map(({ ring, holes }) => [ring, ...holes]);
}

function boxOf(ring: Ring): readonly [number, number, number, number] {
  let [x0, x1, y0, y1] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const { x, y } of ring) {
    if (x < x0) x0 = x;
    if (x > x1) x1 = x;
    if (y < y0) y0 = y;
    if (y > y1) y1 = y;
  }
  return [x0, x1, y0, y1];
}
