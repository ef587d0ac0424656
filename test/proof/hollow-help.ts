import fc from "fast-check";
import type { PlanShape, RecessFeature } from "../../src/job/job.ts";
import { faceFrame } from "../../src/parts/faces.ts";
import { pathFor } from "../../src/paths/path-for.ts";
import type { PlannedSetUp } from "../../src/plan/plan-job.ts";
import type { Post } from "../../src/program/post.ts";
import { readPost } from "../../src/program/read-post.ts";
import { writePrograms } from "../../src/program/write-programs.ts";
import type { Proof } from "../../src/proof/proof.ts";
import { proveSetUp } from "../../src/proof/prove.ts";
import { compose, inverse } from "../../src/shapes/frame.ts";
import { mapRegion, planOf } from "../../src/shapes/plan-map.ts";
import type { Region } from "../../src/shapes/region.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import { hollowFeature, THICK } from "../parts/hollow-made.ts";
import { projectText } from "../pipeline/texts.ts";
import { plan } from "../plan/planning.ts";

export const um = (low: number, high: number) => fc.integer({ min: low * 1000, max: high * 1000 }).map((n) => n / 1000);

function millimetrePost(): Post {
  const read = readPost(projectText("post/millimetre.yaml"), "millimetre.yaml");
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  return read.value;
}

export interface Made {
  readonly planned: PlannedSetUp;
  readonly programs: readonly { readonly file: string; readonly text: string }[];
}

export function made(shape: PlanShape, depth: number, more: Partial<RecessFeature>, cutter?: string): Made | undefined {
  const { setUps } = plan([hollowFeature(shape, depth, more, cutter)], { size: THICK });
  const planned = setUps[0];
  if (planned === undefined) return undefined;
  const toolpaths = planned.operations.map((o) => {
    const path = pathFor(o, planned.setUp);
    if (!path.ok) throw new Error(JSON.stringify(path.findings));
    return path.value;
  });
  const written = writePrograms({
    setUp: planned.setUp,
    toolpaths,
    post: millimetrePost(),
    title: "hollow",
    version: "0",
  });
  if (!written.ok) throw new Error(JSON.stringify(written.findings));
  return { planned, programs: written.value.map((p) => ({ file: p.name, text: p.text })) };
}

export function proofOf({ planned, programs }: Made): Proof {
  return proveSetUp({ setUp: planned.setUp, programs, shop: DEFAULT_SHOP });
}

export const refusals = (p: Proof): readonly string[] =>
  p.findings.filter((f) => f.grade === "refuse").map((f) => `${f.code}: ${f.what}`);

/** A section of the face, as it lies in the set-up. */
export function inSection(setUp: PlannedSetUp["setUp"], section: Region): Region {
  return mapRegion(planOf(compose(inverse(faceFrame(setUp.workpiece.size, "face")), setUp.frame)), section);
}

/** The program with lines changed. */
export function changed(m: Made, change: (line: string) => string): Made {
  return {
    ...m,
    programs: m.programs.map((p) => ({ ...p, text: p.text.split("\n").map(change).join("\n") })),
  };
}
