import * as z from "zod";
import type { Finding, Source } from "../finding.ts";
import type {
  BackJointWish,
  BetweenRunners,
  BottomWish,
  CabinetDescription,
  CaseDescription,
  Climate,
  DrawersDescription,
  FrontJointWish,
  FrontWish,
  Given,
  MeasuredWith,
  MoistureToday,
  OpeningDescription,
  RunnerWish,
  StuffWish,
} from "./drawers.ts";
import { caseSchema, drawersSchema, openingSchema, type Readings } from "./drawers-schema.ts";
import { findingsOf, type Whose } from "./issues.ts";
import { jobFinding } from "./job-finding.ts";
import type { Reading } from "./leaves.ts";
import { allowedSpread } from "./measured.ts";
import { sourceAtPath } from "./places.ts";
import type { SourceText } from "./source-text.ts";
import { ROUGH } from "./stock-boards.ts";
import { type Entry, entryOf, find, type Path, placeOfKey, toData } from "./tree.ts";
import { canonicalKey } from "./words.ts";

const PRACTICE = "common practice, no source";
/** An opening's name has at most so many letters. */
const LONGEST_NAME = 50;

/** A cabinet as read; absent when the job has none, or when something in it is wrong. */
export interface ReadCabinet {
  readonly cabinet?: CabinetDescription;
  readonly findings: readonly Finding[];
}

/** Reads `case:` and `drawers:`. A mistake in one opening or section hides none in another. */
export function readCabinet(
  source: SourceText,
  caseEntry: Entry | undefined,
  drawersEntry: Entry | undefined,
  r: Reading,
  turnedNames: readonly string[],
): ReadCabinet {
  if (caseEntry === undefined) {
    if (drawersEntry === undefined) return { findings: [] };
    const lonely = jobFinding(
      "key-missing",
      placeOfKey(source, drawersEntry),
      '"case" is missing: drawers go into a case',
      {
        mend: 'write "case:" with its wood, its side thickness and its openings as measured',
      },
    );
    return { findings: [lonely] };
  }
  const found: Finding[] = [];
  const read = readCase(source, caseEntry, r, found);
  const thin = read && Math.min(read.sideThickness.value, read.dividerThickness?.value ?? read.sideThickness.value);
  const drawers =
    drawersEntry && readDrawers(source, drawersEntry, r, turnedNames, openingNames(caseEntry), thin ?? 12, found);
  if (found.some((f) => f.grade === "refuse") || read === undefined) return { findings: found };
  return { cabinet: { case: read, ...(drawers && { drawers }) }, findings: found };
}

/** Values with their places, below one section. */
interface Section extends Whose {
  readonly found: Finding[];
}

function said<T>(on: Section, path: Path, value: T): Given<T> {
  return { value, source: sourceAtPath(on, path) };
}

function orElse<T>(on: Section, path: Path, value: T | undefined, otherwise: T, why = PRACTICE): Given<T> {
  return value === undefined
    ? { value: otherwise, source: sourceAtPath(on, path), assumed: why }
    : { value, source: sourceAtPath(on, path) };
}

function refuse(on: Section, path: Path, code: Finding["code"], what: string, mend: string, why?: string): void {
  on.found.push(jobFinding(code, sourceAtPath(on, path), what, { mend, ...(why !== undefined && { why }) }));
}

/** Parses, and tells what is wrong; a joint said in one word is looked up where it stands. */
function parsed<S extends z.ZodType>(on: Section, schema: S): z.output<S> | undefined {
  const result = schema.safeParse(toData(on.node));
  if (result.success) return result.data;
  const issues = result.error.issues.map((issue) => {
    const above = find(on.node, issue.path.slice(0, -1), on.entry);
    const short = issue.path.at(-1) === "kind" && !above.missing && above.node.kind === "text";
    return short ? { ...issue, path: issue.path.slice(0, -1) } : issue;
  });
  on.found.push(...findingsOf(issues, on));
  return undefined;
}

