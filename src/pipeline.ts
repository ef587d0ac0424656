import { type Finding, type Measured, type Outcome, refuses } from "./finding.ts";
import { FINDING_CODES } from "./finding-codes.ts";
import type { Job } from "./job/job.ts";
import { readJob } from "./job/read-job.ts";
import { describeWorkpieces } from "./parts/describe.ts";
import type { Toolpath } from "./paths/move.ts";
import { pathFor } from "./paths/path-for.ts";
import { type PlannedSetUp, planJob } from "./plan/plan-job.ts";
import type { Post } from "./program/post.ts";
import type { ProgramText, WriteInput } from "./program/program-text.ts";
import { readPost } from "./program/read-post.ts";
import { sealOf, sealProgram } from "./program/seal.ts";
import { dryRunOf, writePrograms } from "./program/write-programs.ts";
import { type Proof, proveDryRun, proveSetUp, readOptions } from "./proof/prove.ts";
import { readProgram } from "./reader/read.ts";
import { type Report, type ReportProgram, reportFinding, reportText, tame } from "./sheets/report.ts";
import { drawSheet, type SheetStep } from "./sheets/sheet.ts";
import type { Cutter } from "./shop/cutter.ts";
import { readShop } from "./shop/read-shop.ts";
import type { Shop } from "./shop/shop.ts";
import { timeOf } from "./simulate/time.ts";
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

/**
 * Makes everything: programs, dry runs, sheets and the report, each program proved against its part before it counts.
 * A set-up whose program is refused is held back whole; the others stand. Same texts, same bytes.
 */
