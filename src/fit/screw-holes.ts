import type { Finding } from "../finding.ts";
import type { Screw } from "../job/screws.ts";
import { fitFinding, mmText, PRACTICE, type Said } from "./said.ts";
import { gaugeOfHead, type Pilot, pilotFor } from "./screw-gauge.ts";
import type { Change } from "./through-year.ts";

/** The screws of one runner. Places from the runner's nose, mm. */
export interface RunnerScrewsAsk {
  readonly said: Said;
  readonly screw: Screw;
  /** Under the sharp edge of the head to the point: what a countersunk screw is sold by. */
  readonly length: number;
  readonly count: number;
  readonly runner: {
    readonly length: number;
    readonly height: number;
    readonly thickness: number;
    /** Let into the case side. */
    readonly letIn: number;
    /** What of its front end is rounded away at its corners. */
    readonly noseRadius: number;
  };
  /** Of the case side or divider that it is screwed to. */
  readonly caseThickness: number;
  /** How the case side's depth changes, over the length `depth`. */
  readonly caseChange: Change;
  readonly caseDepth: number;
  /** Second face of a divider: all places moved along, so that screws from both faces don't meet. */
  readonly face: "only" | "first of two" | "second of two";
}

/** One hole in a runner. mm */
export interface ScrewHole {
  readonly kind: "round" | "slotted";
  /** From the nose to where the screw is set, midway of a slot's play. */
  readonly at: number;
  /** From the nose to the slot's two ends over all; both `at` ± half the hole for a round one. */
  readonly from: number;
  readonly to: number;
}

/** The holes with their sizes. mm */
export interface RunnerScrews {
  readonly holes: readonly ScrewHole[];
  /** Width of hole and slot. */
  readonly clearance: number;
  /** The head's edge below the sliding face. */
  readonly sunk: number;
  /** Mouth of the countersink, and how deep its cone goes. */
  readonly mouth: number;
  readonly cone: number;
  /** Slots: a flat-floored room for the head, so wide and so deep; the head's cone rests on the slot's two edges. */
  readonly room: { readonly width: number; readonly depth: number };
  /** Wood beneath the head. */
  readonly under: number;
  /** Wood beside the head, to the runner's upper and lower edge. */
  readonly beside: number;
  /** How far the screw goes into the wood behind the runner, and from the case side's face; the wood left before its point. */
  readonly bites: number;
  readonly reaches: number;
  readonly before: number;
  /** Longest screw that leaves 2 mm of the case side. */
  readonly longest: number;
  /** Bored in the case side where the screw bites, in hard wood and in soft. */
  readonly pilot: { readonly hard: Pilot; readonly soft: Pilot };
  /** Glue no farther than this from the nose: the case side moves behind the rest. */
  readonly glueTo: number;
  readonly findings: readonly Finding[];
}

/** All common practice, no source; mm. */
const SUNK = 0.3;
const HEAD_PLAY = 0.6;
const SLOT_PLAY = 0.5;
const LEAST_UNDER = 2;
const LEAST_BESIDE = 1.2;
const GLUE_TO = 30;
/** Wood that stays before a screw's point. */
export const BEFORE_POINT = 2;
/** The screw goes into the case side by at least so many times its own thickness. */
const BITES = 2.5;
/** First hole from the nose, and last from the back end. */
const FIRST = 12;
/** How far the second face's screws are moved along a divider, in screw thicknesses and at least so many mm. */
const MOVED = { times: 4, least: 12 };

/**
 * How deep a countersink's cone goes: (head − body) / 2 / tan(half the angle). With the shank for `body` it is the height
 * of the head, with the clearance hole the depth of the countersink.
 */
export function coneDepth(head: number, body: number, angleDeg: number): number {
  return (head - body) / 2 / Math.tan((angleDeg * Math.PI) / 360);
}

/**
 * Places and sizes of a runner's screw holes, countersunk below the sliding face. The front hole is round and holds the
 * runner at its nose; the others are slotted along it by what the case side moves there, and 0.5 mm at each end. Where the
 * case doesn't move all are round.
 */
export function runnerScrews(ask: RunnerScrewsAsk): RunnerScrews {
  const { screw, runner } = ask;
  const slope = Math.tan((screw.headAngle * Math.PI) / 360);
  const clearance = screw.clearance;
  const cone = coneDepth(screw.headDiameter, clearance, screw.headAngle) + SUNK;
  const stands = runner.thickness - runner.letIn;
  const tip = SUNK + ask.length;
  const sized = {
    clearance,
    sunk: SUNK,
    mouth: screw.headDiameter + 2 * SUNK * slope,
    cone,
    room: { width: screw.headDiameter + HEAD_PLAY, depth: cone },
    under: runner.thickness - cone,
    beside: (runner.height - screw.headDiameter - HEAD_PLAY) / 2,
    bites: tip - runner.thickness,
    reaches: tip - stands,
    before: stands + ask.caseThickness - tip,
    longest: stands + ask.caseThickness - BEFORE_POINT - SUNK,
    pilot: { hard: pilotFor(screw, "hard"), soft: pilotFor(screw, "soft") },
    glueTo: GLUE_TO,
  };
  const holes = holesOf(ask);
  return { ...sized, holes, findings: [...sizeFindings(ask, sized), ...placeFindings(ask, holes)] };
}

