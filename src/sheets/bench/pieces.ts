import type { Block, CheckItem, TableBlock } from "./block.ts";
import { type FittedFigure, fitFigure } from "./figure-fit.ts";

/** How wide a text is, mm, at a size of its letters' body, mm. */
export type Measure = (text: string, size: number, bold: boolean) => number;

/** Something drawn, mm from the upper left corner of what it belongs to, Y down. */
export type Placed =
  /** `y` is the baseline. */
  | {
      readonly kind: "text";
      readonly x: number;
      readonly y: number;
      readonly text: string;
      readonly size: number;
      readonly bold: boolean;
    }
  | {
      readonly kind: "line";
      readonly x: number;
      readonly y: number;
      readonly toX: number;
      readonly toY: number;
      readonly width: number;
    }
  /** A dot before an item of a list: its middle. */
  | { readonly kind: "dot"; readonly x: number; readonly y: number }
  | { readonly kind: "box"; readonly x: number; readonly y: number; readonly width: number; readonly height: number }
  /** `x`, `y`: its upper left corner. */
  | { readonly kind: "figure"; readonly x: number; readonly y: number; readonly figure: FittedFigure };

/** What is never torn. */
export interface Piece {
  readonly height: number;
  /** Air above it, left out at the top of a page. */
  readonly above: number;
  readonly marks: readonly Placed[];
  /** It stays on the page of what follows. */
  readonly withNext: boolean;
  /** It stays with all its neighbours that bear the same name, where one page holds them. */
  readonly section?: string;
  /** Begins a new page. */
  readonly newPage: boolean;
  /** What stands above it again where a page begins with it: a table's head. */
  readonly again?: { readonly height: number; readonly marks: readonly Placed[] };
}

/** Letters: their body and the way from line to line, mm. */
interface Type {
  readonly size: number;
  readonly lead: number;
  readonly bold: boolean;
}

const BODY: Type = { size: 3.5, lead: 4.7, bold: false };
const BOLD: Type = { ...BODY, bold: true };
const SMALL: Type = { size: 3, lead: 4, bold: false };
const SMALL_BOLD: Type = { ...SMALL, bold: true };
const HEADS: readonly Type[] = [
  { size: 6.2, lead: 8, bold: true },
  { size: 4.8, lead: 6.2, bold: true },
  { size: 3.9, lead: 5.2, bold: true },
];
/** Lines of one row, item or paragraph that stay together: what is longer could be longer than a page. */
const MOST_LINES = 30;
/** A block no higher than this is kept whole, mm: a third of a page. */
const WHOLE = 85;
/** Side of a box to tick. */
const TICK = 3.4;
const INDENT = 6;
/** Height of a row that is written in with a pencil. */
const PENCIL = 6.4;

/**
 * Cuts a block into what is never torn.
 * @param width mm, between the margins
 * @param name of this block, unlike that of others
 */
export function piecesOf(block: Block, width: number, measure: Measure, name: string): readonly Piece[] {
  switch (block.kind) {
    case "heading": {
      const type = HEADS[block.level - 1] ?? BOLD;
      const said = lines(block.text, type, width, measure);
      const rule: readonly Placed[] =
        block.level === 2 ? [{ kind: "line", x: 0, y: 0, toX: width, toY: 0, width: 0.3 }] : [];
      const top = block.level === 2 ? 1.6 : 0;
      return [
        {
          height: top + said.length * type.lead + 0.6,
          above: block.level === 1 ? 0 : block.level === 2 ? 6 : 3.4,
          marks: [...rule, ...typed(said, type, 0, top)],
          withNext: true,
          newPage: block.level === 1,
        },
      ];
    }
    case "paragraph":
      return whole(runOf(block.text, block.bold ? BOLD : BODY, 0, width, measure, 1.6), block.stays);
    case "list":
      return whole(
        block.items.flatMap((item) => marked(item, width, measure)),
        block.stays,
      );
    case "checklist":
      return whole(block.items.flatMap((item) => ticked(item, width, measure)));
    case "table":
      return tablePieces(block, width, measure);
    case "figure": {
      const figure = fitFigure(block.figure, width);
      const caption = lines(block.caption, SMALL, width, measure);
      return [
        {
          height: figure.height + 1.4 + caption.length * SMALL.lead,
          above: 2.4,
          marks: [
            { kind: "figure", x: (width - figure.width) / 2, y: 0, figure },
            ...typed(caption, SMALL, 0, figure.height + 1.4),
          ],
          withNext: false,
          newPage: false,
        },
      ];
    }
    case "blanks":
      return whole(block.items.flatMap(({ label, unit }) => blankLine(label, unit, width, measure)));
    case "caution":
      return framed(block.title, block.items, width, measure);
    case "together":
      return block.blocks
        .flatMap((b, i) => piecesOf(b, width, measure, `${name}.${i}`))
        .map((p) => ({ ...p, section: name }));
  }
}

