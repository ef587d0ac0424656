import type { LengthUnit } from "../units/unit-table.ts";
import type { FaceName } from "./board.ts";
import { type AnswerKind, bare, type Question, quoted } from "./new-answer.ts";

/** What `writeJob` writes a job from: as few answers as make a part. Lengths in mm. */
export interface NewJobAnswers {
  readonly title: string;
  readonly unit: LengthUnit;
  readonly wood: string;
  readonly part: string;
  readonly length: number;
  readonly width: number;
  readonly thickness: number;
  readonly features: readonly NewFeature[];
}

/** One feature, as the questions know it. Lengths in mm. */
export type NewFeature =
  | {
      readonly kind: "groove";
      readonly name: string;
      readonly from: FaceName;
      readonly nearEdgeAt: number;
      readonly width: number;
      readonly depth: number;
      /** Distance from the first end at which it stops; absent: it runs through. */
      readonly stop?: number;
      /** The wall that carries; must be given where `needsBearingWall(name)`, or `readJob` will ask for it. */
      readonly bearingWall?: FaceName;
    }
  | {
      readonly kind: "rabbet";
      readonly name: string;
      readonly along: FaceName;
      readonly width: number;
      readonly depth: number;
    }
  | {
      readonly kind: "recess";
      readonly name: string;
      readonly length: number;
      readonly width: number;
      readonly depth: number;
      readonly fromFirstEnd: number;
      readonly fromLowerEdge: number;
    }
  | {
      readonly kind: "hole";
      readonly name: string;
      readonly diameter: number;
      /** Absent: all the way through. */
      readonly depth?: number;
      readonly fromFirstEnd: number;
      readonly fromLowerEdge: number;
    };

/** What is asked first of all. */
export function whatQuestion(): Question {
  return {
    key: "what",
    text: "What shall the file describe: one part, or a cabinet with drawers?",
    answer: { kind: "choice", of: ["part", "cabinet"] },
    standard: "part",
  };
}

/** The questions about the job and its part, in the order in which they are asked. */
export function newJobQuestions(): readonly Question[] {
  return [
    { key: "title", text: "What is this job called?", answer: { kind: "text" }, standard: "A first part" },
    { key: "unit", text: "What are your bare numbers in, mm or in?", answer: { kind: "choice", of: ["mm", "in"] } },
    { key: "part", text: "What is the part called?", answer: { kind: "text" }, standard: "left side" },
    { key: "wood", text: "What wood is it made of?", answer: { kind: "text" }, standard: "ash" },
    { key: "length", text: "How long is it, along the grain?", answer: { kind: "length", least: "positive" } },
    {
      key: "width",
      text: "How wide (or high) is it, across the grain?",
      answer: { kind: "length", least: "positive" },
    },
    { key: "thickness", text: "How thick is it, as planed?", answer: { kind: "length", least: "positive" } },
    {
      key: "feature",
      text: "What shall be cut in it: a groove, a rabbet, a recess, a hole, or nothing more?",
      answer: { kind: "choice", of: ["groove", "rabbet", "recess", "hole", "nothing"] },
      standard: "nothing",
    },
  ];
}

/** The questions about one feature. */
export function newFeatureQuestions(kind: NewFeature["kind"]): readonly Question[] {
  const positive: AnswerKind = { kind: "length", least: "positive" };
  const distance: AnswerKind = { kind: "length", least: "zero or more" };
  const edges: AnswerKind = { kind: "choice", of: ["lower edge", "upper edge", "first end", "second end"] };
  const name = (standard: string): Question => ({
    key: "name",
    text: "What is it called?",
    answer: { kind: "text" },
    standard,
  });
  const depth: Question = { key: "depth", text: "How deep, straight down from the face?", answer: positive };
  const middle: readonly Question[] = [
    {
      key: "fromFirstEnd",
      text: "How far is its middle from the first end (the left one, seen with the face up)?",
      answer: distance,
    },
    { key: "fromLowerEdge", text: "How far is its middle from the lower edge (the near one)?", answer: distance },
  ];
  switch (kind) {
    case "groove":
      return [
        name("bottom"),
        { key: "from", text: "Along which edge or end does it run?", answer: edges, standard: "lower edge" },
        { key: "nearEdgeAt", text: "How far from there to the groove's nearer wall?", answer: distance },
        { key: "width", text: "How wide is the groove?", answer: positive },
        depth,
        {
          key: "stop",
          text: "Where does it stop, measured from the first end to its farthest point? (nothing: it runs through)",
          answer: distance,
          optional: true,
        },
        {
          key: "bearingWall",
          text: "If a runner sits in it: towards which edge lies the wall that carries? (nothing: no runner)",
          answer: edges,
          optional: true,
        },
      ];
    case "rabbet":
      return [
        name("rabbet"),
        { key: "along", text: "Along which edge or end?", answer: edges, standard: "upper edge" },
        { key: "width", text: "How wide is the step, in from that edge?", answer: positive },
        depth,
      ];
    case "recess":
      return [
        name("finger room"),
        { key: "length", text: "How long is it, round ends included?", answer: positive },
        { key: "width", text: "How wide is it?", answer: positive },
        depth,
        ...middle,
      ];
    case "hole":
      return [
        name("hole"),
        { key: "diameter", text: "How wide is the hole?", answer: positive },
        { ...depth, text: "How deep? (nothing: all the way through)", optional: true },
        ...middle,
      ];
  }
}

