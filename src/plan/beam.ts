import { type Finding, type Outcome, refuses, tidy } from "../finding.ts";
import type { FaceName } from "../job/board.ts";
import { FACES, faceFrame } from "../parts/faces.ts";
import type { Mark } from "../parts/marks/mark.ts";
import type { Workpiece } from "../parts/workpiece.ts";
import { compose, inverse } from "../shapes/frame.ts";
import { planOf } from "../shapes/plan-map.ts";
import { beamCarriage } from "../shop/beam-carriage.ts";
import type { Shop } from "../shop/shop.ts";
import type { WoodKind } from "../shop/wood.ts";
import { type BeamMachine, hasLaser, materialFindings, noLaser } from "./beam-choice.ts";
import { type Burned, burnMark, type UnderBeam } from "./beam-mark.ts";
import { reachFindings } from "./beam-reach.ts";
import type { BeamSetUp, PlannedBeam } from "./beam-setup.ts";
import { type Bench, DEFAULT_WASTE_BOARD } from "./bench.ts";
import { heldOn } from "./hold.ts";
import { chooseMachine } from "./machine-choice.ts";
import { type Placing, placed } from "./placing.ts";
import { layOf, zeroWords } from "./plan-face.ts";
import { type PlannedSetUp, woodOf } from "./plan-job.ts";
import { planRotary } from "./rotary.ts";
import { roundLay, roundZeroWords } from "./round-face.ts";
import type { SetUp } from "./setup.ts";

/**
 * Plans what is burned on a workpiece: one set-up under the laser head for each face with marks. A face that the router
 * works lies there as it lay for the bit: the same clamping, clamps and zero. Pictures and areas come first, lines after
 * them, what is cut through last.
 * @param routed the router's set-ups of all workpieces
 * @returns nothing planned for a workpiece without marks
 */
export function planBeam(
  workpiece: Workpiece,
  shop: Shop,
  routed: readonly PlannedSetUp[],
): Outcome<readonly PlannedBeam[]> {
  const all = workpiece.marks ?? [];
  if (all.length === 0) return { ok: true, value: [], findings: [] };
  const marks = all.filter((m) => m.unrolled === undefined);
  const around = planAround(workpiece, all, shop);
  if (marks.length === 0 || !around.ok) return around;
  const own = routed.map((r) => r.setUp).filter((s) => s.workpiece.name === workpiece.name);
  const faces = FACES.filter((face) => marks.some((m) => m.face === face));
  const wood = woodOf(workpiece, shop);
  const fitting = machineFor(workpiece, faces, shop, own);
  const findings: Finding[] = [];
  if ("grade" in wood) findings.push(wood);
  else findings.push(...materialFindings(workpiece, wood));
  if ("grade" in fitting) findings.push(fitting);
  if ("grade" in wood || "grade" in fitting || refuses(findings)) return { ok: false, findings };
  const bench: BeamBench = {
    workpiece,
    wood,
    shop,
    machine: fitting.machine,
    wasteBoard: workpiece.wishes.wasteBoard ?? DEFAULT_WASTE_BOARD,
  };
  findings.push(...around.findings);
  const planned: PlannedBeam[] = [...around.value];
  for (const face of faces) {
    const result = planFaceBeam(
      bench,
      face,
      fitting.turned[face] ?? 0,
      marks.filter((m) => m.face === face),
      own,
      planned.map((p) => p.setUp).filter((s) => s.turning === undefined),
    );
    findings.push(...result.findings);
    if (result.planned) planned.push(result.planned);
  }
  return refuses(findings) ? { ok: false, findings } : { ok: true, value: planned, findings };
}

/** Plans the marks that a rotary axis turns beneath the beam. */
function planAround(workpiece: Workpiece, all: readonly Mark[], shop: Shop): Outcome<readonly PlannedBeam[]> {
  const marks = all.filter((m) => m.unrolled !== undefined);
  if (marks.length === 0) return { ok: true, value: [], findings: [] };
  const wood = woodOf(workpiece, shop);
  if ("grade" in wood) return { ok: false, findings: [wood] };
  const { planned, findings: found } = planRotary(workpiece, marks, wood, shop);
  const findings = [...materialFindings(workpiece, wood), ...found];
  return refuses(findings) ? { ok: false, findings } : { ok: true, value: planned, findings };
}

interface BeamBench extends Bench {
  readonly machine: BeamMachine;
  readonly wood: WoodKind;
}

