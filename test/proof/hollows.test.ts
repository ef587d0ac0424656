import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import type { PlanShape, RecessFeature } from "../../src/job/job.ts";
import { pathFor } from "../../src/paths/path-for.ts";
import type { PlannedSetUp } from "../../src/plan/plan-job.ts";
import type { Post } from "../../src/program/post.ts";
import { readPost } from "../../src/program/read-post.ts";
import { writePrograms } from "../../src/program/write-programs.ts";
import { widestAgainst } from "../../src/proof/against-hollow.ts";
import type { Proof } from "../../src/proof/proof.ts";
import { proveSetUp } from "../../src/proof/prove.ts";
import { radiusAt, type Silhouette } from "../../src/proof/silhouette.ts";
import { buildHollow, endsOfHollow, insetAt } from "../../src/shapes/hollow.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import { cutterProfile } from "../../src/shop/profile.ts";
import { hollowFeature, SLOT, THICK } from "../parts/hollow-made.ts";
import { projectText } from "../pipeline/texts.ts";
import { bit, plan } from "../plan/planning.ts";

const um = (low: number, high: number) => fc.integer({ min: low * 1000, max: high * 1000 }).map((n) => n / 1000);

let post: Post;
beforeAll(() => {
  const read = readPost(projectText("post/millimetre.yaml"), "millimetre.yaml");
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  post = read.value;
});

interface Made {
  readonly planned: PlannedSetUp;
  readonly programs: readonly { readonly file: string; readonly text: string }[];
}

function made(shape: PlanShape, depth: number, more: Partial<RecessFeature>, cutter?: string): Made | undefined {
  const { setUps } = plan([hollowFeature(shape, depth, more, cutter)], { size: THICK });
  const planned = setUps[0];
  if (planned === undefined) return undefined;
  const toolpaths = planned.operations.map((o) => {
    const path = pathFor(o, planned.setUp);
    if (!path.ok) throw new Error(JSON.stringify(path.findings));
    return path.value;
  });
  const written = writePrograms({ setUp: planned.setUp, toolpaths, post, title: "hollow", version: "0" });
  if (!written.ok) throw new Error(JSON.stringify(written.findings));
  return { planned, programs: written.value.map((p) => ({ file: p.name, text: p.text })) };
}

function proofOf({ planned, programs }: Made): Proof {
  return proveSetUp({ setUp: planned.setUp, programs, shop: DEFAULT_SHOP });
}

const refusals = (p: Proof): readonly string[] =>
  p.findings.filter((f) => f.grade === "refuse").map((f) => `${f.code}: ${f.what}`);

/** The program with lines changed. */
function changed(m: Made, change: (line: string) => string): Made {
  return {
    ...m,
    programs: m.programs.map((p) => ({ ...p, text: p.text.split("\n").map(change).join("\n") })),
  };
}

describe("hollows as they are made", () => {
  it.each([
    ["a dished slot", SLOT, 11, { dish: 3 }],
    ["a dished slot with an eased edge", SLOT, 9, { dish: 2, ease: 1.5 }],
    ["a slot with sloped walls and a flat floor", SLOT, 9, { wallLeanDeg: 12, floorRadius: 4 }],
    ["a dished circle", { kind: "circle", diameter: 26 }, 6, { dish: 2 }],
    [
      "a dished rectangle with tight corners",
      { kind: "rounded rectangle", length: 44, width: 24, radius: 3.2 },
      7,
      { dish: 2 },
    ],
    [
      "a flat rectangle with an eased edge",
      { kind: "rounded rectangle", length: 44, width: 24, radius: 6 },
      6,
      { ease: 1.5 },
    ],
    ["an oval with a rounding at its floor", { kind: "oval", length: 50, width: 30 }, 6, { floorRadius: 3.2 }],
  ] as const)("are proved: %s", (_, shape, depth, more) => {
    const m = made(shape, depth, more);
    expect(m).toBeDefined();
    const proof = proofOf(m!);
    expect(refusals(proof)).toEqual([]);
    expect(proof.figures["ridges in hollows"]!.value).toBeLessThanOrEqual(0.03);
    expect(proof.figures["wood left"]!.value).toBeLessThanOrEqual(0.01);
    expect(proof.figures.gouge!.value).toBeLessThanOrEqual(0.01);
  });

  it("by a bit with a small corner radius, where the floor is flat", () => {
    const m = made(SLOT, 6, { floorRadius: 3 }, "6 mm radiused corner")!;
    expect(m.planned.operations[0]!.cutter.name).toBe("6 mm radiused corner");
    expect(refusals(proofOf(m))).toEqual([]);
  });

  it("whatever the words: random hollows are proved or refused before", () => {
    let proved = 0;
    fc.assert(
      fc.property(
        fc.constantFrom<PlanShape["kind"]>("slot", "circle", "rounded rectangle"),
        um(14, 30),
        um(3.2, 6),
        um(4, 10),
        fc.constantFrom(0, 0, 5, 15),
        um(3, 4.5),
        fc.constantFrom(0, 0.8, 2),
        fc.constantFrom(0, 0, 1, 2),
        (kind, width, corner, depth, wallLeanDeg, floorRadius, dish, ease) => {
          const shape: PlanShape =
            kind === "circle"
              ? { kind, diameter: width }
              : kind === "slot"
                ? { kind, length: 45, width }
                : { kind: "rounded rectangle", length: 45, width, radius: corner };
          const m = made(shape, depth, {
            wallLeanDeg,
            floorRadius,
            ...(dish > 0 ? { dish } : {}),
            ...(ease > 0 ? { ease } : {}),
          });
          if (m === undefined) return;
          proved++;
          expect(refusals(proofOf(m))).toEqual([]);
        },
      ),
      { numRuns: 10 },
    );
    expect(proved).toBeGreaterThan(6);
  });
});

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
    for (const i of [2, Math.floor(all.length / 2), all.length - 2]) {
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

describe("how near a cutter may come to a hollow", () => {
  const cutters: readonly Silhouette[] = ["6 mm round-nose", "6 mm radiused corner", "6 mm flat", "60 degree V"].map(
    (n) => cutterProfile(bit(n)),
  );

  it("is the largest sum of its radius and the hollow's inset, found by plain sampling too", () => {
    fc.assert(
      fc.property(
        fc.record({
          depth: um(4, 14),
          leanDeg: fc.constantFrom(0, 7, 25),
          footRadius: um(1, 4),
          dish: fc.constantFrom(0, 1.5, 4),
          ease: fc.constantFrom(0, 1.5),
          middle: um(9, 25),
        }),
        fc.constantFrom(...cutters),
        um(0, 13),
        (w, body, below) => {
          const h = buildHollow(w);
          if (typeof h === "string") return;
          const { mouth, floor } = endsOfHollow(h);
          const tip = -Math.min(below, -floor.y);
          const high = Math.min(-tip, 20);
          const exact = widestAgainst(body, 0, high, h, tip);
          let sampled = Number.NEGATIVE_INFINITY;
          for (let k = 0; k <= 4000; k++) {
            const at = (high * k) / 4000;
            const p = body.find((q) => at >= q.from && at <= q.to);
            if (p === undefined) continue;
            sampled = Math.max(sampled, radiusAt(p, at) + Math.max(mouth.x, insetAt(h, Math.max(floor.y, tip + at))));
          }
          expect(exact).toBeGreaterThan(sampled - 1e-6);
          expect(exact - sampled).toBeLessThan(0.02);
        },
      ),
      { numRuns: 100 },
    );
  });
});
