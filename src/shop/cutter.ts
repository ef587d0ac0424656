/**
 * Cutters as whole assemblies, from tip to spindle body. Filled by reading the shop file over the built-in defaults;
 * read by plan, simulate and proof.
 */

/** What the cutting end looks like. Lengths mm, angles degrees. */
export type CutterForm =
  | { readonly kind: "flat" }
  | { readonly kind: "round-nose" }
  | { readonly kind: "radiused-corner"; readonly cornerRadius: number }
  /** Included angle of the V; `tipFlat` is the diameter of the flat at its tip. */
  | { readonly kind: "v"; readonly includedAngle: number; readonly tipFlat: number }
  /** Point angle of a twist or brad-point drill. */
  | { readonly kind: "drill"; readonly pointAngle: number }
  | { readonly kind: "countersink"; readonly includedAngle: number; readonly tipFlat: number };

/** Which way the flutes throw the chip. */
export type FluteSense = "up-cut" | "down-cut" | "compression" | "straight";

/** Where a value came from: printed on every page when it is not the user's own. */
export type Provenance = "shop file" | "job file" | "built-in default";

/** One cutter, held. All lengths mm. Heights are measured up from the tip. */
export interface Cutter {
  readonly name: string;
  /** Slot number that the program calls; at least 1 on machines with a changer or a tool table. */
  readonly slot: number;
  readonly form: CutterForm;
  readonly fluteSense: FluteSense;
  readonly flutes: number;
  /** Diameter on the label. */
  readonly nominalDiameter: number;
  /** The diameter that everything is computed with: measured where the user gave it, else nominal. */
  readonly diameter: number;
  readonly diameterMeasured: boolean;
  /** Height up to which it cuts. */
  readonly fluteLength: number;
  /** Height at which the collet's nut begins. */
  readonly stickOut: number;
  readonly shankDiameter: number;
  /** Radius at the tip that cannot cut straight down; 0 for a bit that plunges. */
  readonly deadCentre: number;
  /** Bit material, for bending. */
  readonly material: "carbide" | "steel";
  /** Highest speed printed on the cutter, rpm, when the user gave it. */
  readonly maxRpm?: number;
  /** Feed per tooth the user has found good in a named wood, mm. */
  readonly chipLoads: Readonly<Record<string, number>>;
  readonly from: Provenance;
}

/** Radius on a height interval, measured from the tip. mm. */
export type ProfilePiece =
  | { readonly kind: "cylinder"; readonly from: number; readonly to: number; readonly radius: number }
  /** Radius changes evenly from `fromRadius` at `from` to `toRadius` at `to`. */
  | {
      readonly kind: "cone";
      readonly from: number;
      readonly to: number;
      readonly fromRadius: number;
      readonly toRadius: number;
    }
  /** r(h) = core + √(R² − (R − (h − from))²): a quarter round of radius R outside a core. `to` − `from` ≤ R. */
  | {
      readonly kind: "round";
      readonly from: number;
      readonly to: number;
      readonly core: number;
      readonly radius: number;
    };

/** Which part of the assembly a piece belongs to. Only `cutter` may touch wood. */
export type AssemblyMember = "cutter" | "shank" | "nut" | "spindle body" | "laser head";

/** A body of revolution about an axis parallel to the spindle's, at `offset` from it. */
export interface AssemblyPiece {
  readonly member: AssemblyMember;
  readonly profile: ProfilePiece;
  /** Where the piece's own axis stands beside the spindle's, mm. Zero for all but what shares the carriage. */
  readonly offset: { readonly x: number; readonly y: number };
}

/** Everything that comes down with the tip, as radius at height, from tip to spindle body. */
export interface Assembly {
  readonly cutter: Cutter;
  readonly pieces: readonly AssemblyPiece[];
}
