import type { ElementShape } from "../../job/turned.ts";
import { arc, line, type Segment } from "../../shapes/segment.ts";

/** Two diameters that differ by less are the same, mm. */
export const SAME_DIAMETER = 1e-6;

/** An element whose length and end diameters are all known. mm. */
export interface Sized {
  readonly shape: ElementShape;
  readonly length: number;
  readonly from: number;
  readonly to: number;
}

/** Why an element cannot be turned so: the key to blame, and the three sentences. */
export interface ElementTrouble {
  readonly key: string;
  readonly what: string;
  readonly why: string;
  readonly mend: string;
}

/**
 * The diameters at an element's ends as far as its own numbers say them: a bead or cove whose ends nobody names is half
 * round, as deep as half its length.
 */
export function ownEnds(shape: ElementShape, length: number): { readonly from?: number; readonly to?: number } {
  switch (shape.kind) {
    case "tenon":
    case "cylinder":
    case "fillet":
    case "vee":
      return { from: shape.diameter, to: shape.diameter };
    case "bead":
    case "cove": {
      if (shape.from !== undefined || shape.to !== undefined) return given(shape.from, shape.to);
      const end = shape.kind === "bead" ? shape.diameter - length : shape.diameter + length;
      return { from: end, to: end };
    }
    case "taper":
    case "ogee":
    case "round-over":
      return given(shape.from, shape.to);
    case "path": {
      const first = shape.segments[0];
      const last = shape.segments[shape.segments.length - 1];
      return given(first && first.from.y * 2, last && last.to.y * 2);
    }
  }
}

function given(from: number | undefined, to: number | undefined): { readonly from?: number; readonly to?: number } {
  return { ...(from !== undefined && { from }), ...(to !== undefined && { to }) };
}

/**
 * The curve of an element from (0, from / 2) to (length, to / 2), x never going back, in lines and arcs:
 *
 * - tenon, cylinder, fillet: a line along the axis; taper: a slanting line;
 * - bead: one arc up to its greatest diameter and down again; cove: the same hollow, with its waist between. The circle
 *   through both ends that touches the crown's (waist's) level is the one arc that does it: with h₁, h₂ the rise from each
 *   end, the crown lies at x where (h₂ − h₁)x² + 2h₁Lx = h₁L² + h₁h₂(h₂ − h₁), and R = (x² + h₁²) / 2h₁;
 * - ogee: two equal arcs that pass into each other halfway, level at both ends (R = (a² + b²) / 2b for a the half length,
 *   b half the rise) or upright at both (R = (a² + b²) / 2a);
 * - vee: two lines that meet in the middle; round-over: an arc that leaves the thicker end along the axis.
 */
export function curveOf(e: Sized): readonly Segment[] | ElementTrouble {
  const { shape, length } = e;
  const start = { x: 0, y: e.from / 2 };
  const end = { x: length, y: e.to / 2 };
  switch (shape.kind) {
    case "tenon":
    case "cylinder":
    case "fillet":
    case "taper":
      return [line(start, end)];
    case "bead":
    case "cove":
      return bulge(e, shape.kind, shape.diameter / 2);
    case "vee": {
      const bottom = shape.bottom ?? shape.diameter - length;
      if (!(bottom < shape.diameter)) {
        return {
          key: "bottom",
          what: "this vee is no deeper than its rims",
          why: `diameter ${mm(shape.diameter)} at the rims, ${mm(bottom)} at the bottom`,
          mend: "make the bottom smaller, or use a cylinder",
        };
      }
      const root = { x: length / 2, y: bottom / 2 };
      return [line(start, root), line(root, end)];
    }
    case "ogee":
      return ogee(e, shape.ends);
    case "round-over":
      return roundOver(e);
    case "path":
      return shape.segments;
  }
}

function bulge(e: Sized, kind: "bead" | "cove", extreme: number): readonly Segment[] | ElementTrouble {
  const sign = kind === "bead" ? 1 : -1;
  const h1 = sign * (extreme - e.from / 2);
  const h2 = sign * (extreme - e.to / 2);
  const L = e.length;
  const name = kind === "bead" ? "its greatest diameter" : "its waist";
  if (h1 < -SAME_DIAMETER || h2 < -SAME_DIAMETER || Math.max(h1, h2) <= SAME_DIAMETER) {
    return {
      key: "diameter",
      what: kind === "bead" ? "this bead is no thicker than its ends" : "this cove is no thinner than its ends",
      why: `${mm(e.from)} and ${mm(e.to)} at its ends, ${mm(extreme * 2)} at ${name}`,
      mend:
        kind === "bead"
          ? "give it a greater diameter, or ends that are smaller"
          : "give it a smaller diameter, or ends that are greater",
    };
  }
  const x = crownAt(Math.max(0, h1), Math.max(0, h2), L);
  const radius = h1 > h2 ? (x * x + h1 * h1) / (2 * h1) : ((L - x) ** 2 + h2 * h2) / (2 * h2);
  const over = Math.max(h1 - x, h2 - (L - x));
  if (over > 1e-9) {
    const deep = Math.max(h1, h2);
    return {
      key: "length",
      what: `this ${kind} is deeper than a half round of its length, so no tool could turn it`,
      why: `${mm(L)} long, ${mm(deep)} from its end to ${name}; a half round of that length is ${mm(L / 2)} deep`,
      mend: `make it longer, or ${kind === "bead" ? "the ends thicker" : "the waist thicker"}`,
    };
  }
  const centre = { x, y: extreme - sign * radius };
  return [arc({ x: 0, y: e.from / 2 }, { x: L, y: e.to / 2 }, centre, kind === "cove")];
}

