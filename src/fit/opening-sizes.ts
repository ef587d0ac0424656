import type { Given, OpeningDescription } from "../job/drawers.ts";
import type { Measurement } from "../job/job.ts";

/** The sizes of an opening as measurements, each reading with its place: what gaps hang on. */
export interface OpeningSizes {
  /** At runner height, from mouth to back: the narrowest bounds the box. */
  readonly width: Measurement;
  /** At the mouth, which the front goes into. */
  readonly mouth: Measurement;
  /** At the two sides of the mouth. One reading that stands for both errs once. */
  readonly height: Measurement;
  readonly depth: Measurement;
}

/** Measurements of one opening, named after it. */
export function openingSizes(o: OpeningDescription): OpeningSizes {
  const { width, height } = o;
  const of = (size: string, by: readonly (readonly [string, Given])[]): Measurement =>
    measurementOf(`${o.name}, ${size}`, by, o.with);
  return {
    width: of("width", [
      ["at the mouth", width.mouth],
      ...(width.middle ? [["in the middle", width.middle] as const] : []),
      ...(width.back ? [["at the back", width.back] as const] : []),
    ]),
    // Called as among the others, so that one reading has one name.
    mouth: {
      ...of("width", [["at the mouth", width.mouth]]),
      ...((width.middle ?? width.back) && { readings: [{ place: "at the mouth", value: width.mouth.value }] }),
    },
    height: of(
      "height",
      height.left === height.right
        ? [["at the mouth", height.left]]
        : [
            ["at the left", height.left],
            ["at the right", height.right],
          ],
    ),
    depth: of("depth", [["at the least", o.depth]]),
  };
}

/** Readings of one size, by place; a single one has no place of its own. mm */
export function measurementOf(
  name: string,
  by: readonly (readonly [place: string, given: Given])[],
  tool: Measurement["with"],
): Measurement {
  const [first] = by;
  if (first === undefined) throw new RangeError(`"${name}" has no reading`);
  return {
    name,
    value: Math.min(...by.map(([, g]) => g.value)),
    power: 1,
    readings: by.length === 1 ? [] : by.map(([place, g]) => ({ place, value: g.value })),
    with: tool,
    source: first[1].source,
  };
}
