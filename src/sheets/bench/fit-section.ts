import type { CutListItem, DrawerFit, FitPlan } from "../../fit/fit-plan.ts";
import { onBothRules } from "../../fit/nearest-64th.ts";
import { gapInWords } from "../../fit/sureness-words.ts";
import type { Block } from "./block.ts";
import { frontFigure, openingsFigure } from "./figures.ts";
import { hundredth, type LengthWords, sentence } from "./length-words.ts";
import type { BenchWork } from "./work.ts";

/** The drawers' fit: openings repeated back, sizes, planing, gauges, gaps through the year, runners, the cut list, defaults. */
export function fitSections(work: BenchWork, say: LengthWords): readonly Block[] {
  const { fit } = work;
  if (fit === undefined || fit.drawers.length === 0) return [];
  return [
    { kind: "heading", level: 1, text: "The fit" },
    {
      kind: "figure",
      figure: openingsFigure(fit.drawers, say),
      caption: `The openings as they were measured, seen from the front${say.unit === "mm" ? ", mm" : ""}. Compare them with the case before anything is cut: a wrong number here is a wrong drawer.`,
    },
    sizeTable(fit.drawers, say),
    ...fit.drawers.flatMap((d) => frontBlocks(d)),
    ...gaugeBlocks(fit.drawers),
    ...runnerBlocks(fit, say),
    ...gapBlocks(fit),
    ...cardBlocks(work),
    ...cutListBlocks(fit, say),
    ...assumedBlocks(fit),
  ];
}

function sizeTable(drawers: readonly DrawerFit[], say: LengthWords): Block {
  return {
    kind: "table",
    caption: "Boxes, when glued and cleaned up",
    columns: [
      { head: "drawer", share: 18 },
      { head: "wide", share: 17 },
      { head: "high", share: 17 },
      { head: "deep", share: 17 },
      { head: "narrowest", share: 21 },
      { head: "found", share: 10 },
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

function frontBlocks(d: DrawerFit): readonly Block[] {
  const { front, mouth } = d;
  const notes = [
    ...(mouth.squareAssumed
      ? [
          "no diagonals were measured: the mouth is taken to be as square as its widths and heights allow. Try the front before you plane it",
        ]
      : []),
    ...(mouth.contradiction === undefined || mouth.contradiction < 0.05
      ? []
      : [`the readings contradict each other by ${hundredth(mouth.contradiction)} mm on a diagonal: measure again`]),
    ...(mouth.sag > 0.05 ? [`the upper edge hangs down ${hundredth(mouth.sag)} mm between its corners`] : []),
  ];
  const planing = front.plane.filter((p) => Math.max(p.first, p.second) > 0.005);
  return [
    { kind: "heading", level: 3, text: `Front of ${d.name}` },
    {
      kind: "figure",
      figure: frontFigure(d),
      caption:
        "Dashed: as sawn. Full: when it fits. The numbers are what is planed off at each corner, mm, seen from the front.",
    },
    {
      kind: "checklist",
      items: planing.map((p) => ({ text: sentence(`plane ${p.words}`), notes: [] })),
    },
    ...(notes.length === 0 ? [] : [{ kind: "list", items: notes.map(sentence) } as const]),
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
        { head: "opening", share: 15 },
        { head: "runner", share: 25 },
        { head: "on a spacer of", share: 18 },
        { head: "behind the front edge", share: 18 },
        { head: "between, at the mouth", share: 12 },
        { head: "at the back", share: 12 },
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
    ...fit.runnerFitting.map((g): Block => ({ kind: "list", items: g.words.map(sentence) })),
  ];
}

function gapBlocks({ drawers, year, today }: FitPlan): readonly Block[] {
  const groups = new Map<string, { name: string; words: readonly string[]; drawers: string[] }>();
  for (const d of drawers) {
    for (const gap of d.gaps) {
      const words = gapInWords(gap);
      const key = JSON.stringify([gap.name, words]);
      const there = groups.get(key);
      if (there === undefined) groups.set(key, { name: gap.name, words, drawers: [d.name] });
      else there.drawers.push(d.name);
    }
  }
  if (groups.size === 0) return [];
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
    ...[...groups.values()].flatMap((g): readonly Block[] => [
      {
        kind: "heading",
        level: 3,
        text: `${g.name}: ${g.drawers.length === drawers.length ? "every drawer" : g.drawers.join(", ")}`,
      },
      { kind: "list", items: g.words.map(sentence) },
    ]),
  ];
}

/** What the fit card's grooves are, and where to write the one that was chosen. */
function cardBlocks({ cardCells, job }: BenchWork): readonly Block[] {
  if (cardCells.length === 0) return [];
  return [
    { kind: "heading", level: 2, text: "Fit card" },
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

function cutListBlocks({ cutList, runs }: FitPlan, say: LengthWords): readonly Block[] {
  if (cutList.length === 0) return [];
  return [
    { kind: "heading", level: 2, text: "Cut list" },
    {
      kind: "table",
      columns: [
        { head: "part", share: 22 },
        { head: "no.", share: 6 },
        { head: "wood, grain", share: 20 },
        { head: "rough", share: 25 },
        { head: "finished", share: 25 },
      ],
      rows: cutList.map((i) => [
        i.part,
        String(i.count),
        `${i.wood}, ${i.from}${grainWords(i)}${i.run === undefined ? "" : `, from "${i.run}"`}`,
        sizeWords(i.rough, say),
        sizeWords(i.finished, say),
      ]),
    },
    ...(runs.length === 0
      ? []
      : [
          {
            kind: "table",
            caption: "Boards that fronts are sawn from, grain running through",
            columns: [
              { head: "board", share: 20 },
              { head: "size", share: 26 },
              { head: "sawn off it, in order, from its first end", share: 54 },
            ],
            rows: runs.map((r) => [
              `${r.name}, ${r.wood}`,
              sizeWords(r.size, say),
              `${r.parts.map((p) => `${p.part}: ${hundredth(p.from)} to ${hundredth(p.to)} mm`).join("; ")}; ${hundredth(r.between)} mm between two`,
            ]),
          } as const,
        ]),
  ];
}

function grainWords({ grain }: CutListItem): string {
  switch (grain) {
    case "along length":
      return ", grain along its length";
    case "along width":
      return ", grain across its length";
    case "none":
      return "";
  }
}

function sizeWords(size: CutListItem["finished"], say: LengthWords): string {
  return say.size(size.length, size.width, size.thickness);
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
