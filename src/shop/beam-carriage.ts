import type { AssemblyPiece, ProfilePiece } from "./cutter.ts";
import type { Machine } from "./machine.ts";

/** Something upright and round that moves with the beam. */
export interface CarriagePiece extends AssemblyPiece {
  readonly profile: Extract<ProfilePiece, { readonly kind: "cylinder" }>;
}

/**
 * All that goes along with the spot, without a bit: head, nut and spindle body as upright cylinders. Heights above the
 * focus, offsets from the beam, mm. Empty for a machine without a laser head.
 */
export function beamCarriage(machine: Machine): readonly CarriagePiece[] {
  const { laser, laserHead: head, nut, body } = machine;
  if (laser === undefined || head === undefined) return [];
  const nutAt = laser.focusGap - head.underside;
  const bodyTop = nutAt + nut.length + body.length;
  const beside = { x: -laser.offset.x, y: -laser.offset.y };
  const cylinder = (
    member: AssemblyPiece["member"],
    from: number,
    to: number,
    radius: number,
    offset: AssemblyPiece["offset"],
  ): CarriagePiece => ({ member, profile: { kind: "cylinder", from, to, radius }, offset });
  return [
    cylinder("laser head", laser.focusGap, Math.max(bodyTop, laser.focusGap + 1), head.radius, { x: 0, y: 0 }),
    cylinder("nut", nutAt, nutAt + nut.length, nut.diameter / 2, beside),
    cylinder("spindle body", nutAt + nut.length, bodyTop, body.diameter / 2, beside),
  ];
}
