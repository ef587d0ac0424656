import { readFileSync } from "node:fs";
import { describeWorkpieces } from "../../src/parts/describe.ts";
import { pathFor } from "../../src/paths/path-for.ts";
import { planJob } from "../../src/plan/plan-job.ts";
import { readPost } from "../../src/program/read-post.ts";
import { writePrograms } from "../../src/program/write-programs.ts";
import { proveSetUp } from "../../src/proof/prove.ts";
import { lengthOf, radiusOf } from "../../src/shapes/segment.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import { job, part } from "../parts/describing.ts";
import { hollowFeature, SLOT, THICK } from "../parts/hollow-made.ts";
import { type Row, timed } from "./row.ts";

const RIDGE = 0.02;
const NOSE = 3;

/** A dished recess, 60 × 25 × 14 mm, by a 6 mm round-nosed bit with ridges of 0.02 mm. */
export default async function (): Promise<Row[]> {
  const read = readPost(
    readFileSync(new URL("../../post/millimetre.yaml", import.meta.url), "utf8"),
    "millimetre.yaml",
  );
  if (!read.ok) throw new Error("the post is not as it should be");
  const post = read.value;
  const asked = job([part([hollowFeature(SLOT, 11, { dish: 3 })], { size: THICK })]);
  const plan = () => {
    const parts = describeWorkpieces(asked);
    if (!parts.ok) throw new Error("the parts were refused");
    const planned = planJob(asked, parts.value, DEFAULT_SHOP);
    if (!planned.ok) throw new Error("the plan was refused");
    return planned.value[0]!;
  };
  const write = ({ setUp, operations }: ReturnType<typeof plan>) => {
    const toolpaths = operations.map((o) => {
      const path = pathFor(o, setUp);
      if (!path.ok) throw new Error("a path was refused");
      return path.value;
    });
    const written = writePrograms({ setUp, toolpaths, post, title: "hollow", version: "0" });
    if (!written.ok) throw new Error("the program was refused");
    return written.value.map((p) => ({ file: p.name, text: p.text }));
  };
  const planned = plan();
  const programs = write(planned);
  const prove = () => proveSetUp({ setUp: planned.setUp, programs, shop: DEFAULT_SHOP });
  const proof = prove();
  const refused = proof.findings.filter((f) => f.grade === "refuse").length;
  const [op] = planned.operations;
  const rings = op?.kind === "clear" ? op.finishLevels.length : 0;
  // What the textbooks say: the rounded foot and the dish, each as long as it is, in steps of √(8 h R ρ / (ρ − R)).
  const formula = planned.setUp.cavities[0]!.hollow!.segments.reduce((sum, s) => {
    if (s.kind === "line") return sum;
    const rho = radiusOf(s);
    return sum + (lengthOf(s) * (rho - NOSE)) / rho / Math.sqrt((8 * RIDGE * NOSE * (rho - NOSE)) / rho);
  }, 1);
  const figure = (name: string): string => `${((proof.figures[name]?.value ?? 0) * 1000).toFixed(1)} µm`;
  return [
    {
      name: "dished recess 60 × 25 × 14, planned, written and proved",
      ...timed(() => {
        const again = plan();
        proveSetUp({ setUp: again.setUp, programs: write(again), shop: DEFAULT_SHOP });
      }, 3),
      unit: "ms",
      goal: "≤ 2000 ms",
      note: `${refused} refusals; ridges ${figure("ridges in hollows")}, a pass off the surface by ${figure("wood left")}`,
    },
    { name: "its proof alone", ...timed(prove, 3), unit: "ms" },
    {
      name: "its finishing passes",
      value: rings,
      unit: "rings",
      reference: { name: "√(8hRρ/(ρ−R)) along the surface", value: Math.round(formula * 10) / 10 },
    },
  ];
}
