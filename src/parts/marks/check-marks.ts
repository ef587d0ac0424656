import type { Finding } from "../../finding.ts";
import { compose, inverse } from "../../shapes/frame.ts";
import { mapRegion, planOf } from "../../shapes/plan-map.ts";
import type { Region } from "../../shapes/region.ts";
import { faceFrame, oppositeOf } from "../faces.ts";
import type { Cavity, Workpiece } from "../workpiece.ts";
import { inkMeets, inkWithin } from "./ink.ts";
import type { Mark } from "./mark.ts";

/** A mark that comes as near as this to an edge counts as over it, mm. */
const TOUCH = 1e-6;

/** What is wrong between the marks of a flat workpiece and what is cut in it: marks over hollows, holes and borders. */
export function checkMarks(workpiece: Pick<Workpiece, "size" | "labels" | "cavities" | "marks">): readonly Finding[] {
  return (workpiece.marks ?? []).flatMap((mark) => {
    const found = workpiece.cavities.map((c) => overCavity(workpiece, mark, c)).find((f) => f !== undefined);
    return found === undefined ? [] : [found];
  });
}

function overCavity(workpiece: Pick<Workpiece, "size" | "labels">, mark: Mark, cavity: Cavity): Finding | undefined {
  const onFace = sectionOnFace(workpiece, mark, cavity);
  if (onFace === undefined) return undefined;
  if (cavity.shape.kind === "outline" && cavity.shape.side === "outside") {
    if (!sameCopy(mark, cavity) || inkWithin(mark.ink, onFace, TOUCH)) return undefined;
    return over(mark, `this mark runs over the part's own outline`, `"${cavity.feature}" (line ${cavity.source.line})`);
  }
  if (!inkMeets(mark.ink, onFace, TOUCH)) return undefined;
  const how = cavity.through ? "goes through" : `is ${Number(cavity.to.toFixed(3))} mm deep`;
  return over(
    mark,
    `this mark lies over "${cavity.feature}"`,
    `"${cavity.feature}" (line ${cavity.source.line}) ${how}`,
  );
}

/** On a board, another part's outline says nothing about this one's marks. Ids begin with part and copy. */
function sameCopy(mark: Mark, cavity: Cavity): boolean {
  return stem(mark.id) === stem(cavity.id);
}

function stem(id: string): string {
  return id.slice(0, id.indexOf("/"));
}

/** Where a cavity opens on the mark's face, in that face's coordinates; undefined where it does not. */
function sectionOnFace(workpiece: Pick<Workpiece, "size">, mark: Mark, cavity: Cavity): Region | undefined {
  const opening = cavity.shape.kind === "outline" ? cavity.shape.profile : cavity.section;
  if (cavity.face === mark.face) return cavity.from <= TOUCH || cavity.shape.kind === "outline" ? opening : undefined;
  if (!cavity.through || cavity.face !== oppositeOf(mark.face)) return undefined;
  const across = compose(inverse(faceFrame(workpiece.size, cavity.face)), faceFrame(workpiece.size, mark.face));
  return mapRegion(planOf(across), opening);
}

function over(mark: Mark, what: string, why: string): Finding {
  return {
    grade: "refuse",
    code: "mark-in-hollow",
    place: {
      part: mark.part,
      feature: mark.feature,
      source: mark.sources?.["centre at"] ?? mark.sources?.["near edge at"] ?? mark.source,
    },
    what,
    why: `${why}; out of focus there, or in the air`,
    mend: "move it, or make it smaller",
  };
}