function openingNames(caseEntry: Entry): readonly string[] {
  const openings = entryOf(caseEntry.value, "openings")?.value;
  return openings?.kind === "map" ? openings.entries.map((e) => tidy(e.key)) : [];
}

function tidy(name: string): string {
  return name.trim().replace(/\s+/g, " ");
}

function readCase(source: SourceText, entry: Entry, r: Reading, found: Finding[]): CaseDescription | undefined {
  const on: Section = { source, node: entry.value, entry, found };
  const data = parsed(on, caseSchema(r, z.any()));
  const withTool = data?.["measured with"] ?? "unsaid";
  const columns = data?.columns ?? 1;
  const openings = readOpenings(on, r, columns, withTool);
  if (data === undefined) return undefined;
  const listed = openingNames(entry).length;
  if (listed % columns !== 0) {
    refuse(
      on,
      ["openings"],
      "openings-uneven",
      `${listed} openings do not fill rows of ${columns}`,
      "list them in rows from the top, each from the left, or change the number of columns",
    );
  }
  if (columns > 1 && data["divider thickness"] === undefined) {
    refuse(
      on,
      ["columns"],
      "key-missing",
      '"divider thickness" is missing: openings stand side by side',
      'add "divider thickness: 12", as measured',
    );
  }
  const dry = data.seasons?.dry;
  const wet = data.seasons?.wet;
  const climate = (
    path: Path,
    air: { celsius: number; humidity: number } | undefined,
    otherwise: { celsius: number; humidity: number },
  ): Given<Climate> => {
    const at = sourceAtPath(on, path);
    return orElse(
      on,
      path,
      air && { ...air, source: at },
      { ...otherwise, source: at },
      "a heated room and a damp summer, common practice, no source",
    );
  };
  const divider = data["divider thickness"];
  return {
    wood: said(on, ["wood"], data.wood),
    sideThickness: said(on, ["side thickness"], data["side thickness"]),
    sideGrain: orElse(on, ["side grain"], data["side grain"], "upright" as const),
    sawn: orElse(on, ["sawn"], data.sawn, "flat" as const, "flat-sawn moves most"),
    backThickness: orElse(on, ["back thickness"], data["back thickness"], 6),
    ...(divider !== undefined && { dividerThickness: said(on, ["divider thickness"], divider) }),
    columns,
    openings,
    seasons: {
      dry: climate(["seasons", "dry"], dry, { celsius: 20, humidity: 30 }),
      wet: climate(["seasons", "wet"], wet, { celsius: 24, humidity: 70 }),
      today: today(on, data["moisture today"]),
    },
    finish: orElse(on, ["finish"], data.finish, { kind: "none" } as const, "bare wood where drawers run"),
    source: placeOfKey(source, entry),
  };
}

function today(
  on: Section,
  given:
    | { readonly kind: "meter"; readonly percent: number }
    | { readonly kind: "weeks"; readonly weeks: number; readonly air: { celsius: number; humidity: number } }
    | undefined,
): MoistureToday {
  const source = sourceAtPath(on, ["moisture today"]);
  if (given === undefined) return { kind: "guess", source };
  return given.kind === "meter" ? { ...given, source } : { ...given, air: { ...given.air, source }, source };
}

