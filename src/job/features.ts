import type { Finding, Source } from "../finding.ts";
import type { FaceName } from "./board.ts";
import { axisOf, bordersOf, FACES, faceAmong, isLow, opposite } from "./faces.ts";
import { FEATURE_KINDS, type FeatureKind, type FeatureSchemas, type Said } from "./feature-schema.ts";
import type { Files } from "./files.ts";
import { holeCentres } from "./holes.ts";
import { findingsOf } from "./issues.ts";
import type { At, Depth, Feature, From, GrooveFeature, OutlineFeature } from "./job.ts";
import type { MarkGround } from "./mark-ground.ts";
import { markOf, markPlace } from "./mark-read.ts";
import { borderOf, notPlaned, type OnPart, placeFrom, placeOn, REACHES, refuseAt, sourceAtPath } from "./places.ts";
import { planShape } from "./plan-shape.ts";
import { needsBearingWall } from "./runner.ts";
import { holdsBroken, placeOf, toData } from "./tree.ts";
import { canonicalKey } from "./words.ts";

/** A feature as the job says it, with where it was said; nothing when findings were made about it. */
export function readFeature(on: OnPart, schemas: FeatureSchemas, files: Files, marks: MarkGround): Feature | undefined {
  const kind = kindOf(on);
  if (kind === undefined) return undefined;
  const data = toData(on.node);
  if (insteadOfName(on, kind)) return undefined;
  const name = nameIn(on, kind);
  // Where a value could not be read, only the schema's own complaints hold: the rest would follow from it.
  const found: Finding[] = holdsBroken(on.node) ? [] : on.found;
  const own: OnPart = { ...on, ...(name !== undefined && { feature: name }), found };
  const feature = readKind(own, kind, schemas, data, files, marks);
  if (found !== on.found) on.found.push(...found.filter((f) => f.code === "key-unknown"));
  return feature;
}

function readKind(
  own: OnPart,
  kind: FeatureKind,
  schemas: FeatureSchemas,
  data: unknown,
  files: Files,
  marks: MarkGround,
): Feature | undefined {
  switch (kind) {
    case "groove": {
      const r = schemas.groove().safeParse(data);
      return r.success ? groove(own, r.data) : told(own, r.error.issues);
    }
    case "rabbet": {
      const r = schemas.rabbet().safeParse(data);
      return r.success ? rabbet(own, r.data) : told(own, r.error.issues);
    }
    case "mortise": {
      const r = schemas.mortise().safeParse(data);
      return r.success ? mortise(own, r.data) : told(own, r.error.issues);
    }
    case "recess": {
      const r = schemas.recess().safeParse(data);
      return r.success ? recess(own, r.data, files) : told(own, r.error.issues);
    }
    case "hole": {
      const r = schemas.hole().safeParse(data);
      return r.success ? hole(own, r.data) : told(own, r.error.issues);
    }
    case "outline": {
      const r = schemas.outline().safeParse(data);
      return r.success ? outline(own, r.data, files) : told(own, r.error.issues);
    }
    case "mark": {
      const r = schemas.mark().safeParse(data);
      return r.success ? mark(own, r.data, marks) : told(own, r.error.issues);
    }
  }
}

function told(on: OnPart, issues: Parameters<typeof findingsOf>[0]): undefined {
  on.found.push(...findingsOf(issues, on));
  return undefined;
}

/** Which kind of feature a list item is: the first of its keys that is one. */
function kindOf(on: OnPart): FeatureKind | undefined {
  if (on.node.kind === "broken") return undefined;
  const keys = on.node.kind === "map" ? on.node.entries.map((e) => canonicalKey(e.key)) : [];
  const kind = keys.map((k) => FEATURE_KINDS.find((f) => f === k)).find((k) => k !== undefined);
  if (kind !== undefined) return kind;
  refuseAt(
    on,
    [],
    "feature-kind-unsaid",
    "it is not said what kind of feature this is",
    `begin it with a dash, its kind and a name: "- groove: runner"; the kinds are ${FEATURE_KINDS.join(", ")}`,
  );
  return undefined;
}

