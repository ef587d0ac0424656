import type { Finding, Limit, Source } from "../../finding.ts";
import type { Hollow } from "../../shapes/hollow.ts";
import { mapRegion, shiftBy } from "../../shapes/plan-map.ts";
import { boundsOfRegion } from "../../shapes/region.ts";
import { tangentAt } from "../../shapes/segment.ts";
import type { TurnedSolid } from "../../shapes/turned-solid.ts";
import { type FingerRoom, lossPerHalf, solidOf, type TurnedPiece } from "../turned-piece.ts";
import { type BreakOut, type Found, type Judged, SLACK, type WallLaw } from "./judge.ts";
import { type Rib, thinnestRib } from "./rib.ts";
import { AS_MEANT, type SetUpErrors } from "./set-up-errors.ts";
import { type JudgedBody, type WallMap, type WallMapOptions, wallMap } from "./wall-map.ts";

/** Below this a lip is called keen. Common practice, no source. */
export const KEEN_LIP_DEG = 50;

/** How far a recess would have to be drawn in for the law to hold, mm; absent where no such recess is left. */
export interface Advice {
  /** All round, from each side. */
  readonly narrower?: number;
  readonly shallower?: number;
}

/** What is known of a turned piece's walls: a map for each pull, what is wrong, and how it would hold. */
export interface Walls {
  /** By pull: how far its room is shifted along x from the described one, and the map. */
  readonly pulls: readonly { readonly shift: number; readonly map: WallMap; readonly advice?: Advice }[];
  readonly findings: readonly Finding[];
}

/** A piece's finger room and the wood it is cut into, as the wall law reads them. */
export interface WalledPiece {
  readonly solid: TurnedSolid;
  readonly room: FingerRoom;
  readonly law: WallLaw;
  /** The worst radius that the turning may have: less by its stated error. */
  readonly errors: SetUpErrors;
  readonly split: Pick<WallMapOptions, "split">;
}

/** What the wall law reads of a piece; undefined without finger room. A room in the flat back is judged in the half. */
export function walledPiece(piece: TurnedPiece, shift = 0): WalledPiece | undefined {
  const room = piece.fingerRoom;
  if (room === undefined) return undefined;
  const whole = solidOf(piece);
  const loss = piece.split === undefined ? 0 : lossPerHalf(piece.split).most;
  return {
    solid: room.cut === "back" ? { ...whole, flatTop: whole.axis.z - loss } : whole,
    room: shift === 0 ? room : { ...room, section: mapRegion(shiftBy(shift, 0), room.section) },
    law: { leastWall: room.leastWall, lipAngleDeg: room.leastLipAngleDeg },
    errors: { ...AS_MEANT, radius: -piece.radiusError.value },
    split: piece.split === undefined ? {} : { split: piece.split },
  };
}

/**
 * Walls and lip of a turned piece, for the blank and each half, with the smallest radius its turning may have. A wall or
 * lip below what the user asked refuses, and says how wide or how deep the recess may be; below what is only practice it
 * cautions. A recess that leaves the wood elsewhere than at its mouth, or needs an undercut, refuses.
 * @param step distance between samples, mm, > 0
 */
export function wallsOf(piece: TurnedPiece, step: number, want: "map" | "figures" = "figures"): Walls {
  const room = piece.fingerRoom;
  if (room === undefined) return { pulls: [], findings: [] };
  if (goesBack(room.hollow)) return { pulls: [], findings: [undercut(piece, room)] };
  const findings: Finding[] = [];
  const pulls: { shift: number; map: WallMap; advice?: Advice }[] = [];
  for (const shift of [0, ...(room.alsoAt ?? [])]) {
    const w = walledPiece(piece, shift)!;
    const map = wallMap(w.solid, w.room, w.law, { step, want, errors: w.errors, ...w.split });
    const mendable = !map.holds && map.bodies.every((b) => b.breakOut === undefined);
    const advice = mendable ? adviceFor(w) : undefined;
    pulls.push({ shift, map, ...(advice === undefined ? {} : { advice }) });
    findings.push(...findingsOf(piece, w, map, advice));
  }
  findings.push(...ribFindings(piece, room));
  return { pulls, findings };
}

