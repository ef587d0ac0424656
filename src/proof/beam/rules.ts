import type { Finding } from "../../finding.ts";
import type { BeamSetUp } from "../../plan/beam-setup.ts";
import type { ReadEvent } from "../../reader/read-move.ts";
import { distanceBetween } from "../../shapes/nearest.ts";
import { rectangle } from "../../shapes/outlines.ts";
import { containsPoint, regionSegments } from "../../shapes/region.ts";
import { lengthOf, pointAt } from "../../shapes/segment.ts";
import type { Burn } from "../../simulate/beam.ts";
import type { Figure } from "../proof.ts";
import { mm } from "../say.ts";
import { borderBurns } from "./border.ts";
import {
  type BeamCase,
  type BeamMeasures,
  type BurnIn,
  nameOf,
  placeOfBurn,
  placeOfLine,
  placeOfMark,
  surfaceAt,
} from "./case.ts";
import { type Fitted, type FittedMark, near, powerAgrees, type Stray } from "./fit.ts";

/** Under the beam the wood is looked at this far apart, mm; between two places a round hides little more than `HIDDEN`. */
const LOOK = 0.5;
const HIDDEN = 0.02;
/** Slower than this share of the commanded speed, an even burn is no longer even. Common practice, no source. */
const EVEN_SPEED = 0.95;
/** Up to this share of an area's lines may be slower with no more than a caution. Common practice, no source. */
const FEW_SLOW = 0.05;
/** A clamp this near the spot is burned too, mm. Common practice, no source. */
const CLAMP_GAP = 0.5;

/** Burns that belong to no mark. */
export function strayFindings(strays: readonly Stray[]): readonly Finding[] {
  return strays.map(({ burned, nearest, worst, at, length }): Finding => {
    const near = Number.isFinite(worst)
      ? `, up to ${mm(worst)} from the ${nearest === undefined ? "" : nameOf(nearest)}`
      : "";
    return {
      grade: "refuse",
      code: "proof-beam-outside-marks",
      place: { ...(nearest === undefined ? {} : placeOfMark(nearest)), ...placeOfBurn(burned, at) },
      what: "the beam burns where no mark is drawn",
      why: `${mm(length)} of way${near}`,
      mend: "make the program again; never run this one",
      measured: { value: Math.min(worst, 1e6), bound: 0.002, unit: "mm" },
    };
  });
}

/** Power and speed of each burn against the shop's setting, exactly as commanded. */
export function settingFindings(setUp: BeamSetUp, marks: readonly FittedMark[]): readonly Finding[] {
  return marks.flatMap(({ placed, burns }) =>
    burns.flatMap((b): readonly Finding[] => {
      const { power, speed, effect } = placed.setting;
      const found: Finding[] = [];
      if (!powerAgrees(setUp, power, b.burn)) {
        found.push({
          grade: "refuse",
          code: "proof-beam-setting",
          place: { ...placeOfMark(placed), ...placeOfBurn(b) },
          what: `the ${nameOf(placed)} is burned at another power than the shop's setting`,
          mend: "make the program again",
          measured: { value: 100 * b.burn.power, bound: 0, unit: "% of full power" },
          limit: { value: 100 * power, unit: "% of full power", from: `the shop's setting "${effect}"` },
        });
      }
      if (!near(b.burn.commanded.feed, speed)) {
        found.push({
          grade: "refuse",
          code: "proof-beam-setting",
          place: { ...placeOfMark(placed), ...placeOfBurn(b) },
          what: `the ${nameOf(placed)} is burned at another speed than the shop's setting`,
          mend: "make the program again",
          measured: { value: b.burn.commanded.feed, bound: 0, unit: "mm/min" },
          limit: { value: speed, unit: "mm/min", from: `the shop's setting "${effect}"` },
        });
      }
      return found;
    }),
  );
}

/** Areas and pictures are crossed at even speed: with constant power, what is slower is darker. */
export function speedFindings(setUp: BeamSetUp, marks: readonly FittedMark[]): BeamMeasures {
  const findings: Finding[] = [];
  const figures: Record<string, Figure> = {};
  for (const { placed, burns } of marks) {
    if (burns.length === 0) continue;
    const share = (b: BurnIn): number => (b.burn.slowest * 60) / b.burn.commanded.feed;
    const slowest = burns.reduce((a, b) => (share(b) < share(a) ? b : a));
    figures[`slowest on the ${nameOf(placed)}`] = {
      value: 100 * Math.min(1, share(slowest)),
      bound: 0,
      unit: "% of its speed",
    };
    if (setUp.laser.mode === "follows speed" || (placed.aim.kind !== "area" && placed.aim.kind !== "dots")) continue;
    // The border of an area is followed like a line, without run-up.
    const border = placed.aim.kind === "area" ? borderBurns(burns) : new Set();
    const lines = burns.filter((b) => !border.has(b.burn));
    const slow = lines.filter((b) => share(b) < EVEN_SPEED);
    const first = slow[0];
    if (first === undefined) continue;
    // A rounded coordinate can turn two short moves out of line here and there; a run-up too short slows every line.
    const few = slow.length <= FEW_SLOW * lines.length || setUp.machine.from === "built-in default";
    findings.push({
      grade: few ? "caution" : "refuse",
      code: "proof-beam-slow",
      place: { ...placeOfMark(placed), ...placeOfBurn(first) },
      what: `${slow.length} of ${lines.length} lines of the ${nameOf(placed)} are burned before the carriage is up to speed`,
      why: "power stays the same, so they come out darker at their ends; a run-up is too short for the machine's acceleration",
      mend: "make the program again, or use a slower setting",
      measured: { value: 100 * share(first), bound: 0, unit: "% of its speed" },
      limit: { value: 100 * EVEN_SPEED, unit: "% of its speed", from: "common practice, no source" },
    });
  }
  return { findings, figures };
}

