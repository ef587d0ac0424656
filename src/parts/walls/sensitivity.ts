import type { Finding } from "../../finding.ts";
import { boundsOfRegion } from "../../shapes/region.ts";
import type { TurnedPiece } from "../turned-piece.ts";
import { placed } from "./judge.ts";
import { outerOf } from "./outer.ts";
import type { RecessSheet } from "./recess-surface.ts";
import { AS_MEANT, type SetUpErrors } from "./set-up-errors.ts";
import { mouthPlaneOf, sheetOf, wallMap } from "./wall-map.ts";
import { type WalledPiece, walledPiece } from "./walls-of.ts";

/** One thing that may be off. */
export type Fault = keyof SetUpErrors;

/** How far one thing may be off, alone, each way, before the law of wall and lip fails. mm or degrees, ≥ 0. */
export interface Allowance {
  readonly fault: Fault;
  readonly minus: number;
  readonly plus: number;
  /** Not looked for beyond `minus` or `plus`: it may be off by as much and more. */
  readonly minusOpen: boolean;
  readonly plusOpen: boolean;
}

/** How far the set-up may be off. */
export interface Sensitivity {
  /** What matters most first: by how the allowance compares with what a careful set-up keeps. */
  readonly single: readonly Allowance[];
  /**
   * All at once, each ±: with every error within these the law holds. Absent when it fails as meant. All corners of the
   * box were tried against a stricter law (0.05 mm, 1°), and a tenth taken off: not a proof, but tested at random.
   */
  readonly together?: SetUpErrors;
  /** "holds to Y ± 0.4 mm; angle matters most". */
  readonly sentence: string;
}

/** What a careful set-up keeps, for ranking alone. Common practice, no source. */
const CAREFUL: SetUpErrors = { zeroY: 0.2, zeroZ: 0.2, angleDeg: 1, tiltDeg: 0.2, radius: 0.2, bit: 0.1 };
/** Errors are not looked for beyond these. */
const FARTHEST: SetUpErrors = { zeroY: 4, zeroZ: 4, angleDeg: 20, tiltDeg: 3, radius: 3, bit: 3 };
const FAULTS: readonly Fault[] = ["zeroY", "zeroZ", "angleDeg", "tiltDeg", "radius", "bit"];
const HALVINGS = 8;
/** Samples for one trial among many, mm. */
const TRIAL_STEP = 1;
/** The stricter law that corners must meet, mm and degrees. */
const STRICTER = { wall: 0.05, lipDeg: 1 } as const;
const KEPT_SHARE = 0.9;

const NAMES: Readonly<Record<Fault, string>> = {
  zeroY: "Y",
  zeroZ: "Z",
  angleDeg: "angle",
  tiltDeg: "tilt",
  radius: "the blank's radius",
  bit: "the bit's diameter",
};

/** How far the set-up of a piece's finger room may be off; undefined without finger room. */
export function sensitivityOf(piece: TurnedPiece, shift = 0): Sensitivity | undefined {
  const w = walledPiece(piece, shift);
  return w === undefined ? undefined : sensitivity(w);
}

/** How far the set-up may be off before wall or lip fail, in the blank and in each half: alone, and all together. */
export function sensitivity(w: WalledPiece): Sensitivity {
  const holds = trialsOf(w);
  if (!holds(AS_MEANT, false)) {
    const none = FAULTS.map((fault) => ({ fault, minus: 0, plus: 0, minusOpen: false, plusOpen: false }));
    return { single: none, sentence: "fails as meant, with nothing off" };
  }
  const most = (fault: Fault, sign: 1 | -1): number => {
    const far = FARTHEST[fault];
    const at = (by: number): SetUpErrors => ({ ...AS_MEANT, [fault]: sign * by });
    if (holds(at(far), false)) return far;
    let [low, high] = [0, far];
    for (let k = 0; k < HALVINGS; k++) {
      const m = (low + high) / 2;
      if (holds(at(m), false)) low = m;
      else high = m;
    }
    return low;
  };
  const single = FAULTS.map((fault): Allowance => {
    const minus = most(fault, -1);
    const plus = most(fault, 1);
    return { fault, minus, plus, minusOpen: minus >= FARTHEST[fault], plusOpen: plus >= FARTHEST[fault] };
  }).sort((a, b) => rankOf(a) - rankOf(b));
  const together = allAtOnce(single, w.room.cut, (e) => holds(e, true));
  return { single, together, sentence: sentenceOf(single) };
}

