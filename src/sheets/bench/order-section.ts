import type { FitPlan, HoldPoint, Step } from "../../fit/fit-plan.ts";
import { orderOfWork } from "../piece-order.ts";
import type { Block, CheckItem } from "./block.ts";
import { heldSection } from "./held-section.ts";
import { sentencesOf } from "./length-words.ts";
import { heldWords, runWords } from "./run-words.ts";
import { type BenchPiece, type BenchWork, type Run, runsOf } from "./work.ts";

/**
 * The first page: the order of the whole work, through to finishing, with a box for each step, the programs that run in it,
 * and the places where something is measured first.
 */
export function orderSection(work: BenchWork): readonly Block[] {
  const items = work.fit === undefined ? plainOrder(work) : fittedOrder(work, work.fit);
  return [
    { kind: "heading", level: 1, text: work.job.title },
    {
      kind: "paragraph",
      text: "Tick each step. Every program is rehearsed in scrap, or run dry, before it meets the real blank; its own page says how.",
    },
    ...heldSection(work),
    { kind: "checklist", items },
  ];
}

/** Steps about which programs are run, by the beginning of their names; the others only name their parts. */
const MACHINED = ["runners", "sides", "fronts"] as const;

function fittedOrder(work: BenchWork, fit: FitPlan): readonly CheckItem[] {
  const runs = runsOf(work.report);
  const turned = new Set(work.pieces.map((p) => p.piece.name));
  const drawn = new Set(fit.parts.flatMap(({ description: d }) => [d.name, ...(d.mirroredAs ? [d.mirroredAs] : [])]));
  const fits = (r: Run): boolean => r.on === "router" && r.parts.some((p) => drawn.has(p));
  const stepOf = (r: Run): Step | undefined =>
    fit.steps.find((s) => MACHINED.some((m) => s.id.startsWith(m)) && r.parts.some((p) => s.parts.includes(p)));
  const others = runs.filter(
    (r) => r.on === "router" && !fits(r) && !r.parts.some((p) => turned.has(p)) && !isKit(r, work),
  );
  const unplaced = runs.filter((r) => fits(r) && stepOf(r) === undefined);
  const burned = runs.filter((r) => r.on === "laser" && !r.parts.some((p) => turned.has(p)));
  const pulls = pullItems(work, runs);
  const hasPulls = fit.steps.some((s) => s.id === "pulls");
  return fit.steps.flatMap((step): readonly CheckItem[] => {
    const before: CheckItem[] = [];
    if (step.id === "case" && others.length > 0) {
      before.push({ text: "Cut what the case and other parts ask for.", notes: runWords(others, work) });
    }
    if (step.id === "dry fit" && unplaced.length > 0) {
      before.push({ text: "Cut the other parts of the drawers.", notes: runWords(unplaced, work) });
    }
    if (step.id === "finish inside" && burned.length > 0) before.push(burnItem(burned, work));
    if (step.id === (hasPulls ? "pulls" : "finish")) before.push(...pulls);
    const own = MACHINED.some((m) => step.id.startsWith(m)) ? runs.filter((r) => fits(r) && stepOf(r) === step) : [];
    const held = MACHINED.some((m) => step.id.startsWith(m)) ? heldWords(step.parts, work) : [];
    const hold = fit.holdPoints.find((h) => h.id === step.hold);
    // The same hold point is told once, before the first step that waits for it.
    const first = fit.steps.find((s) => s.hold === step.hold) === step;
    return [
      ...before,
      {
        // How runners are fitted is told where their sizes stand, so that this page stays one page.
        text: step.id === "fit runners" ? (sentencesOf(step.text)[0] ?? step.text) : step.text,
        notes: [
          ...(hold && first ? holdNotes(hold) : []),
          ...runWords(own, work),
          ...held,
          ...(step.id === "fit runners" && sentencesOf(step.text).length > 1
            ? ['how, and with which spacers and screws: under "Runners"']
            : []),
        ],
        ...(hold && first && !hold.done ? { hold: `Stop and measure first: ${hold.what}.` } : {}),
      },
    ];
  });
}

