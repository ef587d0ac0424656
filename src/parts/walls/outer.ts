import type { TurnedSolid } from "../../shapes/turned-solid.ts";
import { type HalfSection, halfSectionOf } from "./half-section.ts";

/**
 * What is kept of a blank when it is split: the side of the axis plane it lies on (+1 towards larger y) and how far from
 * that plane its trued face lies, mm.
 */
export interface Kept {
  readonly side: 1 | -1;
  readonly loss: number;
}

/** A box in axis coordinates: x along the axis, u = y − axis, v = z − axis. mm. */
export interface AxisBox {
  readonly x0: number;
  readonly x1: number;
  readonly u0: number;
  readonly u1: number;
  readonly v0: number;
  readonly v1: number;
}

/** The outer surface of a turned blank or half before anything is hollowed: its distances, in axis coordinates. mm. */
export interface Outer {
  readonly section: HalfSection;
  /** The level flat of a half that lies flat up. */
  readonly flat?: number;
  readonly kept?: Kept;
  /** Where the wood begins and ends along the axis, squares included. */
  readonly from: number;
  readonly to: number;
  /**
   * Distance to the nearest outer surface: exact inside the wood while below `cut` (else at least `cut`); outside,
   * negative, and no farther than the truth.
   */
  depth(x: number, u: number, v: number, cut: number): number;
  /** No more than the depth of any point of a box; ≤ 0 when it is not wholly within. */
  leastDepth(box: AxisBox): number;
  /** Least distance to the plain surfaces alone: flat, split face, square sides and ends. */
  plainDepth(x: number, u: number, v: number): number;
  /** Least distance to square sides and ends alone; `cut`, or Infinity, where there is nothing nearer. */
  squareDepth(x: number, u: number, v: number, cut?: number): number;
}

interface Block {
  readonly from: number;
  readonly to: number;
  readonly half: number;
}

/**
 * The outer surface of a solid.
 * @param grown error of the blank's radius, mm
 */
