import { type Finding, tidy } from "../finding.ts";
import type { TurnedPiece } from "../parts/turned-piece.ts";
import { extentOfMeridian, radiiOver } from "../shapes/meridian.ts";
import type { TurningTool } from "../shop/lathe.ts";
import type { TurningSetUp } from "./turning-setup.ts";

/** Radius of the nub that parting leaves, mm: it carries the work until it is sawn. Common practice, no source. */
export const NUB_RADIUS = 4;
/** A parting slot is this many times the tool's width, so that the tool does not bind. Common practice, no source. */
const SLOT = 1.5;
/** Less than this to take off is not worth a slot, mm. */
const LEAST_DEPTH = 1;

/** Where a piece is parted, set-up coordinates. */
export interface Parting {
  readonly tool: TurningTool;
  readonly at: readonly { readonly from: number; readonly to: number }[];
  readonly nubRadius: number;
}

/**
 * Parting slots in the waste beside the pulls: one on each side of waste between two pulls, or a single one where both would
 * meet; one beside waste at an end. Waste that is square, thin already, or too narrow for the tool is left to the saw.
 * The nub is thicker where the tool's reach ends.
 */
export function partingAt(
  piece: TurnedPiece,
  setUp: TurningSetUp,
  tools: readonly TurningTool[],
  findings: Finding[],
): Parting | undefined {
  const turned = extentOfMeridian(piece.meridian);
  const wastes = piece.waste.filter(
    (w) => w.from >= turned.from - 1e-9 && w.to <= turned.to + 1e-9 && depthOf(piece, w) > LEAST_DEPTH,
  );
  if (wastes.length === 0) return undefined;
  const tool = [...tools].filter((t) => t.kind === "parting").sort((a, b) => a.width - b.width)[0];
  const sawn = (where: { readonly from: number; readonly to: number }, why: string): void => {
    findings.push({
      grade: "caution",
      code: "turning-not-parted",
      place: { part: piece.name, source: piece.source },
      what: `the waste from ${tidy(where.from)} to ${tidy(where.to)} mm is not parted on the lathe`,
      why,
      mend: "saw it off the lathe",
    });
  };
  if (tool === undefined) {
    for (const w of wastes) sawn(w, "the shop has no parting tool");
    return undefined;
  }
  const least = setUp.start.segments[0]!.from.y - tool.reach + 1;
  const nubRadius = Math.max(NUB_RADIUS, Math.ceil(least * 10) / 10);
  const at: { from: number; to: number }[] = [];
  for (const w of wastes) {
    if (w.to - w.from < tool.width - 1e-9) {
      sawn(w, `the parting tool is ${tidy(tool.width)} mm wide`);
      continue;
    }
    if (depthOf(piece, w, nubRadius) <= 0) {
      sawn(w, `the parting tool reaches ${tidy(tool.reach)} mm deep only`);
      continue;
    }
    const width = Math.min(w.to - w.from, tool.width * SLOT);
    const slots =
      w.from <= turned.from + 1e-9
        ? [{ from: w.to - width, to: w.to }]
        : w.to >= turned.to - 1e-9
          ? [{ from: w.from, to: w.from + width }]
          : w.to - w.from < 2 * width + tool.width
            ? [{ from: w.from, to: w.to }]
            : [
                { from: w.from, to: w.from + width },
                { from: w.to - width, to: w.to },
              ];
    at.push(...slots.map((s) => ({ from: s.from + setUp.zShift, to: s.to + setUp.zShift })));
  }
  // From the tailstock towards the headstock, so that the driven side stays stiff longest.
  at.sort((a, b) => b.from - a.from);
  return at.length === 0 ? undefined : { tool, at, nubRadius };
}

/** How much parting would take off the waste's thinnest radius, mm. */
function depthOf(piece: TurnedPiece, w: { readonly from: number; readonly to: number }, nub = NUB_RADIUS): number {
  return (radiiOver(piece.meridian, w.from, w.to)?.most ?? 0) - nub;
}
