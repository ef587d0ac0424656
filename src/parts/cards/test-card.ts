import type { Finding, Outcome } from "../../finding.ts";
import { rectangle } from "../../shapes/outlines.ts";
import { line } from "../../shapes/segment.ts";
import type { BurnSetting } from "../../shop/laser.ts";
import type { Mark } from "../marks/mark.ts";
import { CARD_MARGIN, type Card, cardMark, cardWish, cardWorkpiece, type Label, labelChains, short } from "./card.ts";

/** What a test card is to try. Powers are shares of full, 0 to 1; speeds mm/min; lengths mm. */
export interface TestCardWish {
  readonly wood: string;
  /** Of the waste that it is burned on. */
  readonly thickness: number;
  /** One row each. */
  readonly powers: readonly number[];
  /** One column each. */
  readonly speeds: readonly number[];
  /** `line`: a few lines a cell; `area`: a filled cell. */
  readonly burn: "line" | "area";
  readonly passes: number;
  /** Between the lines of an area; absent: half the spot. */
  readonly spacing?: number;
  /** Side of a cell. */
  readonly cell: number;
  /** For the numbers on the card: power and speed that surely leave a line. */
  readonly label: { readonly power: number; readonly speed: number };
}

/** Most rows, and most columns. */
const MOST = 12;
/** Cap height of the numbers, and the air between cells and around numbers. */
const CAPS = 2;
const AIR = 2;
/** Lines in a cell that tries lines. */
const LINES = 4;
/** The effect that labels are burned with. */
const LABEL = "card label";

/** Name of a cell's setting: what stands at its row and column. */
export function cellEffect(power: number, speed: number): string {
  return `${short(power * 100)} % at ${short(speed)}`;
}

/**
 * A card that tries powers in rows and speeds in columns, each cell at its own setting, labelled by itself: per cent at the
 * left, mm/min on top. Nothing in it is a right value: the shop finds that by looking.
 * @returns refused where a power or speed cannot be, rows or columns are more than twelve, or something stands twice
 */
export function testCard(wish: TestCardWish): Outcome<Card> {
  const findings = wrong(wish);
  if (findings.length > 0) return { ok: false, findings };
  const { powers, speeds, burn, cell, wood, passes } = wish;
  const name = `test card ${wood}`;
  const columnText = speeds.map((v) => short(v));
  const rowText = powers.map((p) => `${short(p * 100)}%`);
  // Digits of the single-line face are about as wide as they are high; a little more for the air beside them.
  const wide = (text: string): number => text.length * CAPS * 1.05;
  const pitchX = Math.max(cell, ...columnText.map(wide)) + AIR;
  const pitchY = Math.max(cell, CAPS) + AIR;
  const left = CARD_MARGIN + Math.max(...rowText.map(wide)) + AIR;
  const width = left + speeds.length * pitchX + CARD_MARGIN;
  const height = CARD_MARGIN + powers.length * pitchY + CAPS + AIR + CARD_MARGIN;
  const middleOf = (row: number, column: number) => ({
    x: left + (column + 0.5) * pitchX,
    y: height - CARD_MARGIN - CAPS - AIR - (row + 0.5) * pitchY,
  });
  const labels: Label[] = [
    ...columnText.map(
      (text, i): Label => ({
        text,
        at: { x: middleOf(0, i).x, y: height - CARD_MARGIN - CAPS / 2 },
        align: "centre",
      }),
    ),
    ...rowText.map((text, i): Label => ({ text, at: { x: left - AIR, y: middleOf(i, 0).y }, align: "right" })),
  ];
  const chains = labelChains(labels, CAPS);
  if (!chains.ok) return chains;
  const marks: Mark[] = [];
  const burns: BurnSetting[] = [
    { effect: LABEL, wood, power: wish.label.power, speed: wish.label.speed, passes: 1, from: "job file" },
  ];
  for (const [row, power] of powers.entries()) {
    for (const [column, speed] of speeds.entries()) {
      const effect = cellEffect(power, speed);
      const spacing = wish.spacing === undefined ? {} : { spacing: wish.spacing };
      burns.push({ effect, wood, power, speed, passes, ...spacing, from: "job file" });
      marks.push(cellMark(name, effect, burn, middleOf(row, column), cell));
    }
  }
  marks.push(cardMark(name, "numbers", { kind: "lines", chains: chains.value }, { by: "burned line", effect: LABEL }));
  const size = { length: Math.ceil(width), width: Math.ceil(height), thickness: wish.thickness };
  return {
    ok: true,
    value: {
      workpiece: cardWorkpiece(name, wood, size, marks),
      burns,
      steps: [
        `Sand waste of the same ${wood} to the last grit: the card tells nothing of other wood.`,
        "Burn the card. Rows are power in per cent of full, columns speed in mm/min.",
        "Choose the lightest cell that is dark enough, after brushing off the soot and with the finish you will use.",
        'Give the command again with --chosen "row 2, column 3" and --effect: it prints the lines for the shop file.',
      ],
    },
    findings: [],
  };
}

