import { type Finding, type Outcome, refuses } from "../finding.ts";
import type { Job } from "../job/job.ts";
import type { Card } from "../parts/cards/card.ts";
import { planBeam } from "../plan/beam.ts";
import type { Post } from "../program/post.ts";
import { sealProgram } from "../program/seal.ts";
import type { Shop } from "../shop/shop.ts";
import { VERSION } from "../version.ts";
import { type MadeBeamProgram, makeBeam } from "./make-beam.ts";

/** A card's program, outline walk and sheet, proved and sealed; none where a finding refuses. */
export interface MadeCard {
  readonly verdict: "fine" | "input" | "proof";
  readonly findings: readonly Finding[];
  readonly made?: MadeBeamProgram;
  /** Program first, then the walk, then the sheet. */
  readonly texts: readonly { readonly name: string; readonly text: string }[];
  /** What to do with it, in order. */
  readonly steps: readonly string[];
}

/**
 * Makes the program of a card: planned, written and proved like any mark, with the card's own settings beside the shop's.
 * @param postOf the post that a machine names
 */
export function makeCard(card: Card, shop: Shop, postOf: (name: string) => Outcome<Post>): MadeCard {
  const { workpiece, steps } = card;
  const nothing = (verdict: "input" | "proof", findings: readonly Finding[]): MadeCard => ({
    verdict,
    findings,
    texts: [],
    steps,
  });
  const own: Shop = { ...shop, burns: [...card.burns, ...(shop.burns ?? [])] };
  const planned = planBeam(workpiece, own, []);
  const [first] = planned.ok ? planned.value : [];
  if (!planned.ok || first === undefined) return nothing("input", planned.findings);
  const post = postOf(first.setUp.machine.post);
  if (!post.ok) return nothing("input", [...planned.findings, ...post.findings]);
  const job: Job = {
    file: "card",
    title: workpiece.name,
    unit: "mm",
    measured: [],
    parts: [],
    boards: [],
    overrides: [],
  };
  const result = makeBeam({ kind: "beam", planned: first, post: post.value, sequence: 1 }, { job, shop: own });
  const findings = [...planned.findings, ...post.findings, ...result.findings];
  if (result.made === undefined || refuses(findings)) {
    return nothing(result.verdict === "input" ? "input" : "proof", findings);
  }
  const { program, dryRun, sheetName, sheet, entry } = result.made;
  const seal = [JSON.stringify(workpiece), JSON.stringify(own.burns), VERSION, JSON.stringify(entry)];
  const texts = [program, ...(dryRun === undefined ? [] : [dryRun])];
  return {
    verdict: "fine",
    findings,
    made: result.made,
    texts: [...texts.map((t) => ({ name: t.name, text: sealProgram(t.text, seal) })), { name: sheetName, text: sheet }],
    steps,
  };
}
