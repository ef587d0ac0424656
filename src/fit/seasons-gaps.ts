import type { Finding, Place } from "../finding.ts";
import type { WoodKind } from "../shop/wood.ts";
import { FIBRE_SATURATION } from "./moisture.ts";
import {
  coefficientOf,
  type GrainDirection,
  growthOf,
  growthPerPercentNow,
  type MovementForm,
  movementForm,
} from "./movement.ts";
import type { Season, Year } from "./seasons.ts";
import type { Today } from "./seasons-today.ts";
import { type GapLimits, type Sureness, surenessOf } from "./sureness.ts";
import { exactly, type Gap, gapValue, minus, plus, sized, times, worstCase } from "./sureness-gap.ts";
import { isMade, type Tolerance } from "./sureness-instruments.ts";

/** One size that bounds or fills a gap: how large it is today, of which wood, and which way the wood runs in it. */
export interface Extent {
  readonly name: string;
  /** Its size at today's moisture. mm. */
  readonly size: Gap;
  readonly wood: WoodKind;
  readonly direction: GrainDirection;
  readonly today: Today;
  /** Dry finish that narrows the gap on account of this size, all faces together, mm. Default: none. */
  readonly finish?: number;
}

/** A gap: what gives room, less what fills it. */
export interface GapSpec {
  readonly name: string;
  readonly room: readonly Extent[];
  readonly filled: readonly Extent[];
  /** Any room that no wood gives, such as a spacer; negative takes room. mm. */
  readonly extra?: Gap;
  /** Dry finish on the two faces of the gap together, mm. Default: none. */
  readonly finish?: number;
  /** The seasons are not the user's own: a gap that moves may then be cautioned, never refused. */
  readonly seasonsAssumed?: boolean;
  readonly limits: GapLimits;
  readonly place: Place;
}

/** A gap at one time. */
export interface GapAt extends Sureness {
  readonly when: string;
  /** Which formula its growth rests on; absent for today. */
  readonly form?: MovementForm;
}

/** A gap today and in every season. */
export interface SeasonalGap {
  readonly name: string;
  readonly limits: GapLimits;
  /** The gap as fitted, with nothing moved yet. */
  readonly now: GapAt;
  /** True: today's moisture is not known, and the page calls `now` a guess. */
  readonly guess: boolean;
  readonly seasons: readonly GapAt[];
  readonly tightest: GapAt;
  readonly widest: GapAt;
  readonly findings: readonly Finding[];
}

/**
 * A gap across the year. Every size grows from its own moisture today to the season's; finish is counted once it is on, so in
 * every season and not today. The moisture today is one of the named sizes of the gap ("moisture of …"), with the
 * tolerance of the way it was found. Worst cases are bounds; where two sizes share one moisture, what cancels does so to the
 * first order, which is 0.01 mm for sizes up to 300 mm.
 *
 * Refused: a gap that closes in a season. Cautioned: one that only the worst case brings there, one that rests on a
 * remembered coefficient, a guessed moisture or seasons that the job does not name, and one above its most.
 * @param instrument how each named size in the extents was found; moistures are known here
 */
export function gapsOver(spec: GapSpec, year: Year, instrument: (name: string) => Tolerance): SeasonalGap {
  const all = [...spec.room, ...spec.filled];
  const moistures = new Map(
    all.map((e): [string, Tolerance] => [
      moistureName(e, all),
      { plusMinus: e.today.plusMinus, unit: "%", instrument: e.today.by, from: e.today.how },
    ]),
  );
  const tolerance = (name: string): Tolerance => moistures.get(name) ?? instrument(name);
  const at = (season: Season | undefined): Sureness =>
    surenessOf(gapWith(spec, season, tolerance), tolerance, spec.limits);
  const moving = all.filter((e) => e.direction !== "along");
  const seasons = year.seasons.map((season): GapAt => {
    const forms = moving.map((e) => movementForm(e.today.moisture, season.moisture));
    const form = forms.find((f) => f === "outside 6 to 14 %") ?? "6 to 14 %";
    return { when: season.name, ...at(season), form };
  });
  const tightest = seasons.reduce((a, b) => (b.value < a.value ? b : a));
  const widest = seasons.reduce((a, b) => (b.value > a.value ? b : a));
  return {
    name: spec.name,
    limits: spec.limits,
    now: { when: "now", ...at(undefined) },
    guess: moving.some((e) => e.today.guess),
    seasons,
    tightest,
    widest,
    findings: gapFindings(spec, tightest, widest),
  };
}

/** The gap in a season, as a function of every named size and moisture. */
function gapWith(spec: GapSpec, season: Season | undefined, tolerance: (name: string) => Tolerance): Gap {
  const all = [...spec.room, ...spec.filled];
  const then = (e: Extent): Gap => (season ? sizeIn(e, moistureName(e, all), season, tolerance) : e.size);
  const finish = season
    ? [...spec.room, ...spec.filled].reduce((sum, e) => sum + (e.finish ?? 0), spec.finish ?? 0)
    : 0;
  return minus(plus(...spec.room.map(then), spec.extra ?? exactly(0)), plus(...spec.filled.map(then), exactly(finish)));
}

