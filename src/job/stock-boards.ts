import type { Source } from "../finding.ts";

/** The boards of one wood that lie in the shop, rough as they are. Filled from `stock:`; read by the cut list. */
export interface StockDescription {
  /** As the job calls it. */
  readonly wood: string;
  readonly boards: readonly StockBoard[];
  readonly source: Source;
}

/** Boards of one size, grain along their length. mm */
export interface StockBoard {
  readonly length: number;
  readonly width: number;
  readonly thickness: number;
  readonly count: number;
  readonly source: Source;
}

/** What a saw, a plane and squaring take where a job says nothing else, mm: common practice, no source. */
export const ROUGH = { length: 6, width: 1.5, thickness: 3, kerf: 1.5 } as const;
