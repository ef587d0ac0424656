import type { Finding } from "../finding.ts";
import type { Mark } from "../parts/marks/mark.ts";
import { mapRegion, mapSegment, type PlanMap } from "../shapes/plan-map.ts";
import type { Region } from "../shapes/region.ts";
import type { Segment } from "../shapes/segment.ts";
import type { TurnedSolid } from "../shapes/turned-solid.ts";
import type { BurnSetting } from "../shop/laser.ts";
import type { Shop } from "../shop/shop.ts";
import type { WoodKind } from "../shop/wood.ts";
import { type AreaDrawing, areaWay, leastAlong, runUpFor } from "./beam-area.ts";
import { type BeamMachine, settingFor } from "./beam-choice.ts";
import { focusFor, surfaceUnder } from "./beam-focus.ts";
import { kerfPath } from "./beam-kerf.ts";
import { dotsOf } from "./beam-picture.ts";
import type { BeamAim, BeamOperation, PlacedMark } from "./beam-setup.ts";

/** What a mark is placed on. */
export interface UnderBeam {
  readonly wood: WoodKind;
  readonly shop: Shop;
  readonly machine: BeamMachine;
  /** Plan coordinates of the mark's face → set-up coordinates. */
  readonly map: PlanMap;
  /** Height of the face that is up. */
  readonly top: number;
  readonly round?: TurnedSolid;
}

/** A mark, or the lines or the areas of one, with how it is burned. */
export interface Burned {
  readonly placed: PlacedMark;
  readonly operation: BeamOperation;
}

/** Places a mark and says how it is burned. */
export function burnMark(
  mark: Mark,
  under: UnderBeam,
): { readonly burned: readonly Burned[]; readonly findings: readonly Finding[] } {
  const findings: Finding[] = [];
  const burned: Burned[] = [];
  for (const drawing of drawingsOf(mark, under.map)) {
    const setting = settingFor(drawing.burn, mark, under.wood, under.shop);
    if ("grade" in setting) {
      findings.push(setting);
      continue;
    }
    const result = burn(mark, drawing, setting, under);
    findings.push(...result.findings);
    if (result.burned) burned.push(result.burned);
  }
  return { burned, findings };
}

/** What is to be burned in one way, in set-up coordinates. */
type Drawing =
  | { readonly burn: "line"; readonly chains: readonly (readonly Segment[])[] }
  | ({ readonly burn: "area" } & AreaDrawing)
  | { readonly burn: "through"; readonly outline: Region; readonly keep: "inside" | "outside" }
  | { readonly burn: "through"; readonly chains: readonly (readonly Segment[])[] }
  | { readonly burn: "picture"; readonly ink: Extract<Mark["ink"], { kind: "picture" }> };

function drawingsOf(mark: Mark, map: PlanMap): readonly Drawing[] {
  const { ink, made } = mark;
  if (ink.kind === "picture") return [{ burn: "picture", ink }];
  const chains = "chains" in ink ? ink.chains.map((c) => c.map((s) => mapSegment(map, s))) : [];
  const region = "region" in ink ? mapRegion(map, ink.region) : undefined;
  switch (made.by) {
    case "burned line":
      return [{ burn: "line", chains: [...chains, ...(region?.loops ?? [])] }];
    case "burned area":
    case "burned picture": {
      const turn = (Math.atan2(map.yx, map.xx) * 180) / Math.PI;
      const area = made.by === "burned area" ? made : { angleDeg: 0, ways: "two" as const, contour: true };
      return [
        ...(region === undefined
          ? []
          : [
              { burn: "area" as const, region, angleDeg: area.angleDeg + turn, ways: area.ways, contour: area.contour },
            ]),
        ...(chains.length > 0 ? [{ burn: "line" as const, chains }] : []),
      ];
    }
    case "burned through":
      return [
        ...(chains.length > 0 ? [{ burn: "through" as const, chains }] : []),
        ...(region === undefined ? [] : [{ burn: "through" as const, outline: region, keep: made.keep }]),
      ];
  }
}

