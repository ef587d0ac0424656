import { LAST_WORD, turnedWorkCautions } from "../turning-cautions.ts";
import type { Block } from "./block.ts";
import type { BenchWork } from "./work.ts";

/**
 * Cautions for all machines of the job, and the proof's two boxes. Common practice of the trade, no source. Those of the beam
 * stand with its set-ups.
 */
export function cautionSection({ job, report, pieces, beams }: BenchWork): readonly Block[] {
  const split = pieces.some((p) => p.piece.split !== undefined);
  const turned = turnedWorkCautions(split).filter((c) => c !== LAST_WORD);
  const proofs = [...report.programs, ...report.turnings, ...report.beams].map((p) => p.proof);
  const checked = [...new Set(proofs.flatMap((p) => p.checked))];
  const notChecked = [...new Set(proofs.flatMap((p) => p.notChecked))];
  // Of woods, those that lie on the bench.
  const woods = new Set([...job.parts, ...(job.turned ?? [])].map((p) => `wood "${p.wood}":`));
  const defaults = report.defaultsUsed.filter((d) => !d.startsWith("wood ") || [...woods].some((w) => d.startsWith(w)));
  return [
    { kind: "heading", level: 1, text: "Take care" },
    {
      kind: "caution",
      title: "This page helps; it does not stand beside you",
      items: [
        "Your machines' manuals, the rules where you live and work, and qualified people come before anything printed here. Where they differ from this page, they are right.",
        "New to a machine, or unsure of a cut? Have someone show you, and do it by hand meanwhile.",
      ],
    },
    {
      kind: "caution",
      title: "Eyes, ears, lungs",
      items: [
        "Safety glasses always; a face shield at the lathe. Ear protection at every machine that whines: what is lost does not grow back.",
        "Fine dust harms lungs, and that of hardwoods can cause cancer: extraction at the machine, a good mask at the sander, vacuum and never sweep. Some woods bring out rashes: cover up.",
        "No gloves, no loose sleeves, no rings, no hanging hair or cords near anything that turns.",
      ],
    },
    ...(report.programs.length > 0
      ? [
          {
            kind: "caution",
            title: "The router",
            items: [
              "A spinning bit cuts hands: keep them off until it stands still, and pull the plug before you change it.",
              "Stay beside it with the stop button in reach while it runs, and stop it when it sounds wrong.",
              "Walk round the clamps with your eyes: nothing on the table higher than the programs know.",
              "Pieces cut free can fly: never take out a tab or a screw that the page shows.",
            ],
          } as const,
        ]
      : []),
    ...(pieces.length > 0 ? [{ kind: "caution", title: "The lathe", items: turned } as const] : []),
    {
      kind: "caution",
      title: "Fire",
      items: [
        "An extinguisher within reach, one you know how to use. Empty the extractor's bag at the end of the day: sparks and embers sleep in dust.",
        "Rags with oil finish heat up by themselves and burn: spread them flat outside, or drown them in water in a closed tin.",
        ...(beams.length > 0 ? ["Never leave a burning laser alone; its own cautions stand before its set-ups."] : []),
      ],
    },
    ...(proofs.length === 0
      ? []
      : [
          { kind: "heading", level: 2, text: "What was checked, and what was not" } as const,
          {
            kind: "caution",
            title: "Checked, for every program named on these pages",
            items: checked,
          } as const,
          { kind: "caution", title: "Not checked: this is yours", items: notChecked } as const,
        ]),
    ...(defaults.length === 0
      ? []
      : [
          { kind: "heading", level: 2, text: "Built in, not measured in this shop" } as const,
          { kind: "list", items: defaults } as const,
        ]),
  ];
}
