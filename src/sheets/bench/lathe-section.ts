import { tidy } from "../../finding.ts";
import type { TurningSetUp } from "../../plan/turning-setup.ts";
import { orderOfWork, type PieceFiles } from "../piece-order.ts";
import { minutes } from "../sheet.ts";
import { settingOf, stationsOf } from "../template-stations.ts";
import { marksAndRest } from "../turning-sheet.ts";
import type { Block, TableBlock } from "./block.ts";
import { letterOf, turningFigure } from "./figures.ts";
import { foundBox } from "./found.ts";
import { type LengthWords, sentence } from "./length-words.ts";
import { copiesOf } from "./run-words.ts";
import { speedWords } from "./set-up-section.ts";
import type { BenchPiece, BenchWork } from "./work.ts";

/** Everything on the lathe: mountings with programs, and pieces that are turned by hand with their caliper settings. */
export function latheSections(work: BenchWork, say: LengthWords): readonly Block[] {
  const byHand = work.pieces.filter((p) => p.piece.turnedBy === "hand");
  if (work.pieces.length === 0) return [];
  return [
    { kind: "heading", level: 1, text: "Turned parts" },
    ...work.pieces.flatMap((one) => pieceOrder(one, work)),
    ...work.turnings.flatMap((setUp) => mounting(setUp, work, say)),
    ...byHand.flatMap((one) => handTurned(one, work, say)),
  ];
}

/** The work on a turned part in all its steps, from the blank to its finished halves. */
function pieceOrder({ piece, kit }: BenchPiece, work: BenchWork): readonly Block[] {
  const sheet = work.report.turned.find((t) => t.part === piece.name)?.sheet;
  return [
    { kind: "heading", level: 2, text: `${piece.name}, in order` },
    ...(sheet === undefined ? [] : [{ kind: "paragraph", text: `Drawn in ${sheet}.`, stays: true } as const]),
    ...orderOfWork(piece, kit, filesOf(piece.name, work)).flatMap((stage): readonly Block[] => [
      { kind: "heading", level: 3, text: stage.name },
      { kind: "checklist", items: [...new Set(stage.steps)].map((text) => ({ text, notes: [] })) },
    ]),
  ];
}

/** The files that its steps may name. */
function filesOf(part: string, { report }: BenchWork): PieceFiles {
  const turning = report.turnings
    .filter((p) => p.part === part)
    .map((p) => p.file)
    .join(", then ");
  const template = report.turned.find((t) => t.part === part)?.prints[0];
  return {
    ...(turning === "" ? {} : { turning }),
    ...(template === undefined ? {} : { template }),
    hollowing: report.programs.filter((p) => p.parts.includes(part)).map((p) => p.file),
  };
}

