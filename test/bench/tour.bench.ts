import { nearestTour, tourOf, USUAL_TRIES } from "../../src/shapes/tour.ts";
import { INSTANCES, roundedLength } from "../shapes/published-tours.ts";
import { type Row, timed } from "./row.ts";

/** Rounds on published instances: time, and how much longer than the published optimum. */
export default async function bench(): Promise<Row[]> {
  return INSTANCES.flatMap(({ name, points, optimum }): Row[] => {
    const stops = points.map((p) => ({ from: p, to: p }));
    const over = (turns: readonly { readonly index: number }[]): string =>
      `${(
        (roundedLength(
          points,
          turns.map((t) => t.index),
        ) /
          optimum -
          1) *
          100
      ).toFixed(2)} % over`;
    const nearest = over(nearestTour(stops, { closed: true }).turns);
    return [2, USUAL_TRIES, 50].map((tries) => ({
      name: `${name}, ${tries} tries a stop: ${over(tourOf(stops, { closed: true, tries }).turns)} (nearest first: ${nearest})`,
      ...timed(() => tourOf(stops, { closed: true, tries }), 5),
      unit: "ms",
      goal: tries === 2 ? "≤ 5 % over in 50 ms" : "≤ 1 % over in 1,000 ms",
    }));
  });
}
