import { type Finding, tidy } from "../finding.ts";
import type { Mark } from "../parts/marks/mark.ts";
import type { Workpiece } from "../parts/workpiece.ts";
import { compose, toSetup, turnedAboutZ } from "../shapes/frame.ts";
import { shiftBy } from "../shapes/plan-map.ts";
import { reachOver } from "../shapes/turned-section.ts";
import { extentOfSolid, movedSolid, type TurnedSolid } from "../shapes/turned-solid.ts";
import { beamCarriage } from "../shop/beam-carriage.ts";
import { type RotaryAxis, surfaceOf } from "../shop/rotary.ts";
import type { Shop } from "../shop/shop.ts";
import type { WoodKind } from "../shop/wood.ts";
import { type BeamMachine, hasLaser, noLaser } from "./beam-choice.ts";
import { type Burned, burnMark } from "./beam-mark.ts";
import { carriageMeets, reachOfBeam } from "./beam-reach.ts";
import type { BeamSetUp, PlannedBeam } from "./beam-setup.ts";
import { placed } from "./placing.ts";
import type { KeepOut } from "./setup.ts";

/** How far chuck and centre are taken to reach on from the blank's ends, mm: past all that moves with the beam. */
const BEHIND = 400;
/** Marks on radii that differ by less lie in one set-up, mm. */
const SAME_RADIUS = 1e-6;

/** A machine that burns, and turns the wood meanwhile. */
type TurningMachine = BeamMachine & { readonly rotary: RotaryAxis };

/**
 * Plans the marks that are burned while a rotary axis turns the wood: one set-up for each radius. Everything is planned
 * unrolled, x along and y around, on a machine whose Y is the turn of A on that radius; only the written program speaks of A.
 */
export function planRotary(
  workpiece: Workpiece,
  marks: readonly Mark[],
  wood: WoodKind,
  shop: Shop,
): { readonly planned: readonly PlannedBeam[]; readonly findings: readonly Finding[] } {
  const { round } = workpiece;
  if (round === undefined) throw new Error("an unrolled mark on wood that is not round: a bug in parts");
  const machine = turningMachine(workpiece, round, shop);
  if ("grade" in machine) return { planned: [], findings: [machine] };
  const radii: number[] = [];
  for (const m of marks) {
    const r = m.unrolled?.radius ?? 0;
    if (!radii.some((other) => Math.abs(other - r) <= SAME_RADIUS)) radii.push(r);
  }
  const findings: Finding[] = [];
  const planned: PlannedBeam[] = [];
  for (const radius of radii) {
    const own = marks.filter((m) => Math.abs((m.unrolled?.radius ?? 0) - radius) <= SAME_RADIUS);
    const result = planOneRadius(workpiece, round, own, wood, shop, machine, radius, radii.length > 1);
    findings.push(...result.findings);
    if (result.planned) planned.push(result.planned);
  }
  return { planned, findings };
}

/** The wood as it sweeps round: square ends reach as far as their corners. Holds all of it at every angle of A. */
export function sweptWood(solid: TurnedSolid): TurnedSolid {
  return { ...solid, squares: solid.squares.map((s) => ({ ...s, side: s.side * Math.SQRT2 })) };
}

/** The machine that the job names, else the first with laser and rotary axis on which the blank turns free. */
function turningMachine(workpiece: Workpiece, round: TurnedSolid, shop: Shop): TurningMachine | Finding {
  const lasers = shop.machines.filter(hasLaser);
  const wished = workpiece.wishes.machine?.toLowerCase();
  const named = wished === undefined ? lasers : lasers.filter((m) => m.name.toLowerCase() === wished);
  if (named.length === 0) return noLaser(workpiece, shop);
  const turning = named.filter((m): m is TurningMachine => m.rotary !== undefined);
  const place = { part: workpiece.name, source: workpiece.source };
  const [first] = turning;
  if (first === undefined) {
    return {
      grade: "refuse",
      code: "beam-no-rotary",
      place,
      what: "the part is to be turned by a rotary axis, and no machine with a laser has one",
      why: `looked at: ${named.map((m) => `"${m.name}"`).join(", ")}`,
      mend: 'write "rotary axis" under the machine in the shop file, or take "index: rotary axis" out',
    };
  }
  const { from, to } = extentOfSolid(round);
  const swing = 2 * reachOver(sweptWood(round), from, to);
  const free = turning.find((m) => m.rotary.swing >= swing);
  if (free !== undefined) return free;
  return {
    grade: "refuse",
    code: "beam-swing",
    place,
    what: `the blank does not turn free on "${first.name}"`,
    why: "the corners of square ends are counted",
    mend: "use another machine, or saw the square ends down first",
    measured: { value: swing, bound: 0, unit: "mm" },
    limit: { value: first.rotary.swing, unit: "mm", from: "the rotary axis' swing in the shop file" },
  };
}

