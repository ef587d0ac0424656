import type { Slab, Target, TargetCavity, Wall } from "../../src/parts/target.ts";
import type { CavityShape } from "../../src/parts/workpiece.ts";
import type { SetUp } from "../../src/plan/setup.ts";
import type { ReadEvent, ReadMove, ReadProgram, Spindle } from "../../src/reader/read-move.ts";
import { solidBoundary } from "../../src/shapes/boundary.ts";
import { IDENTITY } from "../../src/shapes/frame.ts";
import { rectangle } from "../../src/shapes/outlines.ts";
import type { Box3, Point, Point3 } from "../../src/shapes/point.ts";
import { boundsOfRegion, containsPoint, type Region, regionSegments } from "../../src/shapes/region.ts";
import { boundsOf } from "../../src/shapes/segment.ts";
import type { Cutter } from "../../src/shop/cutter.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import type { Shop } from "../../src/shop/shop.ts";

/** The default shop, with its machine that knows the whole language. */
export const shop: Shop = DEFAULT_SHOP;

/** A cutter of the default shop, by name. */
export function bit(name: string): Cutter {
  const found = shop.cutters.find((c) => c.name === name);
  if (found === undefined) throw new Error(`no bit "${name}"`);
  return found;
}

/** A board 100 × 80 × 12 with its top at zero. */
export const BLANK: Box3 = { min: { x: 0, y: 0, z: -12 }, max: { x: 100, y: 80, z: 0 } };

interface CavityWords {
  readonly section: Region;
  readonly zFrom?: number;
  readonly zTo: number;
  readonly slopeTan?: number;
  readonly insideRadius?: number;
  readonly clear?: "all" | "walls";
  readonly keeps?: readonly { readonly area: Region; readonly zTop: number }[];
  readonly shape?: CavityShape;
  readonly profile?: Region;
  readonly feature?: string;
}

/** A cavity in set-up coordinates. */
export function cavity(w: CavityWords): TargetCavity {
  const zFrom = w.zFrom ?? 0;
  const feature = w.feature ?? "recess";
  return {
    cavity: {
      id: `part/${feature}`,
      part: "part",
      feature,
      source: { file: "job.yaml", line: 7, column: 5, length: 6, text: "    - recess: pocket" },
      face: "face",
      section: w.section,
      from: -zFrom,
      to: -w.zTo,
      through: w.zTo <= BLANK.min.z,
      slopeTan: w.slopeTan ?? 0,
      insideRadius: w.insideRadius ?? 3.2,
      clear: w.clear ?? "all",
      keeps: (w.keeps ?? []).map((k) => ({ area: k.area, from: -k.zTop })),
      shape: w.shape ?? { kind: "recess" },
    },
    section: w.section,
    zFrom,
    zTo: w.zTo,
    keeps: w.keeps ?? [],
    ...(w.profile === undefined ? {} : { profile: w.profile }),
  };
}

/** A target made here, independently of the stage that makes targets. Leaning cavities must keep clear of others. */
export function targetOf(cavities: readonly TargetCavity[], blank: Box3 = BLANK): Target {
  const heights = new Set([blank.min.z, blank.max.z]);
  for (const c of cavities) for (const z of [c.zFrom, c.zTo, ...c.keeps.map((k) => k.zTop)]) heights.add(z);
  const sorted = [...heights].filter((z) => z >= blank.min.z && z <= blank.max.z).sort((a, b) => a - b);
  return { blank, slabs: sorted.slice(1).map((zHigh, i) => slabOf(cavities, blank, sorted[i]!, zHigh)), cavities };
}

function slabOf(cavities: readonly TargetCavity[], blank: Box3, zLow: number, zHigh: number): Slab {
  const here = cavities.filter((c) => c.zTo <= zLow && c.zFrom >= zHigh);
  const kept = here.flatMap((c) => c.keeps.filter((k) => k.zTop >= zHigh).map((k) => k.area));
  const air = here.map((c) => ({
    section: c.section,
    box: boundsOfRegion(c.section)!,
    slopeTan: c.cavity.slopeTan,
    zFrom: c.zFrom,
  }));
  const block = rectangle(blank.min, blank.max);
  const isSolid = (p: Point): boolean =>
    containsPoint(block, p) && (kept.some((k) => containsPoint(k, p)) || !air.some((a) => containsPoint(a.section, p)));
  const upright = solidBoundary(
    [block, ...kept, ...air.filter((a) => a.slopeTan === 0).map((a) => a.section)].flatMap(regionSegments),
    isSolid,
  ).map((curve): Wall => ({ curve, box: boundsOf(curve), slopeTan: 0, zFrom: zHigh }));
  const leaning = air
    .filter((a) => a.slopeTan > 0)
    .flatMap((a) =>
      regionSegments(a.section).map(
        (curve): Wall => ({ curve, box: boundsOf(curve), slopeTan: a.slopeTan, zFrom: a.zFrom }),
      ),
    );
  return { zLow, zHigh, blank, walls: [...upright, ...leaning], air, kept };
}