export function makeAll(texts: Texts): Made {
  const planned = planAll(texts);
  if (!planned.ok) return { verdict: "input", findings: planned.findings, files: [] };
  const { job, shop, setUps } = planned.value;
  const findings: Finding[] = [...planned.findings];
  const made: MadeSetUp[] = [];
  const heldBack: Report["heldBack"] = [];
  let verdict: Made["verdict"] = "fine";
  let sequence = 1;
  for (const [i, one] of setUps.entries()) {
    texts.progress?.(`${i + 1} of ${setUps.length}: ${one.setUp.name}`);
    const result = makeSetUp(one, planned.value, texts, sequence);
    findings.push(...result.findings);
    if (result.made !== undefined) {
      made.push(result.made);
      sequence += result.made.programs.length;
    } else {
      verdict = result.verdict === "input" ? "input" : verdict === "input" ? "input" : "proof";
      heldBack.push({
        setUp: one.setUp.name,
        because: result.findings.filter((f) => f.grade === "refuse").map((f) => f.code),
      });
      sequence += 1;
    }
  }
  const unsealed = reportOf(job, shop, made, heldBack, findings);
  const sealParts = [texts.jobText, planned.value.shopText, VERSION, reportText(unsealed)];
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

interface MadeProgram {
  readonly program: ProgramText;
  readonly dryRun: ProgramText | undefined;
  readonly sheetName: string;
  readonly sheet: string;
  readonly entry: ReportProgram;
}

interface MadeSetUp {
  readonly programs: readonly MadeProgram[];
}

interface SetUpResult {
  readonly made?: MadeSetUp;
  readonly verdict: Made["verdict"];
  readonly findings: readonly Finding[];
}

function makeSetUp(one: PlannedSetUp, all: Planned, texts: Texts, sequence: number): SetUpResult {
  const post = postFor(one.setUp.machine.post, texts);
  if (!post.ok) return { verdict: "input", findings: post.findings };
  const paths = one.operations.map((o) => pathFor(o, one.setUp));
  const pathFindings = paths.flatMap((p) => p.findings);
  const toolpaths = paths.flatMap((p): Toolpath[] => (p.ok ? [p.value] : []));
  if (toolpaths.length < paths.length) return { verdict: "input", findings: pathFindings };
  const input: WriteInput = {
    setUp: one.setUp,
    toolpaths,
    post: post.value,
    title: all.job.title,
    version: VERSION,
    sequence,
    overrides: all.job.overrides,
    cautions: [],
  };
  const written = writePrograms(input);
  const dry = dryRunOf(input);
  const writing = [...post.findings, ...pathFindings, ...written.findings, ...dry.findings];
  if (!written.ok || !dry.ok) return { verdict: "input", findings: writing };
  const proof = proveSetUp({
    setUp: one.setUp,
    programs: written.value.map((p) => ({ file: p.name, text: p.text })),
    shop: all.shop,
  });
  const dryFindings = dry.value.flatMap(
    (d, i) => proveDryRun(one.setUp, { file: d.name, text: d.text }, i, dry.value.length).findings,
  );
  const proved = overridden([...proof.findings, ...dryFindings], all.job.overrides);
  const findings = [...writing, ...proved];
  if (refuses(findings)) return { verdict: "proof", findings };
  const programs = written.value.map((program, i) =>
    madeProgram(program, dry.value[i], one, all, post.value, proof, findings),
  );
  return { made: { programs }, verdict: "fine", findings };
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

/**
 * A refusal that the job overrides becomes a caution that says so. What would wreck wood, machine or person cannot be
 * overridden (`override: false` in the list of codes).
 */
export function overridden(findings: readonly Finding[], overrides: Job["overrides"]): readonly Finding[] {
  return findings.map((f) => {
    const by = overrides.find((o) => o.code === f.code);
    if (f.grade !== "refuse" || by === undefined || !FINDING_CODES[f.code].override) return f;
    return {
      ...f,
      grade: "caution",
      what: `overridden: ${f.what}`,
      mend: `overridden in the job because: ${by.because}`,
    };
  });
}

function madeProgram(
  program: ProgramText,
  dryRun: ProgramText | undefined,
  one: PlannedSetUp,
  all: Planned,
  post: Post,
  proof: Proof,
  findings: readonly Finding[],
): MadeProgram {
  const { setUp } = one;
  const read = readProgram(program.text, program.name, setUp.machine.controller, readOptions(setUp));
  const time = timeOf(read.events, setUp.machine);
  const base = program.name.replace(/\.[^.]*$/, "");
  const sheetName = `${base}.svg`;
  const steps = program.operations.map((o): SheetStep => {
    const operation = one.operations.find((p) => p.id === o.id);
    return {
      n: o.label,
      title: o.title,
      cutter: o.cutter,
      why: operation?.cutterReason ?? "",
      rpm: operation?.speeds.rpm ?? 0,
      feed: operation?.speeds.feed ?? 0,
      seconds: tame(time.operations.find((t) => t.n === o.label)?.seconds ?? 0),
    };
  });
  const told = findings.filter((f) => f.grade !== "note" && (f.place.program?.file ?? program.name) === program.name);
  const sheet = drawSheet({
    jobTitle: all.job.title,
    file: program.name,
    setUp,
    read,
    steps,
    findings: told,
    seconds: time.seconds,
    defaultsUsed: defaultsIn(program, one, all),
    checked: proof.checked,
    notChecked: proof.notChecked,
  });
  const figures: Record<string, Measured> = {};
  for (const [name, m] of Object.entries(proof.figures)) {
    figures[name] = { value: tame(m.value), bound: tame(m.bound), unit: m.unit };
  }
  const entry: ReportProgram = {
    file: program.name,
    dryRun: dryRun?.name ?? null,
    sheet: sheetName,
    parts: [...new Set(setUp.cavities.map((c) => c.part))],
    setUp: setUp.name,
    machine: setUp.machine.name,
    post: post.name,
    seal: "",
    cutters: program.cutters.map(cutterEntry),
    stock: setUp.blank,
    zero: { x: 0, y: 0, z: 0, how: setUp.zero.how },
    safeZ: tame(setUp.safeZ),
    seconds: tame(time.seconds),
    steps,
    proof: { figures, checked: [...proof.checked], notChecked: [...proof.notChecked] },
    findings: told.map(reportFinding),
  };
  return { program, dryRun, sheetName, sheet, entry };
}

/** Which built-in defaults this program rests on, in words for the sheet. */
function defaultsIn(program: ProgramText, one: PlannedSetUp, all: Planned): readonly string[] {
  const { machine, workpiece } = one.setUp;
  const names = [machine, ...program.cutters].filter((t) => t.from === "built-in default").map((t) => `"${t.name}"`);
  const wood = all.shop.woods.find((w) => w.name === workpiece.wood && w.from === "built-in default");
  const habits = all.shop.defaultsUsed.some((d) => d.startsWith("habit"))
    ? ["the shop's habits of clearance and allowance"]
    : [];
  return [...names, ...(wood === undefined ? [] : [`averages for ${wood.name}`]), ...habits];
}

function cutterEntry(c: Cutter): ReportProgram["cutters"][number] {
  const f = c.form;
  return {
    name: c.name,
    slot: c.slot,
    kind: f.kind,
    diameter: c.diameter,
    diameterMeasured: c.diameterMeasured,
    includedAngle:
      f.kind === "v" || f.kind === "countersink" ? f.includedAngle : f.kind === "drill" ? f.pointAngle : null,
    cornerRadius: f.kind === "radiused-corner" ? f.cornerRadius : f.kind === "round-nose" ? c.diameter / 2 : null,
    tipFlat: f.kind === "v" || f.kind === "countersink" ? f.tipFlat : null,
    fluteLength: c.fluteLength,
    stickOut: c.stickOut,
    from: c.from,
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
