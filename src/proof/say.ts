import type { Finding, Place } from "../finding.ts";
import type { FindingCode } from "../finding-codes.ts";
import type { TargetCavity } from "../parts/target.ts";
import type { SetUp } from "../plan/setup.ts";
import type { Point3 } from "../shapes/point.ts";
import { boundsOfRegion, containsPoint, distanceToBoundary } from "../shapes/region.ts";
import type { Case } from "./proof.ts";

/** Findings of one code that are told one by one; the rest are counted. */
const TOLD = 4;

/** The place of a program's line, with the line itself. */
export function lineOf(c: Pick<Case, "file" | "lines">, line: number): Place {
  const text = c.lines[line - 1];
  return { program: { file: c.file, line, ...(text === undefined ? {} : { text: text.trim() }) } };
}

/** The place of a cavity: its part, its feature, its line in the job. */
export function placeOfCavity(c: TargetCavity): Place {
  return { part: c.cavity.part, feature: c.cavity.feature, source: c.cavity.source };
}

/** The cavity that a place in the wood most likely belongs to: the one it lies in, else the one whose wall is nearest. */
export function cavityNear(setUp: SetUp, at: Point3): TargetCavity | undefined {
  let best: TargetCavity | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const c of setUp.target.cavities) {
    const box = boundsOfRegion(c.section);
    if (box === undefined) continue;
    const away = Math.hypot(
      Math.max(0, box.min.x - at.x, at.x - box.max.x),
      Math.max(0, box.min.y - at.y, at.y - box.max.y),
    );
    if (away > least) continue;
    const distance = containsPoint(c.section, at) ? 0 : distanceToBoundary(c.section, at);
    if (distance < least) {
      least = distance;
      best = c;
    }
  }
  return best;
}

/** The place of a spot in the wood: the feature it belongs to, and the spot. */
export function placeIn(setUp: SetUp, at: Point3): Place {
  const cavity = cavityNear(setUp, at);
  return { ...(cavity === undefined ? {} : placeOfCavity(cavity)), at };
}

/** Tells the first few findings of each code and feature; the last of them says how many more there are. */
export function shortened(findings: readonly Finding[]): readonly Finding[] {
  const seen = new Map<string, number>();
  const key = (f: Finding): string => `${f.code}|${f.place.feature ?? ""}|${f.place.part ?? ""}`;
  for (const f of findings) seen.set(key(f), (seen.get(key(f)) ?? 0) + 1);
  const told = new Map<string, number>();
  return findings.flatMap((f) => {
    const k = key(f);
    const n = (told.get(k) ?? 0) + 1;
    told.set(k, n);
    const all = seen.get(k)!;
    if (n < TOLD || all === n) return [f];
    if (n > TOLD) return [];
    const more = `and ${all - TOLD} more of the same`;
    return [{ ...f, why: f.why === undefined ? more : `${f.why}; ${more}` }];
  });
}

/** A number for a sentence: three decimals at most. */
export function mm(value: number): string {
  return `${Number(value.toFixed(3))} mm`;
}

/** The codes of this stage. */
export type ProofCode = Extract<FindingCode, `proof-${string}` | `dry-run-${string}`>;
