import * as z from "zod";
import type { Finding } from "../finding.ts";

/**
 * `report.json`: what was made and what the proof found, for programs to read. The schema is published by
 * `tillwright schema report`. All lengths mm, times s, feeds mm/min, in the coordinates of each program's set-up.
 */

const point = z.object({ x: z.number(), y: z.number(), z: z.number() });
const box = z.object({ min: point, max: point });
const measured = z
  .object({ value: z.number(), bound: z.number(), unit: z.string() })
  .meta({ description: "A number that was found; the true value lies within ± bound of it." });

const cutter = z.object({
  name: z.string(),
  slot: z.number().int(),
  kind: z.enum(["flat", "round-nose", "radiused-corner", "v", "drill", "countersink"]),
  diameter: z.number().positive(),
  diameterMeasured: z.boolean().meta({ description: "false: the diameter on the label, not one measured in the shop" }),
  includedAngle: z.number().nullable().meta({ description: "degrees; V bits, countersinks and drills" }),
  cornerRadius: z.number().nullable(),
  tipFlat: z.number().nullable().meta({ description: "diameter of the flat at the tip" }),
  fluteLength: z.number(),
  stickOut: z.number(),
  from: z.string(),
});

const finding = z.object({
  grade: z.enum(["refuse", "caution", "note"]),
  code: z.string(),
  what: z.string(),
  why: z.string().nullable(),
  mend: z.string().nullable(),
  part: z.string().nullable(),
  feature: z.string().nullable(),
  job: z.object({ file: z.string(), line: z.number(), column: z.number() }).nullable(),
  program: z.object({ file: z.string(), line: z.number() }).nullable(),
  at: point.nullable(),
  measured: measured.nullable(),
  limit: z.object({ value: z.number(), unit: z.string(), from: z.string() }).nullable(),
});

const step = z.object({
  n: z.number().int().meta({ description: "the step begins at this line number of the program" }),
  title: z.string(),
  cutter: z.string(),
  why: z.string(),
  rpm: z.number(),
  feed: z.number(),
  seconds: z.number(),
});

const program = z.object({
  file: z.string(),
  dryRun: z.string().nullable().meta({ description: "the same motions, spindle words removed, lifted clear" }),
  sheet: z.string(),
  parts: z.array(z.string()),
  setUp: z.string(),
  machine: z.string(),
  post: z.string(),
  seal: z.string(),
  cutters: z.array(cutter),
  stock: box.meta({ description: "the blank, in program coordinates" }),
  zero: z.object({ x: z.number(), y: z.number(), z: z.number(), how: z.string() }),
  safeZ: z.number(),
  seconds: z.number(),
  steps: z.array(step),
  proof: z.object({
    figures: z.record(z.string(), measured),
    checked: z.array(z.string()),
    notChecked: z.array(z.string()),
  }),
  findings: z.array(finding),
});

const turning = z.object({
  file: z.string(),
  dryRun: z.string().nullable().meta({ description: "the same motions, spindle words removed, farther out" }),
  sheet: z.string(),
  part: z.string(),
  setUp: z.string(),
  lathe: z.string(),
  xWords: z.enum(["radius", "diameter"]).meta({ description: "what X words of the program mean" }),
  post: z.string(),
  seal: z.string(),
  tools: z.array(
    z.object({
      name: z.string(),
      slot: z.number().int(),
      kind: z.enum(["round-nose", "detail", "parting"]),
      noseRadius: z.number(),
      width: z.number(),
      from: z.string(),
    }),
  ),
  blank: z.object({ length: z.number(), across: z.number(), shape: z.enum(["square", "round"]) }),
  safeRadius: z.number(),
  seconds: z.number(),
  steps: z.array(step),
  proof: z.object({
    figures: z.record(z.string(), measured),
    checked: z.array(z.string()),
    notChecked: z.array(z.string()),
  }),
  findings: z.array(finding),
});

