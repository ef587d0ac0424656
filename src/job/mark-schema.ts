import * as z from "zod";
import { angle, length, line, map, quantityOf, type Reading, word } from "./leaves.ts";
import { aroundOf, noHeight, serialOf, textOf } from "./mark-values.ts";
import { phrases } from "./phrases.ts";
import { pictogramOf } from "./pictogram-said.ts";

/** The keys that say what a mark draws: a mark has one of them, or a line from one place to another. */
export const CONTENT_KEYS = ["text", "pictogram", "drawing", "picture", "signature"] as const;
export type ContentKey = (typeof CONTENT_KEYS)[number];

/** What a mark draws and how it is made: keys of a mark on a flat part and on a turned one. */
export function markKeys(r: Reading) {
  return { ...textKeys(r), ...pictureKeys(r), ...madeKeys(r) };
}

/** Further keys of a mark on a flat part: a straight line. */
export function flatLineKeys(r: Reading) {
  return {
    "start at": phrases(
      r,
      "A straight line: where it starts.",
      "start at: 20 from first end, 15 from lower edge",
      "any",
    ).optional(),
    "end at": phrases(
      r,
      "A straight line: where it ends.",
      "end at: 80 from first end, 15 from lower edge",
      "any",
    ).optional(),
  };
}

/** Further keys of a mark on a turned part: where round it, and guide lines along it. */
export function turnedMarkKeys(r: Reading) {
  return {
    "centre at": phrases(r, "Middle of the mark along the axis.", "centre at: 95 from first end", "any").optional(),
    around: aroundOf(r).optional(),
    turned: turnedKey(r),
    along: word(
      { "split line": ["the split line", "split", "saw line"] },
      "Guide lines for the saw, where the part is split: the crown line beside the finger room, and the line opposite.",
      "along: split line",
    ).optional(),
    ends: yesNo("With the split line: whether it runs across both end faces too.", "ends: yes").optional(),
    "start at": phrases(
      r,
      "A line along the axis: where it starts; the split line starts at the first end without it.",
      "start at: 20 from first end",
      "any",
    ).optional(),
    "end at": phrases(
      r,
      "A line along the axis: where it ends; the split line ends at the second end without it.",
      "end at: 60 from first end",
      "any",
    ).optional(),
  };
}

/** How a mark is turned. */
export function turnedKey(r: Reading) {
  return angle(
    r,
    "Turned counter-clockwise about its middle, seen on its face; 0 reads along the part.",
    "turned: 90 deg",
  ).optional();
}

function textKeys(r: Reading) {
  return {
    text: textOf().optional(),
    letters: line(
      "The letters: upright or script, drawn in single lines; book, with outlines; or a font file beside the job.",
      "letters: script",
    ).optional(),
    "cap height": length(r, "Height of the capital letters.", "cap height: 5").optional(),
    width: length(
      r,
      "Width that the longest line of text, or the whole drawing, picture or pictogram fills.",
      "width: 40",
    ).optional(),
    height: noHeight().optional(),
    align: word(
      { left: ["start"], centre: ["center", "middle"], right: ["end"] },
      "Where the lines of a text begin, are centred, or end; centre without it.",
      "align: left",
    ).optional(),
    "letter spacing": numberOf(
      r,
      "any",
      "Added between letters, in cap heights; 0 without it.",
      "letter spacing: 0.1",
    ).optional(),
    "line spacing": numberOf(
      r,
      "positive",
      "From one line of text to the next, in cap heights; 1.8 without it.",
      "line spacing: 1.8",
    ).optional(),
    "on arc": map(
      {
        radius: length(
          r,
          "Radius of the circle that the letters stand on; the mark's place is its centre.",
          "radius: 40",
        ),
        "middle at": angle(
          r,
          "Direction of the text's middle from that centre: 90 is the top; 90 without it.",
          "middle at: 90 deg",
        ).optional(),
        tops: word(
          { outwards: ["outward", "out"], inwards: ["inward", "in"] },
          "Which way the tops of the letters point: outwards, as over an arch, without it.",
          "tops: outwards",
        ).optional(),
      },
      'write "radius: 40" below it, and "middle at: 90 deg" where the text\'s middle is not at the top',
    ).optional(),
    date: line(
      "What {date} stands for: a date as you write it, or today, this month, this year.",
      "date: 25 November 2026",
    ).optional(),
    serial: serialOf(r).optional(),
  };
}

