import type { Finding } from "../finding.ts";
import type { Mark } from "../parts/marks/mark.ts";
import type { Workpiece } from "../parts/workpiece.ts";
import type { BurnSetting, Laser } from "../shop/laser.ts";
import type { Machine } from "../shop/machine.ts";
import type { Shop } from "../shop/shop.ts";
import type { WoodKind } from "../shop/wood.ts";
import { closest } from "../units/closest.ts";

/** A machine that carries a laser. */
export type BeamMachine = Machine & { readonly laser: Laser };

/** What a mark is burned as, and the shop's usual word for its setting. */
export type Burn = "line" | "area" | "picture" | "through";

/** True for a machine with a laser on its carriage. */
export function hasLaser(machine: Machine): machine is BeamMachine {
  return machine.laser !== undefined;
}

/** The shop's setting for a burn on this wood. Never made up: without one the mark is refused and the test card named. */
export function settingFor(burn: Burn, mark: Mark, wood: WoodKind, shop: Shop): BurnSetting | Finding {
  const effect = mark.made.effect ?? burn;
  const own = (shop.burns ?? []).filter((b) => b.wood.toLowerCase() === wood.name.toLowerCase());
  const found = own.find((b) => b.effect.toLowerCase() === effect.toLowerCase());
  if (found !== undefined) return found;
  const near = closest(
    effect,
    own.map((b) => b.effect),
  );
  const known = own.map((b) => `"${b.effect}"`).join(", ");
  return {
    grade: "refuse",
    code: "beam-no-setting",
    place: {
      part: mark.part,
      feature: mark.feature,
      source: mark.sources?.effect ?? mark.source,
    },
    what: `the shop has no laser setting for "${effect}" on ${wood.name}`,
    why: own.length === 0 ? `no setting for ${wood.name} at all` : `for ${wood.name} it has ${known}`,
    mend: `${near === undefined ? "" : `did you mean "${near}"? Or `}burn a test card on waste of the same ${wood.name}, and write the cell you like under "burns" in the shop file`,
  };
}

/** Names of what must never be burned, with why. Universities' laser rules (MIT EHS, UW-Madison EHS), else common practice. */
const NEVER: readonly (readonly [RegExp, string])[] = [
  [/\bpvc\b|vinyl|chlor|vinylid/i, "gives off hydrogen chloride: poisonous, and it eats the machine"],
  [/fluor|ptfe|\bpvdf\b/i, "gives off hydrogen fluoride"],
  [/poly-?carbonate/i, "burns, soots, and gives off poisonous fumes"],
  [/\babs\b/i, "gives off hydrogen cyanide and burns"],
  [/\bfilms?\b|\bfoils?\b/i, "nobody knows what an unknown film gives off"],
  [/chrom(e|ium)?[ -]?(tanned|leather)|leather/i, "leather may be tanned with chromium, and nothing here tells"],
];

/** Refuses what must not be burned, by name, and says what panels give off. */
export function materialFindings(workpiece: Workpiece, wood: WoodKind): readonly Finding[] {
  const place = { part: workpiece.name, source: workpiece.source };
  for (const name of [workpiece.wood, wood.name, ...wood.alsoCalled]) {
    const never = NEVER.find(([words]) => words.test(name));
    if (never === undefined) continue;
    return [
      {
        grade: "refuse",
        code: "beam-material-refused",
        place,
        what: `"${name}" is never burned with a laser`,
        why: never[1],
        mend: "cut the mark with a bit instead, or use another material",
      },
    ];
  }
  if (wood.class !== "plywood" && wood.class !== "mdf") return [];
  return [
    {
      grade: "caution",
      code: "beam-unknown-finish",
      place,
      what: `${wood.name} holds glue: its smoke is worse than that of plain wood`,
      why: "glue and resins give off formaldehyde; a coated panel gives off nobody knows what",
      mend: "burn bare panels only, with the extraction running to the outside",
    },
  ];
}

/** No machine of the shop has a laser, or not the one that the job names. */
export function noLaser(workpiece: Workpiece, shop: Shop): Finding {
  const names = shop.machines.filter(hasLaser).map((m) => `"${m.name}"`);
  const { machine } = workpiece.wishes;
  return {
    grade: "refuse",
    code: "beam-no-laser",
    place: { part: workpiece.name, source: workpiece.source },
    what:
      names.length === 0 || machine === undefined
        ? "a mark is to be burned, but the shop has no laser"
        : `a mark is to be burned, but "${machine}" has no laser`,
    why: names.length === 0 ? "no machine in the shop file has a laser" : `these have one: ${names.join(", ")}`,
    mend: "measure the head and write it under the machine in the shop file, or cut the mark with a bit",
  };
}
