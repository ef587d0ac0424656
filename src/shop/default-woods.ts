import type { Sourced, WoodClass, WoodKind } from "./wood.ts";

/** Size change per size and per 1 % moisture, read in the Wood Handbook's table of coefficients (FPL-GTR-190). */
const T13 = "Wood Handbook FPL-GTR-190, Table 13-5";
const T13_MEMORY = "Wood Handbook Table 13-5, from memory; equals S / (3000 − 20 S) of Table 4-3";
/** The same computed from shrinkage, C = S / (3000 − 20 S). */
const FROM_SHRINKAGE = "computed from shrinkage, Wood Handbook Table 4-3, C = S / (3000 − 20 S)";
const FROM_SHRINKAGE_MEMORY = "computed from remembered shrinkage, C = S / (3000 − 20 S)";
const SG = "Wood Handbook FPL-GTR-282, Table 5-3b";
const SG_COMPUTED = "computed from green volume, Wood Handbook FPL-GTR-282, eq. 4-13";
const SG_MEMORY = "from memory";
const PANEL = "Wood Handbook FPL-GTR-190, ch. 12, in the plane of the sheet";
const PANEL_MEMORY = "from memory, in the plane of the sheet";

/** The woods that the project knows by itself, from the USDA Wood Handbook; each number names its table. */
export function defaultWoods(): readonly WoodKind[] {
  return [
    wood("hard maple", ["sugar maple", "rock maple"], "hardwood", [0.63, SG], [0.00165, T13], [0.00353, T13]),
    wood("red maple", ["soft maple"], "hardwood", [0.54, SG], [0.00137, T13], [0.00289, T13]),
    wood("silver maple", [], "hardwood", [0.47, SG], [0.00102, T13], [0.00252, T13]),
    wood("red oak", ["northern red oak", "American red oak"], "hardwood", [0.63, SG], [0.00158, T13], [0.00369, T13]),
    wood("white oak", ["American white oak", "oak"], "hardwood", [0.68, SG], [0.0018, T13], [0.00365, T13]),
    wood("walnut", ["black walnut", "American walnut"], "hardwood", [0.55, SG], [0.0019, T13], [0.00274, T13]),
    wood("cherry", ["black cherry", "American cherry"], "hardwood", [0.5, SG], [0.00126, T13], [0.00248, T13]),
    wood("ash", ["white ash", "American ash"], "hardwood", [0.6, SG], [0.00169, T13], [0.00274, T13]),
    wood("birch", ["yellow birch"], "hardwood", [0.62, SG], [0.00256, T13], [0.00338, T13]),
    wood("beech", ["American beech"], "hardwood", [0.64, SG], [0.0019, T13], [0.00431, T13]),
    wood(
      "poplar",
      ["yellow-poplar", "yellow poplar", "tulipwood", "American whitewood"],
      "hardwood",
      [0.42, SG],
      [0.00158, T13_MEMORY],
      [0.00289, T13_MEMORY],
    ),
    wood("aspen", ["quaking aspen"], "hardwood", [0.38, SG], [0.00119, T13], [0.00234, T13]),
    wood(
      "basswood",
      ["American basswood", "American lime", "linden"],
      "hardwood",
      [0.37, SG],
      [0.0023, T13],
      [0.0033, T13],
    ),
    wood("butternut", ["white walnut"], "hardwood", [0.38, SG], [0.00116, T13], [0.00223, T13]),
    wood(
      "white pine",
      ["eastern white pine", "yellow pine (British)", "pine"],
      "softwood",
      [0.35, SG],
      [0.00071, T13],
      [0.00212, T13],
    ),
    wood(
      "Douglas fir",
      ["Douglas-fir", "Oregon pine", "British Columbian pine"],
      "softwood",
      [0.48, SG],
      [0.00165, T13_MEMORY],
      [0.00267, T13_MEMORY],
    ),
    wood(
      "western red cedar",
      ["western redcedar"],
      "softwood",
      [0.32, SG],
      [0.00081, FROM_SHRINKAGE],
      [0.00172, FROM_SHRINKAGE],
    ),
    wood("white fir", [], "softwood", undefined, [0.00112, T13], [0.00245, T13]),
    wood(
      "mahogany",
      ["Honduras mahogany", "American mahogany", "genuine mahogany"],
      "hardwood",
      [0.48, SG_MEMORY],
      // The handbook's shrinkage table gives a factor 1.7 less; the larger is the safe one for a clearance.
      [0.00172, `${T13}; its Table 4-4 gives less, the larger is used`],
      [0.00238, `${T13}; its Table 4-4 gives less, the larger is used`],
    ),
    wood(
      "African mahogany",
      ["khaya"],
      "hardwood",
      undefined,
      [0.00141, "Wood Handbook Table 13-5, from memory; its Table 4-4 gives less, the larger is used"],
      [0.00201, "Wood Handbook Table 13-5, from memory; its Table 4-4 gives less, the larger is used"],
    ),
    wood(
      "sapele",
      ["sapelli"],
      "hardwood",
      [0.6, SG_COMPUTED],
      [0.00158, FROM_SHRINKAGE_MEMORY],
      [0.00259, FROM_SHRINKAGE_MEMORY],
    ),
    wood(
      "teak",
      [],
      "hardwood",
      [0.6, SG_COMPUTED],
      [0.00101, "Wood Handbook Table 13-5, from memory; larger than from Table 4-4"],
      [0.00201, `${FROM_SHRINKAGE_MEMORY}; larger than Table 13-5`],
    ),
    wood("plywood", ["birch plywood", "ply"], "plywood", undefined, [0.0002, PANEL], [0.0002, PANEL]),
    wood(
      "mdf",
      ["medium density fibreboard", "medium density fiberboard"],
      "mdf",
      undefined,
      [0.0003, PANEL_MEMORY],
      [0.0003, PANEL_MEMORY],
    ),
  ];
}

type Pair = readonly [number, string];

function wood(
  name: string,
  alsoCalled: readonly string[],
  kind: WoodClass,
  gravity: Pair | undefined,
  radial: Pair,
  tangential: Pair,
): WoodKind {
  const sourced = ([value, source]: Pair): Sourced => ({ value, source });
  return {
    name,
    alsoCalled,
    class: kind,
    ...(gravity ? { specificGravity: sourced(gravity) } : {}),
    radialPerPercent: sourced(radial),
    tangentialPerPercent: sourced(tangential),
    from: "built-in default",
  };
}