/** A set-up around a target, taped down. */
export function setUpOf(target: Target, cutters: readonly Cutter[], changes: Partial<SetUp> = {}): SetUp {
  const { min, max } = target.blank;
  const machine = shop.machines[0]!;
  return {
    name: "part, face up",
    workpiece: {
      name: "part",
      wood: "ash",
      size: { length: max.x - min.x, width: max.y - min.y, thickness: max.z - min.z },
      grain: "along length",
      pieces: [],
      cavities: target.cavities.map((c) => c.cavity),
      labels: {
        face: "inside",
        back: "outside",
        "lower edge": "lower edge",
        "upper edge": "upper edge",
        "first end": "front end",
        "second end": "back end",
      },
      faceSide: "face",
      faceEdge: "lower edge",
      wishes: {},
      source: { file: "job.yaml", line: 3, column: 3, length: 4, text: "  part:" },
    },
    face: "face",
    machine,
    frame: IDENTITY,
    blank: target.blank,
    bedZ: min.z - 12,
    intoWasteBoard: 0.3,
    holding: { kind: "underside", by: "tape" },
    keepOuts: [],
    zero: { corner: "left front", z: "top", how: "touch the corner" },
    safeZ: 15,
    cavities: target.cavities.map((c) => c.cavity),
    earlier: [],
    target,
    marks: [],
    habits: shop.habits,
    cutters,
    ...changes,
  };
}

const TURNING: Spindle = { turning: "clockwise", rpm: 18000 };

/** A feed move along a line, or an arc in XY. */
export function feed(
  from: Point3,
  to: Point3,
  arc?: { readonly centre: Point; readonly ccw: boolean },
  changes: Partial<ReadMove> = {},
): ReadMove {
  return {
    kind: "move",
    line: 1,
    rapid: false,
    from,
    to,
    path: arc === undefined ? { kind: "line" } : { kind: "arc", plane: "XY", ...arc },
    machine: false,
    feed: 1500,
    spindle: TURNING,
    tool: 3,
    exactPath: true,
    ...changes,
  };
}

/** A read program from its moves. */
export function readOf(events: readonly ReadEvent[]): ReadProgram {
  return { file: "part.ngc", events, findings: [], unit: "mm", lineCount: events.length };
}

/** Rings of a rectangle's clearing from outside in, as closed level passes at one height. */
export function rectangleRings(min: Point, max: Point, radius: number, z: number, step = radius * 0.8): ReadMove[] {
  const moves: ReadMove[] = [];
  for (let d = radius; ; d += step) {
    const a = { x: min.x + d, y: min.y + d };
    const b = { x: max.x - d, y: max.y - d };
    if (a.x > b.x || a.y > b.y) {
      // The last stretch between the rings, along the middle.
      const y = (min.y + max.y) / 2;
      const x = (min.x + max.x) / 2;
      const along = max.x - min.x >= max.y - min.y;
      const h = Math.max(0, Math.abs(max.x - min.x - (max.y - min.y)) / 2);
      moves.push(along ? feed({ x: x - h, y, z }, { x: x + h, y, z }) : feed({ x, y: y - h, z }, { x, y: y + h, z }));
      return moves;
    }
    const corners = [
      { x: a.x, y: a.y, z },
      { x: b.x, y: a.y, z },
      { x: b.x, y: b.y, z },
      { x: a.x, y: b.y, z },
    ];
    for (const [i, p] of corners.entries()) moves.push(feed(p, corners[(i + 1) % 4]!));
  }
}

/** A number as programs write it: four decimals at most, no minus zero. */
export function n(value: number): string {
  const text = value.toFixed(4).replace(/\.?0+$/, "");
  return text === "-0" ? "0.0" : text.includes(".") ? text : `${text}.0`;
}

/** One level feed move as a line of text; the start is where the move before ended. */
export function textOf(m: ReadMove): string {
  const to = `X${n(m.to.x!)} Y${n(m.to.y!)} Z${n(m.to.z!)}`;
  if (m.path.kind === "line") return `G1 ${to} F1500`;
  const i = m.path.centre.x - m.from.x!;
  const j = m.path.centre.y - m.from.y!;
  return `${m.path.ccw ? "G3" : "G2"} ${to} I${n(i)} J${n(j)} F1500`;
}

/** A whole program for the machine with a changer, from level moves that follow on from each other or not. */
export function programText(
  moves: readonly ReadMove[],
  slot = 3,
  changes: Partial<Record<"head" | "tail", string[]>> = {},
): string {
  const lines = changes.head ?? [
    "G17 G21 G40 G54 G61 G80 G90 G94",
    "G53 G0 Z0.0",
    `T${slot} M6`,
    "G17 G21 G40 G54 G61 G80 G90 G94",
    "G53 G0 Z0.0",
    `G43 H${slot}`,
  ];
  const out = [...lines];
  const first = moves[0]!;
  out.push(`G0 X${n(first.from.x!)} Y${n(first.from.y!)}`, "G0 Z15.0", "S18000 M3", "G4 P4.0");
  let at: Point3 | undefined;
  for (const m of moves) {
    const from = m.from as Point3;
    if (at === undefined || Math.hypot(at.x - from.x, at.y - from.y) > 1e-6 || Math.abs(at.z - from.z) > 1e-6) {
      if (at !== undefined) out.push("G0 Z15.0", `G0 X${n(from.x)} Y${n(from.y)}`);
      out.push("G0 Z1.0", `G1 Z${n(from.z)} F500`);
    }
    out.push(textOf(m));
    at = m.to as Point3;
  }
  out.push(...(changes.tail ?? ["G0 Z15.0", "G53 G0 Z0.0", "M5", "M9", "M2"]));
  return `${out.join("\n")}\n`;
}
