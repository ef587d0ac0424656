import type { Finding, Source } from "../finding.ts";
import type { FaceName } from "./board.ts";
import { axisOf, bordersOf, faceAmong } from "./faces.ts";
import { problemFinding, type Whose } from "./issues.ts";
import type { At, From } from "./job.ts";
import { jobFinding } from "./job-finding.ts";
import type { Phrase } from "./phrases.ts";
import { find, type Path, placeOf, placeOfKey } from "./tree.ts";

/** What a part's own words for its faces are, for resolving places on it. */
export interface OnPart extends Whose {
  readonly labels: Readonly<Record<FaceName, string>>;
  /** Faces that are planed afterwards: nothing is measured from them. */
  readonly planed: readonly FaceName[];
  readonly found: Finding[];
}

/** A place's three keys, and the reach each says. */
export const REACHES = [
  ["centre at", "centre"],
  ["near edge at", "near edge"],
  ["far edge at", "far edge"],
] as const;

/** The place in the file of the value or key under a path below the owner's node. */
export function sourceAtPath(on: Whose, path: Path): Source {
  const f = find(on.node, path, on.entry);
  if (f.missing || f.node.kind === "empty") {
    return f.entry ? placeOfKey(on.source, f.entry) : placeOf(on.source, f.node, 0, 1);
  }
  return placeOf(on.source, f.node);
}

/** Complains about the value under a path. */
export function refuseAt(
  on: OnPart,
  path: Path,
  code: Finding["code"],
  what: string,
  mend: string,
  why?: string,
): void {
  const says = { mend, part: on.part, feature: on.feature, ...(why !== undefined && { why }) };
  on.found.push(jobFinding(code, sourceAtPath(on, path), what, says));
}

/** The border that a phrase is taken from, among those allowed; undefined when a finding was made. */
export function borderOf(
  on: OnPart,
  key: string,
  p: Phrase,
  allowed: readonly FaceName[],
  what: string,
): FaceName | undefined {
  if (p.border === undefined) {
    const example = allowed[0] === undefined ? "first end" : on.labels[allowed[0]];
    refuseAt(
      on,
      [key],
      "place-incomplete",
      "it is not said what this distance is taken from",
      `write, for example, "${key}: 12 from ${example}"`,
    );
    return undefined;
  }
  const found = faceAmong(p.border, on.labels, allowed, what);
  if (!found.ok) {
    const f = find(on.node, [key, ...p.spot.path], on.entry);
    const problem = { ...found.problem, at: p.spot.at, length: p.spot.length, onKey: p.spot.onKey };
    on.found.push(...problemFinding(problem, f.node, f.entry, on));
    return undefined;
  }
  if (notPlaned(on, [key], found.face)) return found.face;
  return undefined;
}

/** Complains when a face that is planed afterwards is referred to. */
export function notPlaned(on: OnPart, path: Path, face: FaceName): boolean {
  if (!on.planed.includes(face)) return true;
  refuseAt(
    on,
    path,
    "face-planed-afterwards",
    `"${on.labels[face]}" is planed afterwards, so nothing can be measured from it or cut in it`,
    'measure from the opposite side, or take it out of "planed afterwards"',
  );
  return false;
}

/** Two distances on a face, gathered from the keys that say what they reach. Undefined when a finding was made. */
export function placeOn(
  on: OnPart,
  face: FaceName,
  said: Readonly<Partial<Record<(typeof REACHES)[number][0], readonly Phrase[] | undefined>>>,
): At | undefined {
  const all = REACHES.flatMap(([key, reach]) => (said[key] ?? []).map((p) => ({ key, reach, p })));
  if (all.length === 0) {
    const [a, b] = example(on, face);
    refuseAt(
      on,
      [],
      "place-incomplete",
      "it is not said where this lies",
      `write, for example, "centre at: 40 from ${a}, 20 from ${b}"`,
    );
    return undefined;
  }
  const froms: { key: string; from: From }[] = [];
  let broken = false;
  for (const { key, reach, p } of all) {
    const border = borderOf(on, key, p, bordersOf(face), `border of the ${on.labels[face]}`);
    if (border === undefined) broken = true;
    else froms.push({ key, from: { distance: p.distance, border, reach } });
  }
  if (broken) return undefined;
  return crossed(on, face, froms);
}

/** Two distances of one phrase list, all to the same reach. */
export function placeFrom(
  on: OnPart,
  face: FaceName,
  key: string,
  said: readonly Phrase[],
  reach: From["reach"],
): At | undefined {
  const froms: { key: string; from: From }[] = [];
  for (const p of said) {
    const border = borderOf(on, key, p, bordersOf(face), `border of the ${on.labels[face]}`);
    if (border === undefined) return undefined;
    froms.push({ key, from: { distance: p.distance, border, reach } });
  }
  return crossed(on, face, froms);
}

function crossed(on: OnPart, face: FaceName, froms: readonly { key: string; from: From }[]): At | undefined {
  const sorted = [...froms].sort((a, b) => axisOf(a.from.border) - axisOf(b.from.border));
  const [first, second, third] = sorted;
  const [a, b] = example(on, face);
  if (first === undefined || second === undefined) {
    const key = first?.key ?? "centre at";
    refuseAt(
      on,
      [key],
      "place-incomplete",
      "one distance is not enough to say where this lies",
      `give one from an end and one from an edge: "${key}: 40 from ${a}, 20 from ${b}"`,
    );
    return undefined;
  }
  const twice = third !== undefined || axisOf(first.from.border) === axisOf(second.from.border);
  if (twice) {
    const key = (third ?? second).key;
    refuseAt(
      on,
      [key],
      "place-twice",
      "two distances fix the same direction",
      `give one from ${a} or its opposite, and one from ${b} or its opposite`,
    );
    return undefined;
  }
  return [first.from, second.from];
}

/** One border along each of a face's two directions, by this part's names. */
function example(on: OnPart, face: FaceName): readonly [string, string] {
  const [a, , b] = bordersOf(face);
  return [on.labels[a ?? "first end"], on.labels[b ?? "lower edge"]];
}
