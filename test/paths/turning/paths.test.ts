import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { TurningMove, TurningPath } from "../../../src/paths/turning/move.ts";
import { turningPaths } from "../../../src/paths/turning/turning-path.ts";
import { type PlannedTurning, planTurning } from "../../../src/plan/turning.ts";
import { extentOfMeridian, type Meridian, radiiOver } from "../../../src/shapes/meridian.ts";
import { nearestOn } from "../../../src/shapes/nearest-on.ts";
import type { Point } from "../../../src/shapes/point.ts";
import { arc, lengthOf, line, pointAt, type Segment } from "../../../src/shapes/segment.ts";
import { DEFAULT_SHOP } from "../../../src/shop/default-shop.ts";
import type { TurningTool } from "../../../src/shop/lathe.ts";
import type { Shop } from "../../../src/shop/shop.ts";
import { lowerEdgeAt, programmedPointOf, turningShape } from "../../../src/shop/turning-profile.ts";
import { piece } from "./pieces.ts";
import { anyMeridian, meridianFrom, tool } from "./profiles.ts";

const SHOP: Shop = {
  ...DEFAULT_SHOP,
  turningTools: [
    tool({ name: "round", noseRadius: 3, width: 6 }),
    tool({ name: "corner", slot: 2, noseRadius: 1.2, width: 2.4, maxBite: 0.8, point: "corner first" }),
    tool({
      name: "detail",
      slot: 3,
      kind: "detail",
      noseRadius: 0.4,
      width: 10,
      flanks: { first: 17.5, second: 17.5 },
    }),
    tool({ name: "part", slot: 4, kind: "parting", noseRadius: 0.1, width: 3, maxBite: 0.8, point: "corner second" }),
  ],
};

function planned(m: Meridian, shop = SHOP, shape: "square" | "round" = "square"): PlannedTurning {
  const plan = planTurning(piece(m, { shape }), shop);
  if (!plan.ok) throw new Error(plan.findings.map((f) => f.what).join("; "));
  return plan.value;
}

function pathsOf(p: PlannedTurning): readonly TurningPath[] {
  const paths = turningPaths(p.operations, p.setUp);
  if (!paths.ok) throw new Error("nothing to cut");
  return paths.value;
}

/** One move of the tool's reference point. */
interface Step {
  readonly move: TurningMove;
  readonly way: Segment;
}

/** The reference point's ways; the first rapids lead from nowhere and are left out. */
function stepsOf(path: TurningPath): readonly Step[] {
  const by = programmedPointOf(path.operation.tool);
  const back = (p: Point): Point => ({ x: p.x - by.x, y: p.y - by.y });
  const steps: Step[] = [];
  let at: { z?: number; r?: number } = {};
  for (const move of path.moves) {
    const to: { z?: number; r?: number } =
      move.kind === "rapid x"
        ? { ...at, r: move.r }
        : move.kind === "rapid z"
          ? { ...at, z: move.z }
          : { z: move.to.x, r: move.to.y };
    if (at.z !== undefined && at.r !== undefined) {
      const a = back({ x: at.z, y: at.r });
      const b = back({ x: to.z!, y: to.r! });
      const way = move.kind === "arc" ? arc(a, b, back(move.centre), move.ccw) : line(a, b);
      steps.push({ move, way });
    }
    at = to;
  }
  return steps;
}

function along(s: Segment, step: number): readonly Point[] {
  const n = Math.max(1, Math.ceil(lengthOf(s) / step));
  return Array.from({ length: n + 1 }, (_, k) => pointAt(s, k / n));
}

/** Deepest that a tool standing at p goes into a half section, by trying its whole width; its very sides left out. */
function depthAt(t: TurningTool, p: Point, m: Meridian): number {
  const shape = turningShape(t);
  let deepest = Number.NEGATIVE_INFINITY;
  for (let k = -40; k <= 40; k++) {
    const dz = (k / 40) * 5.5;
    const edge = lowerEdgeAt(shape, dz);
    if (
      !Number.isFinite(edge) ||
      Math.abs(dz) > shape.flat + shape.noseRadius + Math.max(shape.spread.first, shape.spread.second) - 1e-4
    )
      continue;
    const radii = radiiOver(m, p.x + dz, p.x + dz);
    if (radii !== undefined) deepest = Math.max(deepest, radii.least - (p.y + edge));
  }
  return deepest;
}

