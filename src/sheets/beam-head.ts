import { tidy } from "../finding.ts";
import type { BeamSetUp } from "../plan/beam-setup.ts";
import { element, text } from "./svg.ts";

const INK = "#1d1a16";

/** What is drawn of the carriage, and where it ends on the sheet. */
export interface HeadDrawing {
  readonly parts: readonly string[];
  readonly bottom: number;
}

/**
 * Head and nut from above and from the side, at half their size: where the beam stands beside the spindle, and how high the
 * head stands over the wood. Nothing where the shop file doesn't say how large the head is.
 */
export function headDrawing({ machine, laser, blank }: BeamSetUp, left: number, top: number): HeadDrawing {
  const head = machine.laserHead;
  if (head === undefined) return { parts: [], bottom: top };
  const scale = 0.5;
  const nutRadius = machine.nut.diameter / 2;
  const reach = Math.max(head.radius, nutRadius) * scale;
  const dx = laser.offset.x * scale;
  const dy = laser.offset.y * scale;
  const spindle = { x: left + reach + Math.max(0, -dx), y: top + 6 + reach + Math.max(0, dy) };
  const beam = { x: spindle.x + dx, y: spindle.y - dy };
  const thin = { fill: "none", stroke: INK, "stroke-width": 0.3 };
  const cross = (p: { x: number; y: number }, r: number): string =>
    element("path", {
      d: `M${tidy(p.x - r)} ${tidy(p.y)}h${tidy(2 * r)}M${tidy(p.x)} ${tidy(p.y - r)}v${tidy(2 * r)}`,
      ...thin,
    });
  const above = [
    text(left, top + 2, "from above, half size", { "font-size": 2.8 }),
    element("circle", { cx: spindle.x, cy: spindle.y, r: nutRadius * scale, ...thin, "stroke-dasharray": "1.6 0.8" }),
    cross(spindle, 2),
    text(spindle.x, spindle.y + nutRadius * scale + 3.4, "nut, empty", { "font-size": 2.6, "text-anchor": "middle" }),
    element("circle", { cx: beam.x, cy: beam.y, r: head.radius * scale, ...thin }),
    element("circle", { cx: beam.x, cy: beam.y, r: 0.5, fill: INK, stroke: "none" }),
    cross(beam, 2),
    text(beam.x, beam.y + head.radius * scale + 3.4, "beam", { "font-size": 2.6, "text-anchor": "middle" }),
  ];
  const highest = Math.max(spindle.y + nutRadius * scale, beam.y + head.radius * scale) + 5;
  // From the side: wood, gap, head; the nut's lower face where it stands.
  const sideLeft = Math.max(spindle.x + nutRadius * scale, beam.x + head.radius * scale) + 22;
  const ground = top + 34;
  const gap = laser.focusGap * scale;
  const nutAt = (laser.focusGap - head.underside) * scale;
  const headX = sideLeft + 6 + head.radius * scale;
  const nutX = headX + Math.hypot(dx, dy);
  const side = [
    text(sideLeft, top + 2, "from the side, half size", { "font-size": 2.8 }),
    element("rect", {
      x: sideLeft,
      y: ground,
      width: nutX + nutRadius * scale + 6 - sideLeft,
      height: 3,
      fill: "#f3e6c8",
      stroke: INK,
      "stroke-width": 0.3,
    }),
    element("rect", {
      x: headX - head.radius * scale,
      y: top + 4,
      width: 2 * head.radius * scale,
      height: Math.max(1, ground - gap - top - 4),
      ...thin,
    }),
    element("line", {
      x1: headX,
      y1: ground - gap,
      x2: headX,
      y2: ground,
      stroke: INK,
      "stroke-width": 0.5,
      "stroke-dasharray": "0.8 0.5",
    }),
    element("rect", {
      x: nutX - nutRadius * scale,
      y: top + 4,
      width: 2 * nutRadius * scale,
      height: Math.max(1, ground - nutAt - top - 4),
      ...thin,
      "stroke-dasharray": "1.6 0.8",
    }),
    text(
      nutX + nutRadius * scale + 8,
      ground - gap / 2 + 1,
      `focus gap ${tidy(laser.focusGap)} mm ± ${tidy(laser.focusRange)}`,
      { "font-size": 2.8 },
    ),
    text(nutX + nutRadius * scale + 8, ground + 2.6, `wood, Z ${tidy(blank.max.z)} mm`, { "font-size": 2.8 }),
  ];
  const words = [
    `beam less spindle: X ${tidy(laser.offset.x)}, Y ${tidy(laser.offset.y)} mm. Fitted anew: burn a cross on waste, prick it with a V bit,`,
    `and write the difference in the shop file. Spot ${tidy(laser.spot.x)} × ${tidy(laser.spot.y)} mm. S${tidy(laser.fullScale)} is full power; ${laser.start}; power ${laser.mode === "constant" ? "is constant" : "follows speed"}.`,
  ];
  const bottom = Math.max(highest, ground + 4);
  return {
    parts: [...above, ...side, ...words.map((w, i) => text(left, bottom + 4 + 4.2 * i, w, { "font-size": 3 }))],
    bottom: bottom + 4 + 4.2 * words.length,
  };
}
