import type { Finding } from "../finding.ts";
import type { FaceName } from "../job/board.ts";
import type { Feature, GrooveFeature } from "../job/job.ts";
import { fitFinding, mmText, PRACTICE, type Said } from "./said.ts";
import { type Change, changes, leastOfYear, mostOfYear, type ThroughYear, throughYear } from "./through-year.ts";

/** A runner in the groove of a drawer side. All mm, as they are today. */
export interface RunnerGrooveAsk {
  readonly said: Said;
  readonly runner: {
    readonly height: number;
    /** How far it stands out from the case side. */
    readonly reach: number;
    readonly heightChange: Change;
    readonly thicknessChange: Change;
  };
  readonly side: {
    readonly height: number;
    /** When its outer face is cleaned up. */
    readonly thickness: number;
    readonly thicknessChange: Change;
    /** Of as much of its width as the groove is wide. */
    readonly grooveWidthChange: Change;
  };
  /** Between the drawer side, cleaned up, and the case side: measured, or as planned. */
  readonly sideGap: number;
  /** Groove over runner, least of the year. */
  readonly clearance: number;
  /** Groove deeper than the runner reaches, least of the year. */
  readonly freeDepth: number;
  /** Planed off the side's outer face after the groove is cut. */
  readonly cleanUp: number;
  /** From the side's lower edge to the groove's upper wall, which carries. */
  readonly bearingAt: number;
  /** From the side's front end to the groove's farthest point. */
  readonly stopFromFront: number;
  readonly ends: "round" | "square";
  /** Square ends only: radius left in their corners. */
  readonly insideRadius?: number;
  /** The side's outer face, and its front end. The lower edge is "lower edge". */
  readonly on: FaceName;
  readonly frontEnd: "first end" | "second end";
}

/** A runner's groove, sized. mm */
export interface RunnerGroove {
  readonly width: number;
  /** From the side's lower edge. */
  readonly lower: number;
  readonly upper: number;
  /** From the outer face before clean-up: what is cut. */
  readonly depth: number;
  /** From the outer face after clean-up. */
  readonly finishedDepth: number;
  /** How far the runner goes into the side, after clean-up. */
  readonly enters: number;
  /** Wood left behind the groove. */
  readonly behind: number;
  /** Radius of the groove's end: half its width, or that of its corners. */
  readonly endRadius: number;
  /** Groove less runner, upright. */
  readonly play: ThroughYear;
  /** Between the runner and the groove's floor. */
  readonly free: ThroughYear;
  readonly feature: Feature & GrooveFeature;
  readonly findings: readonly Finding[];
}

/** Wood that a square end's corners are left with when nothing is said, mm: that of a 6 mm or 1/4 in bit. */
const CORNER = 3.2;
/** Share of the side's thickness that a groove takes comfortably, and at most: common practice, no source. */
const COMFORTABLE = 1 / 3;
const MOST = 1 / 2;
/** A hung runner goes into its side at least so far, mm: common practice, no source. */
const LEAST_ENTRY = 2;
/** More play than this and the drawer nods as it is pulled, mm: common practice, no source. */
const MOST_PLAY = 1.2;

/**
 * Sizes a stopped runner groove. It is wider than the runner by the clearance in the tightest season, deeper than the
 * runner reaches by the free depth when both have swollen, and deeper by the clean-up when it is cut. What cannot work is
 * refused; what is past practice is cautioned with its number. Practice for clearances: 0.2 to 0.5 mm in width, 0.5 to
 * 1 mm at the floor, a third to a half of the side (common practice, no source).
 */
export function runnerGroove(ask: RunnerGrooveAsk): RunnerGroove {
  const { runner, side } = ask;
  const grows = changes([side.grooveWidthChange, 1], [runner.heightChange, -1]);
  const width = runner.height + ask.clearance + Math.max(0, -grows.dry, -grows.wet);
  const enters = runner.reach - ask.sideGap;
  // A side that swells may do so outwards, towards the runner.
  const closes = changes([runner.thicknessChange, -1], [side.thicknessChange, -1]);
  const finishedDepth = enters + ask.freeDepth + Math.max(0, -closes.dry, -closes.wet);
  const half = width / 2;
  const endRadius = ask.ends === "round" ? half : Math.min(ask.insideRadius ?? CORNER, half);
  const groove = {
    width,
    lower: ask.bearingAt - width,
    upper: ask.bearingAt,
    depth: finishedDepth + ask.cleanUp,
    finishedDepth,
    enters,
    behind: side.thickness - finishedDepth,
    endRadius,
    play: throughYear(width - runner.height, grows),
    free: throughYear(finishedDepth - enters, closes),
  };
  return { ...groove, feature: featureOf(ask, width, groove.depth), findings: findingsOf(ask, groove) };
}

/**
 * How far each runner goes into its side, from what was measured between the two when they were in: half of what the box
 * is wider. The narrower of mouth and back counts, since the runner must find room all the way.
 * @param boxWidth across the outer faces of the sides, cleaned up
 */
export function entersFromBetween(
  boxWidth: number,
  between: { readonly mouth: number; readonly back: number },
): number {
  return (boxWidth - Math.min(between.mouth, between.back)) / 2;
}

function featureOf(ask: RunnerGrooveAsk, width: number, depth: number): Feature & GrooveFeature {
  return {
    name: "runner",
    kind: "groove",
    on: ask.on,
    source: ask.said.source,
    sources: ask.said.sources ?? {},
    run: {
      kind: "along",
      from: { distance: ask.bearingAt, border: "lower edge", reach: "far edge" },
      stops: ask.frontEnd === "first end" ? { first: ask.stopFromFront } : { second: ask.stopFromFront },
    },
    width,
    depth: { kind: "to", depth },
    bearingWall: "upper edge",
    ends: ask.ends,
    ...(ask.insideRadius === undefined ? {} : { insideRadius: ask.insideRadius }),
  };
}

