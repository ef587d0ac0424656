import type { Sized } from "./box.ts";
import type { RunnerFit } from "./fit-plan.ts";
import { measurementOf, openingSizes } from "./opening-sizes.ts";
import type { RunnerGroove } from "./runner-groove.ts";
import { type Extent, type GapSpec, gapsOver, type SeasonalGap } from "./seasons-gaps.ts";
import { directionIn, type FitGround, type Stuff } from "./stuff.ts";
import { exactly, type Gap, minus, plus, sized, times } from "./sureness-gap.ts";
import { type Tolerance, toleranceOf, trueSize } from "./sureness-instruments.ts";

/** The groove of a hung drawer, and where its runners are. */
export interface RunnerAt {
  readonly groove: RunnerGroove;
  readonly runner: Pick<RunnerFit, "between" | "reach" | "size">;
}

const PRACTICE = "common practice, no source";
/** Least room at a groove's floor, and least play of a runner, mm: common practice, no source. */
const LEAST_FREE = 0.1;
const LEAST_PLAY = 0.05;

/**
 * A hung box between its runners through the year: from each runner to the floor of its groove, where the side's and the
 * runner's thickness move, and the play of the runner across its groove.
 *
 * What lies between the runners counts as it was measured; until it is, it follows the opening's width.
 * @param boxWidth across the outer faces of the sides, with its own error
 */
export function runnerGaps(
  g: FitGround,
  s: Sized,
  { groove, runner }: RunnerAt,
  boxWidth: Gap,
  outside: (name: string) => Tolerance,
): readonly SeasonalGap[] {
  const o = s.opening;
  const { runners } = g.drawers;
  const place = { part: o.name, source: runners.source };
  const router = toleranceOf("router", g.measuring);
  const said = g.drawers.betweenRunners.find((b) => b.opening === o.name);
  const depth = `${o.name}, depth of the runner groove`;
  const width = `${o.name}, width of the runner groove`;
  const tall = `${o.name}, runner's height`;
  const tools = new Map<string, Tolerance>([
    [depth, router],
    [width, router],
    [tall, toleranceOf(runners.heightAsPlaned ? "calipers" : "by hand", g.measuring)],
  ]);
  const between =
    said &&
    measurementOf(
      `${o.name}, between the runners`,
      [
        ["at the mouth", said.mouth],
        ["at the back", said.back],
      ],
      said.with,
    );
  const reach = 2 * runner.reach;
  const room = between ? trueSize(between, "least") : trueSize(mouthAndBack(openingSizes(o).width), "least");
  if (room === undefined) throw new RangeError(`"${o.name}" has no width`);
  const tool = (name: string): Tolerance => {
    const known = tools.get(name);
    if (known) return known;
    return between !== undefined && name.startsWith(between.name)
      ? toleranceOf(between.with, g.measuring)
      : outside(name);
  };
  const moving = (name: string, stuff: Stuff, dimension: "width" | "thickness", size: Gap): Extent => ({
    name,
    size,
    wood: stuff.wood,
    direction: directionIn(stuff, dimension),
    today: stuff.today,
  });
  const { dry, wet } = g.case.seasons;
  const common = {
    finish: g.film,
    seasonsAssumed: dry.assumed !== undefined || wet.assumed !== undefined,
    place,
  };
  const side = g.side.thickness - g.drawers.cleanUp.value;
  const specs: readonly GapSpec[] = [
    {
      name: `gap between each runner and the floor of its groove in "${o.name}"`,
      room: [],
      // A side that swells may do so outwards, towards the runner.
      filled: [
        moving("runner", g.runner, "thickness", exactly(g.runner.thickness)),
        moving("side", g.side, "thickness", exactly(side)),
      ],
      extra: plus(
        sized(depth, groove.finishedDepth),
        times(0.5, minus(between ? room : minus(room, exactly(reach)), boxWidth)),
        exactly(g.runner.thickness + side),
      ),
      limits: { least: LEAST_FREE, most: Number.POSITIVE_INFINITY, from: PRACTICE },
      ...common,
    },
    {
      name: `play of each runner in its groove in "${o.name}"`,
      room: [moving("groove", g.side, "width", sized(width, groove.width))],
      filled: [moving("runner", g.runner, "width", sized(tall, runner.size.width))],
      // How much is too much is told with the groove.
      limits: { least: LEAST_PLAY, most: Number.POSITIVE_INFINITY, from: PRACTICE },
      ...common,
    },
  ];
  const [floor, play] = specs.map((spec) => gapsOver(spec, g.year, tool));
  // Alike for all drawers of a group: what is wrong with the play is told once, with the groove.
  return floor && play ? [floor, { ...play, findings: [] }] : [];
}

/** The readings at which runners end. */
function mouthAndBack(width: ReturnType<typeof openingSizes>["width"]): typeof width {
  const readings = width.readings.filter((r) => r.place !== "in the middle");
  return { ...width, readings };
}
