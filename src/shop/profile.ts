import type { AssemblyPiece, Cutter, ProfilePiece } from "./cutter.ts";

/**
 * The cutting part of a cutter as radius at height, from the tip (0) to the end of its flutes, without gaps. mm.
 *
 * Flat: a cylinder. Round-nose: a quarter round, then a cylinder. Radiused corner: a quarter round outside a flat core.
 * V and countersink: a cone from half the tip flat, then a cylinder. Drill: its point as a cone, then a cylinder. A form
 * whose nose is taller than its flutes ends where the flutes end.
 */
export function cutterProfile(cutter: Cutter): readonly ProfilePiece[] {
  const radius = cutter.diameter / 2;
  const top = cutter.fluteLength;
  const { form } = cutter;
  switch (form.kind) {
    case "flat":
      return [{ kind: "cylinder", from: 0, to: top, radius }];
    case "round-nose":
      return rounded(0, radius, radius, top);
    case "radiused-corner":
      return rounded(radius - form.cornerRadius, form.cornerRadius, radius, top);
    case "v":
    case "countersink":
      return pointed(form.tipFlat / 2, radius, form.includedAngle, top);
    case "drill":
      return pointed(0, radius, form.pointAngle, top);
  }
}

/**
 * Height of the nose, mm: where the full diameter is first reached, measured from the tip. 0 for a flat cutter.
 * Source: plane geometry; for a cone (R − flat / 2) / tan(half the included angle).
 */
export function noseHeight(cutter: Cutter): number {
  const radius = cutter.diameter / 2;
  const { form } = cutter;
  switch (form.kind) {
    case "flat":
      return 0;
    case "round-nose":
      return radius;
    case "radiused-corner":
      return form.cornerRadius;
    case "v":
    case "countersink":
      return (radius - form.tipFlat / 2) / halfTan(form.includedAngle);
    case "drill":
      return radius / halfTan(form.pointAngle);
  }
}

/**
 * Radius of a piece at height h above the tip, mm; 0 outside the piece's own interval, whose ends belong to it.
 */
export function radiusOfPiece(piece: AssemblyPiece | ProfilePiece, h: number): number {
  const p = "profile" in piece ? piece.profile : piece;
  if (!(h >= p.from && h <= p.to)) return 0;
  switch (p.kind) {
    case "cylinder":
      return p.radius;
    case "cone": {
      if (h === p.to) return p.toRadius;
      return p.fromRadius + ((h - p.from) / (p.to - p.from)) * (p.toRadius - p.fromRadius);
    }
    case "round": {
      const below = p.radius - (h - p.from);
      return p.core + Math.sqrt(Math.max(0, p.radius * p.radius - below * below));
    }
  }
}

/**
 * Largest radius of the cutting part anywhere from the tip up to height h, mm: what a cut whose floor lies h below the
 * surface is wide at that surface. 0 below the tip; above the flutes it stays at the flutes' largest.
 */
export function cutterRadiusAt(cutter: Cutter, h: number): number {
  if (!(h >= 0)) return 0;
  const pieces = cutterProfile(cutter);
  let largest = 0;
  for (const p of pieces) {
    if (h < p.from) break;
    largest = Math.max(largest, radiusOfPiece(p, Math.min(h, p.to)));
  }
  return largest;
}

function rounded(core: number, round: number, radius: number, top: number): readonly ProfilePiece[] {
  if (!(round > 0)) return [{ kind: "cylinder", from: 0, to: top, radius }];
  const nose: ProfilePiece = { kind: "round", from: 0, to: Math.min(round, top), core, radius: round };
  return top > round ? [nose, { kind: "cylinder", from: round, to: top, radius }] : [nose];
}

function pointed(tip: number, radius: number, includedAngle: number, top: number): readonly ProfilePiece[] {
  const tan = halfTan(includedAngle);
  const height = (radius - tip) / tan;
  if (top > height) {
    return [
      { kind: "cone", from: 0, to: height, fromRadius: tip, toRadius: radius },
      { kind: "cylinder", from: height, to: top, radius },
    ];
  }
  return [{ kind: "cone", from: 0, to: top, fromRadius: tip, toRadius: tip + top * tan }];
}

function halfTan(includedAngle: number): number {
  return Math.tan((includedAngle * Math.PI) / 360);
}
