import { closest } from "./closest.ts";
import type { Rational } from "./rational.ts";

/** What a length may be given in by default. */
export type LengthUnit = "mm" | "in";

/** What a quantity is of. Inside: mm, degrees, mm/min, mm/s², rpm, watts, seconds, plain numbers. */
export type QuantityKind = "length" | "angle" | "feed" | "acceleration" | "speed" | "power" | "time" | "number";

/** A unit with its exact factor to the inside unit of its kind. */
export interface Unit {
  readonly name: string;
  readonly kind: QuantityKind;
  readonly factor: Rational;
}

function unit(name: string, kind: QuantityKind, n = 1, q = 1): Unit {
  return { name, kind, factor: { n, q } };
}

const MM = unit("mm", "length");
const INCH = unit("in", "length", 254, 10);
const FOOT = unit("ft", "length", 3048, 10);

/** 1 in = 25.4 mm exactly: the international yard and pound agreement of 1959. */
const SPELLINGS: readonly (readonly [Unit, readonly string[]])[] = [
  [MM, ["mm", "millimetre", "millimetres", "millimeter", "millimeters"]],
  [unit("cm", "length", 10), ["cm", "centimetre", "centimetres", "centimeter", "centimeters"]],
  [unit("m", "length", 1000), ["m", "metre", "metres", "meter", "meters"]],
  [INCH, ['"', "''", "in", "in.", "ins", "inch", "inches"]],
  [FOOT, ["'", "ft", "ft.", "foot", "feet"]],
  [unit("thou", "length", 254, 10000), ["thou"]],
  [unit("deg", "angle"), ["deg", "°", "degree", "degrees"]],
  [unit("mm/min", "feed"), ["mm/min", "mm/minute", "mm per min", "mm per minute", "millimetres per minute"]],
  [unit("mm/s", "feed", 60), ["mm/s", "mm/sec", "mm per second"]],
  [unit("m/min", "feed", 1000), ["m/min", "m per minute", "metres per minute", "meters per minute"]],
  [
    unit("in/min", "feed", 254, 10),
    ["in/min", "inch/min", "in per minute", "inches per minute", "inches/min", '"/min'],
  ],
  [unit("in/s", "feed", 15240, 10), ["in/s", "in/sec", "inches per second"]],
  [unit("mm/s²", "acceleration"), ["mm/s²", "mm/s2", "mm/s^2", "mm/s/s"]],
  [unit("in/s²", "acceleration", 254, 10), ["in/s²", "in/s2", "in/s^2", "in/s/s"]],
  [unit("rpm", "speed"), ["rpm", "rev/min", "r/min", "turns/min", "turns per minute"]],
  [unit("W", "power"), ["w", "watt", "watts"]],
  [unit("kW", "power", 1000), ["kw", "kilowatt", "kilowatts"]],
  [unit("s", "time"), ["s", "sec", "second", "seconds"]],
  [unit("ms", "time", 1, 1000), ["ms"]],
  [unit("min", "time", 60), ["min", "minute", "minutes"]],
  [unit("pieces", "number"), ["pieces", "piece", "pcs", "pc", "off"]],
];

/** Every spelling, the longest first, so that `mm/min` is not read as `mm`. */
const BY_LENGTH: readonly (readonly [string, Unit])[] = SPELLINGS.flatMap(([u, words]) =>
  words.map((w) => [w, u] as const),
).sort((a, b) => b[0].length - a[0].length);

/** The unit that a bare number of a kind has, given what the file's lengths are in. */
export function bareUnit(kind: QuantityKind, file: LengthUnit): Unit {
  switch (kind) {
    case "length":
      return file === "mm" ? MM : INCH;
    case "feed":
      return unitNamed(file === "mm" ? "mm/min" : "in/min");
    case "acceleration":
      return unitNamed(file === "mm" ? "mm/s²" : "in/s²");
    case "angle":
      return unitNamed("deg");
    case "speed":
      return unitNamed("rpm");
    case "power":
      return unitNamed("W");
    case "time":
      return unitNamed("s");
    case "number":
      return { name: "", kind: "number", factor: { n: 1, q: 1 } };
  }
}

/** The unit spelt at `at` in text with plain marks, as far as the longest spelling reaches; not the head of a longer word. */
export function unitAt(text: string, at: number): { readonly unit: Unit; readonly end: number } | undefined {
  const rest = text.slice(at, at + 24).toLowerCase();
  for (const [word, u] of BY_LENGTH) {
    if (!rest.startsWith(word)) continue;
    const next = rest.charAt(word.length);
    if (/[\p{L}]$/u.test(word) && /[\p{L}\p{N}_]/u.test(next)) continue;
    return { unit: u, end: at + word.length };
  }
  return undefined;
}

/** True when the word, as a whole, is a unit: such a word cannot name a measured size. */
export function isUnitWord(word: string): boolean {
  const found = unitAt(word, 0);
  return found !== undefined && found.end === word.length;
}

/** The unit's spelling nearest to a word that is none, for "do you mean"; two letters are too few to tell. */
export function unitLike(word: string): string | undefined {
  if (word.length < 3) return undefined;
  return closest(
    word.toLowerCase(),
    BY_LENGTH.map(([w]) => w).filter((w) => w.length > 1),
  );
}

/** What a kind is called in a sentence. */
export function kindInWords(kind: QuantityKind): string {
  switch (kind) {
    case "length":
      return "a length";
    case "angle":
      return "an angle";
    case "feed":
      return "a feed";
    case "acceleration":
      return "an acceleration";
    case "speed":
      return "a spindle speed";
    case "power":
      return "a power";
    case "time":
      return "a time";
    case "number":
      return "a plain number";
  }
}

/** A well-written example of a kind. */
export function exampleOf(kind: QuantityKind): string {
  switch (kind) {
    case "length":
      return '12, 12.5 mm, 3/4 in or 1 1/2"';
    case "angle":
      return "30 deg";
    case "feed":
      return "1200 mm/min";
    case "acceleration":
      return "300 mm/s²";
    case "speed":
      return "18000 rpm";
    case "power":
      return "700 W";
    case "time":
      return "4 s";
    case "number":
      return "4";
  }
}

function unitNamed(name: string): Unit {
  const found = SPELLINGS.find(([u]) => u.name === name);
  if (!found) throw new RangeError(`no unit is called ${name}`);
  return found[0];
}
