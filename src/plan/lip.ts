import { type Finding, tidy } from "../finding.ts";
import { isSmooth, type Lip, type LipWall, lipOf, lipWallOf } from "../parts/lip/lip.ts";
import type { Cavity } from "../parts/workpiece.ts";
import { topOverSection } from "../shapes/turned-section.ts";
import type { TurnedSolid } from "../shapes/turned-solid.ts";
import type { Cutter } from "../shop/cutter.ts";
import { speedsFor } from "../shop/speeds.ts";
import type { Bench } from "./bench.ts";
import type { Settled } from "./cutter-choice.ts";
import { type LipPasses, lipPasses } from "./lip-passes.ts";
import { NUT_CLEAR } from "./nut-room.ts";
import type { EaseOperation } from "./operation.ts";
import { inSetUp, type Placing } from "./placing.ts";

/** The lips of a set-up: how they are eased, and the cavities, without an eased lip where it is left to the hand. */
export interface Lips {
  readonly operations: readonly EaseOperation[];
  readonly cavities: readonly Cavity[];
  readonly findings: readonly Finding[];
}

/** Places along a lip, mm. */
const STEP = 0.25;
/** A bit in use that reaches less of the lip by no more than this share is taken all the same. */
const NEARLY = 0.02;
/** Shares of a lip that count as all of it. */
const ALL = 0.9999;

interface Try {
  readonly cutter: Cutter;
  readonly made: LipPasses;
  readonly used: boolean;
}

/**
 * Eases the lips of recesses in round stock. Of the shop's round noses the one that reaches most of the lip; among equals
 * one in use already, then the largest, whose passes are fewest.
 */
export function planLips(
  bench: Bench,
  placing: Placing,
  ordered: readonly Settled[],
  before: number,
  name: string,
  solid: TurnedSolid | undefined,
): Lips {
  const operations: EaseOperation[] = [];
  const findings: Finding[] = [];
  const used = new Set(ordered.map((s) => s.cutter));
  const cavities = ordered.flatMap((s) =>
    s.final.map((c): Cavity => {
      if (c.lipEase === undefined || solid === undefined) return c;
      const { lipEase, ...sharp } = c;
      const here = inSetUp(bench.workpiece.size, c, placing.frame);
      const top = placing.blank.max.z;
      const wall = lipWallOf(c, here.section, top - c.from, top - c.to);
      if (wall === undefined || !isSmooth(here.section)) {
        findings.push(byHand(c, lipEase, "its outline has sharp corners"));
        return sharp;
      }
      const lip = lipOf(solid, wall, lipEase, STEP);
      const best = bestOf(bench, c, here, lip, wall, solid, used);
      if (best === undefined || best.made.passes.length === 0) {
        findings.push(byHand(c, lipEase, "no round-nosed bit of the shop gets at it"));
        return sharp;
      }
      const made = operationOf(bench, c, here, best, solid, `${name} ${before + operations.length + 1}`, placing);
      operations.push(made.operation);
      findings.push(...made.findings);
      if (best.made.reached < ALL) findings.push(partly(c, lipEase, best));
      return c;
    }),
  );
  const last = ordered[ordered.length - 1]?.cutter;
  operations.sort((a, b) => Number(b.cutter === last) - Number(a.cutter === last));
  return { operations, cavities, findings };
}

function bestOf(
  bench: Bench,
  c: Cavity,
  here: Cavity,
  lip: Lip,
  wall: LipWall,
  solid: TurnedSolid,
  used: ReadonlySet<Cutter>,
): Try | undefined {
  const flanges = topOverSection(solid, here.section, solid.axis.z, bench.machine.nut.diameter / 2);
  const lowest = Math.min(...lip.runs.flatMap((r) => r.places.map((p) => p.at.z)));
  const tries = bench.shop.cutters
    .filter((k) => k.form.kind === "round-nose" && k.deadCentre === 0)
    .filter((k) => k.diameter / 2 <= c.insideRadius + 0.005 && k.shankDiameter <= k.diameter + 1e-9)
    .filter((k) => lowest - k.diameter / 2 + k.stickOut >= flanges + NUT_CLEAR)
    .map(
      (cutter): Try => ({
        cutter,
        made: lipPasses(lip, wall, solid, cutter.diameter / 2),
        used: used.has(cutter),
      }),
    );
  const most = Math.max(0, ...tries.map((t) => t.made.reached));
  return tries
    .filter((t) => t.made.reached > 0 && t.made.reached >= most - NEARLY)
    .sort(
      (a, b) =>
        Number(b.used) - Number(a.used) ||
        b.cutter.diameter - a.cutter.diameter ||
        a.cutter.slot - b.cutter.slot ||
        (a.cutter.name < b.cutter.name ? -1 : 1),
    )[0];
}

function operationOf(
  bench: Bench,
  c: Cavity,
  here: Cavity,
  { cutter, made, used }: Try,
  solid: TurnedSolid,
  id: string,
  placing: Placing,
): { readonly operation: EaseOperation; readonly findings: readonly Finding[] } {
  const { habits } = bench.shop;
  const ease = c.lipEase ?? 0;
  const { findings, dialMark: _, ...speeds } = speedsFor(cutter, bench.wood, bench.machine, ease);
  const around = 2 * ease + 2 * cutter.diameter;
  return {
    operation: {
      kind: "ease",
      id,
      title: `lip of recess "${c.feature}"`,
      cavityIds: [c.id],
      cutter,
      cutterReason: used ? "a round nose, in use already" : "a round nose, which rolls over the edge",
      speeds,
      roughing: habits.roughing,
      finishing: habits.finishing,
      topZ: Math.min(placing.blank.max.z, topOverSection(solid, here.section, placing.blank.max.z, around)),
      passes: made.passes,
    },
    findings: findings.map((f) => ({ ...f, place: { ...f.place, ...placeOf(c) } })),
  };
}

function placeOf(c: Cavity): Finding["place"] {
  return { part: c.part, feature: c.feature, source: c.source };
}

function byHand(c: Cavity, ease: number, why: string): Finding {
  return {
    grade: "caution",
    code: "plan-lip-by-hand",
    place: placeOf(c),
    what: `the lip of "${c.feature}" is left sharp by the program`,
    why,
    mend: `ease it by hand to a radius of ${tidy(ease)} mm`,
  };
}

function partly(c: Cavity, ease: number, { cutter, made }: Try): Finding {
  return {
    grade: "caution",
    code: "plan-lip-by-hand",
    place: placeOf(c),
    what: `"${cutter.name}" does not get at all of the lip of "${c.feature}"`,
    why: `it eases ${Math.floor(made.reached * 100)} in 100 of its length; elsewhere it would touch wood that must stay`,
    mend: `ease the rest by hand to a radius of ${tidy(ease)} mm`,
  };
}
