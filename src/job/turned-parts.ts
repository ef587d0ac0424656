import type * as z from "zod";
import type { Finding } from "../finding.ts";
import { standardLabels } from "./faces.ts";
import { FEATURE_KINDS } from "./feature-schema.ts";
import type { Files } from "./files.ts";
import { findingsOf, problemFinding } from "./issues.ts";
import { jobFinding } from "./job-finding.ts";
import type { Complaints, LeafProblem, Reading } from "./leaves.ts";
import type { TurnedMark } from "./mark.ts";
import { readEach } from "./mark-drawers.ts";
import type { MarkGround } from "./mark-ground.ts";
import { type OnPart, refuseAt, sourceAtPath } from "./places.ts";
import type { SourceText } from "./source-text.ts";
import { type Entry, entryOf, find, holdsBroken, placeOf, placeOfKey, type Tree, toData } from "./tree.ts";
import type {
  AsTurned,
  FingerRoomDescription,
  ProfileDescription,
  SplitDescription,
  TurnedDescription,
} from "./turned.ts";
import { readElements, sourcesOf } from "./turned-elements.ts";
import { fingerRoom, splitOf } from "./turned-features.ts";
import { turnedMarks } from "./turned-marks.ts";
import {
  asTurnedSchema,
  readingOf,
  TURNED_KINDS,
  type TurnedKind,
  type TurnedSaid,
  type TurnedSchemas,
  type turnedPartSchema,
} from "./turned-schema.ts";
import { readTurnedWishes } from "./turned-wishes.ts";
import { canonicalKey } from "./words.ts";

/** Waste between two pulls where the job says none, mm: a parting tool and a saw cut. Common practice, no source. */
const PARTING = 6;

/** True for a part whose blank is a square or a round, or that has a turned profile. */
export function isTurned(entry: Entry): boolean {
  const blank = entryOf(entry.value, "blank")?.value;
  if (entryOf(blank, "square") !== undefined || entryOf(blank, "diameter") !== undefined) return true;
  const features = entryOf(entry.value, "features")?.value;
  return features?.kind === "list" && features.items.some((f) => entryOf(f, "turning") !== undefined);
}

/** What a turned part is read with. */
export interface TurnedReading {
  readonly source: SourceText;
  readonly schema: () => ReturnType<typeof turnedPartSchema<z.ZodAny>>;
  readonly schemas: TurnedSchemas;
  readonly reading: Reading;
  readonly files: Files;
  /** What marks are read with. */
  readonly marks: Pick<MarkGround, "files" | "faceCalled" | "view">;
}

/** Reads one turned part; nothing when findings refuse it. */
export function readTurnedPart(
  entry: Entry,
  name: string,
  w: TurnedReading,
  found: Finding[],
): TurnedDescription | undefined {
  const before = found.length;
  const on: OnPart = {
    source: w.source,
    node: entry.value,
    entry,
    part: name,
    labels: standardLabels(),
    planed: [],
    found,
  };
  const said = w.schema().safeParse(toData(entry.value));
  if (!said.success) found.push(...findingsOf(said.error.issues, on));
  const blank = said.success ? blankOf(on, said.data.blank) : undefined;
  const across = blank?.across ?? Number.NaN;
  const each = said.success ? readEach(on, said.data.each, said.data.copies, w.marks.view) : undefined;
  const copies = (said.success ? said.data.copies : undefined) ?? each?.length ?? 1;
  const ground = { ...w.marks, part: name, copies, each };
  const features = readFeatures(on, w, ground, across, blank?.length ?? Number.NaN);
  if (!said.success || blank === undefined) return undefined;
  const squareEnds = squaresOf(on, said.data["square ends"], blank);
  const asTurned = asTurnedOf(on, w.reading, blank.length);
  const wishes = readTurnedWishes(on, said.data, blank.length);
  if (found.slice(before).some((f) => f.grade === "refuse")) return undefined;
  const { profile, room, split, marks } = features;
  if (profile === undefined || squareEnds === undefined || wishes === undefined) return undefined;
  return {
    name,
    wood: said.data.blank.wood,
    copies,
    blank,
    squareEnds,
    turnedBy: said.data["turned by"] ?? "machine",
    ...(said.data.lathe !== undefined && { lathe: said.data.lathe }),
    ...(said.data["zero spot"] !== undefined && { zeroSpot: said.data["zero spot"] }),
    profile,
    ...(asTurned !== undefined && { asTurned }),
    ...(room !== undefined && { fingerRoom: room }),
    ...(split !== undefined && { split }),
    ...(marks !== undefined && { marks }),
    ...(each !== undefined && { each }),
    wishes,
    source: placeOfKey(w.source, entry),
    sources: sourcesOf(on),
  };
}

type Said = z.output<ReturnType<typeof turnedPartSchema<z.ZodAny>>>;

