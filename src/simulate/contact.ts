import type { KeepOut } from "../plan/setup.ts";
import type { ReadMove } from "../reader/read-move.ts";
import type { Box3, Point3 } from "../shapes/point.ts";
import type { Assembly, AssemblyMember } from "../shop/cutter.ts";
import { nearestFromArea, nearestToBox } from "./keep-out.ts";
import { known, lowestTip, type Path, pathOf } from "./path.ts";
import { boxRows } from "./rows.ts";
import { type Bound, sweepRing, type Taker } from "./sweep.ts";
import { cuttingEnd, type DullPart, dullParts, hull, type Underside } from "./underside.ts";
import { centreOf, halfDiagonal, topOf, type Wood } from "./wood.ts";

/**
 * Something met what it must not. A fact, not yet a finding: proof says how grave it is.
 * `rapid`: any part of the assembly in wood on a rapid. `rub`: a part that does not cut, in wood, at feed.
 * `still`: the cutter in wood at feed with the spindle off. `keep-out`: a clamp, jaw or screw head touched.
 * `waste board`: the tip below the limit. `unplaced`: a move whose place in the work is not known, so nothing of this
 * could be checked. `no cutter`: a feed move before the text has said which cutter is in the spindle.
 */
export interface Contact {
  readonly kind: "rapid" | "rub" | "still" | "keep-out" | "waste board" | "unplaced" | "no cutter";
  readonly line: number;
  readonly member: AssemblyMember;
  /** Where: on the wood or solid for wood contacts, the tip otherwise. Set-up coordinates, mm. */
  readonly at: Point3 | undefined;
  /** How deep, mm: the height of wood in the way, or how far inside the solid or below the limit. */
  readonly depth: number;
  /** Wood that reaches sideways into the part by no more than this may go unseen, mm; solids: error of `depth`. */
  readonly bound: number;
  /** Name of the solid met. */
  readonly keepOut?: string;
}

/** Touching without pressing: depths below this are rounding of programs and of heights, mm. */
const TOUCH = 0.001;
/** Sideways play for cutter and shank in the very path they have cut, where arcs' ends may be this far off, mm. */
const PLAY = 0.004;

/** What the contacts of a set-up depend on beside the wood. */
export interface Surroundings {
  readonly keepOuts: readonly KeepOut[];
  /** Lowest allowed tip height, mm: the blank's underside less what may go into the waste board. */
  readonly lowestTip: number;
}

/**
 * What a move would meet, from the wood before the move is cut.
 *
 * Wood that may still stand (`most`) is held against the assembly. Cutter and shank are shrunk by half a cell's
 * diagonal, as they were when they cut: they go back up the very hole they made without a word, and true wood that
 * reaches farther than `bound` into them is always seen, since its whole cell lies in the shrunk disc and `most` holds
 * it. Nut, spindle body and laser head are grown by as much instead, so that none of their contacts goes unseen.
 * A rapid that moves more than one axis may be made as a bent way (controllers differ), so all of the box between its
 * ends must be free.
 */
export function contactsBefore(wood: Wood, move: ReadMove, assembly: Assembly, around: Surroundings): Contact[] {
  const path = clearPath(move, wood);
  if (path === undefined) return move.rapid ? [] : [unplaced(move)];
  const area = move.rapid ? bentWay(path) : undefined;
  const contacts: Contact[] = [...solidContacts(path, area, move, assembly, around)];
  const meet = (part: DullPart, kind: Contact["kind"]) => {
    const contact = dullContact(wood, path, area, part, kind, move.line);
    if (contact !== undefined) contacts.push(contact);
  };
  if (move.rapid || move.spindle.turning === "off") {
    const kind = move.rapid ? "rapid" : "still";
    const contact = cutterContact(wood, path, area, assembly, kind, move.line);
    if (contact !== undefined) contacts.push(contact);
  }
  for (const part of dullParts(assembly)) {
    // Going up, wood in the way of the shank is met before the flutes could take it; otherwise see `contactsAfter`.
    if (!move.rapid && near(part) && !(path.to.z > path.from.z)) continue;
    meet(part, move.rapid ? "rapid" : "rub");
  }
  return contacts;
}

/**
 * What the shank met at feed, from the wood after the move is cut: going down or level, the flutes go ahead of the
 * shank, so what they took in this very move is no longer there when the shank comes.
 */
export function contactsAfter(wood: Wood, move: ReadMove, assembly: Assembly): Contact[] {
  const path = pathOf(move);
  if (path === undefined || move.rapid || path.to.z > path.from.z) return [];
  return dullParts(assembly)
    .filter(near)
    .map((part) => dullContact(wood, path, undefined, part, "rub", move.line))
    .filter((c) => c !== undefined);
}

/** Cutter and shank run in what they cut; the rest never does. */
function near(part: DullPart): boolean {
  switch (part.member) {
    case "cutter":
    case "shank":
      return true;
    case "nut":
    case "spindle body":
    case "laser head":
      return false;
  }
}

/** The path of a move; a rapid of Z alone from an unknown height comes from above everything. */
function clearPath(move: ReadMove, wood: Wood): Path | undefined {
  const path = pathOf(move);
  if (path !== undefined) return path;
  const { from, to } = move;
  const end = known(to);
  if (!move.rapid || end === undefined || from.z !== undefined || from.x !== end.x || from.y !== end.y)
    return undefined;
  return { kind: "line", from: { ...end, z: Math.max(end.z, wood.blank.max.z + 1000) }, to: end };
}

function unplaced(move: ReadMove): Contact {
  return { kind: "unplaced", line: move.line, member: "cutter", at: undefined, depth: 0, bound: 0 };
}

