import { tidy } from "../../finding.ts";
import type { Holding, SetUp } from "../../plan/setup.ts";
import type { Cutter } from "../../shop/cutter.ts";
import type { SpindleSpeed } from "../../shop/machine.ts";
import { holdingWords } from "../lying.ts";
import type { ReportProgram } from "../report.ts";
import { roundWords } from "../round-blank.ts";
import { minutes } from "../sheet.ts";
import type { Block, TableBlock } from "./block.ts";
import { setUpFigure } from "./figures.ts";
import { foundBox } from "./found.ts";
import { type LengthWords, sentence } from "./length-words.ts";
import { type ToMeasure, toMeasure } from "./measure-list.ts";
import { copiesOf } from "./run-words.ts";
import type { BenchWork } from "./work.ts";

/** All set-ups on the router, each with what is needed at the machine. */
export function setUpSections(work: BenchWork, say: LengthWords): readonly Block[] {
  if (work.setUps.length === 0) return [];
  return [
    { kind: "heading", level: 1, text: "Set-ups on the router" },
    ...work.setUps.flatMap((setUp) => setUpSection(setUp, work, say)),
  ];
}

function setUpSection(setUp: SetUp, work: BenchWork, say: LengthWords): readonly Block[] {
  const programs = work.report.programs.filter((p) => p.setUp === setUp.name);
  const copies = copiesOf(setUp.name, work);
  const measured = toMeasure(setUp);
  const seconds = programs.reduce((sum, p) => sum + p.seconds, 0);
  const held = work.report.heldBack.some((h) => h.setUp === setUp.name);
  const blocks: readonly Block[] = [
    { kind: "heading", level: 2, text: setUp.name },
    {
      kind: "paragraph",
      bold: true,
      stays: true,
      text: held
        ? `Held back: no program is made for it yet. ${setUp.machine.name}.`
        : `${programs.map((p) => p.file).join(", then ")} \u2014 ${setUp.machine.name} \u2014 about ${minutes(seconds)}${copies > 1 ? ` each, for ${copies} blanks` : ""}`,
    },
    { kind: "list", items: facts(setUp, say), stays: true },
    {
      kind: "figure",
      figure: setUpFigure(setUp, measured),
      caption: `Seen from above as it lies; grey is cut away, crossed boxes are clamps, crosses with letters the witness marks, 0 is zero.${programs[0] === undefined ? "" : ` True to scale, with the bit's ways: ${[...new Set(programs.map((p) => p.sheet))].join(", ")}.`}`,
    },
    bitTable(setUp, programs, say),
    ...programs.map((p) => stepTable(p, setUp.machine.spindle, programs.length > 1)),
    {
      kind: "checklist",
      items: [
        {
          text: "Zero found, then the witness marks: with the spindle off the tip stops a gauge block above each. Where the block doesn't just fit, stop.",
          notes: setUp.marks.length === 0 ? [] : [setUp.marks.map((m) => m.name).join("; ")],
        },
        {
          text: programs.some((p) => p.dryRun !== null)
            ? `Rehearsed in scrap of the same thickness, or run dry first: ${programs.flatMap((p) => p.dryRun ?? []).join(", ")}.`
            : "Rehearsed in scrap of the same thickness.",
          notes: [],
        },
      ],
    },
    ...measureTable(measured, say),
    ...foundBox(
      programs.flatMap((p) => p.findings),
      setUp.notes ?? [],
    ),
  ];
  return [{ kind: "together", blocks }];
}

function facts(setUp: SetUp, say: LengthWords): readonly string[] {
  const { workpiece, face, zero, turnOver } = setUp;
  const { length, width, thickness } = workpiece.size;
  const parts = [...new Set(workpiece.pieces.map((p) => p.part))];
  const side = face === workpiece.faceSide ? ", the face side" : "";
  return [
    `${parts.length > 1 || parts[0] !== workpiece.name ? `parts: ${parts.join(", ")}; ` : ""}blank ${say.size(length, width, thickness)}, ${workpiece.wood}`,
    `up: ${workpiece.labels[face]}${side}`,
    ...roundWords(setUp),
    ...(turnOver === undefined ? [] : [`turn it over ${turnOver.how}; keep the ${turnOver.edgeAtFence} at the fence`]),
    `${holdingWords(setUp)}${holdingPlaces(setUp.holding, setUp)}`,
    `zero: ${zero.how}`,
  ].map(sentence);
}

function holdingPlaces(holding: Holding, setUp: SetUp): string {
  if (holding.kind === "underside") return "";
  const names = [...new Set(setUp.keepOuts.map((k) => k.name))];
  return names.length === 0 ? "" : `: ${names.join(", ")}, where they are drawn; the programs go round them`;
}

/** The bits as they must stand in the collet. */
function bitTable(setUp: SetUp, programs: readonly ReportProgram[], say: LengthWords): TableBlock {
  const used = new Set(programs.flatMap((p) => p.cutters.map((c) => c.name)));
  const cutters = setUp.cutters.filter((c) => used.size === 0 || used.has(c.name));
  return {
    kind: "table",
    columns: [
      { head: "bit", share: 34 },
      { head: "diameter", share: 30 },
      { head: "stands out", share: 22 },
      { head: "found", share: 14 },
    ],
    rows: cutters.map((c) => [
      setUp.machine.controller.toolTable ? `${c.name}, slot ${c.slot}` : c.name,
      diameterWords(c, say),
      `${say.one(c.stickOut)} below the nut`,
      null,
    ]),
  };
}

function diameterWords(c: Cutter, say: LengthWords): string {
  const size = say.one(c.diameter);
  return c.diameterMeasured ? `${size}, measured` : `${size} by its label, not measured: measure it`;
}

function stepTable(p: ReportProgram, spindle: SpindleSpeed, named: boolean): TableBlock {
  return {
    kind: "table",
    ...(named ? { caption: p.file } : {}),
    columns: [
      { head: "line", share: 9 },
      { head: "step", share: 35 },
      { head: "bit", share: 25 },
      { head: "speed", share: 22 },
      { head: "time", share: 9 },
    ],
    rows: p.steps.map((s) => [
      `N${s.n}`,
      s.title,
      s.cutter,
      `${speedWords(s.rpm, spindle)}, ${tidy(Math.round(s.feed))} mm/min`,
      minutes(s.seconds),
    ]),
  };
}

/** `18000 rpm`, or where the speed is a dial, what to set it to. */
export function speedWords(rpm: number, spindle: SpindleSpeed): string {
  switch (spindle.kind) {
    case "program":
      return `${tidy(Math.round(rpm))} rpm`;
    case "dial": {
      const at = spindle.positions.find((p) => Math.abs(p.rpm - rpm) < 1);
      return at === undefined ? `set ${tidy(Math.round(rpm))} rpm` : `set the dial to ${at.mark} (${tidy(at.rpm)} rpm)`;
    }
  }
}

/** Stop and measure: what each cut should be, and room to write what was found. */
function measureTable(measured: readonly ToMeasure[], say: LengthWords): readonly Block[] {
  const rows = measured.map((m) => [
    String(m.n),
    m.feature,
    m.sizes.map((s) => `${s.what} ${say.calipers(s.value, s.plusMinus)}`).join("; "),
    null,
  ]);
  if (rows.length === 0) return [];
  return [
    {
      kind: "table",
      caption: "Stop and measure, before the next set-up",
      columns: [
        { head: "", share: 5 },
        { head: "cut", share: 22 },
        { head: "should be", share: 46 },
        { head: "found", share: 27 },
      ],
      rows,
    },
  ];
}