function blankOf(on: OnPart, said: Said["blank"]): TurnedDescription["blank"] | undefined {
  const { length, square, diameter } = said;
  if (square !== undefined && diameter !== undefined) {
    refuseAt(
      on,
      ["blank", "diameter"],
      "turned-blank-unclear",
      "this blank is given as a square and as a round",
      'keep "square:" for a square blank, or "diameter:" for one that is round already',
    );
    return undefined;
  }
  if (square !== undefined) return { length, across: square, shape: "square" };
  if (diameter !== undefined) return { length, across: diameter, shape: "round" };
  refuseAt(
    on,
    ["blank"],
    "turned-blank-unclear",
    "it is not said how thick the blank of this turned part is",
    'add "square: 40" for a square blank, or "diameter: 40" for one that is round already',
  );
  return undefined;
}

function squaresOf(
  on: OnPart,
  said: Said["square ends"],
  blank: TurnedDescription["blank"],
): TurnedDescription["squareEnds"] | undefined {
  if (said === undefined || said.kind !== "square") return { first: 0, second: 0 };
  if (blank.shape === "round") {
    refuseAt(
      on,
      ["square ends"],
      "shape-impossible",
      "a round blank has no square ends",
      'give the blank as "square:", or write "square ends: ends already round"',
    );
    return undefined;
  }
  if (said.first + said.second >= blank.length) {
    refuseAt(
      on,
      ["square ends"],
      "shape-impossible",
      "the square ends leave nothing to turn",
      "make them shorter, or the blank longer",
      `${Number((said.first + said.second).toFixed(3))} mm of ${Number(blank.length.toFixed(3))} mm`,
    );
    return undefined;
  }
  return { first: said.first, second: said.second };
}

interface Features {
  readonly profile?: ProfileDescription;
  readonly room?: FingerRoomDescription;
  readonly split?: SplitDescription;
  readonly marks?: readonly TurnedMark[];
}

function readFeatures(on: OnPart, w: TurnedReading, ground: MarkGround, across: number, length: number): Features {
  const entry = entryOf(on.node, "features");
  if (entry === undefined || entry.value.kind !== "list") return {};
  let out: Features = {};
  const seen = new Map<TurnedKind, Tree>();
  for (const node of entry.value.items) {
    const first = node.kind === "map" ? node.entries[0] : undefined;
    const own: OnPart = { ...on, node, entry: first };
    const kind = kindOf(own);
    if (kind === undefined) continue;
    if (kind === "mark") {
      const marks = readMarks(own, w, ground, length);
      const same = out.marks?.find((m) => marks.some((n) => n.name.toLowerCase() === m.name.toLowerCase()));
      if (same !== undefined) {
        refuseAt(
          { ...own, feature: same.name },
          ["mark"],
          "name-twice",
          `two marks of this part are called "${same.name}"`,
          "give each a name of its own; the same mark on two sides is one with a list: around: [90, 270]",
          `the first is on line ${same.source.line}`,
        );
      }
      out = { ...out, marks: [...(out.marks ?? []), ...marks] };
      continue;
    }
    if (seen.has(kind)) {
      refuseAt(
        own,
        [],
        "name-twice",
        `this part has two features of the kind "${kind}"`,
        kind === "turning"
          ? 'put all elements in one list; several pulls in one blank are "pulls: 2"'
          : "keep one of them",
      );
      continue;
    }
    seen.set(kind, node);
    out = { ...out, ...readFeature(own, kind, w, across, length) };
  }
  if (!seen.has("turning") && !holdsBroken(entry.value)) {
    refuseAt(
      on,
      ["features"],
      "turned-no-profile",
      "this turned part has no profile",
      'add "- turning: profile" and below it "elements:"',
    );
  }
  return out;
}

/** Which kind of feature a list item is. */
function kindOf(on: OnPart): TurnedKind | undefined {
  if (on.node.kind === "broken") return undefined;
  const keys = on.node.kind === "map" ? on.node.entries.map((e) => canonicalKey(e.key)) : [];
  const kind = keys.map((k) => TURNED_KINDS.find((f) => f === k)).find((k) => k !== undefined);
  if (kind !== undefined) return kind;
  const flat = FEATURE_KINDS.find((f) => keys.includes(f));
  refuseAt(
    on,
    [],
    "feature-kind-unsaid",
    flat === undefined ? "it is not said what kind of feature this is" : `a ${flat} is not for turned parts`,
    `the features of a turned part are ${TURNED_KINDS.join(", ")}`,
  );
  return undefined;
}

/** The feature's own name, and its findings. */
function ownOf(on: OnPart, kind: TurnedKind): OnPart {
  const node = on.node.kind === "map" ? on.node.entries.find((e) => canonicalKey(e.key) === kind) : undefined;
  const name = node?.value.kind === "text" ? node.value.text.trim().replace(/\s+/g, " ") : kind;
  // Where a value could not be read, only the schema's own complaints hold: the rest would follow from it.
  return { ...on, feature: name, found: holdsBroken(on.node) ? [] : on.found };
}

