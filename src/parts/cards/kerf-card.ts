import type { Outcome } from "../../finding.ts";
import { line } from "../../shapes/segment.ts";
import type { BurnSetting } from "../../shop/laser.ts";
import { type Card, cardMark, cardWish, cardWorkpiece } from "./card.ts";

/** A strip to be cut by slits side by side. mm */
export interface KerfCardWish {
  readonly wood: string;
  /** The strip: `length` is what the slits divide; measure it before. */
  readonly length: number;
  readonly width: number;
  readonly thickness: number;
  /** How many slits, at least 1: the more, the finer the answer. */
  readonly slits: number;
  /** The setting to measure, as the shop has it. */
  readonly setting: BurnSetting;
}

/** Least piece between two slits, mm: what calipers still hold. */
const LEAST_PIECE = 2;

/** Slits right across a strip, from edge to edge, evenly apart: n slits make n + 1 pieces. */
export function kerfCard(wish: KerfCardWish): Outcome<Card> {
  const { slits, length, width, thickness, wood, setting } = wish;
  if (!(Number.isInteger(slits) && slits >= 1)) {
    return {
      ok: false,
      findings: [cardWish("a kerf card has at least one slit", "ten give a tenth of your reading error")],
    };
  }
  const piece = length / (slits + 1);
  if (!(piece >= LEAST_PIECE && width > 0 && thickness > 0)) {
    return {
      ok: false,
      findings: [
        cardWish(
          `pieces of ${Math.floor(piece * 100) / 100} mm are too thin to measure`,
          "use a longer strip or fewer slits",
        ),
      ],
    };
  }
  const name = `kerf card ${wood}`;
  const chains = Array.from({ length: slits }, (_, i) => {
    const x = (i + 1) * piece;
    return [line({ x, y: 0 }, { x, y: width })];
  });
  const mark = cardMark(
    name,
    "slits",
    { kind: "lines", chains },
    { by: "burned through", effect: setting.effect, keep: "inside" },
  );
  return {
    ok: true,
    value: {
      workpiece: cardWorkpiece(name, wood, { length, width, thickness }, [mark]),
      burns: [],
      steps: [
        `Measure the strip's length before: nominal ${length} mm.`,
        `Cut. Lay all ${slits + 1} pieces together and measure them at their tops and at their undersides.`,
        `Kerf = (length before - length together) / ${slits}. It is wider on top: take the top for a lid that shows there.`,
        `Write it as "kerf" with the setting "${setting.effect}" in the shop file.`,
      ],
    },
    findings: [],
  };
}

/**
 * Kerf from a card, mm: (stock − sum of the pieces) / slits.
 * @param pieces one length each, or one length of all laid together
 */
export function kerfFrom(stock: number, pieces: readonly number[], slits: number): number {
  if (!(slits >= 1)) throw new RangeError("a kerf card has at least one slit");
  return (stock - pieces.reduce((a, b) => a + b, 0)) / slits;
}
