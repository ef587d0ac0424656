import type { Finding } from "../finding.ts";
import { boundsOfRegion } from "../shapes/region.ts";
import { mmText } from "./ground.ts";
import { distanceOfRegions, liesWithin } from "./section-distance.ts";
import { mayCross, type Web, webBetween } from "./web.ts";
import type { Cavity, Workpiece } from "./workpiece.ts";

/** Sections may touch within this and still count as beside each other, mm. */
const TOUCH = 1e-6;

/** What is wrong between the cavities of one workpiece: overlaps on a face, cuts that meet inside the wood. */
export function checkCavities(workpiece: Pick<Workpiece, "name" | "size" | "labels" | "cavities">): readonly Finding[] {
  const findings: Finding[] = [];
  const { cavities } = workpiece;
  for (const [i, a] of cavities.entries()) {
    for (const b of cavities.slice(i + 1)) {
      const found = a.face === b.face ? sameFace(a, b) : twoFaces(workpiece, a, b);
      if (found) findings.push(found);
    }
  }
  return findings;
}

function sameFace(a: Cavity, b: Cavity): Finding | undefined {
  if (a.shape.kind === "outline" || b.shape.kind === "outline") return withOutline(a, b);
  if (mayCross(a, b)) return undefined;
  if (partsOfOneHole(a, b)) return undefined;
  if (Math.min(a.to, b.to) - Math.max(a.from, b.from) <= TOUCH) return undefined;
  if (distanceOfRegions(a.section, b.section, TOUCH) > TOUCH) return undefined;
  return overlap(a, b, `${nameOf(b)} overlaps ${nameOf(a)}`);
}

/** A head and its own bore share an id up to the head's suffix. */
function partsOfOneHole(a: Cavity, b: Cavity): boolean {
  const stem = (c: Cavity): string => c.id.replace(/\/(head|tip)$/, "");
  return a.shape.kind === "hole" && b.shape.kind === "hole" && stem(a) === stem(b);
}

/** What an outline must leave alone: cuts of its own part inside it, or around its opening. Runs may cross it. */
function withOutline(a: Cavity, b: Cavity): Finding | undefined {
  const [outline, cut] = a.shape.kind === "outline" ? [a, b] : [b, a];
  if (outline.shape.kind !== "outline") return undefined;
  const { profile, side } = outline.shape;
  if (cut.shape.kind === "outline") return idStem(cut) === idStem(outline) ? twoOutlines(outline, cut) : undefined;
  if (cut.shape.kind === "groove" || cut.shape.kind === "rabbet") return undefined;
  if (side === "inside") {
    return distanceOfRegions(profile, cut.section, TOUCH) > TOUCH
      ? undefined
      : overlap(outline, cut, `${nameOf(cut)} overlaps the opening ${nameOf(outline)}`);
  }
  if (idStem(cut) !== idStem(outline)) return undefined;
  return liesWithin(cut.section, profile, TOUCH)
    ? undefined
    : overlap(outline, cut, `${nameOf(cut)} reaches across the part's outline`);
}

/** Openings lie apart from each other and within the part's own outline, of which there is one. */
function twoOutlines(a: Cavity, b: Cavity): Finding | undefined {
  if (a.shape.kind !== "outline" || b.shape.kind !== "outline") return undefined;
  if (a.shape.side === "outside" && b.shape.side === "outside")
    return overlap(a, b, "the part has two outlines of its own");
  if (a.shape.side === "inside" && b.shape.side === "inside") {
    return distanceOfRegions(a.shape.profile, b.shape.profile, TOUCH) > TOUCH
      ? undefined
      : overlap(a, b, `the openings ${nameOf(a)} and ${nameOf(b)} cut into each other`);
  }
  const [outer, inner] = a.shape.side === "outside" ? [a.shape, b.shape] : [b.shape, a.shape];
  return liesWithin(inner.profile, outer.profile, TOUCH)
    ? undefined
    : overlap(a, b, `${nameOf(b)} reaches across ${nameOf(a)}`);
}

/** The part and copy that a cavity belongs to. */
function idStem(c: Cavity): string {
  return c.id.slice(0, c.id.indexOf("/"));
}

function overlap(a: Cavity, b: Cavity, what: string): Finding {
  const box = boundsOfRegion(b.section);
  const other = boundsOfRegion(a.section);
  return {
    grade: "refuse",
    code: "part-overlap",
    place: { part: b.part, feature: b.feature, source: b.source },
    what,
    why:
      box && other
        ? `${nameOf(b)} covers ${range(box.min.x, box.max.x)} by ${range(box.min.y, box.max.y)}, ${nameOf(a)} (line ${a.source.line}) ${range(other.min.x, other.max.x)} by ${range(other.min.y, other.max.y)}`
        : `line ${a.source.line} and line ${b.source.line}`,
    mend: "move one of them, or describe both as one feature",
  };
}

function range(low: number, high: number): string {
  return `${mmText(low)} to ${mmText(high)}`;
}

function nameOf(c: Cavity): string {
  return `"${c.feature}"`;
}

/** Cuts from two faces that meet. Runs from square faces may, as in frame joints; the rest would break through. */
function twoFaces(workpiece: Pick<Workpiece, "size" | "labels">, a: Cavity, b: Cavity): Finding | undefined {
  const outlined = (c: Cavity): boolean => c.shape.kind === "outline" && c.shape.side === "outside";
  if (outlined(a) || outlined(b)) return undefined;
  const web = webBetween(workpiece.size, a, b, 1e-9);
  if (web === undefined || web.thickness > 0) return undefined;
  const runs = mayCross(a, b) && web.between === "faces square to each other";
  return {
    grade: runs ? "caution" : "refuse",
    code: runs ? "part-runs-cross" : "part-cuts-meet",
    place: { part: b.part, feature: b.feature, source: b.source },
    what: `${nameOf(b)}, cut from "${workpiece.labels[b.face]}", meets ${nameOf(a)}, cut from "${workpiece.labels[a.face]}"`,
    why: meetWhy(web),
    mend: runs
      ? "let it stand if that is the joint; otherwise stop one of them short"
      : "make one shallower, or move it away from the other",
    measured: { value: 0, bound: Number.isFinite(web.bound) ? web.bound : 0, unit: "mm" },
    limit: { value: 0, unit: "mm", from: "they would break into each other" },
  };
}

function meetWhy(web: Web): string {
  const { a, b } = web;
  if (b === undefined) return "";
  return `${nameOf(a)} (line ${a.source.line}) is ${mmText(a.to)} deep and ${nameOf(b)} ${mmText(b.to)}; no wood is left between them`;
}
