import type { Sourced, WoodClass, WoodKind } from "./wood.ts";

/** Size change per size and per 1 % moisture, read in the Wood Handbook's table of coefficients (FPL-GTR-190). */
const T13 = "Wood Handbook FPL-GTR-190, Table 13-5";
const T13_MEMORY = "Wood Handbook Table 13-5, from memory; equals S / (3000 − 20 S) of Table 4-3";
/** The same computed from shrinkage, C = S / (3000 − 20 S). */
const FROM_SHRINKAGE = "computed from shrinkage, Wood Handbook Table 4-3, C = S / (3000 − 20 S)";
const FROM_SHRINKAGE_44 = "computed from shrinkage, Wood Handbook Table 4-4, C = S / (3000 − 20 S)";
const FROM_SHRINKAGE_MEMORY = "computed from remembered shrinkage, C = S / (3000 − 20 S)";
/** Shrinkage from green to oven-dry, %. */
const T4 = "Wood Handbook, Table 4-3";
const T44 = "Wood Handbook, Table 4-4";
const T4_MEMORY = "Wood Handbook, Table 4-3, from memory; confirmed by Table 13-5";
const T44_MEMORY = "Wood Handbook, Table 4-4, from memory";
const LARGER = "the larger is used";
const SG = "Wood Handbook FPL-GTR-282, Table 5-3b";
const SG_COMPUTED = "computed from green volume, Wood Handbook FPL-GTR-282, eq. 4-13";
const SG_MEMORY = "from memory";
const PANEL = "Wood Handbook FPL-GTR-190, ch. 12, in the plane of the sheet";
const PANEL_MEMORY = "from memory, in the plane of the sheet";

