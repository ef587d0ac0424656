// The library brings no types for the files it is imported by; these are the few calls the tests make.
declare module "jsts/org/locationtech/jts/geom/Coordinate.js" {
  export default class Coordinate {
    constructor(x: number, y: number);
    x: number;
    y: number;
  }
}
declare module "jsts/org/locationtech/jts/geom/GeometryFactory.js" {
  import type Coordinate from "jsts/org/locationtech/jts/geom/Coordinate.js";
  export interface Geometry {
    getArea(): number;
    isValid(): boolean;
    isEmpty(): boolean;
  }
  export default class GeometryFactory {
    createLinearRing(points: Coordinate[]): Geometry;
    createLineString(points: Coordinate[]): Geometry;
    createPolygon(shell: Geometry, holes: Geometry[]): Geometry;
    createMultiPolygon(polygons: Geometry[]): Geometry;
  }
}
declare module "jsts/org/locationtech/jts/operation/buffer/BufferOp.js" {
  import type { Geometry } from "jsts/org/locationtech/jts/geom/GeometryFactory.js";

  const BufferOp: { bufferOp(g: Geometry, distance: number, quadrantSegments: number): Geometry };
  export default BufferOp;
}
declare module "jsts/org/locationtech/jts/operation/overlay/OverlayOp.js" {
  import type { Geometry } from "jsts/org/locationtech/jts/geom/GeometryFactory.js";

  const OverlayOp: {
    union(a: Geometry, b: Geometry): Geometry;
    intersection(a: Geometry, b: Geometry): Geometry;
    difference(a: Geometry, b: Geometry): Geometry;
  };
  export default OverlayOp;
}