/** What stands between the rooms of neighbouring pulls in one turning. */
function ribFindings(piece: TurnedPiece, room: FingerRoom): readonly Finding[] {
  const w = walledPiece(piece)!;
  const rib = thinnestRib(w.solid, room, [0, ...(room.alsoAt ?? [])], w.law);
  if (rib === undefined || (rib.thickness >= room.leastWall - SLACK && rib.atTop > 0)) return [];
  return [ribFinding(piece, room, rib)];
}

function ribFinding(piece: TurnedPiece, room: FingerRoom, rib: Rib): Finding {
  const open = rib.atTop <= SLACK || rib.thickness <= SLACK;
  return {
    grade: open || askedFor(room, "least wall") ? "refuse" : "caution",
    code: "wall-thin",
    place: { ...placeOf(piece, room, "least wall"), at: { x: rib.x, y: 0, z: 0 } },
    what: open
      ? "the finger rooms of neighbouring pulls run into each other"
      : "the wood between the finger rooms of neighbouring pulls is too thin",
    why: `${text(Math.min(rib.thickness, rib.atTop))} at ${text(rib.x)} along the axis, before the pulls are sawn apart`,
    mend: "give more waste between the pulls, or make the finger room shorter",
    measured: { value: rib.thickness, bound: 0, unit: "mm" },
    limit: limitOf(room, "least wall", room.leastWall, "mm"),
  };
}

/** True where a hollow's chain turns back outwards under itself, so that no cutter from above reaches it. */
export function goesBack(h: Hollow): boolean {
  return h.segments.some((s) => [0, 0.25, 0.5, 0.75, 1].some((t) => tangentAt(s, t).x < -1e-7));
}

/** How much narrower, and how much shallower, a recess must be for the law to hold; each found by halving, then proved. */
export function adviceFor(w: WalledPiece): Advice {
  const box = boundsOfRegion(w.room.section);
  const across = box === undefined ? 0 : Math.min(box.max.x - box.min.x, box.max.y - box.min.y) / 2;
  const holds = (narrower: number, shallower: number, bounded: boolean): boolean =>
    wallMap(w.solid, w.room, w.law, {
      step: 0.7,
      want: "verdict",
      bounded,
      narrower,
      errors: { ...w.errors, zeroZ: shallower },
      ...w.split,
    }).holds;
  const narrower = leastThat((by) => (bounded) => holds(by, 0, bounded), Math.max(0, across - 1));
  const shallower = leastThat((by) => (bounded) => holds(0, by, bounded), Math.max(0, w.room.depth - 1));
  return { ...(narrower === undefined ? {} : { narrower }), ...(shallower === undefined ? {} : { shallower }) };
}

/** The least tenth of a millimetre up to `most` with which something holds, given that more is better. */
function leastThat(holds: (by: number) => (bounded: boolean) => boolean, most: number): number | undefined {
  // Too small a recess may fail as well, having no wall left: so less is tried where the most fails.
  const start = [1, 0.75, 0.5, 0.25].map((q) => Math.floor(most * q * 10)).find((k) => k >= 1 && holds(k / 10)(false));
  if (start === undefined) return undefined;
  let [low, high] = [0, start];
  while (high - low > 1) {
    const m = (low + high) >> 1;
    if (holds(m / 10)(false)) high = m;
    else low = m;
  }
  // Samples found it; what is promised must hold by a bound.
  for (let k = high; k <= high + 10 && k / 10 <= most; k++) if (holds(k / 10)(true)) return k / 10;
  return undefined;
}

