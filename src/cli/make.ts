import { basename, join, resolve } from "node:path";
import type { Finding } from "../finding.ts";
import { type Made, makeAll, nothingMade, type OutputFile } from "../pipeline.ts";
import { verifySeal } from "../program/seal.ts";
import { EXIT } from "./exit.ts";
import { namesIn, readText, shown } from "./files.ts";
import { jsonFindings, progress, say, sayError, sayFindings, sayJson } from "./say.ts";
import { textsFor } from "./texts.ts";
import { writeAll } from "./write-all.ts";

interface MakeOptions {
  readonly out?: string;
  readonly shop?: string;
  readonly date?: string;
  readonly replaceEdited?: boolean;
  readonly json?: boolean;
}

/** `make`: everything, written into one folder. */
export function make(jobPath: string, options: MakeOptions): void {
  run(jobPath, options, () => true);
}

/** `preview`: the sheets only. */
export function preview(jobPath: string, options: MakeOptions): void {
  run(jobPath, options, (file) => file.kind === "sheet");
}

async function run(jobPath: string, options: MakeOptions, wanted: (file: OutputFile) => boolean): Promise<void> {
  const line = progress();
  const texts = textsFor(jobPath, options.shop, line.at, options.date);
  if ("findings" in texts) {
    tell(nothingMade(texts.findings), [], "", options);
    return;
  }
  const made = makeAll(texts.texts);
  line.done();
  const folder = resolve(
    options.out ??
      basename(jobPath)
        .replace(/\.[^.]*$/, "")
        .concat("-programs"),
  );
  const files = made.verdict === "input" ? [] : made.files.filter(wanted);
  const prints = made.verdict === "input" ? [] : made.prints;
  const disk = files.length === 0 ? [] : onDisk(folder, files, made, options.replaceEdited === true);
  const blocked = new Set(disk.filter((f) => f.grade === "refuse").map((f) => f.place.program?.file));
  const written: string[] = [];
  if (blocked.size === 0) {
    const trouble = writeAll(folder, [...files, ...prints], written);
    if (trouble !== undefined) disk.push(trouble);
  }
  tell({ ...made, findings: [...made.findings, ...disk] }, written, shown(folder), options);
}

/** What stands in the folder already that needs a word: edited programs, and programs of an earlier run. */
function onDisk(folder: string, files: readonly OutputFile[], made: Made, replaceEdited: boolean): Finding[] {
  const names = new Set(files.map((f) => f.name));
  return namesIn(folder).flatMap((name): Finding[] => {
    const path = join(folder, name);
    if (!/\.[a-z]{1,5}$/.test(name) || /\.(svg|html|csv|json|pdf|part)$/.test(name)) return [];
    const read = readText(path);
    if ("finding" in read) return [];
    const state = verifySeal(read.text);
    if (names.has(name)) {
      if (state.kind === "untouched" || replaceEdited) return [];
      return [
        {
          grade: "refuse",
          code: "file-edited-since",
          place: { program: { file: shown(path), line: 1 } },
          what: `${shown(path)} was changed since it was made, so it is not written over`,
          mend: "move it away, or say --replace-edited; nothing was written",
        },
      ];
    }
    if (state.kind === "no seal" || made.files.some((f) => f.name === name)) return [];
    return [
      {
        grade: "caution",
        code: "file-left-over",
        place: { program: { file: shown(path), line: 1 } },
        what: `${shown(path)} is left over from an earlier run and does not belong to this job as it stands now`,
        mend: "delete it, so that nobody cuts with it",
      },
    ];
  });
}

function tell(made: Made, written: readonly string[], folder: string, options: MakeOptions): void {
  const disk = made.findings.some((f) => f.grade === "refuse" && f.code.startsWith("file-"));
  process.exitCode =
    made.verdict === "input" || disk ? EXIT.wrongInput : made.verdict === "proof" ? EXIT.refused : EXIT.fine;
  if (options.json) {
    sayJson({ verdict: made.verdict, written, report: made.report ?? null, ...jsonFindings(made.findings) });
    return;
  }
  sayFindings(made.findings);
  const programs = [
    ...(made.report?.turnings ?? []).map((t) => ({ ...t, machine: t.lathe })),
    ...(made.report?.programs ?? []),
    ...(made.report?.beams ?? []),
  ];
  for (const p of programs.filter((q) => written.includes(q.file) || written.includes(q.sheet))) {
    const minutes = p.seconds < 90 ? `${Math.round(p.seconds)} s` : `${Math.round(p.seconds / 60)} min`;
    say(`${p.file}  ${p.setUp}, ${p.machine}, about ${minutes}`);
  }
  const held = made.report?.heldBack ?? [];
  for (const because of new Set(held.map((h) => [...new Set(h.because)].join(", ")))) {
    const own = held.filter((h) => [...new Set(h.because)].join(", ") === because).map((h) => h.setUp);
    const until = because === "fit-measure-first" ? " until you have measured what is asked above" : "";
    sayError(`held back${until} (${because}): ${own.join("; ")}`);
  }
  if (written.length > 0) {
    say(`${written.length} files written into ${folder}, every program among them proved against its part.`);
    if (written.includes("bench.html"))
      say(
        "Begin with bench.html, or bench-a4.pdf and bench-letter.pdf: the order of the work, to pin above the bench.",
      );
    // What router, lathe and beam are held against differs: all of it, each line once.
    const lines = (of: (p: (typeof programs)[number]["proof"]) => readonly string[]): string =>
      [...new Set(programs.flatMap((p) => of(p.proof)))].map((l) => `  ${l}`).join("\n");
    if (programs.length > 0) {
      say(`Checked:\n${lines((b) => b.checked)}`);
      say(`Not checked:\n${lines((b) => b.notChecked)}`);
    }
    say("Rehearse in scrap first. Your machine's manual and qualified people come before this tool.");
  } else if (made.verdict === "input") sayError("Nothing was written.");
}
