import { crossings } from "../shapes/crossings.ts";
import type { Box, Point } from "../shapes/point.ts";
import { distance } from "../shapes/point.ts";
import type { Region } from "../shapes/region.ts";
import { boundsOf, type Segment } from "../shapes/segment.ts";

/** Touching nearer than this to a shared end is the end itself, mm. */
const END = 1e-6;

/** A point where a region's boundary crosses or touches itself away from the joints of its own segments, if any. */
export function crossesItself(region: Region): Point | undefined {
  const pieces: { s: Segment; box: Box; loop: number; at: number; of: number }[] = region.loops.flatMap((loop, k) =>
    loop.map((s, i) => ({ s, box: boundsOf(s), loop: k, at: i, of: loop.length })),
  );
  pieces.sort((a, b) => a.box.min.x - b.box.min.x || a.loop - b.loop || a.at - b.at);
  let open: typeof pieces = [];
  for (const p of pieces) {
    open = open.filter((q) => q.box.max.x >= p.box.min.x - END);
    for (const q of open) {
      if (q.box.max.y < p.box.min.y - END || q.box.min.y > p.box.max.y + END) continue;
      const joints = q.loop === p.loop ? jointsOf(q, p) : [];
      for (const x of crossings(q.s, p.s)) {
        if (joints.every((j) => distance(j, x) > END)) return x;
      }
    }
    open.push(p);
  }
  return undefined;
}

/** Ends that two segments of one loop share because one follows the other. */
function jointsOf(
  a: { readonly s: Segment; readonly at: number; readonly of: number },
  b: { readonly s: Segment; readonly at: number; readonly of: number },
): Point[] {
  const joints: Point[] = [];
  if ((a.at + 1) % a.of === b.at) joints.push(a.s.to);
  if ((b.at + 1) % b.of === a.at) joints.push(b.s.to);
  return joints;
}