/** `- groove:` with the lines of the groove indented below it: said once, instead of each line missing. */
function insteadOfName(on: OnPart, kind: FeatureKind): boolean {
  const entry = on.node.kind === "map" ? on.node.entries.find((e) => canonicalKey(e.key) === kind) : undefined;
  if (entry === undefined || entry.value.kind === "text" || entry.value.kind === "empty") return false;
  if (entry.value.kind !== "broken") {
    refuseAt(
      on,
      [entry.key],
      "kind-wrong",
      `after "${entry.key}:" stands its name, and here stands ${entry.value.kind === "list" ? "a list" : "a group of lines"}`,
      `write "- ${entry.key}: a name", and what it is on the lines below, in line with "${entry.key}"`,
    );
  }
  return true;
}

function nameIn(on: OnPart, kind: FeatureKind): string | undefined {
  if (on.node.kind !== "map") return undefined;
  const value = on.node.entries.find((e) => canonicalKey(e.key) === kind)?.value;
  return value?.kind === "text" ? value.text.trim().replace(/\s+/g, " ") : kind;
}

interface Base {
  readonly name: string;
  readonly on: FaceName;
  readonly source: Source;
  readonly sources: Readonly<Record<string, Source>>;
  readonly cutter?: string;
}

/** What every feature has; undefined when its face is none. */
function baseOf(
  on: OnPart,
  name: string,
  said: { on?: string | undefined; bit?: string | undefined },
): Base | undefined {
  let face: FaceName = "face";
  if (said.on !== undefined) {
    const found = faceAmong(said.on, on.labels, FACES, "face of this part");
    if (!found.ok) {
      refuseAt(on, ["on"], found.problem.code, found.problem.what, found.problem.mend);
      return undefined;
    }
    face = found.face;
  }
  if (!notPlaned(on, said.on === undefined ? [] : ["on"], face)) return undefined;
  const entries = on.node.kind === "map" ? on.node.entries : [];
  const sources = Object.fromEntries(
    entries.map((e) => [
      canonicalKey(e.key),
      placeOf(
        on.source,
        e.value.kind === "empty" ? { ...e.value, from: e.keyFrom, to: e.keyFrom + e.key.length } : e.value,
      ),
    ]),
  );
  const first = entries[0];
  const source = first ? sourceAtPath(on, [first.key]) : placeOf(on.source, on.node);
  return { name, on: face, source, sources, ...(said.bit !== undefined && { cutter: said.bit }) };
}

function groove(on: OnPart, said: Said<"groove">): Feature | undefined {
  const base = baseOf(on, said.groove, said);
  if (!base) return undefined;
  const between = said["start at"] !== undefined || said["end at"] !== undefined;
  const ends = said.ends ?? "round";
  const run = between ? runBetween(on, base.on, said) : runAlong(on, base.on, said);
  const wall = said["bearing wall"] === undefined ? undefined : bearingWall(on, base.on, said);
  if (ends === "square" && said["inside radius"] === undefined && run !== undefined && isStopped(run)) {
    refuseAt(
      on,
      ["ends"],
      "shape-incomplete",
      "a square end needs the largest radius that may stay in its corners",
      'add "inside radius: 2"',
    );
    return undefined;
  }
  if (run === undefined || (said["bearing wall"] !== undefined && wall === undefined)) return undefined;
  return {
    ...base,
    kind: "groove",
    run,
    width: said.width,
    depth: said.depth,
    ends,
    ...(wall !== undefined && { bearingWall: wall }),
    ...(said["inside radius"] !== undefined && { insideRadius: said["inside radius"] }),
  };
}

function isStopped(run: GrooveFeature["run"]): boolean {
  switch (run.kind) {
    case "along":
      return run.stops.first !== undefined || run.stops.second !== undefined;
    case "between":
      return true;
  }
}

