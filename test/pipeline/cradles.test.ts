import { describe, expect, it } from "vitest";
import { describeWorkpieces } from "../../src/parts/describe.ts";
import { holdingKit } from "../../src/parts/holding-kit/kit.ts";
import { planJob } from "../../src/plan/plan-job.ts";
import { slot } from "../../src/shapes/outlines.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import { job } from "../parts/describing.ts";
import { profile, room, waistPull } from "../parts/turned-sample.ts";
import { refusedBy, through } from "./round-through.ts";

describe("cradles, packing, cauls and plates", () => {
  it("are made and proved like any flat part", () => {
    const taper = waistPull({
      ...profile(0, 40, [
        { kind: "cylinder", to: 25, diameter: 40 },
        { kind: "taper", to: 75, diameter: 28 },
        { kind: "cylinder", to: 100, diameter: 28 },
      ]),
      blank: { length: 100, across: 45, shape: "round" },
      squares: [],
      waste: [],
      fingerRoom: room(50, { section: slot({ x: 50, y: 0 }, 40, 14, 0) }),
    });
    for (const piece of [waistPull(), taper]) {
      const kit = holdingKit(piece);
      if (!kit.ok) throw new Error("a kit was expected");
      const made = job(kit.value.parts);
      const described = describeWorkpieces(made);
      if (!described.ok) throw new Error(described.findings.map((f) => f.what).join("; "));
      const planned = planJob(made, described.value, DEFAULT_SHOP);
      if (!planned.ok) throw new Error(planned.findings.map((f) => `${f.code} ${f.what} ${f.why}`).join("; "));
      expect(planned.value.length).toBe(kit.value.parts.length);
      for (const one of planned.value) {
        const { proof } = through(one);
        expect(refusedBy(proof), one.setUp.name).toEqual([]);
      }
    }
  });
});
