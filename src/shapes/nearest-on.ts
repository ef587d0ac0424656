import { distance, type Point } from "./point.ts";
import { radiusOf, type Segment, shareTowards } from "./segment.ts";

/** The nearest point of a segment, how far along it lies (0 to 1), and how far away, mm. */
export interface Nearest {
  readonly point: Point;
  readonly t: number;
  readonly distance: number;
}

/** The point of a segment nearest to p. From an arc's own centre all points are as near: its start is returned. */
export function nearestOn(s: Segment, p: Point): Nearest {
  switch (s.kind) {
    case "line": {
      const dx = s.to.x - s.from.x;
      const dy = s.to.y - s.from.y;
      const square = dx * dx + dy * dy;
      const t = square === 0 ? 0 : ((p.x - s.from.x) * dx + (p.y - s.from.y) * dy) / square;
      if (t <= 0) return { point: s.from, t: 0, distance: distance(s.from, p) };
      if (t >= 1) return { point: s.to, t: 1, distance: distance(s.to, p) };
      // The cross product keeps the distance true to the last digits even far along a long line.
      const away = Math.abs(dx * (p.y - s.from.y) - dy * (p.x - s.from.x)) / Math.sqrt(square);
      return { point: { x: s.from.x + t * dx, y: s.from.y + t * dy }, t, distance: away };
    }
    case "arc": {
      const dx = p.x - s.centre.x;
      const dy = p.y - s.centre.y;
      const out = Math.hypot(dx, dy);
      const t = shareTowards(s, dx, dy);
      if (t !== undefined) {
        const r = radiusOf(s);
        const point = { x: s.centre.x + (dx / out) * r, y: s.centre.y + (dy / out) * r };
        return { point, t, distance: Math.abs(out - r) };
      }
      const a = distance(s.from, p);
      const b = distance(s.to, p);
      return a <= b ? { point: s.from, t: 0, distance: a } : { point: s.to, t: 1, distance: b };
    }
  }
}
