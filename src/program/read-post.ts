import * as z from "zod";
import type { Finding, Outcome } from "../finding.ts";
import { readYaml, type YamlFile } from "../shop/yaml-file.ts";
import type { YamlKind } from "../shop/yaml-kind.ts";
import { closest } from "../units/closest.ts";
import type { Post } from "./post.ts";
import { ENDING_CODES, LATHE_PLANE, NO_LENGTH_OFFSET, OPENING_GROUPS } from "./post-codes.ts";

const KIND: YamlKind = {
  what: "post file",
  notYaml: "post-not-yaml",
  unknownKey: "post-unknown-key",
  missing: "post-missing",
  wrong: "post-wrong-value",
};

const code = z.string().regex(/^[GM][0-9]{1,2}(\.[0-9])?$/);

const PostFile = z
  .strictObject({
    name: z
      .string()
      .regex(/^[a-z0-9][a-z0-9 -]{0,39}$/)
      .describe("the name that machines in the shop file call it by: small letters, figures, spaces and hyphens"),
    about: z.string().max(200).describe("one line on which kind of machine it is for"),
    unit: z.enum(["mm", "inch"]).describe("unit of the written numbers"),
    decimals: z.int().min(4).max(6).describe("decimals of coordinates: 4 to 6 in mm, 5 or 6 in inches"),
    labels: z
      .strictObject({ first: z.int().min(1).max(9999), step: z.int().min(1).max(100) })
      .describe("line numbers at which operations begin: {first: 10, step: 10}"),
    messages: z.enum(["MSG", "comment"]).describe("words for the operator at a stop: MSG or comment"),
    "percent lines": z.boolean().describe("true or false: begin and end with a line of one percent sign"),
    opening: z.array(code).min(1).max(20).describe("codes stated at the start and at every operation: [G17, G21, …]"),
    "first lift": z
      .union([z.literal("ask"), z.strictObject({ "machine height": z.number().min(-500).max(500) })])
      .describe(
        "ask (a stop asks for a clear bit), or {machine height: 0} in the post's unit on a machine that homes; on a lathe the machine's X, as its own words have it",
      ),
    "length offset": z.enum(["G43", "none"]).describe("G43 on machines with a tool table, else none"),
    "tool change": z
      .union([
        z.literal("none"),
        z
          .array(z.enum(["T", "M6", "T M6"]))
          .min(1)
          .max(2),
      ])
      .describe("lines of a tool change: [T M6], [T, M6], or none for one cutter a file"),
    arcs: z
      .union([z.literal("centre"), z.strictObject({ "chords within": z.number().positive().max(0.1) })])
      .describe("centre (I and J), or {chords within: 0.002} in the post's unit"),
    "X words": z
      .enum(["radius", "diameter"])
      .optional()
      .describe("for a lathe only: what an X word means to its controller, radius or diameter"),
    beam: z
      .strictObject({
        starts: z
          .array(z.enum(["M3", "M4"]))
          .min(1)
          .max(2)
          .describe("words that start a laser's beam: [M3, M4]"),
        "power decimals": z.int().min(0).max(3).describe("decimals of S words for a beam: 0 to 3"),
      })
      .optional()
      .describe(
        "for a machine with a laser: {starts: [M3, M4], power decimals: 0}; leave out if its S words change power with a stop only",
      ),
    ending: z.array(code).min(1).max(5).describe("closing codes: [M5, M9, M2]"),
    "file ending": z
      .string()
      .regex(/^\.[a-z0-9]{1,5}$/)
      .describe("ending of file names: .nc"),
  })
  .meta({ title: "Tillwright post", description: "How one controller's dialect of RS-274 is written" });

/** The JSON Schema of a post file. */
export function postSchema(): object {
  return z.toJSONSchema(PostFile, { io: "input" });
}

/**
 * Reads a post file: the built-in ones and the user's own alike. Whatever is not understood is refused: unknown keys,
 * codes outside the short list of `post-codes.ts`, a group stated twice or not at all.
 */
export function readPost(text: string, file: string): Outcome<Post> {
  const read = readYaml(text, file, PostFile, KIND);
  if (!read.ok) return read;
  const findings = crossCheck(read.value);
  if (findings.length > 0) return { ok: false, findings };
  return { ok: true, value: asPost(read.value.value), findings: [] };
}

type Written = z.output<typeof PostFile>;

function asPost(w: Written): Post {
  const mm = w.unit === "mm" ? 1 : 25.4;
  const lift = w["first lift"];
  const change = w["tool change"];
  return {
    name: w.name,
    about: w.about,
    unit: w.unit,
    decimals: w.decimals,
    labels: w.labels,
    messages: w.messages,
    percentLines: w["percent lines"],
    opening: w.opening,
    lift: lift === "ask" ? { kind: "ask" } : { kind: "machine height", z: lift["machine height"] * mm },
    lengthOffset: w["length offset"],
    toolChange: change === "none" ? [] : change,
    arcs: w.arcs === "centre" ? { kind: "centre" } : { kind: "chords", error: w.arcs["chords within"] * mm },
    spindleStart: "M3",
    ...(w["X words"] === undefined ? {} : { xWords: w["X words"] }),
    ...(w.beam === undefined ? {} : { beam: { starts: w.beam.starts, powerDecimals: w.beam["power decimals"] } }),
    ending: w.ending,
    fileEnding: w["file ending"],
  };
}

