import { existsSync } from "node:fs";
import { createInterface } from "node:readline";
import { type AnswerValue, type Question, readAnswer } from "../job/new-answer.ts";
import {
  cabinetQuestions,
  caseQuestions,
  drawerQuestions,
  type NewCabinetAnswers,
  type NewOpening,
  openingQuestions,
  runnerQuestions,
  writeCabinet,
} from "../job/new-cabinet.ts";
import {
  type NewFeature,
  type NewJobAnswers,
  newFeatureQuestions,
  newJobQuestions,
  whatQuestion,
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
  const text = await askAll();
  if (text === undefined) {
    sayError("No more answers came, so nothing was written.");
    process.exitCode = EXIT.wrongInput;
    return;
  }
  try {
    writeWhole(file, Buffer.from(text, "utf8"));
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

type Values = Readonly<Record<string, AnswerValue>>;

/** Asks one question after the other; undefined when no more answers come. */
type Ask = (questions: readonly Question[], known?: Record<string, AnswerValue>) => Promise<Values | undefined>;

/** The job file's text, or undefined when the answers stopped before it was whole. */
async function askAll(): Promise<string | undefined> {
  const terminal = createInterface({ input: process.stdin, crlfDelay: Number.POSITIVE_INFINITY });
  const typed = terminal[Symbol.asyncIterator]();
  let unit: LengthUnit = "mm";
  const ask: Ask = async (questions, known = {}) => {
    for (const q of questions) {
      // A groove named for a runner has no default wall: the job would be refused without one.
      const must = q.key === "bearingWall" && needsBearingWall(String(known.name ?? ""));
      const value = await askOne(must ? { ...q, optional: false, text: BEARING_WALL } : q, unit, typed);
      if (value === "no more") return undefined;
      known[q.key] = value.value;
      if (q.key === "unit") unit = value.value === "in" ? "in" : "mm";
    }
    return known;
  };
  try {
    const what = await ask([whatQuestion()]);
    if (what === undefined) return undefined;
    return what.what === "cabinet" ? await askCabinet(ask, () => unit) : await askPart(ask);
  } finally {
    terminal.close();
  }
}

async function askPart(ask: Ask): Promise<string | undefined> {
  const job = await ask(newJobQuestions());
  if (job === undefined) return undefined;
  const features: NewFeature[] = [];
  let kind = job.feature;
  while (kind !== undefined && kind !== "nothing" && features.length < 20) {
    const feature = await ask(newFeatureQuestions(kind as NewFeature["kind"]));
    if (feature === undefined) return undefined;
    features.push(withoutGaps({ kind, ...feature }) as unknown as NewFeature);
    const again = newJobQuestions().find((q) => q.key === "feature")!;
    const next = await ask([{ ...again, text: "What else shall be cut in it?" }]);
    kind = next === undefined ? "nothing" : next.feature;
  }
  const { feature: _, ...rest } = job;
  return writeJob({ ...(rest as unknown as Omit<NewJobAnswers, "features">), features });
}

async function askCabinet(ask: Ask, unit: () => LengthUnit): Promise<string | undefined> {
  const head = await ask(cabinetQuestions());
  if (head === undefined) return undefined;
  const { rows, columns } = head as { rows: number; columns: number };
  const own = await ask(caseQuestions(columns, unit()));
  if (own === undefined) return undefined;
  const openings: NewOpening[] = [];
  for (let i = 0; i < rows * columns; i++) {
    const opening = await ask(openingQuestions(Math.floor(i / columns) + 1, (i % columns) + 1, columns));
    if (opening === undefined) return undefined;
    openings.push(withoutGaps(opening) as unknown as NewOpening);
  }
  const drawers = await ask(drawerQuestions(unit()));
  if (drawers === undefined) return undefined;
  const rest = await ask(runnerQuestions(String(drawers.runnerKind), unit()));
  if (rest === undefined) return undefined;
  return writeCabinet({
    ...withoutGaps({ ...head, ...own, ...drawers, ...rest }),
    openings,
  } as unknown as NewCabinetAnswers);
}

async function askOne(
  q: Question,
  unit: LengthUnit,
  typed: AsyncIterator<string>,
): Promise<{ readonly value: AnswerValue } | "no more"> {
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
