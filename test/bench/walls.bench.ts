import { wallMap } from "../../src/parts/walls/wall-map.ts";
import { bySaw, meridianOf, roomOf, solidFrom } from "../parts/walls/fixtures.ts";
import { type Row, timed } from "./row.ts";

export default async function (): Promise<Row[]> {
  const solid = solidFrom(meridianOf({ length: 120, end: 22, middle: 19, long: 90 }));
  const room = roomOf({ at: 60, length: 60, width: 22, depth: 14 });
  const law = { leastWall: 4, lipAngleDeg: 40 };
  const whole = wallMap(solid, room, law, { step: 0.2, want: "map" });
  return [
    {
      name: "wall map of a pull at 0.2 mm, decided by a bound",
      ...timed(() => wallMap(solid, room, law, { step: 0.2, want: "map" }), 5),
      unit: "ms",
      goal: "< 300 ms",
      note: `${whole.bodies[0]!.samples.length} samples`,
    },
    {
      name: "  with both halves",
      ...timed(() => wallMap(solid, room, law, { step: 0.2, want: "map", split: bySaw }), 5),
      unit: "ms",
    },
  ];
}
