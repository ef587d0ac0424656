import type { TurningTool } from "../shop/lathe.ts";
import { type TurningShape, turningShape } from "../shop/turning-profile.ts";
import {
  type Carrier,
  type Envelope,
  linePiece,
  merged,
  negated,
  type Piece,
  shiftedPieces,
  upperEnvelope,
  valueOn,
} from "./turning-envelope.ts";

/**
 * Where a turning tool may stand. Wood and tool are both seen as functions of the place along the axis, so the lowest
 * radius of the tool's reference point is the largest of wood less the tool's own lower edge over its width: a Minkowski
 * sum with the tool's mirror image. It is built in exact steps, since the tool is its core grown by the nose: by the
 * flat, by the two flanks, by a disk of the nose radius. Source of the principle: tip height by contact, Hwang 1992.
 */

/**
 * Lowest radius of the tool's reference point over wood, exact. @param extra grows the nose: an allowance to leave, mm
 * @param wood an envelope without gaps
 */
export function contactOver(wood: Envelope, shape: TurningShape, extra = 0): Envelope {
  const { flat, spread, angles, noseRadius } = shape;
  let e: Envelope = wood;
  if (flat > 0) e = grownBySegment(shiftedPieces(e, -flat, 0), 2 * flat, 0);
  // The tool's first flank meets wood that lies towards the first end: the reference point is then to its right.
  const right = spread.first > 0 ? grownBySegment(e, spread.first, -spread.first / Math.tan(angles.first)) : e;
  const left = spread.second > 0 ? grownBySegment(e, -spread.second, -spread.second / Math.tan(angles.second)) : e;
  e = right === left ? e : merged(right, left);
  return grownByDisk(e, noseRadius + extra);
}

/** As `contactOver`, and the holder stays clear of what may stand under it: wood, and what this tool has to leave. */
export function standsOver(wood: Envelope, tool: TurningTool, extra = 0): Envelope {
  const shape = turningShape(tool);
  let e = contactOver(wood, shape, extra);
  // The holder begins `reach` above the tip, so its mouth is this much above the reference point.
  const above = tool.reach - tool.noseRadius;
  for (let round = 0; round < 5; round++) {
    const left = merged(wood, leftUnder(e, shape));
    if (highest(left) - above <= lowest(e)) return e;
    const half = tool.holderHalfWidth;
    const holder = shiftedPieces(grownBySegment(shiftedPieces(left, -half, 0), 2 * half, 0), 0, -above);
    e = merged(e, holder);
  }
  return e;
}

/** What stays of wood once the tool has stood everywhere it may, exact. @param stands from `standsOver` or `contactOver` */
export function leftUnder(stands: Envelope, shape: TurningShape): Envelope {
  const turned: TurningShape = {
    ...shape,
    angles: { first: shape.angles.second, second: shape.angles.first },
    spread: { first: shape.spread.second, second: shape.spread.first },
  };
  return negated(contactOver(negated(stands), turned));
}

/** Largest value anywhere on an envelope. */
export function highest(e: Envelope): number {
  return e.reduce((most, p) => {
    const top = p.on.kind === "arc" && p.on.upper && p.on.cx > p.from && p.on.cx < p.to ? p.on.cy + p.on.radius : most;
    return Math.max(most, top, valueOn(p.on, p.from), valueOn(p.on, p.to));
  }, Number.NEGATIVE_INFINITY);
}

/** Smallest value anywhere on an envelope. */
export function lowest(e: Envelope): number {
  return -highest(negated(e));
}

/** Grown by the segment from (0, 0) to (dx, dy). */
function grownBySegment(e: Envelope | readonly Piece[], dx: number, dy: number): Envelope {
  const pieces: Piece[] = [...e, ...shiftedPieces(e, dx, dy)];
  const edge = (x: number, y: number): void => {
    const p = linePiece(x, y, x + dx, y + dy);
    if (p !== undefined) pieces.push(p);
  };
  for (const [k, p] of e.entries()) {
    const next = e[k + 1];
    edge(p.from, valueOn(p.on, p.from));
    if (next === undefined || next.from > p.to || valueOn(next.on, p.to) !== valueOn(p.on, p.to)) {
      edge(p.to, valueOn(p.on, p.to));
    }
    const x = tangentX(p.on, dy / dx);
    if (x !== undefined && x > p.from && x < p.to) edge(x, valueOn(p.on, x));
  }
  return upperEnvelope(byStart(pieces));
}

/** Where a half circle has a slope. */
function tangentX(c: Carrier, slope: number): number | undefined {
  if (c.kind === "line") return undefined;
  const off = (c.radius * slope) / Math.hypot(1, slope);
  return c.upper ? c.cx - off : c.cx + off;
}

/** Grown by a disk: lines and arcs move out along their normals, corners become rounds. */
function grownByDisk(e: Envelope, n: number): Envelope {
  if (!(n > 0)) return e;
  const pieces: Piece[] = [];
  const corner = (x: number, y: number): void =>
    void pieces.push({ from: x - n, to: x + n, on: { kind: "arc", cx: x, cy: y, radius: n, upper: true } });
  for (const p of e) {
    corner(p.from, valueOn(p.on, p.from));
    corner(p.to, valueOn(p.on, p.to));
    const { on } = p;
    switch (on.kind) {
      case "line": {
        const norm = Math.hypot(1, on.slope);
        pieces.push(...shiftedPieces([p], (-on.slope / norm) * n, n / norm));
        break;
      }
      case "arc": {
        const radius = on.upper ? on.radius + n : on.radius - n;
        // A nose larger than the hollow touches its rims only: those are corners already.
        if (radius <= 0) break;
        const scale = radius / on.radius;
        const at = (x: number): number => on.cx + (x - on.cx) * scale;
        if (at(p.to) > at(p.from)) pieces.push({ from: at(p.from), to: at(p.to), on: { ...on, radius } });
        break;
      }
    }
  }
  return upperEnvelope(byStart(pieces));
}

function byStart(pieces: readonly Piece[]): Piece[] {
  return [...pieces].sort((a, b) => a.from - b.from || a.to - b.to);
}
