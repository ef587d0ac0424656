import type { Finding } from "../../finding.ts";
import type { BeamSetUp } from "../../plan/beam-setup.ts";
import type { ReadProgram } from "../../reader/read-move.ts";
import { boundsOf } from "../../shapes/segment.ts";
import { sliceOf } from "../../shapes/turned-solid.ts";
import { type TurnTrouble, turnedUnder } from "../../simulate/turned-under.ts";
import { mm } from "../say.ts";
import { type BeamCase, placeOfBurn, placeOfLine } from "./case.ts";

/** The wood beneath a burn may differ this much from the radius that its angles are laid off on, mm. */
const ONE_RADIUS = 0.02;

/** A program as read, and unrolled where a rotary axis turns the wood beneath the beam. */
export interface Unrolled {
  readonly read: ReadProgram;
  readonly troubles: readonly TurnTrouble[];
}

/** Unrolls a program on the radius of its set-up; as it is where nothing turns. */
export function unrolledFor({ turning }: BeamSetUp, read: ReadProgram): Unrolled {
  if (turning === undefined) return { read, troubles: [] };
  const { events, troubles } = turnedUnder(read.events, turning);
  return { read: { ...read, events }, troubles };
}

/** What cannot be unrolled, and burns on wood of another radius than the angles are laid off on. */
export function turnFindings(c: BeamCase, troubles: readonly TurnTrouble[]): readonly Finding[] {
  const { turning } = c.setUp;
  if (turning === undefined) return [];
  const { radius, wood, axis } = turning;
  const found = troubles.map((t) => troubleFinding(c, t, axis.topSpeed));
  for (const burn of c.run.burns) {
    const { min, max } = boundsOf(burn.curve);
    const { radii, halfSides } = sliceOf(wood, min.x, max.x);
    const off =
      radii === undefined || halfSides.length > 0
        ? Number.POSITIVE_INFINITY
        : Math.max(radii.most - radius, radius - radii.least);
    if (off <= ONE_RADIUS) continue;
    found.push({
      grade: "refuse",
      code: "proof-beam-radius",
      place: placeOfBurn({ burn, from: c }),
      what: "the wood beneath the beam has another radius than the program turns it by",
      why: Number.isFinite(off) ? `by up to ${mm(off)}` : "there is a square end, or no wood",
      mend: "make the program again, or move the mark onto a cylinder",
    });
  }
  return found;
}

function troubleFinding(c: BeamCase, t: TurnTrouble, topSpeed: number): Finding {
  const place = placeOfLine(c, t.line);
  switch (t.kind) {
    case "angle unknown":
      return {
        grade: "refuse",
        code: "proof-beam-angle-unknown",
        place,
        what: "the beam's way begins where nobody knows how the wood is turned",
        why: "after a start or a stop A may stand anywhere",
        mend: "say A at safe height first",
      };
    case "arc":
    case "off axis":
      return {
        grade: "refuse",
        code: "proof-beam-off-axis",
        place,
        what: "the beam leaves the axis of the wood that turns beneath it",
        why:
          t.kind === "arc"
            ? "an arc moves Y, or bends X against Z"
            : `by ${mm(t.by)}: the wood lies lower there, and the mark comes out beside its place`,
        mend: "make the program again; never run this one",
      };
    case "too fast":
      return {
        grade: "refuse",
        code: "proof-beam-turn-fast",
        place,
        what: "the program turns the wood faster than the rotary axis can",
        why: "the controller would slow it down, or the motor lose its place",
        mend: "use a slower setting, or less wood: a smaller radius",
        measured: { value: t.speed, bound: 0, unit: "degrees a minute" },
        limit: { value: topSpeed, unit: "degrees a minute", from: "the rotary axis in the shop file" },
      };
  }
}
