import type { Finding } from "../finding.ts";
import { fitRegion } from "../shapes/fit-arcs.ts";
import { offsetPolygons } from "../shapes/offset.ts";
import { areaOfPolygons, type Polygons } from "../shapes/polygons.ts";
import { EMPTY_REGION } from "../shapes/region.ts";
import type { Cutter } from "../shop/cutter.ts";
import { speedsFor } from "../shop/speeds.ts";
import { TOLERANCE } from "../tolerance.ts";
import { type Bench, rampAngleFor, stepDownShare } from "./bench.ts";
import type { Settled } from "./cutter-choice.ts";
import { evenLevels } from "./levels.ts";
import type { ClearOperation, VGrooveOperation } from "./operation.ts";
import { grainDegIn, type Placing } from "./placing.ts";

/** A floor smaller than this is left to the V: it is done before another bit is in the spindle, mm². Common practice, no source. */
const WORTH_A_BIT = 150;
/** Share of a floor that a flat bit must reach to be worth its change. Common practice, no source. */
const WORTH_SHARE = 0.5;
/** A flat bit keeps this far inside the line to which the walls come down, mm: that line is the V's. */
const INSIDE = 0.02;
/** Sideways step of the flat bit, as a share of its diameter: under half, so that nothing stays between. */
const STEP_SHARE = 0.4;

/** A V-groove whose floor a flat bit clears before the V comes. */
export interface WithFlatFloor {
  readonly floor: ClearOperation;
  /** The V's own operation, which leaves out what is clear already. */
  readonly groove: VGrooveOperation;
  readonly findings: readonly Finding[];
}

/**
 * The floor of a V-groove at its cap by the largest flat bit of the shop that reaches enough of it: without ridges, and
 * sooner than by a fine tip. Nothing where the job names the bit, or no floor is worth it.
 */
export function withFlatFloor(
  chosen: Settled,
  groove: VGrooveOperation,
  bench: Bench,
  placing: Placing,
  id: string,
): WithFlatFloor | undefined {
  const [cavity] = chosen.task.cavities;
  if (cavity.cutter !== undefined || !Number.isFinite(groove.cap)) return undefined;
  const whole = offsetPolygons(groove.edges, -groove.cap * groove.bit.tan, TOLERANCE.offset);
  if (areaOfPolygons(whole) < WORTH_A_BIT) return undefined;
  for (const cutter of flatBits(bench.shop.cutters, groove.cap)) {
    const ground = reachedBy(cutter, whole);
    const area = areaOfPolygons(ground);
    if (area < WORTH_A_BIT || area < WORTH_SHARE * areaOfPolygons(whole)) continue;
    const { shop, wood, machine, workpiece } = bench;
    const floorZ = groove.topZ - groove.cap;
    const most = Math.min(stepDownShare(wood).share * cutter.diameter, cutter.fluteLength);
    const levels = evenLevels(groove.topZ, floorZ, most);
    const { findings, dialMark: _, ...speeds } = speedsFor(cutter, wood, machine, groove.topZ - levels[0]!);
    const region = fitRegion(ground, TOLERANCE.arcFit);
    const floor: ClearOperation = {
      kind: "clear",
      id,
      title: `floor of ${chosen.task.title}`,
      cavityIds: groove.cavityIds,
      cutter,
      cutterReason: "the largest flat bit that gets at most of the floor",
      speeds,
      roughing: shop.habits.roughing,
      finishing: shop.habits.finishing,
      topZ: groove.topZ,
      levels: levels.map((z) => ({ z, area: region })),
      step: Math.min(STEP_SHARE * cutter.diameter, cutter.diameter / 2),
      allowance: { wall: 0, floor: 0 },
      finishLevels: [{ z: floorZ, area: region }],
      openAir: EMPTY_REGION,
      rampAngle: rampAngleFor(wood),
      grainDeg: grainDegIn(placing.frame, workpiece.grain),
    };
    const place = { part: cavity.part, feature: cavity.feature, source: cavity.source };
    const told = findings.map((f) => ({ ...f, place: { ...f.place, ...place } }));
    return { floor, groove: { ...groove, cleared: ground }, findings: told };
  }
  return undefined;
}

/** Flat bits that plunge and are long enough, largest first. */
function flatBits(cutters: readonly Cutter[], depth: number): readonly Cutter[] {
  return cutters
    .filter((c) => c.form.kind === "flat" && c.deadCentre === 0 && c.fluteLength >= depth && c.stickOut > depth + 1)
    .sort((a, b) => b.diameter - a.diameter || a.slot - b.slot);
}

/** What a round bit reaches of a floor, a hair inside its outline. */
function reachedBy(cutter: Cutter, floor: Polygons): Polygons {
  const radius = cutter.diameter / 2;
  const ways = offsetPolygons(floor, -(radius + INSIDE), TOLERANCE.offset);
  return ways.length === 0 ? [] : offsetPolygons(ways, radius + INSIDE / 2, TOLERANCE.offset);
}
