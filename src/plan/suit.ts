import type { Limit, Measured } from "../finding.ts";
import type { FindingCode } from "../finding-codes.ts";
import { tightestBend } from "../shapes/hollow.ts";
import { distance } from "../shapes/point.ts";
import { topOverSection } from "../shapes/turned-section.ts";
import type { Cutter } from "../shop/cutter.ts";
import { noseHeight } from "../shop/profile.ts";
import type { Habits } from "../shop/shop.ts";
import { cutLineTrouble, vGrooveTrouble, withBitKnown } from "./cut-marks.ts";
import { type HollowCavity, isDished, isHollowCavity, middleOf, noseOf, reachesFloor } from "./hollow.ts";
import { insetBy } from "./levels.ts";
import { flangeWords, NUT_CLEAR, type StickOutNeed, stickOutNeed } from "./nut-room.ts";
import { outsideReachTrouble, reachTrouble, roomBeside } from "./reach.ts";
import { depthOf, type Task } from "./task.ts";

/** A groove this near a bit's diameter is followed along its middle; more is cleared. Half of it stays on each wall, mm. */
export const FOLLOW_WITHIN = 0.012;
/** A drill this near a hole's diameter makes the hole, mm. */
export const DRILL_WITHIN = 0.05;
/** A hole is bored with at most this share of its diameter, so that chips get out. Common practice, no source. */
export const BORE_SHARE = 0.8;
/** A drill through the wood goes on by its own point and this much, mm. */
export const POINT_BEYOND = 0.2;
/** Countersinks of the same angle within this fit, degrees. */
const SAME_ANGLE = 0.5;
/** Least radius of the helix that opens a hole, mm. */
const LEAST_HELIX = 0.1;

/** An outline's band is this much wider than what the cutter sweeps, mm: its far side is waste, and need not be exact. */
const BAND_SLACK = 0.05;

/** Least way along a middle line that a bit of its width can ramp down, mm. Common practice, no source. */
const SHORTEST_WAY = 1;
/** A bit that clears an area needs this much room beside it, mm; one that fits more closely follows a middle line. */
const LEAST_PLAY = 0.005;

/** Wood left on the wall of a bored hole for the finish, mm: none where the helix has little room. */
export function boreAllowance(reach: number, habits: Habits): number {
  return reach > 2 * habits.allowance ? habits.allowance : 0;
}

/** Width of the cut beside an outline: the bit, what it strays outwards while roughing, and a hair. mm */
export function bandWidth(diameter: number, allowance: number): number {
  return diameter + 2 * allowance + BAND_SLACK;
}

/** How a cutter would do a task. */
export type Way = "clear" | "follow" | "bore" | "peck" | "sink" | "contour" | "v-groove" | "trace";

/** Whether a cutter suits a task. */
export type Suit =
  | { readonly ok: true; readonly way: Way }
  | {
      readonly ok: false;
      readonly code: FindingCode;
      /** Without the cutter's name: "is wider than the groove". */
      readonly what: string;
      readonly why: string;
      readonly mend: string;
      readonly measured?: Measured;
      readonly limit?: Limit;
    };

/** Judges one cutter for one task: form, width, reach into corners, flutes, stick-out, in that order. */
export function suits(task: Task, cutter: Cutter, habits: Habits): Suit {
  const way = wayOf(task, cutter, habits);
  if (typeof way !== "string") return way;
  return lengthTrouble(withBitKnown(task, cutter, way), cutter, habits, way) ?? { ok: true, way };
}

/** Why a cutter does not suit. */
export type No = Extract<Suit, { readonly ok: false }>;

