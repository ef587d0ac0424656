import type { Rational } from "./rational.ts";

/** How many lengths and how many angles were multiplied to make a value: a width is 1, an area 2, a ratio 0. */
export interface Dimension {
  readonly length: number;
  readonly angle: number;
}

/**
 * A value inside a formula: mm to the power of `length` times degrees to the power of `angle`.
 * `bare` marks what was made of nothing but numbers without a unit: next to a length it is read in the file's unit.
 * A ratio of two lengths, or a count of pieces, is a plain number for good, and is not bare.
 */
export interface Value extends Dimension {
  readonly value: number;
  readonly bare?: Bare;
}

/** Where a bare number stands, its exact value when it is a single one, and whether it was written as a fraction. */
export interface Bare {
  readonly at: number;
  readonly length: number;
  readonly exact?: Rational;
  readonly fraction: boolean;
}

/** A plain number for good. */
export const PLAIN: Dimension = { length: 0, angle: 0 };

/** True when two values may be added or compared as they stand. */
export function sameDimension(a: Dimension, b: Dimension): boolean {
  return a.length === b.length && a.angle === b.angle;
}

/** What a dimension is called in a sentence. */
export function dimensionInWords(d: Dimension): string {
  if (d.angle === 0) {
    switch (d.length) {
      case 0:
        return "a plain number";
      case 1:
        return "a length";
      case 2:
        return "an area";
      case 3:
        return "a volume";
      default:
        return `a length to the power of ${d.length}`;
    }
  }
  if (d.length === 0 && d.angle === 1) return "an angle";
  return "a mixture of lengths and angles";
}
