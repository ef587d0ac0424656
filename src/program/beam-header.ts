import { tidy } from "../finding.ts";
import { beamCautions } from "../plan/beam-cautions.ts";
import type { BeamOperation, BeamSetUp } from "../plan/beam-setup.ts";
import { burnEnergy } from "../shop/burn-energy.ts";
import { powerText } from "./beam-pen.ts";
import type { BeamProgramText, BeamWriteInput } from "./beam-text.ts";
import { comments } from "./comment.ts";
import { lengthWords } from "./header.ts";
import { feedText } from "./number.ts";

const ZERO_Z = {
  top: "at the top of the wood",
  "waste board": "at the waste board",
  axis: "on the axis of the turned blank",
} as const;

/** What the first lines of a beam program say, beside its seal. @param walk an outline walk, which burns nothing */
export function beamHeaderLines(
  input: BeamWriteInput,
  operations: BeamProgramText["operations"],
  walk: boolean,
): readonly string[] {
  const { setUp, post, paths } = input;
  const { workpiece, machine, laser, zero, blank } = setUp;
  const { length, width, thickness } = workpiece.size;
  const lines: string[] = [];
  const say = (text: string): void => void lines.push(...comments(text));
  const inUnit = (mm: number): string => lengthWords(mm, post);
  const full = tidy(laser.fullScale);
  if (walk) say(walkWords(laser.pilot === undefined ? undefined : powerText(laser.pilot, laser, post)));
  say(`Job: ${input.title}`);
  for (const o of input.overrides ?? []) say(`OVERRIDDEN: ${o.code}, because: ${o.because}`);
  say(`LASER. Part: ${workpiece.name}. Set-up: ${setUp.name}`);
  say(`Blank: ${inUnit(length)} x ${inUnit(width)} x ${inUnit(thickness)}, ${workpiece.wood}`);
  say(`Machine: ${machine.name}. Post: ${post.name}. All numbers in ${post.unit === "mm" ? "millimetres" : "inches"}`);
  const mode =
    laser.mode === "follows speed"
      ? "the controller must be in the mode in which power follows speed, and the beam is off while still"
      : "power is constant, whatever the speed";
  say(`S${full} is full power of the beam; ${laser.start} starts it; ${mode}`);
  say("X, Y and Z are those of the beam's spot at focus.");
  const end = zero.corner.startsWith("left") ? "left" : "right";
  const across = zero.across === "axis" ? `X at the ${end} end, Y on the axis` : `X and Y at the ${zero.corner} corner`;
  say(`Zero: ${across}, Z ${ZERO_Z[zero.z]}`);
  say(`Zero is found so: ${zero.how}`);
  if (setUp.turnOver) say(`Turned over ${setUp.turnOver.how}; at the fence: ${setUp.turnOver.edgeAtFence}`);
  const { turning } = setUp;
  if (turning !== undefined) {
    for (const line of turnedWords(setUp, turning, inUnit)) say(line);
  }
  const span = (axis: "x" | "y" | "z"): string => `${inUnit(blank.min[axis])} to ${inUnit(blank.max[axis])}`;
  if (turning === undefined) say(`Wood lies from X ${span("x")}, Y ${span("y")}, Z ${span("z")}`);
  say(`Safe height of the spot: Z ${inUnit(setUp.safeZ)}`);
  for (const o of operations) {
    const path = paths.find((p) => p.operation.id === o.id);
    const words = walk || path === undefined ? o.title : `${o.title}: ${settingWords(input, path.operation)}`;
    say(`N${o.label}: ${words}`);
  }
  for (const c of beamCautions(setUp)) say(c);
  return lines;
}

/** What A is, and how marks lie around the wood. */
function turnedWords(
  { blank }: BeamSetUp,
  { axis, radius }: NonNullable<BeamSetUp["turning"]>,
  inUnit: (mm: number) => string,
): readonly string[] {
  const perDegree = (Math.PI * radius) / 180;
  return [
    `ROTARY AXIS A along X, as the part says: index: rotary axis. A 0 is the crown up; A growing takes the crown to the ${axis.crownGoes}. Y stays on the axis`,
    `Radius of the wood beneath the marks: ${inUnit(radius)}; a degree is ${tidy(Math.round(perDegree * 1e5) / 1e5)} mm around`,
    "Lines that turn A are in G93, inverse time: F says how many such moves make a minute. All others are in G94",
    `Wood lies from X ${inUnit(blank.min.x)} to ${inUnit(blank.max.x)}, between chuck and centre`,
  ];
}

function walkWords(pilot: string | undefined): string {
  return pilot === undefined
    ? "OUTLINE WALK: beam off, at safe height. It goes round each mark with its run-ups, then round the mark alone."
    : `OUTLINE WALK at safe height: round each mark with its run-ups, beam off; then round the mark alone with the pilot, S${pilot}. Eyewear on.`;
}

/** Power, speed, passes, and what they put on the wood at most. */
function settingWords({ setUp, post }: BeamWriteInput, o: BeamOperation): string {
  const { laser } = setUp;
  const passes = o.passes === 1 ? "1 pass" : `${o.passes} passes`;
  const area =
    o.kind === "area"
      ? { spacing: o.spacing, travelDeg: o.angleDeg }
      : o.kind === "dots"
        ? { spacing: o.aim.pitch, travelDeg: o.aim.alongDeg }
        : undefined;
  const energy = burnEnergy(o, laser, area);
  const joules =
    energy.perMm2 === undefined
      ? `at most ${energy.perMm.toFixed(3)} J/mm`
      : `at most ${energy.perMm.toFixed(3)} J/mm, ${energy.perMm2.toFixed(3)} J/mm2`;
  const apart = area === undefined ? "" : `, lines ${lengthWords(area.spacing, post)} apart`;
  return `S${powerText(o.power, laser, post)}, F${feedText(o.speed, post)}, ${passes}${apart}; ${joules}`;
}