/** The beam falls on the wood, in focus, and on nothing else. */
export function placeFindings(setUp: BeamSetUp, cases: readonly BeamCase[], fitted: Fitted): BeamMeasures {
  const findings: Finding[] = [];
  const through = new Set<Burn>();
  for (const m of fitted.marks) {
    if (m.placed.mark.made.by === "burned through") for (const b of m.burns) through.add(b.burn);
  }
  let off = 0;
  let slope = 1;
  // Around wood that turns, what holds it lies at every angle.
  const clamps = setUp.keepOuts.map(({ name, box }) => {
    const [low, high] =
      setUp.turning === undefined
        ? [box.min, box.max]
        : [
            { x: box.min.x, y: -1e5 },
            { x: box.max.x, y: 1e5 },
          ];
    return { name, box, border: rectangle(low, high) };
  });
  for (const from of cases) {
    for (const burn of from.run.burns) {
      const here = { burn, from };
      const n = Math.max(1, setUp.round === undefined ? 1 : Math.ceil(lengthOf(burn.curve) / LOOK));
      const down = through.has(burn) ? setUp.blank.max.z - setUp.blank.min.z : 0;
      let worst = 0;
      let missing = false;
      for (let i = 0; i <= n; i++) {
        const p = pointAt(burn.curve, i / n);
        const top = surfaceAt(setUp, p);
        if (top === undefined) {
          missing = true;
          continue;
        }
        const z = burn.zFrom + (i / n) * (burn.zTo - burn.zFrom);
        worst = Math.max(worst, z > top ? z - top : Math.max(0, top - down - z));
        slope = Math.max(slope, steepness(setUp, p));
      }
      off = Math.max(off, worst);
      if (missing) findings.push(offWood(here));
      if (worst > setUp.laser.focusRange + (setUp.round === undefined ? 1e-3 : HIDDEN))
        findings.push(outOfFocus(setUp, here, worst));
      for (const k of clamps) {
        if (k.box.max.z <= Math.min(burn.zFrom, burn.zTo) - setUp.laser.focusRange - 1e-6 && !missing) continue;
        const gap = containsPoint(k.border, burn.curve.from)
          ? 0
          : Math.min(...regionSegments(k.border).map((s) => distanceBetween(s, burn.curve)));
        if (gap <= CLAMP_GAP) findings.push(onClamp(here, k.name, gap));
      }
    }
  }
  return {
    findings,
    figures: {
      "off focus": { value: off, bound: setUp.round === undefined ? 0 : HIDDEN, unit: "mm" },
      ...(setUp.round === undefined
        ? {}
        : { "dose at the steepest": { value: 100 / slope, bound: 1, unit: "% of that on the level" } }),
    },
  };
}

/** How much longer the surface is than its plan, across a round: R / √(R² − y²), from its height over the axis. */
function steepness(setUp: BeamSetUp, p: { readonly x: number; readonly y: number }): number {
  const { round } = setUp;
  const top = surfaceAt(setUp, p);
  if (round === undefined || top === undefined) return 1;
  const up = top - round.axis.z;
  return up > 0 ? Math.hypot(up, p.y - round.axis.y) / up : 1;
}

function offWood(b: BurnIn): Finding {
  return {
    grade: "refuse",
    code: "proof-beam-off-wood",
    place: placeOfBurn(b),
    what: "the beam burns beside the wood",
    why: "it would burn into the bed, or out into the room",
    mend: "move the mark onto the wood",
  };
}

function outOfFocus(setUp: BeamSetUp, b: BurnIn, worst: number): Finding {
  return {
    grade: "refuse",
    code: "proof-beam-out-of-focus",
    place: placeOfBurn(b),
    what: "the beam burns out of focus",
    why: "the spot is wider there, and the burn paler than the setting was found for",
    mend: "make the program again, or a narrower mark on the round",
    measured: { value: worst, bound: setUp.round === undefined ? 0 : HIDDEN, unit: "mm" },
    limit: { value: setUp.laser.focusRange, unit: "mm", from: "the focus range measured in the shop" },
  };
}

