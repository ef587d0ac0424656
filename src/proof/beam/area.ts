import type { Finding } from "../../finding.ts";
import type { BeamSetUp } from "../../plan/beam-setup.ts";
import { nearestOn } from "../../shapes/nearest-on.ts";
import type { Point } from "../../shapes/point.ts";
import { areaOf, perimeterOf, regionSegments } from "../../shapes/region.ts";
import { type Line, lengthOf, line, pointAt, type Segment, tangentAt } from "../../shapes/segment.ts";
import { indexSegments, nearestDistance, type SegmentIndex, segmentsNear } from "../../shapes/segment-index.ts";
import { ripple } from "../../shop/beam.ts";
import { lineSpacing } from "../../shop/burn-energy.ts";
import { lineWidth } from "../../shop/laser.ts";
import type { Figure } from "../proof.ts";
import { mm } from "../say.ts";
import { strayingOf } from "./along.ts";
import { borderBurns } from "./border.ts";
import { type BeamMeasures, type BurnIn, cornerSlack, nameOf, placeOfBurn, placeOfMark } from "./case.ts";
import type { FittedMark } from "./fit.ts";
import { passesFinding } from "./lines.ts";
import type { RegionLook } from "./region-look.ts";
import { timesAlong } from "./times.ts";

/** A burned line may be this share of the spacing away from where its neighbours put it. */
const UNEVEN = 0.1;
/** How far ahead of a line's end is looked, as a share of the spacing: farther than its own end counts, nearer than the next. */
const AHEAD = 0.7;
/** Directions in which the inside is looked for from a border. */
const AROUND = 32;
/** Room that a spot must have beside it to count as fitting, mm: in a slender tip a hair decides how far it gets. */
const ROOM = 0.01;
/** Cells that the area's figures are counted on. */
const CELLS = 60_000;

/**
 * An area against the lines burned over it. Its border lies within half a spacing and a spot of a burned line, all along,
 * except where the drawing is narrower than the spot; and beside every burned line, a spacing away, lies the next one,
 * wherever the drawing goes on there. So no place is left out, whatever the shape. Cells only count the figures.
 */
export function areaBurned(setUp: BeamSetUp, fitted: FittedMark, look: RegionLook): BeamMeasures {
  const { placed, burns } = fitted;
  const { laser } = setUp;
  const name = nameOf(placed);
  const spot = Math.max(laser.spot.x, laser.spot.y);
  const index = indexSegments(burns.map((b) => b.burn.curve));
  const rows = rowsAmong(burns);
  const rowIndex = indexSegments(rows.map((r) => r.burn.curve));
  const travel = rows.length === 0 ? 0 : angleOf(rows[0]!.burn.curve);
  const spacing = lineSpacing(placed.setting, laser, travel);
  const findings: Finding[] = [];
  const fine = borderBare(setUp, fitted, look, index, spacing, spot, findings);
  let nearest = Number.POSITIVE_INFINITY;
  let apart = 0;
  for (const row of rows) {
    const gap = neighbourOf(row.burn.curve, rowIndex, spacing);
    if (gap !== undefined) {
      nearest = Math.min(nearest, gap);
      apart = Math.max(apart, gap);
      if (gap < spacing * (1 - UNEVEN) - 0.002) findings.push(spacingFinding(fitted, row, gap, spacing));
    }
    findings.push(...besideBare(setUp, fitted, look, index, row, spacing, spot));
    findings.push(...endsShort(setUp, fitted, look, index, row, spacing, spot));
    const over = timesAlong(row.burn.curve, rowIndex, () => placed.setting.passes);
    if (over !== undefined && over !== 0) findings.push(passesFinding(fitted, over, placeOfBurn(row)));
  }
  if (burns.length === 0 && look.border.size > 0) {
    findings.push(bareFinding(fitted, undefined, `none of it is burned`));
  }
  const cells = cellsOf(look, index, Math.max(spacing, lineWidth(laser, travel)) / 2);
  const width = lineWidth(laser, travel);
  const wave = ripple(width, spacing);
  const figures: Record<string, Figure> = {
    [`drawn: ${name}`]: { value: areaOf(look.region), bound: 0, unit: "mm²" },
    [`burned over: ${name}`]: { value: cells.covered, bound: cells.bound, unit: "mm²" },
    [`left bare: ${name}`]: { value: cells.bare, bound: cells.bound, unit: "mm²" },
    [`largest gap: ${name}`]: { value: cells.gap, bound: cells.half, unit: "mm" },
    [`beyond the border: ${name}`]: { value: fitted.off, bound: 0.001, unit: "mm" },
    [`evenness: ${name}`]: { value: 100 * Math.max(wave.above, wave.below), bound: 0, unit: "%" },
    ...(apart === 0
      ? {}
      : { [`line spacing: ${name}`]: { value: (nearest + apart) / 2, bound: (apart - nearest) / 2, unit: "mm" } }),
  };
  if (fine > spot) {
    findings.push({
      grade: "caution",
      code: "proof-beam-fine-bare",
      place: placeOfMark(placed),
      what: `the ${name} is narrower than the spot in places, which are left bare`,
      why: `${mm(fine)} of its border have nothing burned beside them`,
      mend: "draw it larger, or burn it as a line",
      measured: { value: fine, bound: 0.05, unit: "mm" },
    });
  }
  return { findings, figures };
}

