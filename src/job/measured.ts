import type { Finding } from "../finding.ts";
import { isFormulaWord } from "../units/formula.ts";
import { nameKey } from "../units/marks.ts";
import { type NameTable, nameTrouble } from "../units/names.ts";
import { printLength } from "../units/print.ts";
import { type Read, read, type TextProblem, unread } from "../units/problem.ts";
import { readValue } from "../units/quantity.ts";
import { isUnitWord, type LengthUnit } from "../units/unit-table.ts";
import { dimensionInWords, sameDimension, type Value } from "../units/value.ts";
import { findingsOf, problemFinding, type Whose } from "./issues.ts";
import type { Measurement } from "./job.ts";
import { jobFinding } from "./job-finding.ts";
import { readingsSchema } from "./schema.ts";
import type { SourceText } from "./source-text.ts";
import { type Entry, placeOf, placeOfKey, type Tree, toData } from "./tree.ts";
import { plainKey } from "./words.ts";

/** The measured sizes of a job, ready for formulas. */
export interface Measured {
  readonly names: NameTable;
  readonly measurements: readonly Measurement[];
  readonly findings: readonly Finding[];
}

/** Longest chain of sizes that are reckoned from each other. */
const LONGEST_CHAIN = 60;

interface Named {
  readonly name: string;
  readonly key: string;
  readonly entry: Entry;
}

/**
 * Reads the sizes under `measured`. They may be formulas over each other, in any order; a circle is refused with its
 * lines. Each mistake is told once: a formula over a size that could not be read says nothing more.
 */
export function readMeasured(
  source: SourceText,
  node: Tree | undefined,
  unit: LengthUnit,
  unitKnown: boolean,
): Measured {
  const found: Finding[] = [];
  const entries = node?.kind === "map" ? usable(source, node.entries, found) : [];
  const byKey = new Map(entries.map((e) => [e.key, e]));
  const done = new Map<string, Outcome | "open">();
  const trail: Named[] = [];
  const readings = readingsSchema();
  const names: NameTable = { names: entries.map((e) => e.name), valueOf: (key) => worked(key) };

  function worked(key: string): Read<Value> | undefined {
    const named = byKey.get(key);
    if (!named) return undefined;
    const before = done.get(key);
    if (before === "open") return unread(circle(key));
    if (before) return before.value ? read(before.value) : unread(BROKEN);
    if (trail.length >= LONGEST_CHAIN) {
      return unread({
        code: "formula-too-deep",
        what: `this is reckoned from a chain of more than ${LONGEST_CHAIN} sizes`,
        mend: "measure one of the sizes in between",
        at: 0,
        length: 1,
      });
    }
    done.set(key, "open");
    trail.push(named);
    const whose: Whose = { source, node: named.entry.value, entry: named.entry };
    const outcome = readOne(named, whose, { names, unit, unitKnown, readings });
    found.push(...outcome.findings);
    trail.pop();
    done.set(key, outcome);
    return outcome.value ? read(outcome.value) : unread(BROKEN);
  }

  function circle(key: string): TextProblem {
    const round = trail.slice(trail.findIndex((t) => t.key === key));
    const told = round.map((t) => `"${t.name}" (line ${placeOfKey(source, t.entry).line})`);
    return {
      code: "formula-circular",
      what: "these sizes are reckoned from each other in a circle",
      why: `${[...told, told[0] ?? ""].join(" needs ")}`,
      mend: "measure one of them, and write its size in place of its formula",
      at: 0,
      length: 1,
    };
  }

  for (const { key } of entries) worked(key);
  const measurements = entries.flatMap(({ key }) => {
    const outcome = done.get(key);
    return outcome && outcome !== "open" && outcome.measurement ? [outcome.measurement] : [];
  });
  return { names, measurements, findings: found };
}

const BROKEN: TextProblem = {
  code: "formula-name-broken",
  what: "this size could not be read",
  mend: "mend the size itself",
  at: 0,
  length: 1,
};

