import * as z from "zod";
import { complain, quantityOf, type Reading } from "./leaves.ts";

/** A finish as the job says it: bare, a dry film as measured on one face (mm), or what it is and in how many coats. */
export type FinishSaid =
  | { readonly kind: "none" }
  | { readonly kind: "film"; readonly film: number }
  | { readonly kind: "coats"; readonly of: CoatsOf; readonly coats: number }
  | { readonly kind: "oil or wax" };

/** Finishes that stay on the wood as a film, coat by coat. */
export type CoatsOf = "shellac" | "lacquer" | "varnish";

const COUNTS = ["one", "two", "three", "four", "five", "six", "seven", "eight"];
/** More coats than these no drawer gets: a slip of the pen. */
const MOST_COATS = 12;

/** The finish that words name: "bare", "oil", "wax", "shellac" (one coat), "two coats of varnish". Undefined: none of them. */
export function finishIn(text: string): FinishSaid | undefined {
  const plain = text.trim().toLowerCase().replace(/\s+/g, " ");
  if (/^(none|no|bare|bare wood|nothing)$/.test(plain)) return { kind: "none" };
  const found = /^(?:(?:(\d+|[a-z]+) )?coats? (?:of )?)?(shellac|lacquer|varnish|oil|wax|oil or wax|oil and wax)$/.exec(
    plain,
  );
  const name = found?.[2];
  if (found === null || name === undefined) return undefined;
  const said = found[1];
  const coats = said === undefined || said === "a" ? 1 : /^\d+$/.test(said) ? Number(said) : COUNTS.indexOf(said) + 1;
  if (coats < 1 || coats > MOST_COATS) return undefined;
  switch (name) {
    case "shellac":
    case "lacquer":
    case "varnish":
      return { kind: "coats", of: name, coats };
    default:
      return { kind: "oil or wax" };
  }
}

/** A finish on one face: `0.03`, `two coats of shellac`, `wax`. */
export function finishSchema(r: Reading) {
  return z
    .string({ error: () => `write, for example, "finish: two coats of shellac" or "finish: 0.03"` })
    .transform((text, c): FinishSaid => {
      const named = finishIn(text);
      if (named !== undefined) return named;
      // What holds a name of a finish, or no digit, is no thickness.
      if (/\d/.test(text) && !/coat|shellac|lacquer|varnish|oil|wax/i.test(text)) {
        return { kind: "film", film: quantityOf(text, "length", r, "zero or more", c) };
      }
      complain(c, {
        code: "finish-unreadable",
        what: `"${text.slice(0, 40)}" is no finish that can be reckoned with`,
        why: `known are bare wood, oil, wax, and one to ${MOST_COATS} coats of shellac, lacquer or varnish`,
        mend: 'write, for example, "two coats of shellac", or the thickness on one face: "0.03 mm"',
        at: 0,
        length: Math.max(1, text.length),
      });
      return z.NEVER;
    })
    .meta({
      description:
        "Finish on each face that takes part in a gap: its thickness on one face, or coats of shellac, lacquer or varnish; oil or wax; bare.",
      type: ["string", "number"],
      examples: ["two coats of shellac", "wax", "0.03"],
    });
}
