import { tidy } from "../finding.ts";
import type { HoldingKit } from "../parts/holding-kit/holding.ts";
import { tenonAdvice } from "../parts/holding-kit/tenons.ts";
import { beforeTurningForSplit, splitSteps } from "../parts/split-steps.ts";
import type { TurnedPiece } from "../parts/turned-piece.ts";
import { settingOf, stationsOf } from "./template-stations.ts";

/** A stage of the work on a turned piece: its name, and its steps in plain words. */
export interface WorkStage {
  readonly name: string;
  readonly steps: readonly string[];
}

/** The files that a sheet may name, as they were written. */
export interface PieceFiles {
  readonly turning?: string;
  readonly hollowing?: readonly string[];
  readonly template?: string;
}

/**
 * The order of work on a turned piece, from the blank to its halves: finger room cut down from the crown comes while the
 * blank is round, finger room in the flat backs after the split.
 */
export function orderOfWork(
  piece: TurnedPiece,
  kit: HoldingKit | undefined,
  files: PieceFiles = {},
): readonly WorkStage[] {
  const hollowing = hollowingStage(piece, kit, files);
  const splitting = { name: "Split", steps: splitSteps(piece) };
  const late = piece.fingerRoom?.cut === "back";
  const stages = [
    blankStage(piece),
    turningStage(piece, files),
    ...(late ? [splitting, hollowing] : [hollowing, splitting]),
    finishingStage(piece),
  ];
  return stages.filter((s) => s.steps.length > 0);
}

function blankStage(piece: TurnedPiece): WorkStage {
  const { blank } = piece;
  const steps = [
    `${blank.shape === "square" ? `Plane the blank ${tidy(blank.across)} mm square` : `Round the blank to ${tidy(blank.across)} mm`} and saw it ${tidy(blank.length)} mm long, grain along it. ${piece.copies > 1 ? `Make ${piece.copies}.` : ""}`.trim(),
    "Mark both centres. Mark the first end, and on both ends which side is the crown.",
  ];
  const square = piece.squares.map((s) => `${tidy(s.from)} to ${tidy(s.to)} mm`);
  if (square.length > 0) {
    steps.push(
      `Square a line round the blank where the square waste stays: ${square.join(" and ")} from the first end.`,
    );
  }
  return { name: "Blank", steps: [...steps, ...beforeTurningForSplit(piece)] };
}

function turningStage(piece: TurnedPiece, files: PieceFiles): WorkStage {
  const stations = stationsOf(piece).filter((s) => s.diameters.length > 0);
  const largest = Math.max(0, ...stations.flatMap((s) => s.diameters));
  const steps =
    piece.turnedBy === "machine"
      ? [
          `Turn it by its lathe program${files.turning === undefined ? "" : `, ${files.turning}`}; its own sheet says how it is held.`,
        ]
      : [
          `Turn it round to ${settingOf(largest).both}, the largest diameter.`,
          `Hold the story stick against it and mark every line; set the calipers from its table and size each place${files.template === undefined ? "" : ` (${files.template})`}.`,
          "Shape between the sized places, and hold the template to it with the lathe stopped.",
          piece.asTurned === true
            ? "It has been measured: the sizes on this sheet are those that were read off it."
            : 'Stop and measure: read the diameters at the numbered places, write them down below, and give them in the job under "as turned" before anything is hollowed.',
        ];
  return { name: "Turn", steps: [...steps, ...tenonAdvice(piece).flatMap((t) => t.steps)] };
}

function hollowingStage(piece: TurnedPiece, kit: HoldingKit | undefined, files: PieceFiles): WorkStage {
  const room = piece.fingerRoom;
  if (room === undefined) return { name: "Hollow", steps: [] };
  const how =
    room.cut === "crown"
      ? `Hollow "${room.name}" down from the crown along the split line, ${room.depth.toFixed(2)} mm deep, while the blank is round: both halves get it.`
      : `Hollow "${room.name}" into the trued flat of each half, ${room.depth.toFixed(2)} mm deep.`;
  const programs = (files.hollowing ?? []).length === 0 ? "" : ` Programs: ${(files.hollowing ?? []).join(", ")}.`;
  return { name: "Hollow", steps: [...(kit?.steps ?? []), how + programs] };
}

function finishingStage(piece: TurnedPiece): WorkStage {
  const room = piece.fingerRoom;
  if (room === undefined) return { name: "Finish", steps: [] };
  const { width, roomBehind, hook } = room.gives;
  return {
    name: "Finish",
    steps: [
      `Try it with your hand: ${width.toFixed(1)} mm for the fingers, ${roomBehind.toFixed(1)} mm behind the lip, ${hook.toFixed(1)} mm of hook.`,
      ...(room.ease > 0
        ? [
            `The program eases the lip to a radius of ${tidy(room.ease)} mm: smooth its fine ridges, and ease by hand whatever its sheet says it could not get at.`,
          ]
        : []),
    ],
  };
}
