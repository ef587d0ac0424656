import type { Finding, Source } from "../finding.ts";
import type { FindingCode } from "../finding-codes.ts";
import type { TextProblem } from "../units/problem.ts";
import { readQuantity } from "../units/quantity.ts";
import type { LengthUnit, QuantityKind } from "../units/unit-table.ts";
import type { YamlPath } from "./schema-shape.ts";
import type { YamlFile } from "./yaml-file.ts";

/** A size's least and largest, in the inside unit of its kind. */
export interface Range {
  readonly min: number;
  readonly max: number;
}

/** Reads the sizes of one shop file and gathers what is wrong with them. Lives as long as the reading. */
export interface ShopReader {
  readonly findings: Finding[];
  /** What stood in for something the file doesn't say. */
  readonly defaultsUsed: string[];
  /** A size; NaN with a finding when it can't be read or lies outside its range. */
  readonly size: (raw: number | string, path: YamlPath, kind: QuantityKind, range: Range) => number;
  readonly refuse: (code: FindingCode, path: YamlPath, what: string, more?: Partial<Finding>) => void;
  readonly caution: (code: FindingCode, path: YamlPath, what: string, more?: Partial<Finding>) => void;
}

/** A reader for one file. */
export function shopReader(file: YamlFile<unknown>, unit: LengthUnit): ShopReader {
  const findings: Finding[] = [];
  const add =
    (grade: Finding["grade"]) =>
    (code: FindingCode, path: YamlPath, what: string, more: Partial<Finding> = {}): void => {
      findings.push({ grade, code, place: { source: file.at(path) }, what, ...more });
    };
  return {
    findings,
    defaultsUsed: [],
    refuse: add("refuse"),
    caution: add("caution"),
    size: (raw, path, kind, range) => {
      const key = String(path[path.length - 1]);
      const result = readQuantity(String(raw), kind, unit);
      if (!result.ok) {
        findings.push(unreadable(key, result.problem, file.at(path)));
        return Number.NaN;
      }
      const value = result.value;
      if (value >= range.min && value <= range.max) return value;
      const small = value < range.min;
      findings.push({
        grade: "refuse",
        code: "shop-file-wrong-value",
        place: { source: file.at(path) },
        what: `"${key}" is too ${small ? "small" : "large"}`,
        measured: { value, bound: 0, unit: INSIDE[kind] },
        limit: { value: small ? range.min : range.max, unit: INSIDE[kind], from: "what any shop could have" },
        mend: "check the number and its unit",
      });
      return Number.NaN;
    },
  };
}

/** A size that can't be read, as a finding at the very letters. */
export function unreadable(key: string, p: TextProblem, source: Source): Finding {
  return {
    grade: "refuse",
    code: p.code,
    place: { source: within(source, p.at, p.length) },
    what: `"${key}": ${p.what}`,
    ...(p.why === undefined ? {} : { why: p.why }),
    mend: p.mend,
  };
}

const INSIDE: Readonly<Record<QuantityKind, string>> = {
  length: "mm",
  angle: "deg",
  feed: "mm/min",
  acceleration: "mm/s²",
  speed: "rpm",
  power: "W",
  time: "s",
  number: "",
};

/** The piece of a value that a problem points at; the whole value where it is quoted or runs over lines. */
function within(source: Source, at: number, length: number): Source {
  if (/^["'|>]/.test(source.text.slice(source.column - 1)) || at >= source.length) return source;
  return { ...source, column: source.column + at, length: Math.min(length, source.length - at) };
}
