import type { SetUp } from "../plan/setup.ts";
import type { Point3 } from "../shapes/point.ts";
import { boundsOf, lengthOf } from "../shapes/segment.ts";
import { topOver } from "../shapes/turned-section.ts";
import type { TurnedSolid } from "../shapes/turned-solid.ts";
import type { Assembly } from "../shop/cutter.ts";
import type { Gouge } from "./gouge.ts";
import type { LipCore } from "./lip-core.ts";
import { type Motion, placeAt } from "./motion.ts";
import { silhouetteOf, widest } from "./silhouette.ts";

/** Stretches shorter than this are not halved again, mm. */
const SHORTEST = 0.01;

/** Bounds this much above what was found are close enough, mm. */
const LOOSE = 5e-4;
/** Nor is a bound within what is allowed made closer on stretches shorter than this, mm. */
const CLOSE = 0.1;

/** Held against the lip itself instead of the box around round stock; undefined where the box has the last word. */
export type LipGouger = (m: Motion, assembly: Assembly, allowed: number) => Gouge | undefined;

/** Gouges of noses that ease lips: see `LipCore`. */
export function lipGouger(setUp: SetUp, cores: readonly LipCore[]): LipGouger {
  const { round } = setUp;
  return (m, assembly, allowed) => {
    if (round === undefined || assembly.cutter.form.kind !== "round-nose" || m.curve.kind !== "line") return undefined;
    if (!shankIsClear(round, m, assembly)) return undefined;
    const nose = assembly.cutter.diameter / 2;
    for (const core of cores) {
      const found = along(core, m, nose, allowed);
      if (found !== undefined) return found;
    }
    return undefined;
  };
}

/** Nothing but the fluted part comes as low as any wood that it could reach. */
function shankIsClear(round: TurnedSolid, m: Motion, assembly: Assembly): boolean {
  const zMin = Math.min(m.zFrom, m.zTo);
  const way = boundsOf(m.curve);
  return (["shank", "nut", "spindle body"] as const).every((member) => {
    const pieces = silhouetteOf(assembly, [member]);
    if (pieces.length === 0) return true;
    const top = topOver(round, way, widest(pieces, 0, Number.POSITIVE_INFINITY));
    return top === undefined || top <= zMin + Math.min(...pieces.map((p) => p.from));
  });
}

/**
 * Deepest on one straight motion. Above the nose the bit is a cylinder, and over any place the core's top is all that
 * counts, so straight up and down only the lowest place matters. Else the distance to a fixed body curves upwards nowhere
 * by more than its inverse: between two places ℓ apart it lies no lower than the lesser less ℓ²/(8 d), d the least distance.
 */
function along(core: LipCore, m: Motion, nose: number, allowed: number): Gouge | undefined {
  const middle = (t: number): Point3 => {
    const p = placeAt(m, t);
    return { x: p.x, y: p.y, z: p.z + nose };
  };
  const flat = lengthOf(m.curve);
  if (flat === 0) {
    const t = m.zTo < m.zFrom ? 1 : 0;
    const c = core.clearance(middle(t), nose);
    return c === undefined ? undefined : { depth: Math.max(0, -c), bound: m.slack, at: placeAt(m, t) };
  }
  const long = Math.hypot(flat, m.zTo - m.zFrom);
  let depth = 0;
  let most = 0;
  let at = placeAt(m, 0);
  const walk = (a: number, b: number, ca: number, cb: number): boolean => {
    const l = (b - a) * long;
    const low = Math.min(ca, cb);
    const sure = Math.max((ca + cb - l) / 2, l < nose ? low - (l * l) / (8 * (nose + low - l / 2)) : -Infinity);
    if (-low > depth) {
      depth = -low;
      at = placeAt(m, ca < cb ? a : b);
    }
    if (-sure <= Math.max(depth, allowed / 2) + LOOSE || (-sure <= allowed && l < CLOSE) || l < SHORTEST) {
      most = Math.max(most, -sure);
      return true;
    }
    const half = (a + b) / 2;
    const c = core.clearance(middle(half), nose);
    return c !== undefined && walk(a, half, ca, c) && walk(half, b, c, cb);
  };
  const [first, last] = [core.clearance(middle(0), nose), core.clearance(middle(1), nose)];
  if (first === undefined || last === undefined || !walk(0, 1, first, last)) return undefined;
  return { depth: Math.max(depth, most), bound: m.slack, at };
}
