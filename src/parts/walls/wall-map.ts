import { radiiAt } from "../../shapes/meridian.ts";
import { boundsOfRegion } from "../../shapes/region.ts";
import { boundsOf } from "../../shapes/segment.ts";
import type { TurnedSolid } from "../../shapes/turned-solid.ts";
import { type FingerRoom, lossPerHalf, type Split } from "../turned-piece.ts";
import { type Judged, judge, type Known, type Placed, placed, placedInHalf, type WallLaw } from "./judge.ts";
import { type Kept, type Outer, outerOf } from "./outer.ts";
import { type RecessSheet, recessSheet } from "./recess-surface.ts";
import { AS_MEANT, type SetUpErrors } from "./set-up-errors.ts";

/** What of a finger room walls depend on. */
export type WalledRoom = Pick<FingerRoom, "section" | "hollow" | "depth" | "cut" | "opensOver">;

/** The blank or one half, as judged. `upper half` lies towards larger y (90°). */
export type JudgedBody = "blank" | "upper half" | "lower half" | "half";

/** The law's answer for the blank and each half. */
export interface WallMap {
  readonly bodies: readonly (Judged & { readonly body: JudgedBody })[];
  readonly holds: boolean;
}

/** How a wall map is made. */
export interface WallMapOptions {
  /** Distance between samples, mm. */
  readonly step: number;
  /** How the blank is split afterwards; a half that is hollowed from its flat needs none. */
  readonly split?: Split;
  readonly errors?: SetUpErrors;
  /** Narrower all round by this, mm. */
  readonly narrower?: number;
  /** Whether samples for drawing are wanted, or only the verdict. */
  readonly want: "map" | "figures" | "verdict";
  /** false: by samples and creases alone, without the bound between them; for trying many variants. */
  readonly bounded?: boolean;
  /** The recess's surface where it is at hand, made with the same step, bit and narrowing. */
  readonly sheet?: RecessSheet;
  /** What is known of the whole blank's depths from the recess as meant. */
  readonly known?: Known;
}

/**
 * The surface of a room in a solid, made once for many set-ups.
 * @param o.errors none is farther off than this: the wall is carried up so far that it always reaches the wood's surface
 */
export function sheetOf(
  solid: TurnedSolid,
  room: WalledRoom,
  o: { readonly step: number; readonly bit?: number; readonly narrower?: number; readonly errors: SetUpErrors },
): RecessSheet {
  const tallest = solid.meridian.segments.reduce((most, s) => Math.max(most, boundsOf(s).max.y), 0);
  const e = o.errors;
  const box = boundsOfRegion(room.section);
  const across = box === undefined ? 0 : Math.max(Math.abs(box.min.y), Math.abs(box.max.y));
  const half = box === undefined ? 0 : (box.max.x - box.min.x) / 2;
  const turn = Math.abs(e.angleDeg * Math.PI) / 180;
  const tilt = Math.abs(e.tiltDeg * Math.PI) / 180;
  // A turned recess lies lower on one side by its half width's share, and all of it by what the turn shortens.
  const lower =
    across * Math.tan(turn) + half * Math.tan(tilt) + 2 * tallest * (1 / (Math.cos(turn) * Math.cos(tilt)) - 1);
  const above = Math.max(0, e.radius) + Math.abs(e.zeroZ) + lower;
  const flat = solid.flatTop === undefined ? Number.POSITIVE_INFINITY : solid.flatTop - solid.axis.z;
  return recessSheet(room, {
    mouth: mouthPlaneOf(solid, room),
    highest: Math.min(tallest + above, flat + above),
    step: o.step,
    bit: o.bit ?? 0,
    narrower: o.narrower ?? 0,
  });
}

/**
 * Walls and lip of a finger room in a turned blank, and in both halves after the split: thinnest places and sharpest lip
 * with bounds, break-outs, and whether the law holds. The room's section lies in the solid's own x and in y from its axis.
 * In the half plane (x, radius) the distance from a place to a surface of revolution is the distance to the meridian: each
 * sample is exact; between samples patches are halved until a bound decides.
 */
export function wallMap(solid: TurnedSolid, room: WalledRoom, law: WallLaw, o: WallMapOptions): WallMap {
  const errors = o.errors ?? AS_MEANT;
  const bodies: (Judged & { readonly body: JudgedBody })[] = [];
  const options = {
    map: o.want === "map",
    quick: o.want === "verdict",
    bounded: o.bounded ?? true,
    cut: room.cut,
    ...(room.opensOver === undefined
      ? {}
      : { opensTowards: room.opensOver === "crown side" ? (1 as const) : (-1 as const) }),
  };
  const whole = outerOf(solid, undefined, errors.radius);
  const sheet = o.sheet ?? sheetOf(solid, room, { ...o, bit: errors.bit, errors });
  const surface = sheet.laid(errors);
  const inWhole = placed(surface, whole, o.known);
  const add = (body: JudgedBody, outer: Outer, places: Placed): boolean => {
    const judged = judge(surface, outer, law, options, places);
    bodies.push({ ...judged, body });
    // A narrow room may lie wholly in what the saw takes: then a half has none of it.
    return judged.holds || (outer.kept !== undefined && !judged.inWood && judged.breakOut === undefined);
  };
  let holds = add(room.cut === "back" ? "half" : "blank", whole, inWhole);
  if (o.split !== undefined && room.cut === "crown" && (holds || o.want !== "verdict")) {
    for (const side of [1, -1] as const) {
      const kept: Kept = { side, loss: lossPerHalf(o.split).most };
      const outer = outerOf(solid, kept, errors.radius);
      holds = add(side > 0 ? "upper half" : "lower half", outer, placedInHalf(inWhole, outer)) && holds;
      if (!holds && o.want === "verdict") break;
    }
  }
  return { bodies, holds };
}

/** Height above the axis of the plane where a room's section and hollow begin, mm. */
export function mouthPlaneOf(solid: TurnedSolid, room: WalledRoom): number {
  if (solid.flatTop !== undefined) return solid.flatTop - solid.axis.z;
  const box = boundsOfRegion(room.section);
  if (box === undefined) throw new RangeError("a recess without an outline");
  const middle = (box.min.x + box.max.x) / 2;
  const square = solid.squares.find((s) => s.from <= middle && middle <= s.to);
  return radiiAt(solid.meridian, middle)?.most ?? (square ? square.side / 2 : 0);
}