function holesOf(ask: RunnerScrewsAsk): readonly ScrewHole[] {
  const { screw, runner, count, face } = ask;
  const step = Math.max(MOVED.least, MOVED.times * screw.bodyDiameter);
  // Tenths of a millimetre, so that a rule and a page say the same.
  const tenth = (x: number): number => Math.round(x * 10) / 10;
  const nearest = tenth(Math.max(FIRST, screw.headDiameter / 2 + runner.noseRadius));
  const first = nearest + (face === "second of two" ? step : 0);
  const last = runner.length - FIRST - (face === "first of two" ? step : 0);
  const half = screw.clearance / 2;
  const shrinks = Math.max(0, -ask.caseChange.dry, -ask.caseChange.wet);
  const swells = Math.max(0, ask.caseChange.dry, ask.caseChange.wet);
  return Array.from({ length: count }, (_, i): ScrewHole => {
    const at = count < 2 ? first : tenth(first + ((last - first) * i) / (count - 1));
    if (i === 0 || shrinks + swells === 0) return { kind: "round", at, from: at - half, to: at + half };
    const share = (at - first) / ask.caseDepth;
    // Wood that shrinks takes the screw forwards, towards the front one, which holds.
    return {
      kind: "slotted",
      at,
      from: Math.floor((at - half - shrinks * share - SLOT_PLAY) * 10 + 1e-6) / 10,
      to: Math.ceil((at + half + swells * share + SLOT_PLAY) * 10 - 1e-6) / 10,
    };
  });
}

type Sizes = Omit<RunnerScrews, "holes" | "findings">;

function sizeFindings(ask: RunnerScrewsAsk, s: Sizes): readonly Finding[] {
  const { said, screw, runner } = ask;
  const out: Finding[] = [];
  const name = `the ${screw.name} screw`;
  if (s.beside <= 0) {
    out.push(
      fitFinding(
        said,
        "refuse",
        "fit-screw-head-wide",
        {
          what: `the head of ${name} is wider than the runner has room for`,
          why: `head ${mmText(screw.headDiameter)} with its play, runner ${mmText(runner.height)} high`,
          mend: `take a higher runner, or a thinner screw: ${thinner(runner.height)}`,
          keys: ["screw"],
        },
        { found: s.room.width, limit: runner.height, from: "the runner's height" },
      ),
    );
  } else if (s.beside < LEAST_BESIDE) {
    out.push(
      fitFinding(
        said,
        "caution",
        "fit-screw-edge-thin",
        {
          what: `little wood is left beside the head of ${name}`,
          why: `${mmText(s.beside)} to the upper and lower edge of the runner: it may split`,
          mend: `drill before you cut the runner to height, or take a thinner screw: ${thinner(runner.height)}`,
          keys: ["screw"],
        },
        { found: s.beside, limit: LEAST_BESIDE, from: PRACTICE },
      ),
    );
  }
  if (s.under < LEAST_UNDER) {
    const none = s.under <= 0;
    out.push(
      fitFinding(
        said,
        none ? "refuse" : "caution",
        "fit-screw-under-head",
        {
          what: none
            ? `the head of ${name} goes through the runner`
            : `little wood is left beneath the head of ${name}`,
          why: `its countersink is ${mmText(s.cone)} deep in a runner ${mmText(runner.thickness)} thick`,
          mend: "take a thinner screw or a thicker runner",
          keys: ["screw"],
        },
        { found: s.under, limit: none ? 0 : LEAST_UNDER, from: none ? "the runner's thickness" : PRACTICE },
      ),
    );
  }
  if (s.before < BEFORE_POINT - 1e-9) {
    const out_ = s.before <= 0;
    out.push(
      fitFinding(
        said,
        "refuse",
        out_ ? "fit-screw-through" : "fit-screw-long",
        {
          what: out_ ? `${name} comes out of the case side` : `${name} ends too close to the outside of the case side`,
          why: `${mmText(ask.length)} long, sunk ${mmText(s.sunk)}, through ${mmText(runner.thickness - runner.letIn)} of runner into ${mmText(ask.caseThickness)}: ${mmText(s.before)} are left before its point`,
          mend: `take one of ${mmText(Math.floor(s.longest))} or shorter`,
          keys: ["screw length"],
        },
        { found: s.before, limit: BEFORE_POINT, from: "no screw longer than runner and case side less 2 mm" },
      ),
    );
  }
  const bites = BITES * screw.bodyDiameter;
  if (s.bites < bites) {
    const none = s.bites <= 0;
    out.push(
      fitFinding(
        said,
        none ? "refuse" : "caution",
        "fit-screw-short",
        {
          what: none ? `${name} doesn't reach the case side` : `${name} goes only a little way into the case side`,
          why: `${mmText(ask.length)} long, sunk ${mmText(s.sunk)}, through a runner ${mmText(runner.thickness)} thick: it bites ${mmText(s.bites)}`,
          mend: `take one of ${mmText(Math.ceil(bites + runner.thickness - s.sunk))}, as long as it is no longer than ${mmText(s.longest)}`,
          keys: ["screw length"],
        },
        { found: s.bites, limit: none ? 0 : bites, from: none ? "the runner's thickness" : PRACTICE },
      ),
    );
  }
  return out;
}

