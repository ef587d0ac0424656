import type { Finding } from "../finding.ts";
import type { Feature, GrooveFeature } from "../job/job.ts";
import { distance, type Point } from "../shapes/point.ts";
import type { Region } from "../shapes/region.ts";
import { arc, line, type Segment } from "../shapes/segment.ts";
import { borderOf, faceExtent, fromBorder, pointOf, runsTowards } from "./faces.ts";
import {
  blindDepthOf,
  cavityBase,
  DEFAULT_INSIDE_RADIUS,
  type Described,
  depthOf,
  type Ground,
  mmText,
  refusal,
  refused,
  SAME,
} from "./ground.ts";
import { centreFrom, evenReach, isFinding, placeIn, placeOn } from "./place-of.ts";

/** A run of a groove: its centre line from tip to tip, and which tips lie beyond the part. */
interface Run {
  readonly start: Point;
  readonly end: Point;
  readonly openStart: boolean;
  readonly openEnd: boolean;
}

/** Most that a groove is described beyond an open border, mm: room for any bit that fits it to come in from the air. */
const MOST_RUN_OUT = 20;

/** How far a groove of this width runs out beyond the part. On a board it ends round, just past the part's border. */
function runOutOf(width: number, around: Ground["around"]): number {
  return around === "air" ? Math.min(width + 3, MOST_RUN_OUT) : width / 2 + 1;
}

/** The one cavity of a groove. */
export function describeGroove(ground: Ground, feature: Feature & GrooveFeature): Described {
  const { part } = ground;
  const run = feature.run.kind === "along" ? runAlong(ground, feature) : runBetween(ground, feature);
  if (isFinding(run)) return refused(run);
  const openBoth = run.openStart && run.openEnd;
  const depth = openBoth
    ? blindDepthOf(part, feature, feature.depth, "it is open at both ends, so it would cut the part in two")
    : depthOf(part, feature, feature.depth);
  if (typeof depth === "object" && isFinding(depth)) return refused(depth);
  const to = typeof depth === "number" ? depth : depth.to;
  const { deep } = faceExtent(part.size, feature.on);
  const findings: Finding[] = [];
  const through = typeof depth !== "number" && depth.through;
  if (!through && to > deep / 2 + SAME) {
    findings.push({
      grade: "caution",
      code: "part-groove-deep",
      place: placeIn(part, feature, "depth"),
      what: "the groove is deeper than half the wood",
      why: "what is left beneath it may break or show through",
      mend: "make it a third to a half of the thickness, if the parts allow",
      measured: { value: to, bound: 0, unit: "mm" },
      limit: { value: deep / 2, unit: "mm", from: "common practice, no source" },
    });
  }
  // On a board what lies beyond an open end is wood too, so the groove ends round in it and nothing is open.
  const inBoard = ground.around === "board";
  const roundStart = run.openStart ? inBoard : feature.ends === "round";
  const roundEnd = run.openEnd ? inBoard : feature.ends === "round";
  const { width } = feature;
  const length = distance(run.start, run.end);
  if (length < (roundStart && roundEnd ? width : SAME)) {
    findings.push(
      refusal(ground, feature, "part-groove-short", ["stops", "end at", "start at"], {
        what: "the groove is shorter than it is wide",
        why: `${mmText(length)} from end to end, ${mmText(width)} wide`,
        mend: "move its stops apart, or describe a recess or a hole",
      }),
    );
    return { cavities: [], findings };
  }
  const half = width / 2;
  const natural = feature.ends === "round" || openBoth ? half : Math.min(DEFAULT_INSIDE_RADIUS, half);
  return {
    findings,
    cavities: [
      {
        ...cavityBase(ground, feature),
        section: grooveSection(run.start, run.end, width, roundStart, roundEnd),
        from: 0,
        to,
        through,
        slopeTan: 0,
        insideRadius: Math.min(feature.insideRadius ?? natural, half),
        shape: {
          kind: "groove",
          start: run.start,
          end: run.end,
          width,
          openStart: run.openStart && !inBoard,
          openEnd: run.openEnd && !inBoard,
          ...(feature.bearingWall === undefined ? {} : { bearingWall: feature.bearingWall }),
        },
      },
    ],
  };
}

