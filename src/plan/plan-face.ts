import type { Finding } from "../finding.ts";
import type { FaceName } from "../job/board.ts";
import { faceFrame, oppositeOf } from "../parts/faces.ts";
import { atMouth } from "../parts/lean.ts";
import { targetFor } from "../parts/target-for.ts";
import type { Cavity } from "../parts/workpiece.ts";
import { compose, inverse } from "../shapes/frame.ts";
import { mapRegion, planOf } from "../shapes/plan-map.ts";
import type { Region } from "../shapes/region.ts";
import type { Cutter } from "../shop/cutter.ts";
import { type Bench, LEAST_UNDER_CUT } from "./bench.ts";
import { type Cut, clampFindings } from "./clamps.ts";
import { cutMarkNotes } from "./cut-marks.ts";
import { type Chosen, chooseCutters } from "./cutter-choice.ts";
import { type Held, heldOn } from "./hold.ts";
import { planLips } from "./lip.ts";
import { witnessMarks } from "./marks.ts";
import { stickOutNotes } from "./nut-room.ts";
import type { Operation } from "./operation.ts";
import { operationFor, settled } from "./operations.ts";
import { inOrder } from "./order.ts";
import { faceTowards, grainDegIn, inSetUp, type Placing, placed, sameCorner, turnedAfter } from "./placing.ts";
import { roundBox, roundTasks } from "./round.ts";
import { roundLay, roundZeroWords } from "./round-face.ts";
import { breakthroughFindings, rollFinding } from "./round-findings.ts";
import { type MarkedOn, roundMarks } from "./round-marks.ts";
import type { SetUp, Zero } from "./setup.ts";
import { beyondWood, roundNeed, tipDepth } from "./suit.ts";
import { tasksOf } from "./task.ts";
import { withFlatFloor } from "./v-floor.ts";

/** A set-up of a workpiece that is planned already. */
export interface Worked {
  readonly placing: Placing;
  readonly setUp: SetUp;
  readonly operations: readonly Operation[];
}

/** More stick-out than this many diameters bends too much: a rule of thumb, as read in a text on tip deflection. */
const LONG_STICK_OUT = 4;

