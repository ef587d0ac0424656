import { extentOfMeridian, radiiOver } from "../../shapes/meridian.ts";
import { boundsOfRegion } from "../../shapes/region.ts";
import type { TurnedPiece } from "../turned-piece.ts";

/** A stretch of the turned wood that a support bears on. Along the piece's axis, mm. */
export interface Bearing {
  readonly where: "first end" | "middle" | "second end";
  /** The support's own thickness along the axis. */
  readonly from: number;
  readonly to: number;
  /** Largest and least radius within it: it bears on the largest. */
  readonly radius: number;
  readonly least: number;
}

/** Thicknesses that a support may have, mm, thickest first. Common practice, no source. */
export const THICKNESSES = [18, 12, 9, 6] as const;
/** Radii within a support may differ by this much before a thinner support is taken, mm. Common practice, no source. */
const EVEN = 0.3;
/** Step between the places tried along the axis, mm. */
const STEP = 0.5;

/**
 * The best place for a support within a stretch of the axis: the thickest support whose wood is even, of these the
 * evenest (to a hundredth of a millimetre), of these the one nearest to `towards`. Radii are exact over the whole support.
 * @param thickest what the shop can cut out, mm
 * @returns undefined where no support fits into the stretch
 */
export function bearingWithin(
  piece: TurnedPiece,
  where: Bearing["where"],
  stretch: { readonly from: number; readonly to: number },
  towards: number,
  thickest = Number.POSITIVE_INFINITY,
): Bearing | undefined {
  let uneven: Bearing | undefined;
  const thin = THICKNESSES[THICKNESSES.length - 1]!;
  for (const thickness of THICKNESSES.filter((t) => t <= thickest || t === thin)) {
    const tried = placesIn(piece, where, stretch, thickness);
    const best = bestOf(
      tried.filter((b) => b.radius - b.least <= EVEN),
      towards,
    );
    if (best !== undefined) return best;
    // The last and thinnest is taken even where the wood is uneven: it bears on a line.
    uneven = mostEven(tried) ?? uneven;
  }
  return uneven;
}

function placesIn(
  piece: TurnedPiece,
  where: Bearing["where"],
  stretch: { readonly from: number; readonly to: number },
  thickness: number,
): readonly Bearing[] {
  const found: Bearing[] = [];
  const last = stretch.to - thickness;
  const add = (from: number): void => {
    const radii = radiiOver(piece.meridian, from, from + thickness);
    if (radii !== undefined) found.push({ where, from, to: from + thickness, radius: radii.most, least: radii.least });
  };
  for (let i = 0; stretch.from + i * STEP <= last + 1e-9; i++) add(stretch.from + i * STEP);
  return found;
}

function bestOf(tried: readonly Bearing[], towards: number): Bearing | undefined {
  const away = (b: Bearing): number => Math.abs((b.from + b.to) / 2 - towards);
  const uneven = (b: Bearing): number => Math.round((b.radius - b.least) * 100);
  return [...tried].sort((a, b) => uneven(a) - uneven(b) || away(a) - away(b))[0];
}

function mostEven(tried: readonly Bearing[]): Bearing | undefined {
  return [...tried].sort((a, b) => a.radius - a.least - (b.radius - b.least))[0];
}

/** A stretch of the axis, mm. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** The stretch that is turned round: the meridian less what is square. */
export function turnedStretch(piece: TurnedPiece): Stretch {
  let { from, to } = extentOfMeridian(piece.meridian);
  for (const s of piece.squares) {
    if (s.from <= from + 1e-9 && s.to > from) from = s.to;
    if (s.to >= to - 1e-9 && s.from < to) to = s.from;
  }
  return { from, to };
}

/** Where each finger room of a piece lies along the axis, in order. */
export function roomStretches(piece: TurnedPiece): readonly Stretch[] {
  const room = piece.fingerRoom;
  const box = room === undefined ? undefined : boundsOfRegion(room.section);
  if (room === undefined || box === undefined) return [];
  return [0, ...(room.alsoAt ?? [])]
    .map((shift) => ({ from: box.min.x + shift, to: box.max.x + shift }))
    .sort((a, b) => a.from - b.from);
}
