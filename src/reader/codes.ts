/**
 * Modal groups of the language (NISTIR 6556, table 4). G codes are kept ten times over, so G59.1 is 591. Group 0 holds
 * the codes that act on their own line only.
 */

/** Code of "no motion in force". */
export const NO_MOTION = 800;

const G_CODES: Readonly<Record<number, readonly number[]>> = {
  0: [40, 100, 280, 300, 530, 920, 921, 922, 923],
  1: [0, 10, 20, 30, 382, 800, 810, 820, 830, 840, 850, 860, 870, 880, 890],
  2: [170, 180, 190],
  3: [900, 910],
  5: [930, 940],
  6: [200, 210],
  7: [400, 410, 420],
  8: [430, 490],
  10: [980, 990],
  12: [540, 550, 560, 570, 580, 590, 591, 592, 593],
  13: [610, 611, 640],
};

const M_CODES: Readonly<Record<number, readonly number[]>> = {
  4: [0, 1, 2, 30, 60],
  6: [6],
  7: [3, 4, 5],
  8: [7, 8, 9],
  9: [48, 49],
};

/** Group of a G code by ten times its number; −1 for codes the language doesn't have. */
export const G_GROUPS: Int8Array = groupsOf(G_CODES, 1000);

/** Group of an M code; −1 for codes the language doesn't have. */
export const M_GROUPS: Int8Array = groupsOf(M_CODES, 100);

/** A drilling cycle G81 to G89. */
export function isCycle(code: number): boolean {
  return code >= 810 && code <= 890;
}

/** G codes that claim the axis words of their line, beside motion. */
export function claimsAxes(code: number): boolean {
  return code === 100 || code === 280 || code === 300 || code === 920;
}

/** Prints ten times a G code: 591 is G59.1. */
export function nameOfG(code: number): string {
  return code % 10 === 0 ? `G${code / 10}` : `G${Math.floor(code / 10)}.${code % 10}`;
}

function groupsOf(codes: Readonly<Record<number, readonly number[]>>, size: number): Int8Array {
  const groups = new Int8Array(size).fill(-1);
  for (const [group, members] of Object.entries(codes)) for (const code of members) groups[code] = Number(group);
  return groups;
}
