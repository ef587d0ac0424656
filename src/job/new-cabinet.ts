import type { LengthUnit } from "../units/unit-table.ts";
import { bare, type Question, quoted } from "./new-answer.ts";

/** What `writeCabinet` writes a job from. Lengths in mm. */
export interface NewCabinetAnswers {
  readonly title: string;
  readonly unit: LengthUnit;
  readonly columns: number;
  readonly openings: readonly NewOpening[];
  readonly caseWood: string;
  readonly sideThickness: number;
  readonly backThickness: number;
  /** Given where there is more than one column. */
  readonly dividerThickness?: number;
  readonly measuredWith: string;
  /** Percent by meter; absent: not known. */
  readonly moisture?: number;
  readonly frontWood: string;
  readonly frontThickness: number;
  readonly set: string;
  readonly frontJoint: string;
  readonly backJoint: string;
  readonly sideWood: string;
  readonly sideThick: number;
  readonly bottomWood: string;
  readonly bottomThickness: number;
  readonly bottomKind: string;
  readonly runnerKind: string;
  readonly runnerWood: string;
  readonly runnerTall: number;
  readonly runnerThickness: number;
  readonly pulls: string;
  readonly signs: string;
}

/** One opening as read off the measuring sheet. */
export interface NewOpening {
  readonly name: string;
  /** At the mouth, or at mouth, middle and back. */
  readonly width: readonly number[];
  /** One for all, or left and right, or left, middle and right. */
  readonly height: readonly number[];
  /** One, or left, middle and right. */
  readonly depth: readonly number[];
  /** Rising and falling; absent: not measured. */
  readonly diagonals?: readonly number[];
}

/** The questions before the openings, with those about the case. */
export function caseQuestions(columns: number, unit: LengthUnit): readonly Question[] {
  const divider: Question = {
    key: "dividerThickness",
    text: "How thick are the upright dividers between the columns?",
    answer: { kind: "length", least: "positive" },
  };
  return [
    { key: "caseWood", text: "What wood are the case sides?", answer: { kind: "text" }, standard: "cherry" },
    { key: "sideThickness", text: "How thick are they?", answer: { kind: "length", least: "positive" } },
    ...(columns > 1 ? [divider] : []),
    sizeIn(unit)("backThickness", "How thick is the case back?", "6 mm", "1/4 in"),
    {
      key: "measuredWith",
      text: "What did you measure with?",
      answer: { kind: "choice", of: ["rule", "tape", "calipers"] },
      standard: "rule",
    },
    {
      key: "moisture",
      text: "How moist is the wood today, in percent by a meter? (nothing: not known)",
      answer: { kind: "percent" },
      optional: true,
    },
  ];
}

/** Title, unit, rows and columns. */
export function cabinetQuestions(): readonly Question[] {
  return [
    { key: "title", text: "What is the cabinet called?", answer: { kind: "text" }, standard: "My cabinet" },
    { key: "unit", text: "What are your bare numbers in, mm or in?", answer: { kind: "choice", of: ["mm", "in"] } },
    { key: "rows", text: "How many rows of drawers, one above the other?", answer: { kind: "count", most: 12 } },
    { key: "columns", text: "How many drawers side by side?", answer: { kind: "count", most: 12 }, standard: "1" },
  ];
}

/** What is asked about one opening, as it stands on the measuring sheet. */
export function openingQuestions(row: number, column: number, columns: number): readonly Question[] {
  const where = columns > 1 ? `row ${row}, column ${column}` : `row ${row}`;
  return [
    {
      key: "name",
      text: `What is the opening in ${where} called?`,
      answer: { kind: "text" },
      standard: `drawer ${(row - 1) * columns + column}`,
    },
    {
      key: "width",
      text: "  Its width: mouth; or mouth, middle, back?",
      answer: { kind: "lengths", of: [1, 3] },
    },
    {
      key: "height",
      text: "  Its height at the mouth: left, right; or left, middle, right?",
      answer: { kind: "lengths", of: [1, 2, 3] },
    },
    {
      key: "depth",
      text: "  Its depth, mouth to back: one size; or left, middle, right?",
      answer: { kind: "lengths", of: [1, 3] },
    },
    {
      key: "diagonals",
      text: "  Its diagonals: rising, falling? (nothing: not measured)",
      answer: { kind: "lengths", of: [2], apart: true },
      optional: true,
    },
  ];
}

function text(key: string, asked: string, standard: string): Question {
  return { key, text: asked, answer: { kind: "text" }, standard };
}

function choice(key: string, asked: string, of: readonly string[]): Question {
  return { key, text: asked, answer: { kind: "choice", of }, standard: of[0]! };
}

