import type { Finding, Place } from "../../finding.ts";
import type { BeamSetUp, PlacedMark } from "../../plan/beam-setup.ts";
import type { ReadProgram } from "../../reader/read-move.ts";
import type { Point } from "../../shapes/point.ts";
import { pointAt } from "../../shapes/segment.ts";
import { topAt } from "../../shapes/turned-solid.ts";
import type { BeamRun, Burn } from "../../simulate/beam.ts";
import type { Figure } from "../proof.ts";

/** One beam program with all that is known of it; what every rule of the beam reads. */
export interface BeamCase {
  readonly setUp: BeamSetUp;
  readonly file: string;
  /** Lines of the text, for quoting. */
  readonly lines: readonly string[];
  /** Unrolled, where a rotary axis turns the wood beneath the beam. */
  readonly read: ReadProgram;
  /** Then as the machine itself moves; absent: `read`. */
  readonly asWritten?: ReadProgram;
  readonly run: BeamRun;
}

/** A burn, and the program it stands in. */
export interface BurnIn {
  readonly burn: Burn;
  readonly from: BeamCase;
}

/** A mark with all that was burned for it, over all programs of the set-up. */
export interface BurnedMark {
  readonly placed: PlacedMark;
  readonly burns: readonly BurnIn[];
}

/** Findings with the figures they rest on. */
export interface BeamMeasures {
  readonly findings: readonly Finding[];
  readonly figures: Readonly<Record<string, Figure>>;
}

/** Where corners may be cut short, by how much, mm: 0 where exact path is kept. */
export function cornerSlack(setUp: BeamSetUp): number {
  const { controller } = setUp.machine;
  return controller.exactPath ? 0 : controller.cornerError;
}

/** Way that the carriage makes before a late beam answers, at a mark's own speed, mm. */
export function lateBy(setUp: BeamSetUp, placed: PlacedMark): number {
  return (placed.setting.speed / 60) * setUp.laser.lag;
}

/** A mark as it is spoken of: 'line "name"'. */
export function nameOf({ aim, mark }: PlacedMark): string {
  const kind = { lines: "line", area: "area", through: "cut-through", dots: "picture" } as const;
  return `${kind[aim.kind]} "${mark.feature}"`;
}

/** The place of a mark in the job, and a spot of it on the wood. */
export function placeOfMark({ mark, surface }: PlacedMark, at?: Point): Place {
  return {
    part: mark.part,
    feature: mark.feature,
    source: mark.source,
    ...(at === undefined ? {} : { at: { ...at, z: surface.top } }),
  };
}

/** The place of a burn: its line in the program, and its middle. */
export function placeOfBurn({ burn, from }: BurnIn, at: Point = pointAt(burn.curve, 0.5)): Place {
  return { ...placeOfLine(from, burn.commanded.line), at: { ...at, z: burn.zFrom } };
}

/** A line of a program, quoted. */
export function placeOfLine(c: BeamCase, line: number): Place {
  const text = c.lines[line - 1];
  return {
    part: c.setUp.workpiece.name,
    program: { file: c.file, line, ...(text === undefined ? {} : { text: text.trim() }) },
  };
}

/** Height of the wood at a place; undefined beside it. */
export function surfaceAt(setUp: BeamSetUp, p: Point): number | undefined {
  if (setUp.turning !== undefined) return topAt(setUp.turning.wood, p.x, 0);
  if (setUp.round !== undefined) return topAt(setUp.round, p.x, p.y);
  const { min, max } = setUp.blank;
  const beside = Math.max(min.x - p.x, p.x - max.x, min.y - p.y, p.y - max.y);
  return beside > ON_EDGE ? undefined : max.z;
}

/** As near the wood's edge as this is on it, mm. */
const ON_EDGE = 0.01;