function findingsOf(piece: TurnedPiece, w: WalledPiece, map: WallMap, advice: Advice | undefined): readonly Finding[] {
  const findings: Finding[] = [];
  for (const b of map.bodies) {
    if (!b.inWood && (b.body === "blank" || b.body === "half")) {
      findings.push({
        grade: "refuse",
        code: "wall-no-wood",
        place: placeOf(piece, w.room),
        what: "the finger room lies wholly outside the wood",
        why: "no place of its wall or floor is in the turned blank",
        mend: "check where it lies along the axis, and its depth",
      });
      return findings;
    }
    // A break-out of the blank is one of each half too: said once.
    if (b.breakOut) {
      findings.push(broken(piece, w.room, b, b.breakOut));
      return findings;
    }
  }
  const thin = worstOf(map, (b) => b.thinnest);
  const lip = worstOf(map, (b) => b.lip);
  const near = worstOf(map, (b) => b.short);
  const short = thin !== undefined && thin.found.value < w.law.leastWall - SLACK;
  const keen = lip !== undefined && lip.found.value < w.law.lipAngleDeg - 1e-6;
  if (near && !short && !keen) {
    const asked = map.bodies.find((b) => b.body === near.body)?.short?.asked ?? w.law.leastWall;
    findings.push({
      grade: askedFor(w.room, "least wall") || askedFor(w.room, "least lip angle") ? "refuse" : "caution",
      code: "wall-thin",
      place: { ...placeOf(piece, w.room, "least wall"), at: near.found.at },
      what: `the wall behind the lip of the finger room is too thin${inBody(near.body)}`,
      why: `${text(near.found.value)} at ${spot(near.found)}, where ${text(asked)} is asked so near the lip${oversize(w.errors)}`,
      mend: mendOf(w.room, advice),
      measured: { value: near.found.value, bound: near.found.bound, unit: "mm" },
      limit: limitOf(w.room, "least wall", asked, "mm"),
    });
  }
  if (thin && (short || (!map.holds && !keen && near === undefined))) {
    findings.push({
      grade: askedFor(w.room, "least wall") || thin.found.value <= SLACK ? "refuse" : "caution",
      code: "wall-thin",
      place: { ...placeOf(piece, w.room, "least wall"), at: thin.found.at },
      what: `the wall around the finger room is too thin${inBody(thin.body)}`,
      why: `${text(thin.found.value)} at ${spot(thin.found)}${oversize(w.errors)}`,
      mend: mendOf(w.room, advice),
      measured: { value: thin.found.value, bound: thin.found.bound, unit: "mm" },
      limit: limitOf(w.room, "least wall", w.law.leastWall, "mm"),
    });
  }
  if (lip && keen) {
    findings.push({
      grade: askedFor(w.room, "least lip angle") ? "refuse" : "caution",
      code: "wall-lip-sharp",
      place: { ...placeOf(piece, w.room, "least lip angle"), at: lip.found.at },
      what: `the lip of the finger room is too sharp${inBody(lip.body)}`,
      why: `${Math.round(lip.found.value * 10) / 10}° between the recess and the turned surface at ${spot(lip.found)}; so sharp an edge breaks out`,
      mend: mendOf(w.room, advice),
      measured: { value: lip.found.value, bound: lip.found.bound, unit: "°" },
      limit: limitOf(w.room, "least lip angle", w.law.lipAngleDeg, "°"),
    });
  } else if (lip && lip.found.value < KEEN_LIP_DEG) {
    findings.push({
      grade: "caution",
      code: "wall-lip-keen",
      place: { ...placeOf(piece, w.room), at: lip.found.at },
      what: "the lip of the finger room is keen",
      why: `${Math.round(lip.found.value * 10) / 10}° at ${spot(lip.found)}`,
      mend: "ease it well, or make the recess narrower",
      measured: { value: lip.found.value, bound: lip.found.bound, unit: "°" },
      limit: { value: KEEN_LIP_DEG, unit: "°", from: "common practice, no source" },
    });
  }
  return findings;
}

function worstOf(
  map: WallMap,
  of: (b: Judged) => Found | undefined,
): { readonly body: JudgedBody; readonly found: Found } | undefined {
  let worst: { body: JudgedBody; found: Found } | undefined;
  for (const b of map.bodies) {
    const found = of(b);
    if (found && (worst === undefined || found.value < worst.found.value - 1e-6)) worst = { body: b.body, found };
  }
  return worst;
}

