import type { Finding } from "../finding.ts";
import { type Web, websOf } from "../parts/web.ts";
import type { Cavity, Workpiece } from "../parts/workpiece.ts";
import { HABIT_WORDS } from "../shop/default-shop.ts";
import type { Shop } from "../shop/shop.ts";

/**
 * Webs thinner than the shop's least web, with cutters known: drill points and drill sizes counted. Between cuts of two
 * faces a least web that is the user's own refuses; the built-in one only cautions, as does any floor, border or wall
 * between two cuts of one face.
 */
export function webFindings(workpiece: Workpiece, cavities: readonly Cavity[], shop: Shop): readonly Finding[] {
  const least = shop.habits.leastWeb;
  const own = !shop.defaultsUsed.some((d) => d.startsWith(`habit "${HABIT_WORDS.leastWeb}"`));
  const told = new Set<string>();
  return websOf(workpiece.size, cavities, least - 1e-9).flatMap((web) => {
    // One finding for a pair of features, not one for each hole of a row.
    const key = `${web.between}/${web.a.part}/${web.a.feature}/${web.b?.part ?? ""}/${web.b?.feature ?? ""}`;
    if (told.has(key)) return [];
    told.add(key);
    const twoFaces = web.between === "opposite faces" || web.between === "faces square to each other";
    return [
      {
        grade: own && twoFaces ? ("refuse" as const) : ("caution" as const),
        code: "plan-web-thin" as const,
        place: {
          part: web.a.part,
          feature: web.a.feature,
          source: (web.between === "floor and far face" ? web.a.sources?.depth : undefined) ?? web.a.source,
        },
        what: sentence(workpiece, web),
        why: "thin wood breaks out or shows",
        mend: "make the cut shallower, or move it",
        measured: { value: web.thickness, bound: Number.isFinite(web.bound) ? web.bound : 0, unit: "mm" },
        limit: {
          value: least,
          unit: "mm",
          from: own ? "the shop file's least web" : "built-in least web: common practice, no source",
        },
      },
    ];
  });
}

function sentence(workpiece: Workpiece, web: Web): string {
  const a = `"${web.a.feature}"`;
  const b = web.b === undefined ? "" : `"${web.b.feature}"`;
  switch (web.between) {
    case "opposite faces":
    case "faces square to each other":
      return `little wood stays between ${a}, cut from "${workpiece.labels[web.a.face]}", and ${b}, cut from "${workpiece.labels[web.b?.face ?? web.a.face]}"`;
    case "cuts of one face":
      return `little wood stays between ${a} and ${b}`;
    case "floor and far face":
      return `little wood stays beneath ${a}`;
    case "cut and border":
      return `little wood stays between ${a} and the border of "${workpiece.labels[web.a.face]}"`;
  }
}