/** Straight burns that run one way, most of all, and follow no border: an area's lines. */
function rowsAmong(burns: readonly BurnIn[]): readonly BurnIn[] {
  const border = borderBurns(burns);
  const straight = burns.filter(
    ({ burn }) => burn.curve.kind === "line" && !border.has(burn) && lengthOf(burn.curve) > 1e-3,
  );
  const byDirection = new Map<number, number>();
  const directionOf = (b: BurnIn): number => Math.round(angleOf(b.burn.curve) + 360) % 180;
  for (const b of straight) {
    const d = directionOf(b);
    byDirection.set(d, (byDirection.get(d) ?? 0) + lengthOf(b.burn.curve));
  }
  const most = [...byDirection].reduce((a, b) => (b[1] > a[1] ? b : a), [0, 0])[0];
  return straight.filter((b) => [0, 1, 179].includes((directionOf(b) - most + 180) % 180));
}

/** Length of border that nothing could be burned beside; what could have been is told as bare. */
function borderBare(
  setUp: BeamSetUp,
  fitted: FittedMark,
  look: RegionLook,
  index: SegmentIndex,
  spacing: number,
  spot: number,
  findings: Finding[],
): number {
  if (fitted.burns.length === 0) return 0;
  const allowed = spacing / 2 + spot + cornerSlack(setUp);
  let fine = 0;
  for (const s of regionSegments(look.region)) {
    const found = strayingOf(s, index, allowed, (p, half) => {
      if (nearestDistance(index, p) <= allowed) return false;
      if (half > 0.05) return undefined;
      if (roomBeside(look, p, spot / 2)) return false;
      fine += 2 * half;
      return true;
    });
    if (found.beyond > 0) {
      findings.push(
        bareFinding(
          fitted,
          found.at,
          `${mm(found.beyond)} of its border lie farther than ${mm(allowed)} from any burned line`,
        ),
      );
    }
  }
  return fine;
}

/** Whether a spot fits into the drawing beside a place of its border. */
function roomBeside(look: RegionLook, p: Point, half: number): boolean {
  for (let i = 0; i < AROUND; i++) {
    const angle = (2 * Math.PI * i) / AROUND;
    const away = 1.02 * half + ROOM;
    const q = { x: p.x + away * Math.cos(angle), y: p.y + away * Math.sin(angle) };
    if (look.depth(q) >= half + ROOM) return true;
  }
  return false;
}

/** Beside a line, a spacing away to both sides, lies the next, wherever the drawing goes on deep enough. */
function besideBare(
  setUp: BeamSetUp,
  fitted: FittedMark,
  look: RegionLook,
  index: SegmentIndex,
  row: BurnIn,
  spacing: number,
  spot: number,
): readonly Finding[] {
  const { curve } = row.burn;
  const t = tangentAt(curve, 0.5);
  const deep = spot / 2 + spacing / 2 + 0.02;
  const allowed = UNEVEN * spacing + 0.005 + cornerSlack(setUp);
  return [1, -1].flatMap((side) => {
    const shift = (p: Point): Point => ({ x: p.x - side * spacing * t.y, y: p.y + side * spacing * t.x });
    const beside: Line = line(shift(curve.from), shift(curve.to));
    const found = strayingOf(beside, index, allowed, (p, half) => look.depth(p) + half < deep);
    // Where a slanted border cuts the next line short by less than a spot, the border itself tells.
    if (found.beyond <= spot) return [];
    return [bareFinding(fitted, found.at, `beside a burned line the next is missing over ${mm(found.beyond)}`)];
  });
}

