import type { Source } from "../../../src/finding.ts";
import type {
  ElementDescription,
  ElementShape,
  FingerRoomDescription,
  Stretch,
  TurnedDescription,
} from "../../../src/job/turned.ts";

/** A place in an imagined job file. */
export function at(line: number): Source {
  return { file: "pulls.yaml", line, column: 1, length: 1, text: "" };
}

export const mm = (value: number): Stretch => ({ kind: "mm", mm: value });
export const shares = (value: number): Stretch => ({ kind: "shares", shares: value });

/** Elements on lines of their own from line 20. */
export function elements(...shapes: readonly ElementShape[]): readonly ElementDescription[] {
  return shapes.map((shape, i) => ({ name: `${shape.kind} ${i + 1}`, source: at(20 + i), sources: {}, ...shape }));
}

/** A turned part of a 150 × 50 × 50 mm square of ash, with these elements and no waste unless said otherwise. */
export function turnedPart(
  shapes: readonly ElementShape[],
  profile: Partial<TurnedDescription["profile"]> = {},
  more: Partial<TurnedDescription> = {},
): TurnedDescription {
  return {
    name: "pull",
    wood: "ash",
    copies: 1,
    blank: { length: 150, across: 50, shape: "square" },
    squareEnds: { first: 0, second: 0 },
    turnedBy: "machine",
    profile: {
      name: "profile",
      elements: elements(...shapes),
      half: false,
      pulls: 1,
      parting: mm(6),
      endWaste: mm(0),
      source: at(10),
      sources: { elements: at(19) },
      ...profile,
    },
    wishes: {},
    source: at(2),
    sources: {},
    ...more,
  };
}

/** A finger room down the crown, with everything said. */
export function room(more: Partial<FingerRoomDescription> = {}): FingerRoomDescription {
  return {
    name: "finger room",
    cut: "crown",
    width: 50,
    roomBehind: 14,
    hook: 9,
    shape: { kind: "slot" },
    opensOver: "crown side",
    wallLeanDeg: 0,
    dished: 0,
    insideRadius: 0,
    ease: 1.5,
    leastWall: 3,
    leastLipAngleDeg: 40,
    source: at(40),
    sources: {},
    ...more,
  };
}
