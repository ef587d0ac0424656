import { tidy } from "../../finding.ts";
import { radiiOver } from "../../shapes/meridian.ts";
import type { TurnedElement, TurnedPiece } from "../turned-piece.ts";
import { lossPerHalf } from "../turned-piece.ts";

/** How much thinner than its hole a tenon is turned, mm. Common practice, no source. */
const UNDER = 0.1;
/** How much deeper its hole is bored than the tenon is long, mm. Common practice, no source. */
const SHORT = { least: 1, most: 2 } as const;

/** What becomes of a tenon when the blank is split. */
export type TenonFate = "stays round" | "becomes half-round" | "is waste";

/** One tenon of a turned piece, with what to do about it. Lengths mm. */
export interface TenonAdvice {
  readonly name: string;
  readonly from: number;
  readonly to: number;
  readonly diameter: number;
  /** How deep its hole must be: 1 to 2 mm more than the tenon is long. */
  readonly holeDepth: { readonly least: number; readonly most: number };
  readonly fate: TenonFate;
  readonly steps: readonly string[];
}

/** Advice for every tenon of a piece, in order from the first end. */
export function tenonAdvice(piece: TurnedPiece): readonly TenonAdvice[] {
  return piece.elements.filter((e) => e.kind === "tenon").map((e) => adviceFor(piece, e));
}

function adviceFor(piece: TurnedPiece, e: TurnedElement): TenonAdvice {
  const diameter = 2 * (radiiOver(piece.meridian, e.from + 1e-9, e.to - 1e-9)?.most ?? e.toDiameter / 2);
  const length = e.to - e.from;
  const holeDepth = { least: length + SHORT.least, most: length + SHORT.most };
  const fate = fateOf(piece, e);
  return {
    name: e.name,
    from: e.from,
    to: e.to,
    diameter,
    holeDepth,
    fate,
    steps: [
      `Bore a gauge hole in scrap with the very bit that will bore the real hole, and turn "${e.name}" to it: ${tidy(UNDER)} mm thinner than the hole measures. It is drawn ${mm(diameter)} mm thick.`,
      `Bore the real hole ${tidy(holeDepth.least)} to ${tidy(holeDepth.most)} mm deep: the tenon is ${mm(length)} mm long and must stay ${SHORT.least} to ${SHORT.most} mm short of its floor.`,
      `Chamfer the end of "${e.name}".`,
      fateWords(piece, e, diameter, fate),
    ],
  };
}

function fateOf(piece: TurnedPiece, e: TurnedElement): TenonFate {
  const middle = (e.from + e.to) / 2;
  if (piece.waste.some((w) => w.from <= middle && middle <= w.to)) return "is waste";
  return piece.split === undefined ? "stays round" : "becomes half-round";
}

function fateWords(piece: TurnedPiece, e: TurnedElement, diameter: number, fate: TenonFate): string {
  switch (fate) {
    case "stays round":
      return `"${e.name}" stays round: it is glued into its hole.`;
    case "is waste":
      return `"${e.name}" lies in the waste and is sawn off; fit nothing to it.`;
    case "becomes half-round": {
      const loss = piece.split === undefined ? { least: 0, most: 0 } : lossPerHalf(piece.split);
      const thick = (lost: number): string => mm(Math.max(0, diameter / 2 - lost));
      const left = loss.least === loss.most ? thick(loss.least) : `${thick(loss.most)} to ${thick(loss.least)}`;
      return `"${e.name}" becomes half-round when the blank is split, ${left} mm thick: it no longer fills a round hole. Saw it off, or let it into a half-round housing.`;
    }
  }
}

function mm(value: number): string {
  return value.toFixed(2);
}
