import { tidy } from "../finding.ts";
import type { SetUp } from "../plan/setup.ts";
import { silhouetteOf } from "../shapes/turned-section.ts";
import { extentOfSolid, type TurnedSolid } from "../shapes/turned-solid.ts";
import { onSheet, regionData, type Sheet } from "./path-data.ts";
import { element } from "./svg.ts";

const INK = "#1d1a16";
/** How far the axis is drawn beyond the wood, mm. */
const BEYOND = 4;

/** A turned blank seen from above: its outline on both sides of the axis, its square ends crossed, its axis. */
export function roundBlank(
  sheet: Sheet,
  solid: TurnedSolid,
): { readonly wood: readonly string[]; readonly lines: readonly string[] } {
  const d = regionData(sheet, silhouetteOf(solid));
  const { from, to } = extentOfSolid(solid);
  const a = onSheet(sheet, { x: from - BEYOND, y: solid.axis.y });
  const b = onSheet(sheet, { x: to + BEYOND, y: solid.axis.y });
  const thin = { stroke: INK, "stroke-width": 0.2 };
  const crosses = solid.squares.flatMap((s) => {
    const p = onSheet(sheet, { x: s.from, y: solid.axis.y + s.side / 2 });
    const q = onSheet(sheet, { x: s.to, y: solid.axis.y - s.side / 2 });
    return [
      element("line", { x1: p.x, y1: p.y, x2: q.x, y2: q.y, ...thin }),
      element("line", { x1: p.x, y1: q.y, x2: q.x, y2: p.y, ...thin }),
    ];
  });
  return {
    wood: [element("path", { d, fill: "#fdfaf2", stroke: "none" }), ...crosses],
    lines: [
      element("path", { d, fill: "none", stroke: INK, "stroke-width": 0.6 }),
      element("line", {
        x1: a.x,
        y1: a.y,
        x2: b.x,
        y2: b.y,
        ...thin,
        "stroke-width": 0.3,
        "stroke-dasharray": "6 1.2 1 1.2",
      }),
    ],
  };
}

/** What the lines of a turned blank mean. */
export function roundLegend({ squares, flatTop }: TurnedSolid): string {
  const axis = flatTop === undefined ? "the axis, and the crown line above it" : "the axis, within the flat";
  const ends = squares.length === 0 ? "" : " crossed: square waste, kept until the split.";
  return `outline: the turned blank from above. dash and dot: ${axis}.${ends}`;
}

/** How a turned blank lies: which side is up, and what carries it. */
export function roundWords(setUp: SetUp): readonly string[] {
  if (setUp.index === undefined) return [];
  const up =
    setUp.round?.flatTop === undefined
      ? `index ${setUp.index}°: "${setUp.workpiece.labels[setUp.face]}" up, first end ${firstEnd(setUp)}`
      : `the trued flat up, first end ${firstEnd(setUp)}`;
  const rests = (setUp.rests ?? []).map(
    (r) =>
      `${r.name} from X ${tidy(Math.round(r.from * 10) / 10)} to ${tidy(Math.round(r.to * 10) / 10)}: seat ${tidy(Math.round(r.seat * 100) / 100)} mm above the waste board`,
  );
  return [up, ...rests];
}

function firstEnd({ frame }: SetUp): string {
  return frame.rotation[0][0] > 0 ? "at the left" : "at the right";
}
