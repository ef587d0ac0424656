import { drawText } from "../../src/shapes/lettering/draw-text.ts";
import type { TextLayout } from "../../src/shapes/lettering/layout.ts";
import { openFont } from "../../src/shapes/lettering/outline-face.ts";
import { strokeFace } from "../../src/shapes/lettering/stroke-face.ts";
import { bytesOf } from "../shapes/lettering/fonts.ts";
import { cubicFont } from "../shapes/lettering/hostile.ts";
import { type Row, timed } from "./row.ts";

const layout: TextLayout = {
  text: "Cardamom\nÉté 2026, drawer 12",
  size: { by: "cap height", mm: 7 },
  align: "centre",
  letterSpacing: 0,
  lineSpacing: 1.8,
  standing: "middle",
  place: { kind: "arc", centre: { x: 0, y: 0 }, radius: 60, atDeg: 90, side: "outside" },
};

/** Lettering: opening fonts, setting and drawing a name, and the slowest of many damaged fonts. */
export default async function (): Promise<Row[]> {
  const bytes = bytesOf("serif");
  const face = openFont(bytes, "EB Garamond");
  if (!face.ok) throw new Error("the font does not open");
  const single = strokeFace("script");
  const sound = cubicFont();
  // A fixed sequence (Lehmer's), so that every run meets the same files.
  let seed = 1;
  const next = (below: number): number => {
    seed = (seed * 48271) % 2147483647;
    return seed % below;
  };
  let slowest = 0;
  const count = 500;
  for (let i = 0; i < count; i++) {
    const damaged = sound.slice();
    for (let k = 0; k <= i % 6; k++) damaged[next(damaged.length)] = next(256);
    const start = performance.now();
    const opened = openFont(damaged, "damaged");
    if (opened.ok) drawText(opened.value, { ...layout, text: "HO" }, { tolerance: 0.01, made: "arcs" });
    slowest = Math.max(slowest, performance.now() - start);
  }
  return [
    { name: "open an outline font of 3,107 glyphs", unit: "ms", ...timed(() => openFont(bytes, "EB Garamond")) },
    {
      name: "set and draw 28 letters as areas with arcs, within 0.005 mm, along an arc",
      unit: "ms",
      ...timed(() => drawText(face.value, layout, { tolerance: 0.005, made: "arcs" })),
    },
    {
      name: "set and draw 28 letters in single lines",
      unit: "ms",
      ...timed(() => drawText(single, layout, { tolerance: 0.005, made: "lines" })),
    },
    { name: `slowest answer to ${count} damaged fonts`, value: slowest, unit: "ms", goal: "≤ 1000 ms" },
  ];
}
