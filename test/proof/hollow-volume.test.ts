import { readFileSync } from "node:fs";
import Module from "manifold-3d";
import { beforeAll, describe, expect, it } from "vitest";
import type { RecessFeature } from "../../src/job/job.ts";
import { pathFor } from "../../src/paths/path-for.ts";
import { readPost } from "../../src/program/read-post.ts";
import { writePrograms } from "../../src/program/write-programs.ts";
import { cuttersOf } from "../../src/proof/cutters.ts";
import { readOptions } from "../../src/proof/prove.ts";
import { readProgram } from "../../src/reader/read.ts";
import { endsOfHollow } from "../../src/shapes/hollow.ts";
import { pointAt } from "../../src/shapes/segment.ts";
import { removedBetween, simulate } from "../../src/simulate/run.ts";
import { startWood } from "../../src/simulate/start.ts";
import { hollowFeature, THICK } from "../parts/hollow-made.ts";
import { plan } from "../plan/planning.ts";

const LENGTH = 34;
const WIDTH = 20;

let wasm: Awaited<ReturnType<typeof Module>>;
beforeAll(async () => {
  wasm = await Module();
  wasm.setup();
});

/** The hollow of a slot as an independent solid: its cross-section drawn along the middle, and turned at both ends. */
function volumeOfSlot(chain: readonly (readonly [number, number])[], half: number, between: number): number {
  const right = chain.map(([x, y]): [number, number] => [half - x, y]);
  const floor = right[right.length - 1]![1];
  const turned = new wasm.CrossSection([[[0, floor], ...[...right].reverse(), [0, 0]]]).revolve(256);
  const across = new wasm.CrossSection([
    [...right.map(([x, y]): [number, number] => [-x, y]), ...[...right].reverse()],
  ]);
  const drawn = across
    .extrude(between)
    .rotate([90, 0, 90])
    .translate([-between / 2, 0, 0]);
  return wasm.Manifold.union([drawn, ...[-1, 1].map((s) => turned.translate([(s * between) / 2, 0, 0]))]).volume();
}

describe("what the program of a hollow takes", () => {
  it.each([
    ["dished", { dish: 2 }],
    ["with an eased edge and a sloped wall", { ease: 1.5, wallLeanDeg: 10, floorRadius: 3.5 }],
  ] as const)("is its volume within 0.5 %%: %s", (_, more: Partial<RecessFeature>) => {
    const { setUps } = plan([hollowFeature({ kind: "slot", length: LENGTH, width: WIDTH }, 8, more)], { size: THICK });
    const { setUp, operations } = setUps[0]!;
    const post = readPost(readFileSync(new URL("../../post/millimetre.yaml", import.meta.url), "utf8"), "m.yaml");
    if (!post.ok) throw new Error("the post is not as it should be");
    const toolpaths = operations.map((o) => {
      const path = pathFor(o, setUp);
      if (!path.ok) throw new Error("a path was refused");
      return path.value;
    });
    const written = writePrograms({ setUp, toolpaths, post: post.value, title: "hollow", version: "0" });
    if (!written.ok) throw new Error("the program was refused");
    const [program] = written.value;
    const read = readProgram(program!.text, "m.ngc", setUp.machine.controller, readOptions(setUp));
    const { assemblyFor } = cuttersOf(setUp, read, 0, 1);
    const wood = startWood(setUp.blank, 0.15);
    const around = { keepOuts: [], lowestTip: setUp.blank.min.z };
    const { after } = simulate({ wood, events: read.events, assemblyFor, around });
    const { least, most } = removedBetween(wood, after);
    const { hollow, section } = setUp.cavities[0]!;
    const chain = hollow!.segments.flatMap((s) =>
      Array.from({ length: 49 }, (_, k) => pointAt(s, k / 48)).map((p) => [p.x, p.y] as const),
    );
    const ease = endsOfHollow(hollow!);
    const wide = section.loops[0]!.flatMap((s) => [s.from.y, pointAt(s, 0.5).y]);
    const half = (Math.max(...wide) - Math.min(...wide)) / 2;
    expect(ease.mouth.y).toBe(0);
    const exact = volumeOfSlot(chain, half, LENGTH - WIDTH);
    expect(least).toBeLessThan(exact);
    expect(most).toBeGreaterThan(exact);
    expect(Math.abs((least + most) / 2 / exact - 1)).toBeLessThan(0.005);
  });
});
