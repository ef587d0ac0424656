import type { Finding } from "../../finding.ts";
import type { FingerRoomDescription, TurnedDescription } from "../../job/turned.ts";
import type { Hollow } from "../../shapes/hollow.ts";
import { extentOfMeridian, type Meridian, radiiAt, radiiOver } from "../../shapes/meridian.ts";
import { roundedRectangle } from "../../shapes/outlines.ts";
import type { Region } from "../../shapes/region.ts";
import { fingerRoomCautions, sizeFingerRoom } from "../finger-room.ts";
import type { FingerPlan, FingerRoom } from "../turned-piece.ts";
import { fingerHollow } from "./finger-hollow.ts";
import type { Laid } from "./layout.ts";
import { mmText, turnedFinding } from "./say.ts";

/** Sizes and place of a plan shape, mm: its middle, its length along the axis and half its breadth. */
interface Plan {
  readonly x: number;
  readonly y: number;
  readonly length: number;
  readonly half: number;
}

/** Width, room behind and hook, with the reasons where they come from a hand. mm. */
interface Sizes {
  readonly width: number;
  readonly roomBehind: number;
  readonly hook: number;
  readonly reasons: readonly string[];
}

/**
 * Finger room as a recess, from the three sizes that it is to give once the blank is split and its halves are trued. With
 * ℓ the wood lost from each half (kerf, wander and truing at their most), r the turned radius:
 *
 * `crown`, across the axis, before the split; the drawer front is what stands at the flat afterwards:
 *
 *            crown              b = room behind + ℓ               half the plan's breadth, at the lip
 *        lip __ . __ lip        lip's height   √(r² − b²)         r the least along the fingers
 *          /|   ┊   |\          floor's height √(r² − b²) − hook
 *         / |   ┊   | \         depth = r above the middle − floor's height
 *        |  |___┊___|  |
 *        |      ┊      |        flat of the half: ℓ to the side of the split line ┊
 *
 * `back`, across the axis of a half that lies flat up; the drawer front lies on the flat, fingers come in over the rim:
 *
 *        flat ____________      depth = room behind
 *     rim |              / rim  lip, where the floor runs out of the wood: √(r² − (ℓ + depth)²) from the axis
 *      ───┘ floor       /       wall: hook farther in; b from there to the rim, the plan's middle line
 *         \___________/         closed all round: b = hook / 2, about the axis
 *              crown's quarter
 *
 * `width` is the plan's length over all. With a sloped wall all sizes hold at the lip (`crown`) or at the floor (`back`),
 * before the inside radius and the eased lip.
 *
 * @param loss what each half loses at most, mm; 0 for a blank that stays whole
 */
