import { type Read, read, type TextProblem, unread } from "./problem.ts";
import { scaled } from "./rational.ts";
import { bareUnit, type LengthUnit } from "./unit-table.ts";
import { type Bare, type Dimension, dimensionInWords, sameDimension, type Value } from "./value.ts";

/** Where an operation stands in its formula, for saying what is wrong with it. */
export interface Spot {
  readonly at: number;
  /** Index of the sign. */
  readonly sign: number;
  readonly length: number;
  readonly unit: LengthUnit;
  readonly text: string;
}

/** a + b, or a − b with `sign` −1. Only like and like can be added; a bare number takes the other's unit. */
export function combineSum(a: Value, b: Value, sign: 1 | -1, spot: Spot): Read<Value> {
  const pair = alike([a, b], spot);
  if (!pair.ok) return pair;
  const [x, y] = pair.value;
  return finite({ ...x!, value: x!.value + sign * y!.value }, joint([x!, y!], spot), spot);
}

/** a × b. Powers of length add up: a width times a thickness is an area. */
export function product(a: Value, b: Value, spot: Spot): Read<Value> {
  const value = { value: a.value * b.value, length: a.length + b.length, angle: a.angle + b.angle };
  return finite(value, joint([a, b], spot), spot);
}

/** a ÷ b. Powers of length are taken away: a width over a width is a plain number for good. */
export function quotient(a: Value, b: Value, spot: Spot): Read<Value> {
  if (b.value === 0) {
    return unread({
      code: "formula-not-finite",
      what: "this divides by zero",
      mend: "check the size under the division sign",
      at: spot.sign,
      length: 1,
    });
  }
  const value = { value: a.value / b.value, length: a.length - b.length, angle: a.angle - b.angle };
  const bare = joint([a, b], spot);
  // 1 / 2 with spaces is still a fraction to whoever thinks in inches.
  const exact = fractionOf(a, b);
  return finite(
    value,
    bare && { ...bare, fraction: bare.fraction || exact !== undefined, ...(exact && { exact }) },
    spot,
  );
}

/** The smallest or largest of several like values. */
export function extreme(which: "min" | "max", values: readonly Value[], spot: Spot): Read<Value> {
  const pair = alike(values, spot);
  if (!pair.ok) return pair;
  const numbers = pair.value.map((v) => v.value);
  const value = which === "min" ? Math.min(...numbers) : Math.max(...numbers);
  return finite({ ...pair.value[0]!, value }, joint(pair.value, spot), spot);
}

/**
 * The multiple of `step` nearest to `x` (halves go up), or the nearest one not below or not above. A value within a
 * millionth of a step of a multiple counts as that multiple, so that the dust of binary fractions lifts nothing.
 */
export function toStep(which: "round" | "round up" | "round down", x: Value, step: Value, spot: Spot): Read<Value> {
  const pair = alike([x, step], spot);
  if (!pair.ok) return pair;
  const [of, by] = [pair.value[0]!, pair.value[1]!];
  if (!(by.value > 0)) {
    return unread({
      code: "formula-syntax",
      what: "a step to round to must be more than nothing",
      mend: "write, for example, round(opening to 0.5 mm)",
      at: spot.at,
      length: spot.length,
    });
  }
  const steps = of.value / by.value;
  const near = Math.round(steps);
  const whole =
    Math.abs(steps - near) <= 1e-6
      ? near
      : which === "round"
        ? near
        : which === "round up"
          ? Math.ceil(steps)
          : Math.floor(steps);
  // Steps like 0.1 are not exact in binary; their inverse is, and dividing by it gives the nearest double.
  const inverse = Math.round(1 / by.value);
  const value = inverse > 1 && 1 / inverse === by.value ? whole / inverse : whole * by.value;
  return finite({ ...of, value }, joint(pair.value, spot), spot);
}

/** Brings a value to the dimension that is wanted: as it is, or as a bare number in the file's unit. */
export function adopt(v: Value, wanted: Dimension, unit: LengthUnit): Read<Value> | undefined {
  if (sameDimension(v, wanted)) return read(v);
  if (!v.bare) return undefined;
  if (wanted.length === 1 && wanted.angle === 0) {
    if (v.bare.fraction && unit === "mm") return unread(bareFraction(v.value, v.bare, undefined));
    const factor = bareUnit("length", unit).factor;
    return read({ value: scaled(v.bare.exact ?? { n: v.value, q: 1 }, factor), length: 1, angle: 0 });
  }
  if (wanted.length === 0 && wanted.angle === 1) return read({ value: v.value, length: 0, angle: 1 });
  return undefined;
}

/** The question that a fraction without a unit raises in a millimetre file. */
export function bareFraction(value: number, bare: Pick<Bare, "at" | "length">, shown: string | undefined): TextProblem {
  const mm = String(Number(value.toFixed(4)));
  return {
    code: "bare-fraction",
    what: "a fraction without a unit, in a file that reckons in millimetres",
    mend: `do you mean ${shown ?? "this fraction of an"} ${shown === undefined ? "inch (write in after it)" : "in"}, or ${mm} mm?`,
    at: bare.at,
    length: bare.length,
  };
}

/** Brings all values to one dimension, that of the first which is not bare. */
function alike(values: readonly Value[], spot: Spot): Read<readonly Value[]> {
  const lead = values.find((v) => !v.bare);
  if (!lead) return read(values);
  const out: Value[] = [];
  for (const v of values) {
    const adopted = adopt(v, lead, spot.unit);
    if (adopted === undefined) {
      const names = [dimensionInWords(lead), dimensionInWords(v)];
      return unread({
        code: "formula-mixes",
        what: `this mixes ${names[0]} and ${names[1]}`,
        why: "only like and like can be added or compared",
        mend: "check what each size is; a number of pieces or a ratio cannot be added to a length",
        at: spot.sign,
        length: spot.sign === spot.at ? spot.length : 1,
      });
    }
    if (!adopted.ok && v.bare) return unread(bareFraction(v.value, v.bare, fractionText(v.bare, spot.text)));
    if (!adopted.ok) return adopted;
    out.push(adopted.value);
  }
  return read(out);
}

function fractionText(bare: Bare, text: string): string | undefined {
  const shown = text.slice(bare.at, bare.at + bare.length);
  return /^[\d ]+\/\d+$/.test(shown) ? shown : undefined;
}

/** The bareness of what is made of several values: bare only when all are. */
function joint(values: readonly Value[], spot: Spot): Bare | undefined {
  if (!values.every((v) => v.bare)) return undefined;
  return { at: spot.at, length: spot.length, fraction: values.some((v) => v.bare?.fraction) };
}

function fractionOf(a: Value, b: Value): { n: number; q: number } | undefined {
  const [x, y] = [a.bare?.exact, b.bare?.exact];
  if (!x || !y || x.q !== 1 || y.q !== 1 || y.n <= 0 || !Number.isInteger(x.n) || !Number.isInteger(y.n))
    return undefined;
  return { n: x.n, q: y.n };
}

function finite(v: { value: number; length: number; angle: number }, bare: Bare | undefined, spot: Spot): Read<Value> {
  if (!Number.isFinite(v.value) || Math.abs(v.value) > 1e15) {
    return unread({
      code: "formula-not-finite",
      what: "this comes to a number larger than anything in a shop",
      mend: "check the sizes in it",
      at: spot.at,
      length: spot.length,
    });
  }
  const value = { value: v.value === 0 ? 0 : v.value, length: v.length, angle: v.angle };
  return read(bare ? { ...value, bare } : value);
}
