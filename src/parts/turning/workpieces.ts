import type { Finding } from "../../finding.ts";
import type { FaceName } from "../../job/board.ts";
import { standardLabels } from "../../job/faces.ts";
import { IDENTITY } from "../../shapes/frame.ts";
import { afterwards, mapRegion, mirrorAlongX, type PlanMap, shiftBy, turnBy } from "../../shapes/plan-map.ts";
import { boundsOfRegion } from "../../shapes/region.ts";
import type { TurnedSolid } from "../../shapes/turned-solid.ts";
import { checkCavities } from "../check.ts";
import { DEFAULT_INSIDE_RADIUS, mmText } from "../ground.ts";
import { ALIKE, alikeAboutAxis } from "../halves-alike.ts";
import { withCopiesMarked } from "../marks/copies.ts";
import { type MarkedRound, roundMarks } from "../marks/round/round-marks.ts";
import { halvesOf } from "../split.ts";
import { type FingerRoom, lossPerHalf, mouthHeight, solidOf, type TurnedPiece } from "../turned-piece.ts";
import type { Cavity, Workpiece } from "../workpiece.ts";
import { endForEndDifference } from "./alike.ts";
import { raisedHollow } from "./finger-hollow.ts";
import { regionOfPlan } from "./finger-room-of.ts";

/**
 * What the router is to cut of a turned part, and what is burned on it: nothing without a finger room or marks; the blank with its crown up when it is cut
 * from the crown; the halves with their flats up when it is cut into the flat backs. Two halves of one blank mirror each
 * other across the split. Where finger room lies closed all round on the middle line of each flat, or the blank is alike
 * end for end, one turned round is the other; else there are two workpieces, each described as it lies, since a mirror
 * cannot be had by laying wood another way.
 */
export function turnedWorkpieces(piece: TurnedPiece): {
  readonly workpieces: readonly Workpiece[];
  readonly findings: readonly Finding[];
} {
  const { fingerRoom: room } = piece;
  const marked = roundMarks(piece);
  // Marks are laid on the blank while it is whole: the square ends, or the joint, say which side is which.
  const whole = wholeBlanks(piece, marked, room?.cut === "crown" ? room : undefined);
  if (room === undefined) return { workpieces: whole, findings: marked.findings };
  const alike = alikeAboutAxis(piece) || differenceOf(piece, room) <= ALIKE;
  const workpieces =
    room.cut === "crown"
      ? whole
      : alike
        ? [...whole, half(piece, room, "first", `${piece.name}, half`, 2 * piece.copies)]
        : [
            ...whole,
            ...(["first", "second"] as const).map((which) =>
              half(piece, room, which, `${piece.name}, ${which} half`, piece.copies),
            ),
          ];
  // Pulls sawn out of one blank are judged each by itself, as the sheet does.
  const halves = halvesOf(piece);
  const mirrored: Finding = {
    grade: "note",
    code: "turned-halves-differ",
    place: { part: piece.name, source: piece.split?.source ?? piece.source },
    what: "the two halves are a mirror pair, not alike",
    why: `turned end for end, it would differ by up to ${mmText(halves.differs)}`,
    mend: "mark both halves before sawing; to get two alike, make the profile and the finger room alike end for end",
  };
  const findings = [...marked.findings, ...workpieces.flatMap(checkCavities)];
  return { workpieces, findings: piece.split !== undefined && !halves.alike ? [mirrored, ...findings] : findings };
}

/** How far the blank with its finger room is from being alike end for end, mm. */
function differenceOf(piece: TurnedPiece, room: FingerRoom): number {
  const surface = endForEndDifference(piece.meridian, piece.squares, piece.blank.length);
  const boxes = shiftsOf(room).flatMap((dx) => {
    const box = boundsOfRegion(room.section);
    return box === undefined ? [] : [{ from: box.min.x + dx, to: box.max.x + dx }];
  });
  const places = boxes.map((b, i) => {
    const twin = boxes[boxes.length - 1 - i]!;
    return Math.abs(b.from - (piece.blank.length - twin.to));
  });
  return Math.max(surface, ...places);
}

function shiftsOf(room: FingerRoom): readonly number[] {
  return [0, ...(room.alsoAt ?? [])];
}

/** The blank as it comes off the lathe, where it is hollowed or marked; each copy by itself where they are marked apart. */
function wholeBlanks(piece: TurnedPiece, marked: MarkedRound, room: FingerRoom | undefined): readonly Workpiece[] {
  if (room === undefined && marked.marks.length === 0 && marked.each === undefined) return [];
  const bare = wholeBlank(piece, room);
  const workpiece = marked.marks.length > 0 ? { ...bare, marks: marked.marks } : bare;
  return withCopiesMarked(workpiece, marked.each, piece.each);
}

