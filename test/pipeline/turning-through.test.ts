import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { proveTurning, proveTurningDryRun } from "../../src/proof/turning/prove.ts";
import { ACCURACY } from "../../src/tolerance.ts";
import { tenonPull, waistPull } from "../parts/turned-sample.ts";
import { piece } from "../paths/turning/pieces.ts";
import { anyMeridian } from "../paths/turning/profiles.ts";
import { LATHES, type Turned, turnedThrough } from "./turning-through.ts";

function refusals({ setUp, shop }: Turned, programs: Turned["programs"]): readonly string[] {
  const { findings } = proveTurning({ setUp, shop, programs });
  return findings.filter((f) => f.grade === "refuse").map((f) => f.code);
}

/** One fault put into the texts; undefined where there is nothing of the kind to spoil. */
function spoilt(t: Turned, spoil: (text: string) => string): Turned["programs"] | undefined {
  const programs = t.programs.map((p) => ({ ...p, text: spoil(p.text) }));
  return programs.every((p, i) => p.text === t.programs[i]!.text) ? undefined : programs;
}

/** Adds to the radius of the last cut along the axis that the finish makes. */
function moved(text: string, by: number, scale: number): string {
  const lines = text.split("\n");
  const at = lines.findLastIndex((l) => /^G1 X-?[\d.]+ Z/.test(l) || /^G[23] X/.test(l));
  if (at < 0) return text;
  lines[at] = lines[at]!.replace(/X(-?[\d.]+)/, (_, x) => `X${(Number(x) + by * scale).toFixed(4)}`);
  return lines.join("\n");
}

describe("turned pulls, made and checked by two sides that share nothing but piece and set-up", () => {
  it.each(LATHES.flatMap((l) => [[waistPull(), l] as const, [tenonPull(), l] as const]))(
    "$0.name: $1.name",
    (p, lathe) => {
      const t = turnedThrough(p, lathe);
      const proof = proveTurning(t);
      expect(proof.findings.filter((f) => f.grade === "refuse")).toEqual([]);
      expect(proof.figures.gouge!.value).toBeLessThan(0.0005);
      expect(proof.figures["wood left"]!.value).toBeLessThanOrEqual(ACCURACY);
      for (const d of t.dryRuns) expect(proveTurningDryRun(t.setUp, d).findings).toEqual([]);
    },
  );

  it("with jaws over the profile's end, or none: no faster than wood that stays unround may turn, and proved", () => {
    const drawn = fc.tuple(fc.integer({ min: 2, max: 30 }), fc.integer({ min: 5, max: 40 }));
    fc.assert(
      fc.property(drawn, ([grip, ends]) => {
        const head = { kind: "jaws", diameter: 90, length: 50, grip } as const;
        const p = piece({ segments: [{ kind: "line", from: { x: 0, y: 26 }, to: { x: 80, y: 26 } }] }, { ends });
        const t = turnedThrough(p, { ...LATHES[0]!, head, from: "shop file" });
        expect(refusals(t, t.programs)).toEqual([]);
      }),
      { numRuns: 4, examples: [[[20, 20]]] },
    );
  });

  it("planted faults in what was written are refused", () => {
    for (const lathe of LATHES) {
      const t = turnedThrough(waistPull(), lathe);
      const scale = (lathe.xWords === "diameter" ? 2 : 1) * (lathe.toolPost === "rear" ? 1 : -1);
      const faults: readonly ((text: string) => string)[] = [
        (text) => moved(text, -0.02, scale),
        (text) => text.replace(/^S\d+ M3\n/m, ""),
        (text) => text.replace(/ M3$/m, " M4"),
        (text) => text.replaceAll(/^G2 /gm, "G3 "),
        (text) => text.replaceAll(/^G3 /gm, "G2 "),
        (text) => text.replace(/^G4 .*\n/m, ""),
      ];
      for (const fault of faults) {
        // Each fault once in each convention would say no more and take twice as long.
        if (lathe !== LATHES[faults.indexOf(fault) % LATHES.length]) continue;
        const programs = spoilt(t, fault);
        if (programs !== undefined) expect(refusals(t, programs), fault.toString()).not.toEqual([]);
      }
      const other = {
        ...t.setUp,
        lathe: { ...lathe, xWords: lathe.xWords === "radius" ? "diameter" : "radius" },
      } as const;
      expect(refusals({ ...t, setUp: other }, t.programs)).not.toEqual([]);
      const swapped = {
        ...t.setUp,
        lathe: { ...lathe, toolPost: lathe.toolPost === "rear" ? "front" : "rear" },
      } as const;
      expect(refusals({ ...t, setUp: swapped }, t.programs)).not.toEqual([]);
      expect(refusals(t, t.programs.slice(1))).not.toEqual([]);
    }
  });

  it("random profiles, square and round, in both conventions", () => {
    fc.assert(
      fc.property(
        anyMeridian,
        fc.constantFrom("square" as const, "round" as const),
        fc.constantFrom(...LATHES),
        (m, shape, lathe) => {
          const t = turnedThrough(piece(m, { shape }), lathe);
          const proof = proveTurning(t);
          expect(proof.findings.filter((f) => f.grade === "refuse")).toEqual([]);
          expect(proof.figures.gouge!.value + proof.figures.gouge!.bound).toBeLessThanOrEqual(ACCURACY);
          expect(proof.figures["wood left"]!.value).toBeLessThanOrEqual(ACCURACY);
          for (const d of t.dryRuns) expect(proveTurningDryRun(t.setUp, d).findings).toEqual([]);
        },
      ),
      { numRuns: 5 },
    );
  });
});
