import type { ArcPath } from "./path.ts";

const WHOLE = 2 * Math.PI;

/**
 * Lowest tip while a disc of radius r, whose centre follows the arc with Z moving evenly, covers the point (x, y);
 * ∞ where it never does. The disc covers the point while the angle between them, seen from the arc's centre, is at
 * most α with cos α = (ρ² + a² − r²) ÷ (2ρa), ρ the point's and a the arc's radius (law of cosines). Going down, the
 * last such moment is the lowest; going up, the first. mm.
 */
export function lowestOnHelix(arc: ArcPath, r: number, x: number, y: number): number {
  const dx = x - arc.centre.x;
  const dy = y - arc.centre.y;
  const rho = Math.sqrt(dx * dx + dy * dy);
  const turn = Math.abs(arc.sweepRad);
  const down = arc.to.z < arc.from.z;
  const alpha = coverAngle(rho, arc.radius, r);
  if (alpha < 0) return Number.POSITIVE_INFINITY;
  if (alpha >= Math.PI) return Math.min(arc.from.z, arc.to.z);
  const sense = arc.sweepRad > 0 ? 1 : -1;
  const beta = sense * (Math.atan2(dy, dx) - arc.startRad);
  let at: number;
  if (down) {
    const k = Math.floor((turn + alpha - beta) / WHOLE);
    at = Math.min(turn, beta + WHOLE * k + alpha);
    if (at < 0) return Number.POSITIVE_INFINITY;
  } else {
    const k = Math.ceil((-alpha - beta) / WHOLE);
    at = Math.max(0, beta + WHOLE * k - alpha);
    if (at > turn) return Number.POSITIVE_INFINITY;
  }
  return arc.from.z + ((arc.to.z - arc.from.z) * at) / turn;
}

/** Half the angle over which the disc covers the point; negative when it never does, π when it always does. */
function coverAngle(rho: number, radius: number, r: number): number {
  if (rho + radius <= r) return Math.PI;
  if (Math.abs(rho - radius) > r) return -1;
  const cos = (rho * rho + radius * radius - r * r) / (2 * rho * radius);
  return Math.acos(Math.max(-1, Math.min(1, cos)));
}
