import type { Move } from "../paths/move.ts";
import type { Point3 } from "../shapes/point.ts";
import { type WrittenPiece, writtenArc, writtenChords } from "./arcs.ts";
import { coordinate, countsAtLeast, countsOf, feedText, mmOf, type Raster, rasterOf, secondsText } from "./number.ts";
import type { Post } from "./post.ts";

/**
 * Writes motion lines and keeps in mind what the lines so far have fixed: position in raster counts, the planned position
 * behind it, and the feed in force. Lives as long as one program.
 */
export interface Pen {
  /** Adds a line as it stands. */
  readonly say: (line: string) => void;
  /** Position and feed count as unknown from here on: after a stop, a tool change, a move in machine coordinates. */
  readonly forget: () => void;
  /** A rapid of Z alone. A height at or above `safeZ` is never rounded below it. */
  readonly rapidZ: (z: number) => void;
  /** A rapid of X and Y alone. */
  readonly rapidXY: (x: number, y: number) => void;
  /** Straight down or up at feed. */
  readonly feedZ: (z: number, feed: number) => void;
  /** A planned move of an operation. @throws RangeError when it breaks the rules for rapids: a bug of ours */
  readonly move: (move: Move) => void;
  readonly dwell: (seconds: number) => void;
}

/** A pen that adds to `lines`. @param safeZ lowest height for sideways rapids, mm */
export function penFor(post: Post, safeZ: number, lines: string[]): Pen {
  const raster: Raster = rasterOf(post);
  const safe = countsAtLeast(safeZ, raster);
  let x: number | undefined;
  let y: number | undefined;
  let z: number | undefined;
  /** The planned position, unrounded, axis by axis as far as it is known. */
  let at: { readonly x?: number; readonly y?: number; readonly z?: number } = {};
  let feed: string | undefined;

  const word = (letter: string, counts: number): string => ` ${letter}${coordinate(counts, raster)}`;
  const feedWord = (mmPerMin: number): string => {
    const text = feedText(mmPerMin, post);
    if (text === feed) return "";
    feed = text;
    return ` F${text}`;
  };
  const heightCounts = (mm: number): number => (mm >= safeZ - 1e-9 ? countsAtLeast(mm, raster) : countsOf(mm, raster));
  const piece = (p: WrittenPiece, mmPerMin: number): void => {
    const known = x !== undefined && y !== undefined && z !== undefined;
    const words = `${p.x === x ? "" : word("X", p.x)}${p.y === y ? "" : word("Y", p.y)}${p.z === z ? "" : word("Z", p.z)}`;
    if (p.kind === "line") {
      if (words === "") return;
      lines.push(`G1${words}${feedWord(mmPerMin)}`);
    } else {
      if (!known) throw new RangeError("an arc needs a known start");
      const height = p.z === z ? "" : word("Z", p.z);
      lines.push(
        `${p.ccw ? "G3" : "G2"}${word("X", p.x)}${word("Y", p.y)}${height}${word("I", p.i)}${word("J", p.j)}${feedWord(mmPerMin)}`,
      );
    }
    x = p.x;
    y = p.y;
    z = p.z;
  };
  const rapidZ = (to: number): void => {
    const counts = heightCounts(to);
    if (counts !== z) lines.push(`G0${word("Z", counts)}`);
    z = counts;
    at = { ...at, z: to };
  };
  const rapidXY = (toX: number, toY: number): void => {
    if (z !== undefined && z < safe) throw new RangeError(`a sideways rapid at Z ${mmOf(z, raster)}, below ${safeZ}`);
    const cx = countsOf(toX, raster);
    const cy = countsOf(toY, raster);
    if (cx !== x || cy !== y) lines.push(`G0${cx === x ? "" : word("X", cx)}${cy === y ? "" : word("Y", cy)}`);
    x = cx;
    y = cy;
    at = { ...at, x: toX, y: toY };
  };
  const dwell = (seconds: number): void => {
    if (seconds > 0) lines.push(`G4 P${secondsText(seconds)}`);
  };
  return {
    say: (line) => void lines.push(line),
    forget: () => {
      x = y = z = feed = undefined;
      at = {};
    },
    rapidZ,
    rapidXY,
    feedZ: (to, mmPerMin) => {
      const counts = countsOf(to, raster);
      lines.push(`G1${word("Z", counts)}${feedWord(mmPerMin)}`);
      z = counts;
      at = { ...at, z: to };
    },
    move: (move) => {
      switch (move.kind) {
        case "rapid z":
          return rapidZ(move.z);
        case "rapid xy":
          return rapidXY(move.to.x, move.to.y);
        case "dwell":
          return dwell(move.seconds);
        case "line": {
          if (placeOf(at) === undefined) throw new RangeError("a feed move from an unknown place");
          piece(
            {
              kind: "line",
              x: countsOf(move.to.x, raster),
              y: countsOf(move.to.y, raster),
              z: countsOf(move.to.z, raster),
            },
            move.feed,
          );
          at = move.to;
          return;
        }
        case "arc": {
          const planned = placeOf(at);
          if (planned === undefined || x === undefined || y === undefined) {
            throw new RangeError("an arc from an unknown place");
          }
          const whole = { from: planned, to: move.to, centre: move.centre, ccw: move.ccw };
          const pieces =
            post.arcs.kind === "centre"
              ? writtenArc(x, y, whole, raster)
              : writtenChords(whole, post.arcs.error, raster);
          for (const p of pieces) piece(p, move.feed);
          at = move.to;
          return;
        }
      }
    },
    dwell,
  };
}

function placeOf(at: { readonly x?: number; readonly y?: number; readonly z?: number }): Point3 | undefined {
  const { x, y, z } = at;
  return x === undefined || y === undefined || z === undefined ? undefined : { x, y, z };
}
