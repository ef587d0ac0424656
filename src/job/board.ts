/** Length along x, width along y, thickness along z. mm. */
export interface Size {
  readonly length: number;
  readonly width: number;
  readonly thickness: number;
}

/**
 * The six faces of a board. `face` looks along +z and is the one up when features don't say otherwise; `back` along
 * −z; lower/upper edge along −y/+y; first/second end along −x/+x.
 */
export type FaceName = "face" | "back" | "lower edge" | "upper edge" | "first end" | "second end";
