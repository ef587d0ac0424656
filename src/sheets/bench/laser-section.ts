import { tidy } from "../../finding.ts";
import { beamCautions } from "../../plan/beam-cautions.ts";
import type { BeamSetUp } from "../../plan/beam-setup.ts";
import { holdingWords } from "../lying.ts";
import { minutes } from "../sheet.ts";
import type { Block } from "./block.ts";
import { beamFigure } from "./figures.ts";
import { foundBox } from "./found.ts";
import { type LengthWords, sentence } from "./length-words.ts";
import { copiesOf } from "./run-words.ts";
import type { BenchWork } from "./work.ts";

/** All set-ups under the laser. Its cautions stand first: nobody reads them afterwards. */
export function laserSections(work: BenchWork, say: LengthWords): readonly Block[] {
  if (work.beams.length === 0) return [];
  const lasers = [...new Set(work.beams.map((b) => b.machine.name))];
  // Told once for each machine, and for each wood on it.
  const cautions = [...new Set(work.beams.flatMap((b) => beamCautions(b)))];
  return [
    { kind: "heading", level: 1, text: "Under the laser" },
    { kind: "caution", title: `Before anything is burned: ${lasers.join(", ")}`, items: cautions },
    ...work.beams.flatMap((setUp) => beamSection(setUp, work, say)),
  ];
}

function beamSection(setUp: BeamSetUp, work: BenchWork, say: LengthWords): readonly Block[] {
  const { workpiece, face, laser, machine, turnOver } = setUp;
  const programs = work.report.beams.filter((p) => p.setUp === setUp.name);
  const copies = copiesOf(setUp.name, work);
  const { length, width, thickness } = workpiece.size;
  const seconds = programs.reduce((sum, p) => sum + p.seconds, 0);
  const sheets = programs.flatMap((p) => p.sheet ?? []);
  const blocks: readonly Block[] = [
    { kind: "heading", level: 2, text: setUp.name },
    {
      kind: "paragraph",
      bold: true,
      stays: true,
      text:
        programs.length === 0
          ? `Held back: no program is made for it yet. ${machine.name}.`
          : `${programs.map((p) => p.file).join(", then ")} \u2014 ${machine.name} \u2014 about ${minutes(seconds)}${copies > 1 ? ` each, for ${copies} blanks` : ""}`,
    },
    {
      kind: "list",
      stays: true,
      items: [
        `wood ${say.size(length, width, thickness)}, ${workpiece.wood}, bare and sanded to its last grit`,
        `up: ${workpiece.labels[face]}${face === workpiece.faceSide ? ", the face side" : ""}${setUp.index === undefined ? "" : `, index ${setUp.index}°`}`,
        ...(turnOver === undefined
          ? []
          : [`turn it over ${turnOver.how}; keep the ${turnOver.edgeAtFence} at the fence`]),
        holdingWords(setUp),
        `zero: ${setUp.zero.how}`,
        `the bit out of the collet; focus: the head's lower end ${say.one(laser.focusGap)} above the wood`,
        ...new Set(
          setUp.marks.map(
            ({ mark, setting }) =>
              `"${mark.feature}": setting "${setting.effect}", as the shop's test card showed on ${setting.wood}`,
          ),
        ),
      ].map(sentence),
    },
    {
      kind: "figure",
      figure: beamFigure(setUp),
      caption: `Seen from above as it lies; black and grey is burned, 0 is zero.${sheets.length === 0 ? "" : ` True to scale: ${sheets.join(", ")}.`}`,
    },
    ...programs.map(
      (p): Block => ({
        kind: "table",
        columns: [
          { head: "line", share: 10 },
          { head: "step", share: 40 },
          { head: "effect", share: 18 },
          { head: "power, speed", share: 22 },
          { head: "time", share: 10 },
        ],
        rows: p.steps.map((s) => [
          `N${s.n}`,
          s.title,
          s.effect,
          `${tidy(Math.round(s.power * 1000) / 10)} %, ${tidy(Math.round(s.feed))} mm/min${s.passes > 1 ? `, ${s.passes} times` : ""}`,
          minutes(s.seconds),
        ]),
      }),
    ),
    {
      kind: "checklist",
      items: [
        {
          text: programs.some((p) => p.dryRun !== null)
            ? `Walked round the outline first, the beam off: ${programs.flatMap((p) => p.dryRun ?? []).join(", ")}.`
            : "Walked round the outline first, the beam off.",
          notes: [],
        },
        { text: "Tried on an offcut of the very wood: the tone is right.", notes: [] },
      ],
    },
    ...foundBox(
      programs.flatMap((p) => p.findings),
      [],
    ),
  ];
  return [{ kind: "together", blocks }];
}
