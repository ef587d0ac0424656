import { type Finding, refuses } from "../finding.ts";
import { makeAll, planAll } from "../pipeline.ts";
import { verifySeal } from "../program/seal.ts";
import type { ProgramToProve } from "../proof/proof.ts";
import { proveSetUp } from "../proof/prove.ts";
import { proveTurning } from "../proof/turning/prove.ts";
import { readProgram } from "../reader/read.ts";
import { defaultLathes } from "../shop/default-lathes.ts";
import { xSignOf } from "../shop/lathe.ts";
import { readShop } from "../shop/read-shop.ts";
import { EXIT } from "./exit.ts";
import { readText } from "./files.ts";
import { jsonFindings, progress, say, sayFindings, sayJson } from "./say.ts";
import { textsFor } from "./texts.ts";

interface CheckOptions {
  readonly job?: string;
  readonly setUp?: string;
  readonly machine?: string;
  readonly shop?: string;
  readonly date?: string;
  readonly json?: boolean;
}

/** What checking one file found. */
interface Checked {
  readonly file: string;
  readonly verdict: "fine" | "refused" | "input";
  /** One sentence for the person. */
  readonly said: string;
  readonly findings: readonly Finding[];
}

/** `check`: jobs without writing, programs by their seal, their rules and, with a job, their part. */
export function check(files: readonly string[], options: CheckOptions): void {
  const isJob = (file: string): boolean => /\.ya?ml$/i.test(file);
  const results = [
    ...files.filter(isJob).map((file) => checkJob(file, options)),
    ...checkPrograms(
      files.filter((file) => !isJob(file)),
      options,
    ),
  ];
  if (options.json)
    sayJson(results.map((r) => ({ file: r.file, verdict: r.verdict, said: r.said, ...jsonFindings(r.findings) })));
  else {
    for (const r of results) {
      sayFindings(r.findings);
      say(`${r.file}: ${r.said}`);
    }
  }
  process.exitCode = results.some((r) => r.verdict === "input")
    ? EXIT.wrongInput
    : results.some((r) => r.verdict === "refused")
      ? EXIT.refused
      : EXIT.fine;
}

function checkJob(file: string, options: CheckOptions): Checked {
  const line = progress();
  const texts = textsFor(file, options.shop, line.at, options.date);
  if ("findings" in texts) return { file, verdict: "input", said: "not checked", findings: texts.findings };
  const made = makeAll(texts.texts);
  line.done();
  const programs = made.files.filter((f) => f.kind === "program").length;
  const verdict = made.verdict === "fine" ? "fine" : made.verdict === "proof" ? "refused" : "input";
  const said =
    verdict === "fine"
      ? `fine: ${programs} programs would be made, each proved against its part`
      : verdict === "refused"
        ? `${made.report?.heldBack.length ?? 0} set-ups did not pass their proof; ${programs} programs would be made`
        : "wrong input; nothing would be made";
  return { file, verdict, said, findings: made.findings };
}

/**
 * Programs by their seal and their rules; with a job, against its part. Where a machine takes one bit a file, a set-up's
 * files are given together, in the order they are run, and proved together.
 */
function checkPrograms(files: readonly string[], options: CheckOptions): readonly Checked[] {
  const read = files.map((file) => ({ file, read: readText(file) }));
  const programs = read.flatMap((r) => ("text" in r.read ? [{ file: r.file, text: r.read.text }] : []));
  const missing = read.flatMap((r): Checked[] =>
    "finding" in r.read ? [{ file: r.file, verdict: "input", said: "not checked", findings: [r.read.finding] }] : [],
  );
  if (options.job === undefined || programs.length === 0) {
    return [...missing, ...programs.map((p) => judged(p, onItsOwn(p.file, p.text, options), options))];
  }
  const together = againstPart(programs, options.job, options);
  if ("input" in together) {
    const told = programs.map((p, i): Checked => {
      return { file: p.file, verdict: "input", said: "not checked", findings: i === 0 ? together.input : [] };
    });
    return [...missing, ...told];
  }
  const last = programs.length - 1;
  const own = (file: string, i: number): readonly Finding[] =>
    together.findings.filter((f) => f.place.program?.file === file || (f.place.program === undefined && i === last));
  const checked = programs.map((p, i) => judged(p, { findings: own(p.file, i) }, options));
  if (!refuses(together.findings)) return [...missing, ...checked];
  // Proved together, refused together.
  const held = checked.map((c): Checked => {
    return refuses(c.findings)
      ? c
      : { ...c, verdict: "refused", said: "not proved: it goes with a file that is refused" };
  });
  return [...missing, ...held];
}

