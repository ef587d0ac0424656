import type { Meridian } from "../shapes/meridian.ts";
import { extentOfMeridian } from "../shapes/meridian.ts";
import type { Point } from "../shapes/point.ts";
import type { HeadHolding, Rest, TailHolding } from "../shop/lathe.ts";
import { contactOver } from "./turning-contact.ts";
import { clipped, type Envelope, linePiece, type Piece, piecesOf, upperEnvelope } from "./turning-envelope.ts";
import type { TurningSetUp } from "./turning-setup.ts";

/** Least distance between tool or holder and what it must not touch, mm. Common practice, no source. */
export const KEEP_CLEAR = 1;

/** How far beyond the work the reckoning goes along the axis, mm: farther than any tool is wide. */
const BEYOND = 300;

/** What stands at the two ends of work of a given length, as closed loops in (z, r). */
export function endKeepOuts(
  length: number,
  head: HeadHolding,
  tail: TailHolding,
): readonly { readonly name: string; readonly outline: readonly Point[] }[] {
  const r = head.diameter / 2;
  const mouth = -length + head.grip;
  const keepOuts = [
    {
      name: head.kind,
      outline: [
        { x: -length - head.length, y: 0 },
        { x: mouth, y: 0 },
        { x: mouth, y: r },
        { x: -length - head.length, y: r },
      ],
    },
  ];
  if (tail.kind === "none") return keepOuts;
  // A centre's point is a cone of 60°, half of it above the axis, until the body begins.
  const shoulder = Math.min(tail.diameter / 2, tail.length * Math.tan(Math.PI / 6));
  return [
    ...keepOuts,
    {
      name: tail.kind,
      outline: [
        { x: 0, y: 0 },
        { x: tail.length, y: shoulder },
        { x: tail.length, y: tail.diameter / 2 },
        { x: tail.length + BODY, y: tail.diameter / 2 },
        { x: tail.length + BODY, y: 0 },
      ],
    },
  ];
}

/** A rest beside the work, as a closed loop in (z, r); its opening stays free. */
export function restKeepOut(rest: Rest): { readonly name: string; readonly outline: readonly Point[] } {
  const [from, to] = [-rest.fromTailstock - rest.width / 2, -rest.fromTailstock + rest.width / 2];
  return {
    name: "rest",
    outline: [
      { x: from, y: rest.opening / 2 },
      { x: to, y: rest.opening / 2 },
      { x: to, y: rest.reach },
      { x: from, y: rest.reach },
    ],
  };
}

/** Length of a live centre's body that is kept clear of, mm: behind it stands the tailstock. */
const BODY = 60;

/**
 * All that a tool must not cut, as one outline over the axis: the target, the wood beside it that stays as it is, and
 * the keep-outs with their distance. @param target what must stand: the set-up's own, or one with slots for parting
 */
export function obstaclesOf(setUp: TurningSetUp, target: Meridian): Envelope {
  const wood = extentOfMeridian(setUp.start);
  const turned = extentOfMeridian(target);
  const start = piecesOf(setUp.start.segments);
  const aside = [
    ...clipped(start, wood.from, Math.min(wood.to, turned.from)),
    ...clipped(start, Math.max(wood.from, turned.to), wood.to),
  ];
  const ground = linePiece(wood.from - BEYOND, 0, wood.to + BEYOND, 0)!;
  return upperEnvelope(
    [ground, ...piecesOf(target.segments), ...aside, ...keepOutPieces(setUp)].sort((a, b) => a.from - b.from),
  );
}

/** Tops of the keep-outs, grown by `KEEP_CLEAR`. */
function keepOutPieces(setUp: TurningSetUp): readonly Piece[] {
  const disk = {
    noseRadius: KEEP_CLEAR,
    flat: 0,
    angles: { first: 0, second: 0 },
    spread: { first: 0, second: 0 },
  };
  return setUp.keepOuts.flatMap(({ outline }) => {
    const edges = outline.flatMap((p, k) => {
      const q = outline[(k + 1) % outline.length]!;
      return linePiece(p.x, p.y, q.x, q.y) ?? [];
    });
    return contactOver(upperEnvelope(edges), disk);
  });
}

/** A meridian moved along the axis. */
export function movedMeridian(m: Meridian, shift: number): Meridian {
  return {
    segments: m.segments.map((s) => {
      const from = { x: s.from.x + shift, y: s.from.y };
      const to = { x: s.to.x + shift, y: s.to.y };
      return s.kind === "line"
        ? { ...s, from, to }
        : { ...s, from, to, centre: { x: s.centre.x + shift, y: s.centre.y } };
    }),
  };
}
