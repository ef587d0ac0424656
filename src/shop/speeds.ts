import type { Finding } from "../finding.ts";
import { type ChipLoad, chipLoadFor } from "./chip-load.ts";
import type { Cutter } from "./cutter.ts";
import type { Machine } from "./machine.ts";
import { MAX_RPM_SOURCE, maxRpmFor } from "./spindle-speed.ts";
import { BENDING_SHARE, CUTTING_ENERGY_SOURCE, cuttingPower, tipBending } from "./strength.ts";
import type { WoodKind } from "./wood.ts";

/** Spindle speed and feeds for one cutter in one wood, with what must be said about them. rpm and mm/min. */
export interface ChosenSpeeds {
  readonly rpm: number;
  /** Sideways, in the cut as planned. */
  readonly feed: number;
  /** Straight down. */
  readonly plunge: number;
  /** Down a ramp or helix, along the path; the machine's own limit for Z is a matter of the ramp's steepness. */
  readonly ramp: number;
  /** Buried full width: the low end of the chip load. */
  readonly slot: number;
  /** The mark to set, on a machine whose speed is a dial. */
  readonly dialMark?: string;
  readonly reason: string;
  readonly findings: readonly Finding[];
}

/** Speed that one of the two chip-load charts is stated at, rpm. Source: a cutter maker's chart. */
const CHART_RPM = 18_000;
/** A boring bit's speed in wood, rpm. Common practice, no source. */
const DRILL_RPM = 6_000;
/** Straight down, as a share of the sideways feed: within the trade's 0.25 to 0.5. Common practice, no source. */
const PLUNGE_SHARE = 0.25;

/**
 * Chooses speed and feeds.
 *
 * The speed starts from the chart's 18,000 rpm (6,000 for a drill), not above the spindle, the cutter's printed limit or
 * the limit for its diameter, at the nearest dial mark below. Feed = chip load (middle of its range) × flutes × rpm. Where
 * the machine cannot feed so fast, the speed comes down until the chip load holds; where the spindle cannot go so low, the
 * feed is the machine's own and a caution says that the cutter will rub. Ramp = feed ÷ flutes, never over a half (a cutter
 * maker's rule); plunge a quarter of the feed (common practice), within the machine's Z feed.
 * @param depthPerPass mm, > 0
 */
export function speedsFor(cutter: Cutter, wood: WoodKind, machine: Machine, depthPerPass: number): ChosenSpeeds {
  const load = chipLoadFor(cutter, wood, depthPerPass);
  const middle = (load.low + load.high) / 2;
  const drill = cutter.form.kind === "drill";
  // A drill only goes down, so Z's top feed is the one that counts.
  const topFeed = drill ? machine.topFeed.z : Math.min(machine.topFeed.x, machine.topFeed.y);
  const findings: Finding[] = [];

  const wanted = drill ? DRILL_RPM : CHART_RPM;
  const ceiling = Math.min(maxRpmFor(cutter.diameter), cutter.maxRpm ?? Number.POSITIVE_INFINITY);
  const forChip = topFeed / (middle * cutter.flutes);
  const chosen = nearestSpeed(machine, Math.min(wanted, ceiling, forChip));
  findings.push(...speedFindings(cutter, chosen.rpm));

  const full = middle * cutter.flutes * chosen.rpm;
  const feed = Math.min(full, topFeed);
  const perTooth = feed / (cutter.flutes * chosen.rpm);
  if (perTooth < load.low * (1 - 1e-9)) findings.push(rubs(cutter, machine, load, perTooth));
  const slot = Math.min(feed, load.low * cutter.flutes * chosen.rpm);
  const ramp = feed / Math.max(2, cutter.flutes);
  const plunge = drill ? feed : Math.min(feed * PLUNGE_SHARE, machine.topFeed.z);

  if (!drill) findings.push(...strengthFindings(cutter, wood, machine, depthPerPass, slot, chosen.rpm));
  return {
    rpm: chosen.rpm,
    feed,
    plunge,
    ramp,
    slot,
    ...(chosen.mark === undefined ? {} : { dialMark: chosen.mark }),
    reason: reasonOf(chosen, wanted, ceiling, forChip, load, perTooth, cutter),
    findings,
  };
}

interface Chosen {
  readonly rpm: number;
  readonly mark?: string;
}

