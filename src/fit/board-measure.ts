import type { Size } from "../job/board.ts";

/**
 * A board foot is a piece 12 in long, 12 in wide and 1 in thick, 144 cubic inches: Wood Handbook, FPL-GTR-282, glossary, from
 * memory. An inch is 25.4 mm.
 */
const BOARD_FOOT = 144 * 25.4 ** 3;

/** mm³ of a board. */
export function volumeOf({ length, width, thickness }: Size): number {
  return length * width * thickness;
}

/** Board feet in a volume of mm³; of the wood as it is, without rounding thin boards up to an inch as sellers do. */
export function boardFeet(mm3: number): number {
  return mm3 / BOARD_FOOT;
}

/** Cubic metres in a volume of mm³. */
export function cubicMetres(mm3: number): number {
  return mm3 / 1e9;
}

/** Square metres and square feet of a sheet's face, mm². */
export function sheetArea(mm2: number): { readonly squareMetres: number; readonly squareFeet: number } {
  return { squareMetres: mm2 / 1e6, squareFeet: mm2 / (12 * 25.4) ** 2 };
}