/** Keeps pieces on one page where together they are no higher than a third of it; otherwise no first or last row alone. */
function whole(pieces: readonly Piece[], stays?: true): readonly Piece[] {
  const height = pieces.reduce((sum, p) => sum + p.above + p.height, 0);
  const last = pieces.length - 1;
  return pieces.map((p, i) => ({
    ...p,
    withNext: i === last ? stays === true : p.withNext || height <= WHOLE || i < 2 || i === last - 1,
  }));
}

function plainPiece(height: number, above: number, marks: readonly Placed[]): Piece {
  return { height, above, marks, withNext: false, newPage: false };
}

function runOf(text: string, type: Type, x: number, width: number, measure: Measure, above: number): readonly Piece[] {
  return slices(lines(text, type, width - x, measure)).map((some, i) =>
    plainPiece(some.length * type.lead, i === 0 ? above : 0, typed(some, type, x, 0)),
  );
}

function marked(text: string, width: number, measure: Measure): readonly Piece[] {
  const [first, ...more] = runOf(text, BODY, INDENT - 2, width, measure, 0.6);
  if (first === undefined) return [];
  const bullet: Placed = { kind: "dot", x: 1.4, y: BODY.lead * 0.5 };
  return [{ ...first, marks: [bullet, ...first.marks] }, ...more];
}

function ticked(item: CheckItem, width: number, measure: Measure): readonly Piece[] {
  const said = lines(item.text, item.hold === undefined ? BODY : BOLD, width - INDENT, measure);
  const type = item.hold === undefined ? BODY : BOLD;
  const notes = item.notes.flatMap((n) => lines(n, SMALL, width - INDENT, measure));
  const hold = item.hold === undefined ? [] : lines(item.hold, BOLD, width - INDENT, measure);
  const box: Placed = { kind: "box", x: 0.2, y: 0.5, width: TICK, height: TICK };
  const all = [
    ...hold.map((l) => ({ l, type: BOLD })),
    ...said.map((l) => ({ l, type })),
    ...notes.map((l) => ({ l, type: SMALL })),
  ];
  return slices(all).map((some, i) => {
    let y = 0;
    const marks = some.map(({ l, type: t }): Placed => {
      y += t.lead;
      return { kind: "text", x: INDENT, y: y - t.lead * 0.24, text: l, size: t.size, bold: t.bold };
    });
    return plainPiece(y, i === 0 ? 1 : 0, i === 0 ? [box, ...marks] : marks);
  });
}

function blankLine(label: string, unit: string, width: number, measure: Measure): readonly Piece[] {
  const room = 42;
  const said = lines(label, BODY, width - room - 2, measure);
  const height = said.length * BODY.lead + 2;
  const base = height - BODY.lead * 0.24;
  const tail = measure(unit, BODY.size, false);
  return [
    plainPiece(height, 0.8, [
      ...typed(said, BODY, 0, 2),
      { kind: "line", x: width - room, y: base + 0.6, toX: width - tail - 2, toY: base + 0.6, width: 0.25 },
      { kind: "text", x: width - tail, y: base, text: unit, size: BODY.size, bold: false },
    ]),
  ];
}

const CELL = 0.8;