function runAlong(ground: Ground, feature: Feature & GrooveFeature): Run | Finding {
  const { part } = ground;
  if (feature.run.kind !== "along") throw new Error("a run along a border was expected");
  const { from, stops } = feature.run;
  const half = feature.width / 2;
  const centre = centreFrom(part.size, feature.on, from, evenReach(half));
  const towards = runsTowards(feature.on, from.border);
  if (centre === undefined || towards === undefined) return unclearBorder(ground, feature, from.border);
  const extent = faceExtent(part.size, feature.on);
  const across = centre.axis === "u" ? extent.u : extent.v;
  if (centre.at - half < SAME || centre.at + half > across - SAME) {
    return refusal(
      ground,
      feature,
      "part-off-the-board",
      ["bearing wall at", "near edge at", "far edge at", "centre at", "width"],
      {
        what: "a wall of the groove lies on or beyond the border of the face",
        why: `its walls are at ${mmText(centre.at - half)} and ${mmText(centre.at + half)} across a face of ${mmText(across)}`,
        mend: "move it, make it narrower, or describe a rabbet",
      },
    );
  }
  const runAxis = centre.axis === "u" ? "v" : "u";
  const out = runOutOf(feature.width, ground.around);
  const tip = (k: 0 | 1): { at: number; open: boolean } => {
    const border = borderOf(feature.on, towards[k])!;
    const stop = k === 0 ? stops.first : stops.second;
    return { at: fromBorder(part.size, feature.on, border, stop ?? -out), open: stop === undefined };
  };
  const first = tip(0);
  const second = tip(1);
  const length = runAxis === "u" ? extent.u : extent.v;
  for (const [stop, border] of [
    [stops.first, towards[0]],
    [stops.second, towards[1]],
  ] as const) {
    if (stop !== undefined && (stop < SAME || stop > length - SAME))
      return stopBeyond(ground, feature, border, stop, length);
  }
  const gap = Math.abs(second.at - first.at);
  const rightWay = borderOf(feature.on, towards[0])!.end === "low" ? second.at > first.at : second.at < first.at;
  if (!rightWay) {
    return refusal(ground, feature, "part-groove-short", ["stops"], {
      what: "the groove's stops pass each other",
      why: `they overlap by ${mmText(gap)}`,
      mend: `check from which of "${towards[0]}" and "${towards[1]}" each stop is measured`,
    });
  }
  return {
    start: pointOf(runAxis, first.at, centre.at),
    end: pointOf(runAxis, second.at, centre.at),
    openStart: first.open,
    openEnd: second.open,
  };
}

/** A stop that lies outside the face. */
export function stopBeyond(ground: Ground, feature: Feature, border: string, stop: number, length: number): Finding {
  return refusal(ground, feature, "part-off-the-board", ["stops"], {
    what: `a stop of the ${feature.kind} lies off the face`,
    why: `${mmText(stop)} from "${border}" on a face that is ${mmText(length)} long there`,
    mend: "leave the stop out for a run that goes through, or correct the distance",
  });
}

/** A border that doesn't bound the face. */
export function unclearBorder(ground: Ground, feature: Feature, border: string): Finding {
  return refusal(ground, feature, "part-place-unclear", ["from", "along"], {
    what: `"${border}" does not border "${feature.on}"`,
    why: `a ${feature.kind} on "${feature.on}" runs along one of that face's own borders`,
    mend: `name a border of "${feature.on}"`,
  });
}

/**
 * Between two points: these are the groove's farthest points, on its centre line. A point on the face's border or beyond
 * it makes that end open.
 */
