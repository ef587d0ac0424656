import * as z from "zod";
import { screw } from "./feature-schema.ts";
import { angle, complain, length, line, map, named, quantityOf, type Reading, word } from "./leaves.ts";
import { phrases } from "./phrases.ts";

/** What a part or a board may say about how it is held and lies on the machine. Keys of the part's or board's own map. */
export function wishKeys(r: Reading) {
  return {
    machine: line("The machine to use, by its name in the shop file.", "machine: bench router").optional(),
    "held by": word(
      { tape: ["double sided tape"], vacuum: ["suction"], clamps: ["clamp"], screws: ["screw"] },
      "How the wood is held down.",
      "held by: tape",
    ).optional(),
    clamps: named(clampSchema(r), 'write a name for each clamp, and below it "centre at:", "covers:" and "height:"')
      .meta({ description: "Each clamp by a name: where it lies, what it covers, how high it stands." })
      .optional(),
    screws: map(
      {
        at: phrases(
          r,
          "Centres of the screws that hold the wood down, one on each line of a list.",
          "at: a list of places, each with a dash",
          "any",
        ),
        screw: screw("The screw, for the size of its head.").optional(),
        "head diameter": length(r, "Diameter of the head.", "head diameter: 8").optional(),
        "head height": length(r, "How high the head stands above the wood.", "head height: 3"),
      },
      'write "at:" with the places, and "head height:"',
    ).optional(),
    zero: zero().optional(),
    turned: angle(
      r,
      "How the wood lies on the machine: turned counter-clockwise by 0, 90, 180 or 270 degrees.",
      "turned: 90 deg",
    ).optional(),
    "turn over": word(
      { "end for end": ["end over end"], "side for side": ["side over side"] },
      "How the wood is turned over for its other face: end for end, or side for side.",
      "turn over: side for side",
    ).optional(),
    "waste board": length(r, "Thickness of the waste board beneath.", "waste board: 12").optional(),
  };
}

function clampSchema(r: Reading) {
  return map(
    {
      "centre at": phrases(
        r,
        "Where the middle of the clamp lies; it may lie off the wood.",
        "centre at: 5 from first end, 20 from lower edge",
        "any",
      ).optional(),
      "near edge at": phrases(
        r,
        "Distances to the clamp's near edges.",
        "near edge at: 0 from first end, 10 from lower edge",
        "any",
      ).optional(),
      "far edge at": phrases(
        r,
        "Distances to the clamp's far edges.",
        "far edge at: 20 from first end, 30 from lower edge",
        "any",
      ).optional(),
      covers: covers(r),
      height: length(r, "How high it stands above the wood.", "height: 25"),
    },
    'write "centre at:", "covers:" and "height:" below the clamp\'s name',
  );
}

/** `40 by 25`: along the length, then across. */
function covers(r: Reading) {
  return z
    .string({ error: () => 'write, for example, "covers: 40 by 25": along the length, then across' })
    .transform((text, c) => {
      const said = /^(.+?)\s*(?:\bby\b|[x×])\s*(.+)$/is.exec(text.trim());
      if (!said) {
        complain(c, {
          code: "quantity-unreadable",
          what: `"${text.slice(0, 40)}" is not two sizes`,
          mend: 'write, for example, "40 by 25": along the length, then across',
          at: 0,
          length: text.length,
        });
        return z.NEVER;
      }
      const along = quantityOf(said[1] ?? "", "length", r, "positive", c);
      const across = quantityOf(said[2] ?? "", "length", r, "positive", c);
      return { along, across };
    })
    .meta({ description: "What it covers: along the length by across.", type: "string", examples: ["40 by 25"] });
}

/** `left front corner, top`: where the person at the machine sets zero. */
function zero() {
  return z
    .string({ error: () => 'write, for example, "zero: left front corner, top"' })
    .transform((text, c) => {
      const said = text.toLowerCase();
      const side = only(said, ["left", "right"]);
      const depth = only(said, ["front", "back"]);
      const height: "waste board" | "top" | undefined = /\bwaste ?board\b/.test(said)
        ? "waste board"
        : /\btop\b/.test(said)
          ? "top"
          : undefined;
      const rest = said
        .replace(/\b(?:left|right|front|back|corner|top|of|the|wood|waste ?board|and|on)\b|[,;]/g, "")
        .trim();
      const corner = side !== undefined && depth !== undefined ? (`${side} ${depth}` as const) : undefined;
      if (
        rest !== "" ||
        (corner === undefined && height === undefined) ||
        (side === undefined) !== (depth === undefined)
      ) {
        complain(c, {
          code: "word-unknown",
          what: `"${text.slice(0, 40)}" does not say where zero is`,
          mend: 'write a corner (left front, right front, left back, right back) and "top" or "waste board": left front corner, top',
          at: 0,
          length: text.length,
        });
        return z.NEVER;
      }
      return { corner, z: height };
    })
    .meta({
      description:
        "Where zero is set: a corner as seen from where one stands, and the top of the wood or the waste board.",
      type: "string",
      examples: ["left front corner, top"],
    });
}

function only<const W extends string>(text: string, words: readonly W[]): W | undefined {
  const found = words.filter((w) => new RegExp(`\\b${w}\\b`).test(text));
  return found.length === 1 ? found[0] : undefined;
}
