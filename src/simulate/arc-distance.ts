import type { ArcPath } from "./path.ts";

/** Distance of a point from an arc in plan, as a function made once an arc. mm. */
export function arcDistance(arc: ArcPath): (x: number, y: number) => number {
  const { centre, radius } = arc;
  const ccw = arc.sweepRad > 0;
  const first = ccw ? arc.startRad : arc.startRad + arc.sweepRad;
  const turn = Math.abs(arc.sweepRad);
  const sx = Math.cos(first);
  const sy = Math.sin(first);
  const ex = Math.cos(first + turn);
  const ey = Math.sin(first + turn);
  const whole = turn >= 2 * Math.PI;
  const wide = turn > Math.PI;
  return (x, y) => {
    const dx = x - centre.x;
    const dy = y - centre.y;
    const afterStart = sx * dy - sy * dx >= 0;
    const beforeEnd = dx * ey - dy * ex >= 0;
    const inside = whole || (wide ? afterStart || beforeEnd : afterStart && beforeEnd);
    if (inside) return Math.abs(Math.sqrt(dx * dx + dy * dy) - radius);
    const a = Math.hypot(dx - radius * sx, dy - radius * sy);
    const b = Math.hypot(dx - radius * ex, dy - radius * ey);
    return Math.min(a, b);
  };
}
