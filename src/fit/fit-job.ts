import { type Finding, type Outcome, refuses, type Source } from "../finding.ts";
import type { DrawersDescription } from "../job/drawers.ts";
import type { Job, PartDescription } from "../job/job.ts";
import { needsBearingWall } from "../job/runner.ts";
import type { FitCardRecord } from "../shop/fitting.ts";
import type { Shop } from "../shop/shop.ts";
import type { FitCardCell } from "./fit-card.ts";
import { withFitCard } from "./fit-card-job.ts";
import { type GrooveWidth, grooveWidthFor } from "./fit-card-record.ts";
import { type Fitted, planFit } from "./plan-fit.ts";
import { mmText } from "./said.ts";

/** A job with everything fitted: drawers written out, the fit card among the parts or its groove followed. */
export interface FittedJob extends Fitted {
  /** Grooves of a card that is to be made; none where there is no such card. */
  readonly cardCells: readonly FitCardCell[];
  /** The card that the runner grooves follow. */
  readonly follows?: GrooveWidth;
}

/**
 * Fits all of a job. Where a fit card is on record, in the job or the shop, the runner grooves follow it: its play stands for the
 * usual clearance, and they are cut with its bit. A clearance that the job says itself goes first.
 */
export function fitJob(job: Job, shop: Shop): Outcome<FittedJob> {
  const card = withFitCard(job, shop);
  const carded = card.ok ? followCard(card.value.job, card.value.records) : { job, findings: [] };
  const fit = planFit(carded.job, shop);
  const findings = [...card.findings, ...carded.findings, ...fit.findings];
  if (!card.ok || !fit.ok || refuses(findings)) return { ok: false, findings };
  const { follows } = carded;
  const whole = follows ? { ...fit.value, job: cutWith(follows.from.bit, fit.value.job, job) } : fit.value;
  return { ok: true, value: { ...whole, cardCells: card.value.cells, ...(follows && { follows }) }, findings };
}

interface Followed {
  readonly job: Job;
  readonly follows?: GrooveWidth;
  readonly findings: readonly Finding[];
}

/** Puts the play that a card showed in the place of the usual clearance. */
function followCard(job: Job, records: readonly FitCardRecord[]): Followed {
  const drawers = job.cabinet?.drawers;
  if (job.cabinet === undefined || drawers === undefined || drawers.runners.kind.value !== "side-hung") {
    return { job, findings: [] };
  }
  const { clearance } = drawers.runners;
  const runner = (drawers.runners.heightAsPlaned ?? drawers.runners.height).value;
  const chosen = job.fitCard?.kind === "chosen" ? job.fitCard : undefined;
  // The job's own card goes first; of the shop's, the one whose runner is nearest.
  const follows = (chosen ? [chosen.bit] : records.map((r) => r.bit))
    .flatMap((bit) => grooveWidthFor(runner, bit, chosen ? records.slice(0, 1) : records) ?? [])
    .reduce<GrooveWidth | undefined>((a, b) => (a && away(a, runner) <= away(b, runner) ? a : b), undefined);
  if (follows === undefined)
    return {
      job,
      findings: chosen
        ? [notFollowed(chosen, `its runner is ${mmText(chosen.runner)} wide, the drawers' ${mmText(runner)}`)]
        : [],
    };
  if (follows.over <= 0) {
    return {
      job,
      findings: [
        notFollowed(
          chosen ?? { source: clearance.source },
          WIDE,
          'measure the bit, write its "measured diameter" in the shop file, and make the card again',
        ),
      ],
    };
  }
  if (clearance.assumed === undefined) {
    return {
      job,
      findings: chosen ? [notFollowed(chosen, `the job says a clearance of ${mmText(clearance.value)}`)] : [],
    };
  }
  const source = chosen?.sources.chosen ?? clearance.source;
  const runners: DrawersDescription["runners"] = { ...drawers.runners, clearance: { value: follows.over, source } };
  return { job: { ...job, cabinet: { ...job.cabinet, drawers: { ...drawers, runners } } }, follows, findings: [] };
}

function away(g: GrooveWidth, runner: number): number {
  return Math.abs(g.from.runner - runner);
}

/** The bit of the card in the runner grooves of the parts that were written out; the job's own parts stay as they are. */
function cutWith(bit: string, whole: Job, own: Job): Job {
  const theirs = new Set(own.parts);
  const named = (part: PartDescription): PartDescription => ({
    ...part,
    features: part.features.map((f) =>
      f.kind === "groove" && f.cutter === undefined && needsBearingWall(f.name) ? { ...f, cutter: bit } : f,
    ),
  });
  return { ...whole, parts: whole.parts.map((p) => (theirs.has(p) ? p : named(p))) };
}

const MEND = "make a card with the drawers' own runner, and leave the clearance out";
/** Why a groove no wider than its runner is not followed. */
const WIDE = "the groove that fitted is no wider than its runner: the bit cuts wider than the shop file says";

function notFollowed(at: { readonly source: Source }, why: string, mend = MEND): Finding {
  return {
    grade: "caution",
    code: "fit-card-not-followed",
    place: { source: at.source },
    what: "the runner grooves do not follow the fit card",
    why,
    mend,
  };
}
