import { pathsFor } from "../../src/paths/path-for.ts";
import { planAll } from "../../src/pipeline.ts";
import type { PlannedSetUp } from "../../src/plan/plan-job.ts";
import type { Post } from "../../src/program/post.ts";
import { readPost } from "../../src/program/read-post.ts";
import { writePrograms } from "../../src/program/write-programs.ts";
import type { Proof } from "../../src/proof/proof.ts";
import { proveSetUp } from "../../src/proof/prove.ts";
import type { Shop } from "../../src/shop/shop.ts";
import { oneBoard, projectText, textsOf } from "../pipeline/texts.ts";

/** A board with a mark, planned with the sample shop, and its program. */
export interface MarkedBoard {
  readonly planned: PlannedSetUp;
  readonly shop: Shop;
  readonly text: string;
}

export const BOARD = { length: 60, width: 40, thickness: 12 };

/** One board with features, as written; the codes of what refused it where it was refused. */
export function markedBoard(features: readonly string[], shop?: (text: string) => string): MarkedBoard {
  const texts = textsOf(oneBoard(features, BOARD));
  const changed =
    shop === undefined ? texts : { ...texts, readText: (name: string) => shop(texts.readText?.(name) ?? "") };
  const planned = planAll(changed);
  if (!planned.ok) throw new Error(planned.findings.map((f) => `${f.code}: ${f.what}; ${f.why ?? ""}`).join("\n"));
  const one = planned.value.setUps[0]!;
  return { planned: one, shop: planned.value.shop, text: written(one) };
}

/** The program of a set-up. */
export function written({ setUp, operations }: PlannedSetUp): string {
  const toolpaths = pathsFor(operations, setUp).map((p) => {
    if (!p.ok) throw new Error(JSON.stringify(p.findings));
    return p.value;
  });
  const programs = writePrograms({ setUp, toolpaths, post: millimetrePost(), title: "mark", version: "0" });
  if (!programs.ok) throw new Error(JSON.stringify(programs.findings));
  return programs.value[0]!.text;
}

function millimetrePost(): Post {
  const read = readPost(projectText("post/millimetre.yaml"), "millimetre.yaml");
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  return read.value;
}

/** What the proof says of a text, with the set-up as planned. */
export function proofOf({ planned, shop }: Pick<MarkedBoard, "planned" | "shop">, text: string): Proof {
  return proveSetUp({ setUp: planned.setUp, shop, programs: [{ file: "mark.nc", text }] });
}

export function refusalCodes(p: Proof): readonly string[] {
  return [...new Set(p.findings.filter((f) => f.grade === "refuse").map((f) => f.code))].sort();
}