function holdNotes(hold: HoldPoint): readonly string[] {
  if (hold.done) return [`${hold.what}: done, and in the job`];
  return hold.measure.map((m) => `${m.name}: ______________ (in the job: ${m.write})`);
}

function plainOrder(work: BenchWork): readonly CheckItem[] {
  const runs = runsOf(work.report);
  const turned = new Set(work.pieces.map((p) => p.piece.name));
  const flat = work.setUps.filter(
    (s) => !s.workpiece.pieces.some((p) => turned.has(p.part)) && !isKitPart(s.workpiece.name, work),
  );
  const names = [...new Set(flat.map((s) => s.workpiece.name))];
  const burned = runs.filter((r) => r.on === "laser" && !r.parts.some((p) => turned.has(p)));
  const cut = names.map((name): CheckItem => {
    const setUps = flat.filter((s) => s.workpiece.name === name);
    const own = runs.filter((r) => setUps.some((s) => s.name === r.setUp));
    const parts = setUps.flatMap((s) => s.workpiece.pieces.map((p) => p.part));
    return { text: `Cut "${name}".`, notes: [...runWords(own, work), ...heldWords(parts, work)] };
  });
  const other = work.job.parts.filter((p) => p.features.length === 0).map((p) => p.name);
  return [
    {
      text: "Saw and plane the stock, a test piece with it. Measure every thickness as planed: where it is not what the job says, write it into the job and make the programs again.",
      notes: other.length > 0 ? [`no program cuts: ${other.join(", ")}`] : [],
    },
    ...cut,
    ...pullItems(work, runs),
    ...(burned.length > 0 ? [burnItem(burned, work)] : []),
    { text: "Put everything together dry, before there is glue.", notes: [] },
    {
      text: "Finish the inside faces: shellac or wax only inside drawers, and nothing on faces that are glued.",
      notes: [],
    },
    { text: "Glue up, square: measure both diagonals.", notes: [] },
    { text: "Clean up, fix the pulls, and finish the outside. Wax what slides.", notes: [] },
  ];
}

/** The turned parts, from the blank to the trued halves. */
function pullItems(work: BenchWork, runs: readonly Run[]): readonly CheckItem[] {
  return work.pieces.flatMap((one) => stagesOf(one, work, runs));
}

function stagesOf({ piece, kit }: BenchPiece, work: BenchWork, runs: readonly Run[]): readonly CheckItem[] {
  const own = runs.filter((r) => r.parts.includes(piece.name));
  const turning = own.filter((r) => r.on === "lathe");
  const hollowing = own.filter((r) => r.on === "router");
  const burning = own.filter((r) => r.on === "laser");
  const kits = runs.filter((r) => kit?.parts.some((p) => r.parts.includes(p.name)));
  const held = heldWords([piece.name], work);
  const item = (doing: string, programs: readonly Run[], more: readonly string[] = []): CheckItem => ({
    text: `"${piece.name}": ${doing}.`,
    notes: [...runWords(programs, work), ...more],
  });
  return orderOfWork(piece, kit).flatMap((stage): readonly CheckItem[] => {
    switch (stage.name) {
      case "Turn":
        return [item("make the blank, turn it, stop and measure it", turning)];
      case "Hollow":
        return [item("hollow its finger room, held as its pages say", [...kits, ...hollowing], held)];
      case "Split":
        // Lines and pictograms are burned on the whole blank: the split's guide line among them.
        return [
          ...(burning.length > 0 ? [item("burn its marks, while it is whole", burning)] : []),
          item("split it, and true the faces", []),
        ];
      // The blank is told with the turning, and the finish by its own list.
      default:
        return [];
    }
  });
}

function burnItem(burned: readonly Run[], work: BenchWork): CheckItem {
  return {
    text: "Burn the marks, on bare wood sanded to its last grit, all chips vacuumed away: before finish, and not on what is glued.",
    notes: runWords(burned, work),
  };
}

function isKit(r: Run, work: BenchWork): boolean {
  return r.parts.some((p) => isKitPart(p, work));
}

function isKitPart(name: string, { pieces }: BenchWork): boolean {
  return pieces.some(({ kit }) => kit?.parts.some((p) => p.name === name) ?? false);
}
