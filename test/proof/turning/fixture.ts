import type { TurnedPiece } from "../../../src/parts/turned-piece.ts";
import type { TurningSetUp } from "../../../src/plan/turning-setup.ts";
import { crossings } from "../../../src/shapes/crossings.ts";
import type { Meridian } from "../../../src/shapes/meridian.ts";
import { nearestOn } from "../../../src/shapes/nearest.ts";
import type { Point } from "../../../src/shapes/point.ts";
import { arc, line, pieceOf, pointAt, radiusOf, type Segment, tangentAt } from "../../../src/shapes/segment.ts";
import { DEFAULT_SHOP } from "../../../src/shop/default-shop.ts";
import { type Lathe, type TurningTool, xScaleOf, xSignOf } from "../../../src/shop/lathe.ts";
import type { Shop } from "../../../src/shop/shop.ts";

/** A lathe that homes, X as radius, tool behind the work. */
export const LATHE: Lathe = {
  name: "test lathe",
  travel: { x: 120, z: 500 },
  topFeed: { x: 1500, z: 3000 },
  acceleration: { x: 150, z: 200 },
  spindle: { kind: "program", min: 200, max: 3500 },
  spindlePowerWatts: 750,
  spinUpSeconds: 5,
  spinDownSeconds: 8,
  swing: 250,
  betweenCentres: 450,
  xWords: "radius",
  toolPost: "rear",
  spindleWord: "M3",
  controller: {
    arcs: true,
    toolTable: false,
    toolChanger: false,
    homes: true,
    exactPath: true,
    cornerError: 0,
    axes: ["X", "Z"],
  },
  post: "lathe radius",
  from: "shop file",
};

/** Every convention a lathe's dialect may have. */
export const LATHES: readonly Lathe[] = (["radius", "diameter"] as const).flatMap((xWords) =>
  (["rear", "front"] as const).map((toolPost) => ({ ...LATHE, xWords, toolPost })),
);

/** A 3 mm round-nose with upright flanks. */
export const NOSE: TurningTool = {
  name: "3 mm round-nose",
  slot: 1,
  kind: "round-nose",
  noseRadius: 1.5,
  width: 3,
  flanks: { first: 0, second: 0 },
  reach: 40,
  holderHalfWidth: 8,
  point: "tip middle",
  maxBite: 1,
  from: "shop file",
};

export const SHOP: Shop = { ...DEFAULT_SHOP, lathes: LATHES, turningTools: [NOSE] };

const LENGTH = 60;
export const STOCK = 12;

/** A bar of 60 × ø24 between centres whose middle 50 mm shall become `profile`, from x = 5 to 55 of the bar. */
export function turningSetUp(profile: readonly Segment[], more: Partial<TurningSetUp> = {}): TurningSetUp {
  const source = { file: "job.yaml", line: 1, column: 1, length: 1, text: "turning" };
  const meridian: Meridian = { segments: profile };
  const piece: TurnedPiece = {
    name: "pull",
    wood: "ash",
    copies: 1,
    blank: { length: LENGTH, across: 2 * STOCK, shape: "round" },
    elements: [{ kind: "path", name: "profile", from: 5, to: 55, fromDiameter: 20, toDiameter: 20, source }],
    meridian,
    squares: [],
    waste: [],
    turnedBy: "machine",
    radiusError: { value: 0, from: "test" },
    wishes: {} as TurnedPiece["wishes"],
    source,
    sources: {},
  };
  return {
    name: "pull, on the lathe",
    piece,
    lathe: LATHE,
    zShift: -LENGTH,
    start: { segments: [line({ x: -LENGTH, y: STOCK }, { x: 0, y: STOCK })] },
    target: { segments: profile.map((s) => moved(s, -LENGTH)) },
    keepOuts: [
      { name: "drive centre", outline: rectangle(-LENGTH - 40, -LENGTH, 12.5) },
      {
        name: "live centre",
        outline: [
          { x: 0, y: 0 },
          { x: 12, y: 6.9 },
          { x: 12, y: 15 },
          { x: 72, y: 15 },
          { x: 72, y: 0 },
        ],
      },
    ],
    safeRadius: 20,
    tools: [NOSE],
    habits: DEFAULT_SHOP.habits,
    roughRpm: 1500,
    finishRpm: 3000,
    speedReason: "test",
    ...more,
  };
}

