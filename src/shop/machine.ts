import type { Provenance } from "./cutter.ts";
import type { Laser } from "./laser.ts";
import type { RotaryAxis } from "./rotary.ts";

/** What a controller understands, apart from its text dialect (which is the post's business). */
export interface Controller {
  readonly arcs: boolean;
  readonly toolTable: boolean;
  readonly toolChanger: boolean;
  /** Knows where it is after switching on: machine coordinates may be used. */
  readonly homes: boolean;
  /** Exact-path mode is understood; if not, `cornerError` says how far corners are rounded, mm. */
  readonly exactPath: boolean;
  readonly cornerError: number;
  /** Axes that a program may name. */
  readonly axes: readonly ("X" | "Y" | "Z" | "A")[];
}

/** How the spindle's speed is set. rpm. */
export type SpindleSpeed =
  | { readonly kind: "program"; readonly min: number; readonly max: number }
  | { readonly kind: "dial"; readonly positions: readonly { readonly mark: string; readonly rpm: number }[] };

/** A 3-axis router. Lengths mm, feeds mm/min, accelerations mm/s². */
export interface Machine {
  readonly name: string;
  readonly travel: { readonly x: number; readonly y: number; readonly z: number };
  readonly topFeed: { readonly x: number; readonly y: number; readonly z: number };
  readonly acceleration: { readonly x: number; readonly y: number; readonly z: number };
  /** Allowed departure from a corner when its speed is estimated, mm. */
  readonly cornerDeviation: number;
  readonly spindle: SpindleSpeed;
  readonly spindlePowerWatts: number;
  readonly spinUpSeconds: number;
  readonly spinDownSeconds: number;
  /** What sits above the collet: nut and spindle body, mm. */
  readonly nut: { readonly diameter: number; readonly length: number };
  readonly body: { readonly diameter: number; readonly length: number };
  /** A laser head on the same carriage: its axis from the spindle's, its radius, and its underside above the nut's lower face. */
  readonly laserHead?: { readonly x: number; readonly y: number; readonly radius: number; readonly underside: number };
  /** What that head can do, where the shop has measured it. */
  readonly laser?: Laser;
  /** Turns a blank about an axis along X, where the machine has such an axis. */
  readonly rotary?: RotaryAxis;
  readonly controller: Controller;
  /** Name of the post that writes for it. */
  readonly post: string;
  readonly from: Provenance;
}
