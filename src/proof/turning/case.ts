import type { Finding, Place } from "../../finding.ts";
import type { TurningSetUp } from "../../plan/turning-setup.ts";
import type { ReadMove, ReadProgram } from "../../reader/read-move.ts";
import type { Point, Point3 } from "../../shapes/point.ts";
import { type TurningTool, xSignOf } from "../../shop/lathe.ts";
import type { TurningSimulation } from "../../simulate/turning.ts";

/** One turning program with all that is known of it; what every rule of turning reads. */
export interface TurningCase {
  readonly setUp: TurningSetUp;
  readonly file: string;
  /** Lines of the text, for quoting. */
  readonly lines: readonly string[];
  readonly read: ReadProgram;
  readonly toolFor: (move: ReadMove) => TurningTool | undefined;
  readonly simulation: TurningSimulation;
}

/** A finding about a line of the program. */
export function onLine(c: TurningCase, line: number, finding: Omit<Finding, "place">, at?: Point): Finding {
  const place = at === undefined ? {} : placeAlong(c.setUp, at);
  const text = c.lines[line - 1];
  return {
    ...finding,
    place: { ...place, program: { file: c.file, line, ...(text === undefined ? {} : { text: text.trim() }) } },
  };
}

/** A place of the half plane as the piece's part and element, and as machine coordinates: X is the radius, with its side. */
export function placeAlong(setUp: TurningSetUp, p: Point): Place {
  const { piece } = setUp;
  const x = p.x - setUp.zShift;
  const element = piece.elements.find((e) => x >= e.from - 1e-6 && x <= e.to + 1e-6);
  return {
    part: piece.name,
    ...(element === undefined ? { source: piece.source } : { feature: element.name, source: element.source }),
    at: inMachine(setUp, p),
  };
}

/** The same point with X as the radius, on the tool's side. */
export function inMachine(setUp: TurningSetUp, p: Point): Point3 {
  return { x: xSignOf(setUp.lathe) * p.y, y: 0, z: p.x };
}

/** "19.4 mm from the first end, at 12.5 mm diameter": where a person finds a place with rule and calipers. */
export function foundAt(setUp: TurningSetUp, p: Point): string {
  const round = (v: number): number => Math.round(v * 100) / 100;
  return `${round(p.x - setUp.zShift)} mm from the first end, at ${round(2 * p.y)} mm diameter`;
}