/** Plans one set-up: the face that is up, after those already worked. */
export function planFace(
  bench: Bench,
  face: FaceName,
  turned: number,
  before: readonly Worked[],
): { readonly worked?: Worked; readonly findings: readonly Finding[] } {
  const { workpiece, shop, machine } = bench;
  const { habits } = shop;
  const findings: Finding[] = [];
  const own = workpiece.cavities.filter((c) => c.face === face).map(atMouth);
  const tasks = roundTasks(workpiece, tasksOf(workpiece.size, own), machine.nut.diameter / 2);
  const { chosen, findings: choice } = chooseCutters(tasks, shop);
  findings.push(...choice);
  const lay = workpiece.round === undefined ? undefined : roundLay(bench, face, workpiece.round);
  if (lay !== undefined && "grade" in lay) return { findings: [...findings, lay] };
  if (lay !== undefined) findings.push(...lay.findings);
  const laid: ReturnType<typeof layOf> = lay ?? layOf(bench, face, turned, before);
  const { placing, turnOver, note } = laid;
  if (note) findings.push(note);

  const beneath = Math.max(0, ...chosen.map((c) => beyondWood(c.task, c.cutter, habits, c.way)));
  const bedZ = lay?.bedZ ?? placing.blank.min.z - bench.wasteBoard;
  findings.push(...wasteBoardFindings(bench, chosen));
  const held = lay?.held ?? heldOn(placing, workpiece.wishes.holding, bedZ);
  const name = `${workpiece.name}, ${workpiece.labels[face]} up`;
  if (held.assumed) findings.push(holdingNote(bench, name, held));

  const across = (c: Cavity): boolean => exitsAcross(bench, placing, c);
  const ordered = inOrder(chosen, across).map((c) => settled(c, habits.allowance));
  const operations: Operation[] = [];
  const flatFloors = new Set<string>();
  for (const [i, c] of ordered.entries()) {
    const made = operationFor(c, bench, placing, `${name} ${i + 1}`, lay?.solid);
    const floored =
      made.operation.kind === "v-groove"
        ? withFlatFloor(c, made.operation, bench, placing, `${name} ${i + 1} floor`)
        : undefined;
    if (floored !== undefined) for (const id of floored.groove.cavityIds) flatFloors.add(id);
    operations.push(...(floored === undefined ? [made.operation] : [floored.floor, floored.groove]));
    findings.push(...made.findings, ...(floored?.findings ?? []));
  }
  findings.push(...exitNotes(ordered, across));
  const lips = planLips(bench, placing, ordered, operations.length, name, lay?.solid);
  operations.push(...lips.operations);
  findings.push(...lips.findings);
  const cavities = lips.cavities;
  findings.push(...sizeNotes(ordered));
  const cutters = unique(operations.map((o) => o.cutter));
  findings.push(...stickOutFindings(bench, cutters));
  const notes = [
    ...stickOutNotes(ordered, (c) => roundNeed(c.task, c.cutter, habits, c.way)),
    ...cutMarkNotes(ordered, flatFloors),
  ];
  findings.push(...notes);

  const cuts: readonly Cut[] = ordered.flatMap((c) =>
    c.final.map((cavity) => ({
      cavity,
      there: inSetUp(workpiece.size, cavity, placing.frame),
      cutter: c.cutter,
      tipZ: placing.blank.max.z - tipDepth(c.task, c.cutter, habits, c.way),
    })),
  );
  findings.push(...clampFindings(cuts, held.keepOuts, machine));
  const safeZ = safeHeight(bench, placing, held, cutters);
  findings.push(...liftFindings(bench, name, safeZ, cuts));

  const earlier = before.flatMap((w) => w.setUp.cavities);
  const open = [...cuts.map((c) => c.there.section), ...openFromBelow(bench, placing, earlier)];
  const beside = Math.max(machine.nut.diameter / 2, ...cutters.map((c) => c.shankDiameter / 2));
  const marks =
    lay === undefined
      ? witnessMarks(placing.blank, open, held.keepOuts, beside, (l, f) => markName(bench, placing, l, f))
      : roundMarks(
          lay.solid,
          placing.blank,
          open,
          held.keepOuts,
          { nutRadius: beside, block: habits.gaugeBlock },
          (l, on) => roundMarkName(bench, placing, l, on),
        );
  if (lay !== undefined) {
    findings.push(...breakthroughFindings(workpiece, lay.solid, cuts));
    const roll = rollFinding(workpiece, lay.solid, operations, bench.wood);
    if (roll !== undefined) findings.push(roll);
  }
  if (marks.length < 2) findings.push(fewMarks(bench, name, marks.length));
  const setUp: SetUp = {
    name,
    workpiece,
    face,
    machine,
    frame: placing.frame,
    blank: placing.blank,
    ...(lay === undefined ? {} : { round: lay.solid, index: lay.index }),
    ...(lay === undefined || lay.held.rests.length === 0 ? {} : { rests: lay.held.rests }),
    bedZ,
    intoWasteBoard: beneath,
    holding: held.holding,
    keepOuts: held.keepOuts,
    zero:
      lay === undefined
        ? { corner: placing.corner, z: placing.z, how: zeroWords(bench, placing) }
        : { corner: placing.corner, ...lay.zero, how: roundZeroWords(lay) },
    safeZ,
    ...(turnOver === undefined ? {} : { turnOver }),
    cavities,
    earlier,
    target: targetFor(
      workpiece,
      cavities,
      placing.frame,
      lay === undefined
        ? placing.blank
        : roundBox(
            placing.blank,
            cuts.map((c) => c.there),
          ),
    ),
    marks,
    habits,
    cutters,
    ...(notes.length > 0 && { notes }),
  };
  return chosen.length === 0 ? { findings } : { worked: { placing, setUp, operations }, findings };
}