function wayOf(task: Task, cutter: Cutter, habits: Habits): Way | No {
  switch (task.kind) {
    case "area":
    case "groove":
      if (isHollowCavity(task.cavities[0])) return hollowWay(task.cavities[0], cutter);
      return (
        flatTrouble(cutter) ??
        (task.kind === "groove" ? grooveWay(task, cutter, habits) : areaWay(task, cutter, habits))
      );
    case "bore":
      return boreWay(task, cutter, habits);
    case "counterbore":
      return flatTrouble(cutter) ?? helixWay(task, cutter, habits);
    case "countersink":
      return sinkWay(task, cutter);
    case "outline":
      return flatTrouble(cutter) ?? outlineWay(task, cutter, habits);
    case "v-groove":
      return vGrooveTrouble(task.cavities[0], cutter) ?? "v-groove";
    case "cut line":
      return cutLineTrouble(cutter) ?? "trace";
  }
}

function flatTrouble(cutter: Cutter): No | undefined {
  if (cutter.form.kind === "flat") return undefined;
  return {
    ok: false,
    code: "plan-bit-wrong-form",
    what: "doesn't cut a flat floor with upright walls",
    why: `it is a ${cutter.form.kind} bit`,
    mend: "name a flat bit, or leave the choice to the planner",
  };
}

function grooveWay(task: Task, cutter: Cutter, habits: Habits): Way | No {
  const [c] = task.cavities;
  if (c.shape.kind !== "groove") throw new Error("a groove was expected");
  const { width } = c.shape;
  if (cutter.diameter > width + FOLLOW_WITHIN) return tooWide(cutter, width, "the groove's width");
  const squareEnds = c.insideRadius < width / 2 - FOLLOW_WITHIN;
  if (cutter.diameter / 2 > c.insideRadius + FOLLOW_WITHIN) return cornerTrouble(cutter, c.insideRadius);
  if (cutter.diameter >= width - FOLLOW_WITHIN && !squareEnds) {
    const stopped = !c.shape.openStart && !c.shape.openEnd;
    return stopped && distance(c.shape.start, c.shape.end) - width <= SHORTEST_WAY
      ? reachNo(cutter, "doesn't fit")
      : "follow";
  }
  return roomToEnter(task, cutter, habits) ?? "clear";
}

function areaWay(task: Task, cutter: Cutter, habits: Habits): Way | No {
  const [c] = task.cavities;
  const radius = cutter.diameter / 2;
  if (c.shape.kind === "mortise") {
    const width = 2 * c.insideRadius;
    if (cutter.diameter > width + FOLLOW_WITHIN) return tooWide(cutter, width, "the mortise's width");
  }
  if (radius > c.insideRadius + FOLLOW_WITHIN) return cornerTrouble(cutter, c.insideRadius);
  if (c.shape.kind === "rabbet") return roomToEnter(task, cutter, habits) ?? "clear";
  const middle = c.shape.kind === "recess" || c.shape.kind === "mortise" ? c.shape.middle : undefined;
  if (middle && c.slopeTan === 0 && Math.abs(middle.width - cutter.diameter) <= FOLLOW_WITHIN) {
    // A round hole of the bit's own size leaves it no way to go.
    const way = distance(middle.start, middle.end) - middle.width;
    return way > SHORTEST_WAY ? "follow" : reachNo(cutter, "doesn't fit");
  }
  const floor = insetBy(c.section, (c.to - c.from) * c.slopeTan);
  const trouble = c.slopeTan > 0 ? floorTrouble(floor, c.section, radius) : reachTrouble(c.section, radius);
  if (trouble !== undefined) return reachNo(cutter, trouble);
  if (!roomBeside(floor, radius + LEAST_PLAY)) return reachNo(cutter, "doesn't fit");
  return roomToEnter(task, cutter, habits) ?? "clear";
}