function runBetween(ground: Ground, feature: Feature & GrooveFeature): Run | Finding {
  const { part } = ground;
  if (feature.run.kind !== "between") throw new Error("a run between two points was expected");
  const reach = evenReach(feature.width / 2);
  const start = placeOn(part, feature, feature.run.start, reach);
  if (isFinding(start)) return start;
  const end = placeOn(part, feature, feature.run.end, reach);
  if (isFinding(end)) return end;
  const length = distance(start, end);
  if (length < SAME) {
    return refusal(ground, feature, "part-groove-short", ["end at", "start at"], {
      what: "the groove begins and ends at the same point",
      why: "a groove between two points needs two different points",
      mend: "correct one of them",
    });
  }
  const dir = { x: (end.x - start.x) / length, y: (end.y - start.y) / length };
  const extent = faceExtent(part.size, feature.on);
  const outside = (p: Point): boolean => p.x < SAME || p.y < SAME || p.x > extent.u - SAME || p.y > extent.v - SAME;
  const across = { x: -dir.y * (feature.width / 2), y: dir.x * (feature.width / 2) };
  const out = runOutOf(feature.width, ground.around);
  const extended = (p: Point, sign: 1 | -1): Point => {
    // Far enough that both walls have left the face, at whatever slant they cross the border.
    let reachOut = 0;
    for (const side of [1, -1]) {
      const q = { x: p.x + side * across.x, y: p.y + side * across.y };
      reachOut = Math.max(reachOut, wayOut(q, { x: sign * dir.x, y: sign * dir.y }, extent.u, extent.v));
    }
    const by = reachOut + out;
    return { x: p.x + sign * dir.x * by, y: p.y + sign * dir.y * by };
  };
  const openStart = outside(start);
  const openEnd = outside(end);
  const walls = [1, -1].map((side) => ({
    a: { x: start.x + side * across.x, y: start.y + side * across.y },
    b: { x: end.x + side * across.x, y: end.y + side * across.y },
  }));
  const middleOff = walls.some(({ a, b }) => outside({ x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }));
  const stoppedOff = walls.some(({ a, b }) => (!openStart && outside(a)) || (!openEnd && outside(b)));
  if (middleOff || stoppedOff) {
    return refusal(ground, feature, "part-off-the-board", ["start at", "end at"], {
      what: "a wall of the groove lies on or beyond the border of the face",
      why: `${mmText(feature.width)} wide on a face of ${mmText(extent.u)} × ${mmText(extent.v)}`,
      mend: "move its points inwards, or describe a rabbet",
    });
  }
  return {
    start: openStart ? extended(start, -1) : start,
    end: openEnd ? extended(end, 1) : end,
    openStart,
    openEnd,
  };
}

/** Length of the way from q along dir until it leaves the face; 0 when it is outside already. */
function wayOut(q: Point, dir: Point, u: number, v: number): number {
  if (q.x < 0 || q.y < 0 || q.x > u || q.y > v) return 0;
  const until = (at: number, d: number, most: number): number =>
    d > 0 ? (most - at) / d : d < 0 ? -at / d : Number.POSITIVE_INFINITY;
  return Math.min(until(q.x, dir.x, u), until(q.y, dir.y, v));
}

/** The outline of a groove from tip to tip; a round end lies within the tips. */
export function grooveSection(start: Point, end: Point, width: number, roundStart: boolean, roundEnd: boolean): Region {
  const length = distance(start, end);
  const dx = (end.x - start.x) / length;
  const dy = (end.y - start.y) / length;
  const half = width / 2;
  const right = (p: Point): Point => ({ x: p.x + dy * half, y: p.y - dx * half });
  const left = (p: Point): Point => ({ x: p.x - dy * half, y: p.y + dx * half });
  const a = roundStart ? { x: start.x + dx * half, y: start.y + dy * half } : start;
  const b = roundEnd ? { x: end.x - dx * half, y: end.y - dy * half } : end;
  const loop: Segment[] = [];
  const ra = right(a);
  const rb = right(b);
  const lb = left(b);
  const la = left(a);
  if (distance(ra, rb) > SAME) loop.push(line(ra, rb));
  const from = loop.length > 0 ? rb : ra;
  loop.push(roundEnd ? arc(from, lb, b, true) : line(from, lb));
  if (distance(lb, la) > SAME) loop.push(line(lb, la));
  const back = distance(lb, la) > SAME ? la : lb;
  loop.push(roundStart ? arc(back, ra, a, true) : line(back, ra));
  return { loops: [loop] };
}
