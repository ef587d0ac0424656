import type { ReadEvent, ReadMove } from "../reader/read-move.ts";
import type { Point, Point3 } from "../shapes/point.ts";
import { arc, line, pieceOf, type Segment } from "../shapes/segment.ts";
import type { Laser } from "../shop/laser.ts";
import { type Pace, stretchOf, type Timed, timed } from "./pace.ts";
import { chordsOf, type Path, pathOf, pointOn } from "./path.ts";
import { jointsOf, peakOf } from "./trapezoid.ts";

/** A stretch of way over which the beam burned at one commanded power. mm, s. Filled by `beamRun`; read by proof and sheets. */
export interface Burn {
  /** The move along whose path it burned, and the one whose words set the power: with a lag they may differ. */
  readonly move: ReadMove;
  readonly commanded: ReadMove;
  /** Seen from above; a line without length where Z alone moved. */
  readonly curve: Segment;
  /** Height of the spot where it begins and where it ends. */
  readonly zFrom: number;
  readonly zTo: number;
  /** Commanded share of full power. */
  readonly power: number;
  /** Real speeds along it, mm/s: the slowest is at an end, as a move only slows down towards its ends. */
  readonly slowest: number;
  readonly fastest: number;
  readonly seconds: number;
  /** Energy, J, were the rated power the power at the wood: good for comparing, not for what arrives. */
  readonly energy: number;
  /** Which stretch of its move it is, and how the carriage went there: for `energyOver`. */
  readonly leg: Leg;
  readonly shares: readonly [from: number, to: number];
}

/** The beam on while the carriage stood. */
export interface StillBurn {
  readonly line: number;
  readonly at: Point3;
  readonly seconds: number;
  readonly power: number;
  readonly energy: number;
}

/** What the beam did in one program, and when. */
export interface BeamRun {
  readonly burns: readonly Burn[];
  readonly still: readonly StillBurn[];
  /** Of the whole program, stops not counted, s. */
  readonly seconds: number;
  readonly burningSeconds: number;
}

/** Largest chord error where an arc in a standing plane is seen from above as lines, mm. */
const STANDING_CHORD = 0.0002;

/** How long a stop is counted: longer than any lag, s. */
const STOP = 60;

/** A move in time: from speed `from` up to `peak` and down to `to`, mm/s. */
export interface Leg {
  readonly move: ReadMove;
  readonly path: Path;
  readonly length: number;
  readonly from: number;
  readonly peak: number;
  readonly to: number;
  readonly acceleration: number;
  readonly begins: number;
  readonly ends: number;
}

/** From here on the beam is commanded so. */
interface Command {
  readonly at: number;
  readonly power: number;
  readonly move: ReadMove | undefined;
}

/**
 * Follows a program in time: moves as the machine's accelerations and corners allow, the beam `lag` seconds behind its
 * words. A change of S alone does not halt the carriage; switching by M words, waits and stops do. Power and speed follow the
 * laser's mode: `follows speed` gives every millimetre the commanded energy and nothing while still, `constant` burns
 * at the commanded power whatever the real speed.
 */
export function beamRun(events: readonly ReadEvent[], laser: Laser, machine: Pace, lag = laser.lag): BeamRun {
  const { legs, commands, seconds } = timeline(events, machine);
  const burns: Burn[] = [];
  const still: StillBurn[] = [];
  let k = 0;
  for (const [i, c] of commands.entries()) {
    const move = c.move;
    if (!(c.power > 0) || move === undefined) continue;
    const begins = c.at + lag;
    const ends = (commands[i + 1]?.at ?? seconds) + lag;
    while (k > 0 && legs[k - 1]!.ends > begins) k--;
    while (k < legs.length && legs[k]!.ends <= begins) k++;
    let now = begins;
    let j = k;
    for (; j < legs.length && legs[j]!.begins < ends; j++) {
      const leg = legs[j]!;
      stand(legs[j - 1], Math.min(leg.begins, ends) - now, c.power, move);
      const from = Math.max(begins, leg.begins);
      now = Math.min(ends, leg.ends);
      addBurns(burns, leg, from, now, c.power, move, laser);
    }
    // Behind the last leg the carriage stands, until the beam's end or the program's.
    if (now < ends)
      stand(
        legs.findLast((l) => l.ends <= now + 1e-12),
        ends - now,
        c.power,
        move,
      );
  }
  return { burns, still, seconds, burningSeconds: burns.reduce((sum, b) => sum + b.seconds, 0) };

  function stand(after: Leg | undefined, time: number, power: number, commanded: ReadMove): void {
    if (!(time > 1e-9) || laser.mode === "follows speed") return;
    const at = after === undefined ? undefined : after.path.to;
    if (at === undefined) return;
    still.push({ line: commanded.line, at, seconds: time, power, energy: power * laser.ratedPower * time });
  }
}

