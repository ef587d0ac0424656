import { tidy } from "../finding.ts";
import { extentOfMeridian } from "../shapes/meridian.ts";
import type { Point } from "../shapes/point.ts";
import { KEEP_CLEAR } from "./turning-obstacles.ts";
import type { TurningMark, TurningSetUp } from "./turning-setup.ts";

/** Distances from the tailstock end at which a mark is tried where all of the wood is turned, mm. */
const WISHED = [40, 30, 20, 10] as const;
/** Such a mark stays in the tailstock's share of the wood, so that an end taken for the other shows. */
const SHARE = 0.4;
/** Wood left as it is must be this long to carry a mark, mm. */
const LEAST = 4;

/**
 * Where a tool halts a gauge block off the wood before it turns: outside the blank, and beside its end at the tailstock.
 * No place is nearer to wood or keep-outs than `KEEP_CLEAR`, however the blank is turned. A mark over wood that no program
 * turns holds for every tool; one over wood that is turned holds before the first cut only.
 */
export function turningMarks(setUp: TurningSetUp): readonly TurningMark[] {
  const over = besideWood(setUp);
  return [...(over === undefined ? [] : [over]), beyondEnd(setUp)];
}

function besideWood(setUp: TurningSetUp): TurningMark | undefined {
  const { from, to } = extentOfMeridian(setUp.start);
  const turned = extentOfMeridian(setUp.target);
  const { shape, across } = setUp.piece.blank;
  const block = setUp.habits.gaugeBlock;
  const flat = across / 2 + block;
  // A corner must pass the tip, whichever way the blank stands.
  const against = shape === "round" ? "round" : flat >= largest(setUp) + KEEP_CLEAR ? "flat" : "corner";
  const r = against === "flat" ? flat : largest(setUp) + block;
  const kept = [
    ...(to - turned.to >= LEAST ? [{ z: (turned.to + to) / 2, end: "tailstock" as const }] : []),
    ...(turned.from - from >= LEAST ? [{ z: (from + turned.from) / 2, end: "headstock" as const }] : []),
  ];
  const cut = WISHED.filter((d) => d <= SHARE * (to - from)).map((d) => ({ z: to - d, end: "tailstock" as const }));
  const found = [...kept, ...cut].find((c) => isClear(setUp, { x: c.z, y: r }));
  if (found === undefined) return undefined;
  const off = found.end === "tailstock" ? to - found.z : found.z - from;
  return {
    name: `beside the wood, ${tidy(Math.round(off * 10) / 10)} mm from its ${found.end} end`,
    at: { x: found.z, y: r },
    against,
    untouched: kept.includes(found),
  };
}

function beyondEnd(setUp: TurningSetUp): TurningMark {
  const { to } = extentOfMeridian(setUp.start);
  const z = to + setUp.habits.gaugeBlock;
  const span = spanOf(setUp, z);
  const high = setUp.keepOuts.filter((k) => overlaps(k.outline, span)).flatMap((k) => k.outline.map((p) => p.y));
  const r = Math.max(largest(setUp), ...high) + KEEP_CLEAR;
  return { name: "beside the end of the wood at the tailstock", at: { x: z, y: r }, against: "end", untouched: true };
}

function largest(setUp: TurningSetUp): number {
  return Math.max(...setUp.start.segments.flatMap((s) => [s.from.y, s.to.y]));
}

/** All of any tool stands farther out than its tip, so only what overlaps it along the axis can be met. */
function isClear(setUp: TurningSetUp, at: Point): boolean {
  const span = spanOf(setUp, at.x);
  return setUp.keepOuts.every(
    (k) => !overlaps(k.outline, span) || Math.max(...k.outline.map((p) => p.y)) <= at.y - KEEP_CLEAR,
  );
}

/** What tools and holders take up along the axis with the programmed point at z. */
function spanOf(setUp: TurningSetUp, z: number): { readonly from: number; readonly to: number } {
  const wide = Math.max(0, ...setUp.tools.map((t) => t.width + t.holderHalfWidth)) + KEEP_CLEAR;
  return { from: z - wide, to: z + wide };
}

function overlaps(outline: readonly Point[], span: { readonly from: number; readonly to: number }): boolean {
  const zs = outline.map((p) => p.x);
  return Math.max(...zs) > span.from && Math.min(...zs) < span.to;
}