function pictureKeys(r: Reading) {
  return {
    pictogram: pictogramOf(r).optional(),
    drawing: line(
      "An SVG drawing in the job's folder, in its true size or to the width given.",
      "drawing: leaf.svg",
    ).optional(),
    id: line("The id of what is to be drawn within the drawing.", "id: leaf").optional(),
    class: line("The class of what is to be drawn within the drawing.", "class: cut").optional(),
    placed: word(
      { centred: ["centered"], "as drawn": ["drawn"] },
      "centred: the middle of the drawing's box is brought to the place. as drawn: the drawing's own origin is.",
      "placed: centred",
    ).optional(),
    picture: line("A picture in the job's folder, PNG or JPEG, burned in dots.", "picture: oak.png").optional(),
    tones: word(
      {
        "error spread": ["spread"],
        "wide error spread": ["wide spread"],
        ordered: ["ordered dots", "pattern"],
      },
      "How a picture's tones become dots; error spread without it.",
      "tones: error spread",
    ).optional(),
    signature: line(
      "A photo or scan of a signature in the job's folder, PNG or JPEG.",
      "signature: name.jpg",
    ).optional(),
    "drawn as": word(
      { "pen strokes": ["strokes", "middle", "centre line", "center line"], outline: ["outlines", "area"] },
      "A signature as the middle of its pen strokes, or as the area of its ink; pen strokes without it.",
      "drawn as: pen strokes",
    ).optional(),
  };
}

function madeKeys(r: Reading) {
  return {
    "made by": word(
      {
        "burned line": ["burnt line", "burned lines", "burnt lines"],
        "burned area": ["burnt area"],
        "burned picture": ["burnt picture"],
        "burned through": ["burnt through"],
        "cut line": ["cut lines", "fine bit"],
        "v groove": ["v-groove", "vee groove", "v bit", "v cut", "v carved"],
      },
      "How it is made: burned with the laser, or cut with a bit.",
      "made by: burned line",
    ),
    effect: line("What burning is to look like, as the shop file calls it.", "effect: dark line").optional(),
    angle: angle(r, "A burned area: direction of its lines; 0 without it.", "angle: 45 deg").optional(),
    ways: word(
      { one: ["one way", "1"], two: ["two ways", "both", "2"] },
      "A burned area: burned one way, or to and fro; one without it.",
      "ways: one",
    ).optional(),
    "outline last": yesNo(
      "A burned area: whether its outline is burned last; yes without it.",
      "outline last: no",
    ).optional(),
    keep: word(
      { inside: ["the inside"], outside: ["the outside"] },
      "Burned through: which side of the outline is the part; outside without it.",
      "keep: outside",
    ).optional(),
    depth: length(r, "A cut line: its depth below the face.", "depth: 0.8").optional(),
    deepest: length(r, "A V-groove: deepest that it may go.", "deepest: 2").optional(),
  };
}

function yesNo(says: string, example: string) {
  return word({ yes: ["true", "on"], no: ["false", "off"] }, says, example);
}

function numberOf(r: Reading, least: "any" | "positive", says: string, example: string) {
  return z
    .string({ error: () => `write, for example, "${example}"` })
    .transform((text, c) => quantityOf(text, "number", r, least, c))
    .meta({ description: says, type: ["string", "number"], examples: [example.replace(/^[^:]*: /, "")] });
}
