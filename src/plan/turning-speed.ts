import { tidy } from "../finding.ts";
import type { Lathe } from "../shop/lathe.ts";

/** Highest speeds of the work, rpm, with the words that say which limit governs. */
export interface TurningSpeeds {
  readonly rough: number;
  readonly finish: number;
  readonly reason: string;
  /** True where the lathe cannot turn as slowly as it should. */
  readonly lowestTooFast: boolean;
}

/** What the speeds depend on, mm. */
export interface SpeedFacts {
  readonly lathe: Lathe;
  /** Largest diameter until round: the diagonal of a square. */
  readonly startDiameter: number;
  /** Largest diameter afterwards: of the profile, or the diagonal of what stays square. */
  readonly finishDiameter: number;
  readonly length: number;
  readonly paperJoint: boolean;
}

/** Diameter times speed, inches × rpm: the low figure of "6,000 to 9,000" as turners' forums and pages quote it. */
const INCH_RPM = 6000;

/** Work this many times longer than thick is slim. Common practice, no source. */
export const SLIM = 10;

/** Workshop caps, rpm: common practice, no source. */
const CAPS = { upTo50: 3000, slim: 2500, untilRoundUpTo50: 1500, untilRound: 1000, paperJoint: 1000 } as const;

interface Limit {
  readonly rpm: number;
  readonly why: string;
}

/**
 * Speeds until round and after: the lowest of the published rule on the largest diameter, the lathe's own, the holding's,
 * and workshop caps. Rule and caps: see above.
 */
export function turningSpeeds(facts: SpeedFacts): TurningSpeeds {
  const { lathe, startDiameter, finishDiameter, length, paperJoint } = facts;
  const always: Limit[] = [{ rpm: topSpeed(lathe), why: "the lathe's highest" }];
  if (lathe.holdingMaxRpm !== undefined) always.push({ rpm: lathe.holdingMaxRpm, why: "the holding's limit" });
  if (paperJoint) always.push({ rpm: CAPS.paperJoint, why: "a paper-jointed blank; common practice, no source" });
  const slim = length > SLIM * finishDiameter;
  const rough = lowest([
    ...always,
    rule(startDiameter),
    startDiameter <= 50
      ? { rpm: CAPS.untilRoundUpTo50, why: "until round, up to 50 mm; common practice, no source" }
      : { rpm: CAPS.untilRound, why: "until round; common practice, no source" },
  ]);
  const finish = lowest([
    ...always,
    rule(finishDiameter),
    ...(slim ? [{ rpm: CAPS.slim, why: "long and slim; common practice, no source" }] : []),
    ...(finishDiameter <= 50 ? [{ rpm: CAPS.upTo50, why: "up to 50 mm; common practice, no source" }] : []),
  ]);
  const roughRpm = settable(lathe, rough.rpm);
  const finishRpm = settable(lathe, finish.rpm);
  return {
    rough: roughRpm,
    finish: finishRpm,
    reason: `until round ${tidy(roughRpm)} rpm: ${rough.why}; then ${tidy(finishRpm)} rpm: ${finish.why}`,
    lowestTooFast: roughRpm > rough.rpm || finishRpm > finish.rpm,
  };
}

function rule(diameter: number): Limit {
  const rpm = (INCH_RPM * 25.4) / diameter;
  return { rpm, why: `6,000 inch × rpm over ${tidy(Math.round(diameter * 10) / 10)} mm, as turners' pages quote it` };
}

function lowest(limits: readonly Limit[]): Limit {
  return limits.reduce((a, b) => (b.rpm < a.rpm ? b : a));
}

function topSpeed(lathe: Lathe): number {
  switch (lathe.spindle.kind) {
    case "program":
      return lathe.spindle.max;
    case "dial":
      return Math.max(...lathe.spindle.positions.map((p) => p.rpm));
  }
}

/** The highest speed that can be set at or below the wanted one, in round figures; the lathe's lowest where there is none. */
function settable(lathe: Lathe, wanted: number): number {
  switch (lathe.spindle.kind) {
    case "program":
      return Math.max(lathe.spindle.min, Math.floor(wanted / 50) * 50);
    case "dial": {
      const all = lathe.spindle.positions.map((p) => p.rpm);
      const good = all.filter((rpm) => rpm <= wanted);
      return good.length > 0 ? Math.max(...good) : Math.min(...all);
    }
  }
}