function readOpenings(on: Section, r: Reading, columns: number, tool: MeasuredWith): readonly OpeningDescription[] {
  const node = entryOf(on.node, "openings")?.value;
  const entries = node?.kind === "map" ? node.entries : [];
  const schema = openingSchema(r);
  const out: OpeningDescription[] = [];
  for (const [i, entry] of entries.entries()) {
    const own: Section = { ...on, node: entry.value, entry };
    const name = tidy(entry.key);
    const place = placeOfKey(on.source, entry);
    if (name.length > LONGEST_NAME) {
      on.found.push(
        jobFinding("text-unusable", place, "this opening's name is too long", {
          why: "the parts of its drawer are called after it",
          mend: `use at most ${LONGEST_NAME} letters`,
        }),
      );
    }
    const data = parsed(own, schema);
    if (data === undefined) continue;
    const width = readingsOf(own, ["width"], data.width, ["mouth"]);
    const height = readingsOf(own, ["height"], data.height, ["left", "right"]);
    const depth = readingsOf(own, ["depth"], data.depth, []);
    if (!width || !height || !depth) continue;
    const { mouth, middle, back } = width;
    const least = Object.values(depth).reduce((a, b) => (b.value < a.value ? b : a));
    out.push({
      name,
      row: Math.floor(i / columns) + 1,
      column: (i % columns) + 1,
      width: {
        mouth: mouth!,
        ...(middle && { middle }),
        ...(back && { back }),
        ...(width["mouth top"] && { mouthTop: width["mouth top"] }),
        ...(width["mouth bottom"] && { mouthBottom: width["mouth bottom"] }),
      },
      height: {
        left: height.left!,
        right: height.right!,
        ...(height.middle && { middle: height.middle }),
        ...(height.back && { back: height.back }),
      },
      depth: least,
      ...(data.diagonals && {
        diagonals: {
          rising: said(own, ["diagonals", "rising"], data.diagonals.rising),
          falling: said(own, ["diagonals", "falling"], data.diagonals.falling),
        },
      }),
      ...(data.wind !== undefined && { wind: said(own, ["wind"], data.wind) }),
      with: data.with ?? tool,
      source: place,
    });
  }
  return out;
}

/** Readings by place; a single one stands for every place that is needed. */
function readingsOf(
  on: Section,
  path: Path,
  given: Readings,
  needed: readonly string[],
): Readonly<Record<string, Given>> | undefined {
  if (given.one !== undefined) {
    const one = said(on, path, given.one);
    return needed.length === 0 ? { one } : Object.fromEntries(needed.map((p) => [p, one]));
  }
  const lacking = needed.find((p) => given.by[p] === undefined);
  if (lacking !== undefined) {
    refuse(
      on,
      path,
      "reading-missing",
      `the reading "${lacking}" is missing here`,
      `measure it, and add "${lacking}:"`,
    );
    return undefined;
  }
  const values = Object.values(given.by);
  if (values.length === 0) {
    refuse(on, path, "reading-missing", "no reading is given here", "write one size, or readings by place");
    return undefined;
  }
  const [least, most] = [Math.min(...values), Math.max(...values)];
  if (most - least > allowedSpread(least) + 1e-9) {
    const what = "these readings lie far apart";
    const why = `from ${least} to ${most} mm; more than 3 mm or 2 %, whichever is less; common practice, no source`;
    const mend =
      'measure again and look for a slipped digit; if it is really like that, add "override: {readings-spread: the reason}"';
    on.found.push({
      ...jobFinding("readings-spread", sourceAtPath(on, path), what, { why, mend }),
      measured: { value: most - least, bound: 0, unit: "mm" },
    });
  }
  const node = find(on.node, path, on.entry).node;
  const spelt = (place: string): string =>
    node.kind === "map" ? (node.entries.find((e) => canonicalKey(e.key) === canonicalKey(place))?.key ?? place) : place;
  return Object.fromEntries(Object.entries(given.by).map(([p, v]) => [p, said(on, [...path, spelt(p)], v)]));
}

type Drawers = z.output<ReturnType<typeof drawersSchema>>;

