import type { Assembly, AssemblyMember, ProfilePiece } from "../shop/cutter.ts";

/**
 * Questions about an assembly's radius over a stretch of heights above the tip, each answered in closed form per
 * profile piece. Only pieces on the spindle's own axis; what shares the carriage is judged on the grid. mm.
 */
export type Silhouette = readonly ProfilePiece[];

/** The profile of the whole assembly, or of some of its members. */
export function silhouetteOf(assembly: Assembly, members?: readonly AssemblyMember[]): Silhouette {
  return assembly.pieces
    .filter((p) => p.offset.x === 0 && p.offset.y === 0)
    .filter((p) => members === undefined || members.includes(p.member))
    .map((p) => p.profile)
    .filter((p) => p.to > p.from);
}

/** Radius of a piece at height h within it. */
export function radiusAt(piece: ProfilePiece, h: number): number {
  switch (piece.kind) {
    case "cylinder":
      return piece.radius;
    case "cone": {
      const t = (h - piece.from) / (piece.to - piece.from);
      return piece.fromRadius + t * (piece.toRadius - piece.fromRadius);
    }
    case "round": {
      const w = piece.radius - (h - piece.from);
      return piece.core + Math.sqrt(Math.max(0, piece.radius * piece.radius - w * w));
    }
  }
}

/** Largest radius anywhere between two heights; −∞ where the silhouette has nothing. */
export function widest(s: Silhouette, low: number, high: number): number {
  let most = Number.NEGATIVE_INFINITY;
  for (const p of s) {
    const a = Math.max(low, p.from);
    const b = Math.min(high, p.to);
    // Every kind of piece changes one way only, so its ends decide.
    if (a <= b) most = Math.max(most, radiusAt(p, a), radiusAt(p, b));
  }
  return most;
}

/**
 * Largest r(h) − h × tan between two heights: what a wall leaning by `tan` must keep clear of.
 * On a quarter round of radius R the slope dr/dh equals tan where R − (h − from) = R·tan/√(1 + tan²).
 */
export function widestLeaning(s: Silhouette, low: number, high: number, tan: number): number {
  let most = Number.NEGATIVE_INFINITY;
  for (const p of s) {
    const a = Math.max(low, p.from);
    const b = Math.min(high, p.to);
    if (a > b) continue;
    most = Math.max(most, radiusAt(p, a) - a * tan, radiusAt(p, b) - b * tan);
    if (p.kind === "round") {
      const h = p.from + p.radius - (p.radius * tan) / Math.sqrt(1 + tan * tan);
      if (h > a && h < b) most = Math.max(most, radiusAt(p, h) - h * tan);
    }
  }
  return most;
}

/** Lowest height between two at which the radius exceeds q; ∞ where it never does. */
export function lowestWider(s: Silhouette, low: number, high: number, q: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (const p of s) {
    const a = Math.max(low, p.from);
    const b = Math.min(high, p.to);
    if (a > b || a >= least) continue;
    if (radiusAt(p, a) > q) least = a;
    else if (radiusAt(p, b) > q) least = Math.min(least, Math.max(a, heightOfRadius(p, q)));
  }
  return least;
}

/** Height within a piece at which its radius is q; called only where the piece grows through q. */
function heightOfRadius(p: ProfilePiece, q: number): number {
  switch (p.kind) {
    case "cylinder":
      return p.from;
    case "cone":
      return p.from + ((q - p.fromRadius) / (p.toRadius - p.fromRadius)) * (p.to - p.from);
    case "round": {
      const w = Math.max(0, q - p.core);
      return p.from + p.radius - Math.sqrt(Math.max(0, p.radius * p.radius - w * w));
    }
  }
}

/**
 * The least silhouette around this one that never gets narrower upwards. A shank thinner than its bit is taken as thick
 * as the bit; so is the whole of a piece that begins narrower than what lies below it and ends wider.
 */
export function rising(s: Silhouette): Silhouette {
  let below = 0;
  return [...s]
    .sort((a, b) => a.from - b.from)
    .map((p): ProfilePiece => {
      const bottom = radiusAt(p, p.from);
      const top = radiusAt(p, p.to);
      const before = below;
      below = Math.max(below, bottom, top);
      if (bottom >= before && top >= bottom) return p;
      return { kind: "cylinder", from: p.from, to: p.to, radius: below };
    });
}
