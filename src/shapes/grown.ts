import { fitRegion } from "./fit-arcs.ts";
import { offsetRegion } from "./offset.ts";
import type { Region } from "./region.ts";
import { arc, line, type Segment, tangentAt } from "./segment.ts";

/** Turns flatter than this are a smooth joint, radians. */
const SMOOTH = 1e-6;

/**
 * A region grown by a distance all round. Exact for one loop that bulges everywhere: lines shift, arcs keep their centres,
 * corners become arcs about themselves. Otherwise within `tolerance` by the offset kernel.
 * @param by mm, ≥ 0
 */
export function grownRegion(region: Region, by: number, tolerance: number): Region {
  if (!(by > 0)) return region;
  const [loop, ...more] = region.loops;
  if (loop === undefined) return region;
  const turns = loop.map((s, i) => turnBetween(s, loop[(i + 1) % loop.length]!));
  const bulges = more.length === 0 && loop.every((s, i) => (s.kind === "line" || s.ccw) && turns[i]! > -SMOOTH);
  if (!bulges) return fitRegion(offsetRegion(region, by, tolerance / 2), tolerance / 2);
  const out: Segment[] = [];
  const outwards = (s: Segment, t: 0 | 1) => {
    const along = tangentAt(s, t);
    const p = t === 0 ? s.from : s.to;
    return { x: p.x + along.y * by, y: p.y - along.x * by };
  };
  for (const [i, s] of loop.entries()) {
    const next = loop[(i + 1) % loop.length]!;
    const from = out[out.length - 1]?.to ?? outwards(s, 0);
    const last = i === loop.length - 1;
    const smooth = turns[i]! < SMOOTH;
    const to = last && smooth ? out[0]!.from : outwards(s, 1);
    out.push(s.kind === "line" ? line(from, to) : arc(from, to, s.centre, s.ccw));
    if (!smooth) out.push(arc(to, last ? out[0]!.from : outwards(next, 0), s.to, true));
  }
  return { loops: [out] };
}

function turnBetween(s: Segment, next: Segment): number {
  const a = tangentAt(s, 1);
  const b = tangentAt(next, 0);
  return Math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y);
}
