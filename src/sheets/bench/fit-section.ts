import type { DrawerFit, FitPlan } from "../../fit/fit-plan.ts";
import { onBothRules } from "../../fit/nearest-64th.ts";
import type { GapAt } from "../../fit/seasons-gaps.ts";
import { gapInWords } from "../../fit/sureness-words.ts";
import type { Block } from "./block.ts";
import { frontsFigure, openingsFigure } from "./figures.ts";
import { hundredth, type LengthWords, sentence, sentencesOf } from "./length-words.ts";
import type { BenchWork } from "./work.ts";

/** The drawers' fit: openings repeated back, sizes, planing, gauges, gaps through the year, runners, the cut list, defaults. */
export function fitSections(work: BenchWork, say: LengthWords): readonly Block[] {
  const { fit } = work;
  if (fit === undefined || fit.drawers.length === 0) return cardBlocks(work, 1);
  return [
    { kind: "heading", level: 1, text: "The fit" },
    {
      kind: "figure",
      figure: openingsFigure(fit.drawers, say),
      caption: `The openings as they were measured, seen from the front${say.unit === "mm" ? ", mm" : ""}. Compare them with the case before anything is cut: a wrong number here is a wrong drawer.`,
    },
    sizeTable(fit.drawers, say),
    ...frontBlocks(fit.drawers),
    ...gaugeBlocks(fit.drawers),
    ...runnerBlocks(fit, say),
    ...gapBlocks(fit),
    ...cardBlocks(work, 2),
    ...assumedBlocks(fit),
  ];
}

function sizeTable(drawers: readonly DrawerFit[], say: LengthWords): Block {
  return {
    kind: "table",
    caption: "Boxes, when glued and cleaned up",
    columns: [
      { head: "drawer", share: 21 },
      { head: "wide", share: 34 },
      { head: "high", share: 32 },
      { head: "deep", share: 34 },
      { head: "narrowest", share: 37 },
      { head: "found", share: 20 },
    ],
    rows: drawers.map((d) => [
      d.name,
      say.both(d.box.width),
      say.both(d.box.height),
      say.both(d.box.depth),
      `${say.one(d.mouth.narrowest.width)} at the ${d.mouth.narrowest.at}`,
      null,
    ]),
  };
}

function frontBlocks(drawers: readonly DrawerFit[]): readonly Block[] {
  return [
    { kind: "heading", level: 2, text: "Fronts" },
    {
      kind: "figure",
      figure: frontsFigure(drawers),
      caption:
        "Dashed: as sawn. Full: when it fits. The numbers are what is planed off at each corner, mm, seen from the front. Plane a little less, try it, and plane again.",
    },
    {
      kind: "checklist",
      items: drawers.map((d) => ({
        text: `"${d.front.part}"`,
        notes: [...d.front.plane.map((p) => sentence(`${p.edge}: ${p.words}`)), ...mouthNotes(d).map(sentence)],
      })),
    },
  ];
}

/** What the readings of a mouth say about themselves. */
function mouthNotes({ mouth }: DrawerFit): readonly string[] {
  return [
    ...(mouth.squareAssumed
      ? [
          "no diagonals were measured: the mouth is taken to be as square as its widths and heights allow. Try the front before you plane it",
        ]
      : []),
    ...(mouth.contradiction === undefined || mouth.contradiction < 0.1
      ? []
      : [`the readings contradict each other by ${hundredth(mouth.contradiction)} mm on a diagonal: measure again`]),
    ...(mouth.sag > 0.1 ? [`the upper edge hangs down ${hundredth(mouth.sag)} mm between its corners`] : []),
  ];
}

/** Alike settings are told once, with the drawers they are for. */
function gaugeBlocks(drawers: readonly DrawerFit[]): readonly Block[] {
  const rows = new Map<string, { row: readonly string[]; names: string[] }>();
  for (const d of drawers) {
    for (const [place, joint] of [
      ["front", d.frontJoint],
      ["back", d.backJoint],
    ] as const) {
      for (const s of joint.settings) {
        const row = [`${place}, ${joint.kind}`, s.name, onBothRules(s.value), s.where];
        const key = JSON.stringify(row);
        const there = rows.get(key);
        if (there === undefined) rows.set(key, { row, names: [d.name] });
        else there.names.push(d.name);
      }
    }
  }
  if (rows.size === 0) return [];
  return [
    {
      kind: "table",
      caption: "Marking gauge settings",
      columns: [
        { head: "joint", share: 18 },
        { head: "gauge", share: 12 },
        { head: "set to", share: 20 },
        { head: "scribe it", share: 32 },
        { head: "drawers", share: 18 },
      ],
      rows: [...rows.values()].map(({ row, names }) => [
        ...row,
        names.length === drawers.length ? "all" : names.join(", "),
      ]),
    },
  ];
}