function planOneRadius(
  workpiece: Workpiece,
  round: TurnedSolid,
  marks: readonly Mark[],
  wood: WoodKind,
  shop: Shop,
  real: TurningMachine,
  radius: number,
  several: boolean,
): { readonly planned?: PlannedBeam; readonly findings: readonly Finding[] } {
  const { rotary } = real;
  const machine: TurningMachine = {
    ...real,
    topFeed: { ...real.topFeed, y: surfaceOf(rotary.topSpeed, radius) },
    acceleration: { ...real.acceleration, y: surfaceOf(rotary.acceleration, radius) },
  };
  const findings: Finding[] = [];
  const burned: Burned[] = [];
  for (const mark of marks) {
    if (mark.made.by === "burned through") {
      findings.push(notThrough(mark));
      continue;
    }
    const result = burnMark(mark, { wood, shop, machine, map: shiftBy(0, 0), top: radius });
    findings.push(...result.findings);
    burned.push(...result.burned);
  }
  const ordered = [...burned].sort((a, b) => rank(a) - rank(b));
  const { length } = workpiece.size;
  const solid = movedSolid(round, { x: 0, flip: false, axis: { y: 0, z: 0 } });
  const { from, to } = extentOfSolid(solid);
  const reach = reachOver(sweptWood(solid), from, to);
  const keepOuts = heldBy(rotary, length);
  const swept = sweptWood(solid);
  const sweptBox = { min: { x: from, y: -reach, z: -reach }, max: { x: to, y: reach, z: reach } };
  for (const { operation, placed: at } of ordered) {
    const box = reachOfBeam(operation);
    if (box === undefined) continue;
    const overAxis = { min: { x: box.min.x, y: 0 }, max: { x: box.max.x, y: 0 } };
    for (const piece of beamCarriage(machine)) {
      findings.push(...carriageMeets(piece, overAxis, operation.z, operation, at, keepOuts, sweptBox, swept));
    }
  }
  const lowest = Math.min(0, ...beamCarriage(machine).map((p) => p.profile.from));
  const highest = Math.max(reach, ...keepOuts.map((k) => k.box.max.z));
  const safeZ = highest - lowest + shop.habits.clearance;
  findings.push(...travelled(workpiece, ordered, machine, safeZ - radius));
  if (ordered.length === 0) return { findings };
  const plain = placed(workpiece.size, "face", 0, "left front", "top");
  const axis = toSetup(plain.frame, { x: 0, y: round.axis.y, z: round.axis.z });
  const half = Math.PI * radius;
  const setUp: BeamSetUp = {
    name: `${workpiece.name}, rotary axis, ${several ? `radius ${tidy(Math.round(radius * 100) / 100)}, ` : ""}laser`,
    workpiece,
    face: "face",
    machine,
    laser: machine.laser,
    frame: compose(plain.frame, turnedAboutZ(0, { x: 0, y: -axis.y, z: -axis.z })),
    blank: { min: { x: 0, y: -half, z: -radius }, max: { x: length, y: half, z: radius } },
    turning: { axis: rotary, radius, wood: solid },
    bedZ: -rotary.height,
    holding: {
      kind: "spots",
      by: "rotary axis",
      spots: keepOuts.map(({ box }) => ({
        min: { x: Math.max(0, box.min.x), y: -half },
        max: { x: Math.min(length, box.max.x), y: half },
      })),
    },
    keepOuts,
    zero: { corner: "left front", across: "axis", z: "axis", how: zeroWords(machine) },
    safeZ,
    marks: ordered.map((b) => b.placed),
    habits: shop.habits,
  };
  return { planned: { setUp, operations: ordered.map((b) => b.operation) }, findings };
}

/** Pictures and areas first, lines after them. */
function rank({ placed: { aim } }: Burned): number {
  return aim.kind === "lines" ? 2 : 1;
}

/** Chuck and centre, as long boxes about the axis. */
function heldBy({ chuck, centre }: RotaryAxis, length: number): readonly KeepOut[] {
  const box = (from: number, to: number, diameter: number): KeepOut["box"] => ({
    min: { x: from, y: -diameter / 2, z: -diameter / 2 },
    max: { x: to, y: diameter / 2, z: diameter / 2 },
  });
  return [
    { name: "chuck", box: box(-BEHIND, chuck.over, chuck.diameter) },
    { name: "centre", box: box(length - centre.over, length + BEHIND, centre.diameter) },
  ];
}

function notThrough(mark: Mark): Finding {
  return {
    grade: "refuse",
    code: "beam-turned-through",
    place: { part: mark.part, feature: mark.feature, source: mark.source },
    what: `"${mark.feature}" is to be cut through wood that turns`,
    why: "the beam would have to go through the whole blank",
    mend: "burn it as a line or an area",
  };
}

function travelled(
  workpiece: Workpiece,
  burned: readonly Burned[],
  machine: TurningMachine,
  lift: number,
): readonly Finding[] {
  const boxes = burned.flatMap(({ operation }) => reachOfBeam(operation) ?? []);
  const along =
    boxes.length === 0 ? 0 : Math.max(...boxes.map((b) => b.max.x)) - Math.min(...boxes.map((b) => b.min.x));
  return (["x", "z"] as const).flatMap((a): readonly Finding[] => {
    const value = a === "x" ? along : lift;
    if (value <= machine.travel[a]) return [];
    return [
      {
        grade: "refuse",
        code: "beam-larger-than-travel",
        place: { part: workpiece.name, source: workpiece.source },
        what: `burning "${workpiece.name}" needs more of ${a.toUpperCase()} than the machine can travel`,
        mend: a === "x" ? "burn slower, or make the marks shorter" : "use a smaller chuck",
        measured: { value, bound: 0, unit: "mm" },
        limit: { value: machine.travel[a], unit: "mm", from: "the machine's travel" },
      },
    ];
  });
}

/** How zero is found with the wood between chuck and centre. */
function zeroWords({ rotary, laser }: TurningMachine): string {
  const height =
    laser.slot === undefined
      ? `Z 0 is where the head's lower end stands ${tidy(laser.focusGap)} mm above the axis, which lies ${tidy(rotary.height)} mm above the bed`
      : `Z 0 on the axis, ${tidy(rotary.height)} mm above the bed, by the head's length in slot ${laser.slot}`;
  return `X 0 at the blank's first end, in the chuck; Y 0 with the beam over the axis: sight from chuck to centre; ${height}; A 0 with the crown up, by the square ends or the line on the end; A growing must take the crown to the ${rotary.crownGoes}: try it`;
}
