import { type Finding, tidy } from "../../finding.ts";
import { radiiAt } from "../../shapes/meridian.ts";
import type { TurnedPiece } from "../turned-piece.ts";
import type { Support, Tilt } from "./holding.ts";
import { middleOf, mm, rounded } from "./numbers.ts";
import { SCREW } from "./seat.ts";
import { turnedStretch } from "./supports.ts";

/** Wood that must stand around the end screw, mm. Common practice, no source. */
const AROUND_SCREW = 3;
/** A lean over the finger room that is worth a caution, mm: ten times the accuracy of a program. */
const LEAN_CAUTION = 0.1;

export function tiltOf(
  piece: TurnedPiece,
  supports: readonly Support[],
  rooms: readonly { from: number; to: number }[],
): Tilt | undefined {
  const ends = supports.filter((s) => s.bears.where !== "middle");
  const [a, b] = [ends[0], ends[1]];
  if (a === undefined || b === undefined) return undefined;
  const span = middleOf(b.bears) - middleOf(a.bears);
  const slope = (2 * piece.radiusError.value) / span;
  const room = Math.max(0, ...rooms.map((r) => r.to - r.from));
  return { degrees: (Math.atan(slope) * 180) / Math.PI, overRoom: slope * room };
}

export function tiltFinding(piece: TurnedPiece, supports: readonly Support[], tilt: Tilt): Finding {
  const ends = supports.filter((s) => s.bears.where !== "middle");
  const [a, b] = [ends[0]!, ends[1]!];
  const bare = (Math.atan2(b.bears.radius - a.bears.radius, middleOf(b.bears) - middleOf(a.bears)) * 180) / Math.PI;
  const alike = Math.abs(a.bears.radius - b.bears.radius) < 1e-6;
  return {
    grade: tilt.overRoom > LEAN_CAUTION ? "caution" : "note",
    code: "kit-axis-tilted",
    place: { part: piece.name, source: piece.source },
    what: alike
      ? "the axis may lean a little in its cradles"
      : "the ends are not equally thick: each has a cradle of its own height",
    why: `seats ${mm(a.seatHeight)} and ${mm(b.seatHeight)} mm above the bed${alike ? "" : `; on the bare bed it would lean by ${Math.abs(bare).toFixed(2)}°`}; with radii ± ${tidy(piece.radiusError.value)} mm (${piece.radiusError.from}) up to ${mm(tilt.overRoom)} mm is left over the finger room`,
    mend: "measure the diameters over both cradles and give them in the job as turned",
    measured: { value: rounded(tilt.degrees, 4), bound: 0, unit: "°" },
  };
}

export function nothingToHold(piece: TurnedPiece): Finding {
  return {
    grade: "refuse",
    code: "kit-nothing-to-hold",
    place: { part: piece.name, source: piece.source },
    what: "there is no room for a cradle at both ends",
    why: "a cradle needs at least 6 mm of turned wood between each end and the finger room",
    mend: "leave the ends square until the split, or make the turning longer or the finger room shorter",
  };
}

/** Supports that bear on the thickest place alone. */
export function lineBearings(piece: TurnedPiece, supports: readonly Support[]): readonly Finding[] {
  return supports
    .filter((s) => s.bears.radius - s.bears.least > 0.3)
    .map((s) => ({
      grade: "note" as const,
      code: "kit-cradle-misses" as const,
      place: { part: piece.name, source: piece.source },
      what: `"${s.name}" bears on the thickest place alone`,
      why: `between ${tidy(s.bears.from)} and ${tidy(s.bears.to)} mm from the first end the radius changes from ${mm(s.bears.least)} to ${mm(s.bears.radius)} mm`,
      mend: "ease its seat by hand until it bears, or line it with leather or cork",
    }));
}

export function slimEnds(piece: TurnedPiece): readonly Finding[] {
  const turned = turnedStretch(piece);
  const least = SCREW / 2 + AROUND_SCREW;
  return [
    { end: "first", x: turned.from },
    { end: "second", x: turned.to },
  ].flatMap(({ end, x }) => {
    const radius = radiiAt(piece.meridian, x)?.most ?? 0;
    if (radius >= least) return [];
    return [
      {
        grade: "caution" as const,
        code: "kit-ends-too-slim" as const,
        place: { part: piece.name, source: piece.source },
        what: `the ${end} end is slim for an end screw`,
        why: `a ${SCREW} mm screw needs ${AROUND_SCREW} mm of wood around it`,
        mend: "use a thinner screw, or leave square waste at both ends until the split",
        measured: { value: radius, bound: piece.radiusError.value, unit: "mm" },
        limit: { value: least, unit: "mm", from: "common practice, no source" },
      },
    ];
  });
}
