/**
 * Where a runner's nose meets the end of its groove: the drawer's stop. Both ends are seen from the side. The groove's
 * farthest point lies at x = 0, its middle line at y = 0, and it runs on towards +x; the runner points towards −x.
 */

/** An end with its two corners rounded alike, mm. */
export interface RoundedEnd {
  /** Height of the runner, or width of the groove: > 0. */
  readonly height: number;
  /** 0 for square, at most half the height for fully round. */
  readonly radius: number;
}

/** How a nose stops in its groove, mm. */
export interface NoseStop {
  /** From the groove's farthest point to the tip of the nose when the drawer is pushed home: it can go no further. */
  readonly home: number;
  /** The same where a drawer that hangs on its runner first touches. Never less than `home`. */
  readonly touch: number;
  /** How far the drawer is lifted between the two: 0 for a crisp stop. */
  readonly lift: number;
}

/** What the user wants of a nose. */
export type NoseWish = "round" | { readonly eased: number };

/**
 * Radius of a nose's corners. A round nose is half the runner's height, and never more than the groove's end radius, so
 * that it seats in the corners of a square end and doesn't strike its middle alone. A square nose has eased corners.
 * @param eased mm, 0 to half the runner's height: larger is our bug and throws RangeError
 */
export function noseRadius(runnerHeight: number, grooveEndRadius: number, wish: NoseWish): number {
  if (wish === "round") return Math.min(runnerHeight / 2, grooveEndRadius);
  if (!(wish.eased >= 0 && wish.eased <= runnerHeight / 2)) {
    throw new RangeError(`corners eased by ${wish.eased} don't fit a runner ${runnerHeight} high`);
  }
  return wish.eased;
}

/**
 * Distance from the groove's farthest point to the tip of the nose when they touch, the runner's middle lying `above` the
 * groove's.
 *
 * Closed form: a rounded corner is a disc of radius c carried by its centre, which may go where the groove, shrunk by c,
 * goes. Where the nose is the blunter (c ≥ r) the shrunk end is square, and the tip touches at 0. Otherwise its corners
 * keep the radius r − c about the same centres, and the disc's centre stops at r − √((r − c)² − q²), q its distance
 * beyond the height of those centres.
 *
 * @param above mm; at most half of what the groove is wider, up or down: more is our bug and throws RangeError
 */
export function noseContact(groove: RoundedEnd, nose: RoundedEnd, above: number): number {
  const play = groove.height - nose.height;
  // Rounding may put a hung runner a hair beyond the wall.
  if (!(play >= 0) || Math.abs(above) > play / 2 + 1e-9) {
    throw new RangeError(
      `a runner ${nose.height} high, ${above} off the middle, isn't within a groove of ${groove.height}`,
    );
  }
  const r = groove.radius;
  const c = nose.radius;
  if (c >= r) return 0;
  const q = nose.height / 2 - c + Math.abs(above) - (groove.height / 2 - r);
  if (q <= 0) return 0;
  const reach = r - c;
  return reach - Math.sqrt(Math.max(0, reach ** 2 - q ** 2));
}

/**
 * The stop of a hung drawer: its groove's upper wall lies on the runner until the end's corner rides up the nose. Pushed
 * on, it lifts until both corners bear, the runner in the groove's middle.
 */
export function noseStop(groove: RoundedEnd, nose: RoundedEnd): NoseStop {
  const lift = (groove.height - nose.height) / 2;
  const home = noseContact(groove, nose, 0);
  const touch = noseContact(groove, nose, lift);
  return { home, touch, lift: touch > home ? lift : 0 };
}
