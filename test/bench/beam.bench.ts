import { beamPath } from "../../src/paths/beam/beam-path.ts";
import { chainTour, wayBetween } from "../../src/paths/chain-tour.ts";
import type { PlannedBeam } from "../../src/plan/beam-setup.ts";
import { writeBeamProgram } from "../../src/program/write-beam.ts";
import { proveBeam } from "../../src/proof/beam/prove-beam.ts";
import { greyPicture } from "../../src/shapes/picture/grey-picture.ts";
import { line, type Segment } from "../../src/shapes/segment.ts";
import { BURNS, laserShop, mark, marked, planned } from "../plan/beam-fixtures.ts";
import { post } from "../program/fixtures.ts";
import { type Row, timed } from "./row.ts";

const SIZE = { length: 120, width: 80, thickness: 10 };

/** A drawing of a thousand paths, and a picture of 100 × 60 mm at 0.1 mm: planned, ordered, written; and proved. */
export default async function bench(): Promise<Row[]> {
  const chains = scribbles(1000, 10);
  const lines = (): PlannedBeam =>
    planned(marked([mark("a", { kind: "lines", chains }, { by: "burned line" })], { size: SIZE }));
  const shop = { ...laserShop(), burns: BURNS.map((b) => (b.effect === "picture" ? { ...b, spacing: 0.1 } : b)) };
  const grey = greyPicture(
    1000,
    600,
    Float32Array.from({ length: 600_000 }, (_, i) => (i % 1000) / 999),
  );
  const ink = { kind: "picture", grey, corner: { x: 10, y: 10 }, width: 100, height: 60, turnedDeg: 0 } as const;
  const picture = (): PlannedBeam =>
    planned(marked([mark("a", ink, { by: "burned picture", tones: "error spread" })], { size: SIZE }), shop);
  const drawing = timed(() => void written(lines()), 3);
  const dots = timed(() => void written(picture()), 3);
  const drawn = lines();
  const text = written(drawn);
  const proof = timed(
    () => void proveBeam({ setUp: drawn.setUp, programs: [{ file: "a.nc", text }], shop: laserShop() }),
    3,
  );
  const ordered = wayBetween(chainTour(chains));
  return [
    { name: "1,000 paths planned, ordered, written", ...drawing, unit: "ms", goal: "< 2,000 ms, proof included" },
    { name: "1,000 paths proved", ...proof, unit: "ms" },
    {
      name: "way between 1,000 paths",
      value: ordered,
      unit: "mm",
      reference: { name: "as drawn", value: wayBetween(chains) },
      note: `${text.split("\n").length} lines`,
    },
    {
      name: "picture 100 × 60 mm at 0.1 mm, dithered to written",
      ...dots,
      unit: "ms",
      goal: "< 2,000 ms",
      note: `${written(picture()).length} characters`,
    },
  ];
}

function written({ setUp, operations }: PlannedBeam): string {
  const paths = operations.map((o) => beamPath(o, setUp));
  const made = writeBeamProgram({ setUp, paths, post: post("millimetre"), title: "bench", version: "0.1.0" });
  if (!made.ok) throw new Error(made.findings.map((f) => f.what).join("\n"));
  return made.value.text;
}

/** Short crooked lines strewn over a board. Chance from a fixed seed: Park & Miller, CACM 31, 1988 (from memory). */
function scribbles(count: number, corners: number): Segment[][] {
  let seed = 1;
  const random = (): number => {
    seed = (seed * 16807) % 2147483647;
    return seed / 2147483647;
  };
  return Array.from({ length: count }, () => {
    let at = { x: 12 + random() * 96, y: 12 + random() * 56 };
    return Array.from({ length: corners }, () => {
      const to = { x: at.x + random() * 2 - 1, y: at.y + random() * 2 - 1 };
      const piece = line(at, to);
      at = to;
      return piece;
    });
  });
}