function judged(p: { readonly file: string; readonly text: string }, rules: Rules, options: CheckOptions): Checked {
  if ("input" in rules) return { file: p.file, verdict: "input", said: "not checked", findings: rules.input };
  const seal = sealFinding(p.file, p.text);
  const findings = [...(seal.finding ? [seal.finding] : []), ...rules.findings];
  const verdict = refuses(findings) ? "refused" : "fine";
  const kept = options.job === undefined ? "keeps the rules of RS-274" : "proved against its part";
  return { file: p.file, verdict, said: `${seal.said}; ${refuses(rules.findings) ? "breaks a rule" : kept}`, findings };
}

function sealFinding(file: string, text: string): { readonly said: string; readonly finding?: Finding } {
  const state = verifySeal(text);
  const place = { program: { file, line: 1 } };
  switch (state.kind) {
    case "untouched":
      return state.seal === undefined
        ? { said: "as it was written, but it carries no proof" }
        : { said: `the file that was proved, seal ${state.seal}` };
    case "edited":
      return {
        said: "changed since it was proved",
        finding: {
          grade: "refuse",
          code: "seal-broken",
          place,
          what: "this is not the file that was proved: someone or something changed it",
          mend: "make it again, or check it against its part with --job and --set-up",
        },
      };
    case "no seal":
      return {
        said: "carries no seal",
        finding: {
          grade: "note",
          code: "seal-missing",
          place,
          what: "this program carries no seal, so nobody can tell which check it passed",
        },
      };
  }
}

type Rules = { readonly findings: readonly Finding[] } | { readonly input: readonly Finding[] };

/** Rules of the language alone, and of the controller when a machine is named. */
function onItsOwn(file: string, text: string, options: CheckOptions): Rules {
  const shopFile = options.shop === undefined ? undefined : readText(options.shop);
  if (shopFile !== undefined && "finding" in shopFile) return { input: [shopFile.finding] };
  const shop = readShop(shopFile?.text, options.shop ?? "built-in defaults");
  if (!shop.ok) return { input: shop.findings };
  const wanted = options.machine;
  const lathes = shop.value.lathes ?? defaultLathes();
  const manner = verifySeal(text).kind !== "no seal" && wanted !== undefined ? "ours" : "any";
  const lathe = lathes.find((l) => l.name === wanted);
  if (lathe !== undefined) {
    // How far out is clear of the wood, only the part can tell: halts and dry runs move with the spindle off.
    const reading = { xWords: lathe.xWords, side: xSignOf(lathe), safeRadius: 0, stockRadius: 0 };
    return { findings: readProgram(text, file, lathe.controller, { manner, lathe: reading }).findings };
  }
  const machine = shop.value.machines.find((m) => wanted === undefined || m.name === wanted);
  if (machine === undefined) {
    const known = [...shop.value.machines, ...lathes].map((m) => m.name);
    return { input: [unknownName("machine", wanted ?? "", known)] };
  }
  return { findings: readProgram(text, file, machine.controller, { manner }).findings };
}

/** The whole proof, against one set-up of a job: on the router or on the lathe. */
function againstPart(programs: readonly ProgramToProve[], job: string, options: CheckOptions): Rules {
  const texts = textsFor(job, options.shop, undefined, options.date);
  if ("findings" in texts) return { input: texts.findings };
  const planned = planAll(texts.texts);
  if (!planned.ok) return { input: planned.findings };
  const { setUps, pieces, shop } = planned.value;
  const turnings = pieces.flatMap((p) => p.turning ?? []);
  const names = [...turnings, ...setUps].map((s) => s.setUp.name);
  const wanted = options.setUp ?? (names.length === 1 ? names[0]! : "");
  const one = setUps.find((s) => s.setUp.name === wanted);
  if (one !== undefined) return { findings: proveSetUp({ setUp: one.setUp, programs, shop }).findings };
  const turning = turnings.find((t) => t.setUp.name === wanted);
  if (turning !== undefined) return { findings: proveTurning({ setUp: turning.setUp, programs, shop }).findings };
  return { input: [unknownName("set-up", wanted, names)] };
}

function unknownName(kind: string, name: string, known: readonly string[]): Finding {
  return {
    grade: "refuse",
    code: "name-unknown",
    place: {},
    what: name === "" ? `say which ${kind} is meant` : `there is no ${kind} called "${name}"`,
    mend: `it is one of: ${known.map((k) => `"${k}"`).join(", ")}`,
  };
}
