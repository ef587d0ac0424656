/**
 * One line of a program as words. A single block is filled again and again by `readLine`, so that a long text costs no
 * memory; it lives inside one call of `readProgram`.
 */
export interface Block {
  /** Letters that stand on the line (other than G, M and N): bit `letterOf("X")` and so on. */
  letters: number;
  /** Their numbers, at the same index; valid only where the bit is set. */
  readonly values: Float64Array;
  /** Modal groups of the G codes on the line, as bits; the codes, ten times over, by group. */
  gGroups: number;
  readonly g: Int32Array;
  /** Modal groups of the M codes on the line, as bits; the codes by group. */
  mGroups: number;
  readonly m: Int32Array;
  mCount: number;
  /** Line number, or −1. */
  n: number;
  /** Begins with a slash. */
  deleted: boolean;
  percent: boolean;
  /** Anything at all stands on the line beside slash and blanks. */
  started: boolean;
  /** A comment or more; where the last one's content begins and ends in the text. */
  comment: boolean;
  commentFrom: number;
  commentTo: number;
  /** Reading stopped within the line. */
  cut: boolean;
  /** Parameter settings, pairs of index and value, done after the line is read. */
  readonly settings: number[];
}

/** An empty block. */
export function newBlock(): Block {
  return {
    letters: 0,
    values: new Float64Array(26),
    gGroups: 0,
    g: new Int32Array(16),
    mGroups: 0,
    m: new Int32Array(16),
    mCount: 0,
    n: -1,
    deleted: false,
    percent: false,
    started: false,
    comment: false,
    commentFrom: 0,
    commentTo: 0,
    cut: false,
    settings: [],
  };
}

/** Empties a block for the next line. */
export function clearBlock(b: Block): void {
  b.letters = 0;
  b.gGroups = 0;
  b.mGroups = 0;
  b.mCount = 0;
  b.n = -1;
  b.deleted = false;
  b.percent = false;
  b.started = false;
  b.comment = false;
  b.cut = false;
  if (b.settings.length > 0) b.settings.length = 0;
}

/** Index of a letter: A is 0. */
export const A = 0;
export const B = 1;
export const C = 2;
export const D = 3;
export const F = 5;
export const G = 6;
export const H = 7;
export const I = 8;
export const J = 9;
export const K = 10;
export const L = 11;
export const M = 12;
export const N = 13;
export const P = 15;
export const Q = 16;
export const R = 17;
export const S = 18;
export const T = 19;
export const X = 23;
export const Y = 24;
export const Z = 25;

/** Letters that a word may begin with (NISTIR 6556, table 3): all but E, O, U, V, W. */
export const WORD_LETTERS = 0x3ffffff & ~bits("EOUVW");

/** Letters that name an axis. */
export const AXES = bits("ABCXYZ");
export const LINEAR = bits("XYZ");
export const ROTARY = bits("ABC");
export const CENTRE = bits("IJK");

/** Whether the line has a word of this letter. */
export function has(b: Block, letter: number): boolean {
  return ((b.letters >> letter) & 1) !== 0;
}

/** Whether the line has a G code of this group. */
export function hasG(b: Block, group: number): boolean {
  return ((b.gGroups >> group) & 1) !== 0;
}

/** Whether the line has an M code of this group. */
export function hasM(b: Block, group: number): boolean {
  return ((b.mGroups >> group) & 1) !== 0;
}

function bits(letters: string): number {
  let mask = 0;
  for (const letter of letters) mask |= 1 << (letter.charCodeAt(0) - 65);
  return mask;
}