describe("turning paths over any profile", () => {
  it("never cut into the part, the square waste or the axis, and begin and end at the safe radius", () => {
    fc.assert(
      fc.property(anyMeridian, fc.constantFrom("square" as const, "round" as const), (m, shape) => {
        const p = planned(m, SHOP, shape);
        for (const path of pathsOf(p)) {
          expect(path.moves[0]!.kind).toBe("rapid z");
          const last = path.moves[path.moves.length - 1]!;
          expect(last).toEqual({ kind: "rapid x", r: p.setUp.safeRadius });
          const { tool: t, kind } = path.operation;
          for (const { move, way } of stepsOf(path)) {
            if (move.kind === "rapid z") expect(way.from.y).toBeCloseTo(p.setUp.safeRadius - programmedPointOf(t).y, 9);
            if (kind === "part") continue;
            for (const q of along(way, 1.1)) {
              expect(depthAt(t, q, p.setUp.target)).toBeLessThan(0.01);
              expect(q.y).toBeGreaterThanOrEqual(turningShape(t).noseRadius - 1e-9);
            }
          }
        }
      }),
      { numRuns: 20 },
    );
  });

  it("come down by rapid only where a slow record of the wood says air", () => {
    fc.assert(
      fc.property(anyMeridian, (m) => {
        const p = planned(m);
        const start = extentOfMeridian(p.setUp.start);
        const step = 0.1;
        const wood = Array.from(
          { length: Math.floor((start.to - start.from) / step) },
          () => p.setUp.start.segments[0]!.from.y,
        );
        const touch = (t: TurningTool, q: Point, visit: (i: number, edge: number) => void): void => {
          const shape = turningShape(t);
          const first = Math.max(0, Math.floor((q.x - 6 - start.from) / step));
          for (let i = first; i < wood.length && start.from + i * step < q.x + 6; i++) {
            const edge = lowerEdgeAt(shape, start.from + (i + 0.5) * step - q.x);
            if (Number.isFinite(edge)) visit(i, edge);
          }
        };
        for (const path of pathsOf(p)) {
          const t = path.operation.tool;
          for (const { move, way } of stepsOf(path)) {
            if (move.kind === "rapid x") {
              touch(t, way.to, (i, edge) => expect(wood[i]! - (way.to.y + edge)).toBeLessThan(0));
            } else if (move.kind !== "rapid z") {
              for (const q of along(way, 0.1)) {
                touch(t, q, (i, edge) => {
                  wood[i] = Math.min(wood[i]!, q.y + edge);
                });
              }
            }
          }
        }
      }),
      { numRuns: 8 },
    );
  });

  it("keep a lone round nose exactly its radius from the profile while it finishes", () => {
    const shop: Shop = { ...SHOP, turningTools: [SHOP.turningTools![1]!] };
    fc.assert(
      fc.property(anyMeridian, (m) => {
        const p = planned(m, shop);
        for (const path of pathsOf(p).filter((q) => q.operation.kind === "finish")) {
          for (const { move, way } of stepsOf(path)) {
            if ((move.kind !== "line" && move.kind !== "arc") || move.why !== "finish") continue;
            for (const q of along(way, 0.5)) {
              // Near the ends of the waste it is the centres that keep it away.
              if (q.x < p.setUp.zShift + 20 || q.x > -20) continue;
              const d = p.setUp.target.segments.reduce((least, s) => Math.min(least, nearestOn(s, q).distance), 99);
              expect(Math.abs(d - 1.2)).toBeLessThan(1e-6);
            }
          }
        }
      }),
      { numRuns: 25 },
    );
  });

  it("keep the tool clear of the centres", () => {
    fc.assert(
      fc.property(anyMeridian, (m) => {
        const p = planned(m);
        const body = p.setUp.keepOuts[1]!.outline;
        for (const path of pathsOf(p)) {
          const shape = turningShape(path.operation.tool);
          for (const { way } of stepsOf(path)) {
            for (const q of along(way, 0.5)) {
              for (const k of body) {
                const edge = lowerEdgeAt(shape, k.x - q.x);
                if (Number.isFinite(edge)) expect(q.y + edge).toBeGreaterThan(k.y - 1e-6);
              }
            }
          }
        }
      }),
      { numRuns: 10 },
    );
  });
});

