/** Middle of a stretch, mm. */
export function middleOf(b: { readonly from: number; readonly to: number }): number {
  return (b.from + b.to) / 2;
}

/** A length as it is set at the bench: hundredths of a millimetre. */
export function mm(value: number): string {
  return value.toFixed(2);
}

/** Rounded to so many decimals. */
export function rounded(value: number, digits: number): number {
  return Math.round(value * 10 ** digits) / 10 ** digits;
}