function rectangle(from: number, to: number, r: number): readonly Point[] {
  return [
    { x: from, y: 0 },
    { x: to, y: 0 },
    { x: to, y: r },
    { x: from, y: r },
  ];
}

export function moved(s: Segment, dx: number, dy = 0): Segment {
  const at = (p: Point): Point => ({ x: p.x + dx, y: p.y + dy });
  return s.kind === "line" ? line(at(s.from), at(s.to)) : arc(at(s.from), at(s.to), at(s.centre), s.ccw);
}

/**
 * Way of a nose's middle round a profile whose pieces are long against the nose: each piece moved out by its radius,
 * corners that stand out rounded, corners that lie in cut where the moved pieces cross. Starts and ends beside the walls.
 */
export function noseWay(profile: readonly Segment[], nose: number): readonly Segment[] {
  const out = profile.map((s) => movedOut(s, nose));
  const chain: Segment[] = [out[0]!];
  for (const [i, next] of out.slice(1).entries()) {
    const last = chain[chain.length - 1]!;
    const gap = Math.hypot(next.from.x - last.to.x, next.from.y - last.to.y);
    if (gap < 1e-9) chain.push(next);
    else {
      const a = tangentAt(profile[i]!, 1);
      const b = tangentAt(profile[i + 1]!, 0);
      if (a.x * b.y - a.y * b.x < 0) chain.push(arc(last.to, next.from, profile[i]!.to, false), next);
      else {
        const p = crossings(last, next)[0];
        if (p === undefined) throw new Error("a profile too tight for this way");
        chain[chain.length - 1] = pieceOf(last, 0, nearestOn(last, p).t);
        chain.push(pieceOf(next, nearestOn(next, p).t, 1));
      }
    }
  }
  const from = profile[0]!.from.x + nose;
  const to = profile[profile.length - 1]!.to.x - nose;
  return chain.flatMap((s) => clipped(s, from, to));
}

function movedOut(s: Segment, by: number): Segment {
  const off = (p: Point, t: number): Point => {
    const d = tangentAt(s, t);
    return { x: p.x - d.y * by, y: p.y + d.x * by };
  };
  const from = off(s.from, 0);
  const to = off(s.to, 1);
  return s.kind === "line" ? line(from, to) : arc(from, to, s.centre, s.ccw);
}

function clipped(s: Segment, from: number, to: number): Segment[] {
  const share = (x: number): number => {
    let low = 0;
    let high = 1;
    for (let k = 0; k < 60; k++) {
      const m = (low + high) / 2;
      if (pointAt(s, m).x < x) low = m;
      else high = m;
    }
    return (low + high) / 2;
  };
  if (s.to.x <= from || s.from.x >= to) return [];
  return [pieceOf(s, s.from.x < from ? share(from) : 0, s.to.x > to ? share(to) : 1)];
}

/** How a program of the tests is written, and what may be wrong with it. */
export interface Writing {
  readonly lathe?: Lathe;
  readonly bite?: number;
  readonly rough?: { readonly rpm: number };
  /** Added to every radius, mm. */
  readonly deeper?: number;
  /** Index of a piece of the finish pass that is replaced by the chord of what is left out. */
  readonly edit?: (way: readonly Segment[]) => readonly Segment[];
}

/** What the last layer before the finish leaves, mm. */
const ALLOWANCE = 0.3;