function tablePieces(block: TableBlock, width: number, measure: Measure): readonly Piece[] {
  const shares = block.columns.reduce((sum, c) => sum + c.share, 0);
  let x = 0;
  const columns = block.columns.map((c) => {
    const from = x;
    x += (c.share / shares) * width;
    return { head: c.head, x: from, width: x - from };
  });
  const across = (y: number, thick: number): Placed => ({ kind: "line", x: 0, y, toX: width, toY: y, width: thick });
  const row = (cells: readonly (readonly string[])[], type: Type): { height: number; marks: readonly Placed[] } => {
    const most = Math.max(1, ...cells.map((c) => c.length));
    return {
      height: most * type.lead + 2 * CELL,
      marks: cells.flatMap((c, i) => typed(c, type, (columns[i]?.x ?? 0) + CELL, CELL)),
    };
  };
  const heads = row(
    columns.map((c) => lines(c.head, SMALL_BOLD, c.width - 2 * CELL, measure)),
    SMALL_BOLD,
  );
  const head = {
    height: heads.height,
    marks: [across(0, 0.4), ...heads.marks, across(heads.height, 0.4)],
  };
  const caption =
    block.caption === undefined
      ? []
      : runOf(block.caption, BOLD, 0, width, measure, 2).map((p) => ({ ...p, withNext: true }));
  const rows = block.rows.flatMap((cells): readonly Piece[] => {
    const wrapped = columns.map((c, i) => {
      const cell = cells[i];
      return cell == null ? [] : lines(cell, SMALL, c.width - 2 * CELL, measure);
    });
    const writes = columns.filter((_, i) => cells[i] === null);
    const most = Math.max(1, ...wrapped.map((w) => w.length));
    const starts = Array.from({ length: Math.ceil(most / MOST_LINES) }, (_, i) => i * MOST_LINES);
    return starts.map((from) => {
      const some = row(
        wrapped.map((w) => w.slice(from, from + MOST_LINES)),
        SMALL,
      );
      const height = writes.length > 0 ? Math.max(some.height, PENCIL) : some.height;
      const open = writes.map(
        (c): Placed => ({
          kind: "line",
          x: c.x + CELL,
          y: height - CELL - 0.6,
          toX: c.x + c.width - CELL,
          toY: height - CELL - 0.6,
          width: 0.25,
        }),
      );
      return {
        ...plainPiece(height, 0, [...some.marks, ...open, across(height, from + MOST_LINES < most ? 0 : 0.12)]),
        again: head,
      };
    });
  });
  const headPiece: Piece = {
    ...plainPiece(head.height, block.caption === undefined ? 2 : 0.6, head.marks),
    withNext: true,
  };
  return whole([...caption, headPiece, ...rows]);
}

function framed(title: string, items: readonly string[], width: number, measure: Measure): readonly Piece[] {
  const PAD = 2.4;
  const inner = width - 2 * PAD;
  const body = [...runOf(title, BOLD, 0, inner, measure, 0), ...items.flatMap((item) => marked(item, inner, measure))];
  const sides = (height: number): readonly Placed[] =>
    [0, width].map((x) => ({ kind: "line", x, y: 0, toX: x, toY: height, width: 0.6 }));
  const bar = (y: number): Placed => ({ kind: "line", x: -0.3, y, toX: width + 0.3, toY: y, width: 0.6 });
  const pieces = body.map((p, i): Piece => {
    const top = i === 0 ? PAD * 0.7 : p.above;
    const bottom = i === body.length - 1 ? PAD : 0;
    const height = top + p.height + bottom;
    return {
      ...plainPiece(height, i === 0 ? 3 : 0, [
        ...shifted(p.marks, PAD, top),
        ...sides(height),
        ...(i === 0 ? [bar(0)] : []),
        ...(i === body.length - 1 ? [bar(height)] : []),
      ]),
      again: { height: 0, marks: [bar(0)] },
    };
  });
  return whole(pieces);
}

/** Moves marks. */
export function shifted(marks: readonly Placed[], dx: number, dy: number): readonly Placed[] {
  return marks.map((m) =>
    m.kind === "line"
      ? { ...m, x: m.x + dx, y: m.y + dy, toX: m.toX + dx, toY: m.toY + dy }
      : { ...m, x: m.x + dx, y: m.y + dy },
  );
}

function typed(said: readonly string[], type: Type, x: number, top: number): readonly Placed[] {
  return said.map((text, i) => ({
    kind: "text",
    x,
    y: top + (i + 1) * type.lead - type.lead * 0.24,
    text,
    size: type.size,
    bold: type.bold,
  }));
}

function slices<T>(all: readonly T[]): readonly (readonly T[])[] {
  const n = Math.max(1, Math.ceil(all.length / MOST_LINES));
  return Array.from({ length: n }, (_, i) => all.slice(i * MOST_LINES, (i + 1) * MOST_LINES));
}

/**
 * Breaks a text into lines no wider than `width`: at spaces, and within a word that alone is wider. Always one at least.
 * Words are measured one by one, since the same ones come again and again.
 */
function lines(text: string, type: Type, width: number, measure: Measure): readonly string[] {
  const long = (t: string): number => measure(t, type.size, type.bold);
  const space = long(" ");
  const rows: string[] = [];
  let row = "";
  let used = 0;
  // A space that doesn't break keeps a number and its unit on one line.
  for (const word of text.split(/[ \t\n\r]+/).filter((w) => w !== "")) {
    const own = long(word);
    if (row !== "" && used + space + own <= width) {
      row += ` ${word}`;
      used += space + own;
      continue;
    }
    if (row !== "") rows.push(row);
    row = "";
    used = 0;
    for (const part of own <= width ? [word] : [...word]) {
      const more = part === word ? own : long(part);
      if (row !== "" && used + more > width) {
        rows.push(row);
        row = "";
        used = 0;
      }
      row += part;
      used += more;
    }
  }
  return row === "" && rows.length > 0 ? rows : [...rows, row];
}