export function outerOf(solid: TurnedSolid, kept?: Kept, grown = 0): Outer {
  const first = solid.meridian.segments[0]?.from.x ?? 0;
  const last = solid.meridian.segments[solid.meridian.segments.length - 1]?.to.x ?? 0;
  const meets = (at: number): boolean => solid.squares.some((s) => s.from <= at && s.to >= at);
  const section = halfSectionOf(solid.meridian, grown, meets(first), meets(last));
  // A square is waste that is wood until the split; within the turned stretch it isn't counted upon.
  const blocks: readonly Block[] = solid.squares
    .map((s) => ({
      from: s.from < first ? s.from : Math.max(s.from, last),
      to: s.from < first ? Math.min(s.to, first) : s.to,
      half: s.side / 2,
    }))
    .filter((b) => b.to > b.from);
  const from = Math.min(first, ...blocks.map((b) => b.from));
  const to = Math.max(last, ...blocks.map((b) => b.to));
  const flat = solid.flatTop === undefined ? undefined : solid.flatTop - solid.axis.z;
  /** The ring where a square and the round meet, by its radius. */
  const joinOf = (b: Block): { readonly x: number; readonly radius: number } =>
    b.to <= first ? { x: b.to, radius: section.radiusAt(first) } : { x: b.from, radius: section.radiusAt(last) };
  const joins = blocks.map(joinOf);

  const squareDepth = (x: number, u: number, v: number, cut = Number.POSITIVE_INFINITY): number => {
    let least = cut;
    for (let k = 0; k < blocks.length; k++) {
      const b = blocks[k]!;
      const along = Math.max(0, b.from - x, x - b.to);
      // Its shoulder and its end lie no nearer along the axis.
      if (along >= least) continue;
      const side = Math.max(0, b.half - Math.max(Math.abs(u), Math.abs(v)));
      least = Math.min(least, Math.hypot(along, side));
      // The square's inner shoulder begins where the round ends.
      const join = joins[k]!;
      least = Math.min(least, Math.hypot(join.x - x, Math.max(0, join.radius - Math.hypot(u, v))));
      if (join.radius > b.half) least = Math.min(least, Math.hypot(join.x - x, side));
      least = Math.min(
        least,
        b.from === from ? Math.abs(x - from) : Infinity,
        b.to === to ? Math.abs(to - x) : Infinity,
      );
    }
    return least;
  };

  const plainDepth = (x: number, u: number, v: number): number => cutBack(squareDepth(x, u, v), u, v);

  const cutBack = (deep: number, u: number, v: number): number => {
    let least = deep;
    if (flat !== undefined && flat - v < least) least = flat - v;
    if (kept !== undefined && kept.side * u - kept.loss < least) least = kept.side * u - kept.loss;
    return least;
  };

  const inBlock = (b: Block, x: number, u: number, v: number): boolean =>
    x > b.from && x < b.to && Math.abs(u) < b.half && Math.abs(v) < b.half;

  const depth = (x: number, u: number, v: number, cut: number): number => {
    const rho = Math.sqrt(u * u + v * v);
    const turned = x >= first && x <= last && rho <= section.radiusAt(x);
    if (blocks.length === 0) {
      if (turned) return cutBack(section.distance(x, rho, cut), u, v);
      return cutBack(-section.distance(x, rho, Number.POSITIVE_INFINITY), u, v);
    }
    const i = turned ? -1 : blocks.findIndex((b) => inBlock(b, x, u, v));
    if (!turned && i < 0) {
      let away = section.distance(x, rho, Number.POSITIVE_INFINITY);
      for (const b of blocks) {
        const gap = Math.hypot(
          Math.max(0, b.from - x, x - b.to),
          Math.max(0, Math.abs(u) - b.half),
          Math.max(0, Math.abs(v) - b.half),
        );
        away = Math.min(away, gap);
      }
      return cutBack(-away, u, v);
    }
    const turnedDepth = turned ? section.distance(x, rho, cut) : cut;
    return cutBack(squareDepth(x, u, v, turnedDepth), u, v);
  };

  const leastDepth = (b: AxisBox): number => {
    const farU = Math.max(Math.abs(b.u0), Math.abs(b.u1));
    const farV = Math.max(Math.abs(b.v0), Math.abs(b.v1));
    const nearU = b.u0 <= 0 && b.u1 >= 0 ? 0 : Math.min(Math.abs(b.u0), Math.abs(b.u1));
    const nearV = b.v0 <= 0 && b.v1 >= 0 ? 0 : Math.min(Math.abs(b.v0), Math.abs(b.v1));
    let least = section.leastDistance(b.x0, b.x1, Math.hypot(nearU, nearV), Math.hypot(farU, farV));
    if (blocks.length > 0) {
      // Squares and their shoulders: by the middle and half a diagonal.
      const half = Math.hypot(b.x1 - b.x0, b.u1 - b.u0, b.v1 - b.v0) / 2;
      const mid = depth((b.x0 + b.x1) / 2, (b.u0 + b.u1) / 2, (b.v0 + b.v1) / 2, Number.POSITIVE_INFINITY);
      least = least > 0 ? Math.min(least, Math.max(mid - half, leastOverBlocks(b, farU, farV))) : mid - half;
    }
    if (flat !== undefined) least = Math.min(least, flat - b.v1);
    if (kept) least = Math.min(least, (kept.side > 0 ? b.u0 : -b.u1) - kept.loss);
    return least;
  };

  /** Least distance from a box within the turned stretch to squares beside it. */
  const leastOverBlocks = (b: AxisBox, farU: number, farV: number): number => {
    let least = Number.POSITIVE_INFINITY;
    const rho = Math.hypot(farU, farV);
    for (const [k, block] of blocks.entries()) {
      const along = Math.max(0, block.from - b.x1, b.x0 - block.to);
      const side = Math.max(0, block.half - Math.max(farU, farV));
      const join = joins[k]!;
      const toJoin = Math.max(0, join.x - b.x1, b.x0 - join.x);
      least = Math.min(least, Math.hypot(along, side), Math.hypot(toJoin, Math.max(0, join.radius - rho)));
      if (join.radius > block.half) least = Math.min(least, Math.hypot(toJoin, side));
    }
    return Math.min(least, b.x0 - from, to - b.x1);
  };

  return {
    section,
    ...(flat === undefined ? {} : { flat }),
    ...(kept ? { kept } : {}),
    from,
    to,
    depth,
    leastDepth,
    plainDepth,
    squareDepth,
  };
}
