import { readOpenPath } from "../shapes/drawing.ts";
import { arc, boundsOf, line, reversed, type Segment } from "../shapes/segment.ts";
import { type Files, fileIn } from "./files.ts";
import { findingsOf } from "./issues.ts";
import { orList } from "./leaves.ts";
import { type OnPart, refuseAt, sourceAtPath } from "./places.ts";
import { type Entry, placeOf, type Tree, toData } from "./tree.ts";
import type { ElementDescription, ElementShape } from "./turned.ts";
import { ELEMENT_KINDS, type ElementKind, type ElementSchemas, type Thickness } from "./turned-schema.ts";
import { canonicalKey } from "./words.ts";

/** Reads the elements of a profile, each on its own. `across` is the blank's thickness, mm. */
export function readElements(
  on: OnPart,
  list: Tree,
  schemas: ElementSchemas,
  across: number,
  files: Files,
): readonly ElementDescription[] {
  const items = list.kind === "list" ? list.items : [];
  if (list.kind === "list" && items.length === 0) {
    refuseAt(
      on,
      ["elements"],
      "turned-no-profile",
      "this profile has no elements",
      'write each on a line of its own: "- bead: {length: 8, diameter: 30}"',
    );
  }
  return items.flatMap((node) => readElement(on, node, schemas, across, files) ?? []);
}

function readElement(
  on: OnPart,
  node: Tree,
  schemas: ElementSchemas,
  across: number,
  files: Files,
): ElementDescription | undefined {
  if (node.kind === "broken") return undefined;
  const first = node.kind === "map" ? node.entries[0] : undefined;
  const entries = node.kind === "map" ? node.entries : [];
  const said = entries
    .map((e) => ({ entry: e, kind: ELEMENT_KINDS.find((k) => k === canonicalKey(e.key)) }))
    .find((e) => e.kind !== undefined);
  const whole: OnPart = { ...on, node, entry: first };
  if (said?.kind === undefined) {
    refuseAt(
      whole,
      [],
      "turned-shape",
      "it is not said what kind of element this is",
      `begin it with a dash and its name: "- bead: {length: 8, diameter: 30}"; the elements are ${orList(ELEMENT_KINDS)}`,
    );
    return undefined;
  }
  const { kind, entry } = said;
  const inBraces = entry.value.kind === "map";
  const others = entries.filter((e) => e !== entry);
  if (inBraces && others[0] !== undefined) {
    refuseAt(
      whole,
      [others[0].key],
      "key-unknown",
      `"${others[0].key}" stands beside the element's braces`,
      "put all its sizes between the braces, or begin a new element with a dash",
    );
    return undefined;
  }
  if (entry.value.kind === "broken" || entry.value.kind === "list") {
    if (entry.value.kind === "list") {
      refuseAt(
        whole,
        [entry.key],
        "kind-wrong",
        `"${entry.key}" wants a group of sizes, and here stands a list`,
        `write "- ${kind}: {length: 8, diameter: 30}"`,
      );
    }
    return undefined;
  }
  const sizes: Tree = inBraces ? entry.value : { kind: "map", from: node.from, to: node.to, entries: others };
  const own: OnPart = { ...on, node: sizes, entry };
  const name = nameOf(entry, kind, sizes);
  const shape = readShape(own, kind, schemas, across, files);
  if (shape === undefined) return undefined;
  const source = sourceAtPath(whole, [entry.key]);
  return {
    name,
    source: inBraces || entry.value.kind !== "text" ? keyPlace(on, entry) : source,
    sources: sourcesOf(own),
    ...shape,
  };
}

function keyPlace(on: OnPart, entry: Entry): ElementDescription["source"] {
  const key: Tree = { kind: "text", from: entry.keyFrom, to: entry.keyFrom + entry.key.length, text: entry.key };
  return placeOf(on.source, key);
}

/** What an element is called on sheets: its own name, else its kind. */
function nameOf(entry: Entry, kind: ElementKind, sizes: Tree): string {
  const inside = sizes.kind === "map" ? sizes.entries.find((e) => canonicalKey(e.key) === "name")?.value : undefined;
  const text = inside?.kind === "text" ? inside.text : entry.value.kind === "text" ? entry.value.text : kind;
  return text.trim().replace(/\s+/g, " ").slice(0, 80) || kind;
}