/** A size in a season: grown from today's moisture, and less sure by what is not known of that moisture. */
function sizeIn(e: Extent, moisture: string, season: Season, tolerance: (name: string) => Tolerance): Gap {
  if (e.direction === "along") return e.size;
  const today = e.today.moisture;
  const size = gapValue(e.size);
  const grown = times(growthOf(size, e.wood, e.direction, today, season.moisture).factor, e.size);
  const { least, most } = worstCase(e.size, (n) => tolerance(n).plusMinus);
  // The steepest chord over what the moisture may be, at the largest the size may be: no error together passes it.
  const slope = -steepest(e, season.moisture) * Math.max(Math.abs(least), Math.abs(most));
  return plus(grown, times(slope, minus(sized(moisture, today), exactly(today))));
}

/** The largest change of growth per 1 % of today's moisture, within what is not known of it. */
function steepest(e: Extent, to: number): number {
  const { moisture, plusMinus } = e.today;
  const share = (from: number): number => growthOf(1, e.wood, e.direction, from, to).change;
  const ends = [Math.max(0, moisture - plusMinus), Math.min(FIBRE_SATURATION, moisture + plusMinus)];
  const chords = ends.map((from) =>
    from === moisture ? 0 : Math.abs((share(from) - share(moisture)) / (from - moisture)),
  );
  return Math.max(...chords, -growthPerPercentNow(e.wood, e.direction, moisture, to));
}

/** One name a wood where all its boards were found alike, else one a board. */
function moistureName(e: Extent, all: readonly Extent[]): string {
  const alike = all.every(
    (o) =>
      o.wood.name !== e.wood.name || (o.today.moisture === e.today.moisture && o.today.plusMinus === e.today.plusMinus),
  );
  return alike ? `moisture of ${e.wood.name}` : `moisture of ${e.wood.name}, ${e.name}`;
}

/** What is wrong with a gap across the year. */
function gapFindings(spec: GapSpec, tightest: GapAt, widest: GapAt): readonly Finding[] {
  const { least, most, from } = spec.limits;
  const measured = (g: GapAt): { readonly value: number; readonly bound: number; readonly unit: string } => ({
    value: g.value,
    bound: Math.max(g.worst.most - g.value, g.value - g.worst.least),
    unit: "mm",
  });
  const { place } = spec;
  const unsure = unsureOf(spec);
  const out: Finding[] = [];
  if (tightest.value < 0) {
    out.push({
      grade: unsure === undefined ? "refuse" : "caution",
      code: "fit-gap-binds",
      place,
      what: `the ${spec.name} binds in "${tightest.when}"`,
      why: unsure?.why ?? "the wood grows by more than the room that is left for it",
      mend: `${unsure?.mend === undefined ? "" : `${unsure.mend}; if it binds still, `}leave ${tenth(least - tightest.value)} mm more, or fit it when the wood is wetter`,
      measured: measured(tightest),
      limit: { value: 0, unit: "mm", from: "wood against wood" },
    });
  } else if (tightest.value < least) {
    out.push({
      grade: "caution",
      code: "fit-gap-tight",
      place,
      what: `the ${spec.name} is tight in "${tightest.when}"`,
      why: "it may rub there",
      mend: `leave ${tenth(least - tightest.value)} mm more`,
      measured: measured(tightest),
      limit: { value: least, unit: "mm", from },
    });
  } else if (tightest.worst.least < 0) {
    out.push({
      grade: tightest.likely.least < 0 ? "caution" : "note",
      code: "fit-gap-may-bind",
      place,
      what: `the ${spec.name} may bind in "${tightest.when}", if measuring and making are off`,
      why: `${tightest.likely.least < 0 ? "errors that are likely" : "errors that all fall together"} take more than the room there is`,
      mend: againInWords(tightest),
      measured: measured(tightest),
      limit: { value: 0, unit: "mm", from: "wood against wood" },
    });
  }
  if (widest.value > most) {
    out.push({
      grade: "caution",
      code: "fit-gap-gapes",
      place,
      what: `the ${spec.name} gapes in "${widest.when}"`,
      why: "it will show, or rattle",
      mend: `leave ${tenth(widest.value - most)} mm less, if the wet season allows it`,
      measured: measured(widest),
      limit: { value: most, unit: "mm", from },
    });
  }
  return out;
}

/** What a gap rests on that nobody measured or looked up, in words; nothing where all was. */
function unsureOf(spec: GapSpec): { readonly why: string; readonly mend?: string } | undefined {
  const moving = [...spec.room, ...spec.filled].filter((e) => e.direction !== "along");
  if (moving.some((e) => e.today.guess)) {
    return {
      why: "reckoned from a moisture that is only guessed",
      mend: 'measure how moist the wood is and write it as "moisture today"',
    };
  }
  if (spec.seasonsAssumed === true && moving.length > 0) {
    return {
      why: "reckoned with seasons that the job doesn't name",
      mend: 'name your driest and wettest month under "seasons"',
    };
  }
  for (const e of moving) {
    const c = coefficientOf(e.wood, e.direction);
    if (c?.unsure) return { why: `reckoned with a number that nobody looked up: ${c.used.value} (${c.used.source})` };
  }
  return undefined;
}

function againInWords(gap: GapAt): string {
  const again = gap.measureAgain ?? gap.matters;
  if (again === undefined) return "leave a little more room";
  const takes = `it takes ${tenth(again.part)} mm of the room`;
  return isMade(again.tolerance)
    ? `make "${again.name}" more closely, or fit it to its place: ${takes}`
    : `measure "${again.name}" again, more finely: ${takes}`;
}

/** Rounded up to a tenth, so that what is advised is enough. */
function tenth(mm: number): string {
  return (Math.ceil(mm * 10 - 1e-9) / 10).toFixed(1);
}
