import { nameKey } from "../units/marks.ts";
import { printLength } from "../units/print.ts";
import { readQuantity } from "../units/quantity.ts";
import type { LengthUnit } from "../units/unit-table.ts";
import { allowedSpread } from "./measured.ts";

/** How an answer is read, and what it may be. */
export type AnswerKind =
  | { readonly kind: "text" }
  | { readonly kind: "choice"; readonly of: readonly string[] }
  /** A whole number from 1. */
  | { readonly kind: "count"; readonly most: number }
  /** Percent of moisture in wood, as a meter shows it. */
  | { readonly kind: "percent" }
  /** Sizes above zero with commas and spaces between, as many as one of `of` says; readings of one size, unless `apart`. */
  | { readonly kind: "lengths"; readonly of: readonly number[]; readonly apart?: true }
  /** A size above zero, or from zero up, in the job's unit unless it says its own. */
  | { readonly kind: "length"; readonly least: "positive" | "zero or more" };

/** One question of the command `new`. */
export interface Question {
  /** Where the answer goes: a field of `NewJobAnswers`, or of a `NewFeature`. */
  readonly key: string;
  readonly text: string;
  readonly answer: AnswerKind;
  /** Taken when nothing is typed; absent: an answer is needed, unless `optional`. */
  readonly standard?: string;
  /** An empty answer leaves it out. */
  readonly optional?: boolean;
}

/** A text, a number, sizes in mm, or nothing. */
export type AnswerValue = string | number | readonly number[] | undefined;

/** An answer as read, or what to say to whoever gave it. */
export type Answer = { readonly ok: true; readonly value: AnswerValue } | { readonly ok: false; readonly say: string };

/** Reads what was typed. Nothing typed takes the standard answer; sizes come back in mm. */
export function readAnswer(question: Question, typed: string, unit: LengthUnit): Answer {
  const text = typed.trim() === "" ? (question.standard ?? "") : typed.trim();
  if (text === "")
    return question.optional ? { ok: true, value: undefined } : { ok: false, say: "please answer this one" };
  switch (question.answer.kind) {
    case "text":
      return readText(text);
    case "choice": {
      const key = nameKey(text);
      const found = question.answer.of.find((c) => c === key) ?? onlyOne(question.answer.of, (c) => c.startsWith(key));
      return found === undefined
        ? { ok: false, say: `please answer ${question.answer.of.join(", ")}` }
        : { ok: true, value: found };
    }
    case "count": {
      const n = /^\d{1,4}$/.test(text) ? Number(text) : 0;
      const { most } = question.answer;
      return n >= 1 && n <= most
        ? { ok: true, value: n }
        : { ok: false, say: `a whole number from 1 to ${most}, please` };
    }
    case "percent": {
      const n = Number(text.replace(/\s*%$/, ""));
      // Beyond these a meter shows nothing that a shop's wood can have.
      return n >= 3 && n <= 30
        ? { ok: true, value: n }
        : { ok: false, say: "percent as the meter shows it, for example 8.5" };
    }
    case "length": {
      const read = readSize(text, question.answer.least, unit);
      return typeof read === "number" ? { ok: true, value: read } : { ok: false, say: read.say };
    }
    case "lengths": {
      const { of, apart } = question.answer;
      const texts = text.split(/\s*;\s*|\s*,\s+/).filter((t) => t !== "");
      const sizes: number[] = [];
      for (const one of texts) {
        const read = readSize(one, "positive", unit);
        if (typeof read !== "number") return { ok: false, say: read.say };
        sizes.push(read);
      }
      if (!of.includes(sizes.length))
        return { ok: false, say: `${of.join(" or ")} sizes, please, with a comma and a space between` };
      const [least, most] = [Math.min(...sizes), Math.max(...sizes)];
      if (!apart && most - least > allowedSpread(least) + 1e-9)
        return { ok: false, say: "these lie far apart: measure again, and look for a slipped digit" };
      return { ok: true, value: sizes };
    }
  }
}

function readSize(
  text: string,
  least: "positive" | "zero or more",
  unit: LengthUnit,
): number | { readonly say: string } {
  const read = readQuantity(text, "length", unit);
  if (!read.ok) return { say: `${read.problem.what}: ${read.problem.mend}` };
  if (read.value < 0 || (read.value === 0 && least === "positive")) return { say: "a size is more than nothing" };
  return read.value > 10_000 ? { say: "that is more than ten metres: which unit do you mean?" } : read.value;
}

function readText(text: string): Answer {
  if (text.length > 80) return { ok: false, say: "at most 80 letters, please" };
  if (/[\u0000-\u001f\u007f-\u009f\u2028-\u202e\u2066-\u2069\ufeff\ud800-\udfff]/.test(text))
    return { ok: false, say: "plain letters, please" };
  return { ok: true, value: text };
}

function onlyOne<T>(list: readonly T[], wanted: (t: T) => boolean): T | undefined {
  const found = list.filter(wanted);
  return found.length === 1 ? found[0] : undefined;
}

/** A length without its unit where the file's own is meant, with it otherwise; a fraction keeps its unit. */
export function bare(mm: number, unit: LengthUnit): string {
  const text = printLength(mm, unit);
  const end = ` ${unit}`;
  return text.endsWith(end) && !text.includes("/") ? text.slice(0, -end.length) : text;
}

/** A text as a YAML value or key: plain where that is plain, else in double quotes. */
export function quoted(text: string): string {
  if (/^[\p{L}\p{N}](?:[\p{L}\p{N} .,()/&+'"-]*[\p{L}\p{N}.)])?$/u.test(text) && !/,/.test(text)) return text;
  return `"${text.replace(/["\\]/g, (c) => `\\${c}`)}"`;
}