/** What is asked about the runners, and last. Sizes that are offered are common practice, no source. */
export function runnerQuestions(kind: string, unit: LengthUnit): readonly Question[] {
  const size = sizeIn(unit);
  const own =
    kind === "below"
      ? [
          size("runnerTall", "How tall is a runner, upright?", "10 mm", "3/8 in"),
          size("runnerThickness", "How wide is it, from the case side inwards?", "15 mm", "5/8 in"),
        ]
      : [
          size("runnerTall", "How tall is a runner, upright?", "12 mm", "1/2 in"),
          size("runnerThickness", "How far does it stand out from the case side?", "4.2 mm", "11/64 in"),
        ];
  return [
    text("runnerWood", "What wood shall the runners be?", "hard maple"),
    ...own,
    choice("pulls", "Shall pulls be turned for them?", ["none", "turned"]),
    choice("signs", "Shall each bottom be signed with its drawer's name, cut with a V bit?", ["no", "yes"]),
  ];
}

function sizeIn(unit: LengthUnit): (key: string, asked: string, mm: string, inch: string) => Question {
  return (key, asked, mm, inch) => ({
    key,
    text: asked,
    answer: { kind: "length", least: "positive" },
    standard: unit === "mm" ? mm : inch,
  });
}

/** What is asked about the drawers. Sizes that are offered are common practice, no source. */
export function drawerQuestions(unit: LengthUnit): readonly Question[] {
  const size = sizeIn(unit);
  return [
    text("frontWood", "What wood shall the drawer fronts be?", "cherry"),
    size("frontThickness", "How thick?", "14 mm", "9/16 in"),
    choice("set", "Fronts flush within the opening, or with a lip over the case?", ["inset", "lipped"]),
    choice("frontJoint", "How do the sides meet the front?", ["half-blind", "rabbet", "butt", "through"]),
    choice("backJoint", "How do they meet the back?", ["through", "half-blind", "housing", "rabbet", "butt"]),
    text("sideWood", "What wood shall sides and backs be?", "ash"),
    size("sideThick", "How thick?", "10 mm", "7/16 in"),
    text("bottomWood", "What are the bottoms made of?", "plywood"),
    size("bottomThickness", "How thick?", "4 mm", "3/16 in"),
    choice("bottomKind", "Is that a panel, or solid wood that moves?", ["panel", "solid"]),
    choice("runnerKind", "Do the drawers hang on runners at their sides, or run on runners below?", [
      "side-hung",
      "below",
    ]),
  ];
}

/**
 * A commented job file of a cabinet with drawers; `readJob` reads it back to the same sizes, bit for bit.
 */