export function fingerRoomOf(
  part: TurnedDescription,
  wish: FingerRoomDescription,
  laid: Laid,
  loss: number,
): { readonly room?: FingerRoom; readonly findings: readonly Finding[] } {
  const sizes = sizesOf(part, wish);
  if ("code" in sizes) return { findings: [sizes] };
  const refuse = (keys: readonly string[], what: string, why: string, mend: string): { findings: Finding[] } => ({
    findings: [turnedFinding(part, "finger-room-shape", wish, keys, { what, why, mend })],
  });
  const pull = laid.pulls[0] ?? extentOfMeridian(laid.meridian);
  const own = wish.centreAt === undefined ? undefined : laid.pulls.find((p) => within(p, wish.centreAt));
  // The room is the same in all pulls: what is said of a later one is taken for the first.
  const x = wish.centreAt === undefined ? (pull.from + pull.to) / 2 : wish.centreAt - ((own ?? pull).from - pull.from);
  const made =
    wish.cut === "crown"
      ? crownPlan(laid.meridian, wish, sizes, x, loss)
      : backPlan(laid.meridian, wish, sizes, x, loss);
  if ("what" in made) return refuse(made.keys, made.what, made.why, made.mend);
  const { plan, depth } = made;
  const tan = Math.tan((wish.wallLeanDeg * Math.PI) / 180);
  const grown = made.above * tan;
  const top: Plan = { ...plan, length: plan.length + 2 * grown, half: plan.half + grown };
  const size = ["width", "fingers"];
  if (x - top.length / 2 < pull.from - 1e-9 || x + top.length / 2 > pull.to + 1e-9) {
    return {
      findings: [
        turnedFinding(
          part,
          "finger-room-off-the-wood",
          wish,
          top.length > pull.to - pull.from ? size : ["centre at", ...size],
          {
            what: "the finger room reaches beyond its pull",
            why: `it runs from ${mmText(x - top.length / 2)} to ${mmText(x + top.length / 2)}, the pull from ${mmText(pull.from)} to ${mmText(pull.to)}`,
            mend: "move it, make it shorter, or the pull longer",
          },
        ),
      ],
    };
  }
  const corner = wish.shape.kind === "slot" ? plan.half : wish.shape.radius;
  if (wish.shape.kind === "slot" && plan.length < 2 * plan.half - 1e-9) {
    return refuse(
      ["width", "fingers"],
      "this slot would be shorter than it is broad",
      `${mmText(plan.length)} along the axis, ${mmText(2 * plan.half)} across`,
      'write "shape: rounded rectangle" with a corner radius, or give more width',
    );
  }
  if (corner > Math.min(plan.length / 2, plan.half) + 1e-9) {
    return refuse(
      ["corner radius"],
      "the corners are rounder than the finger room is broad",
      `radius ${mmText(corner)}, half the breadth ${mmText(plan.half)}`,
      `give at most ${mmText(Math.min(plan.length / 2, plan.half))}, or write "shape: slot"`,
    );
  }
  const hollow = fingerHollow({
    depth,
    wallLeanDeg: wish.wallLeanDeg,
    dished: wish.dished,
    insideRadius: wish.insideRadius,
    reach: Math.min(top.half, top.length / 2),
  });
  if ("what" in hollow) return refuse([hollow.key], hollow.what, hollow.why, hollow.mend);
  if (wish.cut === "crown" && wallEnd(hollow) > 1e-9 - made.above) {
    return refuse(
      ["inside radius", "hook"],
      "the rounding at the floor reaches up to the lip, so a finger has no wall to pull on",
      `the hook is ${mmText(sizes.hook)}, the inside radius ${mmText(wish.insideRadius)}`,
      "make the inside radius smaller, or the hook longer",
    );
  }
  const place = { part: part.name, feature: wish.name, source: wish.source };
  const { width, roomBehind, hook, reasons } = sizes;
  const outline: FingerPlan = {
    x: top.x,
    y: top.y,
    length: Math.max(top.length, wish.shape.kind === "slot" ? 2 * top.half : 0),
    breadth: 2 * top.half,
    corner: corner + grown,
  };
  const shifts = laid.pulls.slice(1).map((p) => p.from - pull.from);
  const { opensOver } = wish;
  const room: FingerRoom = {
    name: wish.name,
    cut: wish.cut,
    section: regionOfPlan(outline),
    plan: outline,
    ...(shifts.length > 0 && { alsoAt: shifts }),
    ...(wish.cut === "back" && opensOver !== "nothing" && { opensOver }),
    depth,
    hollow,
    wallLeanDeg: wish.wallLeanDeg,
    ease: wish.ease,
    leastWall: wish.leastWall,
    leastLipAngleDeg: wish.leastLipAngleDeg,
    ...(reasons.length > 0 && { reasons }),
    gives: { width, roomBehind, hook },
    insideRadius: wish.insideRadius,
    ...(wish.cutter !== undefined && { cutter: wish.cutter }),
    source: wish.source,
    sources: wish.sources,
  };
  return { room, findings: fingerRoomCautions(room.gives, place) };
}

/** Height below the mouth at which the straight wall ends. */
function wallEnd(hollow: Hollow): number {
  const first = hollow.segments[0];
  return first?.kind === "line" ? first.to.y : 0;
}

function within(p: { readonly from: number; readonly to: number }, x: number | undefined): boolean {
  return x !== undefined && x >= p.from && x <= p.to;
}

/** The outline of a plan. */
export function regionOfPlan(p: FingerPlan): Region {
  const most = Math.min(p.length, p.breadth) / 2;
  return roundedRectangle({ x: p.x, y: p.y }, p.length, p.breadth, Math.min(p.corner, most), 0);
}