/** Where the face lies, and how the wood came to lie so. @param before what was worked already, as it lay */
export function layOf(
  bench: Bench,
  face: FaceName,
  turned: number,
  before: readonly { readonly placing: Placing }[],
): { placing: Placing; turnOver?: NonNullable<SetUp["turnOver"]>; note?: Finding } {
  const { workpiece } = bench;
  const { size, wishes, labels } = workpiece;
  const z: Zero["z"] = wishes.zeroZ ?? "top";
  const flat = face === "face" || face === "back";
  const other = before.find((w) => flat && w.placing.face === oppositeOf(face));
  if (other === undefined) return { placing: placed(size, face, turned, wishes.zeroCorner ?? "left front", z) };
  // By default the edges stay where they are, unless an end is what everything is measured from.
  const onEnd = workpiece.faceEdge === "first end" || workpiece.faceEdge === "second end";
  const how = wishes.turnOver ?? (onEnd ? "side for side" : "end for end");
  const turn = turnedAfter(other.placing, how);
  const corner = wishes.zeroCorner ?? sameCorner(size, other.placing, face, turn, z);
  const placing = placed(size, face, turn, corner, z);
  const moved = corner !== sameCorner(size, other.placing, face, turn, z);
  const edge = labels[faceTowards(placing.frame, corner.endsWith("front") ? "front" : "back")];
  const hangs =
    how === "end for end"
      ? `length (${Number(size.length.toFixed(3))} mm)`
      : `width (${Number(size.width.toFixed(3))} mm)`;
  return {
    placing,
    turnOver: { how, edgeAtFence: edge },
    note: {
      grade: moved ? "caution" : "note",
      code: "plan-turned-over",
      place: { part: workpiece.name, source: workpiece.source },
      what: `turn the wood ${how} for "${labels[face]}": "${edge}" lies at the fence, zero at the ${corner} corner`,
      why: moved
        ? `zero is now at the other ${how === "end for end" ? "end" : "edge"}, so the places on this face hang on the blank's nominal ${hangs}`
        : "zero is over the same corner of the wood as before; only the thickness counts as given",
      ...(moved ? { mend: "measure the blank and correct the job, or leave the zero corner to the planner" } : {}),
    },
  };
}

/** How zero is found on a board, in words. */
export function zeroWords(bench: Bench, placing: Placing): string {
  const { labels } = bench.workpiece;
  const side = placing.corner.startsWith("left") ? "left" : "right";
  const near = placing.corner.endsWith("front") ? "front" : "back";
  const corner = `X and Y at the ${placing.corner} corner, where "${labels[faceTowards(placing.frame, side)]}" meets "${labels[faceTowards(placing.frame, near)]}"`;
  return placing.z === "top"
    ? `${corner}; Z on the top of the wood`
    : `${corner}; Z on the waste board beside the wood`;
}

function markName(bench: Bench, placing: Placing, left: number, front: number): string {
  const { labels } = bench.workpiece;
  const { blank } = placing;
  const fromLeft = placing.corner.startsWith("left");
  const fromFront = placing.corner.endsWith("front");
  const x = fromLeft ? left : blank.max.x - blank.min.x - left;
  const y = fromFront ? front : blank.max.y - blank.min.y - front;
  const side = labels[faceTowards(placing.frame, fromLeft ? "left" : "right")];
  const near = labels[faceTowards(placing.frame, fromFront ? "front" : "back")];
  return `${Number(x.toFixed(1))} mm from ${side}, ${Number(y.toFixed(1))} mm from ${near}`;
}

const MARKED_ON: Readonly<Record<MarkedOn, string>> = {
  square: "on the square",
  crown: "on the crown line",
  flat: "on the flat, over the axis",
};

function roundMarkName(bench: Bench, placing: Placing, left: number, on: MarkedOn): string {
  const fromLeft = placing.corner.startsWith("left");
  const x = fromLeft ? left : placing.blank.max.x - placing.blank.min.x - left;
  const end = bench.workpiece.labels[faceTowards(placing.frame, fromLeft ? "left" : "right")];
  return `${Number(x.toFixed(1))} mm from ${end}, ${MARKED_ON[on]}`;
}

