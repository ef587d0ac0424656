import { areaOfLoop, type Region } from "../shapes/region.ts";
import { radiusOf, tangentAt } from "../shapes/segment.ts";

/** Rounded corners tighter than this are drawn as sharp ones, mm. */
const SHARP = 0.05;
/** Turns smaller than this are rounding of a drawing, not corners, radians. */
const TURN = 0.02;

/**
 * Radius of the tightest rounded inside corner of a cavity's section, mm; Infinity when it has none or a sharp one. An
 * inside corner is where the boundary turns towards the cavity: left, walked with the cavity on the left.
 */
export function sharpestInside(section: Region): number {
  let least = Number.POSITIVE_INFINITY;
  for (const loop of section.loops) {
    if (loop.length === 0 || areaOfLoop(loop) === 0) continue;
    for (const s of loop) {
      if (s.kind === "arc" && s.ccw && radiusOf(s) > SHARP) least = Math.min(least, radiusOf(s));
    }
  }
  return least;
}

/** True when a section has an inside corner that no round bit can reach. */
export function hasSharpInside(section: Region): boolean {
  return section.loops.some((loop) =>
    loop.some((s, i) => {
      if (s.kind === "arc" && s.ccw && radiusOf(s) <= SHARP) return true;
      const next = loop[(i + 1) % loop.length]!;
      const a = tangentAt(s, 1);
      const b = tangentAt(next, 0);
      return Math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y) > TURN;
    }),
  );
}
