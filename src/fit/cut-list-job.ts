import type { Finding } from "../finding.ts";
import type { Job, PartDescription } from "../job/job.ts";
import type { Shop } from "../shop/shop.ts";
import { boardFeet, cubicMetres, sheetArea, volumeOf } from "./board-measure.ts";
import { type BoardsPlan, boardPlans } from "./cut-list-boards.ts";
import { type Allowances, allowancesOf, type CutRow, cutRows, woodKey } from "./cut-list-rows.ts";
import type { FitPlan } from "./fit-plan.ts";

/** What wood a job takes: its pieces, how they are cut from boards, and how much of each wood that is. */
export interface CutList {
  readonly rows: readonly CutRow[];
  readonly allowances: Allowances;
  readonly plans: readonly BoardsPlan[];
  readonly totals: readonly WoodTotal[];
}

/** How much of one wood. Volumes in mm³, areas in mm². */
export interface WoodTotal {
  readonly wood: string;
  /** Of the finished parts. */
  readonly finished: number;
  /** Of the pieces as sawn. */
  readonly rough: number;
  /** Of the boards that are cut into, whole; without stock, of the strips to buy. Panels: of the pieces. */
  readonly boards: number;
  readonly boardFeet: number;
  readonly cubicMetres: number;
  /** Face of what is cut from panels; 0 for solid wood. */
  readonly sheet: number;
  /** Share of the boards that does not end in a finished part, 0 to 1. */
  readonly waste: number;
}

/**
 * The cut list of any job, with or without drawers.
 * @param job with the parts of its drawers written out
 * @param plan how the drawers were fitted; absent where the job has none
 * @param kits parts that hold others while they are worked
 */
export function cutListFor(
  job: Job,
  plan: FitPlan | undefined,
  shop: Shop,
  kits: readonly PartDescription[] = [],
): { readonly list: CutList; readonly findings: readonly Finding[] } {
  const rows = cutRows(job, plan, shop, kits);
  const allowances = allowancesOf(job);
  const { plans, findings } = boardPlans(job, rows, allowances, shop);
  const woods = [...new Set(rows.map((r) => woodKey(shop, r.wood)))];
  const totals = woods.map((wood) => {
    const own = rows.filter((r) => woodKey(shop, r.wood) === wood);
    return totalOf(
      wood,
      own,
      plans.filter((p) => p.wood === wood),
    );
  });
  return { list: { rows, allowances, plans, totals }, findings };
}

function totalOf(wood: string, rows: readonly CutRow[], plans: readonly BoardsPlan[]): WoodTotal {
  const sum = (list: readonly CutRow[], of: (r: CutRow) => number): number =>
    list.reduce((total, r) => total + r.count * of(r), 0);
  const final = rows.filter((r) => r.only === undefined);
  const sawn = rows.filter((r) => r.outOf === undefined);
  const panels = sawn.filter((r) => r.from === "panel");
  const finished = sum(final, (r) => volumeOf(r.finished));
  const rough = sum(sawn, (r) => volumeOf(r.rough));
  const fromBoards = plans.reduce(
    (total, p) =>
      total +
      [...p.boards, ...p.buy].reduce(
        (v, b) => v + volumeOf({ length: b.length, width: b.width, thickness: p.thickness }),
        0,
      ) +
      // What no board holds has still to come from somewhere.
      p.missing.reduce((v, m) => v + m.count * m.along * m.across * m.thick, 0),
    0,
  );
  const boards = fromBoards + sum(panels, (r) => volumeOf(r.rough));
  return {
    wood,
    finished,
    rough,
    boards,
    boardFeet: boardFeet(boards),
    cubicMetres: cubicMetres(boards),
    sheet: sum(panels, (r) => r.rough.length * r.rough.width),
    waste: boards > 0 ? 1 - finished / boards : 0,
  };
}

/** A panel's area in words of both shops. */
export function sheetText(mm2: number): string {
  const { squareMetres, squareFeet } = sheetArea(mm2);
  return `${squareMetres.toFixed(3)} m² (${squareFeet.toFixed(2)} sq ft)`;
}
