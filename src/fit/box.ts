import type { Finding } from "../finding.ts";
import type { OpeningDescription } from "../job/drawers.ts";
import type { BoxFit, Mouth, Quad } from "./fit-plan.ts";
import { type BackPlace, type FrontPlace, placeBack, placeFront } from "./joints.ts";
import { saidOf } from "./opening.ts";
import { insetQuad, lowestTop, uprightWithin } from "./quad.ts";
import { fitFinding, mmText } from "./said.ts";
import { saidPart } from "./said-at.ts";
import {
  caseDepthChange,
  changeIn,
  clean,
  directionIn,
  downTo,
  type FitGround,
  growth,
  nearTo,
  type Stuff,
  shrinkage,
  upTo,
} from "./stuff.ts";

/** An opening with its mouth. */
export interface Open {
  readonly opening: OpeningDescription;
  readonly mouth: Mouth;
}

/** How a drawer is sized, before its parts. */
export interface Sized {
  readonly opening: OpeningDescription;
  readonly mouth: Mouth;
  readonly box: BoxFit;
  /** What goes into the opening, when it fits. */
  readonly shape: Quad;
  /** Of the front, and above and below the sides; as fitted today. */
  readonly reveal: { readonly below: number; readonly above: number; readonly beside: number };
  readonly front: FrontPlace;
  readonly back: BackPlace;
  /** Length of the sides before clean-up. */
  readonly sideLength: number;
  /** Lower edge of the sides to the wall that carries; 0 where they slide on runners below. */
  readonly bearingAt: number;
}

/** Drawers whose sides are alike: sized together, as the least of them asks. */
export interface SizedGroup {
  /** What their parts are called after: "drawer", "row 2", or the opening's name. */
  readonly label: string;
  readonly drawers: readonly Sized[];
}

/** Sizes are given to the tenth, lengths of sides to the half millimetre. */
const TENTH = 0.1;
const HALF = 0.5;

/**
 * Sizes the boxes and fronts of a group of drawers.
 *
 * Upright: the drawer hangs on its bearing wall, so what lies above grows up and what lies below grows down. The reveal is
 * what stays on both sides in the wet month; the growth is added to it where it happens. Across: the box has the
 * clearance on each side, and the growth of a side's thickness, beside the narrowest width; and it is never wider
 * than the front, so that nothing stands out behind it.
 */
export function sizeGroup(
  g: FitGround,
  label: string,
  open: readonly Open[],
): { readonly group?: SizedGroup; readonly findings: readonly Finding[] } {
  const { drawers: d } = g;
  const hung = d.runners.kind.value === "side-hung";
  const rate = Math.max(rateOf(g, g.front), rateOf(g, g.side));
  const least = open.map(({ opening, mouth }) => leastHeight(opening) - mouth.sag);
  const reveal = d.reveal.value + g.film;
  const runner = (d.runners.heightAsPlaned ?? d.runners.height).value;
  const likely = (Math.min(...least) - 2 * reveal) / (1 + rate);
  const bearingAt = hung ? (d.runners.bearingAt?.value ?? nearTo(HALF, (likely + runner) / 2)) : 0;
  // To the twentieth, since runners are set to it on a spacer.
  const below = upTo(0.05, reveal + rate * bearingAt);
  const bottom = hung ? below : 0;
  const side = saidPart(`${label} side`, d, "sides");
  const front = placeFront(
    d.frontJoint,
    g.front.thickness,
    d.fronts.lip?.thickness.value,
    saidPart(`${label} front`, d, "fronts"),
  );
  const back = placeBack(d.backJoint, g.back.thickness, g.side.thickness, side);
  const grows = growth(changeIn(g.side, "thickness", g.side.thickness, g.year));
  const clearance = d.sideClearance.value + grows + g.film;
  const findings: Finding[] = [...front.findings, ...back.findings];
  const first = open.map(({ opening, mouth }, i) => {
    const above = (reveal + rate * (least[i]! - below - bearingAt)) / (1 + rate);
    const shape = shapeOf(g, mouth, { below, above: above + mouth.sag, beside: reveal });
    const upright = uprightWithin(shape, bottom, least[i]! - above);
    const width = downTo(
      TENTH,
      Math.min(mouth.narrowest.width - mouth.lean - 2 * clearance, upright.right - upright.left),
    );
    const left = (upright.left + upright.right - width) / 2;
    const top = lowestTop(shape, left, left + width);
    // What is measured at the back bounds the sides there as the mouth does here.
    const atBack = opening.height.back === undefined ? top : opening.height.back.value - above;
    const depth = mouth.depth - d.backClearance.value - shrinkage(caseDepthChange(g, mouth.depth));
    return { opening, mouth, above, shape, width, left, height: downTo(TENTH, Math.min(top, atBack) - bottom), depth };
  });
  const height = Math.min(...first.map((f) => f.height));
  // The half-blind back reaches farther than the sides, the through joint's sides farther than the back.
  const beyond = back.place.proud - Math.max(0, -back.place.outer);
  const sideLength = downTo(HALF, Math.min(...first.map((f) => f.depth)) + beyond - front.place.sideEnd);
  for (const f of first) {
    const long = f.depth + beyond - front.place.sideEnd;
    const narrow = f.width < 3 * g.side.thickness;
    if (!narrow && f.height > runner + 2 * g.side.thickness && long > 4 * g.side.thickness) continue;
    findings.push(
      fitFinding(saidOf(f.opening), "refuse", "fit-no-room", {
        what: "this opening is too small for such a drawer",
        why: `the box would be ${mmText(f.width)} wide, ${mmText(f.height)} high, its sides ${mmText(long)} long and ${mmText(g.side.thickness)} thick`,
        mend: "check the opening's sizes, or take thinner sides and lower runners",
        keys: [narrow ? "width" : "height"],
      }),
    );
  }
  if (findings.some((f) => f.grade === "refuse")) return { findings };
  const group: SizedGroup = {
    label,
    drawers: first.map(
      (f): Sized => ({
        opening: f.opening,
        mouth: f.mouth,
        box: {
          width: f.width,
          height,
          depth: clean(front.place.sideEnd + sideLength - beyond),
          left: clean(f.left),
          bottom: clean(bottom),
        },
        shape: f.shape,
        reveal: { below, above: f.above, beside: reveal },
        front: front.place,
        back: back.place,
        sideLength,
        bearingAt,
      }),
    ),
  };
  return { group, findings };
}

/** By how much a board's width grows until the wettest season, a millimetre of it. */
function rateOf(g: FitGround, stuff: Stuff): number {
  return directionIn(stuff, "width") === "along" ? 0 : growth(changeIn(stuff, "width", 1, g.year));
}

/** The least height of an opening's mouth at its sides. */
function leastHeight(o: OpeningDescription): number {
  return Math.min(o.height.left.value, o.height.right.value);
}

/** What of the front goes into the opening: the opening's own shape for an inset front; an upright rectangle behind a lip. */
function shapeOf(g: FitGround, mouth: Mouth, gaps: { below: number; above: number; beside: number }): Quad {
  const inner = insetQuad(mouth.corners, {
    bottom: gaps.below,
    top: gaps.above,
    left: gaps.beside,
    right: gaps.beside,
  });
  if (g.drawers.fronts.set.value === "inset") return inner;
  const low = Math.max(inner[0].y, inner[1].y);
  const high = Math.min(inner[2].y, inner[3].y);
  const { left, right } = uprightWithin(inner, low, high);
  return [
    { x: left, y: low },
    { x: right, y: low },
    { x: right, y: high },
    { x: left, y: high },
  ];
}
