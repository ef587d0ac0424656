import type { Finding, Outcome } from "../finding.ts";
import type { ClearOperation, Level } from "../plan/operation.ts";
import type { SetUp } from "../plan/setup.ts";
import { componentsOf } from "../shapes/boolean.ts";
import { pointInPolygons } from "../shapes/polygons.ts";
import type { Region } from "../shapes/region.ts";
import { clearLevel } from "./clear-level.ts";
import { type Cleared, finishLevel } from "./finish.ts";
import { type Grounds, groundsOf } from "./grounds.ts";
import type { Move } from "./move.ts";
import { type Pass, passesIn } from "./passes.ts";
import { fitsNowhere } from "./problems.ts";
import { endTrail, startTrail, type Trail } from "./trail.ts";

/** What is worked out once for each different area, however many levels have it. */
interface Layout {
  readonly area: Region;
  readonly wood: Region | undefined;
  readonly aboveBottom: boolean;
  readonly keep: number | undefined;
  readonly grounds: Grounds;
  /** Worked out when asked for: finishing needs none. */
  readonly passes: () => readonly Pass[];
}

/**
 * An area cleared level by level, each from the inside out; then its floor and its walls finished.
 */
export function clear(operation: ClearOperation, setUp: SetUp): Outcome<readonly Move[]> {
  const trail = startTrail(operation, setUp);
  const layouts: Layout[] = [];
  const layoutFor = (level: Level): Layout => {
    const aboveBottom = level.z >= setUp.blank.min.z;
    const known = layouts.find(
      (l) =>
        l.aboveBottom === aboveBottom &&
        l.wood === level.wood &&
        l.keep === level.keep &&
        sameRegion(l.area, level.area),
    );
    if (known !== undefined) return known;
    const grounds = groundsOf(level, operation, setUp);
    const passes = once(() =>
      passesIn(grounds.cut, operation.step, operation.cutter.diameter / 2, grounds.roughWithin),
    );
    const layout = { area: level.area, wood: level.wood, keep: level.keep, aboveBottom, grounds, passes };
    layouts.push(layout);
    return layout;
  };
  const cleared = rough(trail, operation, setUp, layoutFor);
  const floor = operation.levels[operation.levels.length - 1];
  if (floor !== undefined) trail.findings.push(...placesTooNarrow(operation, setUp, layoutFor(floor).grounds));
  if (wallsNeedFinish(operation)) {
    for (const level of operation.finishLevels) {
      const { grounds } = layoutFor(level);
      finishLevel(trail, grounds, level.z, widestUnder(cleared, level.z), operation, setUp);
    }
  }
  return endTrail(trail);
}

function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | undefined;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

/** Roughing levels, and the floor once more where wood was left on it. Returns what is cleared, from the top down. */
function rough(trail: Trail, operation: ClearOperation, setUp: SetUp, layoutFor: (level: Level) => Layout): Cleared[] {
  const cleared: Cleared[] = [];
  const floor = operation.levels[operation.levels.length - 1];
  if (floor === undefined) return cleared;
  const cut = (level: Level, z: number, climb: boolean, why: "rough" | "finish"): void => {
    const above = cleared[cleared.length - 1];
    if (above !== undefined && z >= above.z - 1e-6) return;
    const layout = layoutFor(level);
    const { grounds } = layout;
    const passes = layout.passes();
    // Where no wood is left to take, the ground is as clear as if it were cut.
    if (passes.length === 0 && level.wood === undefined) return;
    if (passes.length > 0) clearLevel(trail, passes, grounds, { z, above, climb, why }, operation, setUp);
    cleared.push({ ground: grounds.rough, z });
  };
  const lowest = floor.z + operation.allowance.floor;
  for (const level of operation.levels) cut(level, Math.max(level.z, lowest), operation.roughing === "climb", "rough");
  cut(floor, floor.z, operation.finishing === "climb", "finish");
  return cleared;
}

/** A straight wall that roughing has left nothing on needs no second pass. */
function wallsNeedFinish(operation: ClearOperation): boolean {
  if (operation.allowance.wall > 0) return true;
  const levels = [...operation.levels, ...operation.finishLevels];
  const area = levels[0]?.area;
  return area !== undefined && levels.some((l) => l.keep !== undefined || !sameRegion(l.area, area));
}

/** The ground cleared to a height or lower, where it is widest: the first such from the top. */
function widestUnder(cleared: readonly Cleared[], z: number): Cleared | undefined {
  return cleared.find((c) => c.z <= z + 1e-6);
}

/** Pieces of the area that the cutter does not fit into anywhere. */
function placesTooNarrow(operation: ClearOperation, setUp: SetUp, grounds: Grounds): Finding[] {
  const { area, finish } = grounds;
  return componentsOf(area)
    .filter((piece) => !finish.some((ring) => ring.some((p) => pointInPolygons(piece, p))))
    .map((piece) => fitsNowhere(operation, setUp, piece[0]![0]!));
}

function sameRegion(a: Region, b: Region): boolean {
  if (a === b) return true;
  if (a.loops.length !== b.loops.length) return false;
  return a.loops.every((loop, i) => {
    const other = b.loops[i]!;
    return (
      loop.length === other.length &&
      loop.every((s, k) => {
        const t = other[k]!;
        if (s.from.x !== t.from.x || s.from.y !== t.from.y || s.to.x !== t.to.x || s.to.y !== t.to.y) return false;
        if (s.kind === "line" || t.kind === "line") return s.kind === t.kind;
        return s.ccw === t.ccw && s.centre.x === t.centre.x && s.centre.y === t.centre.y;
      })
    );
  });
}
