import type { Finding, Outcome } from "../../finding.ts";
import type { Size } from "../../job/board.ts";
import { drawText } from "../../shapes/lettering/draw-text.ts";
import { strokeFace } from "../../shapes/lettering/stroke-face.ts";
import type { Point } from "../../shapes/point.ts";
import { line, type Segment } from "../../shapes/segment.ts";
import type { BurnSetting } from "../../shop/laser.ts";
import type { Mark } from "../marks/mark.ts";
import type { Workpiece } from "../workpiece.ts";

/**
 * A card to be burned on waste: not a part of any job, but planned, written and proved like one. Its settings go beside the
 * shop's own for this one program.
 */
export interface Card {
  readonly workpiece: Workpiece;
  /** Settings that only this card uses; empty where it uses the shop's. */
  readonly burns: readonly BurnSetting[];
  /** What to do with it, in order, for the person at the bench. */
  readonly steps: readonly string[];
}

/** Waste around the burned field of a card, mm. */
export const CARD_MARGIN = 5;

type Source = Finding["place"]["source"];

/** Marks have a place in a file; a card's stand in none. */
export const CARD_SOURCE: NonNullable<Source> = { file: "card", line: 1, column: 1, length: 1, text: "" };

/** A mark on a card's face. */
export function cardMark(card: string, id: string, ink: Mark["ink"], made: Mark["made"]): Mark {
  return {
    id: `${card} ${id}`,
    part: card,
    feature: id,
    source: CARD_SOURCE,
    face: "face",
    ink,
    made,
    from: { kind: "card" },
  };
}

/** A card's blank with its marks. @param size of the waste it is burned on, mm */
export function cardWorkpiece(name: string, wood: string, size: Size, marks: readonly Mark[]): Workpiece {
  return {
    name,
    wood,
    size,
    grain: "along length",
    pieces: [],
    cavities: [],
    marks,
    labels: {
      face: "face",
      back: "back",
      "lower edge": "lower edge",
      "upper edge": "upper edge",
      "first end": "first end",
      "second end": "second end",
    },
    faceSide: "face",
    faceEdge: "lower edge",
    wishes: { holding: { by: "tape" } },
    source: CARD_SOURCE,
  };
}

/** A label in single lines, its first baseline's end or middle at a point. mm */
export interface Label {
  readonly text: string;
  readonly at: Point;
  readonly align: "left" | "centre" | "right";
}

/** Labels as chains for the beam, in the bundled upright single-line face. @param capHeight mm */
export function labelChains(labels: readonly Label[], capHeight: number): Outcome<readonly (readonly Segment[])[]> {
  const face = strokeFace("upright");
  const findings: Finding[] = [];
  const chains: Segment[][] = [];
  for (const { text, at, align } of labels) {
    const drawn = drawText(
      face,
      {
        text,
        size: { by: "cap height", mm: capHeight },
        align,
        letterSpacing: 0,
        lineSpacing: 2,
        standing: "middle",
        place: { kind: "line", at, turnedDeg: 0 },
      },
      { tolerance: 0.01, made: "lines" },
    );
    findings.push(...drawn.findings);
    if (!drawn.ok || drawn.value.kind !== "strokes") continue;
    for (const stroke of drawn.value.strokes) {
      const chain = stroke.slice(1).map((p, i) => line(stroke[i]!, p));
      if (chain.length > 0) chains.push(chain);
    }
  }
  return findings.some((f) => f.grade === "refuse") ? { ok: false, findings } : { ok: true, value: chains, findings };
}

/** A wish for a card that cannot be. */
export function cardWish(what: string, mend: string): Finding {
  return { grade: "refuse", code: "card-wish", place: {}, what, mend };
}

/** A number as labels and the shop file have it: no needless decimals. */
export function short(value: number): string {
  return String(Math.round(value * 1000) / 1000);
}