/** The machine with a laser that the bit's set-ups are on, else the one the job names, else the first that is large enough. */
function machineFor(
  workpiece: Workpiece,
  faces: readonly FaceName[],
  shop: Shop,
  own: readonly SetUp[],
): { readonly machine: BeamMachine; readonly turned: Readonly<Partial<Record<FaceName, number>>> } | Finding {
  const lasers = shop.machines.filter(hasLaser);
  const wished = workpiece.wishes.machine?.toLowerCase();
  if (wished !== undefined && !lasers.some((m) => m.name.toLowerCase() === wished)) return noLaser(workpiece, shop);
  const used = own[0] && lasers.find((m) => m.name === own[0]!.machine.name);
  const choice = used === undefined ? lasers : [used];
  if (choice.length === 0) return noLaser(workpiece, shop);
  const fitting = chooseMachine(workpiece, faces, { ...shop, machines: choice });
  if ("grade" in fitting) return fitting;
  const { machine } = fitting;
  return hasLaser(machine) ? { machine, turned: fitting.turned } : noLaser(workpiece, shop);
}

/** How the wood lies for burning: what a set-up shares, whether the bit has worked there or not. */
type Lay = Pick<
  BeamSetUp,
  "frame" | "blank" | "round" | "index" | "bedZ" | "holding" | "keepOuts" | "zero" | "turnOver"
>;

function planFaceBeam(
  bench: BeamBench,
  face: FaceName,
  turned: number,
  marks: readonly Mark[],
  own: readonly SetUp[],
  before: readonly BeamSetUp[],
): { readonly planned?: PlannedBeam; readonly findings: readonly Finding[] } {
  const { workpiece, machine, shop } = bench;
  const same = own.find((s) => s.face === face && s.machine.name === machine.name);
  const laid = same ?? layFor(bench, face, turned, [...own, ...before]);
  if ("grade" in laid) return { findings: [laid] };
  const lay: Lay = laid;
  const findings: Finding[] = "found" in laid ? [...laid.found] : [];
  const under: UnderBeam = {
    wood: bench.wood,
    shop,
    machine,
    map: planOf(compose(inverse(faceFrame(workpiece.size, face)), lay.frame)),
    top: lay.blank.max.z,
    ...(lay.round === undefined ? {} : { round: lay.round }),
  };
  const burned: Burned[] = [];
  for (const mark of marks) {
    const result = burnMark(mark, under);
    findings.push(...result.findings);
    burned.push(...result.burned);
  }
  const ordered = inOrder(burned);
  findings.push(...reachFindings(workpiece, ordered, lay.keepOuts, lay.blank, lay.round, machine, same !== undefined));
  const safeZ = safeHeight(bench, lay);
  findings.push(...liftFindings(bench, safeZ, ordered));
  if (ordered.length === 0) return { findings };
  const setUp: BeamSetUp = {
    name: `${workpiece.name}, ${workpiece.labels[face]} up, laser`,
    workpiece,
    face,
    machine,
    laser: machine.laser,
    frame: lay.frame,
    blank: lay.blank,
    ...(lay.round === undefined ? {} : { round: lay.round }),
    ...(lay.index === undefined ? {} : { index: lay.index }),
    bedZ: lay.bedZ,
    holding: lay.holding,
    keepOuts: lay.keepOuts,
    zero: { ...lay.zero, how: beamZeroWords(lay.zero.how, machine) },
    safeZ,
    ...(lay.turnOver === undefined ? {} : { turnOver: lay.turnOver }),
    marks: ordered.map((b) => b.placed),
    habits: shop.habits,
  };
  return { planned: { setUp, operations: ordered.map((b) => b.operation) }, findings };
}

