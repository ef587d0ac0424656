import type { Finding } from "../../finding.ts";

/** Findings that say the same of the same place once: copies, and a mark on two sides, have what is wrong in common. */
export function once(findings: readonly Finding[]): readonly Finding[] {
  const seen = new Set<string>();
  return findings.filter((f) => {
    const key = JSON.stringify([f.code, f.place.feature, f.place.source?.line, f.place.source?.column, f.what, f.why]);
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
