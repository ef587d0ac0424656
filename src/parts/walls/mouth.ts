import type { AxisBox } from "./outer.ts";
import type { RecessSurface } from "./recess-surface.ts";

/** The edge where a recess's judged surface leaves the wood, as short chords. mm. */
export interface Mouth {
  readonly pieces: number;
  /** Distance to the nearest of them; Infinity where there is none. */
  distance(x: number, u: number, v: number): number;
  /** No point of the box lies farther from the edge than this: from the chord that was nearest when last asked. */
  farthest(box: AxisBox): number;
}

/** How a place of the lattice stands: in the air, in the wood, or beyond the middle line and so no place of the surface. */
export const AIR = 0;
export const WOOD = 1;
export const ABSENT = 2;

/** Halvings when an edge is looked for between two places of the lattice. */
const HALVINGS = 18;

/**
 * Finds the mouth between the middles of a surface's cells.
 * @param state of each cell's middle, cell (i, j) at i × down + j
 * @param inWood at any place
 */
export function mouthOf(surface: RecessSurface, state: Uint8Array, inWood: (g: number, c: number) => boolean): Mouth {
  const { down, loops } = surface;
  const ends: number[] = [];
  const out = new Float64Array(7);
  const point = (g: number, c: number): readonly [number, number, number] => {
    surface.place(g, c, out);
    return [out[0]!, out[1]!, out[2]!];
  };
  const between = (from: number, to: number, at: (t: number) => boolean, low: boolean): number => {
    let [a, b] = [from, to];
    for (let k = 0; k < HALVINGS; k++) {
      const m = (a + b) / 2;
      if (at(m) === low) a = m;
      else b = m;
    }
    return (a + b) / 2;
  };
  for (let l = 0; l + 1 < loops.length; l++) {
    const begin = loops[l]!;
    const count = loops[l + 1]! - begin;
    const wrap = (g: number): number => (g >= begin + count ? g - count : g);
    const crossDown = new Map<number, readonly [number, number, number]>();
    const crossAlong = new Map<number, readonly [number, number, number]>();
    const touched = new Set<number>();
    for (let i = 0; i < count; i++) {
      const right = (i + 1) % count;
      for (let j = 0; j < down; j++) {
        const here = state[(begin + i) * down + j]!;
        if (here === ABSENT) continue;
        const below = j + 1 < down ? state[(begin + i) * down + j + 1]! : ABSENT;
        if (below !== ABSENT && below !== here) {
          const g = begin + i + 0.5;
          const c = between(j + 0.5, j + 1.5, (m) => inWood(g, m), here === WOOD);
          crossDown.set(i * down + j, point(g, c));
          touched.add(i * down + j).add(((i + count - 1) % count) * down + j);
        }
        const beside = state[(begin + right) * down + j]!;
        if (count > 1 && beside !== ABSENT && beside !== here) {
          const g = between(begin + i + 0.5, begin + i + 1.5, (m) => inWood(wrap(m), j + 0.5), here === WOOD);
          crossAlong.set(i * down + j, point(wrap(g), j + 0.5));
          touched.add(i * down + j);
          if (j > 0) touched.add(i * down + j - 1);
        }
      }
    }
    // Each square of four middles that the edge passes gives a chord.
    for (const k of touched) {
      const j = k % down;
      const right = ((k - j) / down + 1) % count;
      const hits = [
        crossAlong.get(k),
        crossDown.get(right * down + j),
        j + 1 < down ? crossAlong.get(k + 1) : undefined,
        crossDown.get(k),
      ].filter((p) => p !== undefined);
      for (let h = 0; h < hits.length; h += 2) {
        const a = hits[h]!;
        ends.push(...a, ...(hits[h + 1] ?? a));
      }
    }
  }
  return indexed(ends);
}

/** Chords sorted along the axis, searched outwards from a place. */
function indexed(ends: readonly number[]): Mouth {
  const count = ends.length / 6;
  const order = Array.from({ length: count }, (_, i) => i).sort(
    (a, b) => ends[6 * a]! + ends[6 * a + 3]! - ends[6 * b]! - ends[6 * b + 3]!,
  );
  const data = new Float64Array(6 * count);
  const middle = new Float64Array(count);
  let half = 0;
  for (const [k, i] of order.entries()) {
    for (let q = 0; q < 6; q++) data[6 * k + q] = ends[6 * i + q]!;
    middle[k] = (ends[6 * i]! + ends[6 * i + 3]!) / 2;
    half = Math.max(half, Math.abs(ends[6 * i]! - ends[6 * i + 3]!) / 2);
  }
  const square = (k: number, x: number, u: number, v: number): number => {
    const o = 6 * k;
    const [ax, au, av] = [data[o]!, data[o + 1]!, data[o + 2]!];
    const [dx, du, dv] = [data[o + 3]! - ax, data[o + 4]! - au, data[o + 5]! - av];
    const long = dx * dx + du * du + dv * dv;
    const t = long === 0 ? 0 : ((x - ax) * dx + (u - au) * du + (v - av) * dv) / long;
    const s = Math.min(1, Math.max(0, t));
    return (x - ax - s * dx) ** 2 + (u - au - s * du) ** 2 + (v - av - s * dv) ** 2;
  };
  let nearest = -1;
  return {
    pieces: count,
    farthest: (b) => {
      if (nearest < 0) return Number.POSITIVE_INFINITY;
      // Distance from a chord is convex, so it is greatest at a corner.
      let most = 0;
      for (let k = 0; k < 8; k++) {
        const d = square(nearest, k & 1 ? b.x0 : b.x1, k & 2 ? b.u0 : b.u1, k & 4 ? b.v0 : b.v1);
        if (d > most) most = d;
      }
      return Math.sqrt(most);
    },
    distance: (x, u, v) => {
      let [low, high] = [0, count];
      while (low < high) {
        const m = (low + high) >> 1;
        if (middle[m]! < x) low = m + 1;
        else high = m;
      }
      let least = Number.POSITIVE_INFINITY;
      nearest = -1;
      let right = low;
      let left = low - 1;
      let reach = Number.POSITIVE_INFINITY;
      while (true) {
        const goRight = right < count && middle[right]! - x <= reach;
        const goLeft = left >= 0 && x - middle[left]! <= reach;
        if (!goRight && !goLeft) return Math.sqrt(least);
        if (goRight) {
          const d = square(right++, x, u, v);
          if (d < least) {
            least = d;
            nearest = right - 1;
            reach = Math.sqrt(d) + half;
          }
        }
        if (goLeft) {
          const d = square(left--, x, u, v);
          if (d < least) {
            least = d;
            nearest = left + 1;
            reach = Math.sqrt(d) + half;
          }
        }
      }
    },
  };
}