function mounting(setUp: TurningSetUp, work: BenchWork, say: LengthWords): readonly Block[] {
  const { piece, lathe } = setUp;
  const programs = work.report.turnings.filter((p) => p.setUp === setUp.name);
  const seconds = programs.reduce((sum, p) => sum + p.seconds, 0);
  const copies = copiesOf(setUp.name, work);
  const held = programs.length === 0;
  const across = `${say.one(piece.blank.across)} ${piece.blank.shape === "square" ? "square" : "across, round"}`;
  const side = lathe.toolPost === "rear" ? "behind the work, X above 0" : "in front of the work, X below 0";
  const tools = new Set(programs.flatMap((p) => p.tools.map((t) => t.name)));
  const blocks: readonly Block[] = [
    { kind: "heading", level: 2, text: setUp.name },
    {
      kind: "paragraph",
      bold: true,
      stays: true,
      text: held
        ? `Held back: no program is made for it yet. ${lathe.name}.`
        : `${programs.map((p) => p.file).join(", then ")} \u2014 ${lathe.name} \u2014 about ${minutes(seconds)}${copies > 1 ? ` each, for ${copies} blanks` : ""}`,
    },
    {
      kind: "list",
      stays: true,
      items: [
        `blank ${say.one(piece.blank.length)} long, ${across}, ${piece.wood}; its first end at the headstock`,
        `held: ${headWords(setUp)}; ${tailWords(setUp)}`,
        `zero: Z at the wood's tailstock end, X on the axis; X words are the ${lathe.xWords}; the tool stands ${side}`,
        ...marksAndRest(setUp).map((words, i) => (i < (setUp.marks ?? []).length ? `${letterOf(i)}: ${words}` : words)),
        `clear of everything beyond ${say.one(2 * setUp.safeRadius)} across`,
        `speed: until it is round ${speedWords(setUp.roughRpm, lathe.spindle)}, then ${speedWords(setUp.finishRpm, lathe.spindle)}; ${setUp.speedReason}`,
      ].map(sentence),
    },
    {
      kind: "figure",
      figure: turningFigure(setUp),
      caption: `Seen from above, headstock at the left: the blank dashed, what is turned full, grey is to be kept clear of.${programs[0] === undefined ? "" : ` True to scale: ${[...new Set(programs.map((p) => p.sheet))].join(", ")}.`}`,
    },
    {
      kind: "table",
      columns: [
        { head: "turning tool", share: 40 },
        { head: "nose radius", share: 20 },
        { head: "width", share: 20 },
        { head: "zero at its", share: 20 },
      ],
      rows: setUp.tools
        .filter((t) => tools.size === 0 || tools.has(t.name))
        .map((t) => [`${t.name}, slot ${t.slot}`, say.one(t.noseRadius), say.one(t.width), t.point]),
    },
    ...programs.map(
      (p): Block => ({
        kind: "table",
        ...(programs.length > 1 ? { caption: p.file } : {}),
        columns: [
          { head: "line", share: 9 },
          { head: "step", share: 36 },
          { head: "tool", share: 22 },
          { head: "speed", share: 24 },
          { head: "time", share: 9 },
        ],
        rows: p.steps.map((s) => [
          `N${s.n}`,
          s.title,
          s.cutter,
          `${speedWords(s.rpm, lathe.spindle)}, ${tidy(Math.round(s.feed))} mm/min`,
          minutes(s.seconds),
        ]),
      }),
    ),
    {
      kind: "checklist",
      items: [
        {
          text: "The work turned once by hand: it clears the rest, the tool and the carriage. The witness marks fit.",
          notes: [],
        },
        {
          text: programs.some((p) => p.dryRun !== null)
            ? `Rehearsed on a scrap blank, or run dry first: ${programs.flatMap((p) => p.dryRun ?? []).join(", ")}.`
            : "Rehearsed on a scrap blank.",
          notes: [],
        },
      ],
    },
    stationTable({ piece }, say, "Stop and measure, the lathe standing still"),
    ...foundBox(
      programs.flatMap((p) => p.findings),
      [],
    ),
  ];
  return [{ kind: "together", blocks }];
}

function headWords({ lathe }: TurningSetUp): string {
  const { head } = lathe;
  if (head === undefined) return "a drive centre at the headstock (none is in the shop file: this is taken)";
  return head.kind === "jaws"
    ? `jaws at the headstock, gripping ${tidy(head.grip)} mm`
    : "a drive centre at the headstock";
}

function tailWords({ lathe }: TurningSetUp): string {
  const { tail } = lathe;
  if (tail === undefined) return "a live centre at the tailstock (none is in the shop file: this is taken)";
  return tail.kind === "none" ? "nothing at the tailstock" : "a live centre at the tailstock";
}

function handTurned(one: BenchPiece, work: BenchWork, say: LengthWords): readonly Block[] {
  const { piece } = one;
  const entry = work.report.turned.find((t) => t.part === piece.name);
  const files = entry === undefined ? [] : [...entry.prints, entry.sheet];
  return [
    { kind: "heading", level: 2, text: `${piece.name}, turned by hand` },
    {
      kind: "list",
      items: [
        `blank ${say.one(piece.blank.length)} long, ${say.one(piece.blank.across)} ${piece.blank.shape === "square" ? "square" : "across, round"}, ${piece.wood}${piece.copies > 1 ? `; ${piece.copies} of them` : ""}`,
        ...(files.length > 0 ? [`print at 100 % and measure the check line: ${files.join(", ")}`] : []),
      ].map(sentence),
    },
    stationTable(one, say, "Caliper settings, and what was found"),
  ];
}

/** Diameters along a piece, for calipers, with room for what is found. */
function stationTable({ piece }: BenchPiece, say: LengthWords, caption: string): TableBlock {
  return {
    kind: "table",
    caption,
    columns: [
      { head: "from first end", share: 22 },
      { head: "what is there", share: 32 },
      { head: "across", share: 30 },
      { head: "found", share: 16 },
    ],
    rows: stationsOf(piece)
      .filter((s) => s.diameters.length > 0)
      .map((s) => [say.one(s.at), s.what, s.diameters.map((d) => settingOf(d).both).join("; then "), null]),
  };
}
