import type { Move } from "../../src/paths/move.ts";
import { writePrograms } from "../../src/program/write-programs.ts";
import { arc, line, operation, path, sample } from "../program/fixtures.ts";
import { type Row, timed } from "./row.ts";

/** How quickly moves become text: half lines, half arcs, as clearing gives them. */
export default async function program(): Promise<Row[]> {
  const rows: Row[] = [];
  for (const name of ["millimetre", "inch"] as const) {
    for (const moves of [25_000, 100_000]) {
      const cuts: Move[] = [];
      for (let k = 0; k < moves / 2; k++) {
        const x = 20 + ((k * 7.1234) % 150);
        const y = 20 + ((k * 3.4567) % 60);
        cuts.push(line(x, y, -3), arc(x + 2, y, -3, x + 1, y, k % 2 === 0));
      }
      const input = sample(name, { toolpaths: [path(operation("bench"), 5, 5, cuts)] });
      let bytes = 0;
      const { value, spread } = timed(() => {
        const out = writePrograms(input);
        if (out.ok) bytes = out.value[0]!.text.length;
      });
      rows.push({
        name: `write ${moves.toLocaleString("en")} moves, ${name}`,
        value: moves / (value / 1000),
        unit: "moves/s",
        spread: [moves / (spread[1] / 1000), moves / (spread[0] / 1000)],
        note: `${(bytes / 1e6).toFixed(2)} MB of text`,
      });
    }
  }
  return rows;
}
