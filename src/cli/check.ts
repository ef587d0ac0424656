import { type Finding, refuses } from "../finding.ts";
import { makeAll, planAll } from "../pipeline.ts";
import { verifySeal } from "../program/seal.ts";
import { proveSetUp } from "../proof/prove.ts";
import { readProgram } from "../reader/read.ts";
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
  const results = files.map((file) => (/\.ya?ml$/i.test(file) ? checkJob(file, options) : checkProgram(file, options)));
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
  const texts = textsFor(file, options.shop, line.at);
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

function checkProgram(file: string, options: CheckOptions): Checked {
  const read = readText(file);
  if ("finding" in read) return { file, verdict: "input", said: "not checked", findings: [read.finding] };
  const seal = sealFinding(file, read.text);
  const rules =
    options.job === undefined ? onItsOwn(file, read.text, options) : againstPart(file, read.text, options.job, options);
  if ("input" in rules) return { file, verdict: "input", said: "not checked", findings: rules.input };
  const findings = [...(seal.finding ? [seal.finding] : []), ...rules.findings];
  const verdict = refuses(findings) ? "refused" : "fine";
  const kept = options.job === undefined ? "keeps the rules of RS-274" : "proved against its part";
  return { file, verdict, said: `${seal.said}; ${refuses(rules.findings) ? "breaks a rule" : kept}`, findings };
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
  const machine = shop.value.machines.find((m) => wanted === undefined || m.name === wanted);
  if (machine === undefined) {
    return {
      input: [
        unknownName(
          "machine",
          wanted ?? "",
          shop.value.machines.map((m) => m.name),
        ),
      ],
    };
  }
  const ours = verifySeal(text).kind !== "no seal";
  return {
    findings: readProgram(text, file, machine.controller, { manner: ours && wanted !== undefined ? "ours" : "any" })
      .findings,
  };
}

/** The whole proof, against one set-up of a job. */
function againstPart(file: string, text: string, job: string, options: CheckOptions): Rules {
  const texts = textsFor(job, options.shop);
  if ("findings" in texts) return { input: texts.findings };
  const planned = planAll(texts.texts);
  if (!planned.ok) return { input: planned.findings };
  const names = planned.value.setUps.map((s) => s.setUp.name);
  const wanted = options.setUp ?? (names.length === 1 ? names[0]! : "");
  const one = planned.value.setUps.find((s) => s.setUp.name === wanted);
  if (one === undefined) return { input: [unknownName("set-up", wanted, names)] };
  return { findings: proveSetUp({ setUp: one.setUp, programs: [{ file, text }], shop: planned.value.shop }).findings };
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
