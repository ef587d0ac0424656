import type { Finding } from "../../finding.ts";
import type { Feature, From } from "../../job/job.ts";
import type { MarkContent, MarkFeature } from "../../job/mark.ts";
import { shiftBy, turnBy } from "../../shapes/plan-map.ts";
import type { Box } from "../../shapes/point.ts";
import { line } from "../../shapes/segment.ts";
import { borderOf, faceExtent } from "../faces.ts";
import { cavityBase, type Described, type Ground, mmText, type OfOneCopy, refused, SAME } from "../ground.ts";
import { evenReach, isFinding, placeIn, placeOn } from "../place-of.ts";
import { type CutMade, cutMark } from "./cut-mark.ts";
import { boundsOfInk, inkOf, mapInk } from "./ink.ts";
import type { Ink, Mark } from "./mark.ts";

type Feat = Extract<Feature, { readonly kind: "mark" }>;

/** A mark on a face of a flat part: what is burned, or what the router cuts; of each copy where they differ. */
export function describeMark(ground: Ground, feature: Feat): Described {
  const contents = feature.each ?? [feature.content];
  const drawn: OfOneCopy[] = [];
  const findings: Finding[] = [];
  for (const [i, content] of contents.entries()) {
    const ink = inkOnFace(ground, feature, content);
    if (isFinding(ink)) return refused(ink);
    const outside = beyondFace(ground, feature, ink, contents.length > 1 ? i + 1 : undefined);
    if (outside !== undefined) return refused(outside);
    const { copy, findings: found } = ofCopy(ground, feature, content, ink);
    // What is said of one copy holds of all.
    if (i === 0 || found.some((f) => f.grade === "refuse")) findings.push(...found);
    if (copy === undefined) return refused(...findings);
    drawn.push(copy);
  }
  if (feature.each !== undefined) return { cavities: [], each: drawn, findings };
  const [only] = drawn;
  return only === undefined ? refused(...findings) : { ...only, findings };
}

/** A mark's ink in plan coordinates of its face, or why it has no place. */
function inkOnFace(ground: Ground, feature: Feat, content: MarkContent): Ink | Finding {
  if (feature.to !== undefined) return lineOnFace(ground, feature, feature.at, feature.to);
  const turn = turnBy(feature.turnedDeg);
  const ink = mapInk(turn, inkOf(content));
  const reach = boundsOfInk(ink) ?? evenReach(0);
  const [a, b] = feature.at.map((f) => (feature.midway?.includes(f.border) ? halfway(ground, feature, f) : f));
  const centre = placeOn(ground.part, feature, [a ?? feature.at[0], b ?? feature.at[1]], reach);
  return isFinding(centre) ? centre : mapInk(shiftBy(centre.x, centre.y), ink);
}

/** Half the face along a border's own direction. */
function halfway(ground: Ground, feature: Feat, from: From): From {
  const { u, v } = faceExtent(ground.part.size, feature.on);
  return { ...from, distance: (borderOf(feature.on, from.border)?.axis === "u" ? u : v) / 2, reach: "centre" };
}

function lineOnFace(ground: Ground, feature: Feat, at: MarkFeature["at"], to: MarkFeature["at"]): Ink | Finding {
  const a = placeOn(ground.part, feature, at, evenReach(0));
  const b = placeOn(ground.part, feature, to, evenReach(0));
  if (isFinding(a)) return a;
  if (isFinding(b)) return b;
  return { kind: "lines", chains: [[line(a, b)]] };
}

/** What of a mark lies beyond its face. */
function beyondFace(ground: Ground, feature: Feat, ink: Ink, copy: number | undefined): Finding | undefined {
  const box = boundsOfInk(ink);
  const { u, v } = faceExtent(ground.part.size, feature.on);
  const label = ground.part.labels[feature.on];
  const place = placeIn(ground.part, feature, "centre at", "near edge at", "far edge at", "end at");
  if (box === undefined) {
    return {
      grade: "refuse",
      code: "mark-unclear",
      place,
      what: "this mark draws nothing",
      mend: "give it something to draw, or take it out",
    };
  }
  const over = Math.max(-box.min.x, -box.min.y, box.max.x - u, box.max.y - v);
  if (over <= SAME) return undefined;
  const [width, height] = [box.max.x - box.min.x, box.max.y - box.min.y];
  const tooLarge = width > u + SAME || height > v + SAME;
  const which = copy === undefined ? "" : ` of copy ${copy}`;
  return {
    grade: "refuse",
    code: "mark-off-the-face",
    place,
    what: `this mark${which} runs ${mmText(over)} over the border of "${label}"`,
    why: `it covers ${span(box, "x")} by ${span(box, "y")} of a face that is ${mmText(u)} by ${mmText(v)}`,
    mend: tooLarge ? "make it smaller; it is larger than the face" : "move it inwards by that, or make it smaller",
    measured: { value: over, bound: 0, unit: "mm" },
    limit: { value: 0, unit: "mm", from: "the border of the face" },
  };
}

function span(box: Box, axis: "x" | "y"): string {
  return `${mmText(box.min[axis])} to ${mmText(box.max[axis])}`;
}

function ofCopy(
  ground: Ground,
  feature: Feat,
  content: MarkContent,
  ink: Ink,
): { readonly copy?: OfOneCopy; readonly findings: readonly Finding[] } {
  const base = cavityBase(ground, feature);
  const { made } = feature;
  switch (made.by) {
    case "cut line":
    case "v-groove": {
      const { deep } = faceExtent(ground.part.size, feature.on);
      const cut = cutMark(ink, made satisfies CutMade, { base, deep });
      if (!cut.ok) return { findings: cut.findings };
      const { from } = content;
      const photo = from.kind === "signature" && from.photo !== undefined ? { photo: from.photo } : {};
      const cavities = cut.value.map((c) => ({ ...c, ...photo }));
      return { copy: { cavities, marks: [] }, findings: cut.findings };
    }
    case "burned line":
    case "burned area":
    case "burned picture":
    case "burned through": {
      const { id, part, feature: name, source, sources, face } = base;
      const own = sources === undefined ? {} : { sources };
      const mark: Mark = { id, part, feature: name, source, ...own, face, ink, made, from: content.from };
      return { copy: { cavities: [], marks: [mark] }, findings: [] };
    }
  }
}
