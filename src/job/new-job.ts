import { nameKey } from "../units/marks.ts";
import { printLength } from "../units/print.ts";
import { readQuantity } from "../units/quantity.ts";
import type { LengthUnit } from "../units/unit-table.ts";
import type { FaceName } from "./board.ts";

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

/** How an answer is read, and what it may be. */
export type AnswerKind =
  | { readonly kind: "text" }
  | { readonly kind: "choice"; readonly of: readonly string[] }
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

/** An answer as read, or what to say to whoever gave it. */
export type Answer =
  | { readonly ok: true; readonly value: string | number | undefined }
  | { readonly ok: false; readonly say: string };

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
    case "length": {
      const read = readQuantity(text, "length", unit);
      if (!read.ok) return { ok: false, say: `${read.problem.what}: ${read.problem.mend}` };
      if (read.value < 0 || (read.value === 0 && question.answer.least === "positive"))
        return { ok: false, say: "a size is more than nothing" };
      return read.value > 10_000
        ? { ok: false, say: "that is more than ten metres: which unit do you mean?" }
        : { ok: true, value: read.value };
    }
  }
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

/** A length without its unit where the file's own is meant, with it otherwise; a fraction keeps its unit. */
function bare(mm: number, unit: LengthUnit): string {
  const text = printLength(mm, unit);
  const end = ` ${unit}`;
  return text.endsWith(end) && !text.includes("/") ? text.slice(0, -end.length) : text;
}

/** A text as a YAML value or key: plain where that is plain, else in double quotes. */
function quoted(text: string): string {
  if (/^[\p{L}\p{N}](?:[\p{L}\p{N} .,()/&+'"-]*[\p{L}\p{N}.)])?$/u.test(text) && !/,/.test(text)) return text;
  return `"${text.replace(/["\\]/g, (c) => `\\${c}`)}"`;
}
