import * as z from "zod";
import type { Finding } from "../finding.ts";
import type { FaceName } from "./board.ts";
import { axisOf, bordersOf, FACES, faceAmong, faceCalled, opposite, standardLabels } from "./faces.ts";
import { featureSchemas, once } from "./feature-schema.ts";
import { readFeature } from "./features.ts";
import type { Files } from "./files.ts";
import type { FrontView } from "./front-view.ts";
import { findingsOf } from "./issues.ts";
import type { Feature, PartDescription } from "./job.ts";
import { jobFinding } from "./job-finding.ts";
import type { Reading } from "./leaves.ts";
import { readEach } from "./mark-drawers.ts";
import { faceFinder, type MarkGround } from "./mark-ground.ts";
import { type OnPart, refuseAt } from "./places.ts";
import { partSchema } from "./schema.ts";
import type { SourceText } from "./source-text.ts";
import { type Entry, entryOf, placeOfKey, type Tree, toData } from "./tree.ts";
import type { TurnedDescription } from "./turned.ts";
import { isTurned, readTurnedPart, type TurnedReading } from "./turned-parts.ts";
import { turnedPartSchema, turnedSchemas } from "./turned-schema.ts";
import { readWishes } from "./wishes-read.ts";

/** Parts as read; a part that holds a mistake is missing, and its findings are there. */
export interface ReadParts {
  readonly parts: readonly PartDescription[];
  readonly turned: readonly TurnedDescription[];
  /** Every name that a part or a mirror image has, mistaken ones too. */
  readonly names: readonly string[];
  /** Those of them that are turned. */
  readonly turnedNames: readonly string[];
  readonly findings: readonly Finding[];
}

/** Reads all parts, each on its own, so that a mistake in one hides none in another. */
export function readParts(
  source: SourceText,
  node: Tree | undefined,
  r: Reading,
  files: Files,
  view?: FrontView,
): ReadParts {
  const entries = node?.kind === "map" ? node.entries : [];
  const found: Finding[] = [];
  const schema = partSchema(r, z.any());
  const features = featureSchemas(r);
  const marks = { files, faceCalled: faceFinder(files), view };
  const w: TurnedReading = {
    source,
    schema: once(() => turnedPartSchema(r, z.any())),
    schemas: turnedSchemas(r),
    reading: r,
    files,
    marks,
  };
  const parts: PartDescription[] = [];
  const turned: TurnedDescription[] = [];
  for (const e of entries) {
    if (isTurned(e)) turned.push(...[readTurnedPart(e, tidyName(e.key), w, found)].filter((t) => t !== undefined));
    else parts.push(...[readPart(source, e, schema, features, marks, found)].filter((t) => t !== undefined));
  }
  const names = uniqueNames(source, entries, found);
  const turnedNames = entries.filter(isTurned).map((e) => tidyName(e.key));
  return { parts, turned, names, turnedNames, findings: found };
}

function readPart(
  source: SourceText,
  entry: Entry,
  schema: ReturnType<typeof partSchema<z.ZodAny>>,
  features: ReturnType<typeof featureSchemas>,
  marks: SharedByMarks,
  found: Finding[],
): PartDescription | undefined {
  const before = found.length;
  const name = tidyName(entry.key);
  const labels = labelsOf(entry);
  const on: OnPart = { source, node: entry.value, entry, part: name, labels, planed: planedOf(entry, labels), found };
  const said = schema.safeParse(toData(entry.value));
  if (!said.success) found.push(...findingsOf(said.error.issues, on));
  checkLabels(on);
  checkPlaned(on);
  const each = said.success ? readEach(on, said.data.each, said.data.copies, marks.view) : undefined;
  const copies = (said.success ? said.data.copies : undefined) ?? each?.length ?? 1;
  const read = readFeatures(on, features, { ...marks, part: name, copies, each });
  const sides = said.success ? sidesOf(on, said.data) : undefined;
  const blank = said.success ? said.data.blank : undefined;
  const wishes = said.success && blank ? readWishes(on, said.data, blank) : undefined;
  if (found.length > before && found.slice(before).some((f) => f.grade === "refuse")) return undefined;
  if (!said.success || !blank || !sides || !wishes) return undefined;
  const mirrored = said.data["mirrored as"];
  return {
    name,
    wood: blank.wood,
    size: { length: blank.length, width: blank.width, thickness: blank.thickness },
    grain: blank.grain ?? "along length",
    copies,
    ...(mirrored !== undefined && { mirroredAs: tidyName(mirrored) }),
    labels,
    ...sides,
    features: read,
    ...(each !== undefined && { each }),
    wishes,
    source: placeOfKey(source, entry),
  };
}

/** What the marks of all parts are read with. */
export type SharedByMarks = Pick<MarkGround, "files" | "faceCalled" | "view">;

/** A name with single spaces. */
export function tidyName(name: string): string {
  return name.trim().replace(/\s+/g, " ");
}

