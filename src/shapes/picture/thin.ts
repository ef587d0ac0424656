import type { Bitmap } from "./grey-picture.ts";
import { patchesOf } from "./specks.ts";

/** Ink thinned to lines one pixel wide. */
export interface Thinned extends Bitmap {
  /** 1 is on a centre line, or in a patch that was kept whole. */
  readonly bits: Uint8Array;
  /** Patches of which thinning would have left nothing (a square of two by two), kept whole: their pixels' numbers. */
  readonly kept: readonly (readonly number[])[];
}

/**
 * Thins ink to its centre lines. With P2 to P9 clockwise from above, a pixel goes when it has 2 to 6 neighbours, one
 * change from paper to ink around it, and in the first half-pass P2 P4 P6 = 0 and P4 P6 P8 = 0, in the second
 * P2 P4 P8 = 0 and P2 P6 P8 = 0; each half-pass marks, then takes away, until none goes.
 * Source: Zhang & Suen, CACM 27(3), 1984. Its known flaws: small patches vanish, so those are
 * kept; and slanting lines are eaten from their ends, which `least` 3 stops at the price of more stubs (Lü & Wang, CACM
 * 29(3), 1986, from memory).
 * @param least fewest neighbours of a pixel that goes: 2 as published, 3 for lines drawn at a slant
 */
export function thin(ink: Bitmap, least: 2 | 3 = 2): Thinned {
  const { width, height } = ink;
  const w = width + 2;
  // A rim of paper spares the test for the border.
  const bits = new Uint8Array(w * (height + 2));
  let alive: number[] = [];
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      if (ink.bits[y * width + x] !== 1) continue;
      const at = (y + 1) * w + x + 1;
      bits[at] = 1;
      alive.push(at);
    }
  }
  const around = [-w, 1 - w, 1, w + 1, w, w - 1, -1, -w - 1] as const;
  const goes = (at: number, first: boolean): boolean => {
    let neighbours = 0;
    let changes = 0;
    let before = bits[at + around[7]]!;
    for (const step of around) {
      const now = bits[at + step]!;
      neighbours += now;
      if (before === 0 && now === 1) changes++;
      before = now;
    }
    if (neighbours < least || neighbours > 6 || changes !== 1) return false;
    const p2 = bits[at - w]!;
    const p4 = bits[at + 1]!;
    const p6 = bits[at + w]!;
    const p8 = bits[at - 1]!;
    return first ? p2 * p4 * p6 === 0 && p4 * p6 * p8 === 0 : p2 * p4 * p8 === 0 && p2 * p6 * p8 === 0;
  };
  for (let gone = true; gone; ) {
    gone = false;
    for (const first of [true, false]) {
      const marked = alive.filter((at) => goes(at, first));
      if (marked.length === 0) continue;
      gone = true;
      for (const at of marked) bits[at] = 0;
      alive = alive.filter((at) => bits[at] === 1);
    }
  }
  const out = new Uint8Array(width * height);
  for (const at of alive) out[(Math.floor(at / w) - 1) * width + (at % w) - 1] = 1;
  const patches = patchesOf(ink, 1);
  const lives = new Uint8Array(patches.areas.length);
  for (let i = 0; i < out.length; i++) if (out[i] === 1) lives[patches.of[i]!] = 1;
  const whole = new Map<number, number[]>();
  for (let i = 0; i < out.length; i++) {
    const patch = patches.of[i]!;
    if (patch < 0 || lives[patch] === 1) continue;
    out[i] = 1;
    const pixels = whole.get(patch);
    if (pixels === undefined) whole.set(patch, [i]);
    else pixels.push(i);
  }
  return { width, height, bits: out, kept: [...whole.values()] };
}
