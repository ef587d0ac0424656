import type { TargetCavity } from "../../parts/target.ts";
import type { SetUp } from "../../plan/setup.ts";
import type { Point } from "../../shapes/point.ts";
import { boundsOfRegion } from "../../shapes/region.ts";

/**
 * How far a size may be off before it is worth stopping, mm, where the job says nothing: what a careful set-up and calipers
 * give together. Common practice, no source.
 */
export const USUAL = 0.1;

/** Something to measure after a set-up: what, how large it should be, and how far it may be off. mm */
export interface ToMeasure {
  readonly n: number;
  /** In set-up coordinates: where its number stands in the figure. */
  readonly at: Point;
  readonly feature: string;
  readonly part: string;
  readonly sizes: readonly { readonly what: string; readonly value: number; readonly plusMinus: number }[];
}

/** What is cut in a set-up, feature by feature, with the sizes that calipers and a rule can check. */
export function toMeasure(setUp: SetUp): readonly ToMeasure[] {
  const features = new Map<string, TargetCavity[]>();
  for (const c of setUp.target.cavities) {
    const key = JSON.stringify([c.cavity.part, c.cavity.feature]);
    features.set(key, [...(features.get(key) ?? []), c]);
  }
  return [...features.values()]
    .flatMap((own): readonly Omit<ToMeasure, "n">[] => {
      const lead = leading(own);
      const sizes = sizesOf(own, setUp);
      if (lead === undefined || sizes.length === 0) return [];
      return [{ at: spotOf(lead, setUp), feature: lead.cavity.feature, part: lead.cavity.part, sizes }];
    })
    .map((m, i) => ({ ...m, n: i + 1 }));
}

/** What speaks for a feature: its deepest cut, but not the point that a drill leaves. */
function leading(own: readonly TargetCavity[]): TargetCavity | undefined {
  const speaking = own.filter((c) => !(c.cavity.shape.kind === "hole" && c.cavity.shape.role === "drill tip"));
  return speaking.reduce<TargetCavity | undefined>((a, b) => (a !== undefined && a.zTo <= b.zTo ? a : b), undefined);
}

function spotOf(c: TargetCavity, { blank }: SetUp): Point {
  const b = boundsOfRegion(c.profile ?? c.section) ?? blank;
  const clamp = (v: number, low: number, high: number): number => Math.min(Math.max(v, low), high);
  return {
    x: (clamp(b.min.x, blank.min.x, blank.max.x) + clamp(b.max.x, blank.min.x, blank.max.x)) / 2,
    y: (clamp(b.min.y, blank.min.y, blank.max.y) + clamp(b.max.y, blank.min.y, blank.max.y)) / 2,
  };
}

function sizesOf(own: readonly TargetCavity[], setUp: SetUp): ToMeasure["sizes"] {
  const known = new Set<string>();
  return own
    .flatMap((c) => sizesOfCut(c, setUp))
    .filter((s) => {
      const key = `${s.what} ${s.value.toFixed(4)}`;
      if (known.has(key)) return false;
      known.add(key);
      return true;
    });
}

function sizesOfCut(c: TargetCavity, setUp: SetUp): ToMeasure["sizes"] {
  const { cavity } = c;
  const { blank } = setUp;
  const plusMinus = cavity.tolerance ?? USUAL;
  const one = (what: string, value: number) => ({ what, value, plusMinus });
  const below = deepFrom(setUp);
  const deep = cavity.through ? [] : [one(below, blank.max.z - c.zTo)];
  const b = boundsOfRegion(c.section);
  switch (cavity.shape.kind) {
    case "groove":
      return [one("wide", cavity.shape.width), ...deep, ...fromBorder(c, setUp, one)];
    case "mortise":
    case "recess": {
      if (b === undefined || cavity.slopeTan > 0 || cavity.hollow !== undefined || opens(c, setUp)) return deep;
      const [w, h] = [b.max.x - b.min.x, b.max.y - b.min.y];
      return [one("long", Math.max(w, h)), one("wide", Math.min(w, h)), ...deep];
    }
    case "rabbet": {
      if (b === undefined) return deep;
      const w = Math.min(b.max.x, blank.max.x) - Math.max(b.min.x, blank.min.x);
      const h = Math.min(b.max.y, blank.max.y) - Math.max(b.min.y, blank.min.y);
      return [one("wide", Math.min(w, h)), ...deep];
    }
    case "hole":
      return cavity.shape.role === "drill tip"
        ? []
        : [
            one(cavity.shape.role === "bore" ? "across" : `${cavity.shape.role} across`, cavity.shape.diameter),
            ...deep,
          ];
    case "outline":
      // What an outline leaves: a skin, or tabs, which are looked at and not measured.
      return cavity.through ? [] : [one("skin left", c.zTo - blank.min.z)];
    case "v-groove":
      // As deep as its outlines are far apart: there is no one depth to measure but where it is capped.
      return cavity.shape.cap === undefined ? [] : [one("deep, where widest", cavity.shape.cap)];
    case "cut line":
      return deep;
  }
}

/** What a depth is measured from, where it isn't the face itself. */
function deepFrom({ round }: SetUp): string {
  if (round === undefined) return "deep";
  if (round.flatTop !== undefined) return "deep below the flat";
  return round.squares.length > 0 ? "deep, from a straightedge over the squares" : "deep below the highest wood";
}

/** Where a level or upright groove stands: the near border to its near wall. */
function fromBorder(
  c: TargetCavity,
  { blank, frame, workpiece }: SetUp,
  one: (what: string, value: number) => ToMeasure["sizes"][number],
): ToMeasure["sizes"] {
  const b = boundsOfRegion(c.section);
  const axis = c.axis;
  if (b === undefined || axis === undefined) return [];
  const level = Math.abs(axis[0].y - axis[1].y) < 1e-6;
  if (!level && Math.abs(axis[0].x - axis[1].x) > 1e-6) return [];
  const [low, high] = level
    ? [b.min.y - blank.min.y, blank.max.y - b.max.y]
    : [b.min.x - blank.min.x, blank.max.x - b.max.x];
  const near = Math.min(low, high);
  if (near < 0.05) return [];
  const [row0, row1] = frame.rotation;
  const row = level ? row1 : row0;
  const towards = low <= high ? -1 : 1;
  // The face of the workpiece that this border is: its normal lies along the set-up's axis.
  const [x, y] = [Math.round(row[0]) * towards, Math.round(row[1]) * towards];
  const z = Math.round(row[2]) * towards;
  const border =
    x !== 0
      ? x > 0
        ? "second end"
        : "first end"
      : y !== 0
        ? y > 0
          ? "upper edge"
          : "lower edge"
        : z > 0
          ? "face"
          : "back";
  return [one(`from ${workpiece.labels[border]}`, near)];
}

function opens(c: TargetCavity, { blank }: SetUp): boolean {
  const b = boundsOfRegion(c.section);
  return (
    b === undefined ||
    b.min.x < blank.min.x - 1e-6 ||
    b.min.y < blank.min.y - 1e-6 ||
    b.max.x > blank.max.x + 1e-6 ||
    b.max.y > blank.max.y + 1e-6
  );
}
