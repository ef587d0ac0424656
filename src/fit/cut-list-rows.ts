import type { Source } from "../finding.ts";
import type { Size } from "../job/board.ts";
import type { Job, PartDescription } from "../job/job.ts";
import { ROUGH } from "../job/stock-boards.ts";
import type { Shop } from "../shop/shop.ts";
import type { FitPlan } from "./fit-plan.ts";
import { clean } from "./stuff.ts";

/** A line of a cut list, sizes in mm. */
export interface CutRow {
  readonly part: string;
  /** Its mirror image, counted with it. */
  readonly twin?: string;
  /** What it is: a role in a drawer, or part, board, turning blank, holding kit. */
  readonly what: string;
  readonly wood: string;
  readonly count: number;
  readonly finished: Size;
  readonly rough: Size;
  readonly grain: "along length" | "along width" | "none";
  readonly from: "board" | "strip" | "panel" | "turning blank";
  /** The board of several parts that it is sawn from: it is counted there. */
  readonly outOf?: string;
  /** It is only a board for other parts: not counted among what the wood becomes. */
  readonly only?: "board";
  readonly source: Source;
}

/** What saw, plane and squaring take. mm */
export interface Allowances {
  /** At each end. */
  readonly length: number;
  /** At each edge. */
  readonly width: number;
  /** Both faces together. */
  readonly thickness: number;
  readonly kerf: number;
  /** The job doesn't say them. */
  readonly assumed: boolean;
}

/** The job's own allowances; the usual ones where it has no drawers that say them. */
export function allowancesOf(job: Job): Allowances {
  const d = job.cabinet?.drawers;
  if (d === undefined) return { ...ROUGH, assumed: true };
  return {
    length: d.roughLength.value,
    width: d.roughWidth.value,
    thickness: d.roughThickness.value,
    kerf: d.kerf.value,
    assumed: [d.roughLength, d.roughWidth, d.roughThickness, d.kerf].every((g) => g.assumed !== undefined),
  };
}

/**
 * Every piece of wood of a job: drawers' parts, its own parts, boards that parts are cut from, turning blanks, holding
 * kits. Mirror images count with what they mirror.
 * @param job with the parts of its drawers written out
 * @param kits parts that hold others while they are worked
 */
export function cutRows(
  job: Job,
  plan: FitPlan | undefined,
  shop: Shop,
  kits: readonly PartDescription[],
): readonly CutRow[] {
  const a = allowancesOf(job);
  const written = new Set(plan?.parts.map((p) => p.description.name));
  const kit = new Set(kits.map((k) => k.name));
  const twins = new Map(plan?.parts.map((p) => [p.description.name, p.description.mirroredAs] as const));
  const listed = (plan?.cutList ?? []).map(({ role, run, ...item }): CutRow => {
    const twin = twins.get(item.part);
    return { ...item, ...(twin !== undefined && { twin }), what: role, ...(run !== undefined && { outOf: run }) };
  });
  const runs = (plan?.runs ?? []).map((run): CutRow => {
    const own = listed.find((r) => r.outOf === run.name)!;
    return {
      part: run.name,
      what: "board for fronts",
      wood: run.wood,
      count: 1,
      finished: run.size,
      rough: run.size,
      // Its length lies along the fronts' length, whether they stand side by side or one above the other.
      grain: own.grain,
      from: "board",
      only: "board",
      source: own.source,
    };
  });
  const sheet = (wood: string, grain: CutRow["grain"]): boolean => grain === "none" || isSheet(shop, wood);
  const onBoard = new Map(job.boards.flatMap((b) => b.places.map((p) => [p.part, b.name] as const)));
  const own = [...job.parts.filter((p) => !written.has(p.name) && !kit.has(p.name)), ...kits].map((p): CutRow => {
    const panel = sheet(p.wood, p.grain);
    const board = onBoard.get(p.name) ?? (p.mirroredAs === undefined ? undefined : onBoard.get(p.mirroredAs));
    return {
      part: p.name,
      ...(p.mirroredAs !== undefined && { twin: p.mirroredAs }),
      what: kit.has(p.name) ? "holding kit" : "part",
      wood: p.wood,
      count: p.copies * (p.mirroredAs === undefined ? 1 : 2),
      finished: p.size,
      rough: board === undefined && !panel ? roughOf(p.size, a) : p.size,
      grain: p.grain,
      from: panel ? "panel" : "board",
      ...(board !== undefined && { outOf: board }),
      source: p.source,
    };
  });
  const boards = job.boards.map((b): CutRow => {
    const panel = sheet(b.wood, b.grain);
    return {
      part: b.name,
      what: "board for several parts",
      wood: b.wood,
      count: 1,
      finished: b.size,
      rough: panel ? b.size : roughOf(b.size, a),
      grain: b.grain,
      from: panel ? "panel" : "board",
      only: "board",
      source: b.source,
    };
  });
  const turned = (job.turned ?? []).map((t): CutRow => {
    const size = { length: t.blank.length, width: t.blank.across, thickness: t.blank.across };
    // Its ends are waste already; planed square only where the square is kept.
    const across = t.blank.shape === "square" ? clean(t.blank.across + a.thickness) : t.blank.across;
    return {
      part: t.name,
      what: t.blank.shape === "square" ? "turning blank, square" : "turning blank, round",
      wood: t.wood,
      count: t.copies,
      finished: size,
      rough: { length: size.length, width: across, thickness: across },
      grain: "along length",
      from: "turning blank",
      source: t.source,
    };
  });
  return [...runs, ...listed, ...boards, ...own, ...turned];
}

/** True for plywood and the like, which is bought by area. */
export function isSheet(shop: Shop, wood: string): boolean {
  const kind = woodOf(shop, wood);
  return kind?.class === "plywood" || kind?.class === "mdf";
}

/** The shop's own name for a wood, so that one wood under two names is one. */
export function woodKey(shop: Shop, wood: string): string {
  return woodOf(shop, wood)?.name ?? wood.trim().toLowerCase();
}

function woodOf(shop: Shop, wood: string): Shop["woods"][number] | undefined {
  const wanted = wood.trim().toLowerCase();
  return shop.woods.find((w) => [w.name, ...w.alsoCalled].some((n) => n.toLowerCase() === wanted));
}

function roughOf(size: Size, a: Allowances): Size {
  return {
    length: clean(size.length + 2 * a.length),
    width: clean(size.width + 2 * a.width),
    thickness: clean(size.thickness + a.thickness),
  };
}
