import type { Finding } from "../../src/finding.ts";
import type { Feature, PartDescription } from "../../src/job/job.ts";
import { describeWorkpieces } from "../../src/parts/describe.ts";
import type { Operation } from "../../src/plan/operation.ts";
import { type PlannedSetUp, planJob } from "../../src/plan/plan-job.ts";
import type { Cutter } from "../../src/shop/cutter.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import type { Shop } from "../../src/shop/shop.ts";
import { job, part } from "../parts/describing.ts";

/** Plans one part; findings of both stages together, cautions about the default bits' stick-out left out. */
export function plan(
  features: readonly Feature[],
  more: Partial<PartDescription> = {},
  shop: Shop = DEFAULT_SHOP,
): { readonly setUps: readonly PlannedSetUp[]; readonly findings: readonly Finding[] } {
  const j = job([part(features, more)]);
  const parts = describeWorkpieces(j);
  if (!parts.ok) return { setUps: [], findings: parts.findings };
  const planned = planJob(j, parts.value, shop);
  return {
    setUps: planned.ok ? planned.value : [],
    findings: [...parts.findings, ...planned.findings].filter((f) => f.code !== "plan-long-stick-out"),
  };
}

/** The operations of the only set-up. */
export function operations(
  features: readonly Feature[],
  more: Partial<PartDescription> = {},
  shop?: Shop,
): readonly Operation[] {
  const { setUps, findings } = plan(features, more, shop);
  if (setUps.length !== 1) throw new Error(findings.map((f) => `${f.code}: ${f.what}, ${f.why ?? ""}`).join("\n"));
  return setUps[0]!.operations;
}

export function refusals(found: {
  readonly findings: readonly Finding[];
}): readonly (readonly [string, number | undefined])[] {
  return found.findings.filter((f) => f.grade === "refuse").map((f) => [f.code, f.place.source?.line]);
}

/** The default shop with other cutters. */
export function shopWith(cutters: readonly Cutter[]): Shop {
  return { ...DEFAULT_SHOP, cutters };
}

/** A default bit by name, changed. */
export function bit(name: string, change: Partial<Cutter> = {}): Cutter {
  const found = DEFAULT_SHOP.cutters.find((c) => c.name === name);
  if (found === undefined) throw new Error(`no default bit ${name}`);
  return { ...found, ...change };
}
