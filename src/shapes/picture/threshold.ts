import type { GreyPicture } from "./grey-picture.ts";

/** Share of a field's pixels that are darker than what counts as its paper. Ink rarely covers so much. Common practice, no source. */
const PAPER_RANK = 0.9;

/**
 * A picture with the paper made evenly white: each pixel divided by the paper's own light there, at most 1. The paper is
 * taken from fields (about 24 along the longer side): the light that nine pixels in ten of a field stay below, the lightest
 * of a field and its eight neighbours where ink fills it, and straight between the fields' middles. Shadows and lamps from
 * one side vanish as long as they change little within a field.
 */
export function flattenPaper(picture: GreyPicture): GreyPicture {
  const { width, height, grey } = picture;
  const side = Math.max(8, Math.ceil(Math.max(width, height) / 24));
  const across = Math.ceil(width / side);
  const down = Math.ceil(height / side);
  const fields = new Float64Array(across * down);
  // A thousand pixels say enough of a field.
  const step = Math.max(1, Math.floor(side / 32));
  for (let j = 0; j < down; j++) {
    for (let i = 0; i < across; i++) {
      const values: number[] = [];
      for (let y = j * side; y < Math.min(height, (j + 1) * side); y += step) {
        for (let x = i * side; x < Math.min(width, (i + 1) * side); x += step) values.push(grey[y * width + x]!);
      }
      const sorted = Float64Array.from(values).sort();
      fields[j * across + i] = sorted[Math.floor(PAPER_RANK * (sorted.length - 1))]!;
    }
  }
  const paper = withoutInkedFields(fields, across, down);
  const out = new Float32Array(grey.length);
  for (let y = 0, k = 0; y < height; y++) {
    const v = Math.min(down - 1, Math.max(0, (y + 0.5) / side - 0.5));
    const j = Math.min(Math.max(0, down - 2), Math.floor(v));
    const below = Math.min(down - 1, j + 1);
    for (let x = 0; x < width; x++, k++) {
      const u = Math.min(across - 1, Math.max(0, (x + 0.5) / side - 0.5));
      const i = Math.min(Math.max(0, across - 2), Math.floor(u));
      const right = Math.min(across - 1, i + 1);
      const top = paper[j * across + i]! * (1 - (u - i)) + paper[j * across + right]! * (u - i);
      const foot = paper[below * across + i]! * (1 - (u - i)) + paper[below * across + right]! * (u - i);
      const light = top * (1 - (v - j)) + foot * (v - j);
      // Where there is no light at all there is nothing to divide by, nor to see.
      out[k] = light > 0 ? Math.min(1, grey[k]! / light) : 1;
    }
  }
  return { width, height, grey: out };
}

/** Fields much darker than a neighbour hold ink, not shadow: they get the lightest neighbour's light, until none is left. */
function withoutInkedFields(fields: Float64Array, across: number, down: number): Float64Array {
  let now = fields;
  for (let round = 0; round < Math.max(across, down); round++) {
    const next = now.slice();
    let changed = false;
    for (let j = 0; j < down; j++) {
      for (let i = 0; i < across; i++) {
        let most = 0;
        for (let b = Math.max(0, j - 1); b <= Math.min(down - 1, j + 1); b++) {
          for (let a = Math.max(0, i - 1); a <= Math.min(across - 1, i + 1); a++) {
            most = Math.max(most, now[b * across + a]!);
          }
        }
        if (now[j * across + i]! < 0.6 * most) {
          next[j * across + i] = most;
          changed = true;
        }
      }
    }
    now = next;
    if (!changed) break;
  }
  return now;
}

/** Where ink ends and paper begins. */
export interface Threshold {
  /** Grey below which is ink, 0 to 1. */
  readonly level: number;
  /** Mean grey of the ink. */
  readonly ink: number;
  /** Mean grey of the paper. */
  readonly paper: number;
}

const STEPS = 256;

/**
 * The grey that parts a picture best in two: where the variance between the two classes, w0 w1 (m0 − m1)², is largest, of
 * 256 steps; amid the steps that do equally well. Undefined for a picture of one grey.
 * Source: Otsu, IEEE Trans. Systems, Man, and Cybernetics 9, 1979.
 */
export function otsu(picture: GreyPicture): Threshold | undefined {
  const count = new Float64Array(STEPS);
  const sum = new Float64Array(STEPS);
  for (const v of picture.grey) {
    const step = Math.min(STEPS - 1, Math.max(0, Math.floor(v * STEPS)));
    count[step]!++;
    sum[step]! += v;
  }
  const all = picture.grey.length;
  const total = sum.reduce((s, v) => s + v, 0);
  let n = 0;
  let light = 0;
  let best = 0;
  let first = 0;
  let last = 0;
  let found: Threshold | undefined;
  for (let t = 0; t < STEPS - 1; t++) {
    n += count[t]!;
    light += sum[t]!;
    if (n === 0 || n === all) continue;
    const ink = light / n;
    const paper = (total - light) / (all - n);
    const between = n * (all - n) * (ink - paper) ** 2;
    if (between > best * (1 + 1e-12)) {
      best = between;
      first = t;
      last = t;
      found = { level: 0, ink, paper };
    } else if (found !== undefined && between >= best * (1 - 1e-12) && t === last + 1) last = t;
  }
  return found === undefined ? undefined : { ...found, level: ((first + last) / 2 + 1) / STEPS };
}