/** Above the highest wood and clamp; higher where the laser head hangs lower than the tip. */
function safeHeight(bench: Bench, placing: Placing, held: Held, cutters: readonly Cutter[]): number {
  const highest = Math.max(placing.blank.max.z, ...held.keepOuts.map((k) => k.box.max.z));
  const head = bench.machine.laserHead;
  const hangs = head === undefined ? 0 : Math.max(0, ...cutters.map((c) => -(c.stickOut + head.underside)));
  return highest + hangs + bench.shop.habits.clearance;
}

function liftFindings(bench: Bench, name: string, safeZ: number, cuts: readonly Cut[]): readonly Finding[] {
  const lowest = Math.min(safeZ, ...cuts.map((c) => c.tipZ));
  const need = safeZ - lowest;
  const { z } = bench.machine.travel;
  if (need <= z) return [];
  return [
    {
      grade: "refuse",
      code: "plan-larger-than-travel",
      place: { part: bench.workpiece.name, source: bench.workpiece.source },
      what: `${name}: from its deepest cut to its safe height is more than Z can travel`,
      why: `safe height Z ${Number(safeZ.toFixed(2))} mm, deepest cut Z ${Number(lowest.toFixed(2))} mm`,
      mend: "use lower clamps, or another machine",
      measured: { value: need, bound: 0, unit: "mm" },
      limit: { value: z, unit: "mm", from: "the machine's travel" },
    },
  ];
}

function wasteBoardFindings(bench: Bench, chosen: readonly Chosen[]): readonly Finding[] {
  const { habits } = bench.shop;
  const worst = chosen
    .map((c) => ({ c, into: beyondWood(c.task, c.cutter, habits, c.way) }))
    .reduce<{ c: Chosen; into: number } | undefined>((a, b) => (a === undefined || b.into > a.into ? b : a), undefined);
  if (worst === undefined || worst.into === 0 || worst.into + LEAST_UNDER_CUT <= bench.wasteBoard) return [];
  const [cavity] = worst.c.task.cavities;
  return [
    {
      grade: "refuse",
      code: "plan-no-waste-board",
      place: { part: cavity.part, feature: cavity.feature, source: cavity.source },
      what: `${worst.c.task.title} goes through into the bed: the waste board is too thin`,
      why: `"${worst.c.cutter.name}" goes ${Number(worst.into.toFixed(3))} mm below the wood, and ${LEAST_UNDER_CUT} mm must stay beneath it`,
      mend: "put a thicker waste board under the wood and say so in the job",
      measured: { value: worst.into + LEAST_UNDER_CUT, bound: 0, unit: "mm" },
      limit: { value: bench.wasteBoard, unit: "mm", from: "the waste board" },
    },
  ];
}

function holdingNote(bench: Bench, name: string, { holding }: Held): Finding {
  if (holding.kind === "spots") {
    const jaws = holding.by === "jaws";
    return {
      grade: "caution",
      code: "plan-holding-assumed",
      place: { part: bench.workpiece.name, source: bench.workpiece.source },
      what: `${name}: taken to be held ${jaws ? "by its square ends in jaws" : "in two cradles with cauls"}`,
      why: "the job doesn't say how it is held; the sheet shows where",
      mend: jaws ? "hold it so, or say where the jaws grip" : "hold it so, or say where its cradles stand",
    };
  }
  return {
    grade: "caution",
    code: "plan-holding-assumed",
    place: { part: bench.workpiece.name, source: bench.workpiece.source },
    what: `${name}: taken to be held by tape all over its underside`,
    why: "the job doesn't say how it is held with this face up",
    mend: 'write "held by: tape", "vacuum", "clamps" or "screws" for the part',
  };
}