function burn(
  mark: Mark,
  drawing: Drawing,
  setting: BurnSetting,
  under: UnderBeam,
): { readonly burned?: Burned; readonly findings: readonly Finding[] } {
  const { machine, round, top } = under;
  const place = { part: mark.part, feature: mark.feature, source: mark.source };
  const findings: Finding[] = [
    ...speedFindings(mark, setting, machine, direction(drawing)),
    ...charFindings(mark, setting, under.shop),
  ];
  const refuse = (f: Finding) => ({ findings: [...findings, f] });
  const make = (aim: BeamAim, words: string, rest: (base: Base) => BeamOperation) => {
    const surface = surfaceUnder(aim, top, round);
    const focus = focusFor(mark, aim, surface, round, machine.laser);
    if ("grade" in focus) return refuse(focus);
    const base: Base = {
      id: `${mark.id} ${drawing.burn}`,
      title: `"${mark.feature}", ${words}`,
      markId: mark.id,
      power: setting.power,
      speed: setting.speed,
      passes: setting.passes,
      ...focus,
    };
    return { burned: { placed: { mark, setting, aim, surface }, operation: rest(base) }, findings };
  };
  const empty: Finding = {
    grade: "refuse",
    code: "beam-nothing-drawn",
    place,
    what: `"${mark.feature}" holds nothing to burn`,
  };
  if (drawing.burn === "picture") {
    const made = dotsOf(mark, drawing.ink, under.map, setting, machine.laser);
    findings.push(...made.findings);
    const up = runUpFor(machine, setting, made.aim.alongDeg);
    return make(made.aim, "burned picture", (base) => ({
      ...base,
      kind: "dots",
      aim: made.aim,
      ways: "two",
      runUp: up,
    }));
  }
  if (drawing.burn === "area") {
    if (drawing.region.loops.length === 0) return refuse(empty);
    const area = areaWay(mark, drawing, setting, machine);
    findings.push(...area.findings);
    return make({ kind: "area", region: drawing.region }, "burned area", (base) => ({ ...base, ...area.way }));
  }
  if (drawing.burn === "through" && "outline" in drawing) {
    const cut = kerfPath(mark, drawing.outline, drawing.keep, setting);
    findings.push(...cut.findings);
    if (cut.loops.length === 0) return { findings };
    const aim: BeamAim = { kind: "through", outline: drawing.outline, keep: drawing.keep };
    return make(aim, "cut through with the beam", (base) => ({
      ...base,
      kind: "lines",
      chains: cut.loops,
      inOrder: true,
    }));
  }
  const chains = drawing.chains.filter((c) => c.length > 0);
  if (chains.length === 0) return refuse(empty);
  if (machine.laser.mode === "constant") findings.push(cornersDark(mark));
  const words = drawing.burn === "through" ? "cut through with the beam" : "burned line";
  return make({ kind: "lines", chains }, words, (base) => ({ ...base, kind: "lines", chains }));
}

type Base = Pick<BeamOperation, "id" | "title" | "markId" | "power" | "speed" | "passes" | "z" | "follows">;

/** Direction of even travel where there is one, degrees from X. */
function direction(drawing: Drawing): number | undefined {
  return drawing.burn === "area" ? drawing.angleDeg : undefined;
}

function speedFindings(
  mark: Mark,
  setting: BurnSetting,
  machine: BeamMachine,
  travelDeg: number | undefined,
): readonly Finding[] {
  const { topFeed } = machine;
  const top = travelDeg === undefined ? Math.min(topFeed.x, topFeed.y) : leastAlong(topFeed, travelDeg);
  if (setting.speed <= top + 1e-6) return [];
  return [
    {
      grade: "refuse",
      code: "beam-too-fast",
      place: { part: mark.part, feature: mark.feature, source: mark.source },
      what: `"${mark.feature}" is to be burned faster than "${machine.name}" moves`,
      why: `the shop's setting "${setting.effect}" for ${setting.wood}`,
      mend: "burn a test card at speeds that the machine reaches, and change the setting",
      measured: { value: setting.speed, bound: 0, unit: "mm/min" },
      limit: { value: top, unit: "mm/min", from: "the machine's top feed in that direction" },
    },
  ];
}

function charFindings(mark: Mark, setting: BurnSetting, shop: Shop): readonly Finding[] {
  const { sanding } = shop.habits;
  if (setting.depth === undefined || sanding === undefined || setting.depth > sanding) return [];
  return [
    {
      grade: "caution",
      code: "beam-sanded-away",
      place: { part: mark.part, feature: mark.feature, source: mark.source },
      what: `sanding will take "${mark.feature}" away`,
      why: `"${setting.effect}" chars no deeper than the last sanding takes`,
      mend: "sand to the last grit before burning",
      measured: { value: setting.depth, bound: 0, unit: "mm" },
      limit: { value: sanding, unit: "mm", from: "the shop's habit of sanding" },
    },
  ];
}

function cornersDark(mark: Mark): Finding {
  return {
    grade: "caution",
    code: "beam-corners-dark",
    place: { part: mark.part, feature: mark.feature, source: mark.source },
    what: `the ends and corners of "${mark.feature}" burn darker than its lines`,
    why: "this controller keeps the power up while the carriage slows down, so the energy on each millimetre rises",
    mend: "burn the test card with the same shapes, or use the controller's mode that follows the speed",
  };
}
