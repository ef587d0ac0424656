import { type Finding, type Outcome, refuses } from "./finding.ts";
import { cutListCsv } from "./fit/cut-list-csv.ts";
import { type CutList, cutListFor } from "./fit/cut-list-job.ts";
import type { FitCardCell } from "./fit/fit-card.ts";
import { fitJob } from "./fit/fit-job.ts";
import type { FitPlan } from "./fit/fit-plan.ts";
import type { Job } from "./job/job.ts";
import { readJob } from "./job/read-job.ts";
import { describeWorkpieces } from "./parts/describe.ts";
import type { HoldingKit } from "./parts/holding-kit/holding.ts";
import { holdingKit } from "./parts/holding-kit/kit.ts";
import { holdingWishOf } from "./parts/holding-kit/wish.ts";
import { describeTurned } from "./parts/turning/describe-turned.ts";
import type { MadeBeamProgram } from "./pipeline/make-beam.ts";
import { drawPiece, type PlannedPiece } from "./pipeline/make-piece.ts";
import type { JobAndShop, MadeProgram } from "./pipeline/make-set-up.ts";
import type { MadeTurningProgram } from "./pipeline/make-turning.ts";
import { doTask, partOf, type Task, type TaskResult, titleOf } from "./pipeline/task.ts";
import { planBeam } from "./plan/beam.ts";
import type { PlannedBeam } from "./plan/beam-setup.ts";
import { type PlannedSetUp, planJob } from "./plan/plan-job.ts";
import { planTurning } from "./plan/turning.ts";
import type { Post } from "./program/post.ts";
import { readPost } from "./program/read-post.ts";
import { sealOf, sealProgram } from "./program/seal.ts";
import { countPrograms } from "./program/write-programs.ts";
import { countTurningPrograms } from "./program/write-turning.ts";
import { benchFiles } from "./sheets/bench/bench-files.ts";
import { type Report, reportFinding, reportText } from "./sheets/report.ts";
import { readShop } from "./shop/read-shop.ts";
import type { Shop } from "./shop/shop.ts";
import { VERSION } from "./version.ts";

/** All the texts a run may need. Nothing here touches a file: names go in, texts come out. */
export interface Texts {
  readonly jobText: string;
  /** Name to print in findings. */
  readonly jobFile: string;
  /** The shop file; absent: the one the job names, through `readText`, or the built-in defaults. */
  readonly shop?: { readonly text: string; readonly file: string };
  /** Text of a file that the job names (shop file, drawing, own post), relative to the job; undefined: not to be had. */
  readonly readText?: (name: string) => string | undefined;
  /** Bytes of a font or picture that the job names, in the same way. */
  readonly readBytes?: (name: string) => Uint8Array | undefined;
  /** The bundled outline face for lettering; asked for only where a job uses it. */
  readonly bookFont?: () => Uint8Array | undefined;
  /** Today, as 2026-11-25, for marks that ask for it; absent: such marks are refused. */
  readonly today?: string;
  /** Text of a post by its name, as a machine names it. */
  readonly postText: (name: string) => string | undefined;
  /** Told what is being worked on, for a line of progress. */
  readonly progress?: (what: string) => void;
}

/** A file to write: a name within the output folder, and its text. */
export interface OutputFile {
  readonly name: string;
  readonly kind: "program" | "dry run" | "sheet" | "report" | "cut list";
  readonly text: string;
}

/** A page to print at true scale: a PDF, byte for byte the same for the same job. */
export interface PrintFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** What a run gives. */
export interface Made {
  /** `input`: the job, shop or post is wrong, nothing was made. `proof`: some programs were refused and held back. */
  readonly verdict: "fine" | "input" | "proof";
  readonly findings: readonly Finding[];
  readonly files: readonly OutputFile[];
  readonly prints: readonly PrintFile[];
  readonly report?: Report;
}

/** A job with its shop, planned: everything before paths. */
export interface Planned {
  /** With the parts of its drawers written out. */
  readonly job: Job;
  /** How drawers were fitted; absent where the job describes none. */
  readonly fit?: FitPlan;
  /** Grooves of a fit card among the parts; none where there is no such card. */
  readonly cardCells: readonly FitCardCell[];
  /** All wood that the job takes, and how it is cut from boards. */
  readonly cutList: CutList;
  readonly shop: Shop;
  readonly shopText: string;
  readonly setUps: readonly PlannedSetUp[];
  /** What is burned, after the router's work. */
  readonly beams: readonly PlannedBeam[];
  readonly pieces: readonly PlannedPiece[];
}

