import fc from "fast-check";
import type { Point } from "../../src/shapes/point.ts";

/** An opening as it truly is: corners of its mouth from the lower left, counter-clockwise; widths behind; depth. mm */
export interface TrueOpening {
  readonly name: string;
  readonly corners: readonly [Point, Point, Point, Point];
  readonly middle: number;
  readonly back: number;
  readonly depth: number;
  /** Between the fitted runners, at mouth and back; absent: not measured yet. */
  readonly between?: readonly [number, number];
}

/** A cabinet to be written down as a job. */
export interface TrueCabinet {
  readonly columns: number;
  readonly openings: readonly TrueOpening[];
  readonly choices: Choices;
}

export interface Choices {
  readonly set: "inset" | "lipped";
  readonly kind: "side-hung" | "below";
  readonly front: "half-blind" | "through" | "rabbet" | "butt";
  readonly back: "through" | "half-blind" | "housing" | "rabbet" | "butt";
  readonly bottom: "solid" | "panel";
  readonly in: "grooves" | "slips";
  readonly alike: "all" | "row" | "no";
  readonly oneBoard: "row" | "column" | "no";
  readonly moisture: number;
  readonly sideThickness: number;
  readonly reach: number;
  readonly leave: number;
  readonly cleanUp: number;
  readonly woods: { readonly front: string; readonly side: string };
}

export const RUNNER_TALL = 11;
export const REVEAL = 0.6;
export const CLEARANCE = 0.4;
export const FRONT_THICKNESS = 15;
export const BACK_THICKNESS = 8;
export const BOTTOM_THICKNESS = 4.2;
export const LIP = { over: 5, thickness: 5 };

/** Whole micrometres, in mm. */
function mm(min: number, max: number): fc.Arbitrary<number> {
  return fc.integer({ min: Math.round(min * 1000), max: Math.round(max * 1000) }).map((um) => um / 1000);
}

function opening(name: string, width: number, height: number, depth: number): fc.Arbitrary<TrueOpening> {
  const off = mm(-0.3, 0.3);
  return fc
    .record({ ax: off, bx: off, cx: off, cy: off, dx: off, dy: off, middle: mm(-0.2, 0.2), back: mm(-0.05, 0.4) })
    .map((o) => ({
      name,
      corners: [
        { x: 0, y: 0 },
        { x: width + o.bx, y: 0 },
        { x: width + o.cx, y: height + o.cy },
        { x: o.dx, y: height + o.dy },
      ],
      middle: width + o.middle,
      back: width + o.back,
      depth,
    }));
}

/** Cabinets that a small shop might build: one or two columns, one or two rows of unlike openings. */
export const cabinets: fc.Arbitrary<TrueCabinet> = fc
  .record({
    columns: fc.integer({ min: 1, max: 2 }),
    rows: fc.integer({ min: 1, max: 2 }),
    width: mm(130, 380),
    heights: fc.tuple(mm(58, 140), mm(58, 140)),
    depth: mm(190, 420),
    measured: fc.boolean(),
    choices: fc.record<Choices>({
      set: fc.constantFrom("inset", "lipped"),
      kind: fc.constantFrom("side-hung", "side-hung", "below"),
      front: fc.constantFrom("half-blind", "through", "rabbet", "butt"),
      back: fc.constantFrom("through", "half-blind", "housing", "rabbet", "butt"),
      bottom: fc.constantFrom("solid", "panel"),
      in: fc.constantFrom("grooves", "grooves", "slips"),
      alike: fc.constantFrom("all", "row", "no"),
      oneBoard: fc.constantFrom("row", "column", "no"),
      moisture: fc.integer({ min: 6, max: 11 }),
      sideThickness: mm(9, 13),
      reach: mm(3.6, 4.4),
      leave: fc.constantFrom(0, 0.5, 0.8),
      cleanUp: fc.constantFrom(0, 0.2, 0.3),
      woods: fc.record({
        front: fc.constantFrom("cherry", "walnut", "hard maple", "white oak"),
        side: fc.constantFrom("ash", "beech", "poplar"),
      }),
    }),
  })
  .chain(({ columns, rows, width, heights, depth, measured, choices }) => {
    const places = Array.from({ length: rows * columns }, (_, i) => i);
    const openings = places.map((i) => {
      const name = `${["upper", "lower"][Math.floor(i / columns)]} ${["one", "two"][i % columns]}`;
      return opening(name, width, heights[Math.floor(i / columns)]!, depth);
    });
    // A lipped front cannot have through joints: its lip covers the sides' ends.
    const front = choices.set === "lipped" && choices.front === "through" ? ("half-blind" as const) : choices.front;
    return fc.tuple(...openings).map(
      (os): TrueCabinet => ({
        columns,
        choices: { ...choices, front },
        openings: os.map((o) => ({
          ...o,
          ...(measured && {
            between: [o.corners[1].x - 2 * choices.reach - 0.1, o.back - 2 * choices.reach + 0.1] as const,
          }),
        })),
      }),
    );
  });