function runnerBlocks(fit: FitPlan, say: LengthWords): readonly Block[] {
  return [
    { kind: "heading", level: 2, text: "Runners" },
    {
      kind: "table",
      columns: [
        { head: "opening", share: 24 },
        { head: "runner", share: 46 },
        { head: "on a spacer of", share: 30 },
        { head: "behind the front edge", share: 30 },
        { head: "between, at the mouth", share: 24 },
        { head: "at the back", share: 24 },
      ],
      rows: fit.drawers.map(({ name, runner: r }) => [
        name,
        `${r.part}, ${say.size(r.size.length, r.size.width, r.size.thickness)}`,
        say.both(r.spacer),
        say.both(r.setback),
        r.between.measured ? say.one(r.between.mouth) : null,
        r.between.measured ? say.one(r.between.back) : null,
      ]),
    },
    { kind: "checklist", items: runnerWords(fit).map((text) => ({ text, notes: [] })) },
  ];
}

/** How they are fitted, in order: the step's own words where there is one. */
function runnerWords({ steps, runnerFitting }: FitPlan): readonly string[] {
  const step = steps.find((s) => s.id === "fit runners");
  const own = step === undefined ? [] : sentencesOf(step.text);
  const more = runnerFitting.flatMap((g) => g.words.map(sentence));
  return [...new Set([...own, ...more.filter((w) => step?.text.includes(w) !== true)])];
}

function gapBlocks({ drawers, year, today }: FitPlan): readonly Block[] {
  const gaps = drawers.flatMap((d) => d.gaps.map((gap) => ({ drawer: d.name, gap })));
  const least = gaps.reduce<(typeof gaps)[number] | undefined>(
    (a, b) => (a !== undefined && a.gap.tightest.stands <= b.gap.tightest.stands ? a : b),
    undefined,
  );
  if (least === undefined) return [];
  const seasons = year.seasons.map((s) => s.name);
  const cell = (at: GapAt | undefined): string =>
    at === undefined
      ? ""
      : `${at.value.toFixed(2)} (${at.worst.least.toFixed(2)}\u00a0to\u00a0${at.worst.most.toFixed(2)})`;
  return [
    { kind: "heading", level: 2, text: "Gaps through the year" },
    {
      kind: "list",
      items: [
        ...year.seasons.map(
          (s) =>
            `${s.name}: ${s.climate.celsius} °C at ${s.climate.humidity} % humidity brings the wood to ${s.moisture.toFixed(1)} %${year.from === "built-in default" ? " (not your own: built in)" : ""}`,
        ),
        `today: ${today.moisture.toFixed(1)} ± ${today.plusMinus.toFixed(1)} %, ${today.how}`,
      ].map(sentence),
    },
    { kind: "paragraph", bold: true, stays: true, text: `The gap that stands the least: ${least.gap.name}.` },
    { kind: "list", items: gapInWords(least.gap).map(sentence) },
    {
      kind: "table",
      caption: `All gaps, mm: as fitted${least.gap.guess ? " (a guess: the wood's moisture today is not known)" : ""} and in each season, at worst in brackets`,
      columns: [
        { head: "gap", share: 50 },
        { head: "now", share: 26 },
        ...seasons.map((head) => ({ head, share: 26 })),
        { head: "what matters most", share: 34 },
        { head: "stands", share: 14 },
      ],
      rows: gaps.map(({ gap }) => [
        gap.name,
        cell(gap.now),
        ...seasons.map((name) => cell(gap.seasons.find((s) => s.when === name))),
        gap.tightest.matters?.name ?? "",
        standsWords(gap.tightest.stands),
      ]),
    },
    {
      kind: "paragraph",
      text: "Stands: how many times the errors that measuring may have, all falling together, before a gap is too small or too wide. Below 1, measure what matters most again, more finely.",
    },
  ];
}

function standsWords(stands: number): string {
  return Number.isFinite(stands) ? `${(Math.floor(stands * 10) / 10).toFixed(1)} times` : "any";
}

/** What the fit card's grooves are, and where to write the one that was chosen. */
function cardBlocks({ cardCells, job }: BenchWork, level: 1 | 2): readonly Block[] {
  if (cardCells.length === 0) return [];
  return [
    { kind: "heading", level, text: "Fit card" },
    {
      kind: "paragraph",
      text: "Slide the real runner into each groove, waxed as it will be. Take the narrowest in which it runs by its own weight and doesn't rattle. Write its size in the job: all runner grooves follow it.",
    },
    {
      kind: "table",
      columns: [
        { head: "groove", share: 12 },
        { head: "its tally, read outward", share: 34 },
        { head: "opens to the", share: 18 },
        { head: "wide", share: 22 },
        { head: "over the runner", share: 22 },
      ],
      rows: cardCells.map((c) => [
        String(c.number),
        c.tallyInWords,
        c.opensTo,
        onBothRules(c.width),
        `${c.over.toFixed(2)} mm`,
      ]),
    },
    {
      kind: "blanks",
      items: [
        { label: "groove chosen", unit: "" },
        { label: `its size, for the job's fit card (${job.file})`, unit: "mm" },
      ],
    },
  ];
}

function assumedBlocks({ assumed }: FitPlan): readonly Block[] {
  if (assumed.length === 0) return [];
  return [
    { kind: "heading", level: 2, text: "Taken because the job doesn't say" },
    {
      kind: "table",
      columns: [
        { head: "what", share: 32 },
        { head: "taken", share: 24 },
        { head: "why", share: 44 },
      ],
      rows: assumed.map((a) => [a.what, a.value, a.why]),
    },
  ];
}
