import type { Finding } from "../finding.ts";
import type { Sized } from "./box.ts";
import type { FrontFit, GrooveFit, PlaneEdge, Quad } from "./fit-plan.ts";
import { boxAround } from "./quad.ts";
import { fitFinding, mmText } from "./said.ts";
import { saidPart } from "./said-at.ts";
import { clean, downTo, type FitGround, upTo } from "./stuff.ts";

/** A front with what its joints are set out from. */
export interface FrontSet {
  readonly front: FrontFit;
  /** From the ends of the blank to the outer faces of the sides before clean-up. */
  readonly inset: { readonly left: number; readonly right: number };
  /** Lower edge of the blank to the lower edge of the sides. */
  readonly sideAt: number;
  /** Groove for the bottom, in the blank; `stop` from the left end, `stopRight` from the right. */
  readonly groove: GrooveFit & { readonly stop: number; readonly stopRight: number };
  /** How far the lip's rabbets go in from each edge of the blank. */
  readonly lip?: {
    readonly depth: number;
    readonly left: number;
    readonly right: number;
    readonly lower: number;
    readonly upper: number;
  };
  readonly findings: readonly Finding[];
}

/** What the front's groove for the bottom is to hold; in the opening's coordinates. */
export interface BottomAt {
  readonly left: number;
  readonly right: number;
  /** Lower edge of the sides to the groove, its width and depth. */
  readonly grooveAt: number;
  readonly grooveWidth: number;
  readonly grooveDepth: number;
}

/** A stopped groove's round end reaches beyond what it holds by half its width, and this, mm. */
const END_PLAY = 0.2;
/** A groove stays so far from the end of a front, mm: common practice, no source. */
const LEAST_END = 1.5;

/** Sets out a front: its blank, its real shape, what to plane off, and where sides and bottom meet it. */
export function setFront(g: FitGround, s: Sized, bottom: BottomAt): FrontSet {
  const { drawers: d } = g;
  const name = `${s.opening.name} front`;
  const around = boxAround(s.shape);
  const lipped = d.fronts.lip;
  const over = lipped?.over.value ?? 0;
  // A lip reaches over the case by as much on each edge, and over the gap before that.
  const beyond = lipped
    ? {
        left: over + s.reveal.beside,
        right: over + s.reveal.beside,
        lower: over + s.reveal.below,
        upper: over + s.reveal.above,
      }
    : {
        left: d.leaveForFitting.value,
        right: d.leaveForFitting.value,
        lower: d.leaveForFitting.value,
        upper: d.leaveForFitting.value,
      };
  const at = { x: around.min.x - beyond.left, y: around.min.y - beyond.lower };
  const blank = {
    length: upTo(0.1, around.max.x + beyond.right - at.x),
    width: upTo(0.1, around.max.y + beyond.upper - at.y),
    thickness: g.front.thickness,
  };
  const cleanUp = d.cleanUp.value;
  const inset = {
    left: clean(s.box.left - cleanUp - at.x),
    right: clean(at.x + blank.length - (s.box.left + s.box.width + cleanUp)),
  };
  const half = bottom.grooveWidth / 2 + END_PLAY;
  const sideAt = clean(s.box.bottom - at.y);
  const groove = {
    lower: clean(sideAt + bottom.grooveAt),
    upper: clean(sideAt + bottom.grooveAt + bottom.grooveWidth),
    depth: bottom.grooveDepth,
    stop: downTo(0.1, bottom.left - half - at.x),
    stopRight: downTo(0.1, at.x + blank.length - bottom.right - half),
  };
  const findings: Finding[] = [];
  const least = Math.min(groove.stop - (s.shape[0].x - at.x), groove.stopRight - (at.x + blank.length - s.shape[1].x));
  if (least < LEAST_END) {
    findings.push(
      fitFinding(
        saidPart(name, d, "bottoms"),
        "refuse",
        "fit-groove-shows",
        {
          what: "the bottom's groove would show at the ends of the front",
          why: `it ends ${mmText(least)} before the end of the fitted front`,
          mend: "make the groove in the sides shallower, or the sides thicker",
          keys: ["groove depth"],
        },
        { found: least, limit: LEAST_END, from: "wood that hides the groove's end" },
      ),
    );
  }
  const depth = lipped && g.front.thickness - lipped.thickness.value;
  const overhang = overhangOf(s);
  const front: FrontFit = {
    part: name,
    blank,
    at: { x: clean(at.x), y: clean(at.y) },
    show: s.front.show,
    inside: s.front.inside,
    shape: s.shape,
    ...(lipped && { lip: outlineOf(at, blank) }),
    plane: lipped ? [] : planeEdges(s.shape, at, blank, d.leaveForFitting.value),
    overhang,
    ...(d.pull && { pull: d.pull.value }),
  };
  return {
    front,
    inset,
    sideAt,
    groove,
    ...(depth !== undefined && {
      lip: {
        depth,
        left: beyond.left,
        lower: beyond.lower,
        right: clean(at.x + blank.length - around.max.x),
        upper: clean(at.y + blank.width - around.max.y),
      },
    }),
    findings,
  };
}

