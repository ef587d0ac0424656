import type { Finding } from "../finding.ts";
import type { CradleWish, JawsWish } from "../job/wishes.ts";
import { faceExtent } from "../parts/faces.ts";
import type { Cavity, Workpiece } from "../parts/workpiece.ts";
import { type Frame, toSetup } from "../shapes/frame.ts";
import { boundsOfRegion } from "../shapes/region.ts";
import { reachOver } from "../shapes/turned-section.ts";
import { extentOfSolid, type SquareStretch, type TurnedSolid } from "../shapes/turned-solid.ts";
import type { Held } from "./hold.ts";
import { hasSquareEnds } from "./round-placing.ts";
import type { KeepOut, Rest } from "./setup.ts";

/** A cheek's thickness where the job doesn't say, mm. Common practice, no source. */
const CHEEK = 20;
/** How far a planned cheek stays below the top of the square it grips, so that the nut passes over it, mm. */
const CHEEK_BELOW = 4;
/** Wood beneath the seat of a planned cradle, mm; width of a cradle along the blank; height of its caul. Common practice, no source. */
const UNDER_SEAT = 8;
const CRADLE = 12;
const CAUL = 12;
/** A cradle stays this far from what is cut, mm: room for the nut beside the caul. */
const BESIDE_CUT = 14;
/** Thickness of a cradle's horns beside the wood, up to the axis, mm. */
const HORN = 10;

/** A cradle as planned, along the blank from its first end. mm. */
export interface Cradle {
  readonly name: string;
  readonly from: number;
  readonly to: number;
  readonly radius: number;
  readonly seat: number;
  readonly caul: number;
}

/** Cradles with the height at which they carry the axis above the waste board. */
export interface Cradles {
  readonly cradles: readonly Cradle[];
  readonly axisHeight: number;
  /** How much the axis rises from the first cradle to the last, mm a mm; 0 where the seats fit their ends. */
  readonly tilt: number;
  readonly assumed: boolean;
}

/** What holds a turned blank: jaws on its square ends, or cradles. */
export type RoundHold =
  | { readonly kind: "jaws"; readonly jaws: readonly JawsWish[]; readonly assumed: boolean }
  | ({ readonly kind: "cradles" } & Cradles);

/** Chooses how a turned blank is held: as the job says, else jaws on square ends, else cradles clear of all cuts. */
export function roundHold(workpiece: Workpiece, round: TurnedSolid): RoundHold | Finding {
  const wish = workpiece.wishes.holding;
  const place = { part: workpiece.name, source: workpiece.source };
  const jaws = wish?.by === "jaws" || (wish?.by !== "cradles" && hasSquareEnds(workpiece));
  const said = wish?.by === "jaws" || wish?.by === "cradles";
  if (wish !== undefined && !said) {
    return {
      grade: "refuse",
      code: "plan-round-holding",
      place,
      what: `a turned blank cannot be held by ${wish.by}`,
      why: "it touches what it lies on along a line only, and would roll",
      mend: "leave square ends on it and hold them in jaws, or lay it in cradles with cauls",
    };
  }
  if (jaws) {
    if (round.squares.length === 0) {
      return {
        grade: "refuse",
        code: "plan-round-holding",
        place,
        what: "jaws need square ends, and this blank has none",
        why: "a round gripped by its flanks is neither clocked nor held against rolling",
        mend: "leave both ends square until the split, or lay it in cradles with cauls",
      };
    }
    const given = wish?.by === "jaws" ? wish.jaws : [];
    return {
      kind: "jaws",
      jaws: given.length > 0 ? given : round.squares.map((s, i) => jawsOn(round, s, i)),
      assumed: given.length === 0,
    };
  }
  const given = wish?.by === "cradles" ? wish.cradles : [];
  return { kind: "cradles", ...cradlesFor(workpiece, round, given) };
}

function jawsOn(round: TurnedSolid, s: SquareStretch, i: number): JawsWish {
  const top = Math.min(s.side / 2, (round.flatTop ?? Number.POSITIVE_INFINITY) - round.axis.z);
  return {
    name: `jaws ${i + 1}`,
    at: s.from,
    along: s.to - s.from,
    thickness: CHEEK,
    height: top - CHEEK_BELOW,
  };
}

/** Cradles as given, or two planned ones; seats that carry the axis level unless the job says their heights. */
function cradlesFor(workpiece: Workpiece, round: TurnedSolid, given: readonly CradleWish[]): Cradles {
  const places: readonly CradleWish[] =
    given.length > 0
      ? given
      : freePlaces(workpiece, round).map((at, i) => ({
          name: `cradle ${i + 1}`,
          at,
          along: CRADLE,
          caulHeight: CAUL,
        }));
  const { from, to } = extentOfSolid(round);
  const radii = places.map((c) => reachOver(round, c.at, c.at + c.along));
  // The axis lies as high as the thickest seat asks, and no flange touches the waste board.
  const planned = Math.max(reachOver(round, from, to) + 1, ...radii.map((r) => r + UNDER_SEAT));
  const heights = places.map((c, i) => (c.seat === undefined ? undefined : c.seat + radii[i]!));
  const known = heights.filter((h) => h !== undefined);
  const axisHeight = known.length > 0 ? known.reduce((a, b) => a + b, 0) / known.length : planned;
  const cradles = places.map((c, i) => ({
    name: c.name,
    from: c.at,
    to: c.at + c.along,
    radius: radii[i]!,
    seat: c.seat ?? Math.round((axisHeight - radii[i]!) * 100) / 100,
    caul: c.caulHeight,
  }));
  const a = cradles[0];
  const b = cradles[cradles.length - 1];
  const apart = a === undefined || b === undefined ? 0 : (b.from + b.to - a.from - a.to) / 2;
  const tilt = known.length === 0 || apart === 0 ? 0 : (b!.seat + b!.radius - a!.seat - a!.radius) / apart;
  return { cradles, axisHeight, tilt, assumed: given.length === 0 };
}