function onClamp(b: BurnIn, name: string, gap: number): Finding {
  return {
    grade: "refuse",
    code: "proof-beam-on-clamp",
    place: placeOfBurn(b),
    what: `the beam burns on the ${name}`,
    why: "wood and plastic catch fire there, and shiny metal throws the beam into the room",
    mend: "move the clamp or the mark",
    measured: { value: gap, bound: 0, unit: "mm" },
    limit: { value: CLAMP_GAP, unit: "mm", from: "common practice, no source" },
  };
}

/** Where a beam that answers late burns on while the carriage stands. */
export function stillFindings(setUp: BeamSetUp, cases: readonly BeamCase[]): readonly Finding[] {
  return cases.flatMap((c) =>
    c.run.still.map((s): Finding => {
      const late = s.seconds <= setUp.laser.lag + 1e-6;
      return {
        grade: late ? "caution" : "refuse",
        code: "proof-beam-still",
        place: { ...placeOfLine(c, s.line), at: s.at },
        what: late
          ? "the beam answers late, and burns a dot where a line ends"
          : "the beam burns while the carriage stands",
        why: "this controller keeps the power up whatever the speed",
        mend: late ? "use the controller's mode that follows the speed" : "make the program again; never run this one",
        measured: { value: s.seconds, bound: 0, unit: "s" },
        ...(late ? {} : { limit: { value: 0, unit: "s", from: "a still beam burns through" } }),
      };
    }),
  );
}

/** Bit out before the beam is first on, beam disconnected after it was last on; and how the program begins and ends. */
export function stopFindings(c: BeamCase): readonly Finding[] {
  const { events } = c.read;
  const burning = (e: ReadEvent): boolean => e.kind === "move" && e.beam?.on === true;
  const first = events.findIndex(burning);
  const last = events.findLastIndex(burning);
  const findings: Finding[] = [];
  const missing = (line: number, what: string, mend: string): void => {
    findings.push({
      grade: "refuse",
      code: "proof-beam-stop-missing",
      place: placeOfLine(c, line),
      what,
      why: "bit and beam share one carriage: a bit would strike, and a beam left connected can fire while you change it",
      mend,
    });
  };
  if (first >= 0) {
    const says = stopsSaying(events.slice(0, first));
    if (!says.some((t) => /\bbit\b/.test(t) && /\bout\b/.test(t) && /\blaser\b/.test(t))) {
      missing(
        lineAt(events, first),
        "no stop asks for the bit to be out and the laser to be ready before the beam is on",
        'stop first, with the words "bit out, laser mode"',
      );
    }
    if (!stopsSaying(events.slice(last + 1)).some((t) => /\bdisconnect/.test(t))) {
      missing(
        lineAt(events, events.length - 1),
        "no stop asks for the beam to be disconnected at the end",
        'stop at the end, with the words "beam disconnected"',
      );
    }
  }
  const begins = events.findIndex((e) => e.kind === "move");
  const move = events[begins];
  const asked = events.slice(0, Math.max(0, begins)).some((e) => e.kind === "stop" && !e.optional);
  if (move?.kind === "move" && !move.machine && !asked) {
    findings.push({
      grade: "refuse",
      code: "proof-start-unasked",
      place: placeOfLine(c, move.line),
      what: "the program moves off before anyone has made sure that the head is clear",
      why: "it starts from wherever the head happens to be",
      mend: "begin with a lift in machine coordinates, or with a stop that asks for the head to be clear",
    });
  }
  const ends = events.findLast((e) => e.kind === "move");
  if (ends?.kind === "move" && !ends.machine && ends.to.z !== undefined && ends.to.z < c.setUp.safeZ - 0.001) {
    findings.push({
      grade: "refuse",
      code: "proof-ends-low",
      place: placeOfLine(c, ends.line),
      what: "the program ends with the head below the safe height",
      mend: "lift before the end",
      measured: { value: ends.to.z, bound: 0, unit: "mm" },
      limit: { value: c.setUp.safeZ, unit: "mm", from: "the set-up's safe height" },
    });
  }
  const loose = events.find((e) => e.kind === "move" && e.beam?.on === true && !e.exactPath);
  if (c.setUp.machine.controller.exactPath && loose !== undefined) {
    findings.push({
      grade: "refuse",
      code: "proof-exact-path-unstated",
      place: placeOfLine(c, loose.line),
      what: "the program does not say that the path must be kept exactly",
      why: "the controller may cut corners by an unknown amount",
      mend: "write G61 before the first burn, and again behind each stop",
    });
  }
  return findings;
}

/** What the operator is told at each stop that waits: all comments since the motion before it, in small letters. */
function stopsSaying(events: readonly ReadEvent[]): readonly string[] {
  const found: string[] = [];
  let said = "";
  for (const e of events) {
    if (e.kind === "comment") said += ` ${e.text.toLowerCase()}`;
    else if (e.kind === "stop" && !e.optional) {
      found.push(said);
      said = "";
    } else if (e.kind === "move") said = "";
  }
  return found;
}

function lineAt(events: readonly ReadEvent[], i: number): number {
  return events[i]?.line ?? 1;
}
