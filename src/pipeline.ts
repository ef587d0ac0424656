import type { Finding, Outcome } from "./finding.ts";
import type { Job } from "./job/job.ts";
import { readJob } from "./job/read-job.ts";
import { describeWorkpieces } from "./parts/describe.ts";
import {
  type MadeProgram,
  type MadeSetUp,
  makeSetUp,
  type SetUpResult,
  type SetUpTask,
} from "./pipeline/make-set-up.ts";
import { type PlannedSetUp, planJob } from "./plan/plan-job.ts";
import type { Post } from "./program/post.ts";
import { readPost } from "./program/read-post.ts";
import { sealOf, sealProgram } from "./program/seal.ts";
import { countPrograms } from "./program/write-programs.ts";
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
  /** Text of a post by its name, as a machine names it. */
  readonly postText: (name: string) => string | undefined;
  /** Told what is being worked on, for a line of progress. */
  readonly progress?: (what: string) => void;
}

/** A file to write: a name within the output folder, and its text. */
export interface OutputFile {
  readonly name: string;
  readonly kind: "program" | "dry run" | "sheet" | "report";
  readonly text: string;
}

/** What a run gives. */
export interface Made {
  /** `input`: the job, shop or post is wrong, nothing was made. `proof`: some programs were refused and held back. */
  readonly verdict: "fine" | "input" | "proof";
  readonly findings: readonly Finding[];
  readonly files: readonly OutputFile[];
  readonly report?: Report;
}

/** A job with its shop, planned: everything before paths. */
export interface Planned {
  readonly job: Job;
  readonly shop: Shop;
  readonly shopText: string;
  readonly setUps: readonly PlannedSetUp[];
}

/** Reads job and shop, derives parts, plans set-ups and operations. Independent findings of a stage come together. */
export function planAll(texts: Texts): Outcome<Planned> {
  const job = readJob(texts.jobText, texts.jobFile, texts.readText ?? (() => undefined));
  const shopSource = texts.shop ?? namedShop(texts, job.ok ? job.value : undefined);
  if ("finding" in shopSource) return { ok: false, findings: [...job.findings, shopSource.finding] };
  const shop = readShop(shopSource.text, shopSource.file);
  const early = [...job.findings, ...shop.findings];
  if (!job.ok || !shop.ok) return { ok: false, findings: early };
  const parts = describeWorkpieces(job.value);
  const described = [...early, ...parts.findings];
  if (!parts.ok) return { ok: false, findings: described };
  const plan = planJob(job.value, parts.value, shop.value);
  const findings = [...described, ...plan.findings];
  if (!plan.ok) return { ok: false, findings };
  return {
    ok: true,
    value: { job: job.value, shop: shop.value, shopText: shopSource.text ?? "", setUps: plan.value },
    findings,
  };
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

/** A job ready to be made: one task for each set-up, none of which needs another's result. */
export interface Prepared {
  readonly planned: Planned;
  readonly tasks: readonly SetUpTask[];
  readonly findings: readonly Finding[];
}

/** Everything before paths. No value when the job, the shop or a post is wrong. */
export function prepare(texts: Texts): Outcome<Prepared> {
  const plan = planAll(texts);
  if (!plan.ok) return plan;
  const planned = plan.value;
  const posts = new Map<string, Outcome<Post>>();
  for (const { setUp } of planned.setUps) {
    const name = setUp.machine.post;
    if (!posts.has(name)) posts.set(name, postFor(name, texts));
  }
  const findings = [...plan.findings, ...[...posts.values()].flatMap((p) => p.findings)];
  const tasks: SetUpTask[] = [];
  let sequence = 1;
  for (const one of planned.setUps) {
    const post = posts.get(one.setUp.machine.post);
    if (post === undefined || !post.ok) return { ok: false, findings };
    tasks.push({ planned: one, post: post.value, sequence });
    // Numbered by what is planned, so that a program that is held back doesn't renumber the others.
    sequence += countPrograms(one.operations, post.value);
  }
  return { ok: true, value: { planned, tasks, findings }, findings };
}

/**
 * Makes everything: programs, dry runs, sheets and the report, each program proved against its part before it counts.
 * A set-up whose program is refused is held back whole; the others stand. Same texts, same bytes.
 */
export function makeAll(texts: Texts): Made {
  const prepared = prepare(texts);
  if (!prepared.ok) return { verdict: "input", findings: prepared.findings, files: [] };
  const { planned, tasks } = prepared.value;
  const results = tasks.map((task, i) => {
    texts.progress?.(progressLine(tasks, i));
    return makeSetUp(task, { job: planned.job, shop: planned.shop });
  });
  return gather(texts.jobText, prepared.value, results);
}

/** What is being worked on, in words. */
export function progressLine(tasks: readonly SetUpTask[], i: number): string {
  return `${i + 1} of ${tasks.length}: ${tasks[i]?.planned.setUp.name ?? ""}`;
}

/** Puts the results of all tasks, in the tasks' order, together and seals them. */
export function gather(jobText: string, prepared: Prepared, results: readonly SetUpResult[]): Made {
  const { planned, tasks } = prepared;
  const findings = [...prepared.findings, ...results.flatMap((r) => r.findings)];
  const made = results.flatMap((r) => (r.made === undefined ? [] : [r.made]));
  const heldBack = results.flatMap((r, i) =>
    r.made !== undefined
      ? []
      : [
          {
            setUp: tasks[i]!.planned.setUp.name,
            because: r.findings.filter((f) => f.grade === "refuse").map((f) => f.code),
          },
        ],
  );
  const verdict = (["input", "proof"] as const).find((v) => results.some((r) => r.verdict === v)) ?? "fine";
  const unsealed = reportOf(planned.job, planned.shop, made, heldBack, findings);
  const sealParts = [jobText, planned.shopText, VERSION, reportText(unsealed)];
  const seal = sealOf(sealParts);
  const report: Report = { ...unsealed, programs: unsealed.programs.map((p) => ({ ...p, seal })) };
  const files = made.flatMap((m) => m.programs.flatMap((p) => filesOf(p, sealParts)));
  return {
    verdict,
    findings,
    files: [...files, { name: "report.json", kind: "report", text: reportText(report) }],
    report,
  };
}

/** A program with what goes with it, sealed now that all of it has passed. */
function filesOf(p: MadeProgram, sealParts: readonly string[]): readonly OutputFile[] {
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

function reportOf(
  job: Job,
  shop: Shop,
  made: readonly MadeSetUp[],
  heldBack: Report["heldBack"],
  findings: readonly Finding[],
): Report {
  return {
    tillwright: VERSION,
    job: job.file,
    title: job.title,
    unit: job.unit,
    programs: made.flatMap((m) => m.programs.map((p) => p.entry)),
    heldBack,
    defaultsUsed: [...shop.defaultsUsed],
    findings: findings.map(reportFinding),
  };
}