function outlineOf(
  at: { readonly x: number; readonly y: number },
  blank: { readonly length: number; readonly width: number },
): Quad {
  const [right, top] = [at.x + blank.length, at.y + blank.width];
  return [at, { x: right, y: at.y }, { x: right, y: top }, { x: at.x, y: top }];
}

/** How far the fitted front stands out beyond the sides, at least over their height. */
function overhangOf(s: Sized): FrontFit["overhang"] {
  const [a, b, c, e] = s.shape;
  const left = (z: number): number => a.x + ((e.x - a.x) * (z - a.y)) / (e.y - a.y);
  const right = (z: number): number => b.x + ((c.x - b.x) * (z - b.y)) / (c.y - b.y);
  const heights = [s.box.bottom, s.box.bottom + s.box.height];
  return {
    left: clean(s.box.left - Math.max(...heights.map(left))),
    right: clean(Math.min(...heights.map(right)) - s.box.left - s.box.width),
  };
}

/** What to plane off each edge, at its two ends: from the blank's edge straight to the fitted shape's corners. */
function planeEdges(
  shape: Quad,
  at: { readonly x: number; readonly y: number },
  blank: { readonly length: number; readonly width: number },
  leave: number,
): readonly PlaneEdge[] {
  const [a, b, c, e] = shape;
  const right = at.x + blank.length;
  const top = at.y + blank.width;
  return [
    edgeOf("lower edge", a.y - at.y, b.y - at.y, leave, ["left", "right"]),
    edgeOf("right end", right - b.x, right - c.x, leave, ["bottom", "top"]),
    edgeOf("upper edge", top - e.y, top - c.y, leave, ["left", "right"]),
    edgeOf("left end", a.x - at.x, e.x - at.x, leave, ["bottom", "top"]),
  ];
}

/** Less than this is nothing at the bench, mm. */
const NOTHING = 0.05;

function edgeOf(
  edge: PlaneEdge["edge"],
  first: number,
  second: number,
  leave: number,
  ends: readonly [string, string],
): PlaneEdge {
  const more = [first - leave, second - leave].map((m) => (m < NOTHING ? 0 : m)) as [number, number];
  const mm = (m: number): string => String(Number(m.toFixed(1)));
  const base = leave > 0 ? `${mm(leave)} mm left for fitting all along` : "";
  const taper = ((): string => {
    const [p, q] = more;
    if (p === 0 && q === 0) return "";
    if (Math.abs(p - q) < NOTHING) return `${mm(p)} mm off the ${edge}, all along`;
    const [big, small, where, other] = p > q ? [p, q, ends[0], ends[1]] : [q, p, ends[1], ends[0]];
    const to = small === 0 ? `to nothing at the ${other}` : `to ${mm(small)} at the ${other}`;
    return `${mm(big)} mm off the ${edge} at the ${where}, ${to}`;
  })();
  const words = [taper, base].filter((w) => w !== "").join("; and the ") || `nothing off the ${edge}`;
  return { edge, first: clean(first), second: clean(second), words };
}
