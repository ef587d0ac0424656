import type { SetUp } from "../plan/setup.ts";
import type { ReadMove, ReadProgram } from "../reader/read-move.ts";
import { assemblyOf } from "../shop/assembly.ts";
import type { Assembly, Cutter } from "../shop/cutter.ts";

/** Tells which cutter is in the spindle at a move, as the text and the set-up say. */
export interface Spindled {
  readonly cutterFor: (move: ReadMove) => Cutter | undefined;
  readonly assemblyFor: (move: ReadMove) => Assembly | undefined;
}

/**
 * Which cutter makes which move. Where the text calls slots, the set-up's cutter of that slot, and none when the set-up
 * has none there. On a machine without a changer a program is cut with one bit: the only one of the set-up, else the
 * one whose turn it is when there are as many programs as bits, else the one that the program's comments ask for.
 * @param nth which of `count` programs this is, from 0
 */
export function cuttersOf(setUp: SetUp, read: ReadProgram, nth: number, count: number): Spindled {
  const assemblies = new Map<Cutter, Assembly>();
  for (const c of setUp.cutters) assemblies.set(c, assemblyOf(c, setUp.machine));
  const hand = setUp.machine.controller.toolChanger ? undefined : byHand(setUp, read, nth, count);
  const cutterFor = (move: ReadMove): Cutter | undefined =>
    move.tool === undefined ? hand : setUp.cutters.find((c) => c.slot === move.tool);
  return {
    cutterFor,
    assemblyFor: (move) => {
      const cutter = cutterFor(move);
      return cutter === undefined ? undefined : assemblies.get(cutter);
    },
  };
}

function byHand(setUp: SetUp, read: ReadProgram, nth: number, count: number): Cutter | undefined {
  if (setUp.cutters.length === 1) return setUp.cutters[0];
  if (setUp.cutters.length === count) return setUp.cutters[nth];
  const said = read.events.flatMap((e) => (e.kind === "comment" ? [plain(e.text)] : [])).join(" ");
  const named = setUp.cutters.filter((c) => said.includes(plain(c.name)));
  // "6 mm flat" is in "6 mm flat down-cut": the longest name that is there is meant.
  return [...named].sort((a, b) => b.name.length - a.name.length)[0];
}

function plain(text: string): string {
  return text
    .toLowerCase()
    .replace(/[^a-z0-9.]+/g, " ")
    .trim();
}