function runBetween(on: OnPart, face: FaceName, said: Said<"groove">): GrooveFeature["run"] | undefined {
  const odd = (["from", "stops", "bearing wall at", ...REACHES.map(([k]) => k)] as const).find(
    (k) => said[k] !== undefined,
  );
  if (odd !== undefined) {
    refuseAt(
      on,
      [odd],
      "place-twice",
      `"${odd}" belongs to a groove along an edge, and this one runs between two points`,
      `take it out, or leave "start at" and "end at" away`,
    );
    return undefined;
  }
  const [start, end] = [said["start at"], said["end at"]];
  if (start === undefined || end === undefined) {
    const lacking = start === undefined ? "start at" : "end at";
    refuseAt(
      on,
      [],
      "place-incomplete",
      `a groove between two points needs both, and "${lacking}" is missing`,
      `add "${lacking}:"`,
    );
    return undefined;
  }
  const a = placeFrom(on, face, "start at", start, "centre");
  const b = placeFrom(on, face, "end at", end, "centre");
  if (!a || !b) return undefined;
  if (a.every((f, i) => f.border === b[i]?.border && f.distance === b[i]?.distance)) {
    refuseAt(on, ["end at"], "shape-impossible", "this groove ends where it starts", "give two different points");
    return undefined;
  }
  return { kind: "between", start: a, end: b };
}

function runAlong(on: OnPart, face: FaceName, said: Said<"groove">): GrooveFeature["run"] | undefined {
  const given = [...REACHES.map(([key]) => key), "bearing wall at" as const].filter((k) => said[k] !== undefined);
  const [key, second] = given;
  if (key === undefined) {
    const edge = on.labels[bordersOf(face)[2] ?? "lower edge"];
    refuseAt(
      on,
      [],
      "place-incomplete",
      "it is not said where this groove lies",
      `write, for example, "from: ${edge}" and "near edge at: 8"`,
    );
    return undefined;
  }
  if (second !== undefined) {
    refuseAt(
      on,
      [second],
      "place-twice",
      `"${key}" and "${second}" both say where this groove lies`,
      "keep one of them",
    );
    return undefined;
  }
  if (!wallIsNamed(on, said, key)) return undefined;
  const phrase = said[key]?.[0];
  if (phrase === undefined) return undefined;
  if ((said[key]?.length ?? 0) > 1) {
    refuseAt(
      on,
      [key],
      "place-twice",
      "a groove along an edge lies at one distance from it",
      'give one distance here, and say where it ends under "stops"',
    );
    return undefined;
  }
  const border = grooveBorder(on, face, said.from, key, phrase);
  if (border === undefined) return undefined;
  const wall = key === "bearing wall at" ? bearingWall(on, face, said) : undefined;
  if (key === "bearing wall at" && wall === undefined) return undefined;
  const reach = key === "bearing wall at" ? (wall === border ? "near edge" : "far edge") : reachOf(key);
  const stops = stopsOf(on, face, border, said.stops);
  if (stops === undefined) return undefined;
  return { kind: "along", from: { distance: phrase.distance, border, reach }, stops };
}

function reachOf(key: (typeof REACHES)[number][0]): From["reach"] {
  switch (key) {
    case "centre at":
      return "centre";
    case "near edge at":
      return "near edge";
    case "far edge at":
      return "far edge";
  }
}

/** A runner hangs on one wall of its groove: which one has no default. */
function wallIsNamed(on: OnPart, said: Said<"groove">, key: string): boolean {
  if (said["bearing wall"] !== undefined) return true;
  const runner = needsBearingWall(said.groove);
  if (key !== "bearing wall at" && !runner) return true;
  refuseAt(
    on,
    key === "bearing wall at" ? [key] : ["groove"],
    "bearing-wall-unnamed",
    "it is not said which wall of this groove carries",
    'which wall does the runner bear on? For a hung drawer the top one: add "bearing wall: upper edge", the edge it lies towards',
    "a drawer hangs on the top wall of its groove and slides on the bottom one; the other wall has the play",
  );
  return false;
}

