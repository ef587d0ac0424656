import type { Finding } from "../finding.ts";
import { closest } from "../units/closest.ts";
import { cellCalled, cellOver, type DrawerCell, type FrontView, plainView, readFrontView } from "./front-view.ts";
import type { MarkContent, NamedCopy } from "./mark.ts";
import type { MarkGround } from "./mark-ground.ts";
import { drawPictogram, hatched } from "./mark-pictogram.ts";
import type { CellAt, PictogramSaid } from "./pictogram-said.ts";
import { type OnPart, refuseAt, sourceAtPath } from "./places.ts";
import { find } from "./tree.ts";

/** A drawer's front is drawn half as high as it is wide where the job gives the width alone. Ours, no source. */
const USUAL_SHARE = 0.5;

/**
 * The pictogram of each copy: the cabinet's drawers with one filled; one content for all where they are alike.
 * @param asLines the filled drawer is hatched with lines, for ways of making that follow lines alone
 */
export function pictogramContents(
  on: OnPart,
  said: PictogramSaid,
  width: number | undefined,
  ground: MarkGround,
  asLines: boolean,
): readonly MarkContent[] | undefined {
  const view = viewOf(on, said, ground);
  if (width === undefined) {
    const what = "it is not said how wide this pictogram is";
    refuseAt(on, ["pictogram"], "mark-incomplete", what, 'add "width: 24": the whole grid');
  }
  if (view === undefined || width === undefined) return undefined;
  const height = said.height ?? (width * USUAL_SHARE * view.rows) / view.columns;
  const cells = filledCells(on, said, view, ground);
  if (cells === undefined) return undefined;
  return cells.map((cell): MarkContent => {
    const drawn = drawPictogram(view, cell, width, height);
    const from = { kind: "pictogram", row: cell.row, column: cell.column } as const;
    return asLines
      ? { kind: "lines", chains: [...drawn.chains, ...hatched(drawn.region)], from }
      : { kind: "lines and areas", ...drawn, from };
  });
}

function viewOf(on: OnPart, said: PictogramSaid, ground: MarkGround): FrontView | undefined {
  switch (said.grid.kind) {
    case "front view":
      if (ground.view !== undefined) return ground.view;
      refuseAt(
        on,
        ["pictogram"],
        "mark-incomplete",
        "it is not said which drawers the cabinet has",
        'add "front view:" above the parts, with a line for each row: "- [cinnamon, cloves]"; or give "rows:" and "columns:" here',
      );
      return undefined;
    case "lines": {
      const node = find(on.node, ["pictogram", "drawers"], on.entry).node;
      const read = readFrontView(on.source, node);
      on.found.push(...read.findings.map((f) => owned(on, f)));
      return read.view;
    }
    case "plain": {
      const { rows, columns, joined } = said.grid;
      const spans = joined.map(([a, b]) => ({
        row: Math.min(a.row, b.row),
        column: Math.min(a.column, b.column),
        rows: Math.abs(b.row - a.row) + 1,
        columns: Math.abs(b.column - a.column) + 1,
      }));
      const beyond = joined.flat().find((c) => !within(c, rows, columns));
      if (beyond !== undefined) {
        outOfGrid(on, ["pictogram", "joined"], beyond, rows, columns);
        return undefined;
      }
      const view = plainView(rows, columns, spans);
      if ("cells" in view) return view;
      const what = "two joined drawers share a cell";
      refuseAt(on, ["pictogram", "joined"], "front-view-shape", what, "give each cell to one drawer");
      return undefined;
    }
  }
}

function owned(on: OnPart, f: Finding): Finding {
  return {
    ...f,
    place: {
      ...f.place,
      ...(on.part !== undefined && { part: on.part }),
      ...(on.feature !== undefined && { feature: on.feature }),
    },
  };
}

function within(c: CellAt, rows: number, columns: number): boolean {
  return c.row >= 1 && c.row <= rows && c.column >= 1 && c.column <= columns;
}