const beam = z.object({
  file: z.string(),
  dryRun: z.string().nullable().meta({ description: "the outline walk: beam off, or the visible pilot" }),
  sheet: z.string(),
  parts: z.array(z.string()),
  setUp: z.string(),
  machine: z.string(),
  post: z.string(),
  seal: z.string(),
  laser: z.object({
    wavelength: z.number().meta({ description: "nm: what the eyewear must stop" }),
    ratedPower: z.number(),
    fullScale: z.number().meta({ description: "S word at full power" }),
    mode: z.enum(["follows speed", "constant"]),
    spot: z.object({ x: z.number(), y: z.number() }),
    offset: z.object({ x: z.number(), y: z.number() }).meta({ description: "of the beam from the spindle" }),
  }),
  stock: box.meta({ description: "the blank, in program coordinates" }),
  zero: z.object({ x: z.number(), y: z.number(), z: z.number(), how: z.string() }),
  safeZ: z.number(),
  seconds: z.number(),
  steps: z.array(
    z.object({
      n: z.number().int().meta({ description: "the step begins at this line number of the program" }),
      title: z.string(),
      effect: z.string().meta({ description: "the shop's setting" }),
      power: z.number().meta({ description: "share of full" }),
      feed: z.number(),
      passes: z.number().int(),
      joulesPerMm: z.number().meta({ description: "at most: with the rated power, all passes" }),
      joulesPerMm2: z.number().nullable(),
      evenness: z
        .number()
        .nullable()
        .meta({ description: "largest share by which an area's dose strays from its mean" }),
      seconds: z.number(),
    }),
  ),
  cautions: z.array(z.string()),
  proof: z.object({
    figures: z.record(z.string(), measured),
    checked: z.array(z.string()),
    notChecked: z.array(z.string()),
  }),
  findings: z.array(finding),
});

const turned = z.object({
  part: z.string(),
  sheet: z.string(),
  prints: z.array(z.string()).meta({ description: "PDF files at true scale; empty when a program turns it" }),
  stations: z.array(
    z.object({
      fromFirstEnd: z.number(),
      diameters: z.array(z.number()).meta({ description: "one, or two at a shoulder" }),
      nearest64ths: z.array(z.string()).meta({ description: "caliper settings in inches, to the nearest 1/64" }),
      what: z.string(),
    }),
  ),
  walls: z
    .array(
      z.object({
        body: z.string().meta({ description: "the blank, or which half of it after the split" }),
        shift: z.number().meta({ description: "which pull of the turning: how far along the axis from the first" }),
        thinnest: measured.nullable(),
        lipAngle: measured.nullable().meta({ description: "degrees" }),
      }),
    )
    .meta({ description: "thinnest wall and sharpest lip of the finger room, by the wall-and-lip law" }),
  holdsTo: z.array(z.object({ error: z.string(), minus: z.number(), plus: z.number(), unit: z.string() })).meta({
    description: "how far the set-up may be off before wall or lip fall below what was asked, each alone, worst first",
  }),
});

/** The whole report. */
export const reportSchema = z
  .object({
    tillwright: z.string().meta({ description: "version that made it" }),
    job: z.string(),
    title: z.string(),
    unit: z.enum(["mm", "in"]),
    programs: z.array(program),
    turnings: z.array(turning),
    beams: z.array(beam),
    turned: z.array(turned),
    heldBack: z.array(z.object({ setUp: z.string(), because: z.array(z.string()) })),
    defaultsUsed: z.array(z.string()),
    findings: z.array(finding),
  })
  .meta({ title: "Tillwright report", description: "What was made, and what the proof found. mm, s, mm/min, rpm." });

/** What `report.json` holds. */
export type Report = z.infer<typeof reportSchema>;

/** One program's entry. */
export type ReportProgram = Report["programs"][number];

/** One turning program's entry. */
export type ReportTurning = Report["turnings"][number];

/** One beam program's entry. */
export type ReportBeam = Report["beams"][number];

/** One turned part's entry. */
export type ReportTurned = Report["turned"][number];

/** A finding as the report writes it. */
export function reportFinding(f: Finding): Report["findings"][number] {
  const { source, program: at } = f.place;
  return {
    grade: f.grade,
    code: f.code,
    what: f.what,
    why: f.why ?? null,
    mend: f.mend ?? null,
    part: f.place.part ?? null,
    feature: f.place.feature ?? null,
    job: source === undefined ? null : { file: source.file, line: source.line, column: source.column },
    program: at === undefined ? null : { file: at.file, line: at.line },
    at: f.place.at === undefined ? null : { x: tame(f.place.at.x), y: tame(f.place.at.y), z: tame(f.place.at.z) },
    measured:
      f.measured === undefined
        ? null
        : { value: tame(f.measured.value), bound: tame(f.measured.bound), unit: f.measured.unit },
    limit: f.limit === undefined ? null : { value: tame(f.limit.value), unit: f.limit.unit, from: f.limit.from },
  };
}

/** Numbers as the report writes them: six decimals, so that the same job gives the same bytes; never NaN. */
export function tame(value: number): number {
  if (!Number.isFinite(value)) return value > 0 ? 1e9 : -1e9;
  const rounded = Math.round(value * 1e6) / 1e6;
  return rounded === 0 ? 0 : rounded;
}

/** The JSON Schema of `report.json`. */
export function reportJsonSchema(): object {
  return z.toJSONSchema(reportSchema);
}

/** The report as text, ending in a newline. */
export function reportText(report: Report): string {
  return `${JSON.stringify(report, null, 2)}\n`;
}
