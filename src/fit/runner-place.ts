import type { Finding } from "../finding.ts";
import type { NoseStop } from "./groove-end.ts";
import { fitFinding, mmText, PRACTICE, type Said } from "./said.ts";
import { type Change, changes, leastOfYear, mostOfYear, type ThroughYear, throughYear } from "./through-year.ts";

/** Left on a runner's nose, to be pared until the front lies flush, mm: common practice, no source. */
export const TO_PARE = 0.5;
/** Kept free behind a drawer or a runner beyond what the case shrinks, mm: common practice, no source. */
export const BEHIND = 2;
/** A stop that gives more than this before the drawer is home feels soft, mm: common practice, no source. */
const SOFT = 0.5;
/** Runners are cut to the half millimetre below. */
const STEP = 0.5;

/** A drawer that its runners stop. All mm. */
export interface SetbackAsk {
  readonly said: Said;
  readonly stop: NoseStop;
  /** From the case's front edge to the front end of the drawer's side, when the front lies as it shall. */
  readonly sideFrontAt: number;
  /** From the side's front end to the groove's farthest point. */
  readonly stopFromFront: number;
  /** Left to pare. */
  readonly pare?: number;
}

/** Where a runner's nose stands, from the case's front edge. mm */
export interface Setback {
  /** As it is screwed on: the drawer stops this much proud, `pare`. */
  readonly nose: number;
  /** Once pared, with the drawer flush. */
  readonly flush: number;
  readonly pare: number;
  readonly findings: readonly Finding[];
}

/**
 * Where the nose has to stand so that the drawer, pushed home, stops with its front flush. It is set forward by what is
 * left to pare, so that the front stands proud until the nose is pared to it.
 */
export function setbackOf(ask: SetbackAsk): Setback {
  const pare = ask.pare ?? TO_PARE;
  const flush = ask.sideFrontAt + ask.stopFromFront + ask.stop.home;
  const soft = ask.stop.touch - ask.stop.home;
  const nose = flush - pare;
  const findings: Finding[] = [];
  if (nose < 0) {
    findings.push(
      fitFinding(
        ask.said,
        "refuse",
        "fit-nose-outside",
        {
          what: "the runner's nose would stand out of the case",
          why: `the groove stops ${mmText(ask.stopFromFront)} from the side's front end, which lies ${mmText(ask.sideFrontAt)} behind the case's front edge`,
          mend: "stop the groove farther back",
          keys: ["stop from front"],
        },
        { found: nose, limit: 0, from: "the case's front edge" },
      ),
    );
  }
  if (soft > SOFT) {
    findings.push(
      fitFinding(
        ask.said,
        "caution",
        "fit-stop-soft",
        {
          what: "the drawer's stop is soft: it lifts before it is home",
          why: `over its last ${mmText(soft)} the end of the groove rides up the nose and lifts the drawer ${mmText(ask.stop.lift)}`,
          mend: "round the nose to half the runner's height, or give the groove square ends",
          keys: ["nose"],
        },
        { found: soft, limit: SOFT, from: PRACTICE },
      ),
    );
  }
  return { nose, flush, pare, findings };
}

/**
 * Length of a runner from its nose to the back, rounded down to the half millimetre: no longer than leaves what the case
 * shrinks and 2 mm free behind it, since the runner keeps its length.
 * @param depth from the case's front edge to its back, the least measured; mm
 */
export function runnerLength(
  said: Said,
  at: { readonly depth: number; readonly nose: number; readonly depthChange: Change },
): { readonly length: number; readonly findings: readonly Finding[] } {
  const shrinks = Math.max(0, -at.depthChange.dry, -at.depthChange.wet);
  const room = at.depth - at.nose - shrinks - BEHIND;
  // The hair keeps an exact half millimetre from falling to the one below.
  const length = Math.floor(room / STEP + 1e-9) * STEP;
  if (length > 0) return { length, findings: [] };
  return {
    length,
    findings: [
      fitFinding(
        said,
        "refuse",
        "fit-runner-no-length",
        {
          what: "no length is left for the runner",
          why: `the case is ${mmText(at.depth)} deep and the nose stands ${mmText(at.nose)} behind its front edge`,
          mend: "check the case's depth and where the groove stops",
        },
        { found: room, limit: STEP, from: "the case's depth" },
      ),
    ],
  };
}

/** What lies free behind a closed drawer through the year. */
export interface BehindDrawer {
  readonly gap: ThroughYear;
  /** What is wanted today: the case's shrinkage and 2 mm. */
  readonly wanted: number;
  readonly findings: readonly Finding[];
}

/**
 * The clearance behind a drawer. The case's depth runs across the grain of its sides and shrinks in the dry season; the
 * drawer's does not. A drawer that strikes the back before its front is home is refused, less than 2 mm beyond the
 * shrinkage is cautioned.
 * @param gap case back less the drawer's farthest back, closed, today; mm
 */