/** Lays a face up that the router has not worked. */
function layFor(
  bench: BeamBench,
  face: FaceName,
  turned: number,
  earlier: readonly Pick<SetUp, "face" | "frame" | "blank" | "zero">[],
): (Lay & { readonly found: readonly Finding[] }) | Finding {
  const { workpiece } = bench;
  if (workpiece.round !== undefined) {
    const lay = roundLay(bench, face, workpiece.round);
    if ("grade" in lay) return lay;
    const { placing } = lay;
    return {
      frame: placing.frame,
      blank: placing.blank,
      round: lay.solid,
      index: lay.index,
      bedZ: lay.bedZ,
      holding: lay.held.holding,
      keepOuts: lay.held.keepOuts,
      zero: { corner: placing.corner, ...lay.zero, how: roundZeroWords(lay) },
      found: lay.findings,
    };
  }
  const before = earlier.flatMap((s) => {
    const placing = placingOf(workpiece, s);
    return placing === undefined ? [] : [{ placing }];
  });
  const { placing, turnOver, note } = layOf(bench, face, turned, before);
  const bedZ = placing.blank.min.z - bench.wasteBoard;
  const held = heldOn(placing, workpiece.wishes.holding, bedZ);
  const assumed: readonly Finding[] = held.assumed
    ? [
        {
          grade: "caution",
          code: "plan-holding-assumed",
          place: { part: workpiece.name, source: workpiece.source },
          what: `${workpiece.name}, ${workpiece.labels[face]} up, laser: taken to be held by tape all over its underside`,
          why: "the job doesn't say how it is held with this face up",
          mend: 'write "held by: tape", "vacuum", "clamps" or "screws" for the part',
        },
      ]
    : [];
  return {
    frame: placing.frame,
    blank: placing.blank,
    bedZ,
    holding: held.holding,
    keepOuts: held.keepOuts,
    zero: { corner: placing.corner, z: placing.z, how: zeroWords(bench, placing) },
    ...(turnOver === undefined ? {} : { turnOver }),
    found: [...(note === undefined ? [] : [note]), ...assumed],
  };
}

/** How a set-up's board lies, told from its frame. */
function placingOf(
  workpiece: Workpiece,
  { face, frame, zero }: Pick<SetUp, "face" | "frame" | "zero">,
): Placing | undefined {
  const same = (a: Placing): boolean =>
    a.frame.rotation.every((row, i) => row.every((v, k) => Math.abs(v - frame.rotation[i]![k]!) < 1e-6));
  return [0, 90, 180, 270].map((turn) => placed(workpiece.size, face, turn, zero.corner, zero.z)).find(same);
}

/** Pictures and areas, then lines, then what is cut through: a piece that has dropped cannot be burned any more. */
function inOrder(burned: readonly Burned[]): readonly Burned[] {
  const rank = ({ placed }: Burned): number => {
    if (placed.mark.made.by === "burned through") return 3;
    return placed.aim.kind === "lines" ? 2 : 1;
  };
  return burned
    .map((b, i) => ({ b, i }))
    .sort((p, q) => rank(p.b) - rank(q.b) || p.i - q.i)
    .map(({ b }) => b);
}

/** Spot height at which head and empty nut clear all wood and clamps, and the spot itself is above them. */
function safeHeight(bench: BeamBench, lay: Lay): number {
  const highest = Math.max(lay.blank.max.z, ...lay.keepOuts.map((k) => k.box.max.z));
  const lowest = Math.min(0, ...beamCarriage(bench.machine).map((p) => p.profile.from));
  return highest - lowest + bench.shop.habits.clearance;
}

function liftFindings(bench: BeamBench, safeZ: number, burned: readonly Burned[]): readonly Finding[] {
  const { workpiece, machine } = bench;
  const lowest = Math.min(safeZ, ...burned.map((b) => (b.operation.follows ? b.placed.surface.bottom : b.operation.z)));
  const need = safeZ - lowest;
  if (need <= machine.travel.z) return [];
  return [
    {
      grade: "refuse",
      code: "beam-larger-than-travel",
      place: { part: workpiece.name, source: workpiece.source },
      what: `from its lowest focus to its safe height is more than Z can travel`,
      mend: "use lower clamps",
      measured: { value: need, bound: 0, unit: "mm" },
      limit: { value: machine.travel.z, unit: "mm", from: "the machine's travel" },
    },
  ];
}

/** The bit's way of finding zero, then how it becomes the beam's. */
function beamZeroWords(how: string, { laser }: BeamMachine): string {
  const drive = (axis: "x" | "y"): string =>
    `${axis.toUpperCase()} by ${tidy(Math.round(-laser.offset[axis] * 1000) / 1000)} mm`;
  const height =
    laser.slot === undefined
      ? `Z 0 is where the head's lower end stands ${tidy(laser.focusGap)} mm (the focus block) above that`
      : `Z by the head's length in slot ${laser.slot}, so that Z 0 of the program is the focus`;
  return `as for the bit (${how}); then, bit out, drive ${drive("x")} and ${drive("y")} and set X and Y to zero there: the beam stands over that place; ${height}`;
}