/** The woods that the project knows by itself, from the USDA Wood Handbook; each number names its table. */
export function defaultWoods(): readonly WoodKind[] {
  return [
    wood("hard maple", ["sugar maple", "rock maple"], "hardwood", [0.63, SG], [0.00165, T13], [0.00353, T13], {
      shrinkage: [4.8, 9.9, T4],
    }),
    wood("red maple", ["soft maple"], "hardwood", [0.54, SG], [0.00137, T13], [0.00289, T13], {
      shrinkage: [4.0, 8.2, T4_MEMORY],
    }),
    wood("silver maple", [], "hardwood", [0.47, SG], [0.00102, T13], [0.00252, T13], {
      shrinkage: [3.0, 7.2, T4_MEMORY],
    }),
    // The oaks' rows in Table 13-5 are of commercial groups, which no single species' shrinkage gives.
    wood(
      "red oak",
      ["northern red oak", "American red oak"],
      "hardwood",
      [0.63, SG],
      [0.00158, `${T13}, red oak group; ${LARGER}`],
      [0.00369, `${T13}, red oak group; ${LARGER}`],
      {
        shrinkage: [4.0, 8.6, T4],
        elsewhere: [
          [0.00137, FROM_SHRINKAGE],
          [0.00304, FROM_SHRINKAGE],
        ],
      },
    ),
    wood(
      "white oak",
      ["American white oak", "oak"],
      "hardwood",
      [0.68, SG],
      [0.00194, `${FROM_SHRINKAGE}; ${LARGER}`],
      [0.00376, `${FROM_SHRINKAGE}; ${LARGER}`],
      {
        shrinkage: [5.6, 10.5, T4],
        elsewhere: [
          [0.0018, `${T13}, white oak group`],
          [0.00365, `${T13}, white oak group`],
        ],
      },
    ),
    wood("walnut", ["black walnut", "American walnut"], "hardwood", [0.55, SG], [0.0019, T13], [0.00274, T13], {
      shrinkage: [5.5, 7.8, T4],
    }),
    wood("cherry", ["black cherry", "American cherry"], "hardwood", [0.5, SG], [0.00126, T13], [0.00248, T13], {
      shrinkage: [3.7, 7.1, T4],
    }),
    wood("ash", ["white ash", "American ash"], "hardwood", [0.6, SG], [0.00169, T13], [0.00274, T13], {
      shrinkage: [4.9, 7.8, T4],
    }),
    wood("birch", ["yellow birch"], "hardwood", [0.62, SG], [0.00256, T13], [0.00338, T13], {
      shrinkage: [7.3, 9.5, T4],
    }),
    wood("beech", ["American beech"], "hardwood", [0.64, SG], [0.0019, T13], [0.00431, T13], {
      shrinkage: [5.5, 11.9, T4],
    }),
    wood(
      "poplar",
      ["yellow-poplar", "yellow poplar", "tulipwood", "American whitewood"],
      "hardwood",
      [0.42, SG],
      [0.00158, T13_MEMORY],
      [0.00289, T13_MEMORY],
      { shrinkage: [4.6, 8.2, T4] },
    ),
    wood("aspen", ["quaking aspen"], "hardwood", [0.38, SG], [0.00119, T13], [0.00234, T13], {
      shrinkage: [3.5, 6.7, T4],
    }),
    wood(
      "basswood",
      ["American basswood", "American lime", "linden"],
      "hardwood",
      [0.37, SG],
      [0.0023, T13],
      [0.0033, T13],
      { shrinkage: [6.6, 9.3, T4] },
    ),
    wood("butternut", ["white walnut"], "hardwood", [0.38, SG], [0.00116, T13], [0.00223, T13], {
      shrinkage: [3.4, 6.4, T4],
    }),
    wood(
      "white pine",
      ["eastern white pine", "yellow pine (British)", "pine"],
      "softwood",
      [0.35, SG],
      [0.00071, T13],
      [0.00212, T13],
      { shrinkage: [2.1, 6.1, T4_MEMORY] },
    ),
    wood(
      "Douglas fir",
      ["Douglas-fir", "Oregon pine", "British Columbian pine"],
      "softwood",
      [0.48, SG],
      [0.00165, T13_MEMORY],
      [0.00267, T13_MEMORY],
      { shrinkage: [4.8, 7.6, T4] },
    ),
    wood(
      "western red cedar",
      ["western redcedar"],
      "softwood",
      [0.32, SG],
      [0.00081, FROM_SHRINKAGE],
      [0.00172, FROM_SHRINKAGE],
      { shrinkage: [2.4, 5.0, T4] },
    ),
    wood("white fir", [], "softwood", undefined, [0.00112, T13], [0.00245, T13], { shrinkage: [3.3, 7.0, T4] }),
    wood(
      "mahogany",
      ["Honduras mahogany", "American mahogany", "genuine mahogany"],
      "hardwood",
      [0.48, SG_MEMORY],
      // The handbook's shrinkage table gives a factor 1.7 less.
      [0.00172, `${T13}; ${LARGER}`],
      [0.00238, `${T13}; ${LARGER}`],
      {
        shrinkage: [3.0, 4.1, T44],
        elsewhere: [
          [0.00102, FROM_SHRINKAGE_44],
          [0.00141, FROM_SHRINKAGE_44],
        ],
      },
    ),
    wood(
      "African mahogany",
      ["khaya"],
      "hardwood",
      undefined,
      [0.00141, `${T13}, from memory; ${LARGER}`],
      [0.00201, `${T13}, from memory; ${LARGER}`],
      {
        shrinkage: [2.5, 4.5, T44],
        elsewhere: [
          [0.00085, FROM_SHRINKAGE_44],
          [0.00155, FROM_SHRINKAGE_44],
        ],
      },
    ),
    wood(
      "sapele",
      ["sapelli"],
      "hardwood",
      [0.6, SG_COMPUTED],
      [0.00158, FROM_SHRINKAGE_MEMORY],
      [0.00259, FROM_SHRINKAGE_MEMORY],
      { shrinkage: [4.6, 7.4, T44_MEMORY] },
    ),
    wood(
      "teak",
      [],
      "hardwood",
      [0.6, SG_COMPUTED],
      [0.00101, `${T13}, from memory; ${LARGER}`],
      [0.00201, `${FROM_SHRINKAGE_MEMORY}; ${LARGER}`],
      {
        shrinkage: [2.5, 5.8, T44_MEMORY],
        elsewhere: [
          [0.00085, FROM_SHRINKAGE_MEMORY],
          [0.00186, `${T13}, from memory`],
        ],
      },
    ),
    wood("plywood", ["birch plywood", "ply"], "plywood", undefined, [0.0002, PANEL], [0.0002, PANEL], {
      // Rotary-cut veneers lie flat: through the sheet runs their radial direction.
      through: [0.00256, `yellow birch across the rings, ${T13}, taken for its veneers`],
    }),
    wood(
      "mdf",
      ["medium density fibreboard", "medium density fiberboard"],
      "mdf",
      undefined,
      [0.0003, PANEL_MEMORY],
      [0.0003, PANEL_MEMORY],
      { through: [0.005, "from memory, through the sheet"] },
    ),
  ];
}

type Pair = readonly [number, string];

/** What only some woods have. Each pair of numbers is radial and tangential. */
interface More {
  readonly shrinkage?: readonly [number, number, string];
  readonly elsewhere?: readonly [Pair, Pair];
  readonly through?: Pair;
}

function wood(
  name: string,
  alsoCalled: readonly string[],
  kind: WoodClass,
  gravity: Pair | undefined,
  radial: Pair,
  tangential: Pair,
  more: More = {},
): WoodKind {
  const sourced = ([value, source]: Pair): Sourced => ({ value, source });
  return {
    name,
    alsoCalled,
    class: kind,
    ...(gravity ? { specificGravity: sourced(gravity) } : {}),
    radialPerPercent: sourced(radial),
    tangentialPerPercent: sourced(tangential),
    ...(more.elsewhere
      ? { radialElsewhere: sourced(more.elsewhere[0]), tangentialElsewhere: sourced(more.elsewhere[1]) }
      : {}),
    ...(more.shrinkage
      ? {
          radialShrinkage: sourced([more.shrinkage[0], more.shrinkage[2]]),
          tangentialShrinkage: sourced([more.shrinkage[1], more.shrinkage[2]]),
        }
      : {}),
    ...(more.through ? { throughSheetPerPercent: sourced(more.through) } : {}),
    from: "built-in default",
  };
}