/** A hollow is finished by a rounded nose: no rounder than its tightest bend, without a flat where the floor is dished. */
function hollowWay(c: HollowCavity, cutter: Cutter): Way | No {
  const nose = noseOf(cutter);
  if (nose === undefined) {
    return {
      ok: false,
      code: "plan-bit-wrong-form",
      what: "doesn't cut a rounded floor or edge",
      why: `it is a ${cutter.form.kind} bit`,
      mend: `add a round-nosed bit of ${mm(2 * tightestBend(c.hollow))} or less to the shop file, or leave the floor flat and the edge sharp`,
    };
  }
  if (nose.core > 0 && isDished(c.hollow)) {
    return {
      ok: false,
      code: "plan-bit-wrong-form",
      what: "is flat at its tip and doesn't reach the middle of a dished floor",
      why: `${mm(2 * nose.core)} of its tip is flat`,
      mend: "name a round-nosed bit, or leave the choice to the planner",
    };
  }
  const tightest = tightestBend(c.hollow);
  if (nose.nose > tightest + 1e-9) {
    return {
      ok: false,
      code: "plan-bit-too-wide",
      what: "is rounder than the hollow's tightest bend",
      why: `its end has a radius of ${mm(nose.nose)}`,
      mend: `use a bit with an end radius of ${mm(tightest)} or less, or make the radius at the floor ${mm(nose.nose)} or more`,
      measured: { value: nose.nose, bound: 0, unit: "mm" },
      limit: { value: tightest, unit: "mm", from: "the radius at the floor" },
    };
  }
  const radius = cutter.diameter / 2;
  if (radius > c.insideRadius + FOLLOW_WITHIN) return cornerTrouble(cutter, c.insideRadius);
  const trouble = reachTrouble(c.section, radius);
  if (trouble !== undefined) return reachNo(cutter, trouble);
  if (!reachesFloor(c, nose, middleOf(c))) return reachNo(cutter, "doesn't fit");
  // Towards the middle the ground narrows to nothing: no helix as wide as a dead centre has room there.
  return cutter.deadCentre === 0 ? "clear" : deadCentre(cutter);
}

/**
 * A bit that doesn't cut at its middle goes down on a helix at least as wide as that, inside what roughing may reach;
 * or it comes in from the air.
 */
function roomToEnter(task: Task, cutter: Cutter, habits: Habits): No | undefined {
  const [c] = task.cavities;
  if (cutter.deadCentre === 0) return undefined;
  const { shape } = c;
  if (shape.kind === "groove" && shape.openStart && shape.openEnd) return undefined;
  const floor = insetBy(c.section, (c.to - c.from) * c.slopeTan);
  const need = cutter.diameter / 2 + habits.allowance + cutter.deadCentre + LEAST_PLAY;
  return roomBeside(floor, need) ? undefined : deadCentre(cutter);
}

/** Lower down a sloped wall corners may become sharp; the bit must still get everywhere at the top and onto the floor. */
function floorTrouble(
  floor: Parameters<typeof reachTrouble>[0],
  top: typeof floor,
  radius: number,
): ReturnType<typeof reachTrouble> {
  const above = reachTrouble(top, radius);
  if (above !== undefined) return above;
  const below = reachTrouble(floor, radius);
  return below === "leaves a place that it can't get into" ? undefined : below;
}

function boreWay(task: Task, cutter: Cutter, habits: Habits): Way | No {
  const [c] = task.cavities;
  if (c.shape.kind !== "hole") throw new Error("a hole was expected");
  const { diameter } = c.shape;
  if (cutter.form.kind === "drill") {
    if (cutter.diameter > diameter + DRILL_WITHIN) return tooWide(cutter, diameter, "the hole's diameter");
    if (cutter.diameter < diameter - DRILL_WITHIN) {
      return {
        ok: false,
        code: "plan-bit-wrong-form",
        what: "is a drill of another size and cannot widen a hole",
        why: `hole ${mm(diameter)}, drill ${mm(cutter.diameter)}`,
        mend: `use a drill of ${mm(diameter)}, or a flat bit of ${mm(diameter * BORE_SHARE)} or less`,
        measured: { value: cutter.diameter, bound: 0, unit: "mm" },
        limit: { value: diameter, unit: "mm", from: "the hole's diameter" },
      };
    }
    const point = noseHeight(cutter);
    if (!c.through && c.to + point > task.deep - 0.5) {
      return {
        ok: false,
        code: "plan-bit-wrong-form",
        what: "would come out of the far face with its point",
        why: `the hole is ${mm(c.to)} deep, the point ${mm(point)} long, the wood ${mm(task.deep)} thick`,
        mend: "bore it with a flat bit, or make it shallower",
      };
    }
    return "peck";
  }
  const form = flatTrouble(cutter);
  if (form) return form;
  if (Math.abs(cutter.diameter - diameter) <= FOLLOW_WITHIN) {
    return cutter.deadCentre === 0 ? "peck" : deadCentre(cutter);
  }
  return helixWay(task, cutter, habits);
}