/** The blank with its crown up on "face": the four sides are its index positions. */
function wholeBlank(piece: TurnedPiece, room: FingerRoom | undefined): Workpiece {
  const { length, across } = piece.blank;
  const size = { length, width: across, thickness: across };
  const labels = labelled({
    face: "crown",
    "upper edge": "90 degrees",
    back: "180 degrees",
    "lower edge": "270 degrees",
  });
  const cavities =
    room === undefined
      ? []
      : cavitiesOf(piece, piece.name, room, across / 2 - mouthHeight(piece.meridian, room), shiftBy(0, across / 2));
  return workpieceOf(piece, piece.name, size, labels, cavities, solidOf(piece), piece.copies);
}

/**
 * A half with its trued flat up, its first end at the left: the first half is the side of 90°, with the crown line at its
 * upper edge; the second that of 270°, with the crown line at its lower edge.
 */
function half(
  piece: TurnedPiece,
  room: FingerRoom,
  which: "first" | "second",
  name: string,
  copies: number,
): Workpiece {
  const { length, across } = piece.blank;
  const loss = piece.split === undefined ? 0 : lossPerHalf(piece.split).most;
  const thickness = across / 2 - loss;
  const size = { length, width: across, thickness };
  const crown: FaceName = which === "first" ? "upper edge" : "lower edge";
  const far: FaceName = which === "first" ? "lower edge" : "upper edge";
  const labels = labelled({ face: "flat back", back: "round side", [crown]: "crown line", [far]: "180 degree line" });
  const acrossPlan: PlanMap =
    which === "first"
      ? shiftBy(0, across / 2)
      : afterwards(afterwards(turnBy(180), mirrorAlongX(0)), shiftBy(0, across / 2));
  const solid: TurnedSolid = { ...solidOf(piece), flatTop: thickness };
  const opens = room.opensOver === undefined ? undefined : room.opensOver === "crown side" ? crown : far;
  const cavities = cavitiesOf(piece, name, room, 0, acrossPlan).map((c) => ({
    ...c,
    ...(opens !== undefined && { opensOver: opens }),
  }));
  // Jaws grip the whole square; a half of it lies in cradles.
  const { holding, ...others } = piece.wishes;
  const wishes = holding?.by === "jaws" ? others : piece.wishes;
  return workpieceOf({ ...piece, wishes }, name, size, labels, cavities, solid, copies);
}

function labelled(own: Partial<Record<FaceName, string>>): Readonly<Record<FaceName, string>> {
  return { ...standardLabels(), ...own };
}

/** A finger room's cavities, one for each pull of the turning, their mouths raised to the top of the box. */
function cavitiesOf(
  piece: TurnedPiece,
  part: string,
  room: FingerRoom,
  rise: number,
  place: PlanMap,
): readonly Cavity[] {
  const leanDeg = room.wallLeanDeg ?? 0;
  const tan = leanDeg === 0 ? 0 : Math.tan((leanDeg * Math.PI) / 180);
  const [wall, more] = room.hollow.segments;
  const plain = wall?.kind === "line" && more === undefined;
  const grown = rise * tan;
  const section =
    room.plan === undefined
      ? room.section
      : regionOfPlan({
          ...room.plan,
          length: room.plan.length + 2 * grown,
          breadth: room.plan.breadth + 2 * grown,
          corner: room.plan.corner + grown,
        });
  const corner = room.plan?.corner ?? 0;
  const shifts = shiftsOf(room);
  return shifts.map(
    (dx, i): Cavity => ({
      id: `${part}/${room.name}${shifts.length > 1 ? `/${i + 1}` : ""}`,
      part: piece.name,
      feature: room.name,
      source: room.source,
      sources: room.sources,
      face: "face",
      section: mapRegion(afterwards(shiftBy(dx, 0), place), section),
      from: 0,
      to: room.depth + rise,
      through: false,
      slopeTan: plain ? tan : 0,
      ...(plain ? {} : { hollow: raisedHollow(room.hollow, rise, leanDeg) }),
      insideRadius: corner > 0 ? corner : DEFAULT_INSIDE_RADIUS,
      clear: "all",
      keeps: [],
      shape: { kind: "recess" },
      leastWall: room.leastWall,
      ...(room.ease > 0 && { lipEase: room.ease }),
      ...(room.cutter !== undefined && { cutter: room.cutter }),
    }),
  );
}

function workpieceOf(
  piece: TurnedPiece,
  name: string,
  size: Workpiece["size"],
  labels: Workpiece["labels"],
  cavities: readonly Cavity[],
  round: TurnedSolid,
  copies: number,
): Workpiece {
  return {
    name,
    wood: piece.wood,
    size,
    grain: "along length",
    pieces: [{ part: piece.name, copy: 1, mirrored: false, place: IDENTITY, size }],
    ...(copies > 1 ? { copies } : {}),
    cavities,
    labels,
    faceSide: "face",
    faceEdge: "lower edge",
    wishes: piece.wishes,
    round,
    source: piece.source,
  };
}
