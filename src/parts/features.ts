import type { Feature, PartDescription } from "../job/job.ts";
import { describeGroove } from "./groove.ts";
import type { Described, Ground, OfOneCopy } from "./ground.ts";
import { describeHoles } from "./hole.ts";
import { describeMark } from "./marks/describe-mark.ts";
import { mirroredDescription } from "./mirror.ts";
import { describeOutline } from "./outline.ts";
import { describeRabbet } from "./rabbet.ts";
import { describeMortise, describeRecess } from "./recess.ts";

/** A description with what it came from: twins are descriptions of their own. */
export interface Description {
  readonly part: PartDescription;
  readonly mirrored: boolean;
}

/** All descriptions, each twin after the part that it mirrors. */
export function withTwins(parts: readonly PartDescription[]): readonly Description[] {
  return parts.flatMap((part) => [
    { part, mirrored: false },
    ...(part.mirroredAs === undefined ? [] : [{ part: mirroredDescription(part, part.mirroredAs), mirrored: true }]),
  ]);
}

/** All cavities of a part in its own face coordinates. */
export function describeFeatures(ground: Ground): Described {
  const all = ground.part.features.map((feature) => describeFeature(ground, feature));
  const marks = all.flatMap((d) => d.marks ?? []);
  const each = eachOf(all);
  return {
    cavities: all.flatMap((d) => d.cavities),
    ...(marks.length > 0 && { marks }),
    ...(each.length > 0 && { each }),
    findings: all.flatMap((d) => d.findings),
  };
}

/** What each copy has of its own, of all features together. */
function eachOf(all: readonly Described[]): readonly OfOneCopy[] {
  const most = Math.max(0, ...all.map((d) => d.each?.length ?? 0));
  return Array.from({ length: most }, (_, i) => ({
    cavities: all.flatMap((d) => d.each?.[i]?.cavities ?? []),
    marks: all.flatMap((d) => d.each?.[i]?.marks ?? []),
  }));
}

function describeFeature(ground: Ground, feature: Feature): Described {
  switch (feature.kind) {
    case "recess":
      return describeRecess(ground, feature);
    case "groove":
      return describeGroove(ground, feature);
    case "rabbet":
      return describeRabbet(ground, feature);
    case "mortise":
      return describeMortise(ground, feature);
    case "hole":
      return describeHoles(ground, feature);
    case "outline":
      return describeOutline(ground, feature);
    case "mark":
      return describeMark(ground, feature);
  }
}