export function behindDrawer(said: Said, gap: number, caseDepthChange: Change): BehindDrawer {
  const year = throughYear(gap, caseDepthChange);
  const shrinks = Math.max(0, -caseDepthChange.dry, -caseDepthChange.wet);
  const wanted = shrinks + BEHIND;
  const least = leastOfYear(year);
  if (gap >= wanted - 1e-9) return { gap: year, wanted, findings: [] };
  const binds = least <= 0;
  return {
    gap: year,
    wanted,
    findings: [
      fitFinding(
        said,
        binds ? "refuse" : "caution",
        "fit-back-tight",
        {
          what: binds
            ? "the drawer strikes the case back before its front is home"
            : "little room is left behind the drawer",
          why: `${mmText(gap)} today, ${mmText(least)} when the case sides have shrunk by ${mmText(shrinks)}`,
          mend: `leave ${mmText(wanted)} today: make the drawer ${mmText(wanted - gap)} shorter`,
          keys: ["back clearance"],
        },
        { found: gap, limit: wanted, from: binds ? "the case's shrinkage in the dry season" : PRACTICE },
      ),
    ],
  };
}

/** A hung drawer and its runner, upright. mm */
export interface HungAsk {
  readonly said: Said;
  /** Height of the opening, the least measured at the sides. */
  readonly opening: number;
  /** From the opening's floor to the side's lower edge. */
  readonly gapBelow: number;
  readonly sideHeight: number;
  readonly sideHeightChange: Change;
  /** From the side's lower edge to the groove's upper wall. */
  readonly bearingAt: number;
  readonly runnerHeight: number;
  readonly runnerHeightChange: Change;
}

/** Where a hung drawer's runner sits, and the gaps that follow. mm above the opening's floor. */
export interface Hung {
  readonly runnerBottom: number;
  readonly runnerMiddle: number;
  /** The face that carries. */
  readonly runnerTop: number;
  /** Height of the spacer that lies beneath the runner while it is screwed. */
  readonly spacer: number;
  readonly gapBelow: ThroughYear;
  readonly gapAbove: ThroughYear;
  readonly findings: readonly Finding[];
}

/**
 * The runner's place from the groove's: the drawer hangs with its upper groove wall on the runner's top. What lies below
 * that wall grows downwards and what lies above grows upwards, and a runner screwed at its middle lifts the drawer by
 * half of what it grows.
 */
export function hungPlace(ask: HungAsk): Hung {
  const runnerTop = ask.gapBelow + ask.bearingAt;
  const spacer = runnerTop - ask.runnerHeight;
  const share = ask.bearingAt / ask.sideHeight;
  const gapBelow = throughYear(ask.gapBelow, changes([ask.runnerHeightChange, 1 / 2], [ask.sideHeightChange, -share]));
  const gapAbove = throughYear(
    ask.opening - ask.gapBelow - ask.sideHeight,
    changes([ask.runnerHeightChange, -1 / 2], [ask.sideHeightChange, share - 1]),
  );
  return {
    runnerBottom: spacer,
    runnerMiddle: runnerTop - ask.runnerHeight / 2,
    runnerTop,
    spacer,
    gapBelow,
    gapAbove,
    findings: [
      ...gapFindings(ask.said, "below", gapBelow),
      ...gapFindings(ask.said, "above", gapAbove),
      ...(spacer > 0 ? [] : [belowFloor(ask.said, spacer)]),
    ],
  };
}

/** More than this and a drawer looks badly fitted, mm: common practice, no source. */
const GAPES = 3;

function gapFindings(said: Said, where: "below" | "above", gap: ThroughYear): readonly Finding[] {
  const least = leastOfYear(gap);
  const most = mostOfYear(gap);
  const why = `${mmText(gap.dry)} dry, ${mmText(gap.today)} today, ${mmText(gap.wet)} wet`;
  if (least <= 0) {
    return [
      fitFinding(
        said,
        "refuse",
        "fit-side-binds",
        {
          what: `the drawer side binds ${where}`,
          why: `the gap ${where} it is ${why}`,
          mend: "make the side lower, or move the bearing wall: what lies above it grows upwards, the rest downwards",
          keys: ["bearing wall at", "height"],
        },
        { found: least, limit: 0, from: "the opening as measured" },
      ),
    ];
  }
  if (most <= GAPES) return [];
  return [
    fitFinding(
      said,
      "caution",
      "fit-side-gapes",
      {
        what: `the gap ${where} the drawer side is wide`,
        why,
        mend: "growth through the year and 1 mm are enough",
        keys: ["bearing wall at", "height"],
      },
      { found: most, limit: GAPES, from: PRACTICE },
    ),
  ];
}

function belowFloor(said: Said, spacer: number): Finding {
  return fitFinding(
    said,
    "refuse",
    "fit-runner-below-floor",
    {
      what: "the runner would lie in the opening's floor",
      why: `its lower face would be ${mmText(spacer)} above the floor`,
      mend: "raise the bearing wall, or take a lower runner",
      keys: ["bearing wall at"],
    },
    { found: spacer, limit: 0, from: "the opening's floor" },
  );
}
