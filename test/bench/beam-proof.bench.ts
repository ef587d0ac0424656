import { proveBeam } from "../../src/proof/beam/prove-beam.ts";
import { line, type Segment } from "../../src/shapes/segment.ts";
import { laserShop, mark } from "../plan/beam-fixtures.ts";
import { burnText, type Stroke, setUpFor, writingFor } from "../proof/beam/programs.ts";
import { type Row, timed } from "./row.ts";

/** The proof of beam programs: many short lines, and an area of long ones, each from its text to its findings. */
export default async function (): Promise<Row[]> {
  let seed = 7;
  const random = (): number => {
    seed = (seed * 16807) % 2147483647;
    return seed / 2147483647;
  };
  const chains = Array.from({ length: 1000 }, (): Segment[] => {
    let at = { x: 10 + random() * 80, y: 10 + random() * 40 };
    return Array.from({ length: 6 }, () => {
      const to = { x: at.x + (random() - 0.5) * 4, y: at.y + (random() - 0.5) * 4 };
      const s = line(at, to);
      at = to;
      return s;
    });
  });
  return [proofOf("1,000 paths of 6 lines, proved", chains)];
}

function proofOf(name: string, chains: readonly (readonly Segment[])[]): Row {
  const setUp = setUpFor([mark("drawing", { kind: "lines", chains }, { by: "burned line" })]);
  const strokes = chains.map((along): Stroke => ({ along }));
  const programs = [{ file: "a.ngc", text: burnText(writingFor(setUp), strokes) }];
  const time = timed(() => proveBeam({ setUp, programs, shop: laserShop() }), 3);
  return { name, ...time, unit: "ms", goal: "≤ 2000 ms with making" };
}
