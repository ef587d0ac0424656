import type { Finding } from "../finding.ts";
import { drillTipOf, withDiameter } from "../parts/hole.ts";
import { edgesOf } from "../parts/marks/v-groove.ts";
import { withBand } from "../parts/outline.ts";
import type { Cavity } from "../parts/workpiece.ts";
import { rectangle } from "../shapes/outlines.ts";
import { distance, type Point } from "../shapes/point.ts";
import { EMPTY_REGION, type Region } from "../shapes/region.ts";
import { reversed } from "../shapes/segment.ts";
import { topOverSection } from "../shapes/turned-section.ts";
import type { TurnedSolid } from "../shapes/turned-solid.ts";
import type { Cutter } from "../shop/cutter.ts";
import { speedsFor } from "../shop/speeds.ts";
import { type Bench, rampAngleFor, stepDownShare } from "./bench.ts";
import { vFormOf, withBitKnown } from "./cut-marks.ts";
import type { Chosen, Settled } from "./cutter-choice.ts";
import { hollowLevels, isHollowCavity } from "./hollow.ts";
import { CUSP, evenLevels, insetBy, slopeStep, V_FLOOR_RIDGE } from "./levels.ts";
import type { Level, Operation } from "./operation.ts";
import { grainDegIn, inSetUp, type Placing } from "./placing.ts";
import { roomForAllowance } from "./reach.ts";
import { followingWood } from "./round.ts";
import { bandWidth, boreAllowance, tipDepth, type Way } from "./suit.ts";

/** Sideways step between rings, as a share of the cutter's diameter: under half, so that nothing stays between. */
const STEP_SHARE = 0.4;
/** How far around the blank the open air is described, mm. */
const AIR_AROUND = 100;
/** Slack for a drill's own size before the hole is described anew, mm. */
const SAME_SIZE = 0.005;
/** A countersink stands still on its seat for this long, so that the cone comes out round. Common practice, no source. */
const SINK_DWELL = 0.3;

/** The cavities as they will be cut, once the cutters are known. */
export function settled(chosen: Chosen, allowance: number): Settled {
  const { cutter, way } = chosen;
  const task = withBitKnown(chosen.task, cutter, way);
  return { ...chosen, task, final: task.cavities.flatMap((c) => asCut(c, cutter, way, allowance)) };
}

function asCut(c: Cavity, cutter: Cutter, way: Way, allowance: number): readonly Cavity[] {
  switch (way) {
    case "contour":
      // Whatever bends the outline has are reached; beside a tab a corner stays as round as the bit.
      return [{ ...withBand(c, bandWidth(cutter.diameter, allowance)), insideRadius: cutter.diameter / 2 }];
    case "peck": {
      const sized =
        c.shape.kind === "hole" && Math.abs(c.shape.diameter - cutter.diameter) > SAME_SIZE
          ? withDiameter(c, cutter.diameter)
          : c;
      const tip = cutter.form.kind === "drill" ? drillTipOf(sized, cutter.form.pointAngle) : undefined;
      return tip ? [sized, tip] : [sized];
    }
    case "clear":
      // A bit chosen smaller than the corners ask for, because of a narrow place, must reach as far as it can.
      return [{ ...c, insideRadius: Math.min(c.insideRadius, cutter.diameter / 2) }];
    case "follow":
    case "bore":
    case "sink":
    case "v-groove":
    case "trace":
      return [c];
  }
}

