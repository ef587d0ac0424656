import type { Outcome } from "../../finding.ts";
import { greyPicture } from "../../shapes/picture/grey-picture.ts";
import type { BurnSetting } from "../../shop/laser.ts";
import { CARD_MARGIN, type Card, cardMark, cardWish, cardWorkpiece, type Label, labelChains, short } from "./card.ts";

/** A row of fields with more and more dots, to measure the tones of a picture's setting. */
export interface GreyCardWish {
  readonly thickness: number;
  /** The setting to measure, as the shop has it; its own tones are left out of account. */
  readonly setting: BurnSetting;
  /** Fields from bare to all burned, 3 to 21. */
  readonly fields: number;
  /** Side of a field, mm. */
  readonly cell: number;
  /** Setting for the numbers. */
  readonly label: { readonly power: number; readonly speed: number };
}

const CAPS = 2;
const AIR = 1;
const LABEL = "card label";
/** The setting without its tones, so that the share of dots in each field is the one that was asked for. */
const PLAIN = "grey card";

/** Shares of dots of a grey card's fields, from 0 to 1. */
export function greyShares(fields: number): readonly number[] {
  return Array.from({ length: fields }, (_, i) => i / (fields - 1));
}

/** A grey card. Photographed beside bare wood, it gives the shop's tones. */
export function greyCard(wish: GreyCardWish): Outcome<Card> {
  const { fields, cell, setting, thickness } = wish;
  if (!(Number.isInteger(fields) && fields >= 3 && fields <= 21)) {
    return { ok: false, findings: [cardWish("a grey card has 3 to 21 fields", "11 show the curve well")] };
  }
  if (!(cell >= 3 && cell <= 30 && thickness > 0)) {
    return {
      ok: false,
      findings: [cardWish("a field is 3 to 30 mm wide, on waste with a thickness", "8 mm is enough")],
    };
  }
  const { wood } = setting;
  const name = `grey card ${wood}`;
  const shares = greyShares(fields);
  const pitch = cell + AIR;
  const foot = CARD_MARGIN + CAPS + AIR;
  const labels = shares.map(
    (share, i): Label => ({
      text: short(Math.round(share * 100)),
      at: { x: CARD_MARGIN + (i + 0.5) * pitch, y: CARD_MARGIN + CAPS / 2 },
      align: "centre",
    }),
  );
  const chains = labelChains(labels, CAPS);
  if (!chains.ok) return chains;
  // The first field stays bare wood: there is nothing to burn in it.
  const patches = shares.slice(1).map((share, i) =>
    cardMark(
      name,
      `${short(Math.round(share * 100))} % of dots`,
      {
        kind: "picture",
        grey: greyPicture(1, 1, [1 - share]),
        corner: { x: CARD_MARGIN + (i + 1) * pitch + AIR / 2, y: foot },
        width: cell,
        height: cell,
        turnedDeg: 0,
      },
      { by: "burned picture", effect: PLAIN, tones: "error spread" },
    ),
  );
  const { tones, ...untold } = setting;
  const size = {
    length: Math.ceil(2 * CARD_MARGIN + fields * pitch),
    width: Math.ceil(foot + cell + CARD_MARGIN),
    thickness,
  };
  return {
    ok: true,
    value: {
      workpiece: cardWorkpiece(name, wood, size, [
        ...patches,
        cardMark(name, "numbers", { kind: "lines", chains: chains.value }, { by: "burned line", effect: LABEL }),
      ]),
      burns: [
        // Evenly wide steps, straight through: what is asked for is what is burned.
        {
          ...untold,
          effect: PLAIN,
          tones: [
            { dots: 0, dark: 0 },
            { dots: 1, dark: 1 },
          ],
          from: "job file",
        },
        { effect: LABEL, wood, power: wish.label.power, speed: wish.label.speed, passes: 1, from: "job file" },
      ],
      steps: [
        "Burn the card on sanded waste of the same wood and brush off the soot.",
        "Photograph it in even light, or compare each field with a grey scale: 0 is bare wood, 1 the darkest field.",
        `Write each field's dots and darkness as "tones" with the setting "${setting.effect}" in the shop file.`,
      ],
    },
    findings: [],
  };
}