function cellMark(
  card: string,
  effect: string,
  burn: "line" | "area",
  at: { x: number; y: number },
  cell: number,
): Mark {
  const half = cell / 2;
  const min = { x: at.x - half, y: at.y - half };
  const max = { x: at.x + half, y: at.y + half };
  if (burn === "area") {
    const made = { by: "burned area", effect, angleDeg: 0, ways: "two", contour: false } as const;
    return cardMark(card, effect, { kind: "area", region: rectangle(min, max) }, made);
  }
  // Lines along X, and one along Y: a spot is seldom as wide one way as the other.
  const chains = Array.from({ length: LINES }, (_, i) => {
    const y = min.y + ((i + 0.5) / LINES) * cell;
    return [line({ x: min.x, y }, { x: max.x - cell / LINES, y })];
  });
  chains.push([line({ x: max.x, y: min.y }, max)]);
  return cardMark(card, effect, { kind: "lines", chains }, { by: "burned line", effect });
}

/**
 * The chosen cell as lines for the shop file, under "burns": what was tried there is written down as it was tried.
 * @param row, column counted from 0, from the top left
 * @throws RangeError for a cell that the card doesn't have
 */
export function recordCell(wish: TestCardWish, row: number, column: number, effect: string): string {
  const power = wish.powers[row];
  const speed = wish.speeds[column];
  if (power === undefined || speed === undefined) throw new RangeError(`the card has no cell ${row}, ${column}`);
  const passes = wish.passes === 1 ? "" : `, passes: ${wish.passes}`;
  const spacing = wish.spacing === undefined || wish.burn === "line" ? "" : `, spacing: ${short(wish.spacing)} mm`;
  const key = (text: string): string => (/^[A-Za-z][A-Za-z0-9 -]*$/.test(text) ? text : JSON.stringify(text));
  return [
    "burns:",
    `  ${key(wish.wood)}:`,
    `    ${key(effect)}: {power: ${short(power * 100)} %, speed: ${short(speed)} mm/min${passes}${spacing}}`,
    "",
  ].join("\n");
}

function wrong({ powers, speeds, cell, passes, thickness, spacing, label }: TestCardWish): readonly Finding[] {
  const found: Finding[] = [];
  const all = (values: readonly number[], holds: (v: number) => boolean): boolean => values.every(holds);
  if (powers.length < 1 || powers.length > MOST || speeds.length < 1 || speeds.length > MOST) {
    found.push(
      cardWish(
        `a test card has 1 to ${MOST} powers and 1 to ${MOST} speeds`,
        "try a few far apart first, then some between",
      ),
    );
  }
  if (!all([...powers, label.power], (p) => p > 0 && p <= 1)) {
    found.push(cardWish("a power lies above 0 % and at most at 100 %", "write shares of full power"));
  }
  if (!all([...speeds, label.speed], (v) => v > 0 && Number.isFinite(v))) {
    found.push(cardWish("a speed is above zero", "write speeds in mm/min"));
  }
  if (new Set(powers).size < powers.length || new Set(speeds).size < speeds.length) {
    found.push(cardWish("a power or a speed stands twice on the card", "each row and each column is another one"));
  }
  if (!(cell >= 2 && cell <= 50)) found.push(cardWish("a cell is 2 to 50 mm wide", "8 mm shows enough"));
  if (!(Number.isInteger(passes) && passes >= 1)) found.push(cardWish("passes are counted from 1", "write 1"));
  if (!(thickness > 0)) found.push(cardWish("the waste has no thickness", "measure it"));
  if (spacing !== undefined && !(spacing > 0)) found.push(cardWish("lines must be apart", "leave the spacing out"));
  return found;
}
