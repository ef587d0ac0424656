import type { Finding } from "../finding.ts";
import type { FitCardDescription } from "./fit-card.ts";
import { findingsOf } from "./issues.ts";
import { count, length, line, map, type Reading, word } from "./leaves.ts";
import { sourceAtPath } from "./places.ts";
import type { SourceText } from "./source-text.ts";
import { type Entry, entryOf, placeOfKey, toData } from "./tree.ts";

/** Most grooves of a card: a tally of more is long to read. */
const MOST_GROOVES = 14;

/**
 * The keys of `fit card`:
 *
 *     fit card: {wood: ash, thickness: 9, runner: 9.53, depth: 3.5, bit: 4 mm flat}    # makes the card
 *     fit card: {runner: 9.53, bit: 4 mm flat, chosen: 9.85}                           # all grooves follow
 */
function must(r: Reading) {
  return {
    runner: length(r, "The real runner where it goes into its groove, measured.", "runner: 9.53"),
    bit: line("The bit that will cut the real grooves, by its name.", "bit: 4 mm flat"),
  };
}

/** What a card is made from: it must be said while the card is still to be made. */
function madeFrom(r: Reading) {
  return {
    wood: line("What the card is cut from: an offcut of the drawer sides.", "wood: ash"),
    thickness: length(r, "How thick that is.", "thickness: 9"),
    depth: length(r, "How deep the real groove will be.", "depth: 3.5"),
  };
}

function may(r: Reading) {
  const { wood, thickness, depth } = madeFrom(r);
  return {
    wood: wood.optional(),
    thickness: thickness.optional(),
    depth: depth.optional(),
    over: length(
      r,
      "How much wider than the runner the middle groove is; 0.25 without it.",
      "over: 0.25",
      "zero or more",
    ).optional(),
    step: length(r, "From groove to groove; 0.05 without it.", "step: 0.05").optional(),
    grooves: count(r, "How many grooves; 9 without it.", "grooves: 9", MOST_GROOVES).optional(),
    sizes: word(
      { burned: ["burnt"], cut: ["cut lines"] },
      "Sizes written beside the grooves, burned or cut; without it the tallies alone tell them.",
      "sizes: burned",
    ).optional(),
    "held by": word(
      { tape: ["double sided tape"], vacuum: ["suction"] },
      "How the card is held on the router.",
      "held by: tape",
    ).optional(),
  };
}

function chosenSize(r: Reading) {
  return length(
    r,
    "When the card is made: the size beside the groove that fits. All runner grooves follow.",
    "chosen: 9.85",
  );
}

const MEND = 'write, for example, "fit card: {wood: ash, thickness: 9, runner: 9.53, depth: 3.5, bit: 4 mm flat}"';

/** Both forms as one, for editors. */
export function fitCardForEditors(r: Reading) {
  return map({ ...must(r), ...may(r), chosen: chosenSize(r).optional() }, "").meta({
    description: "A card of grooves that finds the fit of runner and bit; with chosen, what it showed.",
  });
}

/** Reads `fit card:`. Absent where the job has none, or something in it is wrong. */
export function readFitCard(
  source: SourceText,
  entry: Entry | undefined,
  r: Reading,
): { readonly fitCard?: FitCardDescription; readonly findings: readonly Finding[] } {
  if (entry === undefined || entry.value.kind === "broken") return { findings: [] };
  const whose = { source, node: entry.value, entry };
  const at = placeOfKey(source, entry);
  const present = entry.value.kind === "map" ? entry.value.entries.map((e) => e.key.trim().toLowerCase()) : [];
  const sources = Object.fromEntries(present.map((key) => [key, sourceAtPath(whose, [key])]));
  const data = toData(entry.value);
  if (entryOf(entry.value, "chosen") === undefined) {
    const said = map({ ...must(r), ...may(r), ...madeFrom(r) }, MEND).safeParse(data);
    if (!said.success) return { findings: findingsOf(said.error.issues, whose) };
    const { over, step, grooves, sizes, "held by": heldBy, ...needed } = said.data;
    return {
      fitCard: {
        kind: "to make",
        ...needed,
        ...(over === undefined ? {} : { over }),
        ...(step === undefined ? {} : { step }),
        ...(grooves === undefined ? {} : { grooves }),
        ...(sizes === undefined ? {} : { sizes }),
        ...(heldBy === undefined ? {} : { heldBy }),
        source: at,
        sources,
      },
      findings: [],
    };
  }
  const said = map({ ...must(r), ...may(r), chosen: chosenSize(r) }, MEND).safeParse(data);
  if (!said.success) return { findings: findingsOf(said.error.issues, whose) };
  const { bit, runner, chosen } = said.data;
  return { fitCard: { kind: "chosen", bit, runner, chosen, source: at, sources }, findings: [] };
}
