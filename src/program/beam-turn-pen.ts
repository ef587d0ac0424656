import type { BeamMove } from "../paths/beam/beam-move.ts";
import { aroundAt, type Turning, turnFor } from "../shop/rotary.ts";
import { type BeamPen, type BeamWords, powerText } from "./beam-pen.ts";
import { coordinate, countsAtLeast, countsOf, feedText, mmOf, type Raster, rasterOf } from "./number.ts";
import type { Post } from "./post.ts";

/** A is written to a ten-thousandth of a degree: 0.0002 mm on a radius of 100 mm. */
const DEGREES: Raster = { step: 1e-4, decimals: 4 };
/** Figures of an inverse time: speeds come out within a hundredth of a per cent. */
const FIGURES = 6;

/**
 * The pen for wood that a rotary axis turns beneath the beam. It is told places unrolled, x along and y around, and writes X
 * and A; Y stays on the axis. Lines on which A turns are in inverse time (G93), each with its own F, reckoned from the
 * written numbers, so that the speed on the wood is the setting's; all others are in G94.
 */
export function beamTurnPen(post: Post, words: BeamWords, safeZ: number, turning: Turning, lines: string[]): BeamPen {
  const raster = rasterOf(post);
  const safe = countsAtLeast(safeZ, raster);
  let x: number | undefined;
  let a: number | undefined;
  let z: number | undefined;
  let onAxis = false;
  let feed: string | undefined;
  let power: string | undefined;
  let armed = false;
  let inverse = false;

  const angleOf = (around: number): number => countsOf(turnFor(turning, around), DEGREES);
  const heightOf = (mm: number): number => (mm >= safeZ - 1e-9 ? countsAtLeast(mm, raster) : countsOf(mm, raster));
  const word = (letter: string, counts: number, was: number | undefined, on: Raster = raster): string =>
    counts === was ? "" : ` ${letter}${coordinate(counts, on)}`;
  const mode = (wanted: boolean): string => {
    if (inverse === wanted) return "";
    inverse = wanted;
    feed = undefined;
    return wanted ? "G93 " : "G94 ";
  };
  const mustBeOff = (): void => {
    if (armed) throw new RangeError("no rapid while the beam is armed");
  };
  const rapidZ = (to: number): void => {
    mustBeOff();
    const counts = heightOf(to);
    if (counts !== z) lines.push(`G0${word("Z", counts, z)}`);
    z = counts;
  };
  const rapidXY = (toX: number, around: number): void => {
    mustBeOff();
    if (z !== undefined && z < safe) throw new RangeError(`a sideways rapid at Z ${mmOf(z, raster)}`);
    const cx = countsOf(toX, raster);
    const ca = angleOf(around);
    const moves = `${word("X", cx, x)}${onAxis ? "" : ` Y${coordinate(0, raster)}`}${word("A", ca, a, DEGREES)}`;
    if (moves !== "") lines.push(`G0${moves}`);
    x = cx;
    a = ca;
    onAxis = true;
  };
  const feedMove = (move: Extract<BeamMove, { kind: "line" }>): void => {
    if (x === undefined || a === undefined || z === undefined || !onAxis) {
      throw new RangeError("a feed move from an unknown place");
    }
    if (move.power > 0 && !armed) throw new RangeError("a burning move while the beam is not armed");
    const to = { x: countsOf(move.to.x, raster), a: angleOf(move.to.y), z: heightOf(move.to.z) };
    const moves = `${word("X", to.x, x)}${word("A", to.a, a, DEGREES)}${word("Z", to.z, z)}`;
    if (moves === "") return;
    const turns = to.a !== a;
    const way = Math.hypot(mmOf(to.x - x, raster), aroundAt(turning, mmOf(to.a - a, DEGREES)), mmOf(to.z - z, raster));
    const begins = mode(turns);
    const f = turns ? inverseTime(move.feed / way) : feedText(move.feed, post);
    const s = powerText(move.power, words, post);
    const said = `${!turns && f === feed ? "" : ` F${f}`}${!armed || s === power ? "" : ` S${s}`}`;
    lines.push(`${begins}G1${moves}${said}`);
    if (!turns) feed = f;
    if (armed) power = s;
    x = to.x;
    a = to.a;
    z = to.z;
  };
  return {
    say: (line) => void lines.push(line),
    forget: () => {
      x = a = z = undefined;
      onAxis = false;
      feed = power = undefined;
    },
    off: () => {
      if (inverse) lines.push(mode(false).trim());
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
          return feedMove(move);
        case "arc":
          throw new RangeError("no arc where the wood turns: a bug in paths");
      }
    },
  };
}

/** How many such moves make a minute, as text. */
function inverseTime(perMinute: number): string {
  if (!(perMinute > 0 && perMinute < 1e9)) throw new RangeError(`no move is made ${perMinute} times a minute`);
  const decimals = Math.max(1, Math.min(6, FIGURES - 1 - Math.floor(Math.log10(perMinute))));
  return perMinute.toFixed(decimals).replace(/(\.\d+?)0+$/, "$1");
}
