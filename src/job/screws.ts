import { closest } from "../units/closest.ts";

/** A countersunk wood screw. mm, degrees. */
export interface Screw {
  readonly name: string;
  /** Widest its head gets, to a sharp edge: what the countersink must take. */
  readonly headDiameter: number;
  /** Included angle under the head. */
  readonly headAngle: number;
  /** Thickness of its plain shank. */
  readonly bodyDiameter: number;
  /** Hole that it slips through. Never smaller than the body. */
  readonly clearance: number;
  readonly source: string;
}

const HEAD_INCH =
  "head: a supplier's table of flat heads, 82°; ASME B18.6.1 remembered to agree; body: 0.060 in + 0.013 in × number, from memory";
const HEAD_MM = "DIN 97 / DIN 7997, head twice the body, 90°, from memory; clearance: common practice, no source";

/**
 * Number, body, sharp head and clearance, in thousandths of an inch. The clearance is the one on a pilot chart for wood
 * screws (Nos. 6, 8, 9); for the others it is the next 64th of an inch above the body, since the chart has none or
 * gives one smaller than the body (No. 10: 3/16 against 0.190).
 */
const NUMBERED: readonly (readonly [number, number, number, number])[] = [
  [4, 112, 225, 125],
  [5, 125, 252, 140.625],
  [6, 138, 279, 140.625],
  [7, 151, 305, 156.25],
  [8, 164, 332, 171.875],
  [9, 177, 358, 187.5],
  [10, 190, 385, 203.125],
  [12, 216, 438, 218.75],
];

/** Body, head and clearance, mm. */
const METRIC: readonly (readonly [number, number, number])[] = [
  [3, 6, 3.5],
  [3.5, 7, 4],
  [4, 8, 4.5],
  [4.5, 9, 5],
  [5, 10, 5.5],
];

/** Every screw that a job may name. */
export function knownScrews(): readonly Screw[] {
  const thou = (t: number): number => (t * 254) / 10_000;
  return [
    ...NUMBERED.map(([n, body, head, hole]) => ({
      name: `no ${n}`,
      headDiameter: thou(head),
      headAngle: 82,
      bodyDiameter: thou(body),
      clearance: thou(hole),
      source: HEAD_INCH,
    })),
    ...METRIC.map(([body, head, hole]) => ({
      name: `${body} mm`,
      headDiameter: head,
      headAngle: 90,
      bodyDiameter: body,
      clearance: hole,
      source: HEAD_MM,
    })),
  ];
}

/** The screw that a text names: `no 6`, `No. 6`, `6 gauge`, `number 6`, `4 mm`, `4mm`; or the nearest name there is. */
export function screwCalled(text: string): { readonly screw?: Screw; readonly like?: string } {
  const said = text
    .trim()
    .toLowerCase()
    .replace(/\s+screws?$/, "")
    .replace(/\s+/g, " ");
  const number = /^(?:no\.?|number|nr\.?|#|gauge)? ?(\d+)(?: gauge|g)?$/.exec(said);
  const metric = /^m?(\d+(?:\.\d+)?) ?mm$/.exec(said);
  const wanted = metric ? `${Number(metric[1])} mm` : number ? `no ${Number(number[1])}` : said;
  // "6" alone could be a number or millimetres: that has to be said.
  const vague = /^\d+$/.test(said);
  const screws = knownScrews();
  const screw = vague ? undefined : screws.find((s) => s.name === wanted);
  if (screw) return { screw };
  const like = vague
    ? `no ${said}`
    : closest(
        wanted,
        screws.map((s) => s.name),
      );
  return like === undefined ? {} : { like };
}
