import type { Finding, Outcome } from "../finding.ts";
import type { FitCardDescription } from "../job/fit-card.ts";
import type { Job } from "../job/job.ts";
import type { FitCardRecord } from "../shop/fitting.ts";
import type { Shop } from "../shop/shop.ts";
import { closest } from "../units/closest.ts";
import { type FitCardCell, fitCard } from "./fit-card.ts";

/** What a job's fit card comes to. */
export interface WithFitCard {
  /** The job, with the card among its parts where it is to be made. */
  readonly job: Job;
  /** Its grooves, for the sheet; none where no card is to be made. */
  readonly cells: readonly FitCardCell[];
  /** All cards on record: the job's own first, then the shop's. */
  readonly records: readonly FitCardRecord[];
}

/** Name of the card's part, which no part of the user's may have. */
const NAME = "fit card";
/** A groove that fits is this much over or under its runner at most; more is a slip of the pen. mm */
const FAR_OFF = 1.5;

/** Writes a job's fit card as an ordinary part, or takes down what it showed. Refused: a bit that the shop has not. */
export function withFitCard(job: Job, shop: Shop): Outcome<WithFitCard> {
  const records = shop.fitCards ?? [];
  const said = job.fitCard;
  if (said === undefined) return { ok: true, value: { job, cells: [], records }, findings: [] };
  const bit = shop.cutters.find((c) => c.name.toLowerCase() === said.bit.toLowerCase());
  if (!bit) return { ok: false, findings: [noSuchBit(said, shop)] };
  if (said.kind === "chosen") {
    if (Math.abs(said.chosen - said.runner) > FAR_OFF) return { ok: false, findings: [farOff(said)] };
    const own: FitCardRecord = { name: NAME, bit: bit.name, runner: said.runner, chosen: said.chosen };
    return { ok: true, value: { job, cells: [], records: [own, ...records] }, findings: [] };
  }
  if (bit.form.kind !== "flat") {
    return {
      ok: false,
      findings: [
        {
          grade: "refuse",
          code: "fit-card-does-not-fit",
          place: { part: NAME, source: said.sources.bit ?? said.source },
          what: `"${bit.name}" is no flat bit`,
          why: "runner grooves have upright walls and a flat floor",
          mend: "name the flat bit that will cut the real grooves",
        },
      ],
    };
  }
  const taken = job.parts.find((p) => p.name.toLowerCase() === NAME);
  if (taken) {
    return {
      ok: false,
      findings: [
        {
          grade: "refuse",
          code: "name-twice",
          place: { part: taken.name, source: taken.source },
          what: `a part is called "${taken.name}", as the fit card is`,
          why: `the fit card is on line ${said.source.line}`,
          mend: "give the part another name",
        },
      ],
    };
  }
  const { wood, thickness, runner, depth, over, step, grooves, sizes, heldBy, source } = said;
  const made = fitCard({
    name: NAME,
    wood,
    thickness,
    runner,
    depth,
    bit: { name: bit.name, diameter: bit.diameter },
    ...(over === undefined ? {} : { over }),
    ...(step === undefined ? {} : { step }),
    ...(grooves === undefined ? {} : { grooves }),
    ...(sizes === undefined ? {} : { sizes }),
    ...(heldBy === undefined ? {} : { heldBy }),
    source,
  });
  if (!made.ok) return made;
  return {
    ok: true,
    value: { job: { ...job, parts: [...job.parts, made.value.part] }, cells: made.value.cells, records },
    findings: made.findings,
  };
}

function noSuchBit(said: FitCardDescription, shop: Shop): Finding {
  const names = shop.cutters.map((c) => c.name);
  const near = closest(said.bit, names);
  return {
    grade: "refuse",
    code: "name-unknown",
    place: { part: NAME, source: said.sources.bit ?? said.source },
    what: `the shop has no bit called "${said.bit}"`,
    why: "the card is cut with the very bit of the real grooves",
    mend: near === undefined ? `known bits: ${names.join(", ")}` : `did you mean "${near}"?`,
  };
}

function farOff(said: FitCardDescription & { readonly kind: "chosen" }): Finding {
  return {
    grade: "refuse",
    code: "fit-card-does-not-fit",
    place: { part: NAME, source: said.sources.chosen ?? said.source },
    what: "this groove cannot have fitted this runner",
    why: `${said.chosen} mm for a runner of ${said.runner} mm`,
    mend: "write the size that stands beside the groove that fitted, and the runner as measured",
  };
}
