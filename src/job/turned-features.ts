import { type OnPart, refuseAt, sourceAtPath } from "./places.ts";
import type { FingerRoomDescription, SplitDescription } from "./turned.ts";
import { sourcesOf } from "./turned-elements.ts";
import type { TurnedSaid } from "./turned-schema.ts";
import { placeAlong } from "./turned-wishes.ts";

/** Least wall where the job says none, mm. Common practice, no source. */
const LEAST_WALL = 3;
/** Least angle of wood at a mouth's edge where the job says none, degrees. Common practice, no source. */
const LEAST_LIP_ANGLE = 40;
/** Radius of an eased lip where the job says none, mm. Common practice, no source. */
const EASED = 1.5;
/** Radius at the foot of a dished floor where the job says none, mm: a 6 mm round-nosed bit's. Common practice, no source. */
const DISHED_FOOT = 3;
/** Corners of a rounded rectangle where the job says none, mm: a 6 mm bit reaches them. Common practice, no source. */
const CORNER = 4;
/** What a saw cut may run off its line, and what truing takes from each half, mm. Common practice, no source. */
const WANDER = 0.5;
const TRUING = 0.5;
/** What cleaning takes from each face of a paper joint, mm. Common practice, no source. */
const CLEANING = 0.2;

/** A finger room as said, with its defaults filled in. Its sizes may be missing here: `parts` knows the hand. */
export function fingerRoom(
  on: OnPart,
  said: TurnedSaid<"recess">,
  blankLength: number,
): FingerRoomDescription | undefined {
  const before = on.found.length;
  const cut = said.cut === "down the crown" ? "crown" : "back";
  if (said["opens over"] !== undefined && cut === "crown") {
    refuseAt(
      on,
      ["opens over"],
      "shape-impossible",
      "a finger room cut down the crown opens at the crown",
      'take it out, or write "cut: into the flat back"',
    );
  }
  if (said.hand !== undefined && said.fingers === undefined) {
    refuseAt(
      on,
      ["hand"],
      "finger-room-incomplete",
      "a hand is given, but not how many fingers",
      'add "fingers: 3", or take the hand out',
    );
  }
  const rectangle = said.shape === "rounded rectangle";
  if (said["corner radius"] !== undefined && !rectangle) {
    refuseAt(
      on,
      ["corner radius"],
      "shape-impossible",
      "a slot has no corner radius: its ends are round",
      'take it out, or write "shape: rounded rectangle"',
    );
  }
  const centreAt =
    said["centre at"] === undefined ? undefined : placeAlong(on, "centre at", said["centre at"], blankLength);
  if (on.found.length > before) return undefined;
  const dished = said.floor ?? 0;
  return {
    name: said.recess,
    cut,
    ...(said.width !== undefined && { width: said.width }),
    ...(said["room behind"] !== undefined && { roomBehind: said["room behind"] }),
    ...(said.hook !== undefined && { hook: said.hook }),
    ...(said.fingers !== undefined && { fingers: said.fingers }),
    ...(said.hand !== undefined && { hand: said.hand }),
    shape: rectangle ? { kind: "rounded rectangle", radius: said["corner radius"] ?? CORNER } : { kind: "slot" },
    ...(centreAt !== undefined && { centreAt }),
    opensOver: said["opens over"] ?? "crown side",
    wallLeanDeg: said.wall ?? 0,
    dished,
    insideRadius: said["inside radius"] ?? (dished > 0 ? DISHED_FOOT : 0),
    ease: said.lip ?? EASED,
    leastWall: said["least wall"] ?? LEAST_WALL,
    leastLipAngleDeg: said["least lip angle"] ?? LEAST_LIP_ANGLE,
    ...(said.bit !== undefined && { cutter: said.bit }),
    source: sourceAtPath(on, ["recess"]),
    sources: sourcesOf(on),
  };
}

/** How it is split, with its defaults filled in. */
export function splitOf(on: OnPart, said: TurnedSaid<"split">): SplitDescription | undefined {
  const paper = said.by === "paper joint";
  const odd = (paper ? (["kerf", "wander", "truing"] as const) : (["cleaning"] as const)).find(
    (k) => said[k] !== undefined,
  );
  if (odd !== undefined) {
    refuseAt(
      on,
      [odd],
      "shape-impossible",
      paper ? `a paper joint has no ${odd}: it comes apart at the paper` : "a sawn face is trued, not cleaned",
      paper ? 'take it out; what cleaning takes is "cleaning: 0.2"' : 'write "truing: 0.5"',
    );
    return undefined;
  }
  const base = { name: said.split, by: said.by, source: sourceAtPath(on, ["split"]), sources: sourcesOf(on) };
  if (paper) return { ...base, kerf: 0, wander: 0, truing: said.cleaning ?? CLEANING };
  if (said.kerf === undefined) {
    refuseAt(
      on,
      [],
      "key-missing",
      "it is not said how much the saw takes",
      'add "kerf: 1.2": saw into a scrap and measure the cut',
    );
    return undefined;
  }
  return { ...base, kerf: said.kerf, wander: said.wander ?? WANDER, truing: said.truing ?? TRUING };
}
