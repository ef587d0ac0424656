import type { Sized } from "./box.ts";
import type { FrontFit } from "./fit-plan.ts";
import { saidOf } from "./opening.ts";
import { openingSizes } from "./opening-sizes.ts";
import { type RunnerAt, runnerGaps } from "./runner-gaps.ts";
import { type Extent, type GapSpec, gapsOver, type SeasonalGap } from "./seasons-gaps.ts";
import { directionIn, type FitGround, type Stuff } from "./stuff.ts";
import type { GapLimits } from "./sureness.ts";
import { exactly, type Gap, minus, sized, times } from "./sureness-gap.ts";
import { type Tolerance, toleranceOf, trueSize } from "./sureness-instruments.ts";

/** A gap never asks for less than this to slide, mm: common practice, no source. */
const LEAST = 0.1;
/** Beyond this a front's gap gapes, and a drawer rattles, mm: common practice, no source. */
const GAPES = 3;
const PRACTICE = "common practice, no source";

/**
 * All gaps of a drawer through the year, each with the sizes it hangs on: the opening's as measured, the drawer's as they
 * are made. A front is planed to its opening and a box cleaned up with a plane, so each gap counts one size made by hand.
 * @param hung the runners that it hangs on; absent where it slides on runners below
 */
export function gapsOf(g: FitGround, s: Sized, front: FrontFit, hung: RunnerAt | undefined): readonly SeasonalGap[] {
  const said = saidOf(s.opening);
  const place = { part: s.opening.name, source: said.sources?.height ?? said.source };
  const across = { part: s.opening.name, source: said.sources?.width ?? said.source };
  const deep = { part: s.opening.name, source: said.sources?.depth ?? said.source };
  const o = s.opening;
  const sizes = openingSizes(o);
  const widths = measured(sizes.width);
  const heights = measured(sizes.height);
  const tolerances = new Map<string, Tolerance>();
  const byHand = toleranceOf("by hand", g.measuring);
  const made = (what: string, size: number): Gap => {
    const name = `${o.name}, ${what}`;
    tolerances.set(name, byHand);
    return sized(name, size);
  };
  const limits: GapLimits = { least: LEAST, most: GAPES, from: PRACTICE };
  const common = { limits, finish: g.film, seasonsAssumed: seasonsAssumed(g) };
  const moving = (what: string, stuff: Stuff, dimension: "width" | "thickness", size: Gap): Extent => ({
    name: what,
    size,
    wood: stuff.wood,
    direction: directionIn(stuff, dimension),
    today: stuff.today,
  });
  const bearing = s.box.bottom + s.bearingAt;
  const top = Math.min(front.shape[2].y, front.shape[3].y);
  const bottom = Math.max(front.shape[0].y, front.shape[1].y);
  const sideTop = s.box.bottom + s.box.height;
  // What doesn't move is reckoned once; only moving wood is followed through the year.
  const upright = (what: string, stuff: Stuff, from: number, to: number): GapSpec => ({
    name: `gap above the ${what} of "${o.name}"`,
    room: [],
    filled: [moving(what, stuff, "width", made(`${what} above its foot, as planed`, to - from))],
    extra: minus(heights, exactly(s.mouth.sag + from)),
    ...common,
    place,
  });
  const under = (what: string, stuff: Stuff, lowest: number): GapSpec => ({
    name: `gap below the ${what} of "${o.name}"`,
    room: [],
    filled: [moving(what, stuff, "width", made(`${what} below the runner, as planed`, bearing - lowest))],
    extra: exactly(bearing),
    ...common,
    place,
  });
  const half = (size: Gap): Gap => times(0.5, size);
  const finished = g.side.thickness - g.drawers.cleanUp.value;
  const boxWidth = made("width of the box, as cleaned up", s.box.width);
  // Along the grain neither front nor case moves in width: what the front's ends have, they keep.
  const frontWidth = made("width of the front, as planed", s.mouth.corners[1].x - 2 * s.reveal.beside);
  const specs: readonly GapSpec[] = [
    upright("front", g.front, hung ? bearing : bottom, top),
    ...(hung ? [under("front", g.front, bottom)] : []),
    {
      name: `gap at each end of the front of "${o.name}"`,
      room: [],
      filled: [],
      extra: half(minus(minus(measured(sizes.mouth), exactly(o.width.mouth.value - s.mouth.corners[1].x)), frontWidth)),
      ...common,
      place: across,
    },
    upright("sides", g.side, bearing, sideTop),
    ...(hung ? [under("sides", g.side, s.box.bottom)] : []),
    {
      name: `gap on each side of the box of "${o.name}"`,
      room: [],
      filled: [moving("side", g.side, "thickness", exactly(finished))],
      extra: minus(half(widths), minus(half(boxWidth), exactly(finished - s.mouth.lean / 2))),
      ...common,
      place: across,
    },
    {
      name: `gap behind the drawer of "${o.name}"`,
      room: [
        {
          name: "case",
          size: measured(sizes.depth),
          wood: g.caseSide.wood,
          direction: directionIn(g.caseSide, g.case.sideGrain.value === "upright" ? "width" : "length"),
          today: g.caseSide.today,
        },
      ],
      filled: [],
      extra: times(-1, made("depth of the drawer, as made", s.box.depth)),
      ...common,
      limits: { least: LEAST, most: Number.POSITIVE_INFINITY, from: PRACTICE },
      place: deep,
    },
  ];
  const reading = toleranceOf(o.with, g.measuring);
  const instrument = (name: string): Tolerance => tolerances.get(name) ?? reading;
  return [
    ...specs.map((spec) => gapsOver(spec, g.year, instrument)),
    ...(hung ? runnerGaps(g, s, hung, boxWidth, instrument) : []),
  ];
}

/** The job doesn't name both seasons, so the year is not the user's own. */
export function seasonsAssumed(g: FitGround): boolean {
  const { dry, wet } = g.case.seasons;
  return dry.assumed !== undefined || wet.assumed !== undefined;
}

/** The least of what was measured. */
function measured(size: Parameters<typeof trueSize>[0]): Gap {
  const gap = trueSize(size, "least");
  if (gap === undefined) throw new RangeError(`"${size.name}" has no reading`);
  return gap;
}
