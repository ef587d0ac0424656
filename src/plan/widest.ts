import type { AssemblyPiece } from "../shop/cutter.ts";

/** Largest radius of a piece of an assembly from the spindle's axis, mm, its own offset included. */
export function largestRadiusOf(piece: AssemblyPiece): number {
  const p = piece.profile;
  const aside = Math.hypot(piece.offset.x, piece.offset.y);
  switch (p.kind) {
    case "cylinder":
      return aside + p.radius;
    case "cone":
      return aside + Math.max(p.fromRadius, p.toRadius);
    case "round":
      return aside + p.core + p.radius;
  }
}