/** A groove or rabbet that leaves the wood square to its grain. */
function exitsAcross(bench: Bench, placing: Placing, cavity: Cavity): boolean {
  const grain = grainDegIn(placing.frame, bench.workpiece.grain);
  if (grain === undefined) return false;
  const c = inSetUp(bench.workpiece.size, cavity, placing.frame);
  if (c.shape.kind !== "groove" || !(c.shape.openStart || c.shape.openEnd)) return false;
  const { start, end } = c.shape;
  const alongX = Math.abs(end.x - start.x) > Math.abs(end.y - start.y);
  return alongX !== (grain === 0);
}

function exitNotes(ordered: readonly Chosen[], across: (c: Cavity) => boolean): readonly Finding[] {
  return ordered.flatMap(({ task }) => {
    const [c] = task.cavities;
    if (!across(c)) return [];
    return [
      {
        grade: "note" as const,
        code: "plan-exit-across-grain" as const,
        place: { part: c.part, feature: c.feature, source: c.source },
        what: `${task.title} leaves the wood across the grain`,
        why: "the last fibres may break out at the edge",
        mend: "clamp a backing strip against that edge, flush with the top",
      },
    ];
  });
}

function sizeNotes(ordered: readonly Chosen[]): readonly Finding[] {
  return ordered.flatMap(({ task, cutter, way }) => {
    const [c] = task.cavities;
    if (way !== "peck" || c.shape.kind !== "hole" || Math.abs(c.shape.diameter - cutter.diameter) <= 0.005) return [];
    return [
      {
        grade: "note" as const,
        code: "plan-drill-size" as const,
        place: { part: c.part, feature: c.feature, source: c.sources?.diameter ?? c.source },
        what: `${task.title} is drilled with "${cutter.name}"`,
        why: `so it will be ${Number(cutter.diameter.toFixed(3))} mm wide instead of ${Number(c.shape.diameter.toFixed(3))} mm`,
      },
    ];
  });
}

function unique(cutters: readonly Cutter[]): readonly Cutter[] {
  return cutters.filter((c, i, all) => all.indexOf(c) === i);
}

function stickOutFindings(bench: Bench, cutters: readonly Cutter[]): readonly Finding[] {
  return cutters
    .filter((c) => c.form.kind !== "drill" && c.stickOut > LONG_STICK_OUT * Math.max(c.diameter, c.shankDiameter))
    .map((c) => ({
      grade: "caution" as const,
      code: "plan-long-stick-out" as const,
      place: { part: bench.workpiece.name, source: bench.workpiece.source },
      what: `"${c.name}" sticks out far for its thickness and will bend`,
      why: "bending grows with the cube of the stick-out",
      mend: "set it deeper into the collet as far as its flutes allow, and correct the shop file",
      measured: { value: c.stickOut, bound: 0, unit: "mm" },
      limit: {
        value: LONG_STICK_OUT * Math.max(c.diameter, c.shankDiameter),
        unit: "mm",
        from: "four diameters of overhang: a rule of thumb",
      },
    }));
}

/** Holes that earlier set-ups cut through to this face, in set-up coordinates. */
function openFromBelow(bench: Bench, placing: Placing, earlier: readonly Cavity[]): readonly Region[] {
  const { size } = bench.workpiece;
  return earlier
    .filter((c) => c.through && c.face === oppositeOf(placing.face))
    .map((c) => mapRegion(planOf(compose(inverse(faceFrame(size, c.face)), placing.frame)), c.section));
}

function fewMarks(bench: Bench, name: string, found: number): Finding {
  return {
    grade: "caution",
    code: "plan-few-marks",
    place: { part: bench.workpiece.name, source: bench.workpiece.source },
    what: `${name}: ${found === 0 ? "no uncut spot" : "only one uncut spot"} is left for a witness mark`,
    why: "a wrong zero or length cannot be caught before the spindle starts",
    mend: "check zero twice, and rehearse in scrap",
    measured: { value: found, bound: 0, unit: "marks" },
    limit: { value: 2, unit: "marks", from: "two spots tell a turned blank" },
  };
}