type Sized = Omit<RunnerGroove, "feature" | "findings">;

function findingsOf(ask: RunnerGrooveAsk, g: Sized): readonly Finding[] {
  return [...acrossFindings(ask, g), ...depthFindings(ask, g), ...wallFindings(ask, g)];
}

/** Play: refused when the runner cannot go in, cautioned when it gapes. */
function acrossFindings({ said, runner }: RunnerGrooveAsk, g: Sized): readonly Finding[] {
  const least = leastOfYear(g.play);
  const most = mostOfYear(g.play);
  if (least <= 0) {
    return [
      fitFinding(
        said,
        "refuse",
        "fit-runner-binds",
        {
          what: "the runner binds in its groove",
          why: `groove ${mmText(g.width)}, runner ${mmText(runner.height)} today; in the tightest season ${mmText(least)} are left`,
          mend: "give the groove 0.2 to 0.5 mm more than the runner, beside what it grows",
          keys: ["clearance"],
        },
        { found: least, limit: 0, from: "the runner has to slide" },
      ),
    ];
  }
  if (most <= MOST_PLAY) return [];
  return [
    fitFinding(
      said,
      "caution",
      "fit-runner-loose",
      {
        what: "the runner is loose in its groove",
        why: `groove less runner is ${mmText(g.play.dry)} dry, ${mmText(g.play.today)} today, ${mmText(g.play.wet)} wet: the drawer nods as it is pulled out`,
        mend: "a clearance of 0.2 to 0.5 mm beside the growth is usual; a quartersawn runner moves less",
        keys: ["clearance"],
      },
      { found: most, limit: MOST_PLAY, from: PRACTICE },
    ),
  ];
}

function depthFindings({ said, side, runner, sideGap }: RunnerGrooveAsk, g: Sized): readonly Finding[] {
  if (g.enters <= 0) {
    return [
      fitFinding(
        said,
        "refuse",
        "fit-runner-misses",
        {
          what: "the runner doesn't reach into the drawer side",
          why: `it stands ${mmText(runner.reach)} out from the case side, and the drawer side is ${mmText(sideGap)} away`,
          mend: "make the runner thicker or the box wider",
          keys: ["thickness"],
        },
        { found: g.enters, limit: 0, from: "the drawer hangs on it" },
      ),
    ];
  }
  if (g.behind <= 0) {
    return [
      fitFinding(
        said,
        "refuse",
        "fit-groove-through",
        {
          what: "the runner's groove goes through the drawer side",
          why: `it is ${mmText(g.finishedDepth)} deep when the side is cleaned up to ${mmText(side.thickness)}`,
          mend: "make the runner thinner, the box narrower, or the sides thicker",
          keys: ["thickness"],
        },
        { found: g.finishedDepth, limit: side.thickness, from: "the side's thickness" },
      ),
    ];
  }
  const out: Finding[] = [];
  const share = g.finishedDepth / side.thickness;
  if (share > COMFORTABLE + 1e-9) {
    const deep = share > MOST + 1e-9;
    const limit = side.thickness * (deep ? MOST : COMFORTABLE);
    out.push(
      fitFinding(
        said,
        deep ? "caution" : "note",
        "fit-groove-deep",
        {
          what: deep
            ? "the runner's groove is deeper than half the drawer side"
            : "the runner's groove is deeper than a third of the drawer side",
          why: `${mmText(g.finishedDepth)} of ${mmText(side.thickness)}: ${mmText(g.behind)} of wood are left behind it`,
          mend: deep
            ? "make the runner thinner or the side thicker: at most half, a third is comfortable"
            : "half is the most; a thinner runner or thicker side leaves more wood",
          keys: ["thickness"],
        },
        { found: g.finishedDepth, limit, from: PRACTICE },
      ),
    );
  }
  if (g.enters < LEAST_ENTRY) {
    out.push(
      fitFinding(
        said,
        "caution",
        "fit-runner-shallow",
        {
          what: "the runner goes only a little way into the drawer side",
          why: `${mmText(g.enters)}: the wall that carries wears`,
          mend: "make the runner thicker, as thick as the side allows",
          keys: ["thickness"],
        },
        { found: g.enters, limit: LEAST_ENTRY, from: PRACTICE },
      ),
    );
  }
  return out;
}

/** Wood above and below the groove: the drawer hangs on the upper. */
function wallFindings(ask: RunnerGrooveAsk, g: Sized): readonly Finding[] {
  const { said, side } = ask;
  const above = side.height - g.upper;
  const least = Math.min(above, g.lower);
  if (least <= 0) {
    return [
      fitFinding(
        said,
        "refuse",
        "fit-groove-off-side",
        {
          what: "the runner's groove runs out over an edge of the drawer side",
          why: `its walls are ${mmText(g.lower)} and ${mmText(g.upper)} above the lower edge of a side ${mmText(side.height)} high`,
          mend: "move the bearing wall, or take a lower runner",
          keys: ["bearing wall at"],
        },
        { found: least, limit: 0, from: "the side's edges" },
      ),
    ];
  }
  if (above >= side.thickness) return [];
  return [
    fitFinding(
      said,
      "caution",
      "fit-bearing-wall-thin",
      {
        what: "little wood is left above the runner's groove, where the drawer hangs",
        why: `${mmText(above)} between the bearing wall and the upper edge`,
        mend: "lower the bearing wall, so that at least the side's thickness is left above it",
        keys: ["bearing wall at"],
      },
      { found: above, limit: side.thickness, from: PRACTICE },
    ),
  ];
}
