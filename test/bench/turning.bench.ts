import { proveTurning, turningReadOptions } from "../../src/proof/turning/prove.ts";
import { toolsOf } from "../../src/proof/turning/tools.ts";
import { readProgram } from "../../src/reader/read.ts";
import { simulateTurning } from "../../src/simulate/turning.ts";
import { waistPull } from "../parts/turned-sample.ts";
import { LATHES, turnedThrough } from "../pipeline/turning-through.ts";
import { type Row, timed } from "./row.ts";

/** A turned pull from piece to proved programs, and what the checking side takes of it. */
export default async function (): Promise<Row[]> {
  const pull = waistPull();
  const lathe = LATHES[0]!;
  const t = turnedThrough(pull, lathe);
  const [first] = t.programs;
  const text = first!.text;
  const read = readProgram(text, "a", lathe.controller, turningReadOptions(t.setUp));
  const moves = read.events.filter((e) => e.kind === "move").length;
  const toolFor = toolsOf(t.setUp, read);
  const proof = proveTurning(t);
  return [
    {
      name: "turned pull, planned, written and checked",
      ...timed(() => proveTurning(turnedThrough(pull, lathe)), 5),
      unit: "ms",
      goal: "< 300 ms",
      note: "120 mm, bead, cove, bead between square ends; with dry runs written",
    },
    { name: "of it, the proof", ...timed(() => proveTurning(t), 5), unit: "ms" },
    {
      name: "of that, wood of the first program",
      ...timed(() => simulateTurning({ setUp: t.setUp, events: read.events, toolFor }), 5),
      unit: "ms",
      note: `${moves} moves`,
    },
    { name: "gouge of the turned pull", value: proof.figures.gouge!.value * 1000, unit: "µm", goal: "≤ 10 µm" },
    {
      name: "wood left where a tool reaches",
      value: proof.figures["wood left"]!.value * 1000,
      unit: "µm",
      goal: "≤ 10 µm",
      note: "no more than this: looked at no closer than the accuracy asks",
    },
  ];
}