interface Outcome {
  readonly value?: Value;
  readonly measurement?: Measurement;
  readonly findings: readonly Finding[];
}

function usable(source: SourceText, entries: readonly Entry[], found: Finding[]): readonly Named[] {
  const out: Named[] = [];
  const seen = new Map<string, Entry>();
  for (const entry of entries) {
    const name = entry.key.trim().replace(/\s+/g, " ");
    const key = nameKey(name);
    const place = placeOfKey(source, entry);
    const before = seen.get(key);
    const trouble = isFormulaWord(key) || isUnitWord(key) ? "it means something else in a formula" : nameTrouble(name);
    if (trouble !== undefined) {
      found.push(
        jobFinding("name-unusable", place, `"${name}" cannot name a measured size`, {
          why: trouble,
          mend: 'choose plain words, for example "case depth"',
        }),
      );
    } else if (before) {
      found.push(
        jobFinding("name-twice", place, `two sizes are called "${name}"`, {
          why: `the first is on line ${placeOfKey(source, before).line}`,
          mend: "give one of them another name",
        }),
      );
    } else {
      seen.set(key, entry);
      out.push({ name, key, entry });
    }
  }
  return out;
}

interface Given {
  readonly names: NameTable;
  readonly unit: LengthUnit;
  readonly unitKnown: boolean;
  readonly readings: ReturnType<typeof readingsSchema>;
}

function readOne(named: Named, whose: Whose, given: Given): Outcome {
  const { node } = whose;
  switch (node.kind) {
    case "broken":
      return { findings: [] };
    case "empty":
      return {
        findings: [
          jobFinding("value-missing", placeOfKey(whose.source, named.entry), `"${named.name}" has no size`, {
            mend: "write what was measured after the colon, and a space before it",
          }),
        ],
      };
    case "text": {
      const one = readingOf(whose, node, named.entry, given);
      if (!one.value) return { findings: one.findings };
      const { value, length } = one.value;
      const measurement: Measurement = {
        name: named.name,
        value,
        power: length,
        readings: [],
        with: "unsaid",
        source: placeOf(whose.source, node),
      };
      return { value: one.value, measurement, findings: [] };
    }
    case "list":
      return readSeveral(
        named,
        whose,
        node.items.map((item, i) => ({ place: String(i + 1), item, entry: undefined })),
        given,
        { with: undefined, use: undefined },
      );
    case "map": {
      const own = new Set(["with", "use"]);
      const head = { ...node, entries: node.entries.filter((e) => own.has(plainKey(e.key))) };
      const said = given.readings.safeParse(toData(head));
      const readings = node.entries
        .filter((e) => !own.has(plainKey(e.key)))
        .map((e) => ({ place: e.key.trim(), item: e.value, entry: e }));
      const several = readSeveral(
        named,
        whose,
        readings,
        given,
        said.success ? said.data : { with: undefined, use: undefined },
      );
      if (said.success) return several;
      return { findings: [...findingsOf(said.error.issues, { ...whose, node: head }), ...several.findings] };
    }
  }
}

function readingOf(
  whose: Whose,
  item: Tree,
  entry: Entry | undefined,
  given: Given,
): { value?: Value; findings: readonly Finding[] } {
  if (item.kind === "broken") return { findings: [] };
  if (item.kind !== "text") {
    return {
      findings: [
        jobFinding(
          "kind-wrong",
          entry ? placeOfKey(whose.source, entry) : placeOf(whose.source, item),
          "a reading is one size",
          { mend: 'write, for example, "mouth: 142.3"' },
        ),
      ],
    };
  }
  const value = readValue(item.text, given.unit, given.names);
  if (!value.ok) {
    if (!given.unitKnown && value.problem.code === "bare-fraction") return { findings: [] };
    return { findings: problemFinding(value.problem, item, entry, whose) };
  }
  if (value.value.length === 1 && !(value.value.value > 0)) {
    return {
      findings: [
        jobFinding(
          "size-not-positive",
          placeOf(whose.source, item),
          value.value.value === 0 ? "a size of nothing" : "a size below nothing",
          {
            why: "a measured size is more than nothing",
            mend: "measure again, or check the formula",
          },
        ),
      ],
    };
  }
  return { value: value.value, findings: [] };
}

