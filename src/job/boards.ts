import type { Finding } from "../finding.ts";
import { closest } from "../units/closest.ts";
import { standardLabels } from "./faces.ts";
import { findingsOf } from "./issues.ts";
import type { BoardDescription } from "./job.ts";
import { jobFinding } from "./job-finding.ts";
import type { Reading } from "./leaves.ts";
import { tidyName } from "./parts.ts";
import { type OnPart, placeFrom, refuseAt, sourceAtPath } from "./places.ts";
import { boardSchema } from "./schema.ts";
import type { SourceText } from "./source-text.ts";
import { type Entry, find, placeOfKey, type Tree, toData } from "./tree.ts";
import { cornerOf, readWishes } from "./wishes-read.ts";

/**
 * Reads the boards that several parts are cut from. `partNames` are all names a part or its mirror image has, `turned` those
 * of them that no board can hold.
 */
export function readBoards(
  source: SourceText,
  node: Tree | undefined,
  r: Reading,
  partNames: readonly string[],
  turned: readonly string[],
): { readonly boards: readonly BoardDescription[]; readonly findings: readonly Finding[] } {
  const entries = node?.kind === "map" ? node.entries : [];
  const found: Finding[] = [];
  if (entries.length === 0) return { boards: [], findings: [] };
  const schema = boardSchema(r);
  const boards = entries.flatMap((e) => readBoard(source, e, schema, partNames, turned, found) ?? []);
  for (const e of entries) {
    const name = tidyName(e.key).toLowerCase();
    if (!partNames.some((p) => p.toLowerCase() === name)) continue;
    found.push(
      jobFinding("name-twice", placeOfKey(source, e), `a part is called "${tidyName(e.key)}" as well`, {
        mend: "give the board another name; programs and sheets are named after it",
      }),
    );
  }
  return { boards, findings: found };
}

function readBoard(
  source: SourceText,
  entry: Entry,
  schema: ReturnType<typeof boardSchema>,
  partNames: readonly string[],
  turned: readonly string[],
  found: Finding[],
): BoardDescription | undefined {
  const before = found.length;
  const name = tidyName(entry.key);
  const on: OnPart = { source, node: entry.value, entry, part: name, labels: standardLabels(), planed: [], found };
  const said = schema.safeParse(toData(entry.value));
  if (!said.success) {
    found.push(...findingsOf(said.error.issues, on));
    return undefined;
  }
  const { blank } = said.data;
  const size = { length: blank.length, width: blank.width, thickness: blank.thickness };
  const places = said.data.places.flatMap((place, i) => {
    const below = find(entry.value, ["places", i]);
    const own: OnPart = { ...on, node: below.node, entry: undefined };
    const part = partNames.find((p) => p.toLowerCase() === tidyName(place.part).toLowerCase());
    if (part === undefined) {
      const like = closest(place.part, partNames.slice(0, 500));
      const list = partNames.slice(0, 8).map((p) => `"${p}"`);
      refuseAt(
        own,
        ["part"],
        "part-unknown",
        `there is no part called "${place.part}"`,
        like !== undefined
          ? `do you mean "${like}"?`
          : list.length > 0
            ? `the parts are ${list.join(", ")}`
            : 'describe it under "parts" first',
      );
    }
    const round = part !== undefined && turned.includes(part);
    if (round) {
      refuseAt(
        own,
        ["part"],
        "part-unknown",
        `"${part}" is turned, so it is not cut from a board`,
        "take it out here; a turned part has a blank of its own",
      );
    }
    const at = placeFrom(own, "face", "at", place.at, "near edge");
    if (part === undefined || round || !at) return [];
    return [{ part, at: cornerOf(at, size), turned: place.turned ?? 0, source: sourceAtPath(own, ["part"]) }];
  });
  if (said.data.places.length === 0) {
    refuseAt(
      on,
      ["places"],
      "place-incomplete",
      "no part lies on this board",
      'add "- part: left side" with "at:" below it, or take the board out',
    );
  }
  const wishes = readWishes(on, said.data, size);
  if (found.length > before || !wishes) return undefined;
  return {
    name,
    wood: blank.wood,
    size,
    grain: blank.grain ?? "along length",
    places,
    wishes,
    source: placeOfKey(source, entry),
  };
}
