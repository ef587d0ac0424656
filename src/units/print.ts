import { readQuantity } from "./quantity.ts";
import type { LengthUnit } from "./unit-table.ts";

/**
 * A length as a person writes it, in a unit: `12.5 mm`, `1 1/2 in`, `0.7 in`. Reading it again gives the same number,
 * bit for bit. Inches are a fraction where a rule shows one (down to 64ths), a decimal where six digits say it exactly; other sizes
 * are written in millimetres.
 * @param mm finite; 0, or 1e-80 ≤ |mm| < 1e12
 */
export function printLength(mm: number, unit: LengthUnit): string {
  if (!Number.isFinite(mm) || Math.abs(mm) >= 1e12)
    throw new RangeError("a length to print must be finite and below 1e12 mm");
  if (unit === "mm") return `${digits(mm)} mm`;
  const sign = mm < 0 ? "-" : "";
  const size = Math.abs(mm);
  const ruled = ruleFraction(size);
  if (ruled !== undefined) return `${sign}${ruled} in`;
  for (let places = 1; places <= 6; places++) {
    const text = `${sign}${digits(Number((size / 25.4).toPrecision(places)))} in`;
    const back = readQuantity(text, "length", "in");
    if (back.ok && back.value === mm) return text;
  }
  // It was no size in inches: a long decimal is harder to set on a rule than its millimetres.
  return `${digits(mm)} mm`;
}

function ruleFraction(mm: number): string | undefined {
  const parts = Math.round((mm / 25.4) * 64);
  if (parts > 1e9 || (parts * 254) / 640 !== mm) return undefined;
  let [n, q] = [parts % 64, 64];
  const whole = Math.floor(parts / 64);
  if (n === 0) return String(whole);
  while (n % 2 === 0) [n, q] = [n / 2, q / 2];
  return whole === 0 ? `${n}/${q}` : `${whole} ${n}/${q}`;
}

/** The shortest digits that read back as the same double, never with an exponent. */
function digits(value: number): string {
  const text = String(value);
  if (!text.includes("e")) return text;
  const [mantissa, exponent] = text.split("e") as [string, string];
  const places = -Number(exponent) + (mantissa.split(".")[1]?.length ?? 0);
  return places > 0 && places <= 100 ? value.toFixed(places) : value.toFixed(0);
}
