import { componentsOf, differenceOf } from "../shapes/boolean.ts";
import { AXIS_FOR_LETTERS, medialAxis } from "../shapes/medial-axis.ts";
import { areaOfPolygons, type Polygons } from "../shapes/polygons.ts";
import { line, type Segment } from "../shapes/segment.ts";

/** Least radius of a hairline, as a share of half the spot: a plain corner's tip is thinner and stays round. */
const THINNEST = 0.35;

/** What of an area is too narrow for the spot's border-to-border way. */
export interface Hairlines {
  /** Middle lines of the narrow parts, for the beam to follow once: burned wider than drawn, by less than half a spot. */
  readonly chains: readonly (readonly Segment[])[];
  /** Area that is narrower than the spot, mm². */
  readonly area: number;
}

/**
 * Middle lines of what a spot cannot fill, from the medial axis.
 * @param area flattened
 * @param filled what a spot can fill of it, a hair more for rounding
 * @param half half the spot's width
 */
export function hairlinesOf(area: Polygons, filled: Polygons, half: number): Hairlines {
  const chains: (readonly Segment[])[] = [];
  let narrow = 0;
  for (const shape of componentsOf(area)) {
    // A sharp corner is always left a little round: what counts is larger than the spot itself.
    const bare = componentsOf(differenceOf(shape, filled)).filter((c) => areaOfPolygons(c) > Math.PI * half * half);
    if (bare.length === 0) continue;
    narrow += bare.reduce((sum, c) => sum + areaOfPolygons(c), 0);
    chains.push(...middleLines(shape, half));
  }
  return { chains, area: narrow };
}

/** The stretches of the medial axis that are narrower than the spot, joined where two meet. */
function middleLines(shape: Polygons, half: number): readonly (readonly Segment[])[] {
  const { nodes, stretches } = medialAxis(shape, AXIS_FOR_LETTERS);
  const thin = (i: number): boolean => nodes[i]!.radius >= THINNEST * half && nodes[i]!.radius <= half;
  const open = new Map<number, number[]>();
  for (const [a, b] of stretches) {
    if (a === b || !thin(a) || !thin(b)) continue;
    open.set(a, [...(open.get(a) ?? []), b]);
    open.set(b, [...(open.get(b) ?? []), a]);
  }
  const take = (from: number): number | undefined => {
    const to = open.get(from)?.shift();
    if (to === undefined) return undefined;
    const back = open.get(to)!;
    back.splice(back.indexOf(from), 1);
    return to;
  };
  const chains: Segment[][] = [];
  const begin = (ends: boolean): void => {
    for (const [start, next] of open) {
      // Ends and forks first; what is left then runs in rings.
      while (next.length > 0 && (!ends || next.length !== 2)) {
        const chain: Segment[] = [];
        let at = start;
        for (let to = take(at); to !== undefined; to = open.get(at)!.length === 1 ? take(at) : undefined) {
          chain.push(line(nodes[at]!.at, nodes[to]!.at));
          at = to;
        }
        if (chain.length > 0) chains.push(chain);
      }
    }
  };
  begin(true);
  begin(false);
  return chains.filter((c) => c.some((s) => s.from.x !== s.to.x || s.from.y !== s.to.y));
}