/** What matters most ranks lowest; what never broke it comes last. */
function rankOf(a: Allowance): number {
  const open = a.minusOpen && a.plusOpen;
  return Math.min(a.minus, a.plus) / CAREFUL[a.fault] + (open ? 1000 : 0);
}

/** The largest box of errors, in the proportion of the single allowances, whose corners all pass. */
function allAtOnce(
  single: readonly Allowance[],
  cut: "crown" | "back",
  passes: (e: SetUpErrors) => boolean,
): SetUpErrors {
  const half = (fault: Fault): number => {
    const a = single.find((s) => s.fault === fault)!;
    return Math.min(a.minus, a.plus);
  };
  const box: SetUpErrors = {
    zeroY: half("zeroY"),
    zeroZ: half("zeroZ"),
    angleDeg: half("angleDeg"),
    tiltDeg: half("tiltDeg"),
    radius: half("radius"),
    bit: half("bit"),
  };
  // Down the crown a smaller blank and a wider bit are the worse, whatever else is off; where a room runs out over a
  // side the lip may be sharper in a larger blank. The corner that failed last is tried first.
  const order = Array.from({ length: cut === "crown" ? 16 : 64 }, (_, k) => k);
  const corners = (share: number): boolean => {
    for (const [i, k] of order.entries()) {
      const sign = (bit: number): number => (k & bit ? share : -share);
      const e: SetUpErrors = {
        zeroY: sign(1) * box.zeroY,
        zeroZ: sign(2) * box.zeroZ,
        angleDeg: sign(4) * box.angleDeg,
        tiltDeg: sign(8) * box.tiltDeg,
        radius: sign(16) * box.radius,
        bit: -sign(32) * box.bit,
      };
      if (passes(e)) continue;
      order.splice(i, 1);
      order.unshift(k);
      return false;
    }
    return true;
  };
  if (corners(1)) return scaled(box, KEPT_SHARE);
  let [low, high] = [0, 1];
  for (let k = 0; k < 6; k++) {
    const m = (low + high) / 2;
    if (corners(m)) low = m;
    else high = m;
  }
  return scaled(box, low * KEPT_SHARE);
}

/**
 * Whether the law, or a stricter one, holds with errors. The surface's samples are laid once for each size of bit; an
 * error moves them, and only those are measured again whose depth it could bring below what is asked, or out of the wood.
 */
function trialsOf(w: WalledPiece): (e: SetUpErrors, strict: boolean) => boolean {
  const sheets = new Map<number, { readonly sheet: RecessSheet; readonly depths: Float64Array }>();
  const whole = outerOf(w.solid, undefined, w.errors.radius);
  const reach = reachOf(w);
  const forBit = (bit: number): { readonly sheet: RecessSheet; readonly depths: Float64Array } => {
    const there = sheets.get(bit);
    if (there !== undefined) return there;
    const sheet = sheetOf(w.solid, w.room, { step: TRIAL_STEP, bit, errors: sumOf(FARTHEST, w.errors) });
    const made = { sheet, depths: placed(sheet.laid(w.errors), whole).depths };
    sheets.set(bit, made);
    return made;
  };
  return (e, strict) => {
    const errors = sumOf(w.errors, e);
    const law = strict
      ? { leastWall: w.law.leastWall + STRICTER.wall, lipAngleDeg: w.law.lipAngleDeg + STRICTER.lipDeg }
      : w.law;
    const { sheet, depths } = forBit(errors.bit);
    return wallMap(w.solid, w.room, law, {
      step: TRIAL_STEP,
      want: "verdict",
      bounded: false,
      errors,
      sheet,
      // The bit's share is in the sheet already.
      known: { depths, change: lossOf({ ...e, bit: 0 }, reach), enough: law.leastWall + 3 * TRIAL_STEP },
      ...w.split,
    }).holds;
  };
}

