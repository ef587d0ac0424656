/**
 * Whether a table of cubic outlines is put together soundly. The font library takes its lists and offsets on trust, and
 * counts through nonsense for minutes; so what doesn't hold together never reaches it.
 * Source: Adobe Technical Note 5176, "The Compact Font Format Specification", §4 (DICT), §5 (INDEX), §9–16.
 */

/** A list of stretches of the table, and where it ends. */
interface List {
  readonly items: readonly { readonly from: number; readonly to: number }[];
  readonly end: number;
}

const CHARSET = 15;
const ENCODING = 16;
const CHAR_STRINGS = 17;
const PRIVATE = 18;
const SUBRS = 19;
/** Operators of two bytes are counted from 256. */
const ROS = 256 + 30;
const FD_ARRAY = 256 + 36;
const FD_SELECT = 256 + 37;
/** Longest run of operands before an operator. */
const MOST_OPERANDS = 48;

/** True when every list lies in the table and in order, and every offset that outlines need leads to one. */
export function isSoundCff(table: Uint8Array): boolean {
  const head = table[2];
  if (table[0] !== 1 || head === undefined || head < 4) return false;
  const names = readList(table, head);
  const tops = names && readList(table, names.end);
  const strings = tops && readList(table, tops.end);
  const routines = strings && readList(table, strings.end);
  if (tops?.items.length !== 1 || routines === undefined) return false;
  const top = readDict(table, tops.items[0]!.from, tops.items[0]!.to);
  if (top === undefined) return false;
  const drawings = listAt(table, top, CHAR_STRINGS);
  if (drawings === undefined || drawings.items.length === 0) return false;
  for (const optional of [CHARSET, ENCODING]) if (top.has(optional) && !isOffset(table, top, optional)) return false;
  if (!top.has(ROS)) return hasSoundPrivate(table, top);
  const parts = listAt(table, top, FD_ARRAY);
  if (parts === undefined || parts.items.length === 0 || !isOffset(table, top, FD_SELECT)) return false;
  return parts.items.every(({ from, to }) => {
    const part = readDict(table, from, to);
    return part !== undefined && hasSoundPrivate(table, part);
  });
}

type Dict = ReadonlyMap<number, readonly number[]>;

/** A private dictionary that lies in the table, with its routines, if any, counted from its own beginning. */
function hasSoundPrivate(table: Uint8Array, dict: Dict): boolean {
  const [size, from, more] = dict.get(PRIVATE) ?? [0, 0];
  if (size === undefined || from === undefined || more !== undefined) return false;
  // An empty one may stand at the very end.
  if (!(size >= 0 && from >= 0 && from + size <= table.length)) return false;
  const inner = readDict(table, from, from + size);
  if (inner === undefined) return false;
  const subrs = inner.get(SUBRS);
  if (subrs === undefined) return true;
  return subrs.length === 1 && isWithin(table, from + subrs[0]!) && readList(table, from + subrs[0]!) !== undefined;
}

function isOffset(table: Uint8Array, dict: Dict, key: number): boolean {
  const operands = dict.get(key);
  return operands?.length === 1 && isWithin(table, operands[0]!);
}

function listAt(table: Uint8Array, dict: Dict, key: number): List | undefined {
  return isOffset(table, dict, key) ? readList(table, dict.get(key)![0]!) : undefined;
}

function isWithin(table: Uint8Array, offset: number): boolean {
  return Number.isInteger(offset) && offset >= 0 && offset < table.length;
}

function numberAt(table: Uint8Array, at: number, size: number): number {
  let value = 0;
  for (let i = 0; i < size; i++) value = value * 256 + (table[at + i] ?? 0);
  return value;
}

/** An INDEX: a count, the size of offsets, the offsets (the first is 1, none falls), the data. */
function readList(table: Uint8Array, at: number): List | undefined {
  if (at + 2 > table.length) return undefined;
  const count = numberAt(table, at, 2);
  if (count === 0) return { items: [], end: at + 2 };
  const size = table[at + 2] ?? 0;
  const data = at + 2 + (count + 1) * size;
  if (size < 1 || size > 4 || data + 1 > table.length) return undefined;
  const items: { from: number; to: number }[] = [];
  let from = data + numberAt(table, at + 3, size);
  if (from !== data + 1) return undefined;
  for (let i = 1; i <= count; i++) {
    const to = data + numberAt(table, at + 3 + i * size, size);
    if (to < from || to > table.length) return undefined;
    items.push({ from, to });
    from = to;
  }
  return { items, end: from };
}

/** A DICT: operands, then their operator. Each operator comes once. */
function readDict(table: Uint8Array, from: number, to: number): Dict | undefined {
  const dict = new Map<number, readonly number[]>();
  let operands: number[] = [];
  let at = from;
  while (at < to) {
    const b = table[at]!;
    if (b <= 21) {
      const key = b === 12 ? 256 + (table[at + 1] ?? 0) : b;
      if (dict.has(key)) return undefined;
      dict.set(key, operands);
      operands = [];
      at += b === 12 ? 2 : 1;
      continue;
    }
    const step = stepOf(table, at, to);
    if (step === undefined || operands.length >= MOST_OPERANDS) return undefined;
    operands.push(step.value);
    at = step.next;
  }
  return at === to && operands.length === 0 ? dict : undefined;
}

/** One operand. The value of a real number is left as not a number: no offset is one. */
function stepOf(
  table: Uint8Array,
  at: number,
  to: number,
): { readonly value: number; readonly next: number } | undefined {
  const b = table[at]!;
  if (b === 28) return { value: (numberAt(table, at + 1, 2) << 16) >> 16, next: at + 3 };
  if (b === 29) return { value: numberAt(table, at + 1, 4) | 0, next: at + 5 };
  if (b >= 32 && b <= 246) return { value: b - 139, next: at + 1 };
  if (b >= 247 && b <= 250) return { value: (b - 247) * 256 + (table[at + 1] ?? 0) + 108, next: at + 2 };
  if (b >= 251 && b <= 254) return { value: -(b - 251) * 256 - (table[at + 1] ?? 0) - 108, next: at + 2 };
  if (b !== 30) return undefined;
  // Half bytes, ended by one of all ones.
  for (let i = at + 1; i < to; i++) {
    if (table[i]! >> 4 === 15 || (table[i]! & 15) === 15) return { value: Number.NaN, next: i + 1 };
  }
  return undefined;
}
