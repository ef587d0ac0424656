/** A length as it is set on a rule in millimetres and on one in inches. */
export interface OnRule {
  readonly mm: number;
  /** The nearest 64th, reduced: `15/64 in`, `1 1/2 in`, `0 in`. */
  readonly inch: string;
  /** What the 64th is more than the true length, mm: at most 0.2 either way. */
  readonly off: number;
}

/** A length with its nearest 64th of an inch. mm, ≥ 0 and finite: else it is our bug and throws RangeError. */
export function onRule(mm: number): OnRule {
  if (!(mm >= 0 && Number.isFinite(mm))) throw new RangeError(`${mm} can't be set on a rule`);
  const parts = Math.round((mm / 25.4) * 64);
  const off = (parts * 25.4) / 64 - mm;
  const whole = Math.floor(parts / 64);
  let n = parts % 64;
  let q = 64;
  while (n > 0 && n % 2 === 0) {
    n /= 2;
    q /= 2;
  }
  const fraction = n === 0 ? "" : `${n}/${q}`;
  const text = whole === 0 ? fraction : `${whole} ${fraction}`.trim();
  return { mm, inch: `${text === "" ? "0" : text} in`, off };
}

/** `5.95 mm (15/64 in)`. */
export function onBothRules(mm: number): string {
  return `${Number(mm.toFixed(2))} mm (${onRule(mm).inch})`;
}
