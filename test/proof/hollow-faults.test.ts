import { beforeAll, describe, expect, it } from "vitest";
import { proveSetUp } from "../../src/proof/prove.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import { SLOT } from "../parts/hollow-made.ts";
import { bit } from "../plan/planning.ts";
import { changed, type Made, made, proofOf, refusals } from "./hollow-help.ts";

describe("a mistake in a hollow", () => {
  let right: Made;
  beforeAll(() => {
    right = made(SLOT, 9, { dish: 2, ease: 1.5 })!;
  });

  /** Heights of the finishing rings, as the program writes them. */
  const heights = (): readonly number[] => {
    const [op] = right.planned.operations;
    if (op?.kind !== "clear") throw new Error("clearing was expected");
    return op.finishLevels.map((l) => l.z);
  };

  const moveHeight = (z: number, by: number): Made => {
    const was = new RegExp(
      `Z${z
        .toFixed(4)
        .replace(/\.?0+$/, "")
        .replace(".", "\\.")}(?![0-9.])`,
      "g",
    );
    let hits = 0;
    const out = changed(right, (line) =>
      line.replace(was, () => {
        hits++;
        return `Z${(z + by).toFixed(4)}`;
      }),
    );
    expect(hits).toBeGreaterThan(0);
    return out;
  };

  it("of 0.02 mm in the height of any ring is refused, up or down", () => {
    const all = heights();
    for (const i of [2, all.length - 3]) {
      const low = refusals(proofOf(moveHeight(all[i]!, -0.02)));
      expect(low.some((r) => r.startsWith("proof-gouge"))).toBe(true);
      const high = refusals(proofOf(moveHeight(all[i]!, 0.02)));
      expect(high.some((r) => r.startsWith("proof-wood-left"))).toBe(true);
    }
  });

  it("that leaves a ring out is refused", () => {
    const z = heights()[7]!;
    // The ring is walked at the height of the ring before instead.
    const found = refusals(proofOf(moveHeight(z, heights()[6]! - z)));
    expect(found.some((r) => r.startsWith("proof-wood-left"))).toBe(true);
  });

  it("of a bit 0.05 mm too thick or too thin is refused", () => {
    for (const by of [0.05, -0.05]) {
      const { setUp } = right.planned;
      const cutters = setUp.cutters.map((c) => ({ ...c, diameter: c.diameter + by }));
      const proof = proveSetUp({ setUp: { ...setUp, cutters }, programs: right.programs, shop: DEFAULT_SHOP });
      expect(refusals(proof).length).toBeGreaterThan(0);
    }
  });

  it("of a flat bit in the spindle instead of the round one is refused as a gouge", () => {
    const { setUp } = right.planned;
    const flat = { ...bit("6 mm flat"), slot: setUp.cutters[0]!.slot };
    const proof = proveSetUp({ setUp: { ...setUp, cutters: [flat] }, programs: right.programs, shop: DEFAULT_SHOP });
    expect(refusals(proof).some((r) => r.startsWith("proof-gouge"))).toBe(true);
  });
});
