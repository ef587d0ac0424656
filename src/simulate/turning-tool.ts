import type { Point } from "../shapes/point.ts";
import type { TurningTool } from "../shop/lathe.ts";

/**
 * A turning tool in the half plane (x along the axis, y the radius), its tip pointing at the axis, relative to its
 * reference point: the middle of the nose circle, or midway between the two corner rounds. mm. Made from the shop's words
 * alone, for checking; the side that writes programs has its own.
 */
export interface TurningForm {
  readonly tool: TurningTool;
  /** From the programmed point to the reference point. */
  readonly offset: Point;
  /** What cuts: all within `radius` of `flat` and of the flanks that run back from its ends, no wider than `half`. */
  readonly edge: LowerEdge;
  /** The holder's underside: flat, and as high as the reach says. */
  readonly holder: LowerEdge;
  /** The same as solids: the cutting end, the shaft behind it, the holder. */
  readonly bodies: readonly TurningBody[];
}

/** A convex lower edge: a flat −flat…flat, corner rounds, then flanks; upright beyond `half`. mm. */
export interface LowerEdge {
  readonly flat: number;
  readonly radius: number;
  /** Rise of the flanks, towards the first end and the second: mm of radius for each mm along the axis; Infinity upright. */
  readonly rise: { readonly first: number; readonly second: number };
  readonly half: number;
  /** Height of the lowest point above the reference point. */
  readonly low: number;
}

/** A convex core, counter-clockwise, and how far round it the body reaches. */
export interface TurningBody {
  readonly part: "edge" | "shaft" | "holder";
  readonly core: readonly Point[];
  readonly radius: number;
}

/** How tall a holder is taken to be above its underside, mm: past any wood a small lathe swings. Invented, on the safe side. */
const HOLDER_TALL = 80;

/** The form of a tool as the shop describes it. */
export function formOf(tool: TurningTool): TurningForm {
  const radius = tool.noseRadius;
  const flat = tool.kind === "parting" ? Math.max(0, tool.width / 2 - radius) : 0;
  const half = Math.max(tool.width / 2, flat + radius);
  const edge: LowerEdge = {
    flat,
    radius,
    rise: { first: riseOf(tool.flanks.first), second: riseOf(tool.flanks.second) },
    half,
    low: -radius,
  };
  const under = tool.reach - radius;
  const wide = Math.max(tool.holderHalfWidth, 0.01);
  const holder: LowerEdge = {
    flat: wide,
    radius: 0,
    rise: { first: Number.POSITIVE_INFINITY, second: Number.POSITIVE_INFINITY },
    half: wide,
    low: under,
  };
  return { tool, offset: offsetOf(tool, flat), edge, holder, bodies: bodiesOf(edge, under, wide, tool) };
}

function riseOf(angleDeg: number): number {
  return angleDeg <= 1e-9 ? Number.POSITIVE_INFINITY : 1 / Math.tan((angleDeg * Math.PI) / 180);
}

/** Where the reference point stands, seen from the programmed point. A corner is where tip line and side line meet. */
function offsetOf(tool: TurningTool, flat: number): Point {
  const n = tool.noseRadius;
  switch (tool.point) {
    case "tip middle":
      return { x: 0, y: n };
    case "corner first":
      return { x: flat + n, y: n };
    case "corner second":
      return { x: -flat - n, y: n };
  }
}

/**
 * Height of a lower edge above the reference point at `u` along the axis from it; Infinity beyond its width.
 * A round falls away as −√(n² − d²); a flank at φ to the tool's middle touches it at d = n·cos φ. Plane geometry.
 */
export function edgeAt(e: LowerEdge, u: number): number {
  const side = Math.abs(u);
  if (side > e.half + 1e-9) return Number.POSITIVE_INFINITY;
  const d = side - e.flat;
  if (d <= 0) return e.low;
  const rise = u < 0 ? e.rise.first : e.rise.second;
  const n = e.radius;
  // cos φ and sin φ of a flank that rises by 1/tan φ.
  const cos = rise === Number.POSITIVE_INFINITY ? 1 : rise / Math.hypot(1, rise);
  if (d <= n * cos || rise === Number.POSITIVE_INFINITY) return e.low + n - Math.sqrt(Math.max(0, n * n - d * d));
  const sin = 1 / Math.hypot(1, rise);
  return e.low + n + (d - n * cos) * rise - n * sin;
}

/** Where along a lower edge its slope is `k`, or where it passes k at a kink. */
export function placeOfSlope(e: LowerEdge, k: number): number {
  if (k === 0) return 0;
  const rise = k < 0 ? e.rise.first : e.rise.second;
  const steep = Math.abs(k);
  const round = Math.max(0, e.flat + (e.radius * steep) / Math.hypot(1, steep));
  const u = steep >= rise ? e.half : Math.min(e.half, round);
  return k < 0 ? -u : u;
}

function bodiesOf(edge: LowerEdge, under: number, wide: number, tool: TurningTool): readonly TurningBody[] {
  const { flat, radius, half } = edge;
  const bodies: TurningBody[] = [];
  // The flanks' cores run back until the rounds about them fill the width, or until the holder begins.
  const corner = (angleDeg: number): Point => {
    const a = (angleDeg * Math.PI) / 180;
    const room = Math.max(0, half - radius - flat);
    const s = Math.min(angleDeg <= 1e-9 ? 0 : room / Math.sin(a), Math.max(0, under) / Math.cos(a));
    return { x: flat + s * Math.sin(a), y: s * Math.cos(a) };
  };
  const left = corner(tool.flanks.first);
  const right = corner(tool.flanks.second);
  const top = Math.max(under, left.y, right.y);
  const core = [
    { x: -left.x, y: top },
    { x: -left.x, y: left.y },
    { x: -flat, y: 0 },
    { x: flat, y: 0 },
    { x: right.x, y: right.y },
    { x: right.x, y: top },
  ];
  bodies.push({ part: "edge", core: withoutRepeats(core), radius });
  const shoulder = Math.max(edgeAt(edge, -half), edgeAt(edge, half));
  // Where upright sides fill the width from the start, the core's rounds are the shaft already.
  const filled = tool.flanks.first <= 1e-9 && tool.flanks.second <= 1e-9 && flat + radius >= half - 1e-9;
  if (!filled && Number.isFinite(shoulder) && shoulder < under)
    bodies.push({ part: "shaft", core: box(half, shoulder, under), radius: 0 });
  bodies.push({ part: "holder", core: box(wide, under, under + HOLDER_TALL), radius: 0 });
  return bodies;
}

function box(half: number, low: number, high: number): readonly Point[] {
  return [
    { x: -half, y: high },
    { x: -half, y: low },
    { x: half, y: low },
    { x: half, y: high },
  ];
}

function withoutRepeats(points: readonly Point[]): readonly Point[] {
  return points.filter((p, i) => {
    const q = points[(i + 1) % points.length]!;
    return p.x !== q.x || p.y !== q.y;
  });
}