export function writeCabinet(a: NewCabinetAnswers): string {
  const size = (mm: number): string => bare(mm, a.unit);
  const note = (line: string, said: string): string => `${line.padEnd(46)} # ${said}`;
  const stuff = (wood: string, thickness: number, more = ""): string =>
    `{wood: ${quoted(wood)}, thickness: ${size(thickness)}${more}}`;
  const single = a.columns === 1;
  return `${[
    "# A job file. Everything behind a # is a note for people.",
    "# Each line is a name, a colon, a space and a value; lines that belong together stand under each other.",
    "",
    `title: ${quoted(a.title)}`,
    note(`units: ${a.unit}`, 'what a bare number means; 19 mm, 3/4 in or 1 1/2" may stand anywhere'),
    "# shop: shop.yaml                              # your own bits and machines; without it, built-in ones are taken",
    "",
    note("case:", "as measured, with the names of the measuring sheet"),
    `  wood: ${quoted(a.caseWood)}`,
    `  side thickness: ${size(a.sideThickness)}`,
    note("  side grain: upright", "or: mouth to back"),
    `  back thickness: ${size(a.backThickness)}`,
    ...(a.dividerThickness === undefined ? [] : [`  divider thickness: ${size(a.dividerThickness)}`]),
    ...(single ? [] : [`  columns: ${a.columns}`]),
    `  measured with: ${a.measuredWith}`,
    a.moisture === undefined
      ? "  # moisture today: 8 % by meter               # or: 4 weeks at 20 C and 45 %; without it, gaps now are a guess"
      : note(`  moisture today: ${a.moisture} % by meter`, "or: 4 weeks at 20 C and 45 %"),
    note("  openings:", single ? "from the top" : "in rows from the top, each from the left"),
    ...distinct(a.openings).flatMap((o) => openingLines(o, size)),
    "",
    "drawers:",
    note("  held by: tape", "double-sided tape, on the router"),
    note(
      `  fronts: ${stuff(a.frontWood, a.frontThickness, setWords(a, size))}`,
      "when they are planed, add: as planed: 13.9",
    ),
    `  sides: ${stuff(a.sideWood, a.sideThick)}`,
    ...(a.signs === "yes"
      ? [
          "  bottoms:",
          `    wood: ${quoted(a.bottomWood)}`,
          `    thickness: ${size(a.bottomThickness)}`,
          `    kind: ${a.bottomKind}`,
          ...signLines(a, size),
        ]
      : [`  bottoms: ${stuff(a.bottomWood, a.bottomThickness, `, kind: ${a.bottomKind}`)}`]),
    `  runners: {wood: ${quoted(a.runnerWood)}, tall: ${size(a.runnerTall)}, thickness: ${size(a.runnerThickness)}, kind: ${a.runnerKind}}`,
    note(`  front joint: ${a.frontJoint}`, "half-blind, through, rabbet or butt"),
    note(`  back joint: ${a.backJoint}`, "through, half-blind, housing, rabbet or butt"),
    ...(a.pulls === "turned" ? [note("  pulls: drawer pull", "the turned part below")] : []),
    ...(a.runnerKind === "side-hung"
      ? [
          "  # When the runners are in, measure between them and write it here; until then no runner groove is cut.",
          "  # between runners:",
          ...distinct(a.openings).map((o) => `  #   ${quoted(o.name)}: {mouth: , back: }`),
        ]
      : []),
    ...(a.pulls === "turned" ? ["", ...pullLines(a, size)] : []),
    "",
    "# Boards that lie in the shop, rough as they are: with them the cutting plan says what to cut from which.",
    "# stock:",
    `#   ${quoted(a.frontWood)}:`,
    "#     - {length: 1200 mm, width: 140 mm, thickness: 20 mm, count: 2}",
  ].join("\n")}\n`;
}

/** Openings with one name each: a second "drawer" becomes "drawer 2". */
function distinct(openings: readonly NewOpening[]): readonly NewOpening[] {
  const used = new Set<string>();
  return openings.map((o) => {
    let name = o.name;
    for (let n = 2; used.has(name.toLowerCase()); n++) name = `${o.name} ${n}`;
    used.add(name.toLowerCase());
    return { ...o, name };
  });
}

function openingLines(o: NewOpening, size: (mm: number) => string): readonly string[] {
  const readings = (key: string, places: readonly string[], values: readonly number[]): string =>
    values.length === 1
      ? `      ${key}: ${size(values[0]!)}`
      : `      ${key}: {${values.map((v, i) => `${places[i]}: ${size(v)}`).join(", ")}}`;
  const heights = o.height.length === 2 ? ["left", "right"] : ["left", "middle", "right"];
  return [
    `    ${quoted(o.name)}:`,
    readings("width", ["mouth", "middle", "back"], o.width),
    readings("height", heights, o.height),
    readings("depth", ["left", "middle", "right"], o.depth),
    ...(o.diagonals === undefined ? [] : [readings("diagonals", ["rising", "falling"], o.diagonals)]),
  ];
}

function signLines(a: NewCabinetAnswers, size: (mm: number) => string): readonly string[] {
  const shallowest = Math.min(...a.openings.flatMap((o) => o.depth));
  return [
    "    marks:                                     # each bottom bears its own drawer's name",
    "      - mark: name",
    "        on: inside",
    '        text: "{drawer}"',
    "        letters: upright",
    "        cap height: 6 mm",
    `        centre at: middle, ${size(Math.min(40, Math.round(shallowest / 4)))} from front edge`,
    "        made by: cut line",
    "        depth: 0.4 mm",
  ];
}

/** A lip that leaves room for its neighbour's on the divider between them. */
function setWords(a: NewCabinetAnswers, size: (mm: number) => string): string {
  if (a.set !== "lipped") return `, set: ${a.set}`;
  const room = a.dividerThickness === undefined ? 6 : Math.floor(a.dividerThickness - 2) / 2;
  return `, set: lipped, lip: {over: ${size(Math.max(0.5, Math.min(6, room)))}, thickness: ${size(5)}}`;
}

/** Three knobs to a turning, each with a tenon that goes through the front; sizes are common practice, no source. */
function pullLines(a: NewCabinetAnswers, size: (mm: number) => string): readonly string[] {
  const tenon = a.frontThickness + 1;
  return [
    "parts:",
    "  drawer pull:                                 # three knobs to a turning, turned by hand by the template",
    `    blank: {wood: ${quoted(a.frontWood)}, length: ${size(91 + 3 * tenon)}, square: ${size(22)}}`,
    "    turned by: hand",
    `    copies: ${Math.ceil(a.openings.length / 3)}`,
    "    features:",
    "      - turning: profile",
    "        waste at ends: 1 share",
    "        pulls: 3",
    `        parting: ${size(4)}`,
    "        elements:",
    `          - tenon: {length: ${size(tenon)}, diameter: ${size(6)}}`,
    `          - fillet: {length: ${size(2)}, diameter: ${size(14)}}`,
    `          - cove: {length: ${size(5)}, diameter: ${size(9)}, from: ${size(14)}, to: ${size(11)}}`,
    `          - bead: {length: ${size(10)}, diameter: ${size(18)}, from: ${size(11)}, to: ${size(9)}}`,
  ];
}
