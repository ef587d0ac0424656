import type { ReadEvent, ReadMove } from "../reader/read-move.ts";
import { aroundAt, surfaceOf, type Turning } from "../shop/rotary.ts";

/** What a program did unrolled, and what of it cannot be unrolled. */
export interface TurnedUnder {
  /** As read, but Y is the way around from the crown, mm, and feeds are speeds on the wood. */
  readonly events: readonly ReadEvent[];
  readonly troubles: readonly TurnTrouble[];
}

/** Something that has no meaning, or a bad one, on wood that turns beneath a beam. */
export type TurnTrouble =
  /** A cutting move begins where nobody knows the angle. */
  | { readonly kind: "angle unknown"; readonly line: number }
  /** The beam falls beside the axis, mm: lower on the wood, and not where A says. */
  | { readonly kind: "off axis"; readonly line: number; readonly by: number }
  /** Faster than the axis turns, degrees a minute. */
  | { readonly kind: "too fast"; readonly line: number; readonly speed: number }
  /** An arc, which moves Y. */
  | { readonly kind: "arc"; readonly line: number };

/** The beam may stand this far beside the axis, mm. */
const ON_AXIS = 0.01;
/** Rounding of a written inverse time, as a share. */
const ROUNDED = 1e-3;

/**
 * Unrolls what was read of a program that turns its wood: the place beneath the beam is where A says, y = R · angle, exact on
 * a cylinder of that radius. In inverse time a move lasts 1 / F minutes, so its speed on the wood is F times its unrolled way
 * (NISTIR 6556 §2.1.2.5).
 */
export function turnedUnder(events: readonly ReadEvent[], turning: Turning): TurnedUnder {
  const out: ReadEvent[] = [];
  const troubles: TurnTrouble[] = [];
  let angle: number | undefined;
  for (const e of events) {
    if (e.kind === "stop" || e.kind === "tool change") angle = undefined;
    if (e.kind !== "move") {
      out.push(e);
      continue;
    }
    const from = e.turn === undefined ? angle : e.turn.from;
    const to = e.turn === undefined ? angle : e.turn.to;
    angle = to;
    out.push(unrolled(e, from, to, turning));
    if (e.rapid) continue;
    troubles.push(...troublesOf(e, from, to, turning));
  }
  return { events: out, troubles };
}

function unrolled(e: ReadMove, from: number | undefined, to: number | undefined, turning: Turning): ReadMove {
  const y = (raw: number | undefined, deg: number | undefined): number | undefined =>
    raw === undefined || deg === undefined ? undefined : aroundAt(turning, deg) + raw;
  const [y0, y1] = [y(e.from.y, from), y(e.to.y, to)];
  const gone = (a: number | undefined, b: number | undefined): number => (b ?? a ?? 0) - (a ?? b ?? 0);
  const way = Math.hypot(gone(e.from.x, e.to.x), gone(y0, y1), gone(e.from.z, e.to.z));
  return {
    ...e,
    from: { ...e.from, y: y0 },
    to: { ...e.to, y: y1 },
    ...(e.perMinute === undefined || e.rapid ? {} : { feed: e.perMinute * way }),
  };
}

function troublesOf(
  e: ReadMove,
  from: number | undefined,
  to: number | undefined,
  { axis, radius }: Turning,
): readonly TurnTrouble[] {
  const { line } = e;
  const found: TurnTrouble[] = [];
  if (e.path.kind === "arc") found.push({ kind: "arc", line });
  if (from === undefined || to === undefined) return [...found, { kind: "angle unknown", line }];
  const by = Math.max(Math.abs(e.from.y ?? Number.POSITIVE_INFINITY), Math.abs(e.to.y ?? Number.POSITIVE_INFINITY));
  if (by > ON_AXIS && e.beam?.on === true) found.push({ kind: "off axis", line, by });
  const speed = e.perMinute === undefined ? 0 : Math.abs(to - from) * e.perMinute;
  if (surfaceOf(speed, radius) > surfaceOf(axis.topSpeed, radius) * (1 + ROUNDED)) {
    found.push({ kind: "too fast", line, speed });
  }
  return found;
}