/** A line ends at the border, or where another goes on: a little ahead of its end, the drawing is over or something is burned. */
function endsShort(
  setUp: BeamSetUp,
  fitted: FittedMark,
  look: RegionLook,
  index: SegmentIndex,
  row: BurnIn,
  spacing: number,
  spot: number,
): readonly Finding[] {
  const { curve } = row.burn;
  const ahead = AHEAD * spacing;
  return [
    { end: curve.from, d: tangentAt(curve, 0), sense: -1 },
    { end: curve.to, d: tangentAt(curve, 1), sense: 1 },
  ].flatMap(({ end, d, sense }) => {
    const p = { x: end.x + sense * ahead * d.x, y: end.y + sense * ahead * d.y };
    if (look.depth(p) < spot / 2 + cornerSlack(setUp)) return [];
    if (nearestDistance(index, p) <= (AHEAD - UNEVEN) * spacing) return [];
    return [bareFinding(fitted, p, "a line ends before the border, and nothing goes on from there")];
  });
}

/** Distance to the nearest burned line that runs alongside, mm. */
function neighbourOf(curve: Segment, index: SegmentIndex, spacing: number): number | undefined {
  const p = pointAt(curve, 0.5);
  const t = tangentAt(curve, 0.5);
  let least: number | undefined;
  for (const other of segmentsNear(index, { min: p, max: p }, 1.5 * spacing)) {
    const at = nearestOn(other, p);
    const d = tangentAt(other, at.t);
    if (other.kind !== "line" || Math.abs(t.x * d.y - t.y * d.x) > 0.01) continue;
    // Only what runs alongside counts, not the end of a line ahead.
    const across = Math.abs((at.point.x - p.x) * t.y - (at.point.y - p.y) * t.x);
    if (across < 0.1 * spacing || Math.abs(across - at.distance) > 1e-6) continue;
    if (least === undefined || across < least) least = across;
  }
  return least;
}

interface Cells {
  readonly covered: number;
  readonly bare: number;
  readonly gap: number;
  readonly bound: number;
  readonly half: number;
}

/** The area in cells: which of their middles lie within `reach` of a burned line, and the farthest. */
function cellsOf(look: RegionLook, index: SegmentIndex, reach: number): Cells {
  const area = areaOf(look.region);
  const cell = Math.max(reach / 2, Math.sqrt(area / CELLS));
  const half = (cell * Math.SQRT2) / 2;
  let covered = 0;
  let bare = 0;
  let gap = 0;
  const box = boundsFrom(look);
  if (index.size === 0) return { covered: 0, bare: area, gap: 0, bound: 0, half };
  for (let y = box.min.y + cell / 2; y < box.max.y; y += cell) {
    for (let x = box.min.x + cell / 2; x < box.max.x; x += cell) {
      const p = { x, y };
      if (!look.contains(p)) continue;
      const d = nearestDistance(index, p);
      gap = Math.max(gap, d);
      if (d <= reach + half) covered++;
      else bare++;
    }
  }
  // A cell on the border may count whole or not at all.
  return {
    covered: covered * cell * cell,
    bare: bare * cell * cell,
    gap,
    bound: perimeterOf(look.region) * half,
    half,
  };
}

function boundsFrom(look: RegionLook): { readonly min: Point; readonly max: Point } {
  const points = regionSegments(look.region).flatMap((s) => Array.from({ length: 9 }, (_, i) => pointAt(s, i / 8)));
  const xs = points.map((p) => p.x);
  const ys = points.map((p) => p.y);
  return {
    min: { x: xs.reduce((a, b) => Math.min(a, b)), y: ys.reduce((a, b) => Math.min(a, b)) },
    max: { x: xs.reduce((a, b) => Math.max(a, b)), y: ys.reduce((a, b) => Math.max(a, b)) },
  };
}

function angleOf(s: Segment): number {
  const t = tangentAt(s, 0.5);
  return (Math.atan2(t.y, t.x) * 180) / Math.PI;
}

function bareFinding(fitted: FittedMark, at: Point | undefined, why: string): Finding {
  return {
    grade: "refuse",
    code: "proof-beam-bare",
    place: placeOfMark(fitted.placed, at),
    what: `part of the ${nameOf(fitted.placed)} is left bare`,
    why,
    mend: "make the program again",
  };
}

function spacingFinding(fitted: FittedMark, row: BurnIn, gap: number, spacing: number): Finding {
  return {
    grade: "refuse",
    code: "proof-beam-spacing",
    place: { ...placeOfMark(fitted.placed), ...placeOfBurn(row) },
    what: `two lines of the ${nameOf(fitted.placed)} lie too near to each other`,
    why: "the wood between them burns darker than the setting was found for",
    mend: "make the program again",
    measured: { value: gap, bound: 0, unit: "mm" },
    limit: { value: spacing, unit: "mm", from: `the shop's setting "${fitted.placed.setting.effect}"` },
  };
}
