import type { Finding, Outcome } from "../finding.ts";
import { refuses } from "../finding.ts";
import type { LengthUnit } from "../units/unit-table.ts";
import { readBoards } from "./boards.ts";
import { readDividers } from "./dividers-read.ts";
import { readBottomMarks } from "./drawer-marks.ts";
import type { CabinetDescription } from "./drawers.ts";
import { readCabinet } from "./drawers-read.ts";
import { type Files, fileIn } from "./files.ts";
import { readFitCard } from "./fit-card-read.ts";
import { cellCalled, type FrontView, readFrontView, viewOfCase } from "./front-view.ts";
import { findingsOf } from "./issues.ts";
import type { Job } from "./job.ts";
import { jobFinding } from "./job-finding.ts";
import type { FlatMark, NamedCopy } from "./mark.ts";
import { readMeasured } from "./measured.ts";
import { readOverrides } from "./overrides.ts";
import { pairFindings } from "./pairs.ts";
import { readParts } from "./parts.ts";
import { readTree } from "./read-tree.ts";
import { rootSchema, unitWord } from "./schema.ts";
import { type SourceText, sourceText } from "./source-text.ts";
import { readStock } from "./stock.ts";
import { entryOf, placeOf, type Tree, toData } from "./tree.ts";

/** Most findings told at once: more are no help. */
const MOST_FINDINGS = 50;

/**
 * Reads a job file (its syntax stands in `schema.ts`). Everything that is wrong is told at once, in the order of the
 * lines, each with its place and how to mend it; only what would merely repeat another finding is left out.
 * @param text the whole file, at most 64 KB
 * @param file its name, for findings
 * @param readText gives the text of a file by its path relative to the job's folder; undefined: no such file. It is
 *   only ever asked for paths inside that folder.
 * @param more fonts and pictures by their paths, the bundled outline face, today's date: what else marks may ask for
 */
export function readJob(
  text: string,
  file: string,
  readText: Files["readText"],
  more: Omit<Files, "readText"> = {},
): Outcome<Job> {
  const tree = readTree(sourceText(file, text.startsWith("\ufeff") ? text.slice(1) : text));
  if (!tree.root) return { ok: false, findings: told(tree.findings) };
  const read = readWhole(tree.source, tree.root, { ...more, readText });
  if (tree.shaky) return { ok: false, findings: told([...tree.findings, ...before(read.findings, tree.findings)]) };
  const findings = told(overridden([...tree.findings, ...read.findings], read.job?.overrides ?? read.overrides));
  if (read.job === undefined || refuses(findings)) return { ok: false, findings };
  return { ok: true, value: read.job, findings };
}

interface Whole {
  readonly job: Job | undefined;
  readonly overrides: Job["overrides"];
  readonly findings: readonly Finding[];
}

function readWhole(source: SourceText, root: Tree, files: Files): Whole {
  const own = entryOf(root, "drawers") !== undefined || entryOf(root, "fit card") !== undefined;
  const head = rootSchema(own).safeParse(toData(root));
  const found: Finding[] = [];
  if (!head.success) found.push(...findingsOf(head.error.issues, { source, node: root }));
  const section = (key: string): Tree | undefined => entryOf(root, key)?.value;
  const said = unitSaid(root);
  const unit: LengthUnit = said ?? "mm";
  const measured = readMeasured(source, section("measured"), unit, said !== undefined);
  const reading = { unit, unitKnown: said !== undefined, names: measured.names };
  const partsNode = section("parts");
  const front = readFrontView(source, section("front view"));
  const inCase = viewOfCase(section("case"));
  const view = front.view ?? inCase;
  const parts = readParts(source, partsNode, reading, files, view);
  const boards = readBoards(source, section("boards"), reading, parts.names, parts.turnedNames);
  const cabinet = readCabinet(source, entryOf(root, "case"), entryOf(root, "drawers"), reading, parts.turnedNames);
  const card = readFitCard(source, entryOf(root, "fit card"), reading);
  const bottoms = readBottomMarks(source, entryOf(root, "drawers"), reading, files, view, openingsOf(inCase, view));
  const stock = readStock(source, entryOf(root, "stock"), reading);
  const flat = parts.names.filter((n) => !parts.turnedNames.includes(n));
  const dividers = readDividers(source, section("dividers"), reading, flat);
  const overrides = readOverrides(source, section("override"));
  found.push(
    ...measured.findings,
    ...front.findings,
    ...parts.findings,
    ...boards.findings,
    ...cabinet.findings,
    ...dividers.findings,
    ...bottoms.findings,
    ...card.findings,
    ...stock.findings,
    ...overrides.findings,
    ...pairFindings(parts.parts),
  );
  if (partsNode?.kind === "map" && partsNode.entries.length === 0) {
    found.push(
      jobFinding("job-empty", placeOf(source, partsNode), "this job has no parts", {
        mend: 'name a part below "parts:", and below it its "blank:"',
      }),
    );
  }
  const shop = entryOf(root, "shop")?.value;
  if (shop?.kind === "text") {
    const named = fileIn(files, shop.text.trim());
    if (!named.ok) found.push(jobFinding(named.code, placeOf(source, shop), named.what, { mend: named.mend }));
  }
  if (!head.success) return { job: undefined, overrides: overrides.overrides, findings: found };
  const job: Job = {
    file: source.file,
    title: head.data.title,
    unit: head.data.units,
    measured: measured.measurements,
    parts: parts.parts,
    ...(parts.turned.length > 0 && { turned: parts.turned }),
    boards: boards.boards,
    ...(cabinet.cabinet && { cabinet: withMarks(cabinet.cabinet, bottoms.marks) }),
    ...(dividers.dividers.length > 0 && { dividers: dividers.dividers }),
    ...(card.fitCard && { fitCard: card.fitCard }),
    ...(stock.stock.length > 0 && { stock: stock.stock }),
    overrides: overrides.overrides,
    ...(head.data.shop !== undefined && { shopFile: head.data.shop }),
  };
  return { job, overrides: overrides.overrides, findings: found };
}