function helixWay(task: Task, cutter: Cutter, habits: Habits): Way | No {
  const [c] = task.cavities;
  if (c.shape.kind !== "hole") throw new Error("a hole was expected");
  const { diameter } = c.shape;
  if (cutter.diameter > diameter + FOLLOW_WITHIN) return tooWide(cutter, diameter, "the hole's diameter");
  if (cutter.diameter > diameter * BORE_SHARE + 1e-9) {
    return {
      ok: false,
      code: "plan-bit-too-wide",
      what: "leaves no room for a helix in the hole",
      why: `chips must get out beside the bit`,
      mend: `use a flat bit of ${mm(diameter * BORE_SHARE)} or less, or one of exactly ${mm(diameter)}`,
      measured: { value: cutter.diameter, bound: 0, unit: "mm" },
      limit: { value: diameter * BORE_SHARE, unit: "mm", from: "eight tenths of the hole: common practice, no source" },
    };
  }
  const reach = (diameter - cutter.diameter) / 2;
  const helix = Math.min(reach - boreAllowance(reach, habits), 0.9 * (cutter.diameter / 2));
  return helix >= Math.max(cutter.deadCentre, LEAST_HELIX) ? "bore" : deadCentre(cutter);
}

function sinkWay(task: Task, cutter: Cutter): Way | No {
  const [c] = task.cavities;
  if (c.shape.kind !== "hole") throw new Error("a hole was expected");
  const { form } = cutter;
  const angle = (Math.atan(c.slopeTan) * 360) / Math.PI;
  const mend = `add a countersink of ${mm(angle).replace(" mm", "°")} and at least ${mm(c.shape.diameter)} to the shop file, or counterbore the head`;
  if (form.kind !== "v" && form.kind !== "countersink") {
    return {
      ok: false,
      code: "plan-bit-wrong-form",
      what: "doesn't cut a cone",
      why: `it is a ${form.kind} bit`,
      mend,
    };
  }
  if (Math.abs(form.includedAngle - angle) > SAME_ANGLE) {
    return {
      ok: false,
      code: "plan-bit-wrong-form",
      what: "has another angle than the screw's head",
      why: `bit ${form.includedAngle}°, head ${Number(angle.toFixed(2))}°`,
      mend,
    };
  }
  if (cutter.diameter < c.shape.diameter - 1e-9) {
    return {
      ok: false,
      code: "plan-bit-wrong-form",
      what: "is narrower than the screw's head",
      why: `bit ${mm(cutter.diameter)}, head ${mm(c.shape.diameter)}`,
      mend,
    };
  }
  const bore = 2 * c.insideRadius;
  if (form.tipFlat > bore + 1e-9) {
    return {
      ok: false,
      code: "plan-bit-wrong-form",
      what: "has a blunter tip than the hole is wide",
      why: `tip ${mm(form.tipFlat)}, hole ${mm(bore)}`,
      mend,
    };
  }
  const tip = (c.shape.diameter - form.tipFlat) / 2 / c.slopeTan;
  const hole = task.hole ?? Number.POSITIVE_INFINITY;
  if (tip > hole + 1e-9) {
    return {
      ok: false,
      code: "plan-bit-wrong-form",
      what: "would cut below the hole with its tip",
      why: `its tip goes ${mm(tip)} down, the hole ${mm(hole)}`,
      mend: `make the hole at least ${mm(tip)} deep, or use a countersink with a blunter tip`,
      measured: { value: tip, bound: 0, unit: "mm" },
      limit: { value: hole, unit: "mm", from: "the hole's depth" },
    };
  }
  return "sink";
}