function far(a: Point, b: Point): number {
  return Math.hypot(a.x - b.x, a.y - b.y);
}

/** The opening's width at half its height, between its two sides. */
export function widthAtMiddle(o: TrueOpening): number {
  const [a, b, c, d] = o.corners;
  return (b.x + c.x) / 2 - (a.x + d.x) / 2;
}

/** Reads every true size off with an error; without one, to the micrometre. */
export function jobText(c: TrueCabinet, error: (what: string) => number = () => 0): string {
  const { choices: ch } = c;
  const at = (value: number, what: string): string => (value + error(what)).toFixed(3);
  const openings = c.openings.map((o) => {
    const [p, q, r, s] = o.corners;
    const n = (what: string): string => `${o.name}, ${what}`;
    return `    ${o.name}:
      width: {mouth: ${at(widthAtMiddle(o), n("width at the mouth"))}, middle: ${at(o.middle, n("width in the middle"))}, back: ${at(o.back, n("width at the back"))}, mouth bottom: ${far(p, q).toFixed(4)}, mouth top: ${far(r, s).toFixed(4)}}
      height: {left: ${at(far(p, s), n("height at the left"))}, right: ${at(far(q, r), n("height at the right"))}}
      depth: ${at(o.depth, n("depth"))}
      diagonals: {rising: ${far(p, r).toFixed(4)}, falling: ${far(s, q).toFixed(4)}}`;
  });
  const between = c.openings.flatMap((o) =>
    o.between ? [`    ${o.name}: {mouth: ${o.between[0].toFixed(3)}, back: ${o.between[1].toFixed(3)}}`] : [],
  );
  return `title: A cabinet
units: mm
case:
  wood: cherry
  side thickness: 18
  divider thickness: 16
  columns: ${c.columns}
  measured with: calipers
  moisture today: ${ch.moisture} % by meter
  openings:
${openings.join("\n")}
drawers:
  fronts:
    {wood: ${ch.woods.front}, thickness: ${FRONT_THICKNESS}, set: ${ch.set}, ${ch.set === "lipped" ? `lip: {over: ${LIP.over}, thickness: ${LIP.thickness}}, ` : ""}from one board: ${ch.oneBoard}}
  sides: {wood: ${ch.woods.side}, thickness: ${ch.sideThickness}, alike: ${ch.alike}}
  backs: {wood: ${ch.woods.side}, thickness: ${BACK_THICKNESS}}
  bottoms: {wood: ${ch.bottom === "panel" ? "plywood" : "cherry"}, thickness: ${BOTTOM_THICKNESS}, kind: ${ch.bottom}, in: ${ch.in}}
  runners: {wood: hard maple, tall: ${RUNNER_TALL}, thickness: ${ch.kind === "below" ? 14 : ch.reach}, kind: ${ch.kind}, screw: 3 mm}
  front joint: ${ch.front}
  back joint: ${ch.back}
  reveal: ${REVEAL}
  side clearance: ${CLEARANCE}
  leave for fitting: ${ch.leave}
  clean up after glue: ${ch.cleanUp}
${between.length > 0 && ch.kind === "side-hung" ? `  between runners:\n${between.join("\n")}\n` : ""}`;
}