/** Reads job and shop, derives parts, plans set-ups and operations. Independent findings of a stage come together. */
export function planAll(texts: Texts): Outcome<Planned> {
  const job = readJob(texts.jobText, texts.jobFile, texts.readText ?? (() => undefined), texts);
  const shopSource = texts.shop ?? namedShop(texts, job.ok ? job.value : undefined);
  if ("finding" in shopSource) return { ok: false, findings: [...job.findings, shopSource.finding] };
  const shop = readShop(shopSource.text, shopSource.file);
  const readings = [...job.findings, ...shop.findings];
  if (!job.ok || !shop.ok) return { ok: false, findings: readings };
  const fit = fitJob(job.value, shop.value);
  const early = [...readings, ...fit.findings];
  if (!fit.ok) return { ok: false, findings: early };
  // From here on drawers are parts like any other.
  const whole = fit.value.job;
  const turned = describeTurned(whole);
  const thickest = thickestPanel(shop.value);
  const kits = (turned.ok ? turned.value : []).map((piece) =>
    piece.fingerRoom ? holdingKit(piece, { wood: KIT_WOOD, thickest }) : undefined,
  );
  const parts = describeWorkpieces(
    withKits(
      whole,
      kits.map((kit) => (kit?.ok ? kit.value : undefined)),
    ),
  );
  const described = [...early, ...kits.flatMap((kit) => kit?.findings ?? []), ...parts.findings];
  if (!turned.ok || !parts.ok || refuses(described)) return { ok: false, findings: described };
  const wood = cutListFor(
    whole,
    fit.value.plan,
    shop.value,
    kits.flatMap((kit) => (kit?.ok ? kit.value.parts : [])),
  );
  const plan = planJob(whole, parts.value, shop.value);
  const turnings = turned.value.map((piece) =>
    piece.turnedBy === "machine" ? planTurning(piece, shop.value) : undefined,
  );
  const beams = parts.value.map((workpiece) => planBeam(workpiece, shop.value, plan.ok ? plan.value : []));
  const findings = [
    ...described,
    ...wood.findings,
    ...plan.findings,
    ...turnings.flatMap((t) => t?.findings ?? []),
    ...beams.flatMap((b) => b.findings),
  ];
  if (!plan.ok || refuses(findings)) return { ok: false, findings };
  const pieces = turned.value.map((piece, i): PlannedPiece => {
    const kit = kits[i];
    const turning = turnings[i];
    return {
      piece,
      ...(kit?.ok ? { kit: kit.value } : {}),
      ...(turning?.ok ? { turning: turning.value } : {}),
    };
  });
  return {
    ok: true,
    value: {
      job: whole,
      ...(fit.value.plan && { fit: fit.value.plan }),
      cardCells: fit.value.cardCells,
      cutList: wood.list,
      shop: shop.value,
      shopText: shopSource.text ?? "",
      setUps: plan.value,
      beams: beams.flatMap((b) => (b.ok ? b.value : [])),
      pieces,
    },
    findings,
  };
}

/** What cradles and cauls are cut from. */
const KIT_WOOD = "plywood";

/** The thickest panel that the shop's flat bits up to 6.5 mm cut through, mm: cradles have tight corners. */
function thickestPanel({ cutters, habits }: Shop): number {
  const flutes = cutters.filter((c) => c.form.kind === "flat" && c.diameter <= 6.5).map((c) => c.fluteLength);
  return Math.max(0, ...flutes) - habits.intoWasteBoard;
}

/**
 * A job with its holding kits in it: cradles and cauls are parts like any other, planned with them; and a turned part for
 * which the job names no holding lies in its kit's.
 */
function withKits(job: Job, kits: readonly (HoldingKit | undefined)[]): Job {
  const turned = (job.turned ?? []).map((part, i) => {
    const kit = kits[i];
    const holding = kit === undefined || part.wishes.holding !== undefined ? undefined : holdingWishOf(kit);
    return holding === undefined ? part : { ...part, wishes: { ...part.wishes, holding } };
  });
  const parts = [...job.parts, ...kits.flatMap((kit) => kit?.parts ?? [])];
  return { ...job, parts, ...(turned.length > 0 ? { turned } : {}) };
}

function namedShop(
  texts: Texts,
  job: Job | undefined,
): { readonly text: string | undefined; readonly file: string } | { readonly finding: Finding } {
  if (job?.shopFile === undefined) return { text: undefined, file: "built-in defaults" };
  const text = texts.readText?.(job.shopFile);
  if (text !== undefined) return { text, file: job.shopFile };
  return {
    finding: {
      grade: "refuse",
      code: "file-unreadable",
      place: {},
      what: `cannot read the shop file ${job.shopFile} that ${job.file} names`,
      why: "it must be a text file in the job's own folder or below it",
      mend: "check its name, or take the line out to plan with the built-in shop",
    },
  };
}