/** The operation of a task, with what the speeds have to say. */
export function operationFor(
  chosen: Settled,
  bench: Bench,
  placing: Placing,
  id: string,
  round?: TurnedSolid,
): { readonly operation: Operation; readonly findings: readonly Finding[] } {
  const { task, cutter, way } = chosen;
  const { workpiece, shop, wood, machine } = bench;
  const { habits } = shop;
  const [first] = task.cavities;
  const cavities = task.cavities.map((c) => inSetUp(workpiece.size, c, placing.frame));
  const here = cavities[0]!;
  const top = placing.blank.max.z;
  // Round stock is cut from its real top, not from the box around it.
  const topZ = round === undefined ? top - first.from : topOf(cavities, round, top - first.from);
  const floorZ = top - tipDepth(task, cutter, habits, way);
  const most = Math.min(stepDownShare(wood).share * cutter.diameter, cutter.fluteLength);
  const levels = evenLevels(topZ, floorZ, most);
  const depthPerPass = topZ - levels[0]!;
  const rampAngle = rampAngleFor(wood);
  const {
    findings,
    dialMark: _,
    ...speeds
  } = speedsFor(cutter, wood, machine, way === "sink" ? first.to : depthPerPass);
  const base = {
    id,
    title: task.title,
    cavityIds: chosen.final.map((c) => c.id),
    cutter,
    cutterReason: chosen.reason,
    speeds,
    roughing: habits.roughing,
    finishing: habits.finishing,
    topZ,
  };
  const told = findings.map((f) => ({
    ...f,
    place: { ...f.place, part: first.part, feature: first.feature, source: first.source },
  }));
  const step = Math.min(STEP_SHARE * cutter.diameter, cutter.diameter / 2);
  const through = first.through;
  const operation = ((): Operation => {
    switch (way) {
      case "follow": {
        const line = cutterLine(here, cutter.diameter / 2);
        return { ...base, kind: "follow", ...line, levels, rampAngle };
      }
      case "clear": {
        if (isHollowCavity(here)) {
          const made = hollowLevels(here, cutter, topZ, top - first.from, most, habits.allowance);
          return {
            ...base,
            kind: "clear",
            levels: followingWood(made.levels, round, { step, feed: speeds.feed }),
            step,
            allowance: { wall: 0, floor: 0 },
            finishLevels: made.finishLevels,
            openAir: EMPTY_REGION,
            rampAngle,
            grainDeg: grainDegIn(placing.frame, workpiece.grain),
          };
        }
        const area = (z: number): Region =>
          insetBy(here.section, Math.max(0, top - first.from - Math.max(z, top - first.to)) * first.slopeTan);
        const wall = roomForAllowance(area(floorZ), cutter.diameter / 2, habits.allowance) ? habits.allowance : 0;
        const levelAt = (z: number): Level => ({ z, area: area(z) });
        const sloped = first.slopeTan > 0;
        const finish = sloped ? evenLevels(topZ, floorZ, slopeStep(first.slopeTan, CUSP)) : [floorZ];
        return {
          ...base,
          kind: "clear",
          levels: followingWood(sloped ? levels.map(levelAt) : levels.map((z) => ({ z, area: here.section })), round, {
            step,
            feed: speeds.feed,
          }),
          step,
          allowance: { wall, floor: through ? 0 : Math.min(habits.allowance, depthPerPass / 2) },
          finishLevels: sloped ? finish.map(levelAt) : finish.map((z) => ({ z, area: here.section })),
          // A recess that runs out over a turned blank's side is cut along its whole outline all the same.
          openAir: here.opensOver === undefined && isOpen(here, placing) ? airAround(placing) : EMPTY_REGION,
          rampAngle,
          grainDeg: grainDegIn(placing.frame, workpiece.grain),
        };
      }
      case "bore": {
        const diameter = diameterOf(here);
        const reach = (diameter - cutter.diameter) / 2;
        return {
          ...base,
          kind: "bore",
          centres: cavities.map(centreOf),
          diameter,
          floorZ,
          step,
          allowance: {
            wall: boreAllowance(reach, habits),
            floor: through ? 0 : Math.min(habits.allowance, depthPerPass / 2),
          },
          rampAngle,
          depthPerTurn: most,
        };
      }
      case "peck": {
        return {
          ...base,
          kind: "peck",
          centres: cavities.map(centreOf),
          tipZ: through ? floorZ : top - Math.max(...chosen.final.map((c) => c.to)),
          bite: cutter.form.kind === "drill" ? cutter.diameter : most,
        };
      }
      case "sink": {
        const { form } = cutter;
        const flat = form.kind === "v" || form.kind === "countersink" ? form.tipFlat / 2 : 0;
        return {
          ...base,
          kind: "sink",
          centres: cavities.map(centreOf),
          tipZ: topZ - (diameterOf(here) / 2 - flat) / first.slopeTan,
          dwellSeconds: SINK_DWELL,
        };
      }
      case "v-groove": {
        const bit = vFormOf(cutter);
        if (here.shape.kind !== "v-groove" || bit === undefined) throw new Error("a V-groove was expected");
        const cap = here.shape.cap ?? Number.POSITIVE_INFINITY;
        return { ...base, kind: "v-groove", edges: edgesOf(here), bit, cap, levels, floorRidge: V_FLOOR_RIDGE };
      }
      case "trace":
        if (here.shape.kind !== "cut line") throw new Error("a cut line was expected");
        return { ...base, kind: "trace", chains: here.shape.chains, levels };
      case "contour": {
        if (here.shape.kind !== "outline") throw new Error("an outline was expected");
        const banded = inSetUp(workpiece.size, chosen.final[0]!, placing.frame);
        return {
          ...base,
          kind: "contour",
          profile: here.shape.profile,
          side: here.shape.side,
          levels,
          tabs: banded.keeps.map((k) => ({ area: k.area, zTop: top - k.from })),
          allowance: habits.allowance,
          rampAngle,
        };
      }
    }
  })();
  return { operation, findings: told };
}

