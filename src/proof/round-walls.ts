import type { Finding } from "../finding.ts";
import type { TargetCavity } from "../parts/target.ts";
import { faceTowards } from "../plan/placing.ts";
import type { SetUp } from "../plan/setup.ts";
import { flattenRegion } from "../shapes/flatten.ts";
import type { Point } from "../shapes/point.ts";
import { boundsOfRegion, containsPoint } from "../shapes/region.ts";
import { thinnestBeneath, type Web } from "../simulate/webs.ts";
import { columnAt, halfDiagonal, topOf, type Wood } from "../simulate/wood.ts";
import type { Case, Figure, Measures } from "./proof.ts";
import { mm, placeOfCavity } from "./say.ts";

/** A wall counts as standing when it rises at least this much above the floor beside it, mm. */
const RISES = 0.5;

/**
 * Walls of round stock after all programs of a set-up, from the grid: what stays beneath each closed recess, measured
 * upright, and whether a wall stands all round it. A recess that was cut through, or whose floor runs out of the wood
 * sideways, is refused; so is one that is surely thinner beneath than was asked. The law of walls and lips proper is
 * exact and is judged on the part's own shapes.
 */
export function roundWalls(before: Wood, last: Case): Measures {
  const findings: Finding[] = [];
  let least: Figure | undefined;
  for (const cavity of last.setUp.target.cavities) {
    if (!isJudged(cavity)) continue;
    const box = boundsOfRegion(cavity.section);
    if (box === undefined) continue;
    const meant = openingOf(last.setUp, cavity);
    const inside = (p: Point): boolean =>
      !meant(p) &&
      p.x > box.min.x &&
      p.x < box.max.x &&
      p.y > box.min.y &&
      p.y < box.max.y &&
      containsPoint(cavity.section, p);
    const web = thinnestBeneath(before, last.simulation.after, inside);
    if (web !== undefined) {
      const at = { ...web.at, z: cavity.zTo };
      // Within a cell a leaning or curved floor may lie higher than its lowest point.
      const level = cavity.cavity.hollow === undefined && cavity.cavity.slopeTan === 0;
      const bound = web.bound + (level ? 0 : 2 * halfDiagonal(before.grid));
      const figure: Figure = { value: web.thickness, bound, unit: "mm", at };
      if (least === undefined || figure.value < least.value) least = figure;
      findings.push(...thinBeneath(cavity, { ...web, bound }));
    }
    const gap = openSideways(cavity, last.simulation.after, meant);
    if (gap !== undefined) findings.push(brokenSideways(cavity, gap));
  }
  return { findings, figures: least === undefined ? {} : { "least web": least } };
}

/** A recess that keeps a floor beneath, and a wall all round but where it runs out of the wood on purpose. */
function isJudged({ cavity }: TargetCavity): boolean {
  const { shape } = cavity;
  return !cavity.through && (shape.kind === "recess" || shape.kind === "mortise");
}

/** Where a recess may have neither wall nor floor: on the side of the axis over which it opens. */
function openingOf({ frame, round }: SetUp, { cavity }: TargetCavity): (p: Point) => boolean {
  if (cavity.opensOver === undefined || round === undefined) return () => false;
  const sides = (["front", "back", "left", "right"] as const).filter((s) => faceTowards(frame, s) === cavity.opensOver);
  const { y } = round.axis;
  return (p) => sides.some((side) => (side === "front" ? p.y < y : side === "back" ? p.y > y : true));
}

function thinBeneath(cavity: TargetCavity, web: Web): readonly Finding[] {
  const asked = cavity.cavity.leastWall ?? 0;
  const through = web.thickness <= 0;
  if (!through && web.thickness + web.bound >= asked) return [];
  return [
    {
      grade: "refuse",
      code: through ? "proof-broke-through" : "proof-web-thin",
      place: { ...placeOfCavity(cavity), at: { ...web.at, z: cavity.zTo } },
      what: through
        ? "the cut goes through the blank from above"
        : `only ${mm(web.thickness + web.bound)} of wood stays beneath the cut`,
      why: "round wood is thinner beside its middle, where its sides turn under",
      mend: "make the cut shallower or narrower, or hollow it from the other side",
      measured: { value: web.thickness, bound: web.bound, unit: "mm" },
      limit: {
        value: asked,
        unit: "mm",
        from: through ? "the outside of the blank" : "the least wall that the part asks for",
      },
    },
  ];
}

/**
 * A place just outside a recess's outline where no wood rises above its floor: there the floor runs out of the wood.
 * Looked at two cells beyond the outline, in `least`, which was cut with the grown cutter: so a wall thinner than three
 * cells may count as missing.
 */
function openSideways(cavity: TargetCavity, after: Wood, meant: (p: Point) => boolean): Point | undefined {
  const reach = 3 * halfDiagonal(after.grid);
  // A leaning or curved wall ends in a narrower floor, and stands all the more.
  for (const ring of flattenRegion(cavity.section, after.grid.cell / 4)) {
    for (const [i, a] of ring.entries()) {
      const b = ring[(i + 1) % ring.length]!;
      const length = Math.hypot(b.x - a.x, b.y - a.y);
      if (length === 0) continue;
      const out = { x: ((b.y - a.y) / length) * reach, y: ((a.x - b.x) / length) * reach };
      const steps = Math.max(1, Math.ceil(length / after.grid.cell));
      for (let k = 0; k < steps; k++) {
        const p = { x: a.x + ((b.x - a.x) * k) / steps + out.x, y: a.y + ((b.y - a.y) * k) / steps + out.y };
        if (meant(p) || containsPoint(cavity.section, p)) continue;
        const c = columnAt(after.grid, p.x, p.y);
        if (c < 0 || topOf(after.least, c) < cavity.zTo + RISES) return p;
      }
    }
  }
  return undefined;
}

function brokenSideways(cavity: TargetCavity, at: Point): Finding {
  return {
    grade: "refuse",
    code: "proof-broke-through",
    place: { ...placeOfCavity(cavity), at: { ...at, z: cavity.zTo } },
    what: "the floor of the cut runs out of the wood sideways",
    why: "no wall stands beside it there",
    mend: "make it narrower, shorter or deeper, or move it to where the blank is thicker",
  };
}
