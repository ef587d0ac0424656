import { type Finding, type Measured, refuses } from "../finding.ts";
import type { Job } from "../job/job.ts";
import type { HoldingKit } from "../parts/holding-kit/holding.ts";
import type { TurnedPiece } from "../parts/turned-piece.ts";
import { type Sensitivity, sensitivityFindings, sensitivityOf } from "../parts/walls/sensitivity.ts";
import { type Walls, wallsOf } from "../parts/walls/walls-of.ts";
import type { PlannedTurning } from "../plan/turning.ts";
import { plainWord } from "../program/file-name.ts";
import type { PieceFiles } from "../sheets/piece-order.ts";
import { drawPieceSheet } from "../sheets/piece-sheet.ts";
import { type ReportTurned, tame } from "../sheets/report.ts";
import { storyStickSvg, templateSvg } from "../sheets/template.ts";
import { templatePdf } from "../sheets/template-pdf.ts";
import { settingOf, stationsOf } from "../sheets/template-stations.ts";
import { type JobAndShop, overridden } from "./make-set-up.ts";

/** A turned part with what holds it for the router and how the lathe turns it, where either does. */
export interface PlannedPiece {
  readonly piece: TurnedPiece;
  readonly kit?: HoldingKit;
  readonly turning?: PlannedTurning;
}

/** The judging of one turned part's walls: plain data. */
export interface PieceTask {
  readonly kind: "piece";
  readonly planned: PlannedPiece;
  /** Which of the job's turned parts it is, from 1: begins the names of its pages. */
  readonly nth: number;
}

/** How a turned part's walls and lip stand. */
export interface PieceResult {
  readonly kind: "piece";
  readonly verdict: "fine" | "proof";
  readonly walls: Walls;
  readonly sensitivity?: Sensitivity;
  readonly findings: readonly Finding[];
}

/** A page that goes with a turned part. */
export interface PieceDrawing {
  readonly name: string;
  readonly svg: string;
}

/** A turned part's own pages and its entry in the report. */
export interface MadePiece {
  readonly drawings: readonly PieceDrawing[];
  /** PDF pages at true scale. */
  readonly prints: readonly { readonly name: string; readonly bytes: Uint8Array }[];
  readonly entry: ReportTurned;
}

/** Distance between samples of the wall map, mm. */
const MAP_STEP = 0.4;

/** Judges walls and lip of a finger room, in the blank and in each half, and how far the set-up may be off. */
export function judgePiece({ planned: { piece } }: PieceTask, all: JobAndShop): PieceResult {
  const walls = wallsOf(piece, MAP_STEP, "map");
  const refused = refuses(walls.findings);
  const sensitivity = refused ? undefined : sensitivityOf(piece);
  const tight = sensitivity === undefined ? [] : sensitivityFindings(piece, sensitivity);
  const findings = overridden([...walls.findings, ...tight], all.job.overrides);
  return {
    kind: "piece",
    verdict: refuses(findings) ? "proof" : "fine",
    walls,
    ...(sensitivity === undefined ? {} : { sensitivity }),
    findings,
  };
}

/** Draws a turned part's pages: its sheet, and for one turned by hand the template and the story stick. */
export function drawPiece(
  { planned: { piece, kit }, nth }: PieceTask,
  result: PieceResult,
  job: Job,
  files: Pick<PieceFiles, "turning" | "hollowing">,
  told: readonly Finding[],
): MadePiece {
  const base = ["piece", String(nth), plainWord(piece.name, 40)].filter((w) => w !== "").join("-");
  const prints =
    piece.turnedBy === "hand"
      ? (["A4", "Letter"] as const).map((paper) => ({
          name: `${base}-template-${paper.toLowerCase()}.pdf`,
          bytes: templatePdf(piece, paper),
        }))
      : [];
  const byHand: readonly PieceDrawing[] =
    piece.turnedBy === "hand"
      ? [
          { name: `${base}-template.svg`, svg: templateSvg(piece) },
          { name: `${base}-story-stick.svg`, svg: storyStickSvg(piece) },
        ]
      : [];
  const map = result.walls.pulls[0]?.map;
  const sheet = drawPieceSheet({
    jobTitle: job.title,
    piece,
    ...(kit === undefined ? {} : { kit }),
    ...(map === undefined ? {} : { walls: map }),
    ...(result.sensitivity === undefined ? {} : { holdsTo: result.sensitivity.sentence }),
    files: { ...files, ...(prints[0] === undefined ? {} : { template: prints[0].name }) },
    findings: told,
  });
  return {
    drawings: [{ name: `${base}.svg`, svg: sheet }, ...byHand],
    prints,
    entry: entryOf(
      piece,
      result,
      `${base}.svg`,
      prints.map((p) => p.name),
    ),
  };
}

function entryOf(piece: TurnedPiece, result: PieceResult, sheet: string, prints: readonly string[]): ReportTurned {
  const measured = (found: { readonly value: number; readonly bound: number } | undefined, unit: string) =>
    found === undefined ? null : ({ value: tame(found.value), bound: tame(found.bound), unit } satisfies Measured);
  return {
    part: piece.name,
    sheet,
    prints: [...prints],
    stations: stationsOf(piece).map((s) => ({
      fromFirstEnd: tame(s.at),
      diameters: s.diameters.map(tame),
      nearest64ths: s.diameters.map((d) => settingOf(d).inch),
      what: s.what,
    })),
    walls: result.walls.pulls.flatMap(({ shift, map }) =>
      map.bodies.map((b) => ({
        body: b.body,
        shift: tame(shift),
        thinnest: measured(b.thinnest, "mm"),
        lipAngle: measured(b.lip, "degrees"),
      })),
    ),
    holdsTo: (result.sensitivity?.single ?? []).map((a) => ({
      error: a.fault,
      minus: tame(a.minus),
      plus: tame(a.plus),
      unit: a.fault === "angleDeg" || a.fault === "tiltDeg" ? "degrees" : "mm",
    })),
  };
}