function timeline(
  events: readonly ReadEvent[],
  machine: Pace,
): { readonly legs: readonly Leg[]; readonly commands: readonly Command[]; readonly seconds: number } {
  const legs: Leg[] = [];
  const commands: Command[] = [];
  let now = 0;
  let chain: Timed[] = [];
  let waiting: ReadMove | undefined;
  const command = (at: number, power: number, move: ReadMove | undefined): void => {
    const last = commands[commands.length - 1];
    // The same power by another move's words only matters where the feed is another.
    if (last !== undefined && last.power === power && (power === 0 || last.move?.feed === move?.feed)) return;
    commands.push({ at, power, move });
  };
  const flush = (): void => {
    const stretches = chain.map((c, i) => stretchOf(c, chain[i + 1]));
    const joints = jointsOf(stretches);
    for (let i = 0; i < chain.length; i++) {
      const { move, path, length } = chain[i]!;
      const s = stretches[i]!;
      const from = joints[i]!;
      const to = joints[i + 1]!;
      const peak = peakOf(s, from, to);
      const ramps = (2 * peak * peak - from * from - to * to) / (2 * s.acceleration);
      const seconds = (2 * peak - from - to) / s.acceleration + Math.max(0, length - ramps) / peak;
      command(now, powerOf(move), move);
      legs.push({ move, path, length, from, peak, to, acceleration: s.acceleration, begins: now, ends: now + seconds });
      now += seconds;
    }
    chain = [];
  };
  let turning = "off";
  for (const e of events) {
    switch (e.kind) {
      case "move": {
        const path = pathOf(e);
        if (path === undefined) {
          flush();
          break;
        }
        const one = timed(e, path, machine);
        if (one !== undefined) chain.push(one);
        waiting = e;
        break;
      }
      case "spindle":
        if (e.spindle.turning === turning) break;
        turning = e.spindle.turning;
        flush();
        if (turning === "off") command(now, 0, waiting);
        break;
      case "dwell":
        flush();
        now += e.seconds;
        break;
      case "stop":
      case "tool change":
        flush();
        now += STOP;
        break;
      case "length offset":
      case "end":
        flush();
        break;
      case "comment":
      case "line number":
        break;
    }
  }
  flush();
  const stops = events.filter((e) => e.kind === "stop" || e.kind === "tool change").length;
  command(now, 0, waiting);
  return { legs, commands, seconds: now - stops * STOP };
}

function powerOf(move: ReadMove): number {
  return move.beam?.on === true ? move.beam.power : 0;
}

/** Adds the burns of one leg between two times: one, or several where the way is an arc in a standing plane. */
function addBurns(
  burns: Burn[],
  leg: Leg,
  from: number,
  to: number,
  power: number,
  commanded: ReadMove,
  laser: Laser,
): void {
  const { path, length } = leg;
  const t0 = from <= leg.begins ? 0 : wayAt(leg, from - leg.begins) / length;
  const t1 = to >= leg.ends ? 1 : wayAt(leg, to - leg.begins) / length;
  if (!(t1 > t0)) return;
  if (path.kind !== "upright arc") {
    burns.push(burnOf(leg, pieceOf(planOf(path), t0, t1), t0, t1, power, commanded, laser));
    return;
  }
  const { lines } = chordsOf(path, STANDING_CHORD);
  for (const [i, chord] of lines.entries()) {
    const a = Math.max(t0, i / lines.length);
    const b = Math.min(t1, (i + 1) / lines.length);
    if (!(b > a)) continue;
    const whole = line(flat(chord.from), flat(chord.to));
    const curve = pieceOf(whole, a * lines.length - i, b * lines.length - i);
    burns.push(burnOf(leg, curve, a, b, power, commanded, laser));
  }
}