function readDrawers(
  source: SourceText,
  entry: Entry,
  r: Reading,
  turnedNames: readonly string[],
  openings: readonly string[],
  into: number,
  found: Finding[],
): DrawersDescription | undefined {
  const on: Section = { source, node: entry.value, entry, found };
  const d: Drawers | undefined = parsed(on, drawersSchema(r));
  if (d === undefined) return undefined;
  const { pulls } = d;
  if (pulls !== undefined && !turnedNames.some((n) => n.toLowerCase() === tidy(pulls).toLowerCase())) {
    refuse(
      on,
      ["pulls"],
      "drawers-pull-unknown",
      `no turned part is called "${tidy(pulls).slice(0, 60)}"`,
      turnedNames.length === 0
        ? 'describe the pull under "parts", with a "turning" among its features'
        : `turned parts are ${turnedNames.map((n) => `"${n}"`).join(", ")}`,
    );
  }
  const clean = orElse(on, ["clean up after glue"], d["clean up after glue"], 0.3);
  const rough = (key: "length" | "width" | "thickness" | "kerf", otherwise: number): Given =>
    orElse(on, d.rough?.[key] === undefined ? ["rough"] : ["rough", key], d.rough?.[key], otherwise);
  const sides = stuff(on, "sides", d.sides);
  return {
    fronts: fronts(on, d),
    sides: { ...sides, alike: orElse(on, ["sides", "alike"], d.sides.alike, "row" as const) },
    backs: d.backs === undefined ? { ...sides, source: sourceAtPath(on, ["backs"]) } : stuff(on, "backs", d.backs),
    bottoms: bottoms(on, d),
    runners: runners(on, d, into),
    frontJoint: frontJoint(on, d, clean),
    backJoint: backJoint(on, d, clean),
    reveal: orElse(on, ["reveal"], d.reveal, 0.6),
    sideClearance: orElse(
      on,
      ["side clearance"],
      d["side clearance"],
      0.4,
      "0.25 to 0.8 a side, common practice, no source",
    ),
    backClearance: orElse(on, ["back clearance"], d["back clearance"], 2),
    ...(d.finish !== undefined && { finish: said(on, ["finish"], d.finish) }),
    leaveForFitting: orElse(on, ["leave for fitting"], d["leave for fitting"], 0.5),
    cleanUp: clean,
    roughLength: rough("length", ROUGH.length),
    roughWidth: rough("width", ROUGH.width),
    roughThickness: rough("thickness", ROUGH.thickness),
    kerf: rough("kerf", ROUGH.kerf),
    ...(d["held by"] !== undefined && { heldBy: said(on, ["held by"], d["held by"]) }),
    ...(pulls !== undefined && { pull: said(on, ["pulls"], canonicalName(pulls, turnedNames)) }),
    betweenRunners: between(on, d, openings),
    source: placeOfKey(source, entry),
  };
}

function canonicalName(name: string, known: readonly string[]): string {
  return known.find((n) => n.toLowerCase() === tidy(name).toLowerCase()) ?? tidy(name);
}

function stuff(
  on: Section,
  key: string,
  d: { wood: string; thickness: number; "as planed"?: number | undefined; sawn?: "flat" | "quarter" | undefined },
): StuffWish {
  const planed = d["as planed"];
  return {
    wood: said(on, [key, "wood"], d.wood),
    thickness: said(on, [key, "thickness"], d.thickness),
    ...(planed !== undefined && { asPlaned: said(on, [key, "as planed"], planed) }),
    sawn: orElse(on, [key, "sawn"], d.sawn, "flat" as const, "flat-sawn moves most across"),
    source: sourceAtPath(on, [key]),
  };
}

function fronts(on: Section, d: Drawers): FrontWish {
  const set = d.fronts.set ?? "inset";
  if (d.fronts.lip !== undefined && set === "inset") {
    refuse(
      on,
      ["fronts", "lip"],
      "drawers-lip",
      "a lip is given, but the fronts are inset",
      'write "set: lipped", or take the lip out',
    );
  }
  return {
    ...stuff(on, "fronts", d.fronts),
    set: orElse(on, ["fronts", "set"], d.fronts.set, "inset" as const),
    ...(set === "lipped" && {
      lip: {
        over: orElse(on, ["fronts", "lip", "over"], d.fronts.lip?.over, 6),
        thickness: orElse(on, ["fronts", "lip", "thickness"], d.fronts.lip?.thickness, 5),
      },
    }),
    oneBoard: orElse(on, ["fronts", "from one board"], d.fronts["from one board"], "row" as const),
  };
}

