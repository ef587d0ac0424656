/** A whole number over a whole number, q > 0. Whole as far as a double can be; longer decimals carry q = 1. */
export interface Rational {
  readonly n: number;
  readonly q: number;
}

/**
 * A rational times an exact factor, rounded once where the products are still whole numbers in a double. Inches are
 * n·254 / (q·10) and so come out as the nearest double; n/q·25.4 misses it about one time in three.
 */
export function scaled(value: Rational, factor: Rational): number {
  const n = value.n * factor.n;
  const q = value.q * factor.q;
  if (Math.abs(n) <= Number.MAX_SAFE_INTEGER && q <= Number.MAX_SAFE_INTEGER) return n / q;
  return (value.n / value.q) * (factor.n / factor.q);
}

/** The rational of a decimal's digits before and after the point; exact up to 15 digits, else the nearest double. */
export function decimal(whole: string, part: string): Rational {
  const digits = whole + part;
  if (digits.replace(/^0+/, "").length > 15 || part.length > 15)
    return { n: Number(`${whole || "0"}.${part || "0"}`), q: 1 };
  return { n: Number(digits), q: 10 ** part.length };
}
