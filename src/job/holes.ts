import type { FaceName } from "./board.ts";
import { axisOf, bordersOf, faceAmong } from "./faces.ts";
import type { Row, Said } from "./feature-schema.ts";
import type { At, From } from "./job.ts";
import { type OnPart, placeFrom, placeOn, refuseAt } from "./places.ts";
import { find } from "./tree.ts";

/** All centres of a hole feature: one, a row, a grid, or a list. Undefined when findings were made. */
export function holeCentres(on: OnPart, face: FaceName, said: Said<"hole">): readonly At[] | undefined {
  const many = said["centres at"];
  if (many !== undefined) {
    const odd = (["centre at", "row", "grid"] as const).find((k) => said[k] !== undefined);
    if (odd !== undefined) {
      refuseAt(
        on,
        [odd],
        "place-twice",
        `"centres at" and "${odd}" both say where these holes lie`,
        "keep one of them",
      );
      return undefined;
    }
    return listed(on, face, many);
  }
  const first = placeOn(on, face, { "centre at": said["centre at"] });
  if (!first) return undefined;
  if (said.row !== undefined && said.grid !== undefined) {
    refuseAt(on, ["grid"], "place-twice", '"row" and "grid" both say how these holes go on', "keep one of them");
    return undefined;
  }
  if (said.row !== undefined) return inRow(on, face, [first], said.row, ["row"]);
  if (said.grid === undefined) return [first];
  const columns = inRow(on, face, [first], said.grid.columns, ["grid", "columns"]);
  const grid = columns && inRow(on, face, columns, said.grid.rows, ["grid", "rows"]);
  if (!grid || !columns) return undefined;
  const second = grid[columns.length];
  const moved = (k: 0 | 1): boolean =>
    columns.at(-1)?.[k].distance !== first[k].distance &&
    second?.[k].distance !== first[k].distance &&
    second !== undefined;
  if (moved(0) || moved(1)) {
    refuseAt(
      on,
      ["grid"],
      "place-twice",
      "the columns and rows of this grid go the same way",
      "let one go towards an end, and the other towards an edge",
    );
    return undefined;
  }
  if (grid.length > MOST_HOLES) {
    refuseAt(
      on,
      ["grid"],
      "count-not-whole",
      `this grid has ${grid.length} holes`,
      `a grid has at most ${MOST_HOLES}; check the counts`,
    );
    return undefined;
  }
  return grid;
}

const MOST_HOLES = 2000;

/** A list of places: each item one place. A single text with two distances is one place. */
function listed(
  on: OnPart,
  face: FaceName,
  phrases: NonNullable<Said<"hole">["centres at"]>,
): readonly At[] | undefined {
  const node = find(on.node, ["centres at"], on.entry).node;
  if (node.kind !== "list") {
    const at = placeFrom(on, face, "centres at", phrases, "centre");
    return at && [at];
  }
  const out: At[] = [];
  for (const i of node.items.keys()) {
    const own = phrases.filter((p) => p.spot.path[0] === i);
    const at = placeFrom(on, face, "centres at", own, "centre");
    if (!at) return undefined;
    out.push(at);
  }
  return out;
}

/** Each of the given centres, repeated towards a border. */
function inRow(
  on: OnPart,
  face: FaceName,
  from: readonly At[],
  row: Row,
  path: readonly string[],
): readonly At[] | undefined {
  const towards = faceAmong(row.towards, on.labels, bordersOf(face), `border of the ${on.labels[face]}`);
  if (!towards.ok) {
    refuseAt(on, path, towards.problem.code, towards.problem.what, towards.problem.mend);
    return undefined;
  }
  const steps = Array.from({ length: row.count }, (_, i) => i * row.spacing);
  return steps.flatMap((step) =>
    from.map(([a, b]): At => [moved(a, towards.face, step), moved(b, towards.face, step)]),
  );
}

function moved(from: From, towards: FaceName, step: number): From {
  if (axisOf(from.border) !== axisOf(towards)) return from;
  return { ...from, distance: from.distance + (towards === from.border ? -step : step) };
}
