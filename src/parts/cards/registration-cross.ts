import type { Outcome } from "../../finding.ts";
import { tidy } from "../../finding.ts";
import type { Point } from "../../shapes/point.ts";
import { line } from "../../shapes/segment.ts";
import type { BurnSetting } from "../../shop/laser.ts";
import { type Card, cardMark, cardWish, cardWorkpiece } from "./card.ts";

/** A cross on waste, to find where the refitted head really burns. mm */
export interface CrossWish {
  readonly wood: string;
  readonly length: number;
  readonly width: number;
  readonly thickness: number;
  /** Length of each arm's line over all. */
  readonly across: number;
  /** A line setting of the shop. */
  readonly setting: BurnSetting;
}

/** A cross burned in the middle of a piece of waste, at whole millimetres. */
export function registrationCross(wish: CrossWish): Outcome<Card> {
  const { wood, length, width, thickness, across, setting } = wish;
  if (!(across >= 2 && across < Math.min(length, width) && thickness > 0)) {
    return {
      ok: false,
      findings: [
        cardWish("the cross does not fit the waste", "use a piece wider than the cross, which is at least 2 mm"),
      ],
    };
  }
  const at = crossPoint(wish);
  const name = `registration cross ${wood}`;
  const half = across / 2;
  const chains = [
    [line({ x: at.x - half, y: at.y }, { x: at.x + half, y: at.y })],
    [line({ x: at.x, y: at.y - half }, { x: at.x, y: at.y + half })],
  ];
  const mark = cardMark(name, "cross", { kind: "lines", chains }, { by: "burned line", effect: setting.effect });
  return {
    ok: true,
    value: {
      workpiece: cardWorkpiece(name, wood, { length, width, thickness }, [mark]),
      burns: [],
      steps: [
        "Find zero with the V-bit, as for the router, and keep it written down.",
        "Bit out, head on: drive by the offset, set zero for the beam, and burn the cross.",
        `Head off, V-bit in, its own zero again: drive to X ${tidy(at.x)} Y ${tidy(at.y)}, spindle off, and lower it until it just pricks.`,
        "With a loupe, read how far the cross lies from the prick along X and along Y.",
        'Enter it as "cross off by" for the laser in the shop file. If it was there already, add the new reading to it.',
      ],
    },
    findings: [],
  };
}

/** Where the cross is burned and the bit pricks, from the lower left corner: the same numbers for both. mm */
export function crossPoint({ length, width }: Pick<CrossWish, "length" | "width">): Point {
  return { x: Math.round(length / 2), y: Math.round(width / 2) };
}
