import type { BeamDots } from "../../plan/beam-setup.ts";
import { afterwards, type PlanMap, shiftBy, turnBy } from "../../shapes/plan-map.ts";
import type { Row } from "./rows.ts";

/**
 * The rows of a picture as burned stretches: neighbouring dots run together, each dot as long as its pitch, along the middle
 * of its row; rows without a dot are left out. x along the row from the picture's top left corner, y upwards; `place` brings
 * both into the set-up.
 */
export function dotRows(aim: BeamDots["aim"]): { readonly rows: readonly Row[]; readonly place: PlanMap } {
  const { columns, pitch, bits } = aim;
  const rows: Row[] = [];
  for (let r = 0; r < aim.rows; r++) {
    const spans: { from: number; to: number }[] = [];
    let start = -1;
    for (let c = 0; c <= columns; c++) {
      const on = c < columns && bits[r * columns + c] === 1;
      if (on && start < 0) start = c;
      if (!on && start >= 0) {
        spans.push({ from: start * pitch, to: c * pitch });
        start = -1;
      }
    }
    if (spans.length > 0) rows.push({ y: -(r + 0.5) * pitch, spans });
  }
  return { rows, place: afterwards(turnBy(aim.alongDeg), shiftBy(aim.corner.x, aim.corner.y)) };
}
