import { readOptions } from "../../src/proof/prove.ts";
import { readProgram } from "../../src/reader/read.ts";
import { timeOf } from "../../src/simulate/time.ts";
import { everyLevel, type Through, through } from "../pipeline/round-through.ts";
import { BLANK, type Blank, planRound, room, slot, workpieceOf } from "../plan/round-stock.ts";
import { type Row, timed } from "./row.ts";

/** Seconds that the programs of a set-up run, by the time model of the proof. */
function seconds({ setUp, texts }: Through): number {
  return texts.reduce((sum, { file, text }) => {
    const read = readProgram(text, file, setUp.machine.controller, readOptions(setUp));
    return sum + timeOf(read.events, setUp.machine).seconds;
  }, 0);
}

const CASES: readonly (readonly [string, Blank, number, number, number])[] = [
  ["cylinder of 34 mm in a 40 mm square", BLANK, 60, 16, 18],
  ["waist of 24 mm between 39 mm flanges", { ...BLANK, radii: [19.5, 12, 19.5] }, 90, 14, 22],
  [
    "deep waist of 28 mm in a 60 mm square",
    { length: 200, across: 60, square: 22, radii: [29, 29, 14, 14, 29, 29] },
    60,
    16,
    25,
  ],
];

/** Time spared by following the wood, against every level over the whole plan from the top of the box. */
export default async function round(): Promise<Row[]> {
  return CASES.flatMap(([name, blank, length, width, to]): Row[] => {
    const middle = { x: blank.length / 2, y: blank.across / 2 };
    const cavity = room(slot(middle, length, width), to, { cutter: "6 mm flat" });
    const one = planRound(workpieceOf(blank, [cavity])).setUps[0];
    if (one === undefined) throw new Error(`${name} was not planned`);
    const top = one.setUp.blank.max.z;
    const follow = through(one);
    const every = through({ ...one, operations: one.operations.map((o) => everyLevel(o, top)) });
    const made = timed(() => through(planRound(workpieceOf(blank, [cavity])).setUps[0]!), 3);
    return [
      {
        name: `round stock, ${name}: time at the machine, following the wood`,
        value: seconds(follow),
        unit: "s",
        reference: { name: "every level over the whole plan", value: seconds(every) },
        note: `${Math.round(100 * (1 - seconds(follow) / seconds(every)))} % spared`,
      },
      { name: `round stock, ${name}: planned, written and proved`, ...made, unit: "ms" },
    ];
  });
}
