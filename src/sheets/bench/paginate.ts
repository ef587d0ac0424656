import { PAPERS, type PaperName } from "../pdf-tiles.ts";
import type { BenchPage } from "./block.ts";
import { type Measure, type Piece, type Placed, piecesOf, shifted } from "./pieces.ts";

/** One sheet of paper: what is drawn on it, mm from its upper left corner, Y down. */
export interface PaperPage {
  readonly width: number;
  readonly height: number;
  readonly marks: readonly Placed[];
}

/** Borders of the page, mm: wider at the left, for a hole or a nail. */
export const BORDERS = { left: 18, right: 14, top: 18, bottom: 16 } as const;

const SMALL = 2.8;

/** Lays a bench page out on paper: what is never torn goes whole onto a page, headings stay with what follows. */
export function paginate(page: BenchPage, paper: PaperName, measure: Measure): readonly PaperPage[] {
  const { width, height } = PAPERS[paper];
  const inner = { width: width - BORDERS.left - BORDERS.right, height: height - BORDERS.top - BORDERS.bottom };
  const pieces = page.blocks.flatMap((b, i) => piecesOf(b, inner.width, measure, String(i)));
  const sheets: Placed[][] = [[]];
  let y = 0;
  const turn = (): void => {
    sheets.push([]);
    y = 0;
  };
  for (const group of groupsOf(pieces, inner.height)) {
    const first = group[0];
    if (first === undefined) continue;
    if (y > 0 && (first.newPage || y + heightOf(group, false) > inner.height)) turn();
    for (const piece of group) {
      if (y === 0 && piece.again !== undefined) {
        sheets.at(-1)?.push(...shifted(piece.again.marks, BORDERS.left, BORDERS.top));
        y += piece.again.height;
      } else if (y > 0) y += piece.above;
      sheets.at(-1)?.push(...shifted(piece.marks, BORDERS.left, BORDERS.top + y));
      y += piece.height;
    }
  }
  return sheets.map((marks, i) => ({
    width,
    height,
    marks: [...running(page, paper, i + 1, sheets.length, measure), ...marks],
  }));
}

/** Pieces that stay on one page. Where a group is higher than a page, its pieces go singly. */
function groupsOf(pieces: readonly Piece[], most: number): readonly (readonly Piece[])[] {
  const groups: Piece[][] = [];
  let group: Piece[] = [];
  for (const piece of pieces) {
    group.push(piece);
    if (piece.withNext) continue;
    groups.push(group);
    group = [];
  }
  if (group.length > 0) groups.push(group);
  const fitting = groups.flatMap((g) => (heightOf(g, true) > most ? g.map((p) => [p]) : [g]));
  return sectionsOf(fitting, most);
}

/** Puts the groups of a section together where one page holds them all; a longer one begins a page. */
function sectionsOf(groups: readonly (readonly Piece[])[], most: number): readonly (readonly Piece[])[] {
  const sections: (readonly Piece[])[][] = [];
  for (const g of groups) {
    const name = g.at(-1)?.section;
    const open = sections.at(-1);
    if (name !== undefined && open?.at(-1)?.at(-1)?.section === name) open.push(g);
    else sections.push([g]);
  }
  return sections.flatMap((s) => {
    const all = s.flat();
    const first = all[0];
    if (s.length === 1 || first === undefined) return s;
    if (heightOf(all, true) <= most) return [all];
    return [[{ ...first, newPage: true }, ...(s[0]?.slice(1) ?? [])], ...s.slice(1)];
  });
}

function heightOf(group: readonly Piece[], atTop: boolean): number {
  return group.reduce((sum, p, i) => sum + p.height + (i === 0 && atTop ? (p.again?.height ?? 0) : p.above), 0);
}

/** Head and foot. */
function running(page: BenchPage, paper: PaperName, n: number, of: number, measure: Measure): readonly Placed[] {
  const { width, height } = PAPERS[paper];
  const right = width - BORDERS.right;
  const count = `page ${n} of ${of}`;
  const long = measure(count, SMALL, false);
  const most = right - BORDERS.left - long - 6;
  const text = (x: number, y: number, said: string, bold = false): Placed => ({
    kind: "text",
    x,
    y,
    text: said,
    size: SMALL,
    bold,
  });
  return [
    text(BORDERS.left, BORDERS.top - 7, cut(page.title, most, measure), true),
    text(right - long, BORDERS.top - 7, count),
    {
      kind: "line",
      x: BORDERS.left,
      y: BORDERS.top - 5,
      toX: right,
      toY: BORDERS.top - 5,
      width: 0.2,
    },
    text(BORDERS.left, height - BORDERS.bottom + 7, cut(page.foot, right - BORDERS.left, measure)),
  ];
}

/** A text that goes on one line, or as much of it as does. */
function cut(text: string, width: number, measure: Measure): string {
  if (measure(text, SMALL, true) <= width) return text;
  let said = text;
  while (said !== "" && measure(`${said} ...`, SMALL, true) > width) said = [...said].slice(0, -1).join("");
  return `${said} ...`;
}
