import * as z from "zod";
import type { QuantityKind } from "../units/unit-table.ts";

/**
 * A size as it is written: a bare number in the file's unit, or text with a unit. Its kind stands in the schema as
 * `quantity`, so that sizes are read even in a file that breaks the schema elsewhere.
 */
export const quantity = (description: string, kind: QuantityKind) =>
  z.union([z.number(), z.string()]).meta({ description, quantity: kind });

/** A length. */
export const length = (what: string) => quantity(`${what}; a length: 6, 6 mm or 1/4 in`, "length");

/** A spindle speed. */
export const speed = (what: string) => quantity(`${what}; a spindle speed: 18000 rpm`, "speed");

/** Yes or no, as one says it or as YAML has it. */
export const yesNo = (what: string) => z.union([z.boolean(), z.enum(["yes", "no"])]).describe(`${what}; yes or no`);

/** A name given by the user. */
export const name = z
  .string()
  .regex(/^[^\p{C}]{1,60}$/u)
  .describe("a name of at most 60 letters on one line");
