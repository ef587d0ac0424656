import { readFileSync } from "node:fs";
import { join } from "node:path";
import { printFinding } from "../../src/finding.ts";
import type { TurningMove, TurningPath } from "../../src/paths/turning/move.ts";
import { turningPaths } from "../../src/paths/turning/turning-path.ts";
import { type PlannedTurning, planTurning } from "../../src/plan/turning.ts";
import type { TurningSetUp } from "../../src/plan/turning-setup.ts";
import type { Post } from "../../src/program/post.ts";
import { readPost } from "../../src/program/read-post.ts";
import type { TurningWriteInput } from "../../src/program/turning-text.ts";
import type { ReadOptions } from "../../src/reader/options.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import { type Lathe, xSignOf } from "../../src/shop/lathe.ts";
import type { Shop } from "../../src/shop/shop.ts";
import { piece } from "../paths/turning/pieces.ts";
import { meridianFrom } from "../paths/turning/profiles.ts";

/** Every convention that a lathe's dialect may have. */
export const CONVENTIONS = (["radius", "diameter"] as const).flatMap((xWords) =>
  (["rear", "front"] as const).map((toolPost) => ({ xWords, toolPost, name: `${xWords}, ${toolPost} post` })),
);

export type Convention = (typeof CONVENTIONS)[number];

export function lathePost(name: "lathe-radius" | "lathe-diameter", edit = (text: string): string => text): Post {
  const text = readFileSync(join(import.meta.dirname, "../../post", `${name}.yaml`), "utf8");
  const read = readPost(edit(text), `${name}.yaml`);
  if (!read.ok) throw new Error(read.findings.map(printFinding).join("\n"));
  return read.value;
}

/** The same dialect in inches. */
export const inInches = (text: string): string =>
  text.replace("unit: mm", "unit: inch").replace("decimals: 4", "decimals: 5").replace("G21", "G20");

/** A lathe that homes and speaks one convention. */
export function lathe(c: Pick<Convention, "xWords" | "toolPost">, more: Partial<Lathe> = {}): Lathe {
  const base = DEFAULT_SHOP.lathes![0]!;
  return { ...base, ...c, name: "test lathe", post: `lathe-${c.xWords}`, ...more };
}

/** A post that fits the lathe. */
export function postOf(l: Lathe, edit = (text: string): string => text): Post {
  const { homes } = l.controller;
  return lathePost(l.xWords === "radius" ? "lathe-radius" : "lathe-diameter", (text) =>
    edit(
      homes
        ? text.replace("first lift: ask", "first lift: {machine height: 0}")
        : text.replace("{machine height: 0}", "ask"),
    ),
  );
}

/** A pull with every kind of stretch. */
export const PULL = meridianFrom(
  [
    { kind: "cylinder", width: 10_000, rise: 0, step: 4000 },
    { kind: "bead", width: 8000, rise: 3000, step: 0 },
    { kind: "cove", width: 14_000, rise: 4000, step: -2000 },
    { kind: "taper", width: 20_000, rise: 3000, step: 0 },
    { kind: "bead", width: 10_000, rise: 5000, step: 0 },
  ],
  0,
  8,
);

export function planned(l: Lathe, shop: Shop = DEFAULT_SHOP): PlannedTurning {
  const plan = planTurning(piece(PULL), { ...shop, lathes: [l] });
  if (!plan.ok) throw new Error(plan.findings.map(printFinding).join("\n"));
  return plan.value;
}

export function inputFor(l: Lathe, edit = (text: string): string => text): TurningWriteInput {
  const { setUp, operations } = planned(l);
  const paths = turningPaths(operations, setUp);
  if (!paths.ok) throw new Error("nothing to cut");
  return { setUp, paths: paths.value, post: postOf(l, edit), title: "test", version: "0.1.0" };
}

/** One operation whose moves are given, of a tool whose programmed point is what they say. */
export function inputWith(
  l: Lathe,
  moves: readonly TurningMove[],
  edit = (text: string): string => text,
): TurningWriteInput {
  const { setUp, operations } = planned(l);
  const path: TurningPath = {
    operation: operations[0]!,
    moves: [{ kind: "rapid z", z: 0 }, ...moves, { kind: "rapid x", r: setUp.safeRadius }],
  };
  return { setUp, paths: [path], post: postOf(l, edit), title: "test", version: "0.1.0" };
}

/** How the shop's lathe reads. */
export function readOptionsOf(setUp: TurningSetUp): ReadOptions {
  const { lathe: l } = setUp;
  return {
    manner: "ours",
    machineTravel: { x: l.travel.x, y: Number.POSITIVE_INFINITY, z: l.travel.z },
    speedByDial: l.spindle.kind === "dial",
    lathe: {
      xWords: l.xWords,
      side: xSignOf(l),
      safeRadius: setUp.safeRadius,
      stockRadius: setUp.start.segments[0]!.from.y,
    },
  };
}
