import { type Finding, type Outcome, refuses } from "../finding.ts";
import type { CabinetDescription, Given, OpeningDescription } from "../job/drawers.ts";
import type { Job } from "../job/job.ts";
import type { Shop } from "../shop/shop.ts";
import { assumedIn } from "./assumed.ts";
import { type Open, sizeGroup } from "./box.ts";
import { cutListOf, frontRuns } from "./cut-list.ts";
import { type DividerFit, fitDividers } from "./dividers-fitted.ts";
import { type FittedGroup, fitGroup } from "./drawer.ts";
import type { FitPlan, FittedPart } from "./fit-plan.ts";
import { mouthOf } from "./opening.ts";
import { orderOf } from "./order.ts";
import { fitFinding } from "./said.ts";
import { saidPart } from "./said-at.ts";
import { type FitGround, groundOf } from "./stuff.ts";
import { writeOut } from "./write-out.ts";

/** A job with the parts of its drawers written out, and how they were fitted. */
export interface Fitted {
  readonly job: Job;
  /** Absent where the job describes no drawers. */
  readonly plan?: FitPlan;
  /** Absent where there are none. */
  readonly dividers?: readonly DividerFit[];
}

/**
 * Fits the drawers of a job into its case: sizes, gaps, joints, runners, order of work, cut list; and writes their parts
 * out beside the job's own. Independent findings come together; where one refuses there is no plan.
 */
export function planFit(job: Job, shop: Shop): Outcome<Fitted> {
  const divided = fitDividers(job, job.dividers ?? [], shop);
  const fitted = planDrawers(divided.ok ? divided.value.job : job, shop);
  const findings = [...divided.findings, ...fitted.findings];
  if (!divided.ok || !fitted.ok) return { ok: false, findings };
  const { dividers } = divided.value;
  return { ok: true, value: { ...fitted.value, ...(dividers.length > 0 && { dividers }) }, findings };
}

function planDrawers(job: Job, shop: Shop): Outcome<Fitted> {
  const { cabinet } = job;
  if (cabinet?.drawers === undefined) return { ok: true, value: { job }, findings: [] };
  const { ground, findings: early } = groundOf(cabinet, cabinet.drawers, shop);
  if (ground === undefined) return { ok: false, findings: early };
  const found: Finding[] = [...early, ...caseFindings(ground)];
  const open = mouths(cabinet, found);
  if (refuses(found)) return { ok: false, findings: found };
  const groups: FittedGroup[] = [];
  for (const { label, of } of grouped(cabinet, ground.drawers.sides.alike, open)) {
    const sized = sizeGroup(ground, label, of);
    found.push(...sized.findings);
    if (sized.group === undefined) continue;
    const fitted = fitGroup(ground, sized.group);
    found.push(...fitted.findings);
    if (fitted.fitted) groups.push(fitted.fitted);
  }
  if (refuses(found)) return { ok: false, findings: once(found) };
  const written = groups.map((group) => writeOut(ground, group, job.turned ?? []));
  found.push(...written.flatMap((w) => w.findings));
  const parts = written.flatMap((w) => w.parts);
  const order = orderOf(ground, groups, parts, [...new Set(written.flatMap((w) => w.byHand))]);
  found.push(
    ...order.holdPoints.filter((h) => !h.done).map((h) => h.finding),
    ...namesTaken(job, parts),
    ...pullsFew(job, ground),
  );
  const inCase = groups.flatMap((group) => group.drawers.map(({ fit }) => fit));
  // In the order in which they stand in the case.
  const drawers = [...inCase].sort((a, b) => a.row - b.row || a.column - b.column);
  found.push(...drawers.flatMap((fit) => fit.gaps.flatMap((gap) => gap.findings)));
  const told = once(found);
  if (refuses(told)) return { ok: false, findings: told };
  const runs = frontRuns(ground, drawers);
  const plan: FitPlan = {
    drawers,
    parts,
    runs,
    cutList: cutListOf(ground, parts, runs),
    steps: order.steps,
    holdPoints: order.holdPoints,
    runnerFitting: groups.flatMap(({ fitting: f }) =>
      f ? [{ spacers: f.spacers.map((s) => s.part.name), beforeGlueUp: f.beforeGlueUp, words: f.words }] : [],
    ),
    assumed: assumedIn(ground, cabinet),
    year: ground.year,
    today: ground.side.today,
  };
  const value: Fitted = { job: { ...job, parts: [...job.parts, ...parts.map((p) => p.description)] }, plan };
  return { ok: true, value, findings: told };
}

