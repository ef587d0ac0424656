import type { Finding } from "../finding.ts";
import type { FaceName } from "./board.ts";
import { standardLabels } from "./faces.ts";
import { featureSchemas } from "./feature-schema.ts";
import { readFeature } from "./features.ts";
import type { Files } from "./files.ts";
import type { FrontView } from "./front-view.ts";
import { jobFinding } from "./job-finding.ts";
import type { Reading } from "./leaves.ts";
import type { FlatMark, NamedCopy } from "./mark.ts";
import { faceFinder, type MarkGround } from "./mark-ground.ts";
import type { OnPart } from "./places.ts";
import type { SourceText } from "./source-text.ts";
import { type Entry, entryOf, find, placeOf } from "./tree.ts";

/** What the faces of a drawer's bottom are called, here and where its part is written out. */
export const BOTTOM_LABELS: Readonly<Record<FaceName, string>> = {
  ...standardLabels(),
  face: "inside",
  back: "underside",
  "lower edge": "front edge",
  "upper edge": "back edge",
};

/** Reads `marks:` below `bottoms:`: marks as on any part, each drawer its own copy. */
export function readBottomMarks(
  source: SourceText,
  drawers: Entry | undefined,
  r: Reading,
  files: Files,
  view: FrontView | undefined,
  openings: readonly NamedCopy[],
): { readonly marks: readonly FlatMark[]; readonly findings: readonly Finding[] } {
  const bottoms = entryOf(drawers?.value, "bottoms");
  const entry = entryOf(bottoms?.value, "marks");
  if (entry === undefined || entry.value.kind === "broken") return { marks: [], findings: [] };
  const found: Finding[] = [];
  const list = entry.value;
  // What is no list is told of with the rest of the drawers.
  if (list.kind !== "list") return { marks: [], findings: [] };
  const ground: MarkGround = {
    files,
    faceCalled: faceFinder(files),
    view,
    part: "bottom",
    copies: Math.max(1, openings.length),
    each: openings.length === 0 ? undefined : openings,
  };
  const schemas = featureSchemas(r);
  const marks: FlatMark[] = [];
  for (const node of list.items) {
    const first = node.kind === "map" ? node.entries[0] : undefined;
    const on: OnPart = { source, node, entry: first, part: "bottoms", labels: BOTTOM_LABELS, planed: [], found };
    if (node.kind !== "broken" && find(node, ["mark"]).missing) {
      const mend = 'begin it with "- mark: a name"';
      found.push(jobFinding("feature-kind-unsaid", placeOf(source, node), "only marks stand here", { mend }));
      continue;
    }
    const feature = readFeature(on, schemas, files, ground);
    if (feature?.kind !== "mark") continue;
    const same = marks.find((m) => m.name.toLowerCase() === feature.name.toLowerCase());
    if (same === undefined) marks.push(feature);
    else {
      const why = `the first is on line ${same.source.line}`;
      const mend = "give each a name of its own; sheets and findings call it by that";
      const what = `two marks of the bottoms are called "${feature.name}"`;
      found.push(jobFinding("name-twice", feature.source, what, { why, mend, part: "bottoms" }));
    }
  }
  return { marks, findings: found };
}

/** The mark of one drawer: what it alone shows, where drawers differ. */
export function markOfDrawer(mark: FlatMark, index: number): FlatMark {
  const { each, ...rest } = mark;
  return { ...rest, content: each?.[index] ?? mark.content };
}
