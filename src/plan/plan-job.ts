import { type Finding, type Outcome, refuses } from "../finding.ts";
import type { FaceName } from "../job/board.ts";
import type { Job } from "../job/job.ts";
import { FACES, oppositeOf } from "../parts/faces.ts";
import type { Cavity, Workpiece } from "../parts/workpiece.ts";
import type { Shop } from "../shop/shop.ts";
import type { WoodKind } from "../shop/wood.ts";
import { closest } from "../units/closest.ts";
import { type Bench, DEFAULT_WASTE_BOARD } from "./bench.ts";
import { chooseMachine } from "./machine-choice.ts";
import type { Operation } from "./operation.ts";
import { planFace, type Worked } from "./plan-face.ts";
import type { SetUp } from "./setup.ts";
import { webFindings } from "./webs.ts";

/** A set-up with what is done in it, in order. */
export interface PlannedSetUp {
  readonly setUp: SetUp;
  readonly operations: readonly Operation[];
}

/**
 * Plans every workpiece of a job: one set-up for each face with something to cut, the face side first and what frees a
 * part last; each with its frame, holding, witness marks, cutters and operations in order. All independent findings are
 * gathered; when one refuses there is no value. The same input gives the same plan.
 */
export function planJob(job: Job, workpieces: readonly Workpiece[], shop: Shop): Outcome<readonly PlannedSetUp[]> {
  const findings: Finding[] = [];
  const planned: PlannedSetUp[] = [];
  for (const workpiece of workpieces) {
    const result = planWorkpiece(workpiece, shop);
    findings.push(...result.findings);
    planned.push(...result.planned);
  }
  if (planned.length === 0 && !refuses(findings) && job.parts.length > 0) {
    findings.push({
      grade: "note",
      code: "plan-nothing-to-cut",
      place: {},
      what: "no part of this job has anything for the router to cut",
    });
  }
  return refuses(findings) ? { ok: false, findings } : { ok: true, value: planned, findings };
}

function planWorkpiece(
  workpiece: Workpiece,
  shop: Shop,
): { readonly planned: readonly PlannedSetUp[]; readonly findings: readonly Finding[] } {
  const findings: Finding[] = [];
  const faces = facesInOrder(workpiece);
  if (faces.length === 0) return { planned: [], findings };
  const wood = woodOf(workpiece, shop);
  const fitting = chooseMachine(workpiece, faces, shop);
  if ("grade" in wood) findings.push(wood);
  if ("grade" in fitting) findings.push(fitting);
  if ("grade" in wood || "grade" in fitting) return { planned: [], findings };
  const bench: Bench = {
    workpiece,
    wood,
    shop,
    machine: fitting.machine,
    wasteBoard: workpiece.wishes.wasteBoard ?? DEFAULT_WASTE_BOARD,
  };
  const worked: Worked[] = [];
  for (const face of faces) {
    const result = planFace(bench, face, fitting.turned[face] ?? 0, worked);
    findings.push(...result.findings);
    if (result.worked) worked.push(result.worked);
  }
  const final = worked.flatMap((w) => w.setUp.cavities);
  // Round stock has no flat faces to measure webs from: its walls are judged by their own law, and by the proof's grid.
  if (!refuses(findings) && workpiece.round === undefined) findings.push(...webFindings(workpiece, final, shop));
  // What lies on the machine, with its cavities as they will really be cut.
  const whole: Workpiece = { ...workpiece, cavities: final };
  return {
    planned: worked.map(({ setUp, operations }) => ({ setUp: { ...setUp, workpiece: whole }, operations })),
    findings,
  };
}

/**
 * Faces with something to cut: the face side first, then the one opposite, then edges and ends. A face that a part is cut
 * free from comes last, whichever it is.
 */
function facesInOrder(workpiece: Workpiece): readonly FaceName[] {
  const first = workpiece.faceSide;
  const order: readonly FaceName[] = [
    first,
    oppositeOf(first),
    ...FACES.filter((f) => f !== first && f !== oppositeOf(first)),
  ];
  const frees = (face: FaceName): boolean =>
    workpiece.cavities.some((c: Cavity) => c.face === face && c.shape.kind === "outline" && c.shape.side === "outside");
  const used = order.filter((face) => workpiece.cavities.some((c) => c.face === face));
  return [...used.filter((f) => !frees(f)), ...used.filter(frees)];
}

/** What the shop knows of a workpiece's wood; refused, with the nearest name, where it knows none. */
export function woodOf(workpiece: Workpiece, shop: Shop): WoodKind | Finding {
  const wanted = workpiece.wood.trim().toLowerCase();
  const found = shop.woods.find((w) => [w.name, ...w.alsoCalled].some((n) => n.toLowerCase() === wanted));
  if (found) return found;
  const names = shop.woods.flatMap((w) => [w.name, ...w.alsoCalled]);
  const near = closest(wanted, names);
  return {
    grade: "refuse",
    code: "plan-wood-unknown",
    place: { part: workpiece.name, source: workpiece.source },
    what: `the shop knows no wood called "${workpiece.wood}"`,
    why: "speeds and step-downs hang on the wood",
    mend:
      near === undefined
        ? `known woods: ${shop.woods.map((w) => w.name).join(", ")}; or add it to the shop file`
        : `did you mean "${near}"?`,
  };
}
