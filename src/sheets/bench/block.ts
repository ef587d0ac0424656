import type { Segment } from "../../shapes/segment.ts";
import type { DrawingMark } from "../template-drawing.ts";

/**
 * The bench page as plain data: blocks in the order in which they are read. Filled by the sections beside this file;
 * rendered twice, as HTML (`html.ts`) and on paper (`paginate.ts`, `bench-pdf.ts`). Texts are the user's and ours as they
 * are: whoever renders makes them safe.
 */
export interface BenchPage {
  readonly title: string;
  /** Small, in every page's foot. */
  readonly foot: string;
  readonly blocks: readonly Block[];
}

/**
 * One block. Nothing of it is torn between pages but between rows, and then only where it would not fit otherwise. One that
 * `stays` is on the page of what follows.
 */
export type Block =
  /** 1 begins a new page. */
  | { readonly kind: "heading"; readonly level: 1 | 2 | 3; readonly text: string }
  | { readonly kind: "paragraph"; readonly text: string; readonly bold?: true; readonly stays?: true }
  | { readonly kind: "list"; readonly items: readonly string[]; readonly stays?: true }
  | { readonly kind: "checklist"; readonly items: readonly CheckItem[] }
  | TableBlock
  | { readonly kind: "figure"; readonly figure: Figure; readonly caption: string }
  /** Lines to write on by hand. */
  | { readonly kind: "blanks"; readonly items: readonly Blank[] }
  /** A framed warning. */
  | { readonly kind: "caution"; readonly title: string; readonly items: readonly string[] }
  /** On one page where one page holds it: what goes to one machine. */
  | { readonly kind: "together"; readonly blocks: readonly Block[] };

/** Something to do, with a box to tick. */
export interface CheckItem {
  readonly text: string;
  /** Beneath it, smaller: programs, hold points. */
  readonly notes: readonly string[];
  /** Something is measured before it: stands out. */
  readonly hold?: string;
}

/** Rows under heads. */
export interface TableBlock {
  readonly kind: "table";
  readonly caption?: string;
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly Cell[])[];
}

/** What stands in a cell; null: it is left free, with a line to write on. */
export type Cell = string | null;

/** A column: its head, and its share of the width against the others'. */
export interface Column {
  readonly head: string;
  readonly share: number;
}

/** What is written, and where: "groove found: ______ mm". */
export interface Blank {
  readonly label: string;
  readonly unit: string;
}

/** A drawing in millimetres, Y up, fitted into the width of the page; never larger than life. */
export interface Figure {
  readonly marks: readonly FigureMark[];
  /** Most of the page's height that it takes, mm. */
  readonly most: number;
}

/** Lines and areas are scaled; letters and ringed numbers keep their size on paper. */
export type FigureMark =
  | DrawingMark
  /** Closed loops filled with grey, 0 black to 1 white. */
  | { readonly kind: "area"; readonly loops: readonly (readonly Segment[])[]; readonly grey: number }
  /** A number in a ring. */
  | { readonly kind: "ring"; readonly at: { readonly x: number; readonly y: number }; readonly text: string };
