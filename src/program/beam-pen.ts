import type { BeamMove } from "../paths/beam/beam-move.ts";
import type { Point3 } from "../shapes/point.ts";
import { type WrittenPiece, writtenArc, writtenChords } from "./arcs.ts";
import { coordinate, countsAtLeast, countsOf, feedText, mmOf, type Raster, rasterOf } from "./number.ts";
import type { Post } from "./post.ts";

/** What the pen must know of the beam. */
export interface BeamWords {
  /** S at full power. */
  readonly fullScale: number;
  readonly start: "M3" | "M4";
}

/**
 * Writes motion lines for a beam and keeps in mind position, feed, power, and whether the beam is armed. The power stands on
 * the very line of the motion that burns, since S acts before the motion of its line and never at its end. Lives as long as
 * one program.
 */
export interface BeamPen {
  readonly say: (line: string) => void;
  /** Position, feed and power count as unknown from here on. */
  readonly forget: () => void;
  /** M5 S0, whatever was before. */
  readonly off: () => void;
  /** The beam answers to S words from here on, at power 0. */
  readonly arm: () => void;
  /** A rapid of Z alone; the beam must be off. A height at or above `safeZ` is never rounded below it. */
  readonly rapidZ: (z: number) => void;
  readonly rapidXY: (x: number, y: number) => void;
  /** A planned move. @throws RangeError for a burning move while not armed, or a rapid while armed: a bug of ours */
  readonly move: (move: BeamMove) => void;
}

/** S word of a share of full power. */
export function powerText(share: number, words: BeamWords, post: Post): string {
  const text = (share * words.fullScale).toFixed(post.beam?.powerDecimals ?? 0);
  return text.includes(".") ? text.replace(/\.?0+$/, "") : text;
}

/** A pen that adds to `lines`. @param safeZ lowest spot height for sideways rapids, mm */
export function beamPenFor(post: Post, words: BeamWords, safeZ: number, lines: string[]): BeamPen {
  const raster: Raster = rasterOf(post);
  const safe = countsAtLeast(safeZ, raster);
  let x: number | undefined;
  let y: number | undefined;
  let z: number | undefined;
  /** The planned place behind the written one. */
  let at: Point3 | undefined;
  let feed: string | undefined;
  let power: string | undefined;
  let armed = false;

  const word = (letter: string, counts: number): string => ` ${letter}${coordinate(counts, raster)}`;
  // A picture has hundreds of thousands of moves with the same few feeds and powers.
  const feedOf = remembered((mmPerMin: number) => feedText(mmPerMin, post));
  const powerOf = remembered((share: number) => powerText(share, words, post));
  const rest = (mmPerMin: number, share: number): string => {
    const f = feedOf(mmPerMin);
    const s = powerOf(share);
    const said = `${f === feed ? "" : ` F${f}`}${!armed || s === power ? "" : ` S${s}`}`;
    feed = f;
    if (armed) power = s;
    return said;
  };
  const piece = (p: WrittenPiece, mmPerMin: number, share: number): void => {
    const moves = `${p.x === x ? "" : word("X", p.x)}${p.y === y ? "" : word("Y", p.y)}${p.z === z ? "" : word("Z", p.z)}`;
    if (p.kind === "line") {
      if (moves !== "") lines.push(`G1${moves}${rest(mmPerMin, share)}`);
    } else {
      const height = p.z === z ? "" : word("Z", p.z);
      lines.push(
        `${p.ccw ? "G3" : "G2"}${word("X", p.x)}${word("Y", p.y)}${height}${word("I", p.i)}${word("J", p.j)}${rest(mmPerMin, share)}`,
      );
    }
    x = p.x;
    y = p.y;
    z = p.z;
  };
  const mustBeOff = (): void => {
    if (armed) throw new RangeError("no rapid while the beam is armed");
  };
  // At or above safe height nothing is rounded below it.
  const heightCounts = (mm: number): number => (mm >= safeZ - 1e-9 ? countsAtLeast(mm, raster) : countsOf(mm, raster));
  const rapidZ = (to: number): void => {
    mustBeOff();
    const counts = heightCounts(to);
    if (counts !== z) lines.push(`G0${word("Z", counts)}`);
    z = counts;
    at = at && { ...at, z: to };
  };
  const rapidXY = (toX: number, toY: number): void => {
    mustBeOff();
    if (z !== undefined && z < safe) throw new RangeError(`a sideways rapid at Z ${mmOf(z, raster)}`);
    const cx = countsOf(toX, raster);
    const cy = countsOf(toY, raster);
    if (cx !== x || cy !== y) lines.push(`G0${cx === x ? "" : word("X", cx)}${cy === y ? "" : word("Y", cy)}`);
    x = cx;
    y = cy;
    at = { x: toX, y: toY, z: at?.z ?? safeZ };
  };
  return {
    say: (line) => void lines.push(line),
    forget: () => {
      x = y = z = undefined;
      feed = power = undefined;
      at = undefined;
    },
    off: () => {
      lines.push("M5 S0");
      armed = false;
      power = undefined;
    },
    arm: () => {
      lines.push(`${words.start} S0`);
      armed = true;
      power = "0";
    },
    rapidZ,
    rapidXY,
    move: (move) => {
      switch (move.kind) {
        case "rapid z":
          return rapidZ(move.z);
        case "rapid xy":
          return rapidXY(move.to.x, move.to.y);
        case "line":
        case "arc": {
          if (x === undefined || y === undefined || z === undefined || at === undefined) {
            throw new RangeError("a feed move from an unknown place");
          }
          if (move.power > 0 && !armed) throw new RangeError("a burning move while the beam is not armed");
          const target = {
            kind: "line" as const,
            x: countsOf(move.to.x, raster),
            y: countsOf(move.to.y, raster),
            z: heightCounts(move.to.z),
          };
          if (move.kind === "line") piece(target, move.feed, move.power);
          else {
            const whole = { from: at, to: move.to, centre: move.centre, ccw: move.ccw };
            const pieces =
              post.arcs.kind === "centre"
                ? writtenArc(x, y, whole, raster)
                : writtenChords(whole, post.arcs.error, raster);
            for (const p of pieces) piece(p, move.feed, move.power);
          }
          at = move.to;
          return;
        }
      }
    },
  };
}

function remembered(of: (value: number) => string): (value: number) => string {
  const known = new Map<number, string>();
  return (value) => {
    const text = known.get(value) ?? of(value);
    known.set(value, text);
    return text;
  };
}