function bearingWall(on: OnPart, face: FaceName, said: Said<"groove">): FaceName | undefined {
  const found = faceAmong(said["bearing wall"] ?? "", on.labels, bordersOf(face), `border of the ${on.labels[face]}`);
  if (!found.ok) {
    if (!on.found.some((f) => f.place.source === sourceAtPath(on, ["bearing wall"]))) {
      refuseOnce(on, "bearing wall", found.problem);
    }
    return undefined;
  }
  if (said.from !== undefined) {
    const from = faceAmong(said.from, on.labels, bordersOf(face), "border");
    if (from.ok && axisOf(from.face) !== axisOf(found.face)) {
      refuseOnce(on, "bearing wall", {
        code: "border-not-here",
        what: "a groove has no wall towards its own ends",
        mend: `write "${on.labels[from.face]}" or "${on.labels[opposite(from.face)]}"`,
      });
      return undefined;
    }
  }
  return found.face;
}

function refuseOnce(
  on: OnPart,
  key: string,
  p: { code: Parameters<typeof refuseAt>[2]; what: string; mend: string },
): void {
  const source = sourceAtPath(on, [key]);
  const told = on.found.some((f) => f.place.source?.line === source.line && f.place.source.column === source.column);
  if (!told) refuseAt(on, [key], p.code, p.what, p.mend);
}

function grooveBorder(
  on: OnPart,
  face: FaceName,
  from: string | undefined,
  key: string,
  phrase: NonNullable<Said<"groove">["centre at"]>[number],
): FaceName | undefined {
  const borders = bordersOf(face);
  const own =
    phrase.border === undefined ? undefined : borderOf(on, key, phrase, borders, `border of the ${on.labels[face]}`);
  if (phrase.border !== undefined && own === undefined) return undefined;
  if (from === undefined) {
    if (own !== undefined) return own;
    const edge = on.labels[borders[2] ?? "lower edge"];
    refuseAt(on, [key], "place-incomplete", "it is not said which edge this groove runs along", `add "from: ${edge}"`);
    return undefined;
  }
  const named = faceAmong(from, on.labels, borders, `border of the ${on.labels[face]}`);
  if (!named.ok) {
    refuseAt(on, ["from"], named.problem.code, named.problem.what, named.problem.mend);
    return undefined;
  }
  if (own !== undefined && own !== named.face) {
    refuseAt(on, [key], "place-twice", '"from" names one edge and this distance another', "keep one of them");
    return undefined;
  }
  return notPlaned(on, ["from"], named.face) ? named.face : undefined;
}

/** The stops of a groove or rabbet that runs along a border. */
function stopsOf(
  on: OnPart,
  face: FaceName,
  along: FaceName,
  said: Said<"groove">["stops"],
): { first?: number; second?: number } | undefined {
  const ends = bordersOf(face).filter((f) => axisOf(f) !== axisOf(along));
  const stops: { first?: number; second?: number } = {};
  for (const p of said ?? []) {
    const border = borderOf(on, "stops", p, ends, "end that this runs towards");
    if (border === undefined) return undefined;
    const side = isLow(border) ? "first" : "second";
    if (stops[side] !== undefined) {
      refuseAt(on, ["stops"], "place-twice", `two stops are given at ${on.labels[border]}`, "keep one of them");
      return undefined;
    }
    stops[side] = p.distance;
  }
  return stops;
}

function rabbet(on: OnPart, said: Said<"rabbet">): Feature | undefined {
  const base = baseOf(on, said.rabbet, said);
  if (!base) return undefined;
  const along = faceAmong(said.along, on.labels, bordersOf(base.on), `border of the ${on.labels[base.on]}`);
  if (!along.ok) {
    refuseAt(on, ["along"], along.problem.code, along.problem.what, along.problem.mend);
    return undefined;
  }
  if (!notPlaned(on, ["along"], along.face)) return undefined;
  const stops = stopsOf(on, base.on, along.face, said.stops);
  if (stops === undefined) return undefined;
  const radius = said["inside radius"];
  return {
    ...base,
    kind: "rabbet",
    along: along.face,
    width: said.width,
    depth: said.depth,
    stops,
    ...(radius !== undefined && { insideRadius: radius }),
  };
}