/** One place near each end where nothing is cut: where the profile changes least, the nearer the end the better. */
function freePlaces(workpiece: Workpiece, round: TurnedSolid): readonly number[] {
  const { from, to } = extentOfSolid(round);
  const cuts = workpiece.cavities.flatMap((c) => alongBlank(workpiece, c));
  const middle = (from + to) / 2;
  const pick = (low: number, high: number, end: number): number[] => {
    let best: { at: number; cost: number } | undefined;
    for (let at = low; at <= high - CRADLE + 1e-9; at++) {
      if (cuts.some((c) => at < c.to + BESIDE_CUT && at + CRADLE > c.from - BESIDE_CUT)) continue;
      const widths = Array.from({ length: 12 }, (_, k) => reachOver(round, at + k, at + k + 1));
      const cost = Math.max(...widths) - Math.min(...widths) + 0.02 * Math.abs(at + CRADLE / 2 - end);
      if (best === undefined || cost < best.cost - 1e-9) best = { at, cost };
    }
    return best === undefined ? [] : [best.at];
  };
  return [...pick(from, middle, from), ...pick(middle, to, to)];
}

/** The stretch of a turned blank's axis that a cavity of one of its sides takes, from the first end. */
export function alongBlank(workpiece: Workpiece, c: Cavity): readonly { readonly from: number; readonly to: number }[] {
  const box = boundsOfRegion(c.section);
  if (box === undefined) return [];
  const { u } = faceExtent(workpiece.size, c.face);
  const back = c.face === "back" || c.face === "upper edge";
  return back ? [{ from: u - box.max.x, to: u - box.min.x }] : [{ from: box.min.x, to: box.max.x }];
}

/** The holding in set-up coordinates: where wood is held, and the solids in the way. */
export function roundHeld(
  hold: RoundHold,
  solid: TurnedSolid,
  frame: Frame,
  bedZ: number,
): Held & { readonly rests: readonly Rest[] } {
  const x = (at: number): number => toSetup(frame, { x: at, y: 0, z: 0 }).x;
  const stretch = (from: number, to: number) => ({ from: Math.min(x(from), x(to)), to: Math.max(x(from), x(to)) });
  const { y, z } = solid.axis;
  const top = solid.flatTop ?? Number.POSITIVE_INFINITY;
  const box = (s: { from: number; to: number }, y0: number, y1: number, z0: number, z1: number): KeepOut["box"] => ({
    min: { x: s.from, y: y0, z: z0 },
    max: { x: s.to, y: y1, z: z1 },
  });
  switch (hold.kind) {
    case "jaws": {
      const jaws = hold.jaws.map((j) => ({ j, ...stretch(j.at, j.at + j.along) }));
      const held = jaws.map((j) => ({ ...j, half: reachAt(solid, j.from, j.to) }));
      return {
        holding: {
          kind: "spots",
          by: "jaws",
          spots: held.map(({ from, to, half }) => ({ min: { x: from, y: y - half }, max: { x: to, y: y + half } })),
        },
        keepOuts: held.flatMap((s) => [
          {
            name: `${s.j.name}, front cheek`,
            box: box(s, y - s.half - s.j.thickness, y - s.half, bedZ, z + s.j.height),
          },
          {
            name: `${s.j.name}, back cheek`,
            box: box(s, y + s.half, y + s.half + s.j.thickness, bedZ, z + s.j.height),
          },
        ]),
        rests: [],
        assumed: hold.assumed,
      };
    }
    case "cradles": {
      const cradles = hold.cradles.map((c) => ({ c, ...stretch(c.from, c.to) }));
      return {
        holding: {
          kind: "spots",
          by: "cradles",
          spots: cradles.map(({ c, from, to }) => ({
            min: { x: from, y: y - c.radius },
            max: { x: to, y: y + c.radius },
          })),
        },
        keepOuts: cradles.flatMap((s) => {
          const r = s.c.radius;
          const horns = Math.min(z, top);
          return [
            { name: `${s.c.name}, front horn`, box: box(s, y - r - HORN, y - r, bedZ, horns) },
            { name: `${s.c.name}, back horn`, box: box(s, y + r, y + r + HORN, bedZ, horns) },
            { name: `caul over ${s.c.name}`, box: box(s, y - r, y + r, horns, Math.min(z + r, top) + s.c.caul) },
          ];
        }),
        rests: cradles.map(({ c, from, to }) => ({ name: c.name, from, to, seat: c.seat, radius: c.radius })),
        assumed: hold.assumed,
      };
    }
  }
}

/** Half the width that cheeks meet: of the squares, where there are any. */
function reachAt(solid: TurnedSolid, from: number, to: number): number {
  const sides = solid.squares.filter((s) => s.from < to && s.to > from).map((s) => s.side / 2);
  return sides.length > 0 ? Math.max(...sides) : reachOver(solid, from, to);
}
