import type { TurningSetUp } from "../plan/turning-setup.ts";
import type { ReadEvent, ReadMove } from "../reader/read-move.ts";
import { extentOfMeridian, radiiOver } from "../shapes/meridian.ts";
import { boxGap } from "../shapes/nearest.ts";
import type { Box, Point } from "../shapes/point.ts";
import { line, type Segment } from "../shapes/segment.ts";
import type { TurningTool } from "../shop/lathe.ts";
import { type ProgramTime, timeOf } from "./time.ts";
import { chordsOf, halfPlanePath, shifted } from "./turning-path.ts";
import { coreHolds, coreToCurve, sweepOf, type TurningSweep } from "./turning-sweep.ts";
import { formOf, type TurningForm } from "./turning-tool.ts";
import {
  addAbove,
  biteOf,
  cutStretch,
  largestRadius,
  removedVolume,
  startTurnedWood,
  type TurnedWood,
  woodAbove,
} from "./turning-wood.ts";

/** A turning program cut in the wood. Filled by `simulateTurning`; read by proof and sheets. mm. */
export interface TurningSimulation {
  readonly before: TurnedWood;
  readonly after: TurnedWood;
  /** What met what it must not, in the order of the program. */
  readonly contacts: readonly TurningContact[];
  /** One for each move whose tool and way are known. */
  readonly cuts: readonly TurningCutRecord[];
  readonly removed: { readonly least: number; readonly most: number };
}

/** One move as it was cut. */
export interface TurningCutRecord {
  readonly move: ReadMove;
  readonly form: TurningForm;
  /** Way of the tool's reference point in the half plane. */
  readonly path: Segment;
  /** What the tool's bodies sweep. */
  readonly sweeps: readonly TurningSweep[];
  /** Most wood above the cutting edge before the move, mm of radius: 0 in air. */
  readonly depth: number;
  /** Most wood above the edge, square to the way, on stretches that run along the axis rather than into it; mm. */
  readonly bite: number;
  /** Largest radius of turning wood anywhere when it begins, and within what is turned here, a tool's width from its ends. */
  readonly largest: number;
  readonly largestTurned: number;
}

/** Something met what it must not. `depth` in mm, the true one within ± `bound`. */
export interface TurningContact {
  readonly kind: "rapid" | "holder" | "keep-out" | "still" | "through" | "unplaced" | "no tool";
  readonly line: number;
  readonly at: Point | undefined;
  readonly depth: number;
  readonly bound: number;
  readonly keepOut?: string;
}

export interface SimulateTurningInput {
  readonly setUp: TurningSetUp;
  readonly events: readonly ReadEvent[];
  /** The tool in the post at a move, or nothing when the text has not said which. */
  readonly toolFor: (move: ReadMove) => TurningTool | undefined;
  /** Wood that an earlier program left; absent: the blank as mounted. */
  readonly wood?: TurnedWood;
}

/** Arcs are cut as chords no farther from them than this, mm; both bounds of the wood allow for it. */
const CHORD = 0.001;

/** Wood this much above an edge that was there before is rounding, mm. */
const FELT = 2 * CHORD + 0.0005;

/**
 * Radius below which wood between centres no longer carries: what is parted keeps more. mm. Common practice, no source;
 * the pieces are sawn apart off the lathe.
 */
export const LEAST_NUB = 1.5;

/** This near an end of the blank nothing is parted, mm. */
const AT_END = 0.5;

