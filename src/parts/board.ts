import type { Finding } from "../finding.ts";
import type { BoardDescription } from "../job/job.ts";
import { compose, type Frame, inverse, turnedAboutZ } from "../shapes/frame.ts";
import { rectangle } from "../shapes/outlines.ts";
import { mapPoint, mapRegion, mapSegment, type PlanMap, planOf } from "../shapes/plan-map.ts";
import { boundsOfRegion, type Region } from "../shapes/region.ts";
import { checkCavities } from "./check.ts";
import { faceFrame } from "./faces.ts";
import { type Description, describeFeatures } from "./features.ts";
import { mmText, SAME } from "./ground.ts";
import { checkMarks } from "./marks/check-marks.ts";
import { mapInk } from "./marks/ink.ts";
import type { Mark } from "./marks/mark.ts";
import { distanceOfRegions } from "./section-distance.ts";
import type { Cavity, CavityShape, Piece, Workpiece } from "./workpiece.ts";

/** A part on the board: where its finished outline lies, seen on the face. */
interface Placed {
  readonly piece: Piece;
  readonly id: string;
  readonly area: Region;
  readonly cavities: readonly Cavity[];
  readonly marks: readonly Mark[];
}

/** A board with all parts that are cut from it, each at its place. */
export function describeBoard(
  board: BoardDescription,
  parts: readonly Description[],
): { workpiece: Workpiece; findings: readonly Finding[] } {
  const findings: Finding[] = [];
  const placed: Placed[] = [];
  const counted = new Map<string, number>();
  for (const at of board.places) {
    const found = parts.find(({ part }) => part.name === at.part);
    if (found === undefined) {
      findings.push({
        grade: "refuse",
        code: "part-unknown",
        place: { part: board.name, source: at.source },
        what: `no part is called "${at.part}"`,
        mend: `known parts: ${parts.map(({ part }) => `"${part.name}"`).join(", ")}`,
      });
      continue;
    }
    const { part, mirrored } = found;
    const copy = (counted.get(part.name) ?? 0) + 1;
    counted.set(part.name, copy);
    const wrong = wrongForBoard(board, part, at.source);
    findings.push(...wrong);
    if (wrong.length > 0) continue;
    const place = turnedAboutZ(at.turned, { x: at.at.x, y: at.at.y, z: board.size.thickness - part.size.thickness });
    const id = copy > 1 ? `${part.name} ${copy}` : part.name;
    const described = describeFeatures({ part, idPrefix: id, around: "board" });
    if (copy === 1) findings.push(...described.findings);
    const own = described.each?.[copy - 1];
    const cavities = [...described.cavities, ...(own?.cavities ?? [])].map((c) => moved(c, board, part.size, place));
    const marks = [...(described.marks ?? []), ...(own?.marks ?? [])].map((m) => movedMark(m, board, part.size, place));
    const outline = described.cavities.find((c) => c.shape.kind === "outline" && c.shape.side === "outside");
    const area =
      outline?.shape.kind === "outline"
        ? mapRegion(planOf(compose(inverse(faceFrame(part.size, outline.face)), place)), outline.shape.profile)
        : mapRegion(planOf(place), rectangle({ x: 0, y: 0 }, { x: part.size.length, y: part.size.width }));
    const piece: Piece = { part: part.name, copy, mirrored, place, size: part.size };
    findings.push(...beyondBoard(board, id, area, at.source));
    for (const other of placed) {
      const gap = distanceOfRegions(other.area, area, SAME);
      if (gap <= SAME) {
        findings.push({
          grade: "refuse",
          code: "part-parts-overlap",
          place: { part: id, source: at.source },
          what: `"${id}" lies over "${other.id}" on this board`,
          why: `${where(area)} against ${where(other.area)}`,
          mend: "move one of them by at least the bit's diameter and a little more",
        });
      }
    }
    placed.push({ piece, id, area, cavities, marks });
  }
  const backToFace = planOf(compose(inverse(faceFrame(board.size, "back")), faceFrame(board.size, "face")));
  for (const p of placed) findings.push(...intoNeighbours(p, placed, backToFace));
  const first = placed[0]?.piece.part;
  const model = parts.find(({ part }) => part.name === first)?.part;
  const workpiece: Workpiece = {
    name: board.name,
    wood: board.wood,
    size: board.size,
    grain: board.grain,
    pieces: placed.map((p) => p.piece),
    cavities: placed.flatMap((p) => p.cavities),
    ...(placed.some((p) => p.marks.length > 0) && { marks: placed.flatMap((p) => p.marks) }),
    labels: {
      face: "face",
      back: "back",
      "lower edge": "lower edge",
      "upper edge": "upper edge",
      "first end": "first end",
      "second end": "second end",
    },
    faceSide: model?.faceSide === "back" ? "back" : "face",
    faceEdge: "lower edge",
    wishes: board.wishes,
    source: board.source,
  };
  return { workpiece, findings: [...findings, ...checkMarks(workpiece), ...checkCavities(workpiece)] };
}