/** Highest wood over any of the cavities that an operation cuts. */
function topOf(cavities: readonly Cavity[], round: TurnedSolid, otherwise: number): number {
  return Math.max(...cavities.map((c) => topOverSection(round, c.section, otherwise)));
}

function diameterOf(c: Cavity): number {
  if (c.shape.kind !== "hole") throw new Error("a hole was expected");
  return c.shape.diameter;
}

function centreOf(c: Cavity): Point {
  if (c.shape.kind !== "hole") throw new Error("a hole was expected");
  return c.shape.centre;
}

/** The way of the cutter's middle along a groove: within its tips by a radius at both ends, run out or not. */
function cutterLine(
  c: Cavity,
  radius: number,
): { readonly start: Point; readonly end: Point; readonly openStart: boolean; readonly openEnd: boolean } {
  const run = runOf(c);
  const { start, end, width, openStart, openEnd } = run;
  const length = distance(start, end);
  const dir = { x: (end.x - start.x) / length, y: (end.y - start.y) / length };
  // A bit a hair narrower than the groove still ends where the groove's own round end does.
  const inwards = (open: boolean): number => (open ? radius : width / 2);
  const a = inwards(openStart);
  const b = inwards(openEnd);
  return {
    start: { x: start.x + dir.x * a, y: start.y + dir.y * a },
    end: { x: end.x - dir.x * b, y: end.y - dir.y * b },
    openStart,
    openEnd,
  };
}

/** What is followed: a groove, or the middle line of a slot. */
function runOf(c: Cavity): {
  readonly start: Point;
  readonly end: Point;
  readonly width: number;
  readonly openStart: boolean;
  readonly openEnd: boolean;
} {
  if (c.shape.kind === "groove") return c.shape;
  const middle = c.shape.kind === "recess" || c.shape.kind === "mortise" ? c.shape.middle : undefined;
  if (middle === undefined) throw new Error("something with a middle line was expected");
  return { ...middle, openStart: false, openEnd: false };
}

/** True when a cavity runs out beyond the blank. */
function isOpen(c: Cavity, placing: Placing): boolean {
  const { blank } = placing;
  const out = (p: Point): boolean =>
    p.x < blank.min.x - 1e-6 || p.y < blank.min.y - 1e-6 || p.x > blank.max.x + 1e-6 || p.y > blank.max.y + 1e-6;
  return c.section.loops.some((loop) => loop.some((s) => out(s.from)));
}

/** All that lies around the blank. */
function airAround(placing: Placing): Region {
  const { min, max } = placing.blank;
  const outer = rectangle(
    { x: min.x - AIR_AROUND, y: min.y - AIR_AROUND },
    { x: max.x + AIR_AROUND, y: max.y + AIR_AROUND },
  );
  const inner = rectangle(min, max);
  return { loops: [...outer.loops, ...inner.loops.map((loop) => [...loop].reverse().map(reversed))] };
}