/** The spindle's speed nearest to `rpm` from below; its lowest where all are above. */
function nearestSpeed(machine: Machine, rpm: number): Chosen {
  const { spindle } = machine;
  switch (spindle.kind) {
    case "program":
      // Whole hundreds: nobody's spindle holds its speed closer than that. Never below what it can do.
      return { rpm: Math.min(spindle.max, Math.max(spindle.min, Math.floor(rpm / 100) * 100)) };
    case "dial": {
      const sorted = [...spindle.positions].sort((a, b) => a.rpm - b.rpm);
      return sorted.filter((p) => p.rpm <= rpm).pop() ?? sorted[0]!;
    }
  }
}

function reasonOf(
  chosen: Chosen,
  wanted: number,
  ceiling: number,
  forChip: number,
  load: ChipLoad,
  perTooth: number,
  cutter: Cutter,
): string {
  const least = Math.min(wanted, ceiling, forChip);
  const why =
    least === forChip
      ? "slowed so that the machine's feed keeps the chip load"
      : least === ceiling
        ? cutter.maxRpm === ceiling
          ? "the speed printed on the bit"
          : "the highest for the bit's diameter"
        : cutter.form.kind === "drill"
          ? "a drill's speed, common practice"
          : "the speed the chart is stated at";
  const dial = chosen.mark === undefined ? "" : ` at dial mark ${chosen.mark}`;
  const speed = chosen.rpm > least ? "the spindle's lowest" : why;
  return `${chosen.rpm} rpm${dial} (${speed}); ${perTooth.toFixed(3)} mm a tooth (${load.source})`;
}

function speedFindings(cutter: Cutter, rpm: number): readonly Finding[] {
  const place = {};
  if (cutter.maxRpm !== undefined && rpm > cutter.maxRpm) {
    return [
      {
        grade: "refuse",
        code: "spindle-too-fast-for-bit",
        place,
        what: `the spindle cannot turn slowly enough for "${cutter.name}"`,
        measured: { value: rpm, bound: 0, unit: "rpm" },
        limit: { value: cutter.maxRpm, unit: "rpm", from: "the speed printed on the bit, from the shop file" },
        mend: "use another bit, or a slower setting of the spindle",
      },
    ];
  }
  const limit = maxRpmFor(cutter.diameter);
  if (rpm <= limit) return [];
  return [
    {
      grade: "caution",
      code: "spindle-fast-for-diameter",
      place,
      what: `the spindle turns faster than is usual for a bit as wide as "${cutter.name}"`,
      measured: { value: rpm, bound: 0, unit: "rpm" },
      limit: { value: limit, unit: "rpm", from: MAX_RPM_SOURCE },
      mend: "look for the highest speed on the bit and give it as `max speed` in the shop file",
    },
  ];
}

function rubs(cutter: Cutter, machine: Machine, load: ChipLoad, perTooth: number): Finding {
  return {
    grade: "caution",
    code: "chip-load-low",
    place: {},
    what: `"${cutter.name}" will rub: the chip is thinner than it should be`,
    why: `"${machine.name}" cannot feed faster and its spindle cannot turn slower`,
    measured: { value: perTooth, bound: 0, unit: "mm a tooth" },
    limit: { value: load.low, unit: "mm a tooth", from: load.source },
    mend: "a bit with fewer flutes, or a slower spindle, cuts cooler",
  };
}

function strengthFindings(
  cutter: Cutter,
  wood: WoodKind,
  machine: Machine,
  depth: number,
  slotFeed: number,
  rpm: number,
): readonly Finding[] {
  const findings: Finding[] = [];
  const power = cuttingPower(wood.class, depth, cutter.diameter, slotFeed);
  if (power > machine.spindlePowerWatts) {
    findings.push({
      grade: "caution",
      code: "power-short",
      place: {},
      what: `a full-width cut with "${cutter.name}" may stall the spindle`,
      measured: { value: Math.round(power), bound: 0, unit: "W" },
      limit: { value: machine.spindlePowerWatts, unit: "W", from: `spindle power; ${CUTTING_ENERGY_SOURCE}` },
      mend: "take less depth in one pass",
    });
  }
  const bending = tipBending(cutter, power, rpm);
  const allowed = BENDING_SHARE * cutter.stickOut;
  if (bending > allowed) {
    findings.push({
      grade: "caution",
      code: "bit-bends",
      place: {},
      what: `"${cutter.name}" may bend aside in a full-width cut`,
      measured: { value: bending, bound: 0, unit: "mm" },
      limit: {
        value: allowed,
        unit: "mm",
        from: `0.025 mm for each 25 mm of overhang, a rule of thumb; ${CUTTING_ENERGY_SOURCE}`,
      },
      mend: "take less depth in one pass, or hold the bit shorter",
    });
  }
  return findings;
}
