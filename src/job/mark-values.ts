import * as z from "zod";
import { type Complaints, complain, quantityOf, type Reading, wholeOf } from "./leaves.ts";
import { type Phrase, readPhrases } from "./phrases.ts";

const FIRST = { at: 0, length: 1 } as const;

const TEXT_EXAMPLE = 'text: ["{name}", "made {date}"]';

/** One line of text, or a list of lines. */
export function textOf() {
  return z
    .any()
    .transform((data, c): string => {
      const lines = typeof data === "string" ? [data] : data;
      if (Array.isArray(lines) && lines.length > 0 && lines.every((l): l is string => typeof l === "string")) {
        const text = lines.map((l) => l.replace(/\n+$/, "")).join("\n");
        if (text.trim() !== "") return text;
      }
      complain(c, {
        code: "text-unusable",
        what: "there is no text here that could be written on wood",
        mend: `write one line, or a list of lines: ${TEXT_EXAMPLE}`,
        at: 0,
        length: 1,
      });
      return z.NEVER;
    })
    .meta({
      description:
        "What is written: a line or a list of lines. {name} (or {drawer}), {row}, {column}, {count}, {date} and {serial} are filled in; {{ is a brace.",
      anyOf: [{ type: ["string", "number"] }, { type: "array", items: { type: ["string", "number"] } }],
      examples: [["{name}", "made {date}"]],
    });
}

/** What `{serial}` stands for: one text for each copy, or numbers that count on. */
export type Serial =
  | { readonly kind: "list"; readonly items: readonly string[] }
  | { readonly kind: "from"; readonly first: number };

/** The key of `{serial}`. */
export function serialOf(r: Reading) {
  return z
    .any()
    .transform((data, c): Serial => {
      if (Array.isArray(data) && data.length > 0 && data.every((d): d is string => typeof d === "string")) {
        return { kind: "list", items: data };
      }
      if (typeof data === "string") {
        const first = /^from\s+(\S+)$/i.exec(data.trim())?.[1];
        if (first !== undefined) return { kind: "from", first: wholeOf(first, r, 1_000_000, c) };
        if (data.trim() !== "") return { kind: "list", items: [data] };
      }
      complain(c, {
        code: "value-missing",
        what: "there are no serial numbers here",
        mend: 'write a list with one for each copy, "serial: [A1, A2]", or "serial: from 12"',
        at: 0,
        length: 1,
      });
      return z.NEVER;
    })
    .meta({
      description: "What {serial} stands for: a list with one for each copy, or numbers that count on: from 12.",
      anyOf: [{ type: ["string", "number"] }, { type: "array", items: { type: ["string", "number"] } }],
      examples: ["from 12"],
    });
}

/** Which way a mark on a turned part looks: one angle, or several. */
export function aroundOf(r: Reading) {
  return z
    .any()
    .transform((data, c): readonly number[] => {
      const texts: unknown[] = Array.isArray(data) ? data : [data];
      if (texts.length > 0 && texts.every((t): t is string => typeof t === "string")) {
        return texts.map((t, i) => sideOf(t) ?? quantityOf(t, "angle", r, "any", c, Array.isArray(data) ? [i] : []));
      }
      complain(c, {
        code: "value-missing",
        what: "it is not said which way this mark looks",
        mend: 'write "around: 90 deg", or a list of angles: [90, 270]',
        ...FIRST,
      });
      return z.NEVER;
    })
    .meta({
      description:
        "Which way the mark looks: degrees from the crown over the upper edge, one or a list. 90 and 270 are the show faces of the two halves.",
      anyOf: [{ type: ["string", "number"] }, { type: "array", items: { type: ["string", "number"] } }],
      examples: ["90", ["90", "270"]],
    });
}

function sideOf(text: string): number | undefined {
  return /^(?:the )?crown$/i.test(text.trim()) ? 0 : undefined;
}

/** A part's height is its width; a mark's is another size, so that it is asked for rather than taken for the width. */
export function noHeight() {
  return z
    .any()
    .transform((_, c): undefined => {
      complain(c, {
        code: "mark-key-odd",
        what: "a mark is sized by its width, or a text by its capitals",
        mend: 'write "cap height: 5" for a text, "width: 20" for anything else; the rest follows in proportion',
        ...FIRST,
      });
      return z.NEVER;
    })
    .meta({ description: 'Not a size of a mark: write "cap height" for a text, or "width".', not: {} });
}

/** Distances to a mark's middle; `middle` says that it lies midway where no distance says otherwise. */
export interface MiddleSaid {
  readonly phrases: readonly Phrase[];
  readonly middle: boolean;
}

/** `centre at` of a mark on a flat part: distances as everywhere, or the middle of the face. */
export function middleKey(r: Reading) {
  const plain = "Where the middle of the mark lies: distances, or middle for midway: middle, 45 from lower edge.";
  return z
    .any()
    .transform((data, c): MiddleSaid => {
      // Blanks in its place keep the columns of what is left.
      const blank = (text: string): string => text.replace(MIDDLE, (w) => " ".repeat(w.length));
      // Once for each direction: middle, middle says no more than middle does.
      const rest = typeof data === "string" ? blank(blank(data)) : data;
      const middle = rest !== data;
      if (middle && typeof rest === "string" && rest.trim() === "") return { phrases: [], middle };
      let complaints = 0;
      const counted: Complaints = {
        addIssue: (issue) => {
          complaints++;
          c.addIssue(issue);
        },
      };
      const found = readPhrases(rest, r, "any", counted);
      if (found.length === 0 && complaints === 0) {
        complain(c, {
          code: "place-incomplete",
          what: "a distance and what it is taken from are missing here",
          mend: 'write, for example, "centre at: middle, 45 from lower edge"',
          ...FIRST,
        });
      }
      return { phrases: found, middle };
    })
    .meta({
      description: plain,
      anyOf: [
        { type: ["string", "number"] },
        { type: "object", additionalProperties: { type: ["string", "number"] } },
        { type: "array", items: { type: ["string", "object"] } },
      ],
      examples: ["middle, 45 from lower edge"],
    });
}

const MIDDLE = /(?:^|[,;])\s*(?:the )?middle\s*(?:[,;]|$)/i;
