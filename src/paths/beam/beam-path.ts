import type { BeamArea, BeamDots, BeamLines, BeamOperation, BeamSetUp } from "../../plan/beam-setup.ts";
import { mapPoint, type PlanMap, turnBy } from "../../shapes/plan-map.ts";
import type { Point } from "../../shapes/point.ts";
import { type Chain, isClosed, reversedChain } from "../chain.ts";
import { begunNear, chainTour } from "../chain-tour.ts";
import type { BeamMove, BeamPath } from "./beam-move.ts";
import { type BeamTrail, burnAlong, endBeam, goTo, heightAt, runOn, startBeam } from "./beam-trail.ts";
import { dotRows } from "./dot-rows.ts";
import { type Row, rowsAcross } from "./rows.ts";

/** The moves of one operation of the beam, in set-up coordinates. The same operation and set-up give the same moves. */
export function beamPath(operation: BeamOperation, setUp: BeamSetUp): BeamPath {
  return { operation, moves: movesFor(operation, setUp) };
}

function movesFor(operation: BeamOperation, setUp: BeamSetUp): readonly BeamMove[] {
  const trail = startBeam(operation, setUp);
  switch (operation.kind) {
    case "lines":
      burnChains(trail, ordered(operation), operation.passes);
      break;
    case "area":
      burnArea(trail, operation);
      break;
    case "dots":
      burnDots(trail, operation);
      break;
  }
  return endBeam(trail);
}

function ordered(operation: BeamLines): readonly Chain[] {
  if (operation.inOrder !== true) return chainTour(operation.chains);
  const chains: Chain[] = [];
  for (const chain of operation.chains) {
    const before = chains[chains.length - 1];
    const from = before?.[before.length - 1]?.to;
    chains.push(from !== undefined && isClosed(chain) ? begunNear(chain, from) : chain);
  }
  return chains;
}

/** Each chain as often as the setting says before the next: round and round, or to and fro. */
function burnChains(trail: BeamTrail, chains: readonly Chain[], passes: number): void {
  for (const chain of chains) {
    for (let pass = 0; pass < passes; pass++) {
      const walked = !isClosed(chain) && pass % 2 === 1 ? reversedChain(chain) : chain;
      goTo(trail, walked[0]!.from);
      for (const s of walked) burnAlong(trail, s);
    }
  }
}

/** Parallel lines, each with its run-up outside; the border last, so that their ends come out clean. */
function burnArea(trail: BeamTrail, operation: BeamArea): void {
  const rows = rowsAcross(operation.region, operation.spacing, operation.angleDeg, operation.contour);
  for (let pass = 0; pass < operation.passes; pass++) {
    burnRows(trail, rows, turnBy(operation.angleDeg), operation.runUp, operation.ways);
  }
  const hairlines = operation.hairlines ?? [];
  const border = operation.contour ? operation.region.loops : [];
  burnChains(trail, chainTour([...hairlines, ...border]), operation.passes);
}

function burnDots(trail: BeamTrail, operation: BeamDots): void {
  const { rows, place } = dotRows(operation.aim);
  for (let pass = 0; pass < operation.passes; pass++) burnRows(trail, rows, place, operation.runUp, operation.ways);
}

/**
 * Rows of burned stretches: up to speed before the first, straight over the gaps with the beam off, and on beyond the last.
 * A beam that answers late is told early, by the way made meanwhile.
 */
function burnRows(trail: BeamTrail, rows: readonly Row[], place: PlanMap, runUp: number, ways: "one" | "two"): void {
  const early = (trail.operation.speed / 60) * trail.setUp.laser.lag;
  for (const [k, row] of rows.entries()) {
    const back = ways === "two" && k % 2 === 1;
    const sense = back ? -1 : 1;
    const spans = back ? [...row.spans].reverse().map((s) => ({ from: s.to, to: s.from })) : row.spans;
    const at = (x: number): Point => mapPoint(place, { x, y: row.y });
    goTo(trail, at(spans[0]!.from - sense * runUp), heightAt(trail, at(spans[0]!.from)));
    for (const s of spans) {
      const from = at(s.from - sense * early);
      const to = at(s.to - sense * early);
      runOn(trail, from, heightAt(trail, at(s.from)));
      burnAlong(trail, { kind: "line", from, to });
    }
    runOn(trail, at(spans[spans.length - 1]!.to + sense * runUp));
  }
}
