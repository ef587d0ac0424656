import type { Source } from "../finding.ts";
import type { Given } from "./drawers.ts";

/**
 * A divider that lies between two boards of the case and is joined to both by loose tenons, as the job describes it. Filled by
 * `readJob` from `dividers:`; read by `fit`, which writes the divider and its tenons out and cuts the mortises into the
 * case board named, and so into its mirror image. mm
 */
export interface DividerDescription {
  readonly name: string;
  readonly wood: Given<string>;
  /** Between the two case boards. */
  readonly length: Given;
  /** From its front edge to its back edge. */
  readonly depth: Given;
  readonly thickness: Given;
  /** From the case board's front edge to the divider's. */
  readonly setBack: Given;
  /** From the case board's first end to the middle of the divider's thickness. */
  readonly at: Given;
  /** The case board, a part of this job: its lower edge is its front edge. */
  readonly into: Given<string>;
  /** Width of the mortises; absent: planned. */
  readonly mortiseWidth?: Given;
  /** Mortises in the divider's own ends: a long divider stands higher on its end than most machines reach. */
  readonly ends: Given<"by hand" | "by machine">;
  readonly source: Source;
}
