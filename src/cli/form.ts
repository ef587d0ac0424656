import { basename, join, resolve } from "node:path";
import { type FormGrid, formGrid, formGridOf } from "../job/form-grid.ts";
import { formPdf } from "../sheets/form.ts";
import { formHtml } from "../sheets/form-html.ts";
import { EXIT } from "./exit.ts";
import { readText, shown, sweepLeftovers, writeWhole } from "./files.ts";
import { say, sayError, sayFindings } from "./say.ts";

interface FormOptions {
  readonly rows?: string;
  readonly columns?: string;
  readonly names?: string;
  readonly units?: string;
  readonly out?: string;
}

/** Most rows or columns of an empty form. */
const MOST = 12;

/** `form`: the measuring sheet of a job's case, or of an empty one, as HTML and as PDF for both papers. */
export function form(job: string | undefined, options: FormOptions): void {
  const grid = job === undefined ? emptyGrid(options) : jobGrid(job);
  if (grid === undefined) {
    process.exitCode = EXIT.wrongInput;
    return;
  }
  const folder = resolve(options.out ?? ".");
  const stem = job === undefined ? "measuring-sheet" : `${basename(job).replace(/\.[^.]*$/, "")}-measuring-sheet`;
  const files = [
    { name: `${stem}.html`, bytes: Buffer.from(formHtml(grid), "utf8") },
    { name: `${stem}-a4.pdf`, bytes: formPdf(grid, "A4") },
    { name: `${stem}-letter.pdf`, bytes: formPdf(grid, "Letter") },
  ];
  try {
    sweepLeftovers(folder);
    for (const f of files) {
      writeWhole(join(folder, f.name), f.bytes);
      say(shown(join(folder, f.name)));
    }
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === undefined) throw error;
    sayError(
      `The sheet cannot be written into ${shown(folder)}: the system says ${code}. Name a folder of yours with --out.`,
    );
    process.exitCode = EXIT.wrongInput;
    return;
  }
  say(
    "Print at 100 %: the line marked 100 mm must measure 100 mm. Measure, fill the boxes, then: tillwright new my-cabinet.yaml",
  );
}

function jobGrid(path: string): FormGrid | undefined {
  const read = readText(path);
  if ("finding" in read) {
    sayFindings([read.finding]);
    return undefined;
  }
  const grid = formGridOf(read.text, shown(path));
  if (!("lacks" in grid)) return grid;
  sayFindings(grid.findings);
  sayError(`${grid.lacks}. For an empty sheet say how many: tillwright form --rows 3 --columns 2`);
  return undefined;
}

function emptyGrid(o: FormOptions): FormGrid | undefined {
  const rows = countOf(o.rows, "--rows");
  const columns = countOf(o.columns, "--columns");
  const unit = (o.units ?? "mm").trim().toLowerCase();
  if (unit !== "mm" && unit !== "in") {
    sayError("--units is mm or in.");
    return undefined;
  }
  if (rows === undefined || columns === undefined) return undefined;
  const names = (o.names ?? "")
    .split(",")
    .map((n) =>
      n
        .replace(/[\u0000-\u001f\u007f-\u009f]/g, " ")
        .trim()
        .replace(/\s+/g, " "),
    )
    .filter((n) => n !== "");
  if (names.length > rows * columns) {
    sayError(`${names.length} names are given for ${rows} × ${columns} openings.`);
    return undefined;
  }
  return formGrid("My cabinet", unit, rows, columns, names);
}

function countOf(text: string | undefined, option: string): number | undefined {
  const n = Number(text ?? "1");
  if (Number.isInteger(n) && n >= 1 && n <= MOST) return n;
  sayError(`${option} is a whole number from 1 to ${MOST}, for example ${option} 3.`);
  return undefined;
}
