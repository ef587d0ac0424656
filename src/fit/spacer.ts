import type { Finding } from "../finding.ts";
import type { PartDescription } from "../job/job.ts";
import { fitFinding, mmText, PRACTICE, type Said } from "./said.ts";
import { strip } from "./strip.ts";

/** A board that carries runners at their height while they are screwed. mm */
export interface SpacerAsk {
  readonly said: Said;
  readonly wood: string;
  /** From what it stands on to the runner's lower face. */
  readonly height: number;
  /** From the case's front edge to its back: the spacer is a little shorter. */
  readonly depth: number;
  readonly thickness?: number;
  /** Openings that it serves, for its name on the face. */
  readonly openings: readonly string[];
}

/** A spacer as an ordinary part. */
export interface Spacer {
  readonly part: PartDescription;
  readonly words: string;
  readonly findings: readonly Finding[];
}

const THICK = 18;
const SHORTER = 10;
/** Lower than this, a spacer is a strip that bends, mm: common practice, no source. */
const LEAST = 5;

/**
 * The spacer for the runners of one height. One serves both sides of the case, one after the other, so that what it errs
 * by is the same at both.
 * @returns a part whose `width` is the spacer's height: > 0, or it is our bug and throws RangeError (`hungPlace` refuses it)
 */
export function spacerOf(ask: SpacerAsk): Spacer {
  if (!(ask.height > 0)) throw new RangeError(`a spacer cannot be ${ask.height} high`);
  const size = { length: ask.depth - SHORTER, width: ask.height, thickness: ask.thickness ?? THICK };
  return {
    part: strip(
      ask.said,
      ask.wood,
      size,
      { "lower edge": "stands on the floor", "upper edge": "carries the runner" },
      [],
      1,
    ),
    words: `${ask.said.part}: plane it to ${mmText(ask.height)} and measure it; stand it on the floor of ${ask.openings.join(", ")}, lay the runner on it, nose at its setback, screw; then the other side with the same spacer`,
    findings:
      ask.height >= LEAST
        ? []
        : [
            fitFinding(
              ask.said,
              "caution",
              "fit-spacer-thin",
              {
                what: "the spacer is a thin strip",
                why: `${mmText(ask.height)} high`,
                mend: "plane it on a carrier, or raise the bearing wall",
              },
              { found: ask.height, limit: LEAST, from: PRACTICE },
            ),
          ],
  };
}

/** Runners of unlike heights, told by the spacers they need: those that agree within `same` share one. */
export function spacersNeeded(
  runners: readonly { readonly opening: string; readonly spacer: number }[],
  same = 0.05,
): readonly { readonly height: number; readonly openings: readonly string[] }[] {
  const sorted = [...runners].sort((a, b) => a.spacer - b.spacer);
  const groups: { height: number; openings: string[] }[] = [];
  for (const r of sorted) {
    const last = groups.at(-1);
    if (last && r.spacer - last.height <= same) last.openings.push(r.opening);
    else groups.push({ height: r.spacer, openings: [r.opening] });
  }
  return groups;
}