function readFeatures(on: OnPart, schemas: ReturnType<typeof featureSchemas>, marks: MarkGround): readonly Feature[] {
  const entry = entryOf(on.node, "features");
  if (entry?.value.kind !== "list") return [];
  const out: Feature[] = [];
  for (const node of entry.value.items) {
    // A finding about a feature as a whole points at its first line, not at the part's name.
    const first = node.kind === "map" ? node.entries[0] : undefined;
    const own: OnPart = { ...on, node, entry: first };
    const feature = readFeature(own, schemas, marks.files, marks);
    if (!feature) continue;
    const same = out.find((f) => f.name.toLowerCase() === feature.name.toLowerCase());
    if (same) {
      on.found.push(
        jobFinding("name-twice", feature.source, `two features of this part are called "${feature.name}"`, {
          why: `the first is on line ${same.source.line}`,
          mend: "give each a name of its own; sheets and findings call it by that",
          part: on.part,
          feature: feature.name,
        }),
      );
    } else out.push(feature);
  }
  return out;
}

/** Own names for faces, where they can be read; the standard ones elsewhere. */
function labelsOf(entry: Entry): Record<FaceName, string> {
  const labels = standardLabels();
  const faces = entryOf(entry.value, "faces")?.value;
  for (const face of FACES) {
    const value = entryOf(faces, face)?.value;
    if (value?.kind === "text" && value.text.trim() !== "") labels[face] = tidyName(value.text);
  }
  return labels;
}

/** A label must not be the standard name of another face, nor stand for two. */
function checkLabels(on: OnPart): void {
  for (const face of FACES) {
    const label = on.labels[face].toLowerCase();
    const standard = FACES.find((f) => f === label && f !== face);
    const twin = FACES.find(
      (f) => f !== face && on.labels[f].toLowerCase() === label && on.labels[f] !== f && on.labels[face] !== face,
    );
    if (standard !== undefined) {
      const better = axisOf(face) === 0 ? `${label} end` : axisOf(face) === 1 ? `${label} edge` : `${label} side`;
      refuseAt(
        on,
        ["faces", face],
        "label-misleads",
        `"${label}" already names another face of every board`,
        `call it, for example, "${better}"`,
      );
    } else if (twin !== undefined && FACES.indexOf(twin) < FACES.indexOf(face)) {
      refuseAt(
        on,
        ["faces", face],
        "label-misleads",
        `"${on.labels[face]}" names two faces of this part`,
        "give each face a name of its own",
      );
    }
  }
}

function planedWords(entry: Entry): readonly (readonly [string, readonly PropertyKey[]])[] {
  const value = entryOf(entry.value, "planed afterwards")?.value;
  if (value?.kind === "text") {
    return value.text.split(/,| and /).map((w) => [w.trim(), ["planed afterwards"]] as const);
  }
  if (value?.kind !== "list") return [];
  return value.items.flatMap((v, i) => (v.kind === "text" ? [[v.text, ["planed afterwards", i]] as const] : []));
}

function planedOf(entry: Entry, labels: Readonly<Record<FaceName, string>>): readonly FaceName[] {
  return planedWords(entry).flatMap(([w]) => faceCalled(w, labels) ?? []);
}

function checkPlaned(on: OnPart): void {
  if (!on.entry) return;
  for (const [said, path] of planedWords(on.entry)) {
    const face = faceAmong(said, on.labels, FACES, "face of this part");
    if (!face.ok) refuseAt(on, path, face.problem.code, face.problem.what, face.problem.mend);
  }
}

function sidesOf(
  on: OnPart,
  said: { "face side"?: string | undefined; "face edge"?: string | undefined },
): { faceSide: FaceName; faceEdge: FaceName } | undefined {
  const side = pick(on, "face side", said["face side"], "face", ["face", "back"]);
  const edge = pick(on, "face edge", said["face edge"], "lower edge", bordersOf("face"));
  return side && edge && { faceSide: side, faceEdge: edge };
}

function pick(
  on: OnPart,
  key: string,
  said: string | undefined,
  standard: FaceName,
  allowed: readonly FaceName[],
): FaceName | undefined {
  if (said === undefined) return on.planed.includes(standard) && key === "face edge" ? opposite(standard) : standard;
  const found = faceAmong(said, on.labels, allowed, key === "face side" ? "side of a board" : "edge of this part");
  if (found.ok) return found.face;
  refuseAt(on, [key], found.problem.code, found.problem.what, found.problem.mend);
  return undefined;
}

/** Names of parts and of their mirror images, all different. */
function uniqueNames(source: SourceText, entries: readonly Entry[], found: Finding[]): readonly string[] {
  const seen = new Map<string, number>();
  const names: string[] = [];
  const add = (name: string, place: ReturnType<typeof placeOfKey>): void => {
    const key = name.toLowerCase();
    const before = seen.get(key);
    if (before !== undefined) {
      found.push(
        jobFinding("name-twice", place, `two parts are called "${name}"`, {
          why: `the first is named on line ${before}`,
          mend: "give one of them another name",
          part: name,
        }),
      );
      return;
    }
    seen.set(key, place.line);
    names.push(name);
  };
  for (const e of entries) {
    const name = tidyName(e.key);
    if (name.length > 80) {
      found.push(
        jobFinding("text-unusable", placeOfKey(source, e), "this part's name is too long", {
          mend: "use at most 80 letters",
        }),
      );
    }
    add(name, placeOfKey(source, e));
  }
  for (const e of entries) {
    const mirrored = entryOf(e.value, "mirrored as");
    if (mirrored?.value.kind === "text") add(tidyName(mirrored.value.text), placeOfKey(source, mirrored));
  }
  return names;
}
