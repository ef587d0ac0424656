import type { ReadEvent, ReadMove } from "../reader/read-move.ts";
import type { Assembly } from "../shop/cutter.ts";
import { type Contact, contactsAfter, contactsBefore, type Surroundings } from "./contact.ts";
import { type CutRecord, type History, WoodCutter } from "./cut.ts";
import { type Engagement, type EngagementSummary, engagementAlong, summarise } from "./engagement.ts";
import { pathOf } from "./path.ts";
import { volumeOf, type Wood } from "./wood.ts";

/** A program cut in the wood: everything the grid can tell. Filled by `simulate`; read by proof and sheets. mm. */
export interface Simulation {
  readonly before: Wood;
  readonly after: Wood;
  readonly history: History;
  /** In the order of the program. */
  readonly contacts: readonly Contact[];
  /** One for each move whose cutter is known, rapids too. */
  readonly cuts: readonly CutRecord[];
  /** Where asked for. */
  readonly engagement?: EngagementSummary;
  readonly air: AirShare;
  /** Wood removed, mm³: the true volume lies between. */
  readonly removed: { readonly least: number; readonly most: number };
}

/** How much of the feed path takes nothing. */
export interface AirShare {
  /** All feed moves, mm. */
  readonly feedLength: number;
  /** Moves that surely took nothing, and moves that may have taken nothing, mm. */
  readonly surely: number;
  readonly perhaps: number;
}

/** What `simulate` needs beside the program. */
export interface SimulateInput {
  readonly wood: Wood;
  readonly events: readonly ReadEvent[];
  /** The assembly in the spindle at a move, or nothing when the text has not said which. */
  readonly assemblyFor: (move: ReadMove) => Assembly | undefined;
  readonly around: Surroundings;
  /** Also measure how much of the cutter's circumference is in wood along the way; the proof does not need it. */
  readonly withEngagement?: boolean;
}

/** Cuts a program move by move, watching what each move would meet before it is cut. */
export function simulate({ wood, events, assemblyFor, around, withEngagement = false }: SimulateInput): Simulation {
  const cutter = new WoodCutter(wood);
  const contacts: Contact[] = [];
  const cuts: CutRecord[] = [];
  const engaged: Engagement[] = [];
  let feedLength = 0;
  let surely = 0;
  let perhaps = 0;
  for (const event of events) {
    if (event.kind !== "move") continue;
    const assembly = assemblyFor(event);
    if (assembly === undefined) {
      if (!event.rapid) {
        contacts.push({ kind: "no cutter", line: event.line, member: "cutter", at: undefined, depth: 0, bound: 0 });
      }
      continue;
    }
    contacts.push(...contactsBefore(cutter.wood, event, assembly, around));
    if (event.rapid) {
      cuts.push(cutter.cut(event, assembly));
      continue;
    }
    const path = pathOf(event);
    if (withEngagement && path !== undefined)
      engaged.push(...engagementAlong(cutter.wood, path, cutter.endOf(assembly).radius));
    const cut = cutter.cut(event, assembly);
    cuts.push(cut);
    contacts.push(...contactsAfter(cutter.wood, event, assembly));
    feedLength += cut.length;
    if (cut.fromLeast === 0) surely += cut.length;
    if (cut.fromMost === 0) perhaps += cut.length;
  }
  // Nothing is cut any more: the live state is the last one.
  const after = cutter.wood;
  return {
    before: wood,
    after,
    history: cutter.history(),
    contacts,
    cuts,
    ...(withEngagement ? { engagement: summarise(engaged) } : {}),
    air: { feedLength, surely, perhaps },
    removed: removedBetween(wood, after),
  };
}

/**
 * Bounds of the wood removed. What was there at first lies between its own two bounds, so the least is the first
 * `least` less the last `most`, and the other way about.
 */
export function removedBetween(before: Wood, after: Wood): { readonly least: number; readonly most: number } {
  const most = volumeOf(before.grid, before.most) - volumeOf(after.grid, after.least);
  const least = volumeOf(before.grid, before.least) - volumeOf(after.grid, after.most);
  return { least: Math.max(0, least), most };
}
