import type { Finding, Place } from "../finding.ts";
import { tidy } from "../finding.ts";

/** Whose hand a finger room is sized for. */
export type Hand = "small" | "medium" | "large";

/** Finger room in its three sizes, mm: fingers' width, free space behind the lip, depth past the lip. */
export interface FingerSizes {
  readonly width: number;
  readonly roomBehind: number;
  readonly hook: number;
}

/** A size of a hand with where it was found. mm. */
interface HandSize {
  readonly value: number;
  readonly from: string;
}

interface HandSizes {
  /** Who it stands for, in words. */
  readonly who: string;
  /** Breadth across the four knuckles. */
  readonly breadth: HandSize;
  /** Breadth of the index finger at the joint next to its tip. */
  readonly fingertip: HandSize;
  readonly length: HandSize;
}

const SURVEY = "a survey of hands, ANSUR II, NATICK/TR-15/007";
const REMEMBERED = "from memory: Pheasant, Bodyspace";

/**
 * Three hands. Breadth and length: percentiles of the ANSUR II public data (US Army 2012, NATICK/TR-15/007; 4,082 men,
 * 1,986 women). Fingertip breadth: Pheasant, Bodyspace, from memory, text not found.
 */
const HANDS: Readonly<Record<Hand, HandSizes>> = {
  small: {
    who: "half of women have a smaller one",
    breadth: { value: 78, from: SURVEY },
    fingertip: { value: 16, from: REMEMBERED },
    length: { value: 180, from: SURVEY },
  },
  medium: {
    who: "half of men, and more than 95 in 100 women, have a smaller one",
    breadth: { value: 88, from: SURVEY },
    fingertip: { value: 19, from: REMEMBERED },
    length: { value: 193, from: SURVEY },
  },
  large: {
    who: "95 in 100 men have a smaller one",
    breadth: { value: 96, from: SURVEY },
    fingertip: { value: 21, from: REMEMBERED },
    length: { value: 210, from: SURVEY },
  },
};

/** Free play at each side of the fingers, mm. Common practice, no source. */
const PLAY = 2;
/** Depth that a bare fingertip needs to pull, mm: MIL-STD-1472, fingertip recess, from memory. Taken for a medium hand. */
const FINGERTIP_DEPTH = 13;
/** Least room behind, mm. Common practice, no source. */
const LEAST_BEHIND = 16;
/** Least hook, mm. Common practice, no source. */
const LEAST_HOOK = 10;
/**
 * Gaps wider than the first, narrower than the second and deeper than the third trap a child's finger, mm: an ANEC
 * report, table 5, quoting CEN/TR 13387:2004.
 */
const TRAP = { over: 5, under: 12, deeper: 10 } as const;

/**
 * Finger room for a count of fingers of a hand. Sizes are rounded up to the next half millimetre.
 * - width: the fingers' share of the hand's breadth (a quarter each), and 2 mm of play at each side;
 * - room behind: the breadth of a fingertip, which is never thinner than the fingertip lies;
 * - hook: the depth of a fingertip recess, in the proportion of the hand's length.
 *
 * @param wish fingers: a whole number, 1 to 4
 * @returns the sizes, and for each the reason in words with its source. @throws RangeError for another count
 */
export function sizeFingerRoom(wish: {
  readonly fingers: number;
  readonly hand: Hand;
}): FingerSizes & { readonly reasons: readonly string[] } {
  const { fingers, hand } = wish;
  if (!(Number.isInteger(fingers) && fingers >= 1 && fingers <= 4)) {
    throw new RangeError("finger room is for 1 to 4 fingers");
  }
  const h = HANDS[hand];
  const each = h.breadth.value / 4;
  const width = halfUp(fingers * each + 2 * PLAY);
  const roomBehind = halfUp(h.fingertip.value);
  const share = h.length.value / HANDS.medium.length.value;
  const hook = halfUp(FINGERTIP_DEPTH * share);
  return {
    width,
    roomBehind,
    hook,
    reasons: [
      `a ${hand} hand: ${h.who} (${h.breadth.from})`,
      `width ${tidy(width)} mm: ${fingers} × ${tidy(each)} mm, a quarter of the hand's breadth of ${tidy(h.breadth.value)} mm (${h.breadth.from}), and ${PLAY} mm of play at each side (common practice, no source)`,
      `room behind ${tidy(roomBehind)} mm: the breadth of a fingertip (${h.fingertip.from})`,
      `hook ${tidy(hook)} mm: the depth of a fingertip recess, ${FINGERTIP_DEPTH} mm (from memory: MIL-STD-1472), by the hand's length of ${tidy(h.length.value)} mm (${h.length.from})`,
    ],
  };
}

function halfUp(value: number): number {
  return Math.ceil(value * 2 - 1e-9) / 2;
}

/**
 * What is worth a caution about a finger room's sizes; never a refusal, since the limits are practice and a report's
 * quotation. At a limit itself nothing is said.
 */
export function fingerRoomCautions(room: FingerSizes, place: Place): readonly Finding[] {
  const found: Finding[] = [];
  if (room.roomBehind < LEAST_BEHIND) {
    found.push({
      grade: "caution",
      code: "finger-room-shallow",
      place,
      what: "there is little room for a finger behind the lip",
      why: "a fingertip rubs on the drawer front",
      mend: `give at least ${LEAST_BEHIND} mm, or try it in scrap first`,
      measured: { value: room.roomBehind, bound: 0, unit: "mm" },
      limit: { value: LEAST_BEHIND, unit: "mm", from: "common practice, no source" },
    });
  }
  if (room.hook < LEAST_HOOK) {
    found.push({
      grade: "caution",
      code: "finger-hook-short",
      place,
      what: "the lip gives a fingertip little to pull on",
      mend: `make the hook at least ${LEAST_HOOK} mm, or try it in scrap first`,
      measured: { value: room.hook, bound: 0, unit: "mm" },
      limit: { value: LEAST_HOOK, unit: "mm", from: "common practice, no source" },
    });
  }
  for (const [gap, of] of [
    [room.roomBehind, "behind the lip"],
    [room.width, "along the pull"],
  ] as const) {
    if (!(gap > TRAP.over && gap < TRAP.under && room.hook > TRAP.deeper)) continue;
    found.push({
      grade: "caution",
      code: "finger-trap",
      place,
      what: `a child's finger can be caught in the gap ${of}`,
      why: `gaps between ${TRAP.over} and ${TRAP.under} mm that are deeper than ${TRAP.deeper} mm trap fingers; this one is ${tidy(room.hook)} mm deep`,
      mend: `make it ${TRAP.under} mm or wider, or no deeper than ${TRAP.deeper} mm`,
      measured: { value: gap, bound: 0, unit: "mm" },
      limit: { value: TRAP.under, unit: "mm", from: "a report, ANEC table 5, quoting CEN/TR 13387:2004" },
    });
  }
  return found;
}
