import type { RecessSurface } from "./recess-surface.ts";

/** The edge where a recess's judged surface leaves the wood, as short chords. mm. */
export interface Mouth {
  readonly pieces: number;
  /** Distance to the nearest of them; Infinity where there is none. */
  distance(x: number, u: number, v: number): number;
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
export function mouthOf(
  surface: RecessSurface,
  state: Uint8Array,
  inWood: (g: number, c: number) => boolean,
): Mouth {
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
    const crossDown: (readonly [number, number, number] | undefined)[] = new Array(count * down);
    const crossAlong: (readonly [number, number, number] | undefined)[] = new Array(count * down);
    for (let i = 0; i < count; i++) {
      const right = (i + 1) % count;
      for (let j = 0; j < down; j++) {
        const here = state[(begin + i) * down + j]!;
        if (here === ABSENT) continue;
        const below = j + 1 < down ? state[(begin + i) * down + j + 1]! : ABSENT;
        if (below !== ABSENT && below !== here) {
          const g = begin + i + 0.5;
          const c = between(j + 0.5, j + 1.5, (m) => inWood(g, m), here === WOOD);
          crossDown[i * down + j] = point(g, c);
        }
        const beside = state[(begin + right) * down + j]!;
        if (count > 1 && beside !== ABSENT && beside !== here) {
          const g = between(begin + i + 0.5, begin + i + 1.5, (m) => inWood(wrap(m), j + 0.5), here === WOOD);
          crossAlong[i * down + j] = point(wrap(g), j + 0.5);
        }
      }
    }
    for (let i = 0; i < count; i++) {
      const right = (i + 1) % count;
      for (let j = 0; j < down; j++) {
        const hits = [
          crossAlong[i * down + j],
          crossDown[right * down + j],
          j + 1 < down ? crossAlong[i * down + j + 1] : undefined,
          crossDown[i * down + j],
        ].filter((p) => p !== undefined);
        for (let k = 0; k < hits.length; k += 2) {
          const a = hits[k]!;
          const b = hits[k + 1] ?? a;
          ends.push(...a, ...b);
        }
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
    const s = t < 0 ? 0 : t > 1 ? 1 : t;
    return (x - ax - s * dx) ** 2 + (u - au - s * du) ** 2 + (v - av - s * dv) ** 2;
  };
  return {
    pieces: count,
    distance: (x, u, v) => {
      let [low, high] = [0, count];
      while (low < high) {
        const m = (low + high) >> 1;
        if (middle[m]! < x) low = m + 1;
        else high = m;
      }
      let least = Number.POSITIVE_INFINITY;
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
            reach = Math.sqrt(d) + half;
          }
        }
        if (goLeft) {
          const d = square(left--, x, u, v);
          if (d < least) {
            least = d;
            reach = Math.sqrt(d) + half;
          }
        }
      }
    },
  };
}
