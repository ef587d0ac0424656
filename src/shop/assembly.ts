import type { Assembly, AssemblyMember, AssemblyPiece, Cutter } from "./cutter.ts";
import type { Machine } from "./machine.ts";
import { cutterProfile } from "./profile.ts";

const ON_AXIS = { x: 0, y: 0 } as const;

/**
 * A cutter in its spindle, from tip to spindle body, and the laser head beside it where the machine carries one.
 * Heights in mm above the tip.
 *
 * The shank is taken at its full diameter from the end of the flutes up, although many taper there: a thicker shank than
 * the real one can only make the proof more careful.
 */
export function assemblyOf(cutter: Cutter, machine: Machine): Assembly {
  const nutTop = cutter.stickOut + machine.nut.length;
  const bodyTop = nutTop + machine.body.length;
  const pieces: AssemblyPiece[] = cutterProfile(cutter).map((profile) => ({
    member: "cutter",
    profile,
    offset: ON_AXIS,
  }));
  const add = (
    member: AssemblyMember,
    from: number,
    to: number,
    radius: number,
    offset: { readonly x: number; readonly y: number } = ON_AXIS,
  ): void => {
    if (to > from) pieces.push({ member, profile: { kind: "cylinder", from, to, radius }, offset });
  };
  add("shank", cutter.fluteLength, cutter.stickOut, cutter.shankDiameter / 2);
  add("nut", cutter.stickOut, nutTop, machine.nut.diameter / 2);
  add("spindle body", nutTop, bodyTop, machine.body.diameter / 2);
  const head = machine.laserHead;
  if (head) {
    const underside = cutter.stickOut + head.underside;
    add("laser head", underside, Math.max(bodyTop, underside + 1), head.radius, { x: head.x, y: head.y });
  }
  return { cutter, pieces };
}
