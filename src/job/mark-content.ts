import type { Box, Point } from "../shapes/point.ts";
import type { Region } from "../shapes/region.ts";
import { arc, boundsOf, line, type Segment } from "../shapes/segment.ts";
import type { MarkContent } from "./mark.ts";

/** The box around all that a mark draws, about its own middle; undefined where it draws nothing. mm. */
export function boundsOfContent(content: MarkContent): Box | undefined {
  switch (content.kind) {
    case "lines":
      return boxOf(content.chains.flat());
    case "area":
      return boxOf(content.region.loops.flat());
    case "lines and areas":
      return boxOf([...content.chains.flat(), ...content.region.loops.flat()]);
    case "picture":
      return {
        min: { x: -content.width / 2, y: -content.height / 2 },
        max: { x: content.width / 2, y: content.height / 2 },
      };
  }
}

/** The box around segments; undefined for none. */
export function boxOf(segments: readonly Segment[]): Box | undefined {
  if (segments.length === 0) return undefined;
  const min = { x: Number.POSITIVE_INFINITY, y: Number.POSITIVE_INFINITY };
  const max = { x: Number.NEGATIVE_INFINITY, y: Number.NEGATIVE_INFINITY };
  for (const s of segments) {
    const b = boundsOf(s);
    min.x = Math.min(min.x, b.min.x);
    min.y = Math.min(min.y, b.min.y);
    max.x = Math.max(max.x, b.max.x);
    max.y = Math.max(max.y, b.max.y);
  }
  return { min, max };
}

/** A box's middle. */
export function middleOf(box: Box): Point {
  return { x: (box.min.x + box.max.x) / 2, y: (box.min.y + box.max.y) / 2 };
}

/** A segment shifted by −`about` and then grown by a factor: a size of its own is given to a drawing. */
export function scaledSegment(s: Segment, about: Point, factor: number): Segment {
  const put = (p: Point): Point => ({ x: (p.x - about.x) * factor, y: (p.y - about.y) * factor });
  switch (s.kind) {
    case "line":
      return line(put(s.from), put(s.to));
    case "arc":
      return arc(put(s.from), put(s.to), put(s.centre), s.ccw);
  }
}

/** The same for a region. */
export function scaledRegion(region: Region, about: Point, factor: number): Region {
  return { loops: region.loops.map((loop) => loop.map((s) => scaledSegment(s, about, factor))) };
}
