import type { Finding } from "../finding.ts";
import { axisOf, opposite } from "./faces.ts";
import type { At, Feature, From, PartDescription } from "./job.ts";
import { jobFinding } from "./job-finding.ts";

/**
 * A pair must be measured from the same edge, or an error in the wood's width sets one half higher than the other.
 * Pairs are features of one name and kind on parts whose names differ only in left and right: left side, right side.
 */
export function pairFindings(parts: readonly PartDescription[]): readonly Finding[] {
  const found: Finding[] = [];
  const seen = new Map<string, PartDescription>();
  for (const part of parts) {
    const key = part.name.toLowerCase().replace(/\b(?:left|right)\b/g, "*");
    if (!key.includes("*")) continue;
    const other = seen.get(key);
    if (other === undefined) seen.set(key, part);
    else for (const f of part.features) found.push(...oppositeEdges(part, f, other));
  }
  return found;
}

function oppositeEdges(part: PartDescription, feature: Feature, other: PartDescription): readonly Finding[] {
  const twin = other.features.find(
    (f) => f.kind === feature.kind && f.name.toLowerCase() === feature.name.toLowerCase(),
  );
  if (twin === undefined || twin.on !== feature.on) return [];
  const theirs = edgesOf(twin);
  for (const from of edgesOf(feature)) {
    const across = theirs.find((t) => axisOf(t.border) === 1 && t.border === opposite(from.border));
    if (across === undefined || axisOf(from.border) !== 1) continue;
    return [
      jobFinding(
        "pair-from-opposite-edges",
        feature.source,
        `"${feature.name}" is measured from opposite edges on "${other.name}" and "${part.name}"`,
        {
          why: `from the ${other.labels[across.border]} on line ${twin.source.line}, from the ${part.labels[from.border]} here; if one board is wider than it should be, the pair won't be level`,
          mend: `measure both from the same edge, or describe one part and write "mirrored as: ${part.name}"`,
          part: part.name,
          feature: feature.name,
        },
      ),
    ];
  }
  return [];
}

/** What a feature's place is measured from. */
function edgesOf(feature: Feature): readonly From[] {
  switch (feature.kind) {
    case "groove":
      return feature.run.kind === "along" ? [feature.run.from] : [...feature.run.start, ...feature.run.end];
    case "recess":
      return feature.at;
    case "mortise":
      return feature.at;
    case "hole":
      return feature.centres.flatMap((c: At) => [...c]);
    case "outline":
      return feature.at ?? [];
    case "rabbet":
    case "mark":
      return [];
  }
}
