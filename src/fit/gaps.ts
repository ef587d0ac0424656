import type { Given } from "../job/drawers.ts";
import type { Sized } from "./box.ts";
import type { FrontFit } from "./fit-plan.ts";
import { saidOf } from "./opening.ts";
import { type Extent, type GapSpec, gapsOver, type SeasonalGap } from "./seasons-gaps.ts";
import { directionIn, type FitGround, type Stuff } from "./stuff.ts";
import type { GapLimits } from "./sureness.ts";
import { exactly, type Gap, leastOf, minus, sized, times } from "./sureness-gap.ts";
import { toleranceOf } from "./sureness-instruments.ts";

/** A gap never asks for less than this to slide, mm: common practice, no source. */
const LEAST = 0.1;
/** Beyond this a front's gap gapes, and a drawer rattles, mm: common practice, no source. */
const GAPES = 3;
const PRACTICE = "common practice, no source";

/** All gaps of a drawer through the year, each with the measured sizes it hangs on. */
export function gapsOf(g: FitGround, s: Sized, front: FrontFit): readonly SeasonalGap[] {
  const said = saidOf(s.opening);
  const place = { part: s.opening.name, source: said.sources?.height ?? said.source };
  const across = { part: s.opening.name, source: said.sources?.width ?? said.source };
  const deep = { part: s.opening.name, source: said.sources?.depth ?? said.source };
  const o = s.opening;
  const name = (size: string): string => `${o.name}, ${size}`;
  const read = (size: string, given: Given): Gap => sized(name(size), given.value);
  const { width, height } = o;
  const widths = leastOf([
    read("width at the mouth", width.mouth),
    ...(width.middle ? [read("width in the middle", width.middle)] : []),
    ...(width.back ? [read("width at the back", width.back)] : []),
  ]);
  const heights = leastOf([read("height at the left", height.left), read("height at the right", height.right)]);
  const limits: GapLimits = { least: LEAST, most: GAPES, from: PRACTICE };
  const moving = (what: string, stuff: Stuff, dimension: "width" | "thickness", size: number): Extent => ({
    name: what,
    size: exactly(size),
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
    filled: [moving(what, stuff, "width", to - from)],
    extra: minus(heights, exactly(s.mouth.sag + from + g.film)),
    limits,
    place,
  });
  const under = (what: string, stuff: Stuff, lowest: number): GapSpec => ({
    name: `gap below the ${what} of "${o.name}"`,
    room: [],
    filled: [moving(what, stuff, "width", bearing - lowest)],
    extra: exactly(bearing - g.film),
    limits,
    place,
  });
  const half = (size: Gap): Gap => times(0.5, size);
  const hung = g.drawers.runners.kind.value === "side-hung";
  const finished = g.side.thickness - g.drawers.cleanUp.value;
  const specs: readonly GapSpec[] = [
    upright("front", g.front, hung ? bearing : bottom, top),
    ...(hung ? [under("front", g.front, bottom)] : []),
    upright("sides", g.side, bearing, sideTop),
    ...(hung ? [under("sides", g.side, s.box.bottom)] : []),
    {
      name: `gap on each side of the box of "${o.name}"`,
      room: [],
      filled: [moving("side", g.side, "thickness", finished)],
      extra: minus(half(widths), exactly(s.mouth.lean / 2 + s.box.width / 2 - finished + g.film)),
      limits,
      place: across,
    },
    {
      name: `gap behind the drawer of "${o.name}"`,
      room: [
        {
          name: "case",
          size: read("depth", o.depth),
          wood: g.caseSide.wood,
          direction: directionIn(g.caseSide, g.case.sideGrain.value === "upright" ? "width" : "length"),
          today: g.caseSide.today,
        },
      ],
      filled: [],
      extra: exactly(-s.box.depth),
      limits: { least: LEAST, most: Number.POSITIVE_INFINITY, from: PRACTICE },
      place: deep,
    },
  ];
  const instrument = (): ReturnType<typeof toleranceOf> => toleranceOf(o.with, g.measuring);
  return specs.map((spec) => gapsOver(spec, g.year, instrument));
}
