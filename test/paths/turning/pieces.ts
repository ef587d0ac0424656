import type { TurnedPiece, TurningBlank } from "../../../src/parts/turned-piece.ts";
import { extentOfMeridian, type Meridian, radiiOver } from "../../../src/shapes/meridian.ts";

/** A piece to be turned by machine, centred in a blank that is `waste` longer at both ends. */
export function piece(
  meridian: Meridian,
  more: Partial<TurnedPiece> & { readonly shape?: TurningBlank["shape"]; readonly ends?: number } = {},
): TurnedPiece {
  const { shape = "square", ends = 25, ...rest } = more;
  const { from, to } = extentOfMeridian(meridian);
  const most = radiiOver(meridian, from, to)!.most;
  const first = meridian.segments[0]!.from;
  const last = meridian.segments[meridian.segments.length - 1]!.to;
  const shift = ends - from;
  const length = to - from + 2 * ends;
  const moved = meridian.segments.map((s) => {
    const a = { x: s.from.x + shift, y: s.from.y };
    const b = { x: s.to.x + shift, y: s.to.y };
    return s.kind === "line"
      ? { ...s, from: a, to: b }
      : { ...s, from: a, to: b, centre: { x: s.centre.x + shift, y: s.centre.y } };
  });
  const flat = (x0: number, x1: number, y: number) => ({ kind: "line" as const, from: { x: x0, y }, to: { x: x1, y } });
  return {
    name: "pull",
    wood: "ash",
    copies: 1,
    blank: { length, across: 2 * Math.ceil(most + 1), shape },
    elements: [],
    meridian: { segments: [flat(0, ends, first.y), ...moved, flat(length - ends, length, last.y)] },
    squares: [],
    waste: [
      { from: 0, to: ends },
      { from: length - ends, to: length },
    ],
    turnedBy: "machine",
    radiusError: { value: 0.01, from: "the program" },
    wishes: {},
    source: { file: "job.yaml", line: 1, column: 1, length: 1, text: "pull:" },
    sources: {},
    ...rest,
  };
}
