/**
 * How depth is shown: a band of tints from pale straw to dark walnut, each with a hatching of its own, so that the
 * sheet reads the same in black and white. The tints fall steadily in lightness; the hatchings grow steadily denser.
 */

/** One step of the depth scale. */
export interface DepthInk {
  /** Depths shown with this ink: more than `over`, up to `upTo`, mm. */
  readonly over: number;
  readonly upTo: number;
  readonly tint: string;
  /** Gap between hatching lines, mm; 0 for none. */
  readonly gap: number;
  /** Direction of the hatching, degrees. */
  readonly angle: number;
  readonly crossed: boolean;
}

const TINTS = ["#f6ecd2", "#e6cf9c", "#cfa966", "#ab7f42", "#7d5629", "#4b3117"] as const;
const HATCHES = [
  { gap: 0, angle: 0, crossed: false },
  { gap: 5, angle: 30, crossed: false },
  { gap: 3.2, angle: 30, crossed: false },
  { gap: 2.2, angle: 120, crossed: false },
  { gap: 2.6, angle: 30, crossed: true },
  { gap: 1.6, angle: 30, crossed: true },
] as const;

/**
 * The depth scale of one sheet: one ink for each depth that occurs, or even steps when there are more than six.
 * @param depths depths of the cuts shown, mm, any order
 */
export function depthInks(depths: readonly number[]): readonly DepthInk[] {
  const sorted = [...new Set(depths.map((d) => Math.round(d * 100) / 100))].filter((d) => d > 0).sort((a, b) => a - b);
  if (sorted.length === 0) return [];
  const deepest = sorted[sorted.length - 1]!;
  const tops = sorted.length <= TINTS.length ? sorted : TINTS.map((_, i) => (deepest * (i + 1)) / TINTS.length);
  return tops.map((upTo, i) => {
    const k = tops.length === 1 ? 2 : Math.round((i * (TINTS.length - 1)) / (tops.length - 1));
    return { over: i === 0 ? 0 : tops[i - 1]!, upTo, tint: TINTS[k]!, ...HATCHES[k]! };
  });
}

/** Which ink shows a depth: its place in the scale. */
export function inkFor(depth: number, inks: readonly DepthInk[]): number {
  const at = inks.findIndex((ink) => depth <= ink.upTo + 0.006);
  return at < 0 ? inks.length - 1 : at;
}
