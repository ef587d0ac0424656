import type { FormGrid } from "../job/form-grid.ts";
import { line } from "../shapes/segment.ts";
import { frame, measure, type Room } from "./form-parts.ts";
import { type DrawingMark, stroke, words } from "./template-drawing.ts";

/** The case from the front with its openings' names, and from above with the places to stand at. */
export function caseFigure(grid: FormGrid, room: Room): readonly DrawingMark[] {
  const front: Room = { x: room.x + 2, y: room.y - 6, width: room.width * 0.56, height: room.height - 10 };
  const wall = 3;
  const cell = {
    width: (front.width - wall * (grid.columns + 1)) / grid.columns,
    height: (front.height - wall * (grid.rows + 1)) / grid.rows,
  };
  const size = Math.max(1.6, Math.min(3.4, cell.height * 0.4));
  const cells = grid.names.flatMap((name, i): readonly DrawingMark[] => {
    const at: Room = {
      x: front.x + wall + (i % grid.columns) * (cell.width + wall),
      y: front.y - wall - Math.floor(i / grid.columns) * (cell.height + wall),
      ...cell,
    };
    const most = Math.max(3, Math.floor(cell.width / (size * 0.58)));
    const said = name.length <= most ? name : `${name.slice(0, most - 1)}.`;
    return [
      frame(at),
      words({ x: at.x + at.width / 2, y: at.y - at.height / 2 - size * 0.35 }, said, size, { anchor: "middle" }),
    ];
  });
  const x = front.x + front.width + 22;
  const plan: Room = { x, y: room.y - 16, width: room.x + room.width - x - 6, height: room.height - 32 };
  return [
    words(
      { x: front.x, y: room.y - 3.5 },
      "From the front: the openings in rows from the top, each from the left",
      2.6,
    ),
    frame(front, 0.5),
    ...cells,
    words({ x: plan.x + plan.width / 2, y: room.y - 3.5 }, "From above", 2.6, { anchor: "middle" }),
    ...caseFromAbove(plan),
    words({ x: plan.x + plan.width / 2, y: plan.y - plan.height - 6 }, "1  in front", 3, {
      anchor: "middle",
      bold: true,
    }),
    words({ x: plan.x + plan.width / 2, y: plan.y - plan.height / 2 }, "2  reaching in", 3, {
      anchor: "middle",
      bold: true,
    }),
    words({ x: plan.x + plan.width / 2, y: plan.y + 3 }, "3  behind", 3, { anchor: "middle", bold: true }),
  ];
}

/** Two sides and a back; the mouth lies below, open. */
function caseFromAbove(r: Room): readonly DrawingMark[] {
  const wall = 3;
  const [right, foot] = [r.x + r.width, r.y - r.height];
  return [
    stroke(
      [
        line({ x: r.x, y: foot }, { x: r.x, y: r.y }),
        line({ x: r.x, y: r.y }, { x: right, y: r.y }),
        line({ x: right, y: r.y }, { x: right, y: foot }),
        line({ x: right, y: foot }, { x: right - wall, y: foot }),
        line({ x: right - wall, y: foot }, { x: right - wall, y: r.y - wall }),
        line({ x: right - wall, y: r.y - wall }, { x: r.x + wall, y: r.y - wall }),
        line({ x: r.x + wall, y: r.y - wall }, { x: r.x + wall, y: foot }),
        line({ x: r.x + wall, y: foot }, { x: r.x, y: foot }),
      ],
      0.4,
    ),
  ];
}

/** A mouth from the front: widths, heights, diagonals, wind. */
export function mouthFigure(room: Room): readonly DrawingMark[] {
  const m: Room = { x: room.x + 12, y: room.y - 8, width: room.width - 24, height: room.height - 16 };
  const [right, foot] = [m.x + m.width, m.y - m.height];
  const dash = [1.6, 1.2];
  const across = (y: number, name: string) => measure({ x: m.x, y }, { x: right, y }, name, { x: 10, y: 0.8 });
  const up = (x: number, name: string, beside: number) =>
    measure({ x, y: foot }, { x, y: m.y }, name, { x: beside, y: -room.height / 7 });
  return [
    words({ x: room.x, y: room.y - 3 }, "A mouth, from the front", 2.8, { bold: true }),
    frame(m, 0.5),
    ...across(m.y - 2.6, "width: mouth top"),
    ...across(m.y - m.height / 2, "width: mouth"),
    ...across(foot + 2.2, "width: mouth bottom"),
    ...up(m.x + 3, "left", 3.4),
    ...up(m.x + m.width * 0.36, "height: middle", 9.5),
    ...up(right - 3, "right", -4),
    stroke(
      [line({ x: m.x, y: foot }, { x: right, y: m.y }), line({ x: m.x, y: m.y }, { x: right, y: foot })],
      0.15,
      dash,
    ),
    words({ x: right + 1, y: m.y - 3 }, "rising", 2.4),
    words({ x: right + 1, y: foot + 2.4 }, "falling", 2.4),
    // Winding sticks, lying on the case's front above and below the mouth.
    frame({ x: m.x - 4, y: m.y + 2.6, width: m.width + 8, height: 1.6 }, 0.18),
    frame({ x: m.x - 4, y: foot - 1, width: m.width + 8, height: 1.6 }, 0.18),
    words({ x: m.x + m.width / 2, y: foot - 5.4 }, "wind: winding sticks across, above and below", 2.4, {
      anchor: "middle",
    }),
  ];
}

/** An opening from above: widths at mouth, middle and back, depths. */
export function planFigure(room: Room): readonly DrawingMark[] {
  const p: Room = { x: room.x + 12, y: room.y - 6, width: room.width - 24, height: room.height - 12 };
  const inner = { left: p.x + 3, right: p.x + p.width - 3, top: p.y - 3, foot: p.y - p.height };
  const across = (y: number, name: string) =>
    measure({ x: inner.left, y }, { x: inner.right, y }, name, { x: -9, y: 0.8 });
  const deep = (x: number, name: string, beside: number) =>
    measure({ x, y: inner.foot }, { x, y: inner.top }, name, { x: beside, y: 6 });
  return [
    words({ x: room.x, y: room.y - 3 }, "An opening, from above", 2.8, { bold: true }),
    ...caseFromAbove(p),
    ...across(inner.top - 4, "width: back"),
    ...across((inner.top + inner.foot) / 2, "width: middle"),
    ...across(inner.foot + 2, "width: mouth"),
    ...deep(inner.left + 4, "left", 3.4),
    ...deep(inner.left + (inner.right - inner.left) * 0.55, "depth: middle", -9),
    ...deep(inner.right - 4, "right", -4),
    words({ x: p.x + p.width / 2, y: inner.foot - 4 }, "mouth", 2.4, { anchor: "middle" }),
  ];
}
