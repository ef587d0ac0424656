import Coordinate from "jsts/org/locationtech/jts/geom/Coordinate.js";
import GeometryFactory, { type Geometry } from "jsts/org/locationtech/jts/geom/GeometryFactory.js";
import BufferOp from "jsts/org/locationtech/jts/operation/buffer/BufferOp.js";
import OverlayOp from "jsts/org/locationtech/jts/operation/overlay/OverlayOp.js";
import { groupRings } from "../../src/shapes/kernel.ts";
import type { Point } from "../../src/shapes/point.ts";
import type { Polygons, Ring } from "../../src/shapes/rings.ts";

/** An independent floating-point polygon library, for tests and side-by-side timing only. */
const factory = new GeometryFactory();

function ringOf(ring: Ring): Geometry {
  return factory.createLinearRing([...ring, ring[0]!].map((p) => new Coordinate(p.x, p.y)));
}

export function refereeGeometry(polygons: Polygons): Geometry {
  return factory.createMultiPolygon(
    groupRings(polygons).map(([outer, ...holes]) => factory.createPolygon(ringOf(outer!), holes.map(ringOf))),
  );
}

export function refereeOffset(polygons: Polygons, delta: number, quadrantSegments: number): Geometry {
  return BufferOp.bufferOp(refereeGeometry(polygons), delta, quadrantSegments);
}

export function refereeSweep(points: readonly Point[], radius: number, quadrantSegments: number): Geometry {
  const path = factory.createLineString(points.map((p) => new Coordinate(p.x, p.y)));
  return BufferOp.bufferOp(path, radius, quadrantSegments);
}

export const refereeCombine = {
  union: (a: Polygons, b: Polygons): number => OverlayOp.union(refereeGeometry(a), refereeGeometry(b)).getArea(),
  intersection: (a: Polygons, b: Polygons): number =>
    OverlayOp.intersection(refereeGeometry(a), refereeGeometry(b)).getArea(),
  difference: (a: Polygons, b: Polygons): number =>
    OverlayOp.difference(refereeGeometry(a), refereeGeometry(b)).getArea(),
};