/** A third of a thickness, to half millimetres: comfortable for a groove. */
function third(thickness: number): number {
  return Math.max(1, Math.round((thickness / 3) * 2) / 2);
}

function bottoms(on: Section, d: Drawers): BottomWish {
  const b = d.bottoms;
  const held = b.in ?? "grooves";
  const slipWidth = b.slip?.width;
  if (b.slip !== undefined && held === "grooves") {
    refuse(
      on,
      ["bottoms", "slip"],
      "drawers-slip",
      "slips are given, but the bottoms lie in grooves",
      'write "in: slips", or take the slip out',
    );
  }
  const carrying = held === "slips" ? (slipWidth ?? 9) : (d.sides["as planed"] ?? d.sides.thickness);
  return {
    ...stuff(on, "bottoms", b),
    kind: orElse(on, ["bottoms", "kind"], b.kind, "panel" as const),
    in: orElse(on, ["bottoms", "in"], b.in, "grooves" as const),
    grooveAt: orElse(on, ["bottoms", "groove at"], b["groove at"], 6),
    grooveDepth: orElse(
      on,
      ["bottoms", "groove depth"],
      b["groove depth"],
      third(carrying),
      "a third of the wood it is in, common practice, no source",
    ),
    grooveClearance: orElse(on, ["bottoms", "groove clearance"], b["groove clearance"], 0.2),
    ...(held === "slips" && {
      slip: {
        width: orElse(on, ["bottoms", "slip", "width"], slipWidth, 9),
        height: orElse(on, ["bottoms", "slip", "tall"], b.slip?.tall, 14),
      },
    }),
  };
}

/** Lengths that wood screws are sold in, mm: common practice, no source. */
const LENGTHS = [10, 12, 13, 16, 20, 25, 30, 35, 40, 45, 50];

/** A screw that holds a strip which stands out so far to a board of some thickness, and leaves 2 mm of it. */
function screwLength(stands: number, body: number, board: number): number {
  const longest = stands + board - 2.5;
  const wanted = LENGTHS.find((l) => l >= stands + 2.5 * body);
  if (wanted !== undefined && wanted <= longest) return wanted;
  return LENGTHS.filter((l) => l <= longest).at(-1) ?? LENGTHS[0]!;
}

function runners(on: Section, d: Drawers, into: number): RunnerWish {
  const w = d.runners;
  const planed = w["tall as planed"];
  const bearing = w["bearing wall at"];
  return {
    ...stuff(on, "runners", w),
    kind: orElse(
      on,
      ["runners", "kind"],
      w.kind === "side hung" ? ("side-hung" as const) : w.kind,
      "side-hung" as const,
    ),
    height: said(on, ["runners", "tall"], w.tall),
    ...(planed !== undefined && { heightAsPlaned: said(on, ["runners", "tall as planed"], planed) }),
    letIn: orElse(on, ["runners", "let in"], w["let in"], 0),
    ...(bearing !== undefined && { bearingAt: said(on, ["runners", "bearing wall at"], bearing) }),
    clearance: orElse(on, ["runners", "clearance"], w.clearance, 0.4, "0.3 to 0.5, common practice, no source"),
    freeDepth: orElse(on, ["runners", "free depth"], w["free depth"], 0.8, "0.5 to 1, common practice, no source"),
    nose: orElse(on, ["runners", "nose"], w.nose, "round" as const),
    stopFromFront: orElse(
      on,
      ["runners", "groove stops"],
      w["groove stops"],
      (d.fronts["as planed"] ?? d.fronts.thickness) + 12,
    ),
    screw: orElse(on, ["runners", "screw"], w.screw?.name, "3.5 mm"),
    screwLength: orElse(
      on,
      ["runners", "screw length"],
      w["screw length"],
      screwLength((w["as planed"] ?? w.thickness) - (w["let in"] ?? 0), w.screw?.bodyDiameter ?? 3.5, into),
      "into the case side by two and a half times the screw's thickness where that leaves 2 mm, common practice, no source",
    ),
    screws: orElse(on, ["runners", "screws"], w.screws, 3),
  };
}

