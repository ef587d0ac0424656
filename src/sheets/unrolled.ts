import { tidy } from "../finding.ts";
import { placesOf } from "../plan/beam-focus.ts";
import type { BeamSetUp } from "../plan/beam-setup.ts";
import { turnFor } from "../shop/rotary.ts";
import { onSheet, type Sheet } from "./path-data.ts";
import { element, text } from "./svg.ts";

const INK = "#1d1a16";
/** How far beyond the blank what holds it is drawn, mm. */
const BEYOND = 8;

/**
 * A set-up as it is drawn: wood that a rotary axis turns lies unrolled, what holds it as bands all around it; and as wide as
 * its marks ask, which may reach past the line opposite the crown.
 */
export function flatSetUp(setUp: BeamSetUp): BeamSetUp {
  if (setUp.turning === undefined) return setUp;
  const { keepOuts } = setUp;
  const heights = setUp.marks.flatMap(({ aim }) => placesOf(aim).map((p) => p.y));
  const low = heights.reduce((a, b) => Math.min(a, b - BEYOND), setUp.blank.min.y);
  const high = heights.reduce((a, b) => Math.max(a, b + BEYOND), setUp.blank.max.y);
  const blank = { min: { ...setUp.blank.min, y: low }, max: { ...setUp.blank.max, y: high } };
  return {
    ...setUp,
    blank,
    keepOuts: keepOuts.map(({ name, box }) => ({
      name,
      box: {
        min: { ...box.min, x: Math.max(box.min.x, blank.min.x - BEYOND), y: blank.min.y },
        max: { ...box.max, x: Math.min(box.max.x, blank.max.x + BEYOND), y: blank.max.y },
      },
    })),
  };
}

/** Lines along the wood at each quarter turn, with the part's own degrees and where A then stands. */
export function aroundScale(sheet: Sheet, setUp: BeamSetUp): string[] {
  const { turning, blank } = setUp;
  if (turning === undefined) return [];
  const quarters = [-4, -3, -2, -1, 0, 1, 2, 3, 4].map((n) => 90 * n);
  const drawn = quarters.filter((deg) => {
    const around = (deg * Math.PI * turning.radius) / 180;
    return around >= blank.min.y - 1e-6 && around <= blank.max.y + 1e-6;
  });
  return drawn.flatMap((deg) => {
    const around = (deg * Math.PI * turning.radius) / 180;
    const a = onSheet(sheet, { x: blank.min.x, y: around });
    const b = onSheet(sheet, { x: blank.max.x, y: around });
    const angle = Math.round(turnFor(turning, around));
    const words = `${deg === 0 ? "crown, " : ""}${(deg + 360) % 360}°: A ${tidy(angle)}`;
    return [
      element("line", {
        x1: a.x,
        y1: a.y,
        x2: b.x,
        y2: b.y,
        stroke: INK,
        "stroke-width": 0.15,
        "stroke-dasharray": "6 1.2 1 1.2",
      }),
      text(b.x + BEYOND + 1.5, b.y + 1, words, { "font-size": 2.6 }),
    ];
  });
}

/** What the unrolled drawing means. */
export function turnedLegend({ axis, radius }: NonNullable<BeamSetUp["turning"]>): string {
  return `unrolled, true to size on the radius of ${tidy(Math.round(radius * 1000) / 1000)} mm beneath the marks: across the page is along the axis, up the page is around the wood, over the upper edge. The part says "index: rotary axis". A 0: the crown up; A growing takes the crown to the ${axis.crownGoes}. Chuck and centre are drawn all around. The wood must not slip in the chuck: mark it across the jaws.`;
}

/** What grows up the page. */
export function upAxis({ turning }: BeamSetUp): "Y" | "A" | "−A" {
  if (turning === undefined) return "Y";
  return turning.axis.crownGoes === "front" ? "A" : "−A";
}