describe("turning a pull", () => {
  const bead = meridianFrom(
    [
      { kind: "cylinder", width: 12_000, rise: 0, step: 4000 },
      { kind: "bead", width: 8000, rise: 4000, step: -3000 },
      { kind: "cove", width: 16_000, rise: 4000, step: 0 },
    ],
    0,
    9,
  );

  it("gives the same moves every time", () => {
    expect(pathsOf(planned(bead))).toEqual(pathsOf(planned(bead)));
  });

  it("takes the bulk in layers of no more than a bite, then cuts downhill only", () => {
    const p = planned(bead);
    const paths = pathsOf(p);
    const rough = paths[0]!;
    expect(rough.operation.kind).toBe("rough");
    const levels = rough.moves.flatMap((m, k) => {
      const before = rough.moves[k - 1];
      if (m.kind !== "line" || m.why !== "rough" || before?.kind !== "line") return [];
      return Math.abs(m.to.y - before.to.y) < 1e-9 ? [m.to.y] : [];
    });
    const start = p.setUp.start.segments[0]!.from.y;
    expect(levels[0]!).toBeGreaterThanOrEqual(start - 1.5 - 1e-9);
    const falls = [...new Set(levels.map((l) => l.toFixed(6)))].map(Number).sort((a, b) => b - a);
    for (const [k, l] of falls.entries()) if (k > 0) expect(falls[k - 1]! - l).toBeLessThanOrEqual(1.5 + 1e-9);
    for (const path of paths.filter((q) => q.operation.kind === "finish")) {
      for (const { move, way } of stepsOf(path)) {
        if ((move.kind === "line" || move.kind === "arc") && move.why === "finish") {
          expect(way.to.y).toBeLessThanOrEqual(way.from.y + 1e-9);
        }
      }
    }
  });

  it("parts to a nub and no further, inside the waste", () => {
    const p = planned(bead);
    const part = pathsOf(p).find((q) => q.operation.kind === "part")!;
    const { operation } = part;
    if (operation.kind !== "part") throw new Error("no parting");
    const depths = stepsOf(part).map(
      ({ way }) => Math.min(way.from.y, way.to.y) - turningShape(operation.tool).noseRadius,
    );
    expect(Math.min(...depths)).toBeCloseTo(4, 9);
    for (const slot of operation.at) {
      expect(
        p.setUp.piece.waste.some(
          (w) => slot.from >= w.from + p.setUp.zShift - 1e-9 && slot.to <= w.to + p.setUp.zShift + 1e-9,
        ),
      ).toBe(true);
    }
    for (const { way } of stepsOf(part)) {
      if (way.to.y > p.setUp.safeRadius) continue;
      const inSlot = operation.at.some((s) => way.to.x - 1.5 >= s.from - 1e-9 && way.to.x + 1.5 <= s.to + 1e-9);
      expect(inSlot).toBe(true);
    }
  });

  it("says that there is nothing to turn when the blank is the profile", () => {
    const rod = meridianFrom([{ kind: "cylinder", width: 40_000, rise: 0, step: 0 }], 0, 10);
    const p = planned(rod, SHOP, "round");
    const setUp = { ...p.setUp, start: p.setUp.target };
    const paths = turningPaths(
      p.operations.filter((o) => o.kind !== "part"),
      setUp,
    );
    expect(paths.ok).toBe(false);
    expect(paths.findings.map((f) => f.code)).toEqual(["nothing-to-write"]);
  });
});
