import { existsSync } from "node:fs";
import { createInterface } from "node:readline";
import {
  type NewFeature,
  type NewJobAnswers,
  newFeatureQuestions,
  newJobQuestions,
  type Question,
  readAnswer,
  writeJob,
} from "../job/new-job.ts";
import { needsBearingWall } from "../job/runner.ts";
import type { LengthUnit } from "../units/unit-table.ts";
import { EXIT } from "./exit.ts";
import { shown, writeWhole } from "./files.ts";
import { say, sayError } from "./say.ts";

/** `new`: asks in shop words, on a terminal or from a pipe, and writes a commented job file. Never writes over one. */
export async function newJob(file: string): Promise<void> {
  if (existsSync(file)) {
    sayError(`${file} is there already, and is not written over. Name another file: tillwright new my-part.yaml`);
    process.exitCode = EXIT.wrongInput;
    return;
  }
  const answers = await askAll();
  if (answers === undefined) {
    sayError("No more answers came, so nothing was written.");
    process.exitCode = EXIT.wrongInput;
    return;
  }
  try {
    writeWhole(file, Buffer.from(writeJob(answers), "utf8"));
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === undefined) throw error;
    sayError(`${file} cannot be written: the system says ${code}. Name a file in a folder that is yours.`);
    process.exitCode = EXIT.wrongInput;
    return;
  }
  say(`${shown(file)} is written. Open it in a text editor, read the notes, then:`);
  say(`  tillwright check ${shown(file)}`);
  say(`  tillwright make ${shown(file)}`);
}

const BEARING_WALL = "Towards which edge lies the wall that carries? A hung drawer rests on the upper one";

/** A value as it was read: sizes in mm. */
type Value = string | number | undefined;
type Values = Readonly<Record<string, Value>>;

async function askAll(): Promise<NewJobAnswers | undefined> {
  const terminal = createInterface({ input: process.stdin, crlfDelay: Number.POSITIVE_INFINITY });
  const typed = terminal[Symbol.asyncIterator]();
  const ask = async (questions: readonly Question[], unit: () => LengthUnit, known: Record<string, Value>) => {
    for (const q of questions) {
      // A groove named for a runner has no default wall: the job would be refused without one.
      const must = q.key === "bearingWall" && needsBearingWall(String(known.name ?? ""));
      const value = await askOne(must ? { ...q, optional: false, text: BEARING_WALL } : q, unit(), typed);
      if (value === "no more") return undefined;
      known[q.key] = value.value;
    }
    return known as Values;
  };
  try {
    const known: Record<string, Value> = {};
    const unit = (): LengthUnit => (known.unit === "in" ? "in" : "mm");
    const job = await ask(newJobQuestions(), unit, known);
    if (job === undefined) return undefined;
    const features: NewFeature[] = [];
    let kind = job.feature;
    while (kind !== undefined && kind !== "nothing" && features.length < 20) {
      const feature = await ask(newFeatureQuestions(kind as NewFeature["kind"]), unit, {});
      if (feature === undefined) return undefined;
      features.push(withoutGaps({ kind, ...feature }) as unknown as NewFeature);
      const again = newJobQuestions().find((q) => q.key === "feature")!;
      const next = await askOne({ ...again, text: "What else shall be cut in it?" }, unit(), typed);
      kind = next === "no more" ? "nothing" : next.value;
    }
    const { feature: _, ...rest } = job;
    return { ...(rest as unknown as Omit<NewJobAnswers, "features">), features };
  } finally {
    terminal.close();
  }
}

async function askOne(
  q: Question,
  unit: LengthUnit,
  typed: AsyncIterator<string>,
): Promise<{ readonly value: Value } | "no more"> {
  for (let tries = 0; tries < 20; tries++) {
    const choices = q.answer.kind === "choice" ? ` (${q.answer.of.join(", ")})` : "";
    const standard = q.standard === undefined ? "" : ` [${q.standard}]`;
    process.stderr.write(`${q.text}${q.text.includes(":") && q.key === "feature" ? "" : choices}${standard} `);
    const line = await typed.next();
    if (line.done === true) {
      process.stderr.write("\n");
      return "no more";
    }
    const answer = readAnswer(q, line.value, unit);
    if (answer.ok) return { value: answer.value };
    sayError(`  ${answer.say}`);
  }
  return "no more";
}

function withoutGaps(values: Values): Values {
  return Object.fromEntries(Object.entries(values).filter(([, v]) => v !== undefined));
}