function frontJoint(on: Section, d: Drawers, clean: Given): FrontJointWish {
  const j = d["front joint"];
  const path = (key: string): Path => ["front joint", key];
  const kind = j.kind === "half blind" ? ("half-blind" as const) : j.kind;
  if (j.lap !== undefined && (kind === "through" || kind === "butt")) {
    refuse(
      on,
      path("lap"),
      "drawers-joint",
      `a ${kind} joint leaves no lap`,
      "take the lap out, or choose half-blind or rabbet",
    );
  }
  if (j.tails !== undefined && (kind === "rabbet" || kind === "butt")) {
    refuse(
      on,
      path("tails"),
      "drawers-joint",
      `a ${kind} joint has no tails`,
      "take them out, or choose half-blind or through",
    );
  }
  return {
    kind: said(on, ["front joint"], kind),
    ...(j.lap !== undefined && { lap: said(on, path("lap"), j.lap) }),
    proud: orElse(on, path("proud"), j.proud, clean.value, "as much as is cleaned up after glue"),
    ...(j.tails !== undefined && { tails: said(on, path("tails"), j.tails) }),
  };
}

function backJoint(on: Section, d: Drawers, clean: Given): BackJointWish {
  const j = d["back joint"];
  const path = (key: string): Path => ["back joint", key];
  const kind = j.kind === "half blind" ? ("half-blind" as const) : j.kind;
  const fits: Readonly<Record<"lap" | "tails" | "depth" | "behind", readonly string[]>> = {
    lap: ["half-blind"],
    tails: ["through", "half-blind"],
    depth: ["housing", "rabbet"],
    behind: ["housing"],
  };
  for (const key of ["lap", "tails", "depth", "behind"] as const) {
    if (j[key] === undefined || fits[key].includes(kind)) continue;
    refuse(
      on,
      path(key),
      "drawers-joint",
      `"${key}" says nothing about a ${kind} joint`,
      `take it out, or choose ${fits[key].join(" or ")}`,
    );
  }
  return {
    kind: said(on, ["back joint"], kind),
    ...(j.lap !== undefined && { lap: said(on, path("lap"), j.lap) }),
    proud: orElse(on, path("proud"), j.proud, clean.value, "as much as is cleaned up after glue"),
    ...(j.tails !== undefined && { tails: said(on, path("tails"), j.tails) }),
    ...(j.depth !== undefined && { depth: said(on, path("depth"), j.depth) }),
    ...(j.behind !== undefined && { behind: said(on, path("behind"), j.behind) }),
  };
}

function between(on: Section, d: Drawers, openings: readonly string[]): readonly BetweenRunners[] {
  return Object.entries(d["between runners"] ?? {}).flatMap(([key, b]): BetweenRunners[] => {
    const name = openings.find((o) => o.toLowerCase() === tidy(key).toLowerCase());
    const path = ["between runners", key];
    // Where no opening could be read at all, that is said already.
    if (name === undefined && openings.length === 0) return [];
    if (name === undefined) {
      const at: Source = sourceAtPath(on, path);
      on.found.push(
        jobFinding("drawers-opening-unknown", at, `no opening is called "${tidy(key).slice(0, 60)}"`, {
          mend: `openings are ${openings.map((o) => `"${o}"`).join(", ")}`,
        }),
      );
      return [];
    }
    return [
      {
        opening: name,
        mouth: said(on, [...path, "mouth"], b.mouth),
        back: said(on, [...path, "back"], b.back),
        with: b.with ?? "unsaid",
        source: sourceAtPath(on, path),
      },
    ];
  });
}
