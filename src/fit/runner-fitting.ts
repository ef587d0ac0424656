import type { Finding } from "../finding.ts";
import type { Screw } from "../job/screws.ts";
import type { DrawerFit } from "./fit-plan.ts";
import { onBothRules } from "./nearest-64th.ts";
import { type Hung, hungPlace, TO_PARE } from "./runner-place.ts";
import type { Said } from "./said.ts";
import { type Driver, driverFit } from "./screw-driver.ts";
import type { RunnerScrews } from "./screw-holes.ts";
import { type Spacer, spacerOf, spacersNeeded } from "./spacer.ts";
import type { Change } from "./through-year.ts";

/** Hung drawers whose runners are to be fitted into the case. mm */
export interface RunnerFittingAsk {
  /** `part` is what the spacers are called. */
  readonly said: Said;
  /** Of the spacers. */
  readonly wood: string;
  readonly drawers: readonly { readonly fit: DrawerFit; readonly sideHeightChange: Change }[];
  readonly runnerHeightChange: Change;
  readonly screw: Screw;
  readonly screws: RunnerScrews;
  readonly screwLength: number;
  readonly drivers: readonly Driver[];
}

/** How the runners go into the case. */
export interface RunnerFitting {
  /** One for each height, as ordinary parts. */
  readonly spacers: readonly Spacer[];
  readonly places: readonly { readonly opening: string; readonly hung: Hung }[];
  /** No driver fits into some opening: the runners go on before the case is glued up. */
  readonly beforeGlueUp: boolean;
  /** Sentences for the page, in the order of work. */
  readonly words: readonly string[];
  readonly findings: readonly Finding[];
}

/** Gathers what is needed at the bench to fit side-hung runners: spacers, setbacks, pilot holes, the driver. */
export function runnerFitting(ask: RunnerFittingAsk): RunnerFitting {
  const { screws } = ask;
  const last = screws.holes.at(-1)?.at ?? 0;
  const each = ask.drawers.map(({ fit, sideHeightChange }) => {
    const said = { ...ask.said, part: fit.runner.part };
    const { height } = fit.opening;
    const hung = hungPlace({
      said,
      opening: Math.min(height.left.value, height.right.value),
      gapBelow: fit.box.bottom,
      sideHeight: fit.box.height,
      sideHeightChange,
      bearingAt: fit.runner.bearing - fit.box.bottom,
      runnerHeight: fit.runner.size.width,
      runnerHeightChange: ask.runnerHeightChange,
    });
    const driver = driverFit({
      said,
      width: fit.mouth.narrowest.width,
      height: Math.min(height.left.value, height.right.value),
      reach: fit.runner.reach,
      deepest: fit.runner.setback + last,
      screwLength: ask.screwLength,
      drivers: ask.drivers,
    });
    return { fit, hung, driver };
  });
  const groups = spacersNeeded(
    each.filter((e) => e.hung.spacer > 0).map((e) => ({ opening: e.fit.name, spacer: e.hung.spacer })),
  );
  const spacers = groups.map((group, i) =>
    spacerOf({
      said: groups.length === 1 ? ask.said : { ...ask.said, part: `${ask.said.part} ${i + 1}` },
      wood: ask.wood,
      height: Number(group.height.toFixed(2)),
      depth: Math.min(...each.filter((e) => group.openings.includes(e.fit.name)).map((e) => e.fit.mouth.depth)),
      openings: group.openings,
    }),
  );
  const beforeGlueUp = each.some((e) => e.driver.driver === undefined);
  return {
    spacers,
    places: each.map((e) => ({ opening: e.fit.name, hung: e.hung })),
    beforeGlueUp,
    words: [
      ...(beforeGlueUp ? ["fit the runners before the case is glued up: no driver gets into it afterwards"] : []),
      ...spacers.map((s) => s.words),
      ...setbackWords(each.map((e) => e.fit)),
      screwWords(ask),
    ],
    // How wide gaps are is told with the gaps of the drawer.
    findings: each.flatMap((e) => [
      ...e.hung.findings.filter((f) => f.code !== "fit-side-gapes"),
      ...e.driver.findings,
    ]),
  };
}

/** Openings that share a setback are told together. */
function setbackWords(fits: readonly DrawerFit[]): readonly string[] {
  const groups = new Map<string, string[]>();
  for (const f of fits) {
    const at = onBothRules(f.runner.setback);
    groups.set(at, [...(groups.get(at) ?? []), f.name]);
  }
  return [...groups].map(
    ([at, names]) =>
      `${names.join(", ")}: the nose stands ${at} behind the case's front edge; the front then stands ${onBothRules(TO_PARE)} proud, until the nose is pared`,
  );
}

function screwWords({ screw, screws }: RunnerFittingAsk): string {
  const { hard, soft } = screws.pilot;
  return `pilot holes for the ${screw.name} screws: ${onBothRules(hard.diameter)} in hard wood, ${onBothRules(soft.diameter)} in soft, by ${hard.source}; no deeper than ${onBothRules(screws.bites)} into the case side: put tape on the drill`;
}
