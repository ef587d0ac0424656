import type { Finding } from "../finding.ts";
import { fitFinding, mmText, PRACTICE, type Said } from "./said.ts";
import { type Change, changes, leastOfYear, mostOfYear, type ThroughYear, throughYear } from "./through-year.ts";

/**
 * The second way to carry a drawer: its sides slide on strips at the case sides, and strips above them, the kickers, keep
 * it from tipping as it is pulled. All mm, as they are today.
 */
export interface BelowAsk {
  readonly said: Said;
  /** Least height of the opening at the sides. */
  readonly opening: number;
  /** From the opening's floor (the rail's upper face) to where the drawer slides. A lipped front may want more than 0. */
  readonly slidesAt: number;
  readonly sideHeight: number;
  readonly sideHeightChange: Change;
  /** Upright size of runner and kicker, and their width from the case side into the opening. */
  readonly runner: { readonly height: number; readonly width: number; readonly heightChange: Change };
  readonly kicker: { readonly height: number; readonly heightChange: Change };
  /** Thickness of a drawer side, cleaned up, and its distance from the case side. */
  readonly sideThickness: number;
  readonly sideGap: number;
  /** Wanted between the side's upper edge and the kicker in the wettest season. */
  readonly clearance: number;
}

/** Where runners and kickers sit: heights above the opening's floor, negative beneath it. mm */
export interface Below {
  readonly runnerTop: number;
  readonly runnerBottom: number;
  readonly kickerBottom: number;
  readonly kickerTop: number;
  /** What stands on the floor beneath the kicker while it is screwed; the runner is set flush with a straightedge at 0. */
  readonly kickerSpacer: number;
  /** Beneath the runner; absent where it lies on or in the floor. */
  readonly runnerSpacer?: number;
  /** Between the side's upper edge and the kicker. */
  readonly above: ThroughYear;
  /** How much of the side's thickness rests on the runner. */
  readonly bears: number;
  /** How far the drawer's front dips when it is half out, the kicker holding its back: about twice the gap above. */
  readonly dips: number;
  readonly findings: readonly Finding[];
}

/** A drawer whose kicker leaves more than this tips as it is pulled, mm: common practice, no source. */
const TIPS = 4;

/**
 * Places runners and kickers. The runner is screwed from below or through its width, so that it grows downwards and its
 * upper face stays; the side grows up from it by all of its height.
 */
export function runnersBelow(ask: BelowAsk): Below {
  const runnerTop = ask.slidesAt;
  const runnerBottom = runnerTop - ask.runner.height;
  const closes = changes([ask.sideHeightChange, -1], [ask.kicker.heightChange, -1]);
  const wanted = ask.clearance + Math.max(0, -closes.dry, -closes.wet);
  const kickerBottom = runnerTop + ask.sideHeight + wanted;
  const kickerTop = kickerBottom + ask.kicker.height;
  const above = throughYear(wanted, closes);
  const bears = Math.min(ask.sideThickness, ask.runner.width - ask.sideGap);
  return {
    runnerTop,
    runnerBottom,
    kickerBottom,
    kickerTop,
    kickerSpacer: kickerBottom,
    ...(runnerBottom > 0 ? { runnerSpacer: runnerBottom } : {}),
    above,
    bears,
    dips: 2 * mostOfYear(above),
    findings: findingsOf(ask, { kickerBottom, above, bears }),
  };
}

function findingsOf(
  ask: BelowAsk,
  at: { readonly kickerBottom: number; readonly above: ThroughYear; readonly bears: number },
): readonly Finding[] {
  const { said, opening } = ask;
  const out: Finding[] = [];
  const room = opening - at.kickerBottom;
  if (room < 0 || leastOfYear(at.above) <= 0 || at.bears <= 0) {
    const what =
      at.bears <= 0
        ? "the drawer's sides miss the runners beneath them"
        : room < 0
          ? "the drawer is too high for its kickers to lie in the opening"
          : "the drawer binds beneath its kickers";
    out.push(
      fitFinding(
        said,
        "refuse",
        "fit-below-no-room",
        {
          what,
          why:
            at.bears <= 0
              ? `the side lies ${mmText(ask.sideGap)} from the case side, the runner is ${mmText(ask.runner.width)} wide`
              : `kickers begin ${mmText(at.kickerBottom)} above the floor of an opening ${mmText(opening)} high; the gap above the side is ${mmText(at.above.wet)} wet`,
          mend: at.bears <= 0 ? "make the runners wider" : "make the sides lower",
          keys: ["height"],
        },
        { found: at.bears <= 0 ? at.bears : room, limit: 0, from: "the opening as measured" },
      ),
    );
  } else if (mostOfYear(at.above) > TIPS) {
    out.push(
      fitFinding(
        said,
        "caution",
        "fit-kicker-loose",
        {
          what: "the drawer tips as it is pulled: its kickers lie high",
          why: `${mmText(at.above.dry)} dry, ${mmText(at.above.today)} today, ${mmText(at.above.wet)} wet above the sides`,
          mend: "growth through the year and 1 mm are enough; a quartersawn side moves less",
          keys: ["clearance"],
        },
        { found: mostOfYear(at.above), limit: TIPS, from: PRACTICE },
      ),
    );
  }
  return out;
}