function crossCheck(file: YamlFile<Written>): readonly Finding[] {
  const w = file.value;
  const findings: Finding[] = [];
  const refuse = (
    code: "post-unknown-code" | "post-wrong-value",
    path: readonly (string | number)[],
    what: string,
    mend: string,
  ): void => {
    findings.push({ grade: "refuse", code, place: { source: file.at(path) }, what, mend });
  };

  const lathe = w["X words"] !== undefined;
  const groups = OPENING_GROUPS.map((g) => (lathe && g.what === "plane" ? { ...g, codes: [LATHE_PLANE] } : g));
  const allowed = [...groups.flatMap((g) => g.codes), NO_LENGTH_OFFSET];
  for (const [k, word] of w.opening.entries()) {
    if (allowed.includes(word)) continue;
    const near = closest(word, allowed);
    const mend = `${near === undefined ? "" : `did you mean ${near}? `}a post may state: ${allowed.join(" ")}`;
    refuse("post-unknown-code", ["opening", k], `${word} may not stand in a post's opening`, mend);
  }
  for (const group of groups) {
    const stated = w.opening.filter((word) => group.codes.includes(word));
    if (stated.length !== 1) {
      const what =
        stated.length === 0 ? `the opening does not say the ${group.what}` : `the opening says the ${group.what} twice`;
      refuse("post-wrong-value", ["opening"], what, `state exactly one of ${group.codes.join(", ")}`);
    }
  }
  const unitCode = w.unit === "mm" ? "G21" : "G20";
  if (!w.opening.includes(unitCode)) {
    refuse(
      "post-wrong-value",
      ["unit"],
      `the unit is ${w.unit} but the opening does not say ${unitCode}`,
      "make them agree",
    );
  }
  const noOffset = w.opening.filter((word) => word === NO_LENGTH_OFFSET).length;
  if (noOffset > 1 || noOffset === (w["length offset"] === "none" ? 0 : 1)) {
    const mend = "with G43, leave G49 out (it would drive the bit down); with none, state G49 once";
    refuse("post-wrong-value", ["length offset"], "G49 and the length offset don't agree", mend);
  }
  if (lathe && w["length offset"] !== "none") {
    const mend = "state length offset: none: the language's length offset knows Z only, not a tool on a cross slide";
    refuse("post-wrong-value", ["length offset"], "a lathe's post cannot use the length offset", mend);
  }
  if (w.unit === "inch" && w.decimals < 5) {
    refuse(
      "post-wrong-value",
      ["decimals"],
      "an inch program needs 5 decimals",
      "with 4 the ends of some arcs don't agree",
    );
  }
  const chords = w.arcs === "centre" ? 0 : w.arcs["chords within"] * (w.unit === "mm" ? 1 : 25.4);
  if (chords > 0.004) {
    refuse("post-wrong-value", ["arcs", "chords within"], "the chords are too coarse", "at most 0.004 mm (0.00015 in)");
  }
  if (lathe && w.beam !== undefined) {
    refuse("post-wrong-value", ["beam"], "a lathe has no beam", "leave the key out of a lathe's post");
  }
  const change = w["tool change"];
  if (change !== "none" && change.join(" ").split(" ").sort().join(" ") !== "M6 T") {
    refuse("post-wrong-value", ["tool change"], "a tool change is one T and one M6", "[T M6] or [T, M6]");
  }
  findings.push(...endingFindings(file));
  return findings;
}

function endingFindings(file: YamlFile<Written>): readonly Finding[] {
  const words = file.value.ending;
  const { spindleOff, coolantOff, ends } = ENDING_CODES;
  const findings: Finding[] = [];
  const refuse = (
    code: "post-unknown-code" | "post-wrong-value",
    path: readonly (string | number)[],
    what: string,
  ): void => {
    findings.push({
      grade: "refuse",
      code,
      place: { source: file.at(path) },
      what,
      mend: "the usual ending: [M5, M9, M2]",
    });
  };
  const isEnd = (word: string): boolean => (ends as readonly string[]).includes(word);
  for (const [k, word] of words.entries()) {
    if (word !== spindleOff && word !== coolantOff && !isEnd(word)) {
      refuse("post-unknown-code", ["ending", k], `${word} may not stand in a post's ending`);
    }
  }
  const last = words[words.length - 1]!;
  if (!isEnd(last) || words.filter(isEnd).length !== 1) {
    refuse("post-wrong-value", ["ending"], "a program ends with M2 or M30, once and last");
  }
  for (const off of [spindleOff, coolantOff]) {
    if (words.filter((w) => w === off).length !== 1)
      refuse("post-wrong-value", ["ending"], `the ending must say ${off} once`);
  }
  return findings;
}
