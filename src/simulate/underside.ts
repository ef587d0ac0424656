import type { Assembly, AssemblyMember, AssemblyPiece, ProfilePiece } from "../shop/cutter.ts";

/**
 * A ring of a body of revolution seen from below: on distances q from the axis with inner < q ≤ outer, the body's
 * lowest point stands `heightOn(u, q)` above the tip. Heights never fall outwards, and rise ever more steeply within
 * one ring. mm.
 */
export type Underside =
  | { readonly kind: "flat"; readonly inner: number; readonly outer: number; readonly height: number }
  | {
      readonly kind: "cone";
      readonly inner: number;
      readonly outer: number;
      readonly height: number;
      /** Rise a mm outwards, > 0. */
      readonly slope: number;
    }
  | {
      readonly kind: "round";
      readonly inner: number;
      readonly outer: number;
      readonly height: number;
      readonly core: number;
      readonly radius: number;
    };

/** Height above the tip at distance q from the axis, inner ≤ q ≤ outer; nearer the axis, the height at `inner`. */
export function heightOn(u: Underside, q: number): number {
  switch (u.kind) {
    case "flat":
      return u.height;
    case "cone":
      return u.height + Math.max(0, q - u.inner) * u.slope;
    case "round": {
      const w = Math.max(q, u.inner) - u.core;
      return u.height + u.radius - Math.sqrt(Math.max(0, u.radius * u.radius - w * w));
    }
  }
}

/** What cuts: the rings of the cutting end up to the flute length, and that length. */
export interface CuttingEnd {
  readonly rings: readonly Underside[];
  readonly radius: number;
  /** The cutter takes wood from its underside up to this height above the tip. */
  readonly fluteTop: number;
}

/** A part of the assembly that must not touch wood: a disc of `radius` seen from below, `height` above the tip. */
export interface DullPart {
  readonly member: AssemblyMember;
  readonly radius: number;
  readonly height: number;
  /** Upper end above the tip; ∞ for the topmost. */
  readonly top: number;
  readonly offset: { readonly x: number; readonly y: number };
}

/**
 * The cutting end of an assembly.
 * @throws RangeError when no piece of it is the cutter's
 */
export function cuttingEnd(assembly: Assembly): CuttingEnd {
  const fluteTop = assembly.cutter.fluteLength;
  const pieces = assembly.pieces
    .filter((p) => p.member === "cutter" && p.profile.from < fluteTop)
    .map((p) => clip(p.profile, p.profile.from, Math.min(p.profile.to, fluteTop)));
  const rings = undersides(pieces);
  if (rings.length === 0) throw new RangeError("an assembly has a cutting end");
  return { rings, radius: Math.max(...rings.map((r) => r.outer)), fluteTop };
}

/**
 * Everything above the flutes, each piece widened to a cylinder of its largest radius: on the safe side, and exact for
 * shanks, nuts and spindle bodies, which are cylinders.
 */
export function dullParts(assembly: Assembly): readonly DullPart[] {
  const flute = assembly.cutter.fluteLength;
  return assembly.pieces
    .filter((p) => p.member !== "cutter" || p.profile.to > flute)
    .map((p) => dullPart(p, p.member === "cutter" ? Math.max(flute, p.profile.from) : p.profile.from))
    .filter((d) => d.radius > 0);
}

/** The whole assembly as cylinders no smaller than it, for distances to solids: the cutting end included. */
export function hull(assembly: Assembly): readonly DullPart[] {
  return assembly.pieces.map((p) => dullPart(p, p.profile.from)).filter((d) => d.radius > 0);
}

function dullPart(p: AssemblyPiece, from: number): DullPart {
  const radius = Math.max(radiusAt(p.profile, from), radiusAt(p.profile, p.profile.to));
  return { member: p.member, radius, height: from, top: p.profile.to, offset: p.offset };
}

/** Radius of a profile piece at a height within it. */
export function radiusAt(p: ProfilePiece, h: number): number {
  switch (p.kind) {
    case "cylinder":
      return p.radius;
    case "cone": {
      const span = p.to - p.from;
      return span <= 0
        ? Math.max(p.fromRadius, p.toRadius)
        : p.fromRadius + ((h - p.from) / span) * (p.toRadius - p.fromRadius);
    }
    case "round": {
      const up = p.radius - Math.min(h - p.from, p.radius);
      return p.core + Math.sqrt(Math.max(0, p.radius * p.radius - up * up));
    }
  }
}

function clip(p: ProfilePiece, from: number, to: number): ProfilePiece {
  switch (p.kind) {
    case "cylinder":
      return { ...p, from, to };
    case "cone":
      return { ...p, from, to, fromRadius: radiusAt(p, from), toRadius: radiusAt(p, to) };
    case "round":
      return { ...p, to };
  }
}

/** Walks up the pieces, keeping those rings that stand farther out than all below them. */
function undersides(pieces: readonly ProfilePiece[]): Underside[] {
  const rings: Underside[] = [];
  let reach = 0;
  const flatOut = (outer: number, height: number) => {
    if (outer <= reach) return;
    rings.push({ kind: "flat", inner: reach, outer, height });
    reach = outer;
  };
  for (const p of [...pieces].sort((a, b) => a.from - b.from)) {
    flatOut(radiusAt(p, p.from), p.from);
    const outer = radiusAt(p, p.to);
    if (outer <= reach) continue;
    switch (p.kind) {
      case "cylinder":
        break;
      case "cone": {
        const slope = (p.to - p.from) / (p.toRadius - p.fromRadius);
        const height = p.from + (reach - p.fromRadius) * slope;
        if (slope > 0) rings.push({ kind: "cone", inner: reach, outer, height, slope });
        else rings.push({ kind: "flat", inner: reach, outer, height });
        break;
      }
      case "round":
        rings.push({ kind: "round", inner: reach, outer, height: p.from, core: p.core, radius: p.radius });
        break;
    }
    reach = outer;
  }
  return rings;
}