/** Cuts a turning program move by move, watching what each move would meet before it is cut. */
export function simulateTurning({ setUp, events, toolFor, wood: earlier }: SimulateTurningInput): TurningSimulation {
  const before = earlier ?? startTurnedWood(setUp);
  const wood: TurnedWood = { ...before, most: before.most.slice(), least: before.least.slice() };
  const nub = nubWatch(setUp, wood);
  const contacts: TurningContact[] = [];
  const cuts: TurningCutRecord[] = [];
  const forms = new Map<TurningTool, TurningForm>();
  const profile = new Float64Array(wood.most.length);
  let largest = 0;
  let largestTurned = 0;
  let known = false;
  const turned = clearOfEnds(setUp);
  const whole = { from: wood.from, to: wood.from + wood.cell * wood.most.length };
  for (const move of events) {
    if (move.kind !== "move") continue;
    const point = halfPlanePath(move, setUp.lathe);
    if (point === undefined) {
      if (!move.rapid) contacts.push({ kind: "unplaced", line: move.line, at: undefined, depth: 0, bound: 0 });
      continue;
    }
    const tool = toolFor(move);
    if (tool === undefined) {
      if (!move.rapid) contacts.push({ kind: "no tool", line: move.line, at: point.to, depth: 0, bound: 0 });
      continue;
    }
    const form = forms.get(tool) ?? formOf(tool);
    forms.set(tool, form);
    const path = shifted(point, form.offset);
    const found = (kind: TurningContact["kind"], depth: number, at: Point, keepOut?: string): void => {
      const bound = kind === "keep-out" ? 0 : wood.cell;
      contacts.push({ kind, line: move.line, at, depth, bound, ...(keepOut === undefined ? {} : { keepOut }) });
    };
    const sweeps = form.bodies.map((b) => sweepOf(b, path));
    for (const k of setUp.keepOuts) {
      if (path.to.x === path.from.x && path.to.y === path.from.y) continue;
      const depth = intoKeepOut(sweeps, k.outline);
      if (depth > 0) found("keep-out", depth, path.to, k.name);
    }
    const stretches = chordsOf(path, CHORD);
    // A rapid leaves the wood as it is.
    if (!known) {
      largest = largestRadius(wood, whole.from, whole.to);
      largestTurned = largestRadius(wood, turned.from, turned.to);
    }
    known = move.rapid;
    let depth = 0;
    let bite = 0;
    let first = wood.most.length;
    let last = -1;
    let at: Point = path.to;
    for (const s of stretches) {
      if (Math.min(s.from.y, s.to.y) + form.holder.low >= largest) continue;
      const holder = woodAbove(wood, form.holder, s);
      if (holder.depth > FELT) {
        found("holder", holder.depth, holder.at);
        break;
      }
    }
    for (const s of stretches) {
      if (Math.min(s.from.y, s.to.y) + form.edge.low >= largest) continue;
      const above = woodAbove(wood, form.edge, s);
      if (above.depth > depth) {
        depth = above.depth;
        at = above.at;
      }
      const share = alongAxis(s);
      bite = Math.max(bite, above.depth * share);
      if (!move.rapid && share > 0 && above.depth > tool.maxBite) {
        const span = addAbove(wood, form.edge, s, share, profile);
        first = Math.min(first, span.first);
        last = Math.max(last, span.last);
      }
      if (!move.rapid) cutStretch(wood, form.edge, s, s === path ? 0 : CHORD);
    }
    if (bite > tool.maxBite) {
      bite = biteOf(profile, first, last, wood.cell);
      profile.fill(0, first, last + 1);
    }
    if (depth <= FELT) depth = 0;
    if (depth > 0 && move.rapid) found("rapid", depth, at);
    else if (depth > 0 && !turns(move, setUp)) found("still", depth, at);
    if (!move.rapid) {
      const through = nub();
      if (through !== undefined) found("through", through.depth, through.at);
    }
    cuts.push({ move, form, path, sweeps, depth, bite, largest, largestTurned });
  }
  const { shape, across } = setUp.piece.blank;
  const half = shape === "square" ? across / 2 : Number.POSITIVE_INFINITY;
  return { before, after: wood, contacts, cuts, removed: removedVolume(before, wood, half) };
}

/** What is turned here, but for a tool's width at its ends, where wood beside it keeps tools from all corners. */
function clearOfEnds(setUp: TurningSetUp): { readonly from: number; readonly to: number } {
  const { from, to } = extentOfMeridian(setUp.target);
  const margin = Math.min((to - from) / 4, Math.max(0, ...setUp.tools.map((t) => t.width)) + 1);
  return { from: from + margin, to: to - margin };
}

