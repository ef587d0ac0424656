import * as z from "zod";
import { type Complaints, complain, orList, quantityOf, type Reading, wholeOf } from "./leaves.ts";
import { withKnownKeys } from "./words.ts";

const FIRST = { at: 0, length: 1 } as const;

/** A cell of a grid of drawers, counted from the top left. */
export interface CellAt {
  readonly row: number;
  readonly column: number;
}

/** What a pictogram is as said. */
export interface PictogramSaid {
  readonly grid:
    | { readonly kind: "front view" }
    | { readonly kind: "lines"; readonly lines: unknown }
    | {
        readonly kind: "plain";
        readonly rows: number;
        readonly columns: number;
        readonly joined: readonly (readonly [CellAt, CellAt])[];
      };
  readonly filled:
    | { readonly kind: "own" }
    | { readonly kind: "name"; readonly name: string }
    | ({ readonly kind: "cell" } & CellAt);
  readonly height?: number;
}

const PICTOGRAM_KEYS = ["rows", "columns", "joined", "drawers", "filled", "height"];
const PICTOGRAM_MEND =
  'write "pictogram: own" with a "front view:" above the parts, or {rows: 3; columns: 2; filled: row 2 column 1} on lines of its own';

/** The key of a pictogram. */
export function pictogramOf(r: Reading) {
  return z
    .any()
    .transform((data, c): PictogramSaid => {
      if (typeof data === "string" && data.trim() !== "") {
        return { grid: { kind: "front view" }, filled: filledOf(data) };
      }
      if (typeof data === "object" && data !== null && !Array.isArray(data)) return pictogramOfMap(data, r, c);
      complain(c, {
        code: "mark-incomplete",
        what: "a pictogram is not described here",
        mend: PICTOGRAM_MEND,
        ...FIRST,
      });
      return z.NEVER;
    })
    .meta({
      description:
        "The cabinet's drawers as a grid with one of them filled: own (each copy its own), a drawer's name, or a map with rows, columns and filled.",
      anyOf: [
        { type: "string" },
        {
          type: "object",
          properties: {
            rows: { type: ["string", "integer"], description: "Rows of drawers." },
            columns: { type: ["string", "integer"], description: "Drawers in a row." },
            joined: {
              anyOf: [{ type: "string" }, { type: "array", items: { type: "string" } }],
              description: "Cells that are one drawer: row 1 column 1 to row 1 column 2.",
            },
            drawers: { type: "array", description: "A front view of this pictogram alone, row by row." },
            filled: { type: "string", description: "The filled drawer: own, its name, or row 2 column 1." },
            height: { type: ["string", "number"], description: "Height of the whole grid." },
          },
          additionalProperties: false,
        },
      ],
      examples: ["own", "cinnamon"],
    });
}

/** The key of a pictogram. */
export function pictogramOfMap(data: object, r: Reading, c: Complaints): PictogramSaid {
  const said = withKnownKeys(data, PICTOGRAM_KEYS) as Record<string, unknown>;
  const odd = Object.keys(said).filter((k) => !PICTOGRAM_KEYS.includes(k));
  for (const key of odd) {
    const what = `"${key}" is not known here`;
    const mend = `known here are ${orList(PICTOGRAM_KEYS)}`;
    complain(c, { code: "key-unknown", what, mend, at: 0, length: key.length, onKey: true }, [key]);
  }
  const { rows, columns, joined, drawers, filled, height } = said;
  const size = typeof height === "string" ? quantityOf(height, "length", r, "positive", c, ["height"]) : undefined;
  const rest = {
    filled: typeof filled === "string" ? filledOf(filled) : ({ kind: "own" } as const),
    ...(size !== undefined && { height: size }),
  };
  if (drawers !== undefined && rows === undefined && columns === undefined) {
    return { grid: { kind: "lines", lines: drawers }, ...rest };
  }
  if (rows === undefined && columns === undefined && joined === undefined) {
    return { grid: { kind: "front view" }, ...rest };
  }
  if (typeof rows !== "string" || typeof columns !== "string" || drawers !== undefined) {
    const what = drawers === undefined ? "a grid needs both rows and columns" : "the drawers are given twice";
    const mend =
      drawers === undefined ? 'write "rows: 3" and "columns: 2"' : 'keep "drawers:", or "rows:" and "columns:"';
    complain(c, { code: "mark-incomplete", what, mend, ...FIRST });
    return z.NEVER;
  }
  const texts = joined === undefined ? [] : Array.isArray(joined) ? joined : [joined];
  return {
    grid: {
      kind: "plain",
      rows: wholeOf(rows, r, 100, c, ["rows"]),
      columns: wholeOf(columns, r, 100, c, ["columns"]),
      joined: texts.flatMap((t, i) => joinedOf(t, c, Array.isArray(joined) ? ["joined", i] : ["joined"])),
    },
    ...rest,
  };
}

function joinedOf(text: unknown, c: Complaints, path: readonly PropertyKey[]): readonly (readonly [CellAt, CellAt])[] {
  const said = typeof text === "string" ? /^(.+?)\s+to\s+(.+)$/i.exec(text.trim()) : null;
  const [from, to] = [cellAt(said?.[1] ?? ""), cellAt(said?.[2] ?? "")];
  if (from !== undefined && to !== undefined) return [[from, to]];
  complain(
    c,
    {
      code: "word-unknown",
      what: "this does not say which cells are one drawer",
      mend: 'write "row 1 column 1 to row 1 column 2": its first and its last cell',
      at: 0,
      length: typeof text === "string" ? Math.max(1, text.length) : 1,
    },
    path,
  );
  return [];
}

function filledOf(text: string): PictogramSaid["filled"] {
  const said = text.trim();
  if (/^(?:own|each|its own|each its own)$/i.test(said)) return { kind: "own" };
  const cell = cellAt(said);
  return cell === undefined ? { kind: "name", name: said.replace(/\s+/g, " ") } : { kind: "cell", ...cell };
}

/** "row 2 column 1", with or without a comma. */
export function cellAt(text: string): CellAt | undefined {
  const said = /^row\s+(\d{1,3})\s*,?\s*col(?:umn)?\s+(\d{1,3})$/i.exec(text.trim());
  return said === null ? undefined : { row: Number(said[1]), column: Number(said[2]) };
}