function undercut(piece: TurnedPiece, room: FingerRoom): Finding {
  const down = room.cut === "crown";
  return {
    grade: "refuse",
    code: "wall-undercut",
    place: placeOf(piece, room, "wall"),
    what: "the finger room is wider below than at its mouth",
    why: `cut ${down ? "down from the crown" : "into the flat back"}, no bit gets under its own wall`,
    mend: down
      ? "cut it into the flat back of the halves, after the split, or make its wall upright"
      : "cut it down from the crown while the blank is round, or make its wall upright",
  };
}

function broken(
  piece: TurnedPiece,
  room: FingerRoom,
  b: Judged & { readonly body: JudgedBody },
  out: BreakOut,
): Finding {
  const where: Readonly<Record<BreakOut["how"], readonly [string, string]>> = {
    sideways: [
      "the finger room breaks out sideways",
      room.cut === "crown"
        ? "make it narrower or shallower, or cut it into the flat back of a half and say over which side it opens"
        : "make it narrower, or say over which side it opens",
    ],
    "through the far side": ["the finger room breaks through the far side", "make it shallower"],
    "through the end": ["the finger room runs out of the blank's end", "make it shorter, or move it along the axis"],
    "through a shoulder": [
      "the finger room breaks out through a shoulder or where the profile is slim",
      "make it shorter or shallower, or move it along the axis",
    ],
  };
  const [what, mend] = where[out.how];
  return {
    grade: "refuse",
    code: "wall-breaks-out",
    place: { ...placeOf(piece, room), at: out.at },
    what: `${what}${inBody(b.body)}`,
    why: `at ${spot({ at: out.at })}${elementAt(piece, out.at.x)}`,
    mend,
  };
}

function elementAt(piece: TurnedPiece, x: number): string {
  const e = piece.elements.find((q) => q.from <= x && x <= q.to);
  return e === undefined ? "" : `, in the ${e.name}`;
}

function askedFor(room: FingerRoom, key: string): boolean {
  return room.sources[key] !== undefined;
}

function limitOf(room: FingerRoom, key: string, value: number, unit: string): Limit {
  return { value, unit, from: askedFor(room, key) ? "the job" : "common practice, no source" };
}

function placeOf(
  piece: TurnedPiece,
  room: FingerRoom,
  key?: string,
): { part: string; feature: string; source: Source } {
  return {
    part: piece.name,
    feature: room.name,
    source: (key === undefined ? undefined : room.sources[key]) ?? room.source,
  };
}

function mendOf(room: FingerRoom, advice: Advice | undefined): string {
  const box = boundsOfRegion(room.section);
  const ways: string[] = [];
  if (advice?.narrower !== undefined && box !== undefined) {
    const across = box.max.y - box.min.y - 2 * advice.narrower;
    const along = box.max.x - box.min.x - 2 * advice.narrower;
    ways.push(`it may be ${text(across)} wide (${text(along)} long)`);
  }
  if (advice?.shallower !== undefined) ways.push(`it may be ${text(room.depth - advice.shallower)} deep`);
  return ways.length > 0
    ? `${ways.join(", or ")}; or turn the blank thicker there`
    : "turn the blank thicker there, or make the recess smaller both ways";
}

function inBody(body: JudgedBody): string {
  return body === "blank" ? "" : ` in the ${body}`;
}

function oversize(e: SetUpErrors): string {
  return e.radius === 0 ? "" : `, with the radius ${text(-e.radius)} less, as it may be`;
}

function spot(f: Pick<Found, "at">): string {
  return `${text(f.at.x)} along the axis, ${text(Math.abs(f.at.y))} to the side, ${text(Math.abs(f.at.z))} ${f.at.z < 0 ? "below" : "above"} the axis`;
}

function text(mm: number): string {
  return `${Math.round(mm * 100) / 100} mm`;
}