/** The thickest numbered screw whose head leaves enough wood beside it. */
function thinner(runnerHeight: number): string {
  const number = gaugeOfHead(runnerHeight - HEAD_PLAY - 2 * LEAST_BESIDE);
  return number >= 2 ? `No. ${number} or less` : "none is thin enough";
}

function placeFindings(ask: RunnerScrewsAsk, holes: readonly ScrewHole[]): readonly Finding[] {
  const { said, screw, runner } = ask;
  const out: Finding[] = [];
  const front = holes[0];
  const apart = holes.slice(1).map((h, i) => h.from - holes[i]!.to);
  const ends = runner.length - (holes.at(-1)?.to ?? 0);
  const least = Math.min(ends, ...apart);
  if (ask.count < 2 || least < screw.headDiameter) {
    out.push(
      fitFinding(
        said,
        ask.count < 1 || least <= 0 ? "refuse" : "caution",
        "fit-screws-crowded",
        {
          what: ask.count < 2 ? "a runner needs two screws or more" : "the runner is too short for its screws",
          why: `${ask.count} in ${mmText(runner.length)}; ${mmText(least)} of wood between or behind the holes`,
          mend: ask.count < 2 ? "give it two" : "take fewer or thinner ones",
          keys: ["screws"],
        },
        { found: least, limit: screw.headDiameter, from: PRACTICE },
      ),
    );
  }
  if (front !== undefined && front.at > GLUE_TO) {
    out.push(
      fitFinding(
        said,
        "caution",
        "fit-screw-front-far",
        {
          what: "the front screw lies behind the glued end of the runner",
          why: `${mmText(front.at)} from the nose; glue goes no farther than ${mmText(GLUE_TO)}, or the case side splits as it shrinks`,
          mend: "take a thinner screw, so that it fits nearer to the nose",
          keys: ["screw"],
        },
        { found: front.at, limit: GLUE_TO, from: PRACTICE },
      ),
    );
  }
  return out;
}

/**
 * Screws from both faces of a divider, told apart along it: the least distance between two screws' axes that pass each
 * other, and whether they can meet. Heights are the runners' middles.
 */
export function screwsOfDivider(
  said: Said,
  screw: Screw,
  divider: number,
  one: { readonly holes: readonly ScrewHole[]; readonly reaches: number; readonly height: number },
  other: { readonly holes: readonly ScrewHole[]; readonly reaches: number; readonly height: number },
): { readonly apart: number; readonly overlap: number; readonly findings: readonly Finding[] } {
  const overlap = one.reaches + other.reaches - divider;
  const up = one.height - other.height;
  const distances = one.holes.flatMap((a) => other.holes.map((b) => Math.hypot(a.at - b.at, up)));
  const apart = Math.min(...distances);
  const wanted = 2 * screw.bodyDiameter;
  if (overlap <= 0 || apart >= wanted) return { apart, overlap, findings: [] };
  const meet = apart < screw.bodyDiameter;
  return {
    apart,
    overlap,
    findings: [
      fitFinding(
        said,
        meet ? "refuse" : "caution",
        "fit-screws-meet",
        {
          what: meet
            ? "screws from both faces of the divider meet in it"
            : "screws from both faces of the divider pass closely",
          why: `they reach ${mmText(overlap)} past each other in ${mmText(divider)} of wood, ${mmText(apart)} from axis to axis`,
          mend: "move one runner's holes along, or take shorter screws",
          keys: ["screw length"],
        },
        { found: apart, limit: wanted, from: meet ? "the screws' thickness" : PRACTICE },
      ),
    ],
  };
}