/**
 * A commented job file in shop words, made from answers; `readJob` reads it back to the same sizes, bit for bit.
 * Texts are quoted where YAML would take them for something else, so that no answer can change the file's meaning.
 */
export function writeJob(a: NewJobAnswers): string {
  const size = (mm: number): string => bare(mm, a.unit);
  const lines = [
    "# A job file. Everything behind a # is a note for people.",
    "# Each line is a name, a colon, a space and a value; lines that belong together stand under each other.",
    "",
    `title: ${quoted(a.title)}`,
    `units: ${a.unit}${" ".repeat(Math.max(1, 28 - a.unit.length))}# what a bare number means; 19 mm, 3/4 in or 1 1/2" may stand anywhere`,
    "",
    "# Sizes taken from the real piece can be named here, and used further down after an equals sign:",
    "# measured:",
    "#   case depth: 205 mm",
    "# and then, for example, length: = case depth - 15 mm",
    "",
    "parts:",
    `  ${quoted(a.part)}:`,
    "    blank:",
    `      wood: ${quoted(a.wood)}`,
    `      length: ${size(a.length)}`,
    `      width: ${size(a.width)}`,
    `      thickness: ${size(a.thickness)}`,
    "      grain: along length",
    "    # Seen with the face up, the first end is at the left and the lower edge nearest to you.",
    "    # Own names may be given: faces: {face: inside, back: outside, first end: front end}",
    "    face side: face               # US: reference face",
    "    face edge: lower edge         # US: reference edge",
  ];
  const features = distinct(a.features);
  if (features.length > 0) lines.push("    features:", ...features.flatMap((f) => [...featureLines(f, size), ""]));
  while (lines.at(-1) === "") lines.pop();
  return `${lines.join("\n")}\n`;
}

/** Features with one name each: a second "hole" becomes "hole 2". */
function distinct(features: readonly NewFeature[]): readonly NewFeature[] {
  const used = new Set<string>();
  return features.map((f) => {
    let name = f.name;
    for (let n = 2; used.has(name.toLowerCase()); n++) name = `${f.name} ${n}`;
    used.add(name.toLowerCase());
    return { ...f, name };
  });
}

function featureLines(f: NewFeature, size: (mm: number) => string): readonly string[] {
  const head = `      - ${f.kind}: ${quoted(f.name)}`;
  const line = (key: string, value: string, note?: string): string => {
    const said = `        ${key}: ${value}`;
    return note === undefined ? said : `${said.padEnd(34)} # ${note}`;
  };
  switch (f.kind) {
    case "groove":
      return [
        head,
        line("from", f.from, "the edge it runs along"),
        line("near edge at", size(f.nearEdgeAt), "from there to its nearer wall"),
        ...(f.bearingWall === undefined
          ? []
          : [line("bearing wall", f.bearingWall, "the wall towards this edge carries")]),
        line("width", size(f.width)),
        line("depth", size(f.depth)),
        ...(f.stop === undefined
          ? []
          : [line("stops", `${size(f.stop)} from ${stopEnd(f.from)}`, "to its farthest point")]),
      ];
    case "rabbet":
      return [
        head,
        line("along", f.along),
        line("width", size(f.width), "in from that edge"),
        line("depth", size(f.depth)),
      ];
    case "recess":
      return [
        head,
        line("shape", "slot", "a slot has round ends; also circle, oval, rounded rectangle, drawing"),
        line("length", size(f.length)),
        line("width", size(f.width)),
        line("centre at", `${size(f.fromFirstEnd)} from first end, ${size(f.fromLowerEdge)} from lower edge`),
        line("depth", size(f.depth)),
      ];
    case "hole":
      return [
        head,
        line("diameter", size(f.diameter)),
        line("centre at", `${size(f.fromFirstEnd)} from first end, ${size(f.fromLowerEdge)} from lower edge`),
        line("depth", f.depth === undefined ? "through" : size(f.depth)),
      ];
  }
}

/** The end that a groove's stop is measured from: the first of the two it runs towards. */
function stopEnd(from: FaceName): string {
  return from === "first end" || from === "second end" ? "lower edge" : "first end";
}