function mortise(on: OnPart, said: Said<"mortise">): Feature | undefined {
  const base = baseOf(on, said.mortise, said);
  const at = base && placeOn(on, base.on, said);
  if (!base || !at) return undefined;
  if (said.length < said.width) {
    refuseAt(
      on,
      ["length"],
      "shape-impossible",
      "this mortise is shorter than it is wide",
      'give the longer size as "length", and turn it with "turned: 90 deg" if need be',
    );
    return undefined;
  }
  return {
    ...base,
    kind: "mortise",
    length: said.length,
    width: said.width,
    depth: said.depth,
    at,
    turnedDeg: said.turned ?? 0,
  };
}

function recess(on: OnPart, said: Said<"recess">, files: Files): Feature | undefined {
  const base = baseOf(on, said.recess, said);
  const shape = base && planShape(on, said.shape, said, files);
  const at = base && placeOrOrigin(on, base.on, said);
  if (!base || !shape || !at) return undefined;
  const radius = said["inside radius"];
  return {
    ...base,
    kind: "recess",
    shape,
    at,
    turnedDeg: said.turned ?? 0,
    depth: said.depth,
    wallLeanDeg: said.wall ?? 0,
    ...(radius !== undefined && { insideRadius: radius }),
    ...(said.floor !== undefined && said.floor > 0 && { dish: said.floor }),
    ...(said["radius at floor"] !== undefined && { floorRadius: said["radius at floor"] }),
    ...(said.edge !== undefined && said.edge > 0 && { ease: said.edge }),
  };
}

/** The place said; for a drawing placed as drawn without one, the face's own corner. */
function placeOrOrigin(on: OnPart, face: FaceName, said: Said<"recess"> | Said<"outline">): At | undefined {
  const nowhere = REACHES.every(([key]) => said[key] === undefined);
  if (said.shape === "drawing" && said.placed === "as drawn" && nowhere) return originOf(face);
  return placeOn(on, face, said);
}

/** Where a drawing's own origin lies when the job doesn't say: the corner of the two low borders. */
function originOf(face: FaceName): At {
  const [a, b] = bordersOf(face).filter(isLow);
  const from = (border: FaceName): From => ({ distance: 0, border, reach: "centre" });
  return [from(a ?? "first end"), from(b ?? "lower edge")];
}

function hole(on: OnPart, said: Said<"hole">): Feature | undefined {
  const base = baseOf(on, said.hole, said);
  const centres = base && holeCentres(on, base.on, said);
  const diameter = said.diameter ?? said.screw?.clearance ?? said["countersunk for"]?.clearance;
  if (diameter === undefined) {
    refuseAt(
      on,
      [],
      "hole-size-unsaid",
      "it is not said how wide this hole is",
      'add "diameter: 5", or "screw: no 6" for the hole that screw slips through',
    );
    return undefined;
  }
  const heads = (["countersunk for", "countersunk", "counterbored"] as const).filter((k) => said[k] !== undefined);
  if (heads.length > 1) {
    refuseAt(
      on,
      [heads[1]!],
      "place-twice",
      `"${heads[0]}" and "${heads[1]}" both shape the head of this hole`,
      "keep one of them",
    );
    return undefined;
  }
  const head = headOf(on, said, diameter);
  if (!base || !centres || !head) return undefined;
  return { ...base, kind: "hole", diameter, depth: said.depth, centres, head };
}