/** The places of all values of a map, by the keys that the schema knows. */
export function sourcesOf(on: OnPart): Readonly<Record<string, ElementDescription["source"]>> {
  const entries = on.node.kind === "map" ? on.node.entries : [];
  return Object.fromEntries(
    entries.map((e) => [
      canonicalKey(e.key),
      placeOf(
        on.source,
        e.value.kind === "empty" ? { ...e.value, from: e.keyFrom, to: e.keyFrom + e.key.length } : e.value,
      ),
    ]),
  );
}

function told(on: OnPart, issues: Parameters<typeof findingsOf>[0]): undefined {
  on.found.push(...findingsOf(issues, on));
  return undefined;
}

function readShape(
  on: OnPart,
  kind: ElementKind,
  schemas: ElementSchemas,
  across: number,
  files: Files,
): ElementShape | undefined {
  const data = toData(on.node);
  const mm = (t: Thickness): number => ("mm" in t ? t.mm : t.ofBlank * across);
  const ends = (said: {
    from?: Thickness | undefined;
    to?: Thickness | undefined;
  }): { from?: number; to?: number } => ({
    ...(said.from !== undefined && { from: mm(said.from) }),
    ...(said.to !== undefined && { to: mm(said.to) }),
  });
  switch (kind) {
    case "tenon":
    case "cylinder":
    case "fillet": {
      const r = schemas[kind]().safeParse(data);
      if (!r.success) return told(on, r.error.issues);
      return { kind, length: r.data.length, diameter: mm(r.data.diameter) };
    }
    case "bead":
    case "cove": {
      const r = schemas[kind]().safeParse(data);
      if (!r.success) return told(on, r.error.issues);
      return { kind, length: r.data.length, diameter: mm(r.data.diameter), ...ends(r.data) };
    }
    case "taper": {
      const r = schemas.taper().safeParse(data);
      return r.success ? { kind, length: r.data.length, ...ends(r.data) } : told(on, r.error.issues);
    }
    case "ogee": {
      const r = schemas.ogee().safeParse(data);
      if (!r.success) return told(on, r.error.issues);
      return { kind, length: r.data.length, ends: r.data.ends ?? "level", ...ends(r.data) };
    }
    case "vee": {
      const r = schemas.vee().safeParse(data);
      if (!r.success) return told(on, r.error.issues);
      const { bottom, depth } = r.data;
      if (bottom !== undefined && depth !== undefined) {
        refuseAt(
          on,
          ["depth"],
          "place-twice",
          '"bottom" and "depth" both say how deep this vee is',
          "keep one of them",
        );
        return undefined;
      }
      const diameter = mm(r.data.diameter);
      const root = bottom !== undefined ? mm(bottom) : depth !== undefined ? diameter - 2 * depth : undefined;
      return { kind, length: r.data.length, diameter, ...(root !== undefined && { bottom: root }) };
    }
    case "round over": {
      const r = schemas["round over"]().safeParse(data);
      if (!r.success) return told(on, r.error.issues);
      return roundOver(on, { length: r.data.length, radius: r.data.radius, ...ends(r.data) });
    }
    case "path": {
      const r = schemas.path().safeParse(data);
      if (!r.success) return told(on, r.error.issues);
      const { drawing, id, class: named } = r.data;
      return pathFrom(
        on,
        { drawing, ...(id !== undefined && { id }), ...(named !== undefined && { class: named }) },
        files,
      );
    }
  }
}

/** A round-over by its length and diameters, or by the radius of a quarter round and its thicker end. */
function roundOver(
  on: OnPart,
  said: {
    readonly length: Extract<ElementShape, { kind: "round-over" }>["length"] | undefined;
    readonly radius: number | undefined;
    readonly from?: number;
    readonly to?: number;
  },
): ElementShape | undefined {
  const { length, radius, from, to } = said;
  if (radius === undefined) {
    if (length === undefined) {
      refuseAt(
        on,
        [],
        "shape-incomplete",
        "it is not said how large this round-over is",
        'add "radius: 5", or "length: 5"',
      );
      return undefined;
    }
    return { kind: "round-over", length, ...(from !== undefined && { from }), ...(to !== undefined && { to }) };
  }
  if (length !== undefined) {
    refuseAt(
      on,
      ["length"],
      "place-twice",
      '"radius" and "length" both say how long this round-over is',
      "keep one of them",
    );
    return undefined;
  }
  const stretch = { kind: "mm", mm: radius } as const;
  if (from !== undefined && to !== undefined) return { kind: "round-over", length: stretch, from, to };
  // A quarter round loses its radius on both sides from the thicker end, the one that is named.
  if (from !== undefined) return { kind: "round-over", length: stretch, from, to: from - 2 * radius };
  if (to !== undefined) return { kind: "round-over", length: stretch, from: to - 2 * radius, to };
  return { kind: "round-over", length: stretch };
}