interface ReadingAt {
  readonly place: string;
  readonly item: Tree;
  readonly entry: Entry | undefined;
}

function readSeveral(
  named: Named,
  whose: Whose,
  readings: readonly ReadingAt[],
  given: Given,
  how: {
    readonly with?: Measurement["with"] | undefined;
    readonly use?: "smallest" | "largest" | "middle" | undefined;
  },
): Outcome {
  const place = placeOfKey(whose.source, named.entry);
  if (readings.length === 0) {
    return {
      findings: [
        jobFinding("value-missing", place, `"${named.name}" has no reading`, {
          mend: 'write at least one: "mouth: 142.3"',
        }),
      ],
    };
  }
  const results = readings.map((r) => ({ ...r, ...readingOf(whose, r.item, r.entry, given) }));
  const findings = results.flatMap((r) => r.findings);
  const values = results.flatMap((r) => (r.value ? [{ place: r.place, value: r.value }] : []));
  const first = values[0];
  if (findings.length > 0 || first === undefined || values.length < readings.length) return { findings };
  const other = results.find((r) => r.value && !sameDimension(r.value, first.value));
  if (other?.value) {
    return {
      findings: [
        jobFinding(
          "unit-wrong-kind",
          placeOf(whose.source, other.item),
          `these readings mix ${dimensionInWords(first.value)} and ${dimensionInWords(other.value)}`,
          {
            mend: "readings of one size are all of one kind",
          },
        ),
      ],
    };
  }
  const numbers = values.map((v) => v.value.value);
  const value = chosen(numbers, how.use ?? "smallest");
  const spread = first.value.length === 1 ? spreadFinding(named, place, numbers, given.unit) : [];
  const measurement: Measurement = {
    name: named.name,
    value,
    power: first.value.length,
    readings: values.map((v) => ({ place: v.place, value: v.value.value })),
    with: how.with ?? "unsaid",
    source: place,
  };
  return { value: { value, length: first.value.length, angle: first.value.angle }, measurement, findings: spread };
}

function chosen(numbers: readonly number[], use: "smallest" | "largest" | "middle"): number {
  switch (use) {
    case "smallest":
      return Math.min(...numbers);
    case "largest":
      return Math.max(...numbers);
    case "middle":
      return numbers.reduce((a, b) => a + b, 0) / numbers.length;
  }
}

/**
 * Most that readings of one size may differ, mm: 3 mm or 2 %, whichever is less, but never under 0.5 mm, so that a rule
 * read to half a millimetre is no slip. Common practice, no source.
 */
export function allowedSpread(smallest: number): number {
  return Math.min(3, Math.max(0.5, smallest * 0.02));
}

function spreadFinding(
  named: Named,
  place: Finding["place"]["source"] & object,
  numbers: readonly number[],
  unit: LengthUnit,
): readonly Finding[] {
  const [least, most] = [Math.min(...numbers), Math.max(...numbers)];
  const limit = allowedSpread(least);
  const spread = most - least;
  if (spread <= limit + 1e-9) return [];
  const shown = (mm: number): string => printLength(Number(mm.toFixed(2)), unit);
  const finding = jobFinding("readings-spread", place, `the readings of "${named.name}" lie far apart`, {
    why: `from ${shown(least)} to ${shown(most)}, a spread of ${printLength(Number(spread.toFixed(2)), "mm")}`,
    mend: 'measure again and look for a slipped digit; if it is really like that, add "override: {readings-spread: the reason}"',
  });
  return [
    {
      ...finding,
      measured: { value: spread, bound: 0, unit: "mm" },
      limit: { value: limit, unit: "mm", from: "3 mm or 2 %, whichever is less; common practice, no source" },
    },
  ];
}