/** Where along L the arc stands highest whose ends lie h1 and h2 below. */
function crownAt(h1: number, h2: number, L: number): number {
  const d = h2 - h1;
  if (Math.abs(d) <= SAME_DIAMETER) return L / 2;
  if (h1 === 0) return 0;
  // (h2 − h1)x² + 2·h1·L·x − (h1·L² + h1·h2·(h2 − h1)) = 0, in the form that doesn't cancel.
  const c = h1 * L * L + h1 * h2 * d;
  return c / (h1 * L + Math.sqrt(Math.max(0, h1 * h1 * L * L + d * c)));
}

function ogee(e: Sized, ends: "level" | "upright"): readonly Segment[] | ElementTrouble {
  const a = e.length / 2;
  const rise = e.to / 2 - e.from / 2;
  const b = Math.abs(rise) / 2;
  if (b <= SAME_DIAMETER) {
    return {
      key: "to",
      what: "this ogee is as thick at one end as at the other",
      why: `${mm(e.from)} and ${mm(e.to)}`,
      mend: "give it two unlike diameters, or use a cylinder",
    };
  }
  const level = ends === "level";
  if (level ? b > a + 1e-9 : a > b + 1e-9) {
    return {
      key: "length",
      what: level
        ? "this ogee is too short to run level at both ends"
        : "this ogee is too long to run upright at both ends",
      why: `${mm(e.length)} long, ${mm(2 * b)} from radius to radius`,
      mend: level
        ? `make it at least ${mm(2 * b)} long, or write "ends: upright"`
        : `make it at most ${mm(2 * b)} long, or write "ends: level"`,
    };
  }
  const up = rise > 0;
  const start = { x: 0, y: e.from / 2 };
  const end = { x: e.length, y: e.to / 2 };
  const middle = { x: a, y: (start.y + end.y) / 2 };
  const r = (a * a + b * b) / (2 * (level ? b : a));
  if (level) {
    const turn = up ? r : -r;
    return [
      arc(start, middle, { x: 0, y: start.y + turn }, up),
      arc(middle, end, { x: e.length, y: end.y - turn }, !up),
    ];
  }
  return [arc(start, middle, { x: r, y: start.y }, !up), arc(middle, end, { x: e.length - r, y: end.y }, up)];
}

function roundOver(e: Sized): readonly Segment[] | ElementTrouble {
  const rise = e.to / 2 - e.from / 2;
  const h = Math.abs(rise);
  const L = e.length;
  if (h <= SAME_DIAMETER || h > L + 1e-9) {
    return {
      key: h <= SAME_DIAMETER ? "to" : "length",
      what:
        h <= SAME_DIAMETER
          ? "this round-over is as thick at one end as at the other"
          : "this round-over is steeper than a quarter round",
      why: `${mm(L)} long, from ${mm(e.from)} to ${mm(e.to)}`,
      mend: h <= SAME_DIAMETER ? "give it two unlike diameters" : `make it at least ${mm(h)} long`,
    };
  }
  const r = (L * L + h * h) / (2 * h);
  const start = { x: 0, y: e.from / 2 };
  const end = { x: L, y: e.to / 2 };
  return [arc(start, end, rise > 0 ? { x: L, y: end.y - r } : { x: 0, y: start.y - r }, false)];
}

/** The same element from its other end: for the second half of a half profile. */
export function turnedRound(shape: ElementShape): ElementShape {
  switch (shape.kind) {
    case "tenon":
    case "cylinder":
    case "fillet":
    case "vee":
      return shape;
    case "bead":
    case "cove":
    case "taper":
    case "ogee":
    case "round-over": {
      const { from, to, ...rest } = shape;
      return { ...rest, ...given(to, from) };
    }
    case "path":
      return { ...shape, segments: mirroredAlong(shape.segments) };
  }
}

/** A chain from its other end, walked so that x rises again from 0. */
export function mirroredAlong(segments: readonly Segment[]): readonly Segment[] {
  const last = segments[segments.length - 1];
  if (last === undefined) return segments;
  const whole = last.to.x;
  const flip = (p: { x: number; y: number }): { x: number; y: number } => ({ x: whole - p.x, y: p.y });
  // Mirrored and walked backwards, an arc keeps its sense.
  return [...segments]
    .reverse()
    .map((s) =>
      s.kind === "line" ? line(flip(s.to), flip(s.from)) : arc(flip(s.to), flip(s.from), flip(s.centre), s.ccw),
    );
}

function mm(value: number): string {
  return `${Number(value.toFixed(3))} mm`;
}