/** Cosine of a stretch's slope; 0 where it goes into the wood rather than along it, whose depth is no bite. */
function alongAxis(s: Segment): number {
  const dz = Math.abs(s.to.x - s.from.x);
  const dr = Math.abs(s.to.y - s.from.y);
  return dz > dr ? dz / Math.hypot(dz, dr) : 0;
}

/** Whether the wood turns as far as the text says; a dial turns it whatever S says. */
function turns(move: ReadMove, setUp: TurningSetUp): boolean {
  return move.spindle.turning !== "off" && (move.spindle.rpm > 0 || setUp.lathe.spindle.kind === "dial");
}

/**
 * Deepest that a tool goes into a keep-out on its way, mm; 0 when it keeps clear. At least a hair once anything meets.
 * @param clear how far it has to stay away, mm
 */
export function intoKeepOut(sweeps: readonly TurningSweep[], outline: readonly Point[], clear = 0): number {
  let deepest = 0;
  const around = boxOf(outline);
  const edges = outline.map((p, i) => line(p, outline[(i + 1) % outline.length]!));
  for (const sweep of sweeps) {
    const { body } = sweep;
    if (boxGap(sweep.box, around) > body.radius + clear) continue;
    let least = Number.POSITIVE_INFINITY;
    for (const e of edges) least = Math.min(least, coreToCurve(sweep, e));
    const inside = outline[0] !== undefined && (coreHolds(sweep, outline[0]) || holds(outline, sweep.curves[0]!.from));
    if (inside || least === 0) deepest = Math.max(deepest, body.radius, 0.01);
    else deepest = Math.max(deepest, body.radius + clear - least - 1e-9);
  }
  return deepest;
}

function boxOf(points: readonly Point[]): Box {
  return {
    min: { x: Math.min(...points.map((p) => p.x)), y: Math.min(...points.map((p) => p.y)) },
    max: { x: Math.max(...points.map((p) => p.x)), y: Math.max(...points.map((p) => p.y)) },
  };
}

/** Whether a closed outline holds a point (even-odd). */
function holds(outline: readonly Point[], p: Point): boolean {
  let inside = false;
  for (const [i, a] of outline.entries()) {
    const b = outline[(i + 1) % outline.length]!;
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) inside = !inside;
  }
  return inside;
}

/** Tells once where wood that must carry is first cut thinner than the least nub. */
function nubWatch(setUp: TurningSetUp, wood: TurnedWood): () => { depth: number; at: Point } | undefined {
  const { from, cell, least } = wood;
  const target = extentOfMeridian(setUp.target);
  let told = false;
  const carries: number[] = [];
  for (let i = 0; i < least.length; i++) {
    const za = from + i * cell;
    if (za < from + AT_END || za + cell > from + least.length * cell - AT_END) continue;
    const radii = za + cell < target.from || za > target.to ? undefined : radiiOver(setUp.target, za, za + cell);
    // Where the part itself ends in a point, it is meant to.
    if (radii === undefined || radii.least >= LEAST_NUB) carries.push(i);
  }
  return () => {
    if (told) return undefined;
    for (const i of carries) {
      if (least[i]! >= LEAST_NUB - FELT) continue;
      told = true;
      return { depth: LEAST_NUB - least[i]!, at: { x: from + (i + 0.5) * cell, y: least[i]! } };
    }
    return undefined;
  };
}

/** Allowed departure from a corner when its speed is estimated, mm. Common practice, no source. */
const CORNER = 0.01;

/** Seconds that a turning program takes on its lathe, stops not counted. */
export function turningTime(events: readonly ReadEvent[], setUp: TurningSetUp): ProgramTime {
  const { topFeed, acceleration } = setUp.lathe;
  const withY = (v: { readonly x: number; readonly z: number }) => ({ ...v, y: v.x });
  return timeOf(events, { topFeed: withY(topFeed), acceleration: withY(acceleration), cornerDeviation: CORNER });
}