function burnOf(
  leg: Leg,
  curve: Segment,
  a: number,
  b: number,
  power: number,
  commanded: ReadMove,
  laser: Laser,
): Burn {
  const { path, length } = leg;
  const va = speedAt(leg, a * length);
  const vb = speedAt(leg, b * length);
  return {
    move: leg.move,
    commanded,
    curve,
    zFrom: pointOn(path, a).z,
    zTo: pointOn(path, b).z,
    power,
    slowest: Math.min(va, vb),
    fastest: fastestBetween(leg, a * length, b * length),
    seconds: timeAt(leg, b * length) - timeAt(leg, a * length),
    energy: energyBetween(leg, a, b, power, commanded, laser),
    leg,
    shares: [a, b],
  };
}

/** Energy of a burn between two shares of its length, 0 to 1, J. As `Burn.energy`, good for comparing only. */
export function energyOver(
  { leg, shares: [a, b], power, commanded }: Burn,
  laser: Laser,
  p: number,
  q: number,
): number {
  return energyBetween(leg, a + (b - a) * p, a + (b - a) * q, power, commanded, laser);
}

/** Where power follows speed every millimetre gets the same, else every second. */
function energyBetween(leg: Leg, a: number, b: number, power: number, commanded: ReadMove, laser: Laser): number {
  const watts = power * laser.ratedPower;
  if (laser.mode === "constant") return watts * (timeAt(leg, b * leg.length) - timeAt(leg, a * leg.length));
  return commanded.feed > 0 ? (watts * 60 * (b - a) * leg.length) / commanded.feed : 0;
}

function planOf(path: Exclude<Path, { readonly kind: "upright arc" }>): Segment {
  const from = flat(path.from);
  const to = flat(path.to);
  return path.kind === "line" ? line(from, to) : arc(from, to, path.centre, path.sweepRad > 0);
}

function flat(p: Point3): Point {
  return { x: p.x, y: p.y };
}

/** Way of a leg after so many seconds, mm. */
function wayAt(leg: Leg, seconds: number): number {
  const { from, peak, to, acceleration: a } = leg;
  const up = (peak - from) / a;
  if (seconds <= up) return (from + (a * seconds) / 2) * seconds;
  const left = leg.ends - leg.begins - seconds;
  const down = (peak - to) / a;
  if (left <= down) return leg.length - (to + (a * left) / 2) * left;
  return (peak * peak - from * from) / (2 * a) + (seconds - up) * peak;
}

/** Speed of a leg after so much of its way, mm/s: v² = v₀² + 2·a·s. */
function speedAt(leg: Leg, way: number): number {
  const { from, peak, to, acceleration: a } = leg;
  const left = Math.max(0, leg.length - way);
  return Math.min(peak, Math.sqrt(from * from + 2 * a * Math.max(0, way)), Math.sqrt(to * to + 2 * a * left));
}

/** Seconds of a leg after so much of its way. */
function timeAt(leg: Leg, way: number): number {
  const { from, peak, to, acceleration: a } = leg;
  const whole = leg.ends - leg.begins;
  const upWay = (peak * peak - from * from) / (2 * a);
  if (way <= upWay) return (Math.sqrt(from * from + 2 * a * Math.max(0, way)) - from) / a;
  const left = Math.max(0, leg.length - way);
  if (left <= (peak * peak - to * to) / (2 * a)) return whole - (Math.sqrt(to * to + 2 * a * left) - to) / a;
  return (peak - from) / a + (way - upWay) / peak;
}

function fastestBetween(leg: Leg, p: number, q: number): number {
  const { from, peak, to, acceleration: a, length } = leg;
  const up = (peak * peak - from * from) / (2 * a);
  const down = length - (peak * peak - to * to) / (2 * a);
  return q < up || p > down ? Math.max(speedAt(leg, p), speedAt(leg, q)) : peak;
}
