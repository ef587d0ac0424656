import type { Finding, Outcome } from "../../finding.ts";
import { refuses } from "../../finding.ts";
import type { PartDescription } from "../../job/job.ts";
import { radiiOver } from "../../shapes/meridian.ts";
import type { TurnedPiece } from "../turned-piece.ts";
import type { BareKit, HoldingKit } from "./holding.ts";
import { lineBearings, nothingToHold, slimEnds, tiltFinding, tiltOf } from "./kit-findings.ts";
import { caulPart, cradlePart, endPlatePart, OVER_SEAT, SCREW_HOLE, type SeatWish, widthFor } from "./seat.ts";
import { stepsOf } from "./steps.ts";
import { type Bearing, bearingWithin, roomStretches, turnedStretch } from "./supports.ts";
import { roundZero, squareZero } from "./zero.ts";

/** Wood under a seat at its lowest, mm. Common practice, no source. */
const UNDER_SEAT = 10;
/** A cradle stays this far from the finger room where it can, mm: room for the nut beside a caul. Common practice, no source. */
const BESIDE_CUT = 14;
/** Play of a seat around wood that was turned exactly, mm. Common practice, no source. */
const LEAST_PLAY = 0.05;

/**
 * The holding kit of a turned piece. With square waste at both ends the squares index it; otherwise a witness line at
 * each end does, and cradles from the very profile carry it. A half is carried in cradles, its flat up.
 *
 * @param made `wood` of the supports, the piece's own unless said; `thickest` that the shop can cut out of it, mm
 */
export function holdingKit(
  piece: TurnedPiece,
  made: { readonly wood?: string; readonly thickest?: number } = {},
): Outcome<HoldingKit> {
  const findings: Finding[] = [];
  const rooms = roomStretches(piece);
  const holds = piece.fingerRoom?.cut === "back" ? "half" : "blank";
  const squares = endSquares(piece);
  const how = squares === undefined ? "ends already round" : "square ends";
  const bearings = bearingsOf(piece, squares !== undefined, made.thickest ?? Number.POSITIVE_INFINITY);
  if (how === "ends already round" && bearings.length < 2) findings.push(nothingToHold(piece));
  const zero = squares === undefined ? roundZero(piece, holds) : squareZero(piece, squares, rooms, findings);
  if (refuses(findings)) return { ok: false, findings };

  const axisHeight = axisHeightFor(piece, bearings, squares !== undefined);
  const play = Math.max(piece.radiusError.value, LEAST_PLAY);
  const supports = bearings.map((bears) => ({
    name: supportName(piece, bears, bearings),
    bears,
    seatRadius: bears.radius + play,
    seatHeight: axisHeight - bears.radius,
  }));
  const tilt = how === "square ends" ? undefined : tiltOf(piece, supports, rooms);
  if (tilt !== undefined) findings.push(tiltFinding(piece, supports, tilt));
  findings.push(...lineBearings(piece, supports));
  if (how === "ends already round" && holds === "blank") findings.push(...slimEnds(piece));
  const kit = { how, holds, axisHeight, supports, zero, tilt } as const;
  return {
    ok: true,
    findings,
    value: { ...kit, parts: partsOf(piece, kit, made.wood ?? piece.wood), steps: stepsOf(piece, kit) },
  };
}

function endSquares(piece: TurnedPiece): readonly [number, number] | undefined {
  const first = piece.squares.find((s) => s.from <= 1e-6);
  const last = piece.squares.find((s) => s.to >= piece.blank.length - 1e-6);
  return first === undefined || last === undefined || first === last ? undefined : [first.side, last.side];
}

/** Packing under every finger room; without squares a cradle near each end as well. */
function bearingsOf(piece: TurnedPiece, square: boolean, thickest: number): readonly Bearing[] {
  const turned = turnedStretch(piece);
  const rooms = roomStretches(piece);
  const share = (turned.to - turned.from) * 0.3;
  const firstRoom = rooms[0]?.from ?? turned.to - share;
  const lastRoom = rooms[rooms.length - 1]?.to ?? turned.from + share;
  const first = (beside: number): Bearing | undefined =>
    bearingWithin(
      piece,
      "first end",
      { from: turned.from, to: Math.min(firstRoom - beside, turned.from + share) },
      turned.from,
    );
  const second = (beside: number): Bearing | undefined =>
    bearingWithin(
      piece,
      "second end",
      { from: Math.max(lastRoom + beside, turned.to - share), to: turned.to },
      turned.to,
    );
  // What presses above an end cradle must leave the nut room beside the cut, where there is any.
  const ends = square ? [] : [first(BESIDE_CUT) ?? first(0), second(BESIDE_CUT) ?? second(0)];
  const middles = rooms.map((r) => {
    const about = (r.from + r.to) / 2;
    // Right under the middle of the cut, whatever the profile does there.
    const under = { from: Math.max(r.from, about - 9), to: Math.min(r.to, about + 9) };
    return bearingWithin(piece, "middle", under, about, thickest);
  });
  return [ends[0], ...middles, ends[1]].filter((b): b is Bearing => b !== undefined);
}

/** High enough that nothing touches the bed and each seat has wood below it, to a whole millimetre. */
function axisHeightFor(piece: TurnedPiece, bearings: readonly Bearing[], square: boolean): number {
  const turned = turnedStretch(piece);
  const most = (radiiOver(piece.meridian, turned.from, turned.to)?.most ?? 0) + piece.radiusError.value;
  const half = Math.max(0, ...piece.squares.map((s) => s.side / 2));
  const seats = Math.max(0, ...bearings.map((b) => b.radius + UNDER_SEAT));
  // Squares that leave room enough under the packing lie on the bed itself, and nothing need raise them.
  if (square && half >= seats && half >= most) return half;
  return Math.ceil(Math.max(seats, half, most + 2) - 1e-9);
}

function supportName(piece: TurnedPiece, bears: Bearing, all: readonly Bearing[]): string {
  switch (bears.where) {
    case "first end":
      return `${piece.name}, cradle at first end`;
    case "second end":
      return `${piece.name}, cradle at second end`;
    case "middle": {
      const middles = all.filter((b) => b.where === "middle");
      const which = middles.indexOf(bears) + 1;
      return `${piece.name}, packing${middles.length > 1 ? ` ${which}` : ""}`;
    }
  }
}

function partsOf(piece: TurnedPiece, kit: BareKit, wood: string): readonly PartDescription[] {
  const wish = (name: string, thickness: number): SeatWish => ({ name, wood, thickness, source: piece.source });
  const cradles = kit.supports.map((s) =>
    cradlePart(wish(s.name, s.bears.to - s.bears.from), s.seatRadius, s.seatHeight + s.seatRadius),
  );
  if (kit.how === "square ends" || kit.holds === "half") return cradles;
  const ends = kit.supports.filter((s) => s.bears.where !== "middle");
  const cauls = ends.map((s) =>
    caulPart(wish(`${piece.name}, caul at ${s.bears.where}`, s.bears.to - s.bears.from), s.seatRadius, OVER_SEAT),
  );
  const width = Math.max(...ends.map((s) => widthFor(s.seatRadius)));
  const plates = (["first end", "second end"] as const).map((end) =>
    endPlatePart(wish(`${piece.name}, plate at ${end}`, 12), width, kit.axisHeight, SCREW_HOLE),
  );
  return [...cradles, ...cauls, ...plates];
}