/** The openings of the case as copies of a drawer, each where the front view has it. */
function openingsOf(inCase: FrontView | undefined, view: FrontView | undefined): readonly NamedCopy[] {
  return (inCase?.cells ?? []).flatMap((c) => {
    if (c.name === undefined) return [];
    const at = (view === undefined ? undefined : cellCalled(view, c.name)) ?? c;
    return [{ name: c.name, row: at.row, column: at.column }];
  });
}

function withMarks(cabinet: CabinetDescription, marks: readonly FlatMark[]): CabinetDescription {
  const { drawers } = cabinet;
  if (drawers === undefined || marks.length === 0) return cabinet;
  return { ...cabinet, drawers: { ...drawers, bottoms: { ...drawers.bottoms, marks } } };
}

/** The file's unit where it can be read at all. */
function unitSaid(root: Tree): LengthUnit | undefined {
  const value = entryOf(root, "units")?.value;
  if (value?.kind !== "text") return undefined;
  const read = unitWord().safeParse(value.text);
  return read.success ? read.data : undefined;
}

/** Codes that only tell of the very value they point at, and so hold even where lines further down cannot be read. */
const LOCAL: ReadonlySet<Finding["code"]> = new Set([
  "quantity-missing",
  "quantity-unreadable",
  "number-form",
  "number-too-large",
  "unit-unknown",
  "unit-wrong-kind",
  "bare-fraction",
  "decimal-comma",
  "fraction-of-zero",
  "size-not-positive",
  "key-unknown",
  "word-unknown",
]);

/** Findings above the first line that could not be read, as far as they don't depend on what follows. */
function before(findings: readonly Finding[], unreadable: readonly Finding[]): readonly Finding[] {
  const first = Math.min(...unreadable.map((f) => f.place.source?.line ?? 0));
  return findings.filter((f) => LOCAL.has(f.code) && (f.place.source?.line ?? 0) < first);
}

/** Refusals that the job overrides become cautions. */
function overridden(findings: readonly Finding[], overrides: Job["overrides"]): readonly Finding[] {
  return findings.map((f) => {
    const reason = f.grade === "refuse" ? overrides.find((o) => o.code === f.code) : undefined;
    return reason
      ? {
          ...f,
          grade: "caution",
          why: [f.why, `overridden on line ${reason.source.line}: ${reason.because}`].filter(Boolean).join("; "),
        }
      : f;
  });
}

/** Each finding once, by line and column, and no more than can be read. */
function told(findings: readonly Finding[]): readonly Finding[] {
  const seen = new Set<string>();
  const once = findings.filter((f) => {
    const s = f.place.source;
    const key = `${s?.file}:${s?.line}:${s?.column}:${f.code}:${f.what}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
  const at = (f: Finding): number =>
    (f.place.source?.line ?? 0) * 10_000 + Math.min(9_999, f.place.source?.column ?? 0);
  const sorted = once.sort((a, b) => at(a) - at(b));
  if (sorted.length <= MOST_FINDINGS) return sorted;
  const shown = sorted.slice(0, MOST_FINDINGS);
  const last = shown.at(-1)?.place.source;
  const more = sorted.length - MOST_FINDINGS;
  return last
    ? [
        ...shown,
        {
          ...jobFinding("job-findings-more", last, `and ${more} more like these further down`, {
            mend: "mend these first, and read the file again",
          }),
          grade: "refuse",
        },
      ]
    : shown;
}