function outlineWay(task: Task, cutter: Cutter, habits: Habits): Way | No {
  const [c] = task.cavities;
  if (c.shape.kind !== "outline") throw new Error("an outline was expected");
  const radius = cutter.diameter / 2;
  const { profile, side } = c.shape;
  const trouble = side === "inside" ? reachTrouble(profile, radius) : outsideReachTrouble(profile, radius);
  if (trouble !== undefined) return reachNo(cutter, trouble);
  const room = task.room ?? Number.POSITIVE_INFINITY;
  const band = bandWidth(cutter.diameter, habits.allowance);
  if (band > room) {
    return {
      ok: false,
      code: "plan-bit-too-wide",
      what: "would cut into the next part on the board",
      why: `the cut is ${mm(band)} wide, its allowance counted`,
      mend: `place the parts at least ${mm(band)} apart, or use a narrower bit`,
      measured: { value: band, bound: 0, unit: "mm" },
      limit: { value: room, unit: "mm", from: "the gap to the next part" },
    };
  }
  const tight = side === "inside" ? c.insideRadius : outsideCorner(c);
  return radius > tight + FOLLOW_WITHIN ? cornerTrouble(cutter, tight) : "contour";
}

/** Outside an outline, only hollow corners limit the bit. */
function outsideCorner(c: Task["cavities"][0]): number {
  if (c.shape.kind !== "outline") return Number.POSITIVE_INFINITY;
  const hollow = c.shape.profile.loops.some((loop) =>
    loop.some((s, i) => {
      if (s.kind === "arc" && !s.ccw) return true;
      const next = loop[(i + 1) % loop.length]!;
      const ax = s.to.x - s.from.x;
      const ay = s.to.y - s.from.y;
      const bx = next.to.x - next.from.x;
      const by = next.to.y - next.from.y;
      return (
        s.kind === "line" && next.kind === "line" && ax * by - ay * bx < -1e-6 * Math.hypot(ax, ay) * Math.hypot(bx, by)
      );
    }),
  );
  return hollow ? c.insideRadius : Number.POSITIVE_INFINITY;
}

/** Below the surface the whole cut must be flute, and the nut must stay above the wood. */
function lengthTrouble(task: Task, cutter: Cutter, habits: Habits, way: Way): No | undefined {
  const [c] = task.cavities;
  if (way === "sink") return undefined;
  const beyond = beyondWood(task, cutter, habits, way);
  const point = way === "peck" && !c.through ? noseHeight(cutter) : 0;
  const deep = deepest(task, cutter, habits, way);
  // Beneath a counterbore the bit has room above its own hole.
  const bare = bareAbove(task);
  const inWall = deep - Math.max(bare, cutter.shankDiameter <= cutter.diameter + 1e-9 ? c.from : 0);
  const extra = [
    beyond > 0 ? `${mm(beyond)} into the waste board` : "",
    point > 0 ? `${mm(point)} of point` : "",
  ].filter((t) => t !== "");
  const why = `${mm(c.to)} deep${extra.length > 0 ? `, and ${extra.join(", ")}` : ""}`;
  if (inWall > cutter.fluteLength + 1e-9) {
    return {
      ok: false,
      code: "plan-bit-flute-short",
      what: "has shorter flutes than the cut is deep",
      why: task.round === undefined ? why : `${mm(inWall)} from the highest wood over the cut to the tip`,
      mend: "use a longer bit, or cut less deep",
      measured: { value: inWall, bound: 0, unit: "mm" },
      limit: { value: cutter.fluteLength, unit: "mm", from: "the bit's flute length" },
    };
  }
  const need = stickOutNeed(task, cutter, deep);
  if (need.value > cutter.stickOut + 1e-9) {
    return {
      ok: false,
      code: "plan-bit-stick-out-short",
      what: `doesn't stick out far enough: its nut would reach the ${need.flange === undefined ? "wood" : "flange beside the cut"}`,
      why: `${task.round === undefined ? why : flangeWords(need)}, and ${mm(NUT_CLEAR)} clear of the nut`,
      mend: "set it farther out of the collet and say so in the shop file, or use a longer bit",
      measured: { value: need.value, bound: 0, unit: "mm" },
      limit: { value: cutter.stickOut, unit: "mm", from: "the bit's stick-out" },
    };
  }
  return undefined;
}

