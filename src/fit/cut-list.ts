import type { Size } from "../job/board.ts";
import type { CutListItem, DrawerFit, FittedPart, FrontRun } from "./fit-plan.ts";
import { clean, type FitGround } from "./stuff.ts";

/**
 * Boards that fronts are sawn from, in the order in which they stand in the case: those of a row from left to right, of a
 * column from the bottom up, as the grain or the figure runs. Between two neighbours lie the saw's kerf and the planing of
 * both sawn edges; at the two ends of the board, and along it, what is left rough.
 */
export function frontRuns(g: FitGround, drawers: readonly DrawerFit[]): readonly FrontRun[] {
  const { drawers: d } = g;
  const way = d.fronts.oneBoard.value;
  if (way === "no") return [];
  const key = (f: DrawerFit): number => (way === "row" ? f.row : f.column);
  const between = clean(d.kerf.value + 2 * d.roughWidth.value);
  return [...new Set(drawers.map(key))].map((n): FrontRun => {
    const own = drawers.filter((f) => key(f) === n);
    const fronts = way === "row" ? own : [...own].reverse();
    const along = (f: DrawerFit): number => (way === "row" ? f.front.blank.length : f.front.blank.width);
    const end = way === "row" ? d.roughLength.value : d.roughWidth.value;
    let at = end;
    const parts = fronts.map((f) => {
      const from = at;
      at = clean(from + along(f) + between);
      return { part: f.front.part, from: clean(from), to: clean(from + along(f)) };
    });
    const run = clean(parts.at(-1)!.to + end);
    const across = Math.max(...fronts.map((f) => (way === "row" ? f.front.blank.width : f.front.blank.length)));
    const beside = way === "row" ? d.roughWidth.value : d.roughLength.value;
    const size: Size = {
      length: way === "row" ? run : clean(across + 2 * beside),
      width: way === "row" ? clean(across + 2 * beside) : run,
      thickness: clean(g.front.thickness + d.roughThickness.value),
    };
    return { name: `fronts of ${way} ${n}`, way, wood: d.fronts.wood.value, parts, between, size };
  });
}

/** The cut list: every part once, pairs and copies counted, mirror images with what they mirror. */
export function cutListOf(
  g: FitGround,
  parts: readonly FittedPart[],
  runs: readonly FrontRun[],
): readonly CutListItem[] {
  const { drawers: d } = g;
  return parts.map(({ role, description: p }): CutListItem => {
    const sheet = role === "spacer" || (role === "bottom" && d.bottoms.kind.value === "panel");
    const run = runs.find((r) => r.parts.some((f) => f.part === p.name));
    const rough: Size = {
      length: clean(p.size.length + (sheet ? 0 : 2 * d.roughLength.value)),
      width: clean(p.size.width + (sheet ? 0 : 2 * d.roughWidth.value)),
      thickness: clean(p.size.thickness + (sheet ? 0 : d.roughThickness.value)),
    };
    return {
      part: p.name,
      role,
      wood: p.wood,
      count: p.copies * (p.mirroredAs === undefined ? 1 : 2),
      finished: p.size,
      rough,
      grain: p.grain,
      from: sheet ? "panel" : role === "runner" || role === "kicker" || role === "slip" ? "strip" : "board",
      ...(run && { run: run.name }),
      source: p.source,
    };
  });
}
