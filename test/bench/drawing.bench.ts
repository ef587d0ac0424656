import { importDrawing } from "../../src/shapes/drawing-import.ts";
import { type Row, timed } from "./row.ts";

/** A fixed sequence (Lehmer's) of numbers from 0 to 1, so that every run meets the same drawing. */
function sequence(): () => number {
  let seed = 1;
  return () => {
    seed = (seed * 48271) % 2147483647;
    return seed / 2147483647;
  };
}

/**
 * A page of 300 × 300 mm with leaves of ten curves each in rows of forty, each in a group of its own with a transform;
 * every fourth is a line, the others are filled.
 */
function leaves(count: number, apart: number): string {
  const next = sequence();
  const n = (v: number): string => v.toFixed(3);
  const groups: string[] = [];
  for (let i = 0; i < count; i++) {
    const points = Array.from({ length: 10 }, (_, k) => {
      const turn = (2 * Math.PI * k) / 10;
      const r = 2 + 2 * next();
      return { x: r * Math.cos(turn), y: r * Math.sin(turn) };
    });
    const curves = points.map((p, k) => {
      const q = points[(k + 1) % 10]!;
      const [bend, lean] = [0.3 * next(), 0.3 * next()];
      return `C${n(p.x - bend * p.y)} ${n(p.y + bend * p.x)} ${n(q.x + lean * q.y)} ${n(q.y - lean * q.x)} ${n(q.x)} ${n(q.y)}`;
    });
    const [x, y] = [5 + (i % 40) * apart, 5 + Math.floor(i / 40) * apart];
    const named = i % 4 === 0 ? "line" : "leaf";
    groups.push(
      `<g transform="translate(${x} ${y}) rotate(${n(360 * next())})"><path class="${named}" d="M${n(points[0]!.x)} ${n(points[0]!.y)}${curves.join("")}Z"/></g>`,
    );
  }
  return `<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="300mm" viewBox="0 0 300 300">
<style>.leaf{fill:#030} g > .line{fill:none;stroke:#000}</style>
${groups.join("\n")}
</svg>`;
}

/** Reading drawings, and the time to refuse what no drawing should hold. */
export default async function (): Promise<Row[]> {
  const clear = leaves(1000, 9);
  const crowded = leaves(1000, 6);
  const read = (text: string) => () => {
    const outcome = importDrawing(text, { file: "leaves.svg" });
    if (!outcome.ok) throw new Error("the drawing is refused");
  };
  const many = importDrawing(clear, { file: "leaves.svg" });
  const pieces = many.ok ? many.value.chains.flat().length + many.value.region.loops.flat().length : 0;
  return [
    {
      name: "import 1,000 paths of ten curves",
      unit: "ms",
      goal: "≤ 300 ms",
      note: `${pieces} lines and arcs within 0.005 mm`,
      ...timed(read(clear)),
    },
    { name: "the same, crowded so that most areas cross and are united", unit: "ms", ...timed(read(crowded), 3) },
  ];
}
