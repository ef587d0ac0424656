import type { Finding } from "../../../finding.ts";
import type { TurnedMark } from "../../../job/mark.ts";
import { containsPoint } from "../../../shapes/region.ts";
import { mmText } from "../../ground.ts";
import { lossPerHalf, type TurnedPiece } from "../../turned-piece.ts";
import type { LaidInk } from "./lay-ink.ts";

/** Lines that grow longer than this by lying on the round are worth a word. Ours, no source. */
const STRETCH = 1.02;
/** At this slope the beam spreads over a quarter more wood, and burns a quarter lighter. cos of it is 0.8. Ours, no source. */
const STEEP_DEG = 37;

/** What is worth saying of a mark as it lies on the round: over a hollow, in the saw's way, stretched, on a steep slope. */
export function roundFindings(piece: TurnedPiece, mark: TurnedMark, laid: LaidInk): readonly Finding[] {
  return [
    ...overRoom(piece, mark, laid),
    ...inSawCut(piece, mark, laid),
    ...unindexed(piece, mark),
    ...stretched(piece, mark, laid),
    ...steep(piece, mark, laid),
  ];
}

function placeOf(piece: TurnedPiece, mark: TurnedMark, ...keys: readonly string[]): Finding["place"] {
  const source = keys.map((k) => mark.sources[k]).find((s) => s !== undefined) ?? mark.source;
  return { part: piece.name, feature: mark.name, source };
}

/** The finger room opens where the mark lies: now, or once the halves are hollowed. */
function overRoom(piece: TurnedPiece, mark: TurnedMark, laid: LaidInk): readonly Finding[] {
  const { fingerRoom: room } = piece;
  if (room === undefined) return [];
  const loss = piece.split === undefined ? 0 : lossPerHalf(piece.split).least;
  const inside = laid.points.some(({ x, radius, angle }) => {
    const [up, aside] = [radius * Math.cos(angle), radius * Math.sin(angle)];
    return [0, ...(room.alsoAt ?? [])].some((dx) => {
      if (room.cut === "crown") return up > 0 && containsPoint(room.section, { x: x - dx, y: aside });
      // Into the flat of either half: `aside` is then the depth below the split, and the crown lies towards +y.
      return Math.abs(aside) - loss < room.depth && containsPoint(room.section, { x: x - dx, y: up });
    });
  });
  if (!inside) return [];
  return [
    {
      grade: "refuse",
      code: "mark-in-hollow",
      place: placeOf(piece, mark, "centre at"),
      what: `this mark lies over "${room.name}"`,
      why: `"${room.name}" (line ${room.source.line}) is hollowed out there`,
      mend: "move it along the part, or to another side",
    },
  ];
}

function inSawCut(piece: TurnedPiece, mark: TurnedMark, laid: LaidInk): readonly Finding[] {
  if (piece.split === undefined) return [];
  const loss = lossPerHalf(piece.split).most;
  const least = laid.points.reduce(
    (l, p) => Math.min(l, Math.abs(p.radius * Math.sin(p.angle))),
    Number.POSITIVE_INFINITY,
  );
  const sides = new Set(laid.points.map((p) => Math.sign(Math.round(p.radius * Math.sin(p.angle) * 1e6))));
  const across = sides.has(1) && sides.has(-1);
  if (least > loss && !across) return [];
  return [
    {
      grade: "caution",
      code: "mark-in-saw-cut",
      place: placeOf(piece, mark, "around"),
      what: "this mark lies where the part is split, and is cut in two",
      why: `splitting and truing take up to ${mmText(loss)} on each side of the line; the mark comes to ${mmText(across ? 0 : least)} from it`,
      mend: 'the show faces of the halves are at 90 degrees from the split: "around: 90"',
      measured: { value: across ? 0 : least, bound: 0, unit: "mm" },
      limit: { value: loss, unit: "mm", from: "what the split takes from each half" },
    },
  ];
}

/** A blank without square ends shows nowhere which way a side looks. */
function unindexed(piece: TurnedPiece, mark: TurnedMark): readonly Finding[] {
  if (piece.squares.length > 0) return [];
  const paper = piece.split?.by === "paper joint";
  return [
    {
      grade: paper ? "note" : "caution",
      code: "mark-no-index",
      place: placeOf(piece, mark, "around"),
      what: paper
        ? "the paper joint on the ends is the line from 0 to 180 degrees: lay it level for 90 or 270"
        : "nothing on this blank shows which side is 90 degrees",
      why: "it has no square ends to lie on",
      mend: paper
        ? "lay it so with a small square against the joint, and hold it in its cradles"
        : "draw the split line across both ends before it goes on the machine, and lay it by that; or leave square ends",
    },
  ];
}

function stretched(piece: TurnedPiece, mark: TurnedMark, laid: LaidInk): readonly Finding[] {
  if (laid.stretch <= STRETCH) return [];
  const percent = Number((100 * (laid.stretch - 1)).toFixed(1));
  return [
    {
      grade: "caution",
      code: "mark-stretched",
      place: placeOf(piece, mark, "centre at"),
      what: `this profile curves both ways, and the mark's lines become up to ${percent} % longer on it`,
      why: "a flat drawing lies true only on a cylinder or a cone",
      mend: "make it narrower around the wood, or move it to where the profile is straight",
      measured: { value: laid.stretch, bound: 0.001, unit: "times" },
      limit: { value: STRETCH, unit: "times", from: "ours, no source" },
    },
  ];
}

function steep(piece: TurnedPiece, mark: TurnedMark, laid: LaidInk): readonly Finding[] {
  if (laid.slopeDeg <= STEEP_DEG) return [];
  const share = Math.round(100 * (1 - Math.cos((laid.slopeDeg * Math.PI) / 180)));
  return [
    {
      grade: "caution",
      code: "mark-slopes",
      place: placeOf(piece, mark, "width", "cap height", "centre at"),
      what: `the wood beneath this mark slopes, and burns up to ${share} % lighter there`,
      why: "a beam from above spreads by 1 / cos of the slope",
      mend: "make it narrower around the wood, or try its edge on scrap of the same shape",
      measured: { value: Number(laid.slopeDeg.toFixed(1)), bound: 0.1, unit: "degrees" },
      limit: { value: STEEP_DEG, unit: "degrees", from: "ours, no source" },
    },
  ];
}