/**
 * No place of the recess comes nearer to the outer surface than it was meant to by more than this, mm: a shift counts
 * whole, a turn by its lever arm, a tilt by half the length, the radius whole, the bit's diameter by half. Holds whatever
 * the shape, for distances change no faster than places do.
 */
export function lossOf(e: SetUpErrors, reach: Reach): number {
  const rad = Math.PI / 180;
  return (
    Math.hypot(e.zeroY, e.zeroZ) +
    reach.lever * Math.abs(e.angleDeg) * rad +
    reach.halfLength * Math.abs(e.tiltDeg) * rad +
    Math.abs(e.radius) +
    Math.abs(e.bit) / 2
  );
}

/** Lever arms of a recess, mm: its farthest place from the axis, and from the middle about which it tilts. */
export interface Reach {
  readonly lever: number;
  readonly halfLength: number;
}

/** Lever arms of a room in its wood. */
export function reachOf(w: WalledPiece): Reach {
  const box = boundsOfRegion(w.room.section);
  if (box === undefined) throw new RangeError("a recess without an outline");
  const plane = mouthPlaneOf(w.solid, w.room);
  const deep = Math.max(Math.abs(plane), Math.abs(plane - w.room.depth));
  const across = Math.max(Math.abs(box.min.y), Math.abs(box.max.y));
  return { lever: Math.hypot(deep, across), halfLength: Math.hypot((box.max.x - box.min.x) / 2, deep) };
}

function sumOf(a: SetUpErrors, b: SetUpErrors): SetUpErrors {
  return {
    zeroY: a.zeroY + b.zeroY,
    zeroZ: a.zeroZ + b.zeroZ,
    angleDeg: a.angleDeg + b.angleDeg,
    tiltDeg: a.tiltDeg + b.tiltDeg,
    radius: a.radius + b.radius,
    bit: a.bit + b.bit,
  };
}

function scaled(e: SetUpErrors, by: number): SetUpErrors {
  return {
    zeroY: e.zeroY * by,
    zeroZ: e.zeroZ * by,
    angleDeg: e.angleDeg * by,
    tiltDeg: e.tiltDeg * by,
    radius: e.radius * by,
    bit: e.bit * by,
  };
}

function sentenceOf(single: readonly Allowance[]): string {
  const y = single.find((a) => a.fault === "zeroY")!;
  const first = single[0]!;
  const open = Math.min(y.minus, y.plus) >= FARTHEST.zeroY;
  const holds = `holds to Y ± ${shown(y)} mm${open ? " and more" : ""}`;
  if (Math.min(first.minus, first.plus) >= FARTHEST[first.fault])
    return `${holds}; nothing else that was tried breaks it`;
  return first.fault === "zeroY"
    ? `${holds}; Y matters most`
    : `${holds}; ${NAMES[first.fault]} matters most (± ${shown(first)} ${unitOf(first.fault)})`;
}

/** Rounded down to a tenth (degrees and mm alike), or to a hundredth where it is small: never more than was found. */
function shown(a: Allowance): string {
  const value = Math.min(a.minus, a.plus);
  const step = value < 0.2 ? 100 : 10;
  return String(Math.floor(value * step + 1e-9) / step);
}

function unitOf(fault: Fault): string {
  return fault === "angleDeg" || fault === "tiltDeg" ? "°" : "mm";
}

/** A caution where something must be held closer than a careful set-up does. */
export function sensitivityFindings(piece: TurnedPiece, s: Sensitivity): readonly Finding[] {
  const tight = s.single.filter((a) => Math.min(a.minus, a.plus) < CAREFUL[a.fault]);
  const room = piece.fingerRoom;
  if (tight.length === 0 || room === undefined || s.together === undefined) return [];
  return [
    {
      grade: "caution",
      code: "wall-set-up-tight",
      place: { part: piece.name, feature: room.name, source: room.source },
      what: "wall and lip hold only when the set-up is held close",
      why: `may be off, each alone: ${tight.map((a) => `${NAMES[a.fault]} ± ${shown(a)} ${unitOf(a.fault)}`).join(", ")}`,
      mend: "measure these twice on the machine, or make the recess a little narrower or shallower",
    },
  ];
}