/** The box that a rapid may pass through, where it moves more than one axis. */
function bentWay(path: Path): Box3 | undefined {
  const { from, to } = path;
  const moved = [from.x !== to.x, from.y !== to.y, from.z !== to.z].filter((m) => m).length;
  if (path.kind !== "line" || moved < 2) return undefined;
  return {
    min: { x: Math.min(from.x, to.x), y: Math.min(from.y, to.y), z: Math.min(from.z, to.z) },
    max: { x: Math.max(from.x, to.x), y: Math.max(from.y, to.y), z: Math.max(from.z, to.z) },
  };
}

function cutterContact(
  wood: Wood,
  path: Path,
  area: Box3 | undefined,
  assembly: Assembly,
  kind: Contact["kind"],
  line: number,
): Contact | undefined {
  const bound: Bound = { which: "most", by: halfDiagonal(wood.grid) + PLAY };
  const watch = new Watch(wood);
  for (const ring of cuttingEnd(assembly).rings) reach(wood, path, area, ring, bound, watch);
  return watch.contact(kind, line, "cutter", 2 * halfDiagonal(wood.grid) + PLAY);
}

function dullContact(
  wood: Wood,
  path: Path,
  area: Box3 | undefined,
  part: DullPart,
  kind: Contact["kind"],
  line: number,
): Contact | undefined {
  if (lowestTip(path) + part.height >= wood.blank.max.z - TOUCH) return undefined;
  const ring: Underside = { kind: "flat", inner: 0, outer: part.radius, height: part.height };
  const by = halfDiagonal(wood.grid);
  const bound: Bound = near(part) ? { which: "most", by: by + PLAY } : { which: "least", by };
  const watch = new Watch(wood);
  reach(wood, moved(path, part.offset), area && movedBox(area, part.offset), ring, bound, watch);
  return watch.contact(kind, line, part.member, near(part) ? 2 * by + PLAY : 0);
}

/** Sweeps a ring along the path, or through all of the box, and lets `watch` look at what is there. */
function reach(wood: Wood, path: Path, area: Box3 | undefined, ring: Underside, bound: Bound, watch: Watch): void {
  if (area === undefined) {
    sweepRing(wood.grid, path, ring, Number.POSITIVE_INFINITY, bound, undefined, watch);
    return;
  }
  const shift = bound.which === "most" ? bound.by : -bound.by;
  const { grid } = wood;
  boxRows(grid, area.min, area.max, ring.outer - shift, (j, first, last) =>
    watch.take(j * grid.nx + first, j * grid.nx + last, area.min.z + ring.height),
  );
}

/** Looks where wood stands above the swept underside, and remembers the most of it. */
class Watch implements Taker {
  private depth = TOUCH;
  private column = -1;
  private floor = 0;
  private readonly wood: Wood;
  constructor(wood: Wood) {
    this.wood = wood;
  }

  stands(c: number, above: number): boolean {
    return topOf(this.wood.most, c) - above > this.depth;
  }

  take(first: number, last: number, from: number): void {
    for (let c = first; c <= last; c++) {
      const over = topOf(this.wood.most, c) - from;
      if (over > this.depth) {
        this.depth = over;
        this.column = c;
        this.floor = from;
      }
    }
  }

  contact(kind: Contact["kind"], line: number, member: AssemblyMember, bound: number): Contact | undefined {
    if (this.column < 0) return undefined;
    const at = { ...centreOf(this.wood.grid, this.column), z: this.floor };
    return { kind, line, member, at, depth: this.depth, bound };
  }
}

function* solidContacts(
  path: Path,
  area: Box3 | undefined,
  move: ReadMove,
  assembly: Assembly,
  around: Surroundings,
): Generator<Contact> {
  for (const { name, box } of around.keepOuts) {
    let worst: Contact | undefined;
    for (const part of hull(assembly)) {
      const n = area === undefined ? nearestToBox(path, part, box, 0) : nearestFromArea(area, part, box);
      if (n.distance - (n.distance < 0 ? 0 : n.bound) >= 0 || -n.distance <= (worst?.depth ?? Number.NEGATIVE_INFINITY))
        continue;
      const { line } = move;
      worst = {
        kind: "keep-out",
        line,
        member: part.member,
        at: n.tip,
        depth: Math.max(0, -n.distance),
        bound: n.bound,
        keepOut: name,
      };
    }
    if (worst !== undefined) yield worst;
  }
  const below = around.lowestTip - lowestTip(path);
  if (below > TOUCH) {
    const at = path.to.z <= path.from.z ? path.to : path.from;
    yield { kind: "waste board", line: move.line, member: "cutter", at, depth: below, bound: 0 };
  }
}

function moved(path: Path, by: { readonly x: number; readonly y: number }): Path {
  if (by.x === 0 && by.y === 0) return path;
  const shifted = (p: Point3): Point3 => ({ x: p.x + by.x, y: p.y + by.y, z: p.z });
  const from = shifted(path.from);
  const to = shifted(path.to);
  switch (path.kind) {
    case "line":
      return { ...path, from, to };
    case "arc":
      return { ...path, from, to, centre: { x: path.centre.x + by.x, y: path.centre.y + by.y } };
    case "upright arc":
      return { ...path, from, to, centre: { x: path.centre.x + by[path.over], y: path.centre.y } };
  }
}

function movedBox(box: Box3, by: { readonly x: number; readonly y: number }): Box3 {
  const shifted = (p: Point3): Point3 => ({ x: p.x + by.x, y: p.y + by.y, z: p.z });
  return { min: shifted(box.min), max: shifted(box.max) };
}
