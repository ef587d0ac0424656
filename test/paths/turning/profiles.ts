import fc from "fast-check";
import type { Meridian } from "../../../src/shapes/meridian.ts";
import { arc, line, type Segment } from "../../../src/shapes/segment.ts";
import type { TurningTool } from "../../../src/shop/lathe.ts";

/** One stretch of a made-up profile, in µm: its width, how far its radius goes, and where the next one begins. */
interface Stretch {
  readonly kind: "cylinder" | "taper" | "bead" | "cove";
  readonly width: number;
  readonly rise: number;
  readonly step: number;
}

/** A half section from stretches, radii kept between 4 and 30 mm. */
export function meridianFrom(stretches: readonly Stretch[], from: number, radius: number): Meridian {
  const segments: Segment[] = [];
  const clamp = (r: number): number => Math.min(30, Math.max(4, r));
  let x = from;
  let r = radius;
  for (const s of stretches) {
    const w = s.width / 1000;
    const rise = s.rise / 1000;
    const start = { x, y: r };
    switch (s.kind) {
      case "cylinder":
        segments.push(line(start, { x: x + w, y: r }));
        break;
      case "taper": {
        const end = clamp(r + rise);
        segments.push(line(start, { x: x + w, y: end }));
        r = end;
        break;
      }
      case "bead":
      case "cove": {
        const sag = Math.min(w / 2, Math.max(0.2, Math.abs(rise)), s.kind === "cove" ? Math.max(0.2, r - 3) : 99);
        const big = (w * w) / 4 / (2 * sag) + sag / 2;
        const up = s.kind === "bead";
        const centre = { x: x + w / 2, y: up ? r + sag - big : r - sag + big };
        segments.push(arc(start, { x: x + w, y: r }, centre, !up));
        break;
      }
    }
    x += w;
    if (s.step !== 0) {
      const to = clamp(r + s.step / 1000);
      if (to !== r) segments.push(line({ x, y: r }, { x, y: to }));
      r = to;
    }
  }
  // A shoulder after the last stretch leads nowhere.
  while (segments.length > 1 && segments[segments.length - 1]!.to.x === segments[segments.length - 1]!.from.x)
    segments.pop();
  return { segments };
}

/** Made-up profiles. */
export const anyMeridian = fc
  .tuple(
    fc.array(
      fc.record({
        kind: fc.constantFrom("cylinder" as const, "taper" as const, "bead" as const, "cove" as const),
        width: fc.integer({ min: 1500, max: 15_000 }),
        rise: fc.integer({ min: -8000, max: 8000 }),
        step: fc.oneof(fc.constant(0), fc.integer({ min: -6000, max: 6000 })),
      }),
      { minLength: 2, maxLength: 8 },
    ),
    fc.integer({ min: 5000, max: 20_000 }),
  )
  .map(([stretches, radius]) => meridianFrom(stretches, 0, radius / 1000));

/** A tool with ordinary values where none are given. */
export function tool(more: Partial<TurningTool> = {}): TurningTool {
  return {
    name: "test tool",
    slot: 1,
    kind: "round-nose",
    noseRadius: 2,
    width: 4,
    flanks: { first: 0, second: 0 },
    reach: 40,
    holderHalfWidth: 10,
    point: "tip middle",
    maxBite: 1.5,
    from: "shop file",
    ...more,
  };
}

/** Tools of every kind. */
export const anyTool = fc.constantFrom(
  tool(),
  tool({ name: "small round", noseRadius: 0.8, width: 1.6 }),
  tool({ name: "detail", kind: "detail", noseRadius: 0.4, width: 10, flanks: { first: 17.5, second: 17.5 } }),
  tool({
    name: "uneven",
    kind: "detail",
    noseRadius: 0.5,
    width: 8,
    flanks: { first: 5, second: 55 },
    point: "corner first",
  }),
  tool({ name: "parting", kind: "parting", noseRadius: 0.1, width: 3, point: "corner second" }),
);
