import type { Finding, Place } from "../finding.ts";
import { type Climate, EMC_SOURCE, equilibriumMoisture, withinEmcRange } from "./moisture.ts";
import { COEFFICIENT_RANGE } from "./movement.ts";

/** A time of the year where the piece will stand, as the user names it. */
export interface Season {
  readonly name: string;
  readonly climate: Climate;
  /** Moisture the wood comes to if the season lasts, %. */
  readonly moisture: number;
}

/** The seasons a piece lives through: two or more. */
export interface Year {
  readonly seasons: readonly Season[];
  readonly wettest: Season;
  readonly driest: Season;
  readonly from: "job file" | "built-in default";
}

/**
 * Seasons where the job names none: a heated room in a cold dry winter, and a damp summer. Common practice, no source;
 * every page says that they are not the user's own.
 */
export const DEFAULT_SEASONS: Readonly<Record<string, Climate>> = {
  wet: { celsius: 24, humidity: 70 },
  dry: { celsius: 20, humidity: 30 },
};

/**
 * The year from named climates, in the order given; from the defaults when there are none.
 * Refused: air that the moisture equation cannot take, fewer than two seasons. Cautioned: air
 * outside the published table. Noted: moisture outside the coefficients' range, where the handbook's other formula is used.
 */
export function yearOf(
  climates: Readonly<Record<string, Climate>> | undefined,
  place: (season: string) => Place = () => ({}),
): { readonly year?: Year; readonly findings: readonly Finding[] } {
  const named = Object.entries(climates ?? DEFAULT_SEASONS);
  const findings = named.flatMap(([name, climate]) => climateFindings(name, climate, place(name)));
  if (findings.some((f) => f.grade === "refuse")) return { findings };
  const seasons = named.map(([name, climate]): Season => ({ name, climate, moisture: equilibriumMoisture(climate) }));
  const [first, ...rest] = seasons;
  if (first === undefined || rest.length === 0) {
    return {
      findings: [
        ...findings,
        {
          grade: "refuse",
          code: "fit-seasons-few",
          place: place(first?.name ?? ""),
          what: "one season alone shows no movement",
          mend: "name a wet season and a dry one, each with temperature and humidity; or leave the seasons out",
        },
      ],
    };
  }
  const wettest = rest.reduce((a, b) => (b.moisture > a.moisture ? b : a), first);
  const driest = rest.reduce((a, b) => (b.moisture < a.moisture ? b : a), first);
  return {
    year: { seasons, wettest, driest, from: climates ? "job file" : "built-in default" },
    findings: [...findings, ...seasons.flatMap((s) => rangeNote(s, place(s.name)))],
  };
}

/** What is wrong with a climate. Empty: it can be used. */
export function climateFindings(name: string, climate: Climate, place: Place): readonly Finding[] {
  const { celsius, humidity } = climate;
  if (!(humidity > 0 && humidity < 100)) {
    return [
      {
        grade: "refuse",
        code: "fit-climate-impossible",
        place,
        what: `the air of "${name}" cannot be ${humidity} % humid`,
        why: "a relative humidity lies above 0 and below 100 %",
        mend: "write the humidity in per cent, such as 65 %",
      },
    ];
  }
  if (!(celsius >= -40 && celsius <= 60)) {
    return [
      {
        grade: "refuse",
        code: "fit-climate-impossible",
        place,
        what: `nobody keeps a cabinet at ${shown(celsius)} °C`,
        why: `the temperature of "${name}"`,
        mend: "check the number and its unit: 70 °F is 21 °C",
      },
    ];
  }
  if (withinEmcRange(climate)) return [];
  return [
    {
      grade: "caution",
      code: "fit-climate-off-table",
      place,
      what: `the air of "${name}" lies outside the published table`,
      why: `${shown(celsius)} °C and ${shown(humidity)} %; held against the table from −1 to 54 °C and from 5 to 90 %`,
      mend: "check the numbers; the wood's moisture there is less sure",
      measured: { value: equilibriumMoisture(climate), bound: 0, unit: "% moisture" },
    },
  ];
}

function rangeNote(season: Season, place: Place): readonly Finding[] {
  const { least, most } = COEFFICIENT_RANGE;
  if (season.moisture >= least && season.moisture <= most) return [];
  return [
    {
      grade: "caution",
      code: "fit-moisture-off-range",
      place,
      what: `wood comes to ${shown(season.moisture)} % in "${season.name}", outside the range of the coefficients`,
      why: `they hold from ${least} to ${most} %; the handbook's formula over shrinkage is used instead`,
      mend: "check the season's air; if it is right, trust the gaps a little less",
      measured: { value: season.moisture, bound: 0, unit: "%" },
      limit: {
        value: season.moisture < least ? least : most,
        unit: "%",
        from: "Wood Handbook FPL-GTR-190, Table 13-5",
      },
    },
  ];
}

/** A season in words: air, and what the wood comes to. */
export function seasonInWords(season: Season): string {
  const { celsius, humidity } = season.climate;
  return `${season.name}: ${shown(celsius)} °C and ${shown(humidity)} %, wood at ${season.moisture.toFixed(1)} % (${EMC_SOURCE})`;
}

function shown(n: number): string {
  return String(Number(n.toFixed(1)));
}