function headOf(
  on: OnPart,
  said: Said<"hole">,
  diameter: number,
): Extract<Feature, { kind: "hole" }>["head"] | undefined {
  const screw = said["countersunk for"];
  const sunk = screw
    ? { headDiameter: screw.headDiameter, includedAngle: screw.headAngle }
    : said.countersunk && { headDiameter: said.countersunk["head diameter"], includedAngle: said.countersunk.angle };
  const key = screw ? "countersunk for" : "countersunk";
  if (sunk) {
    if (!(sunk.includedAngle > 0 && sunk.includedAngle < 180)) {
      refuseAt(
        on,
        [key, "angle"],
        "shape-impossible",
        "a countersink's included angle lies between 0 and 180 degrees",
        "write 90 deg for metric screws, 82 deg for numbered ones",
      );
      return undefined;
    }
    if (!(sunk.headDiameter > diameter)) {
      refuseAt(
        on,
        screw ? [key] : [key, "head diameter"],
        "shape-impossible",
        "this countersink is no wider than its hole",
        "check the head diameter and the hole's diameter",
      );
      return undefined;
    }
    const depth = (sunk.headDiameter - diameter) / 2 / Math.tan((sunk.includedAngle * Math.PI) / 360);
    return shallower(on, said.depth, depth, [key]) ? { kind: "countersunk", ...sunk } : undefined;
  }
  const bored = said.counterbored;
  if (!bored) return { kind: "plain" };
  if (!(bored.diameter > diameter)) {
    refuseAt(
      on,
      ["counterbored", "diameter"],
      "shape-impossible",
      "this counterbore is no wider than its hole",
      "check both diameters",
    );
    return undefined;
  }
  return shallower(on, said.depth, bored.depth, ["counterbored", "depth"])
    ? { kind: "counterbored", diameter: bored.diameter, depth: bored.depth }
    : undefined;
}

function shallower(on: OnPart, whole: Depth, head: number, path: readonly string[]): boolean {
  if (whole.kind === "through" || head <= whole.depth) return true;
  refuseAt(
    on,
    path,
    "shape-impossible",
    "the head of this hole goes deeper than the hole itself",
    "make the hole deeper; its depth is measured from the face",
  );
  return false;
}

function outline(on: OnPart, said: Said<"outline">, files: Files): Feature | undefined {
  const base = baseOf(on, said.outline, said);
  if (!base) return undefined;
  const kind = said.shape ?? "blank";
  const rest = outlineRest(said);
  if (kind !== "blank") {
    if (said.corners !== undefined) {
      refuseAt(
        on,
        ["corners"],
        "shape-impossible",
        '"corners" belongs to the rectangle of the blank',
        'use "corner radius" for a rounded rectangle',
      );
      return undefined;
    }
    const shape = planShape(on, kind, said, files);
    const at = placeOrOrigin(on, base.on, said);
    if (!shape || !at) return undefined;
    return { ...base, kind: "outline", side: said.side, shape, at, turnedDeg: said.turned ?? 0, ...rest };
  }
  if (said.side === "inside") {
    refuseAt(
      on,
      ["side"],
      "shape-incomplete",
      "an opening needs a shape of its own",
      'add "shape:", its sizes and "centre at:"',
    );
    return undefined;
  }
  const odd = (
    ["length", "width", "diameter", "corner radius", "drawing", "turned", ...REACHES.map(([k]) => k)] as const
  ).find((k) => said[k] !== undefined);
  if (odd !== undefined) {
    refuseAt(
      on,
      [odd],
      "shape-impossible",
      `"${odd}" says nothing about the blank's own rectangle`,
      'take it out, or give the outline a "shape:"',
    );
    return undefined;
  }
  return {
    ...base,
    kind: "outline",
    side: said.side,
    shape: { kind: "blank", radius: said.corners ?? 0 },
    turnedDeg: 0,
    ...rest,
  };
}

function outlineRest(said: Said<"outline">): Pick<OutlineFeature, "insideRadius" | "hold"> {
  const radius = said["inside radius"];
  return { hold: said["hold by"], ...(radius !== undefined && { insideRadius: radius }) };
}

function mark(on: OnPart, said: Said<"mark">, marks: MarkGround): Feature | undefined {
  const base = baseOf(on, said.mark, said);
  const lineKey = (["start at", "end at"] as const).find((k) => said[k] !== undefined);
  const drawn = markOf(on, said, marks, lineKey);
  const place = base && markPlace(on, base.on, said);
  if (!base || !drawn || !place) return undefined;
  return { ...base, kind: "mark", ...drawn, ...place, turnedDeg: said.turned ?? 0 };
}
