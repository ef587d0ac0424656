import type { TurningMove } from "../paths/turning/move.ts";
import type { Point } from "../shapes/point.ts";
import { type Lathe, xScaleOf, xSignOf } from "../shop/lathe.ts";
import { type WrittenPiece, writtenArc, writtenChords } from "./arcs.ts";
import { coordinate, countsAtLeast, countsOf, feedText, type Raster, rasterOf, secondsText } from "./number.ts";
import type { Post } from "./post.ts";

/**
 * Writes the motion lines of a turning program and keeps in mind what the lines so far have fixed.
 *
 * Radii are reckoned in raster counts; an X word is the count times 1 or 2 (radius or diameter words) with the sign of
 * the tool's side. I is always the true distance from the start to the centre, in radius measure even where X words are
 * diameters: the language knows no diameters, so a dialect that has them doubles the axis word alone (NISTIR 6556
 * §3.5.3.2 for I and K as offsets; that only X doubles: common practice, no source).
 *
 * Sense: in G18 positive angles run from Z towards X (NISTIR 6556 §4.3.6.1, with the axes in the order Z, X), so with Z to
 * the right and X upwards G3 turns counter-clockwise. Where X counts downwards on the paper (tool in front of the work)
 * the picture is a mirror image, and G2 and G3 change places.
 */
export interface TurningPen {
  readonly say: (line: string) => void;
  /** Position and feed count as unknown from here on. */
  readonly forget: () => void;
  /** A rapid of X alone. A radius at or beyond the safe one is never rounded inside it. */
  readonly rapidX: (r: number) => void;
  /** A rapid of Z alone. */
  readonly rapidZ: (z: number) => void;
  readonly move: (move: TurningMove) => void;
  readonly dwell: (seconds: number) => void;
}

/** A pen that adds to `lines`. */
export function turningPenFor(post: Post, lathe: Lathe, safeRadius: number, lines: string[]): TurningPen {
  const raster: Raster = rasterOf(post);
  const scale = xScaleOf(lathe);
  const side = xSignOf(lathe);
  let z: number | undefined;
  let r: number | undefined;
  /** The planned position, unrounded. */
  let at: { readonly z?: number; readonly r?: number } = {};
  let feed: string | undefined;

  const zWord = (counts: number): string => ` Z${coordinate(counts, raster)}`;
  const xWord = (counts: number): string => ` X${coordinate(signed(counts * scale), raster)}`;
  const feedWord = (mmPerMin: number): string => {
    const text = feedText(mmPerMin, post);
    if (text === feed) return "";
    feed = text;
    return ` F${text}`;
  };
  const outCounts = (mm: number): number =>
    mm >= safeRadius - 1e-9 ? countsAtLeast(mm, raster) : countsOf(mm, raster);
  // In arcs.ts x is the first axis of the plane and y the second: here Z and the radius.
  const piece = (p: WrittenPiece, mmPerMin: number): void => {
    if (p.kind === "line") {
      const words = `${p.y === r ? "" : xWord(p.y)}${p.x === z ? "" : zWord(p.x)}`;
      if (words === "") return;
      lines.push(`G1${words}${feedWord(mmPerMin)}`);
    } else {
      const turns = (side === 1) === p.ccw ? "G3" : "G2";
      const centre = ` I${coordinate(signed(p.j * side), raster)} K${coordinate(p.i, raster)}`;
      lines.push(`${turns}${xWord(p.y)}${zWord(p.x)}${centre}${feedWord(mmPerMin)}`);
    }
    z = p.x;
    r = p.y;
  };
  const known = (): Point => {
    if (at.z === undefined || at.r === undefined) throw new RangeError("a feed move from an unknown place");
    return { x: at.z, y: at.r };
  };
  return {
    say: (line) => void lines.push(line),
    forget: () => {
      z = r = feed = undefined;
      at = {};
    },
    rapidX: (to) => {
      const counts = outCounts(to);
      if (counts !== r) lines.push(`G0${xWord(counts)}`);
      r = counts;
      at = { ...at, r: to };
    },
    rapidZ: (to) => {
      const counts = countsOf(to, raster);
      if (counts !== z) lines.push(`G0${zWord(counts)}`);
      z = counts;
      at = { ...at, z: to };
    },
    move(move) {
      switch (move.kind) {
        case "rapid x":
          return this.rapidX(move.r);
        case "rapid z":
          return this.rapidZ(move.z);
        case "line":
          known();
          piece({ kind: "line", x: countsOf(move.to.x, raster), y: countsOf(move.to.y, raster), z: 0 }, move.feed);
          break;
        case "arc": {
          const from = known();
          const whole = {
            from: { ...from, z: 0 },
            to: { ...move.to, z: 0 },
            centre: move.centre,
            ccw: move.ccw,
          };
          const pieces =
            post.arcs.kind === "centre"
              ? writtenArc(z!, r!, whole, raster)
              : writtenChords(whole, post.arcs.error, raster);
          for (const p of pieces) piece(p, move.feed);
          break;
        }
      }
      at = { z: move.to.x, r: move.to.y };
    },
    dwell: (seconds) => {
      if (seconds > 0) lines.push(`G4 P${secondsText(seconds)}`);
    },
  };
}

/** No minus zero. */
function signed(counts: number): number {
  return counts === 0 ? 0 : counts;
}
