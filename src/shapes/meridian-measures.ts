import type { Meridian } from "./meridian.ts";
import { lengthOf, radiusOf, type Segment, sweepRad } from "./segment.ts";

/**
 * Area between a meridian and its axis, mm²: half the section along the axis. Exact: ∫ y dx, where an arc about (cx, cy)
 * gives cy·Δx − r²·(sweep/2 − Δ(sin 2θ)/4).
 */
export function areaOfMeridian(m: Meridian): number {
  return sum(m, (s) => {
    const dx = s.to.x - s.from.x;
    switch (s.kind) {
      case "line":
        return ((s.from.y + s.to.y) / 2) * dx;
      case "arc": {
        const { r, start, end, sweep } = turnOf(s);
        return s.centre.y * dx - r * r * (sweep / 2 - (Math.sin(2 * end) - Math.sin(2 * start)) / 4);
      }
    }
  });
}

/**
 * Volume of the turned solid, mm³. Exact: π ∫ y² dx, the frustum's formula for a line; for an arc with y = cy + r sin θ
 * and dx = −r sin θ dθ the three terms are integrated one by one. Agrees with Pappus: area times the centroid's path.
 */
export function volumeOfMeridian(m: Meridian): number {
  return (
    Math.PI *
    sum(m, (s) => {
      const dx = s.to.x - s.from.x;
      switch (s.kind) {
        case "line":
          return (dx * (s.from.y ** 2 + s.from.y * s.to.y + s.to.y ** 2)) / 3;
        case "arc": {
          const { r, start, end, sweep } = turnOf(s);
          const squares = sweep / 2 - (Math.sin(2 * end) - Math.sin(2 * start)) / 4;
          const cubes = (t: number): number => -Math.cos(t) + Math.cos(t) ** 3 / 3;
          return s.centre.y ** 2 * dx - 2 * s.centre.y * r * r * squares - r ** 3 * (cubes(end) - cubes(start));
        }
      }
    })
  );
}

/**
 * Area of the turned surface, mm², shoulders included, the two end faces not. Exact: 2π ∫ y ds, by Pappus the length of
 * each piece times the path of its centroid.
 */
export function surfaceOfMeridian(m: Meridian): number {
  return (
    2 *
    Math.PI *
    sum(m, (s) => {
      switch (s.kind) {
        case "line":
          return ((s.from.y + s.to.y) / 2) * lengthOf(s);
        case "arc": {
          const { r, start, end, sweep } = turnOf(s);
          return r * (s.centre.y * Math.abs(sweep) + Math.sign(sweep) * r * (Math.cos(start) - Math.cos(end)));
        }
      }
    })
  );
}

function sum(m: Meridian, of: (s: Segment) => number): number {
  return m.segments.reduce((total, s) => total + of(s), 0);
}

function turnOf(s: Extract<Segment, { kind: "arc" }>): {
  readonly r: number;
  readonly start: number;
  readonly end: number;
  readonly sweep: number;
} {
  const start = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x);
  const sweep = sweepRad(s);
  return { r: radiusOf(s), start, end: start + sweep, sweep };
}