/** Points nearer than this to each other or to the axis are one, mm: what rounding in a drawing leaves. */
const DRAWN_WITHIN = 0.001;

/** A profile from a drawing, walked so that x rises, from x = 0; nothing when it is no profile. */
function pathFrom(
  on: OnPart,
  said: { readonly drawing: string; readonly id?: string; readonly class?: string },
  files: Files,
): ElementShape | undefined {
  const file = fileIn(files, said.drawing);
  if (!file.ok) {
    refuseAt(on, ["drawing"], file.code, file.what, file.mend);
    return undefined;
  }
  const { drawing: _, ...choice } = said;
  const read = readOpenPath(file.text, { file: file.path, ...choice });
  on.found.push(
    ...read.findings.map((f) => ({
      ...f,
      place: { ...f.place, ...(on.part !== undefined && { part: on.part }), source: sourceAtPath(on, ["drawing"]) },
      ...(f.place.source !== undefined && {
        why: [f.why, `${file.path}, line ${f.place.source.line}`].filter(Boolean).join("; "),
      }),
    })),
  );
  if (!read.ok) return undefined;
  const rightwards = (read.value[read.value.length - 1]?.to.x ?? 0) >= (read.value[0]?.from.x ?? 0);
  const walked = rightwards ? read.value : [...read.value].reverse().map(reversed);
  const start = walked[0]?.from.x ?? 0;
  const segments = settled(walked.map((s) => shifted(s, start)));
  for (const s of segments) {
    const box = boundsOf(s);
    const back = box.min.x < s.from.x - DRAWN_WITHIN || box.max.x > s.to.x + DRAWN_WITHIN || s.to.x < s.from.x;
    const below = box.min.y < -DRAWN_WITHIN;
    if (!back && !below) continue;
    refuseAt(
      on,
      ["drawing"],
      "turned-path",
      back ? "this profile runs back, so no tool could turn it" : "this profile reaches beyond the axis",
      back
        ? "draw it so that it only goes on along the axis; upright steps are shoulders"
        : "draw it above the page's lower edge, which is the axis",
      `near ${Number(s.from.x.toFixed(2))} mm along, ${Number(s.from.y.toFixed(2))} mm from the axis`,
    );
    return undefined;
  }
  return { kind: "path", segments, file: file.path };
}

/** What rounding in a drawing left put right: steps back along the axis, and radii about nothing. */
function settled(chain: readonly Segment[]): readonly Segment[] {
  const out: Segment[] = [];
  for (const s of chain) {
    const from = out[out.length - 1]?.to ?? onAxis(s.from);
    const back = from.x - s.to.x;
    const to = onAxis(back > 0 && back < DRAWN_WITHIN ? { x: from.x, y: s.to.y } : s.to);
    if (s.kind === "line") {
      if (from.x !== to.x || from.y !== to.y) out.push(line(from, to));
      continue;
    }
    // The centre goes half the way that the two ends were moved.
    const dx = (from.x - s.from.x + to.x - s.to.x) / 2;
    const dy = (from.y - s.from.y + to.y - s.to.y) / 2;
    out.push(arc(from, to, { x: s.centre.x + dx, y: s.centre.y + dy }, s.ccw));
  }
  return out;
}

function onAxis(p: Segment["from"]): Segment["from"] {
  return Math.abs(p.y) < DRAWN_WITHIN ? { x: p.x, y: 0 } : p;
}

function shifted(s: Segment, by: number): Segment {
  const at = (p: Segment["from"]): Segment["from"] => ({ x: p.x - by, y: p.y });
  return s.kind === "line" ? line(at(s.from), at(s.to)) : arc(at(s.from), at(s.to), at(s.centre), s.ccw);
}