/** A job ready to be made: tasks none of which needs another's result, in the order of work. */
interface Prepared {
  readonly planned: Planned;
  readonly tasks: readonly Task[];
  /** Set-ups that wait for something to be measured. */
  readonly waiting: Report["heldBack"];
  readonly findings: readonly Finding[];
}

/** Everything before paths. No value when the job, the shop or a post is wrong. */
function prepare(texts: Texts): Outcome<Prepared> {
  const plan = planAll(texts);
  if (!plan.ok) return plan;
  const planned = plan.value;
  const posts = new Map<string, Outcome<Post>>();
  const postOf = (name: string): Outcome<Post> => {
    const known = posts.get(name) ?? postFor(name, texts);
    posts.set(name, known);
    return known;
  };
  const tasks: Task[] = planned.pieces.map((piece, i) => ({ kind: "piece", planned: piece, nth: i + 1 }));
  let sequence = 1;
  // Turned before it is hollowed. Numbered by what is planned, so that a program held back doesn't renumber the others.
  for (const { turning } of planned.pieces) {
    const post = turning === undefined ? undefined : postOf(turning.setUp.lathe.post);
    if (turning === undefined || !post?.ok) continue;
    tasks.push({ kind: "turning", planned: turning, post: post.value, sequence });
    sequence += countTurningPrograms(turning.operations, post.value);
  }
  const unmeasured = new Set((planned.fit?.holdPoints ?? []).flatMap((h) => h.holdsBack));
  const waiting: Report["heldBack"] = [];
  const waits = ({ setUp }: { readonly setUp: PlannedSetUp["setUp"] | PlannedBeam["setUp"] }): boolean => {
    const held = setUp.workpiece.pieces.some((p) => unmeasured.has(p.part));
    if (held) waiting.push({ setUp: setUp.name, because: ["fit-measure-first"] });
    return held;
  };
  for (const one of planned.setUps) {
    const post = postOf(one.setUp.machine.post);
    if (!post.ok) continue;
    if (!waits(one)) tasks.push({ kind: "set-up", planned: one, post: post.value, sequence });
    sequence += countPrograms(one.operations, post.value);
  }
  // Burned last: chips are gone by then, and nothing is sanded or cut any more.
  for (const one of planned.beams) {
    const post = postOf(one.setUp.machine.post);
    if (!post.ok) continue;
    if (!waits(one)) tasks.push({ kind: "beam", planned: one, post: post.value, sequence });
    sequence += 1;
  }
  const findings = [...plan.findings, ...[...posts.values()].flatMap((p) => p.findings)];
  return refuses(findings)
    ? { ok: false, findings }
    : { ok: true, value: { planned, tasks, waiting, findings }, findings };
}

/**
 * Makes everything: programs, dry runs, sheets, templates and the report, each program proved against its part before it
 * counts. A set-up whose program is refused is held back whole; the others stand. Same texts, same bytes.
 */
export function makeAll(texts: Texts): Made {
  const prepared = prepare(texts);
  if (!prepared.ok) return nothingMade(prepared.findings);
  const { planned, tasks } = prepared.value;
  const results = tasks.map((task, i) => {
    texts.progress?.(progressLine(tasks, i));
    return doTask(task, sharedBy(planned));
  });
  return gather(texts.jobText, prepared.value, results);
}

/** A run that stopped at its input. */
export function nothingMade(findings: readonly Finding[]): Made {
  return { verdict: "input", findings, files: [], prints: [] };
}

/** What all tasks of a job share. */
function sharedBy({ job, shop }: Planned): JobAndShop {
  return { job, shop };
}

/** What is being worked on, in words. */
function progressLine(tasks: readonly Task[], i: number): string {
  const task = tasks[i];
  return `${i + 1} of ${tasks.length}: ${task === undefined ? "" : titleOf(task)}`;
}

