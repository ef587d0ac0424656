import type { FaceName } from "../../src/job/board.ts";
import type { Mark } from "../../src/parts/marks/mark.ts";
import type { Workpiece } from "../../src/parts/workpiece.ts";
import { planBeam } from "../../src/plan/beam.ts";
import type { PlannedBeam } from "../../src/plan/beam-setup.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import type { BurnSetting, Laser } from "../../src/shop/laser.ts";
import type { Machine } from "../../src/shop/machine.ts";
import type { Shop } from "../../src/shop/shop.ts";
import { at, LABELS } from "../parts/describing.ts";

/** An invented head: spot 0.1 along X and 0.2 along Y, 60 mm beside the spindle. */
export const LASER: Laser = {
  offset: { x: 60, y: -5 },
  wavelength: 450,
  ratedPower: 10,
  spot: { x: 0.1, y: 0.2 },
  focusGap: 20,
  focusRange: 0.5,
  fullScale: 1000,
  mode: "follows speed",
  start: "M4",
  lag: 0,
  slot: 20,
  from: "shop file",
};

/** A default router with the head on it. @param post of the machine wanted */
export function laserMachine(laser: Partial<Laser> = {}, change: Partial<Machine> = {}, post = "millimetre"): Machine {
  const base = DEFAULT_SHOP.machines.find((m) => m.post === post)!;
  const own = { ...LASER, ...laser };
  return {
    ...base,
    name: "laser router",
    from: "shop file",
    laserHead: { x: own.offset.x, y: own.offset.y, radius: 15, underside: 8 },
    laser: own,
    ...change,
  };
}

function setting(effect: string, more: Partial<BurnSetting> = {}): BurnSetting {
  return { effect, wood: "hard maple", power: 0.4, speed: 3000, passes: 1, from: "shop file", ...more };
}

export const BURNS: readonly BurnSetting[] = [
  setting("line", { speed: 1500 }),
  setting("area", { spacing: 0.1, depth: 0.15 }),
  setting("picture", {
    spacing: 0.2,
    tones: [
      { dots: 0, dark: 0 },
      { dots: 1, dark: 1 },
    ],
  }),
  setting("through", { power: 1, speed: 300, passes: 2, kerf: 0.2 }),
  setting("through, unmeasured", { power: 1, speed: 300 }),
];

export function laserShop(machine: Machine = laserMachine(), more: Partial<Shop> = {}): Shop {
  return { ...DEFAULT_SHOP, machines: [machine], burns: BURNS, ...more };
}

export function mark(name: string, ink: Mark["ink"], made: Mark["made"], face: FaceName = "face"): Mark {
  return { id: name, part: "lid", feature: name, source: at(7), face, ink, made, from: { kind: "line" } };
}

/** A board of hard maple, 100 × 60 × 10, with marks. */
export function marked(marks: readonly Mark[], more: Partial<Workpiece> = {}): Workpiece {
  return {
    name: "lid",
    wood: "hard maple",
    size: { length: 100, width: 60, thickness: 10 },
    grain: "along length",
    pieces: [],
    cavities: [],
    marks,
    labels: LABELS,
    faceSide: "face",
    faceEdge: "lower edge",
    wishes: { holding: { by: "tape" } },
    source: at(2),
    ...more,
  };
}

/** The only set-up of a workpiece. */
export function planned(workpiece: Workpiece, shop: Shop = laserShop()): PlannedBeam {
  const result = planBeam(workpiece, shop, []);
  if (!result.ok || result.value.length !== 1) {
    throw new Error(result.findings.map((f) => `${f.code}: ${f.what}; ${f.why ?? ""}`).join("\n"));
  }
  return result.value[0]!;
}

/** What is found, as grade and code. */
export function found(workpiece: Workpiece, shop: Shop = laserShop()): readonly string[] {
  return planBeam(workpiece, shop, []).findings.map((f) => `${f.grade} ${f.code}`);
}
