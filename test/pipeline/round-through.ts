import type { Workpiece } from "../../src/parts/workpiece.ts";
import type { Toolpath } from "../../src/paths/move.ts";
import { pathFor } from "../../src/paths/path-for.ts";
import { evenLevels } from "../../src/plan/levels.ts";
import type { Operation } from "../../src/plan/operation.ts";
import type { PlannedSetUp } from "../../src/plan/plan-job.ts";
import type { SetUp } from "../../src/plan/setup.ts";
import { writePrograms } from "../../src/program/write-programs.ts";
import type { Proof } from "../../src/proof/proof.ts";
import { proveSetUp } from "../../src/proof/prove.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import type { Shop } from "../../src/shop/shop.ts";
import { planRound } from "../plan/round-stock.ts";
import { post } from "../program/fixtures.ts";

/** One set-up of round stock, made and proved. */
export interface Through {
  readonly setUp: SetUp;
  readonly operations: readonly Operation[];
  readonly texts: readonly { readonly file: string; readonly text: string }[];
  readonly proof: Proof;
}

/** Paths, programs and proof of a planned set-up. @throws where a stage refuses, with its reasons */
export function through({ setUp, operations }: PlannedSetUp, shop: Shop = DEFAULT_SHOP): Through {
  const toolpaths = operations.map((o): Toolpath => {
    const made = pathFor(o, setUp);
    if (!made.ok) throw new Error(made.findings.map((f) => f.what).join("; "));
    return made.value;
  });
  const written = writePrograms({ setUp, toolpaths, post: post("millimetre"), title: "Pulls", version: "0.1.0" });
  if (!written.ok) throw new Error(written.findings.map((f) => f.what).join("; "));
  const texts = written.value.map((p) => ({ file: p.name, text: p.text }));
  return { setUp, operations, texts, proof: proveSetUp({ setUp, programs: texts, shop }) };
}

/** Plans a workpiece and takes each of its set-ups through. @throws where planning refuses */
export function allThrough(workpiece: Workpiece, shop: Shop = DEFAULT_SHOP): readonly Through[] {
  const planned = planRound(workpiece, shop);
  const refused = planned.findings.filter((f) => f.grade === "refuse");
  if (refused.length > 0) throw new Error(refused.map((f) => `${f.code}: ${f.what}, ${f.why ?? ""}`).join("\n"));
  return planned.setUps.map((s) => through(s, shop));
}

/** What a proof refuses, by code. */
export function refusedBy(proof: Proof): readonly string[] {
  return proof.findings
    .filter((f) => f.grade === "refuse")
    .map((f) => `${f.code}: ${f.what} ${f.why ?? ""} ${JSON.stringify(f.place.at ?? {})}`);
}

/** The same operation without regard for the wood: even levels from the top of the box, each over the whole plan. */
export function everyLevel(o: Operation, top: number): Operation {
  if (o.kind !== "clear") return o;
  const floor = o.levels[o.levels.length - 1]!.z;
  const step = o.topZ - o.levels[0]!.z;
  const { area } = o.levels[0]!;
  return { ...o, topZ: top, levels: evenLevels(top, floor, step).map((z) => ({ z, area })) };
}