/** Puts the results of all tasks, in the tasks' order, together with the turned parts' own pages, and seals them. */
function gather(jobText: string, prepared: Prepared, results: readonly TaskResult[]): Made {
  const { planned, tasks } = prepared;
  const findings = [...prepared.findings, ...results.flatMap((r) => r.findings)];
  // Where a wall would be too thin, no program of that part is handed out.
  const thin = new Set(
    results.flatMap((r, i) => (r.kind === "piece" && r.verdict === "proof" ? [partOf(tasks[i]!)] : [])),
  );
  const made: MadeProgram[] = [];
  const turned: MadeTurningProgram[] = [];
  const burned: MadeBeamProgram[] = [];
  const heldBack: Report["heldBack"] = [...prepared.waiting];
  for (const [i, r] of results.entries()) {
    if (r.kind === "piece") continue;
    const task = tasks[i]!;
    if (thin.has(partOf(task)) || r.made === undefined) {
      const own = results.filter((q, k) => q.kind === "piece" && partOf(tasks[k]!) === partOf(task));
      const because = [r, ...own].flatMap((q) => q.findings.filter((f) => f.grade === "refuse"));
      heldBack.push({ setUp: titleOf(task), because: because.map((f) => f.code) });
    } else if (r.kind === "turning") turned.push(...r.made);
    else if (r.kind === "beam") burned.push(r.made);
    else made.push(...r.made.programs);
  }
  const pieces = results.flatMap((r, i) => {
    const task = tasks[i]!;
    if (r.kind !== "piece" || task.kind !== "piece") return [];
    const { name } = task.planned.piece;
    const turning = turned.find((p) => p.entry.part === name)?.program.name;
    const files = {
      ...(turning === undefined ? {} : { turning }),
      hollowing: made.filter((p) => p.entry.parts.includes(name)).map((p) => p.program.name),
    };
    const told = findings.filter((f) => f.grade !== "note" && f.place.part === name);
    return [drawPiece(task, r, planned.job, files, told)];
  });
  const verdict = (["input", "proof"] as const).find((v) => results.some((r) => r.verdict === v)) ?? "fine";
  const unsealed: Report = {
    tillwright: VERSION,
    job: planned.job.file,
    title: planned.job.title,
    unit: planned.job.unit,
    programs: made.map((p) => p.entry),
    turnings: turned.map((p) => p.entry),
    beams: burned.map((p) => p.entry),
    turned: pieces.map((p) => p.entry),
    heldBack,
    defaultsUsed: [...planned.shop.defaultsUsed],
    findings: findings.map(reportFinding),
  };
  const sealParts = [jobText, planned.shopText, VERSION, reportText(unsealed)];
  const seal = sealOf(sealParts);
  const report: Report = {
    ...unsealed,
    programs: unsealed.programs.map((p) => ({ ...p, seal })),
    turnings: unsealed.turnings.map((p) => ({ ...p, seal })),
    beams: unsealed.beams.map((p) => ({ ...p, seal })),
  };
  const { setUps, beams, ...rest } = planned;
  const bench = benchFiles({
    ...rest,
    report,
    setUps: setUps.map((p) => p.setUp),
    beams: beams.map((p) => p.setUp),
    turnings: planned.pieces.flatMap((p) => p.turning?.setUp ?? []),
  });
  const files = [
    ...turned.flatMap((p) => filesOf(p, sealParts)),
    ...made.flatMap((p) => filesOf(p, sealParts)),
    ...burned.flatMap((p) => filesOf(p, sealParts)),
    ...pieces.flatMap((p) => p.drawings.map((d): OutputFile => ({ name: d.name, kind: "sheet", text: d.svg }))),
    { name: "bench.html", kind: "sheet", text: bench.html } as const,
    { name: "cut-list.csv", kind: "cut list", text: cutListCsv(planned.cutList, planned.job.unit) } as const,
    { name: "report.json", kind: "report", text: reportText(report) } as const,
  ];
  return { verdict, findings, files, prints: [...pieces.flatMap((p) => p.prints), ...bench.prints], report };
}

/** A program with what goes with it, sealed now that all of it has passed. */
function filesOf(
  p: MadeProgram | MadeTurningProgram | MadeBeamProgram,
  sealParts: readonly string[],
): readonly OutputFile[] {
  const program: OutputFile = { name: p.program.name, kind: "program", text: sealProgram(p.program.text, sealParts) };
  const sheet: OutputFile = { name: p.sheetName, kind: "sheet", text: p.sheet };
  if (p.dryRun === undefined) return [program, sheet];
  return [program, { name: p.dryRun.name, kind: "dry run", text: sealProgram(p.dryRun.text, sealParts) }, sheet];
}

/** The post a machine names: one that comes with the package, or a file beside the job. */
function postFor(name: string, texts: Texts): Outcome<Post> {
  const text = texts.postText(name) ?? texts.readText?.(name);
  if (text !== undefined) return readPost(text, name);
  return {
    ok: false,
    findings: [
      {
        grade: "refuse",
        code: "file-unreadable",
        place: {},
        what: `there is no post called "${name}"`,
        why: "a machine's post is the name of one that comes with Tillwright, or a file beside the job",
        mend: "run `tillwright posts` to see the names",
      },
    ],
  };
}