/** A whole program: the way raised by layer after layer, then the way itself. The tip leads the nose's middle by its radius. */
export function programFor(setUp: TurningSetUp, profile: readonly Segment[], w: Writing = {}): string {
  const lathe = w.lathe ?? setUp.lathe;
  const bite = w.bite ?? 0.7;
  const nose = setUp.tools[0]!.noseRadius;
  const way = noseWay(profile, nose).map((s) => moved(s, -LENGTH, -nose - (w.deeper ?? 0)));
  const lowest = Math.min(...way.flatMap((s) => [0, 0.25, 0.5, 0.75, 1].map((t) => pointAt(s, t).y)));
  const layers = Math.max(1, 1 + Math.ceil((STOCK - lowest - ALLOWANCE) / bite));
  const pen = penFor(lathe);
  const head = [
    "(Tool: 3 mm round-nose)",
    "G18 G21 G40 G54 G61 G80 G90 G94",
    "M5",
    "G53 G0 X0.",
    `G0 Z${n(way[0]!.from.x)}`,
    `G0 ${pen.x(setUp.safeRadius)}`,
    `S${w.rough?.rpm ?? 1400} ${lathe.spindleWord}`,
    "G4 P5.",
  ];
  const lines: string[] = [];
  for (let k = layers; k >= 0; k--) {
    if (k === 0) lines.push("S2800", "G4 P5.");
    const up = k === 0 ? 0 : ALLOWANCE + (k - 1) * bite;
    const pass = (k === 0 && w.edit !== undefined ? w.edit(way) : way).map((s) => moved(s, 0, up));
    const z = n(pass[0]!.from.x);
    if (z !== n(way[0]!.from.x)) lines.push(`G0 Z${z}`);
    lines.push(`G0 ${pen.x(Math.max(STOCK + 1, pass[0]!.from.y))}`, `G1 ${pen.x(pass[0]!.from.y)} F120.`);
    let at = pass[0]!.from;
    for (const s of pass) {
      if (Math.hypot(s.from.x - at.x, s.from.y - at.y) > 1e-6) lines.push(`G1 ${pen.to(s.from)} F240.`);
      lines.push(pen.cut(s));
      at = s.to;
    }
    lines.push(`G0 ${pen.x(setUp.safeRadius)}`, `G0 Z${n(way[0]!.from.x)}`);
  }
  return [...head, ...lines, "M5", "G4 P8.", "M2", ""].join("\n");
}

const n = (v: number): string => (Math.abs(v) < 5e-5 ? "0.0" : v.toFixed(4));

function penFor(lathe: Lathe) {
  const scale = xScaleOf(lathe);
  const side = xSignOf(lathe);
  const x = (r: number): string => `X${n(scale * r)}`;
  const to = (p: Point): string => `${x(p.y)} Z${n(p.x)}`;
  const rounded = (p: Point): Point => ({ x: Number(n(p.x)), y: Number(n(scale * p.y)) / scale });
  const cut = (s: Segment): string => {
    if (s.kind === "line") return `G1 ${to(s.to)} F240.`;
    if (radiusOf(s) < 1e-3) return `G1 ${to(s.to)} F240.`;
    const from = rounded(s.from);
    const centre = `I${n(side * (s.centre.y - from.y))} K${n(s.centre.x - from.x)}`;
    // Counter-clockwise with Z to the right and the radius upwards is G3 at positive X, G2 at negative.
    return `${s.ccw === (side === 1) ? "G3" : "G2"} ${to(s.to)} ${centre} F240.`;
  };
  return { x, to, cut };
}

/** A profile in the bar's own x: cylinder, cove, bead, taper, cylinder. */
export function sampleProfile(): readonly Segment[] {
  return [
    line({ x: 5, y: 9 }, { x: 12, y: 9 }),
    arc({ x: 12, y: 9 }, { x: 22, y: 9 }, { x: 17, y: 14 }, true),
    arc({ x: 22, y: 9 }, { x: 32, y: 9 }, { x: 27, y: 4 }, false),
    line({ x: 32, y: 9 }, { x: 44, y: 6 }),
    line({ x: 44, y: 6 }, { x: 55, y: 6 }),
  ];
}