/** Stick-out that a flange beside the cut asks for, on turned blanks; nothing for a head that only sinks in. */
export function roundNeed(task: Task, cutter: Cutter, habits: Habits, way: Way): StickOutNeed | undefined {
  if (task.round === undefined || way === "sink") return undefined;
  return stickOutNeed(task, cutter, deepest(task, cutter, habits, way));
}

/** Depth of the very tip below the face, a drill's point counted, mm. */
function deepest(task: Task, cutter: Cutter, habits: Habits, way: Way): number {
  const [c] = task.cavities;
  return tipDepth(task, cutter, habits, way) + (way === "peck" && !c.through ? noseHeight(cutter) : 0);
}

/** How far below its box's top a turned blank's wood over the cut begins, mm; 0 for boards. */
function bareAbove(task: Task): number {
  if (task.round === undefined) return 0;
  const { solid } = task.round;
  return -Math.max(...task.cavities.map((c) => topOverSection(solid, c.section, -c.to)));
}

/** How far below the wood the tip goes, mm: 0 for what doesn't go through. */
export function beyondWood(task: Task, cutter: Cutter, habits: Habits, way: Way): number {
  const [c] = task.cavities;
  if (!c.through || c.to < task.deep - 1e-9) return 0;
  return way === "peck" && cutter.form.kind === "drill"
    ? Math.max(habits.intoWasteBoard, noseHeight(cutter) + POINT_BEYOND)
    : habits.intoWasteBoard;
}

/** Depth of a task's deepest tip below the face, mm. */
export function tipDepth(task: Task, cutter: Cutter, habits: Habits, way: Way): number {
  return depthOf(task) + beyondWood(task, cutter, habits, way);
}

function tooWide(cutter: Cutter, most: number, from: string): No {
  return {
    ok: false,
    code: "plan-bit-too-wide",
    what: "is too wide to get in",
    why: `${mm(cutter.diameter)} across, ${from} ${mm(most)}`,
    mend: `use a bit of ${mm(most)} or less`,
    measured: { value: cutter.diameter, bound: 0, unit: "mm" },
    limit: { value: most, unit: "mm", from },
  };
}

function cornerTrouble(cutter: Cutter, most: number): No {
  return {
    ok: false,
    code: "plan-bit-too-wide",
    what: "leaves rounder inside corners than asked for",
    why: `radius ${mm(cutter.diameter / 2)}`,
    mend: `use a bit of ${mm(2 * most)} or less, or allow a larger inside radius`,
    measured: { value: cutter.diameter / 2, bound: 0, unit: "mm" },
    limit: { value: most, unit: "mm", from: "the largest inside-corner radius" },
  };
}

function reachNo(cutter: Cutter, trouble: string): No {
  return {
    ok: false,
    code: "plan-bit-too-wide",
    what: trouble === "doesn't fit" ? "is too wide to get in" : `does not reach all of it: it ${trouble}`,
    why: `${mm(cutter.diameter)} across`,
    mend: "use a narrower bit, or widen the narrow place",
    measured: { value: cutter.diameter, bound: 0, unit: "mm" },
  };
}

function deadCentre(cutter: Cutter): No {
  return {
    ok: false,
    code: "plan-bit-dead-centre",
    what: "cannot cut straight down in so narrow a place",
    why: `its middle doesn't cut within ${mm(cutter.deadCentre)} of the axis`,
    mend: "use a bit that plunges, or a narrower one",
    measured: { value: cutter.deadCentre, bound: 0, unit: "mm" },
  };
}

function mm(value: number): string {
  return `${Number(value.toFixed(3))} mm`;
}
