/**
 * A rotary axis, A, lying along X, that turns a blank between a chuck and a centre. Filled by reading the shop file: there
 * is no built-in one, since what it holds and which way it turns must be looked at. mm, degrees.
 *
 * A 0 is where the crown of the blank (0° of the part) is up. Zero of a program is on the axis: X 0 at the blank's first
 * end, Y 0 and Z 0 on the axis.
 */
export interface RotaryAxis {
  /** Height of the axis above the bed. */
  readonly height: number;
  /** Largest diameter that turns free of everything, corners included. */
  readonly swing: number;
  /** Chuck at the blank's first end: its largest diameter, jaws open, and how much of the blank it takes. */
  readonly chuck: Holder;
  /** Centre at the second end. */
  readonly centre: Holder;
  /** Fastest turn, degrees a minute. */
  readonly topSpeed: number;
  /** degrees/s². */
  readonly acceleration: number;
  /** Where the crown goes when A grows: to the front (−Y) or to the back (+Y). */
  readonly crownGoes: "front" | "back";
}

/** One end's hold. `over`: how far along the blank it reaches, from the blank's end. */
export interface Holder {
  readonly diameter: number;
  readonly over: number;
}

/** How A and the way around the wood hang together on one radius. */
export interface Turning {
  readonly axis: RotaryAxis;
  /** Of the wood beneath the mark. */
  readonly radius: number;
}

/**
 * The angle that brings a place up beneath the beam, degrees of A. An arc of length s on radius R takes s / R radians; a
 * place behind the crown (+Y, over the upper edge) comes up as the crown goes to the front.
 * @param around from the crown over the upper edge, along the surface, mm
 */
export function turnFor({ axis, radius }: Turning, around: number): number {
  return (senseOf(axis) * around * 180) / (Math.PI * radius);
}

/** The place that is up beneath the beam at an angle of A: the inverse of `turnFor`. mm from the crown. */
export function aroundAt({ axis, radius }: Turning, deg: number): number {
  return (senseOf(axis) * deg * Math.PI * radius) / 180;
}

/** What an angle's speed or acceleration is on the surface: degrees to mm. */
export function surfaceOf(deg: number, radius: number): number {
  return (deg * Math.PI * radius) / 180;
}

function senseOf({ crownGoes }: RotaryAxis): 1 | -1 {
  return crownGoes === "front" ? 1 : -1;
}