/** The three sizes as said, filled up from fingers and hand. */
function sizesOf(part: TurnedDescription, wish: FingerRoomDescription): Sizes | Finding {
  const { width, roomBehind, hook } = wish;
  if (wish.fingers !== undefined) {
    const sized = sizeFingerRoom({ fingers: wish.fingers, hand: wish.hand ?? "medium" });
    return {
      width: width ?? sized.width,
      roomBehind: roomBehind ?? sized.roomBehind,
      hook: hook ?? sized.hook,
      reasons: sized.reasons,
    };
  }
  if (width !== undefined && roomBehind !== undefined && hook !== undefined) {
    return { width, roomBehind, hook, reasons: [] };
  }
  const lacking = [
    ...(width === undefined ? ["width"] : []),
    ...(roomBehind === undefined ? ["room behind"] : []),
    ...(hook === undefined ? ["hook"] : []),
  ];
  return turnedFinding(part, "finger-room-incomplete", wish, [], {
    what: `it is not said how large this finger room is: ${lacking.join(", ")}`,
    why: "a finger room has a width for the fingers, room behind the lip, and a hook past it",
    mend: 'give all three, or write "fingers: 3" and "hand: medium"',
  });
}

type Made =
  | {
      /** At the height where its sizes hold. */
      readonly plan: Plan;
      readonly depth: number;
      /** How far the plane of the hollow's mouth lies above that height. */
      readonly above: number;
    }
  | { readonly keys: readonly string[]; readonly what: string; readonly why: string; readonly mend: string };

/** Least radius along the straight of the plan, where the fingers are. */
function leastAlong(m: Meridian, x: number, half: number): number {
  const h = Math.max(0, half);
  return radiiOver(m, x - h, x + h)?.least ?? 0;
}

function straightHalf(wish: FingerRoomDescription, width: number, half: number): number {
  return width / 2 - (wish.shape.kind === "slot" ? half : wish.shape.radius);
}

function crownPlan(m: Meridian, wish: FingerRoomDescription, sizes: Sizes, x: number, loss: number): Made {
  const half = sizes.roomBehind + loss;
  const r = leastAlong(m, x, straightHalf(wish, sizes.width, half));
  const middle = radiiAt(m, x)?.most ?? 0;
  if (half >= r) {
    return {
      keys: ["room behind", "fingers"],
      what: "the finger room is broader than the wood, so no lip is left",
      why: `${mmText(sizes.roomBehind)} behind the lip and ${mmText(loss)} lost to the split, in a radius of ${mmText(r)}`,
      mend: `give at most ${mmText(Math.max(0, r - loss))} less the lip's own thickness, or turn the pull thicker`,
    };
  }
  const lip = Math.sqrt(r * r - half * half);
  const floor = lip - sizes.hook;
  const depth = middle - floor;
  if (floor <= -r) {
    return {
      keys: ["hook", "fingers"],
      what: "the finger room goes through the pull",
      why: `${mmText(depth)} below the crown, of ${mmText(2 * r)}`,
      mend: "make the hook shorter, or turn the pull thicker",
    };
  }
  return { plan: { x, y: 0, length: sizes.width, half }, depth, above: middle - lip };
}

function backPlan(m: Meridian, wish: FingerRoomDescription, sizes: Sizes, x: number, loss: number): Made {
  const depth = sizes.roomBehind;
  const middle = radiiAt(m, x)?.least ?? 0;
  const rim = Math.sqrt(Math.max(0, middle * middle - loss * loss));
  // How broad the plan is decides how long its straight is, and that the least radius: the longest is on the safe side.
  const r = leastAlong(m, x, sizes.width / 2);
  const deep = loss + depth;
  if (deep >= r) {
    return {
      keys: ["room behind", "fingers"],
      what: "the finger room goes through the half",
      why: `${mmText(depth)} deep beneath the trued flat, and the half is ${mmText(Math.max(0, r - loss))} thick there`,
      mend: "give less room behind, or turn the pull thicker",
    };
  }
  const lip = Math.sqrt(r * r - deep * deep);
  const closed = wish.opensOver === "nothing";
  const half = closed ? sizes.hook / 2 : rim - lip + sizes.hook;
  const inner = closed ? half : sizes.hook - lip;
  if (inner >= (closed ? lip : rim)) {
    return {
      keys: ["hook", "fingers"],
      what: "the hook reaches through to the other side",
      why: `${mmText(sizes.hook)}, where the wood is ${mmText(2 * lip)} broad at the floor`,
      mend: "make the hook shorter, or turn the pull thicker",
    };
  }
  const y = closed ? 0 : wish.opensOver === "crown side" ? rim : -rim;
  return { plan: { x, y, length: sizes.width, half }, depth, above: depth };
}