function wrongForBoard(
  board: BoardDescription,
  part: Description["part"],
  source: Finding["place"]["source"],
): Finding[] {
  const findings: Finding[] = [];
  const place = { part: part.name, ...(source === undefined ? {} : { source }) };
  if (Math.abs(part.size.thickness - board.size.thickness) > 0.01) {
    findings.push({
      grade: "refuse",
      code: "part-thickness-differs",
      place,
      what: `"${part.name}" is not as thick as the board it is cut from`,
      why: `part ${mmText(part.size.thickness)}, board ${mmText(board.size.thickness)}`,
      mend: "plane the board first and give both the thickness as measured",
    });
  }
  if (!part.features.some((f) => f.kind === "outline" && f.side === "outside")) {
    findings.push({
      grade: "refuse",
      code: "part-not-freed",
      place,
      what: `nothing frees "${part.name}" from the board`,
      why: "a part that is cut from a board needs its own outline as a feature",
      mend: 'add "outline: outside" with tabs or a skin to the part',
    });
  }
  for (const f of part.features) {
    if (f.on === "face" || f.on === "back") continue;
    findings.push({
      grade: "refuse",
      code: "part-edge-on-board",
      place: { part: part.name, feature: f.name, source: f.sources.on ?? f.source },
      what: `"${f.name}" is cut into an edge that still lies within the board`,
      why: `it is on "${part.labels[f.on]}", and the part is cut from "${board.name}"`,
      mend: "take the part off the board and give it a blank of its own",
    });
  }
  return findings;
}

function beyondBoard(board: BoardDescription, id: string, area: Region, source: Finding["place"]["source"]): Finding[] {
  const box = boundsOfRegion(area);
  const { length, width } = board.size;
  if (!box || (box.min.x >= -SAME && box.min.y >= -SAME && box.max.x <= length + SAME && box.max.y <= width + SAME))
    return [];
  return [
    {
      grade: "refuse",
      code: "part-off-the-board",
      place: { part: id, ...(source === undefined ? {} : { source }) },
      what: `"${id}" lies partly off the board`,
      why: `${where(area)} on a board of ${mmText(length)} × ${mmText(width)}`,
      mend: "move or turn it, or use a larger board",
    },
  ];
}

/** Cuts of one part that would enter another. */
function intoNeighbours(p: Placed, all: readonly Placed[], backToFace: PlanMap): Finding[] {
  const findings: Finding[] = [];
  for (const c of p.cavities) {
    if (c.shape.kind === "outline") continue;
    for (const other of all) {
      const section = c.face === "back" ? mapRegion(backToFace, c.section) : c.section;
      if (other === p || distanceOfRegions(section, other.area, SAME) > SAME) continue;
      findings.push({
        grade: "refuse",
        code: "part-into-neighbour",
        place: { part: p.id, feature: c.feature, source: c.source },
        what: `"${c.feature}" of "${p.id}" runs into "${other.id}"`,
        why: "an open end or border runs out a little beyond the part, so that the part's own border is cut clean",
        mend: "place the two farther apart",
      });
    }
  }
  return findings;
}

function where(area: Region): string {
  const box = boundsOfRegion(area);
  return box
    ? `${mmText(box.min.x)} to ${mmText(box.max.x)} by ${mmText(box.min.y)} to ${mmText(box.max.y)}`
    : "nowhere";
}

/** A cavity of a part, in the coordinates of the board's face. */
function moved(cavity: Cavity, board: BoardDescription, size: Piece["size"], place: Frame): Cavity {
  return mapCavity(cavity, ontoBoard(cavity.face, board, size, place));
}

/** A mark of a part, in the coordinates of the board's face. */
function movedMark(mark: Mark, board: BoardDescription, size: Piece["size"], place: Frame): Mark {
  return { ...mark, ink: mapInk(ontoBoard(mark.face, board, size, place), mark.ink) };
}

function ontoBoard(face: Cavity["face"], board: BoardDescription, size: Piece["size"], place: Frame): PlanMap {
  return planOf(compose(compose(inverse(faceFrame(size, face)), place), faceFrame(board.size, face)));
}

/** A cavity with all that it has in plan coordinates carried through a map. */
export function mapCavity(cavity: Cavity, map: PlanMap): Cavity {
  return {
    ...cavity,
    section: mapRegion(map, cavity.section),
    keeps: cavity.keeps.map((k) => ({ ...k, area: mapRegion(map, k.area) })),
    shape: mapShape(cavity.shape, map),
  };
}

function mapShape(shape: CavityShape, map: PlanMap): CavityShape {
  switch (shape.kind) {
    case "rabbet":
    case "v-groove":
      return shape;
    case "cut line":
      return { ...shape, chains: shape.chains.map((c) => c.map((s) => mapSegment(map, s))) };
    case "recess":
    case "mortise": {
      const { middle } = shape;
      if (middle === undefined) return shape;
      return { ...shape, middle: { ...middle, start: mapPoint(map, middle.start), end: mapPoint(map, middle.end) } };
    }
    case "groove":
      return { ...shape, start: mapPoint(map, shape.start), end: mapPoint(map, shape.end) };
    case "hole":
      return { ...shape, centre: mapPoint(map, shape.centre) };
    case "outline": {
      const zero = mapPoint(map, { x: 0, y: 0 });
      return {
        ...shape,
        profile: mapRegion(map, shape.profile),
        ...(shape.tabs === undefined
          ? {}
          : {
              tabs: shape.tabs.map((t) => {
                const tip = mapPoint(map, t.along);
                return { ...t, at: mapPoint(map, t.at), along: { x: tip.x - zero.x, y: tip.y - zero.y } };
              }),
            }),
      };
    }
  }
}
