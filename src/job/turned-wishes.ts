import type * as z from "zod";
import { length, line, map, named, type Reading, word } from "./leaves.ts";
import { phrases } from "./phrases.ts";
import { borderOf, type OnPart, refuseAt } from "./places.ts";
import { find } from "./tree.ts";
import type { CradleWish, HoldingWish, JawsWish, SetUpWishes } from "./wishes.ts";
import { wishKeys } from "./wishes-schema.ts";

/** What a turned part may say about how it is held and lies on the router. Keys of the part's own map. */
export function turnedWishKeys(r: Reading) {
  const { machine, zero, "waste board": board } = wishKeys(r);
  const at = phrases(r, "Where its middle lies along the blank.", "at: 11 from first end", "zero or more");
  return {
    machine,
    zero,
    "waste board": board,
    "held by": word(
      { jaws: ["square jaws", "square ends"], cradles: ["cradle"] },
      "jaws: by its square ends. cradles: in seats cut to its profile, pressed down by cauls.",
      "held by: jaws",
    ).optional(),
    jaws: named(
      map(
        {
          at,
          grips: length(r, "How much of the blank's length they grip.", "grips: 20"),
          thickness: length(r, "Thickness of each cheek, across.", "thickness: 18"),
          height: length(r, "Top of the cheeks above the blank's axis.", "height: 15", "any"),
        },
        'write "at:", "grips:", "thickness:" and "height:" below the name',
      ),
      "write a name for each pair of jaws, and below it where it grips",
    )
      .meta({ description: "Each pair of jaws by a name; the planner places them without it." })
      .optional(),
    cradles: named(
      map(
        {
          at,
          carries: length(r, "How much of the blank's length it carries.", "carries: 18"),
          seat: length(r, "Lowest point of its seat above the waste board.", "seat: 10").optional(),
          "caul height": length(r, "How high caul and clamp stand above the wood there.", "caul height: 25"),
        },
        'write "at:", "carries:" and "caul height:" below the name',
      ),
      "write a name for each cradle, and below it where it stands",
    )
      .meta({ description: "Each cradle by a name; the planner places them without it." })
      .optional(),
    index: word(
      { "rotary axis": ["A axis"], "square ends": ["by hand"] },
      "rotary axis: burned marks go around the wood while the machine turns it, guide lines excepted. square ends: all are burned from above.",
      "index: rotary axis",
    ).optional(),
    lathe: line("The lathe to use, by its name in the shop file.", "lathe: bench lathe").optional(),
  };
}

type Wishes = {
  readonly [K in keyof ReturnType<typeof turnedWishKeys>]?: z.output<ReturnType<typeof turnedWishKeys>[K]>;
};

/** What a turned part wishes of its set-ups on the router; nothing when findings were made. */
export function readTurnedWishes(on: OnPart, said: Wishes, length: number): SetUpWishes | undefined {
  const before = on.found.length;
  const holding = holdingOf(on, said, length);
  if (on.found.length > before) return undefined;
  const { corner, z: height } = said.zero ?? {};
  return {
    ...(said.machine !== undefined && { machine: said.machine }),
    ...(holding !== undefined && { holding }),
    ...(corner !== undefined && { zeroCorner: corner }),
    ...(height !== undefined && { zeroZ: height }),
    ...(said["waste board"] !== undefined && { wasteBoard: said["waste board"] }),
    ...(said.index === "rotary axis" && { rotaryAxis: true as const }),
  };
}

function holdingOf(on: OnPart, said: Wishes, length: number): HoldingWish | undefined {
  const by = said["held by"] ?? (said.jaws ? "jaws" : said.cradles ? "cradles" : undefined);
  const odd = by === "jaws" ? "cradles" : "jaws";
  if (by !== undefined && said[odd] !== undefined) {
    refuseAt(
      on,
      [odd],
      "holding-incomplete",
      `${odd} are given, but it is held by ${by}`,
      `write "held by: ${odd}", or take them out`,
    );
    return undefined;
  }
  switch (by) {
    case undefined:
      return undefined;
    case "jaws": {
      const jaws = Object.entries(said.jaws ?? {}).flatMap(([name, j]): JawsWish[] => {
        const at = alongBlank(on, ["jaws", name], j.at, length);
        return at === undefined ? [] : [{ name, at, along: j.grips, thickness: j.thickness, height: j.height }];
      });
      return { by, jaws };
    }
    case "cradles": {
      const cradles = Object.entries(said.cradles ?? {}).flatMap(([name, c]): CradleWish[] => {
        const at = alongBlank(on, ["cradles", name], c.at, length);
        if (at === undefined) return [];
        return [
          { name, at, along: c.carries, caulHeight: c["caul height"], ...(c.seat !== undefined && { seat: c.seat }) },
        ];
      });
      return { by, cradles };
    }
  }
}

function alongBlank(
  on: OnPart,
  path: readonly string[],
  said: readonly Parameters<typeof borderOf>[2][],
  length: number,
): number | undefined {
  const below = find(on.node, path, on.entry);
  const own: OnPart = { ...on, node: below.node, ...(below.entry && { entry: below.entry }) };
  return placeAlong(own, "at", said, length);
}

/** One distance along a blank, from its first end; nothing when findings were made. */
export function placeAlong(
  on: OnPart,
  key: string,
  said: readonly Parameters<typeof borderOf>[2][],
  length: number,
): number | undefined {
  const [phrase, second] = said;
  if (phrase === undefined) return undefined;
  if (second !== undefined) {
    refuseAt(
      on,
      [key],
      "place-twice",
      "a place along the axis is one distance from one end",
      `write, for example, "${key}: 75 from first end"`,
    );
    return undefined;
  }
  const border = borderOf(on, key, phrase, ["first end", "second end"], "end of this part");
  if (border === undefined) return undefined;
  return border === "first end" ? phrase.distance : length - phrase.distance;
}
