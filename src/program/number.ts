import type { Post } from "./post.ts";

/** The raster that written coordinates lie on. */
export interface Raster {
  /** mm between neighbouring written numbers. */
  readonly step: number;
  readonly decimals: number;
}

/** Beyond this no machine reaches, mm; a number beyond it is a mistake of ours. */
const FARTHEST = 100_000;

/** The raster of a post's coordinates. */
export function rasterOf(post: Post): Raster {
  return { step: (post.unit === "mm" ? 1 : 25.4) / 10 ** post.decimals, decimals: post.decimals };
}

/**
 * The nearest raster count; halves go away from zero on both sides, so that mirrored parts get mirrored numbers.
 * @throws RangeError for what is no number or farther than 100 m: a bug of ours
 */
export function countsOf(mm: number, raster: Raster): number {
  if (!(Math.abs(mm) <= FARTHEST)) throw new RangeError(`no machine goes to ${mm} mm`);
  const n = Math.round(Math.abs(mm) / raster.step);
  return mm < 0 && n !== 0 ? -n : n;
}

/** The raster count at or next above, for heights that must not come out lower. */
export function countsAtLeast(mm: number, raster: Raster): number {
  const n = countsOf(mm, raster);
  // A billionth of slack: a height already on the raster stays where it is.
  return n * raster.step < mm - 1e-9 ? n + 1 : n;
}

/** A raster count in mm. */
export function mmOf(counts: number, raster: Raster): number {
  return counts * raster.step;
}

/** A coordinate as text: fixed notation, always a point with a figure on both sides, no trailing zeros, no minus zero. */
export function coordinate(counts: number, raster: Raster): string {
  return fixed(counts, raster.decimals);
}

/**
 * A feed as text, rounded down so that a limit which held still holds: 0.1 mm/min, or 0.001 in/min.
 * @param mmPerMin > 0
 * @throws RangeError for a feed that would be written as nothing
 */
export function feedText(mmPerMin: number, post: Post): string {
  const decimals = post.unit === "mm" ? 1 : 3;
  const perUnit = post.unit === "mm" ? 1 : 25.4;
  const counts = Math.floor((mmPerMin / perUnit) * 10 ** decimals + 1e-6);
  if (!(counts >= 1 && counts < 1e9)) throw new RangeError(`no cutter feeds at ${mmPerMin} mm/min`);
  return fixed(counts, decimals);
}

/** A wait in seconds as text, rounded up to hundredths. */
export function secondsText(seconds: number): string {
  if (!(seconds >= 0 && seconds < 10_000)) throw new RangeError(`no one waits ${seconds} s`);
  return fixed(Math.ceil(seconds * 100 - 1e-6), 2);
}

function fixed(counts: number, decimals: number): string {
  const digits = String(Math.abs(counts)).padStart(decimals + 1, "0");
  const whole = digits.slice(0, -decimals);
  let end = digits.length;
  while (end > whole.length + 1 && digits.charCodeAt(end - 1) === 48) end -= 1;
  return `${counts < 0 ? "-" : ""}${whole}.${digits.slice(whole.length, end)}`;
}
