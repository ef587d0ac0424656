#!/usr/bin/env node
import { Command, CommanderError } from "commander";
import { VERSION } from "../version.ts";
import { EXIT } from "./exit.ts";

/**
 * The command line. Each command's own file is loaded only when it runs, so that `--help` answers at once.
 * This folder is the only one that touches files, the clock or the terminal.
 */
const program = new Command("tillwright")
  .description(
    "From measured openings and a short job file to checked programs for router, laser and lathe, with sheets and a cut list.",
  )
  .version(VERSION, "-V, --version", "print the version")
  .showSuggestionAfterError(true)
  .helpCommand(false)
  .exitOverride()
  .addHelpText(
    "after",
    `
Exit codes:
  0  fine
  1  refused: a program did not pass its proof, or a file is not what was proved
  2  wrong input: a job, a shop file or the words of the command
  3  a mistake of Tillwright's own

Examples:
  tillwright form --rows 3 --columns 2       # a sheet to measure a case of drawers by
  tillwright new my-drawer.yaml              # asks, then writes a job file
  tillwright make my-drawer.yaml             # programs, previews, report
  tillwright check my-drawer-programs/01-side-face-up.nc   # is this the file that was proved?`,
  );

const json = ["--json", "print one JSON document instead of sentences"] as const;
const shop = ["--shop <file>", "your shop file (else the job's own, else built-in defaults)"] as const;

const date = ["--date <date>", "the date that marks write for today, as 2026-11-25 (else the clock's)"] as const;

program
  .command("make")
  .description("derive the parts, make every program, prove it, write it")
  .argument("<job>", "job file, YAML")
  .option("-o, --out <folder>", "where to write (default: <job>-programs)")
  .option(...shop)
  .option(...date)
  .option("--replace-edited", "write over programs that someone changed since they were made")
  .option(...json)
  .action(async (job: string, options) => (await import("./make.ts")).make(job, options));

program
  .command("check")
  .description("check a job without writing, or a program file on disk: its seal and its rules")
  .argument("<file...>", "job files (.yaml) or programs")
  .option("--job <file>", "check a program against the parts of this job")
  .option("--set-up <name>", "which of the job's set-ups it is for")
  .option("--machine <name>", "the machine whose controller the program is for")
  .option(...shop)
  .option(...date)
  .option(...json)
  .action(async (files: string[], options) => (await import("./check.ts")).check(files, options));

program
  .command("preview")
  .description("draw the sheets only")
  .argument("<job>", "job file, YAML")
  .option("-o, --out <folder>", "where to write (default: <job>-programs)")
  .option(...shop)
  .option(...date)
  .option(...json)
  .action(async (job: string, options) => (await import("./make.ts")).preview(job, options));

program
  .command("form")
  .description("print the measuring sheet of a case: HTML, and PDF for A4 and US Letter")
  .argument("[job]", "job file whose case it is for (else an empty sheet)")
  .option("--rows <n>", "rows of openings on an empty sheet (default: 1)")
  .option("--columns <n>", "openings side by side (default: 1)")
  .option("--names <list>", "names of the openings, with commas between, in rows from the top")
  .option("--units <unit>", "mm or in (default: mm)")
  .option("-o, --out <folder>", "where to write (default: here)")
  .action(async (job: string | undefined, options) => (await import("./form.ts")).form(job, options));

program
  .command("new")
  .description("ask in shop words and write a commented job file")
  .argument("[file]", "the job file to write", "job.yaml")
  .action(async (file: string) => (await import("./new.ts")).newJob(file));

program
  .command("schema")
  .description("print a JSON Schema: of the job file, the shop file, a post or the report")
  .argument("[what]", "job, shop, post or report", "job")
  .action(async (what: string) => (await import("./schema.ts")).schema(what));

program
  .command("card")
  .description("make a card to burn on waste: test, kerf, grey or cross; or write down the cell that was chosen")
  .argument("<kind>", "test: powers × speeds; kerf: slits; grey: tones; cross: where the refitted head burns")
  .option("--wood <wood>", "what it is burned on")
  .option("--effect <effect>", "the setting to measure, or what the chosen cell is good for")
  .option("--powers <list>", "of a test card, per cent, one row each", "10,20,35,60,100")
  .option("--speeds <list>", "of a test card, mm/min, one column each", "400,800,1500,3000")
  .option("--burn <way>", "line or area", "line")
  .option("--passes <n>", "how often", "1")
  .option("--spacing <mm>", "between lines of an area (default: half the spot)")
  .option("--cell <mm>", "side of a cell or field", "8")
  .option("--label <setting>", "what surely leaves a line, for the numbers: per cent at mm/min", "50 at 1000")
  .option("--thickness <mm>", "of the waste", "9")
  .option("--length <mm>", "of a kerf card or cross's waste", "120")
  .option("--width <mm>", "of a kerf card or cross's waste", "40")
  .option("--slits <n>", "of a kerf card", "10")
  .option("--fields <n>", "of a grey card", "11")
  .option("--across <mm>", "of a cross", "10")
  .option("--chosen <cell>", 'of a test card: "row 2, column 3"; prints lines for the shop file')
  .option("-o, --out <folder>", "where to write (default: <kind>-card)")
  .option(...shop)
  .option(...json)
  .action(async (kind: string, options) => (await import("./card.ts")).card(kind, options));

for (const [name, what] of [
  ["cutters", "list the cutters this shop owns"],
  ["machines", "list the routers"],
  ["lathes", "list the lathes and turning tools"],
  ["posts", "list the program dialects"],
  ["woods", "list the woods and panels"],
] as const) {
  program
    .command(name)
    .description(what)
    .option(...shop)
    .option(...json)
    .action(async (options) => (await import("./lists.ts")).list(name, options));
}

try {
  await program.parseAsync();
} catch (error) {
  if (error instanceof CommanderError) {
    process.exitCode = error.exitCode === 0 ? EXIT.fine : EXIT.wrongInput;
  } else {
    (await import("./say.ts")).sayOurBug(error);
    process.exitCode = EXIT.ourBug;
  }
}