function mouths(cabinet: CabinetDescription, found: Finding[]): readonly Open[] {
  const open = cabinet.case.openings.flatMap((opening): readonly Open[] => {
    const { mouth, findings } = mouthOf(opening);
    found.push(...findings);
    return mouth === undefined ? [] : [{ opening, mouth }];
  });
  const unsquared = open.filter((o) => o.mouth.squareAssumed);
  const first = unsquared[0];
  if (first !== undefined) {
    found.push({
      grade: "note",
      code: "fit-square-assumed",
      place: { part: first.opening.name, source: first.opening.source },
      what: "diagonals were not measured, so openings are taken to have equal ones",
      why: `without them: ${unsquared.map((o) => o.opening.name).join(", ")}`,
      mend: 'measure both diagonals of each mouth, and add "diagonals: {rising: ..., falling: ...}"',
    });
  }
  return open;
}

/** Openings whose drawers have alike sides. */
function grouped(
  cabinet: CabinetDescription,
  alike: Given<"all" | "row" | "no">,
  open: readonly Open[],
): readonly { readonly label: string; readonly of: readonly Open[] }[] {
  const label = (o: OpeningDescription): string => {
    switch (alike.value) {
      case "all":
        return "drawer";
      case "row":
        return cabinet.case.columns === 1 ? o.name : `row ${o.row}`;
      case "no":
        return o.name;
    }
  };
  const labels = [...new Set(open.map((o) => label(o.opening)))];
  return labels.map((l) => ({ label: l, of: open.filter((o) => label(o.opening) === l) }));
}

function caseFindings(g: FitGround): readonly Finding[] {
  const divider = g.case.dividerThickness;
  const over = g.drawers.fronts.lip?.over;
  if (g.case.columns < 2 || divider === undefined || over === undefined || 2 * over.value < divider.value) return [];
  return [
    fitFinding(
      { ...saidPart("fronts", g.drawers, "fronts"), source: over.source },
      "refuse",
      "fit-lips-meet",
      {
        what: "the lips of two fronts meet on a divider",
        why: "each reaches over it from its own side",
        mend: "let the lip reach over less than half the divider",
      },
      { found: 2 * over.value, limit: divider.value, from: "the divider's thickness" },
    ),
  ];
}

/** Parts and openings may not share names, or nobody could tell their programs apart. */
function namesTaken(job: Job, parts: readonly FittedPart[]): readonly Finding[] {
  const taken = new Map(
    [
      ...job.parts.flatMap((p) =>
        [p.name, ...(p.mirroredAs === undefined ? [] : [p.mirroredAs])].map((n) => [n, p.source] as const),
      ),
      ...(job.turned ?? []).map((t) => [t.name, t.source] as const),
    ].map(([name, source]) => [name.toLowerCase(), source]),
  );
  return parts.flatMap(({ description: p }) =>
    [p.name, p.mirroredAs].flatMap((name): readonly Finding[] => {
      const source = name === undefined ? undefined : taken.get(name.toLowerCase());
      if (source === undefined) return [];
      return [
        {
          grade: "refuse",
          code: "fit-name-taken",
          place: { part: name!, source },
          what: `"${name}" is also what a part of a drawer is called`,
          why: "drawers name their parts after the openings",
          mend: "give this part, or the opening, another name",
        },
      ];
    }),
  );
}

function pullsFew(job: Job, g: FitGround): readonly Finding[] {
  const { pull } = g.drawers;
  const piece = job.turned?.find((t) => t.name === pull?.value);
  if (pull === undefined || piece === undefined) return [];
  const pulls = piece.copies * piece.profile.pulls * (piece.split === undefined ? 1 : 2);
  const wanted = g.case.openings.length;
  if (pulls >= wanted) return [];
  return [
    {
      grade: "caution",
      code: "fit-pulls-few",
      place: { part: piece.name, source: pull.source },
      what: `${pulls} pulls are turned for ${wanted} drawers`,
      why: `"${piece.name}" gives ${pulls}`,
      mend: 'add "copies:" to it',
    },
  ];
}

/** The same sentence at the same place is said once. */
function once(findings: readonly Finding[]): readonly Finding[] {
  const seen = new Set<string>();
  return findings.filter((f) => {
    const s = f.place.source;
    const key = `${f.code} ${s?.line}:${s?.column} ${f.what} ${f.why}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