/** Marks may be several, each with a name of its own. */
function readMarks(on: OnPart, w: TurnedReading, ground: MarkGround, length: number): readonly TurnedMark[] {
  const own = ownOf(on, "mark");
  const r = w.schemas.mark().safeParse(toData(on.node));
  return (r.success ? turnedMarks(own, r.data, ground, length) : told(own, r.error.issues)) ?? [];
}

function readFeature(
  on: OnPart,
  kind: Exclude<TurnedKind, "mark">,
  w: TurnedReading,
  across: number,
  length: number,
): Features {
  const own = ownOf(on, kind);
  const data = toData(on.node);
  switch (kind) {
    case "turning": {
      const r = w.schemas.turning().safeParse(data);
      const profile = r.success ? profileOf(own, r.data, w, across) : told(own, r.error.issues);
      return profile === undefined ? {} : { profile };
    }
    case "recess": {
      const r = w.schemas.recess().safeParse(data);
      const room = r.success ? fingerRoom(own, r.data, length) : told(own, r.error.issues);
      return room === undefined ? {} : { room };
    }
    case "split": {
      const r = w.schemas.split().safeParse(data);
      const split = r.success ? splitOf(own, r.data) : told(own, r.error.issues);
      return split === undefined ? {} : { split };
    }
  }
}

function told(on: OnPart, issues: Parameters<typeof findingsOf>[0]): undefined {
  on.found.push(...findingsOf(issues, on));
  return undefined;
}

function profileOf(
  on: OnPart,
  said: TurnedSaid<"turning">,
  w: TurnedReading,
  across: number,
): ProfileDescription | undefined {
  const before = on.found.length;
  const list = find(on.node, ["elements"], on.entry).node;
  const elements = readElements(on, list, w.schemas.elements, across, w.files);
  if (on.found.slice(before).some((f) => f.grade === "refuse")) return undefined;
  const waste = said["waste diameter"];
  return {
    name: said.turning,
    elements,
    half: said["half profile"] === "yes",
    pulls: said.pulls ?? 1,
    parting: said.parting ?? { kind: "mm", mm: PARTING },
    endWaste: said["waste at ends"] ?? { kind: "mm", mm: 0 },
    ...(waste !== undefined && { wasteDiameter: waste }),
    source: sourceAtPath(on, ["turning"]),
    sources: sourcesOf(on),
  };
}

/** Readings off the turned blank: a list, or a map that says what with. */
function asTurnedOf(on: OnPart, r: Reading, length: number): AsTurned | undefined {
  const entry = entryOf(on.node, "as turned");
  if (entry === undefined || entry.value.kind === "broken") return undefined;
  const bare = entry.value.kind === "list";
  const own: OnPart = { ...on, node: entry.value, entry };
  const said = bare ? undefined : asTurnedSchema(r).safeParse(toData(entry.value));
  if (said !== undefined && !said.success) return told(own, said.error.issues);
  const list = bare ? entry.value : find(entry.value, ["readings"], entry).node;
  const items = list.kind === "list" ? list.items : [];
  if (items.length === 0) {
    refuseAt(
      own,
      bare ? [] : ["readings"],
      "value-missing",
      "there are no readings here",
      'write each as a diameter and its distance from the first end: "- 24.1 at 12"',
    );
    return undefined;
  }
  const readings = items.flatMap((node) => readReading(own, node, r, length) ?? []);
  const sorted = [...readings].sort((a, b) => a.at - b.at);
  const twice = sorted.find((s, i) => sorted[i - 1] !== undefined && s.at - sorted[i - 1]!.at < 1e-6);
  if (twice !== undefined) {
    own.found.push(
      jobFinding("place-twice", twice.source, "two readings lie at the same place", {
        mend: "keep one of them; beside a shoulder, measure a little away from it on each side",
        part: on.part,
      }),
    );
  }
  const data = said?.success === true ? said.data : undefined;
  return {
    with: data?.with ?? "unsaid",
    ...(data?.error !== undefined && { error: data.error }),
    readings: sorted,
    source: placeOfKey(on.source, entry),
  };
}

function readReading(on: OnPart, node: Tree, r: Reading, length: number): AsTurned["readings"][number] | undefined {
  if (node.kind === "broken") return undefined;
  if (node.kind !== "text") {
    on.found.push(
      jobFinding("kind-wrong", placeOf(on.source, node), "a reading is a diameter and a distance on one line", {
        mend: 'write, for example, "- 24.1 at 12"',
        part: on.part,
      }),
    );
    return undefined;
  }
  const problems: LeafProblem[] = [];
  const c: Complaints = { addIssue: (issue) => problems.push(issue.params.problem) };
  const said = readingOf(node.text, r, c);
  if (problems.length > 0) {
    on.found.push(...problems.flatMap((p) => problemFinding(p, node, undefined, on)));
    return undefined;
  }
  if (said === undefined) return undefined;
  const at = said.second ? length - said.at : said.at;
  return { at, diameter: said.diameter, source: placeOf(on.source, node) };
}