function outOfGrid(on: OnPart, path: readonly string[], c: CellAt, rows: number, columns: number): void {
  refuseAt(
    on,
    path,
    "drawer-unknown",
    `there is no row ${c.row} column ${c.column} in this grid`,
    "rows count from the top, columns from the left",
    `it has ${rows} ${rows === 1 ? "row" : "rows"} and ${columns} ${columns === 1 ? "column" : "columns"}`,
  );
}

/** The filled cell of each copy; one for all where the job names it. */
function filledCells(
  on: OnPart,
  said: PictogramSaid,
  view: FrontView,
  ground: MarkGround,
): readonly DrawerCell[] | undefined {
  const { filled } = said;
  const path = sourceIsMap(on) ? ["pictogram", "filled"] : ["pictogram"];
  switch (filled.kind) {
    case "cell": {
      const cell = cellOver(view, filled.row, filled.column);
      if (cell !== undefined) return [cell];
      outOfGrid(on, path, filled, view.rows, view.columns);
      return undefined;
    }
    case "name": {
      const cell = cellCalled(view, filled.name);
      if (cell !== undefined) return [cell];
      drawerUnknown(on, path, filled.name, view);
      return undefined;
    }
    case "own": {
      if (ground.each === undefined) {
        refuseAt(
          on,
          path,
          "mark-incomplete",
          `it is not said which drawer ${ground.copies > 1 ? "each copy" : "this"} is`,
          'add "each: [cinnamon, cloves]" to the part, or name the filled drawer here: "filled: row 2 column 1"',
        );
        return undefined;
      }
      const cells = ground.each.map((copy) => ownCell(view, copy));
      const lost = ground.each.find((_, i) => cells[i] === undefined);
      if (lost !== undefined) {
        drawerUnknown(on, path, lost.name, view);
        return undefined;
      }
      return cells.filter((c) => c !== undefined);
    }
  }
}

function sourceIsMap(on: OnPart): boolean {
  return find(on.node, ["pictogram"], on.entry).node.kind === "map";
}

function ownCell(view: FrontView, copy: NamedCopy): DrawerCell | undefined {
  const { row, column } = copy;
  return (
    cellCalled(view, copy.name) ?? (row === undefined || column === undefined ? undefined : cellOver(view, row, column))
  );
}

function drawerUnknown(on: OnPart, path: readonly string[], name: string, view: FrontView): void {
  const names = view.cells.flatMap((c) => (c.name === undefined ? [] : [c.name]));
  const near = closest(name, names);
  const mend =
    names.length === 0
      ? 'the drawers of this grid have no names: write "filled: row 2 column 1"'
      : near === undefined
        ? `its drawers are ${names.map((n) => `"${n}"`).join(", ")}`
        : `do you mean "${near}"?`;
  refuseAt(on, path, "drawer-unknown", `no drawer in the front view is called "${name.slice(0, 40)}"`, mend);
}

/** What each copy of a part is called, as the job's `each` says; undefined with findings where it is wrong. */
export function readEach(
  on: OnPart,
  said: readonly string[] | undefined,
  copies: number | undefined,
  view: FrontView | undefined,
): readonly NamedCopy[] | undefined {
  if (said === undefined) return undefined;
  if (copies !== undefined && copies !== said.length) {
    refuseAt(
      on,
      ["each"],
      "mark-copies",
      `${said.length} ${said.length === 1 ? "name is" : "names are"} given for ${copies} copies`,
      'give one name for each copy, or take "copies" out',
      `line ${sourceAtPath(on, ["copies"]).line} says ${copies}`,
    );
    return undefined;
  }
  const twice = said.find((name, i) => said.findIndex((n) => n.toLowerCase() === name.toLowerCase()) < i);
  if (twice !== undefined) {
    refuseAt(on, ["each"], "name-twice", `two copies are called "${twice}"`, "give each copy a name of its own");
    return undefined;
  }
  return said.map((name) => {
    const cell = view === undefined ? undefined : cellCalled(view, name);
    return { name, ...(cell !== undefined && { row: cell.row, column: cell.column }) };
  });
}
