import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import { peakOver } from "../../src/proof/lean-peak.ts";
import { reachOf } from "../../src/proof/v-short.ts";
import { readProgram } from "../../src/reader/read.ts";
import type { ReadMove } from "../../src/reader/read-move.ts";
import { distanceToPoint } from "../../src/shapes/nearest.ts";
import type { Point } from "../../src/shapes/point.ts";
import { containsPoint, type Region, regionSegments } from "../../src/shapes/region.ts";
import { line } from "../../src/shapes/segment.ts";
import { type MarkedBoard, markedBoard, proofOf, refusalCodes, written } from "./cut-mark-help.ts";

const letters = (text: string, capHeight: number, ...more: readonly string[]): readonly string[] => [
  "- mark: name",
  `  text: ${text}`,
  "  letters: book",
  `  cap height: ${capHeight}`,
  "  centre at: 30 from first end, 20 from lower edge",
  "  made by: v groove",
  ...more,
];

const TAN = Math.tan(Math.PI / 6);
const TIP = 0.05;

/** Deepest cut at a place by what the program's feed moves sweep with the V of 60 degrees, looked at every 4 µm of way. */
function sweptDepth(text: string, board: MarkedBoard): (p: Point) => number {
  const { machine } = board.planned.setUp;
  const moves = readProgram(text, "x", machine.controller, { manner: "any" }).events.filter(
    (e): e is ReadMove => e.kind === "move" && !e.rapid && Math.min(e.to.z ?? 9, e.from.z ?? 9) < 0,
  );
  const tips: [number, number, number][] = [];
  for (const m of moves) {
    const [a, b] = [m.from as { x: number; y: number; z: number }, m.to as { x: number; y: number; z: number }];
    const n = Math.max(1, Math.ceil(Math.hypot(b.x - a.x, b.y - a.y) / 0.004));
    if (m.path.kind !== "line") continue;
    for (let k = 0; k <= n; k++) {
      const t = k / n;
      tips.push([a.x + t * (b.x - a.x), a.y + t * (b.y - a.y), -(a.z + t * (b.z - a.z))]);
    }
  }
  return (p) =>
    tips.reduce((deep, [x, y, d]) => Math.max(deep, d - Math.max(0, Math.hypot(p.x - x, p.y - y) - TIP) / TAN), 0);
}

/** Distance to the nearest outline, asked of every edge; below zero outside. */
function inside(area: Region): (p: Point) => number {
  const all = regionSegments(area);
  return (p) => {
    const d = all.reduce((least, s) => Math.min(least, distanceToPoint(s, p)), Number.POSITIVE_INFINITY);
    return containsPoint(area, p) ? d : -d;
  };
}

/** Changes every height below the surface in a program's text. */
const lowered = (text: string, by: number): string =>
  text.replace(/Z-(\d+\.?\d*)/g, (_, z: string) => `Z${(-Number(z) - by).toFixed(4)}`);

const shifted = (text: string, by: number): string =>
  text.replace(/\bX(-?\d+\.?\d*)/g, (_, x: string) => `X${(Number(x) + by).toFixed(4)}`);

/** The program without the longest of its ways in the wood. */
function withoutOneWay(text: string): string {
  const lines = text.split("\n");
  const starts = lines.flatMap((l, i) => (/^(N\d+ )?G0? ?.*X/.test(l) && !/Z/.test(l) && /G0\b/.test(l) ? [i] : []));
  let [from, to] = [0, 0];
  for (const [k, a] of starts.entries()) {
    const b = starts[k + 1];
    if (k > 0 && b !== undefined && b - a > to - from) [from, to] = [a, b];
  }
  if (to === 0) throw new Error("no way was found to leave out");
  return [...lines.slice(0, from), ...lines.slice(to)].join("\n");
}

describe("a V-groove's proof", () => {
  let board: MarkedBoard;
  let area: Region;
  beforeAll(() => {
    board = markedBoard(letters("re", 9));
    area = board.planned.setUp.target.cavities[0]!.section;
  });

  it("passes what is planned, and says by how much", () => {
    const proof = proofOf(board, board.text);
    expect(refusalCodes(proof)).toEqual([]);
    const figures = Object.entries(proof.figures).filter(([name]) => name.startsWith("V-groove: board, name"));
    expect(figures.map(([name]) => name.split(", ").at(-1))).toEqual([
      "beyond a side",
      "short of a side",
      "floor left",
    ]);
    for (const [, f] of figures) expect(f.value + f.bound).toBeLessThanOrEqual(0.01);
  });

  it("agrees with a referee that looks at places: nowhere too deep or too shallow by 0.02 mm", () => {
    const depth = sweptDepth(board.text, board);
    const r = inside(area);
    const xs = regionSegments(area).map((s) => s.from.x);
    const ys = regionSegments(area).map((s) => s.from.y);
    const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
    let state = 7;
    const next = (): number => {
      state = (state * 48271) % 2147483647;
      return state / 2147483647;
    };
    let looked = 0;
    for (let k = 0; k < 500; k++) {
      const p = { x: x0 + (x1 - x0) * next(), y: y0 + (y1 - y0) * next() };
      const own = r(p);
      const deep = depth(p);
      // Outside the outlines no wood may go; within, never deeper than the wall comes down.
      expect(deep).toBeLessThanOrEqual(Math.max(0, own) / TAN + 0.02);
      if (own <= 0) continue;
      looked++;
      // The tip's flat may stand anywhere within its radius of here: the best of those sets the ideal depth.
      let best = own;
      for (let a = 0; a < 12; a++) {
        const q = { x: p.x + TIP * Math.cos((a * Math.PI) / 6), y: p.y + TIP * Math.sin((a * Math.PI) / 6) };
        best = Math.max(best, r(q));
      }
      expect(deep).toBeGreaterThanOrEqual((best - TIP) / TAN - 0.02);
    }
    expect(looked).toBeGreaterThan(50);
  });

  it("refuses depths 0.05 mm off, a path shifted by 0.05 mm, and a way left out", () => {
    expect(refusalCodes(proofOf(board, lowered(board.text, 0.05)))).toContain("proof-v-groove-wide");
    expect(refusalCodes(proofOf(board, lowered(board.text, -0.05)))).toContain("proof-v-groove-shallow");
    expect(refusalCodes(proofOf(board, shifted(board.text, 0.05)))).toContain("proof-v-groove-wide");
    expect(refusalCodes(proofOf(board, withoutOneWay(board.text)))).toContain("proof-v-groove-shallow");
  });

  it("refuses a program made for a bit of another angle or a blunter tip", () => {
    const steeper = markedBoard(letters("re", 9), (text) => text.replace("angle: 60 deg", "angle: 64 deg"));
    expect(refusalCodes(proofOf(board, steeper.text))).not.toEqual([]);
    const blunter = markedBoard(letters("re", 9), (text) => text.replace("tip flat: 0.1 ", "tip flat: 0.16 "));
    expect(refusalCodes(proofOf(board, blunter.text))).toContain("proof-v-groove-shallow");
  });

  it("passes a floor at the cap, and refuses one with passes too far apart or none", () => {
    const capped = markedBoard(letters("I", 8, "  deepest: 0.4"));
    expect(refusalCodes(proofOf(capped, capped.text))).toEqual([]);
    const { setUp, operations } = capped.planned;
    const sparse = operations.map((o) => (o.kind === "v-groove" ? { ...o, floorRidge: 0.4 } : o));
    expect(refusalCodes(proofOf(capped, written({ setUp, operations: sparse })))).toContain("proof-v-groove-shallow");
    const deeper = operations.map((o) => (o.kind === "v-groove" ? { ...o, cap: 0.45 } : o));
    expect(refusalCodes(proofOf(capped, written({ setUp, operations: deeper })))).not.toEqual([]);
    const higher = operations.map((o) => (o.kind === "v-groove" ? { ...o, cap: 0.35 } : o));
    expect(refusalCodes(proofOf(capped, written({ setUp, operations: higher })))).toContain("proof-v-groove-shallow");
  });
});

describe("a V-groove's wide floor", () => {
  const leaf = (...more: readonly string[]): readonly string[] => [
    "- mark: leaf",
    "  drawing: leaf.svg",
    "  id: leaf",
    "  width: 40",
    "  centre at: 30 from first end, 20 from lower edge",
    "  made by: v groove",
    "  deepest: 1",
    ...more,
  ];

  it("is cleared by a flat bit where one gets in, and the V takes its border and corners", () => {
    const board = markedBoard(leaf());
    const { setUp, operations } = board.planned;
    expect(operations.map((o) => [o.kind, o.cutter.form.kind])).toEqual([
      ["clear", "flat"],
      ["v-groove", "v"],
    ]);
    expect(setUp.notes![0]!.why).toContain("in the floor's corners");
    expect(refusalCodes(proofOf(board, board.text))).toEqual([]);
    // Without the flat bit's part wood is left on the floor.
    const alone = operations.filter((o) => o.kind === "v-groove");
    expect(refusalCodes(proofOf(board, written({ setUp, operations: alone })))).toContain("proof-v-groove-shallow");
  });

  it("is the V's alone where the job names it", () => {
    const { operations } = markedBoard(leaf("  bit: V 60")).planned;
    expect(operations.map((o) => o.kind)).toEqual(["v-groove"]);
  });
});

describe("cut lines' proof", () => {
  const lines = (...more: readonly string[]): readonly string[] => [
    "- mark: name",
    "  text: 2 S",
    "  letters: script",
    "  cap height: 12",
    "  centre at: 30 from first end, 20 from lower edge",
    "  made by: cut line",
    "  depth: 0.5",
    ...more,
  ];

  it("passes lines by a V, a flat bit and a round nose", () => {
    for (const bit of ["V 60", "flat 3", "round-nose 6"]) {
      const board = markedBoard(lines(`  bit: ${bit}`));
      const proof = proofOf(board, board.text);
      expect(refusalCodes(proof)).toEqual([]);
      expect(proof.figures["cut line: board, name, beside it"]!.value).toBeLessThan(0.002);
      expect(proof.figures["cut line: board, name, left"]!.value).toBeLessThan(0.002);
    }
  });

  it("takes the bit that cuts the finest line, and refuses depth, shift and a stretch left out", () => {
    const board = markedBoard(lines());
    expect(board.planned.setUp.cutters.map((c) => c.name)).toEqual(["V 60"]);
    expect(refusalCodes(proofOf(board, lowered(board.text, 0.05)))).toContain("proof-gouge");
    expect(refusalCodes(proofOf(board, lowered(board.text, -0.05)))).toContain("proof-line-shallow");
    expect(refusalCodes(proofOf(board, shifted(board.text, 0.05)))).toEqual(
      expect.arrayContaining(["proof-line-shallow", "proof-line-strayed"]),
    );
    expect(refusalCodes(proofOf(board, withoutOneWay(board.text)))).toContain("proof-line-shallow");
  });
});

const um = (low: number, high: number) => fc.integer({ min: low * 1000, max: high * 1000 }).map((n) => n / 1000);
const spot = fc.record({ x: um(-5, 5), y: um(-5, 5) });

describe("closed forms", () => {
  it("the peak of need over distance is no less than any place's, and some place's", () => {
    fc.assert(
      fc.property(spot, spot, um(0, 3), um(0, 3), spot, spot, (p, q, m, n, a, b) => {
        const peak = peakOver({ ...p, need: m }, { ...q, need: n }, line(a, b));
        let most = Number.NEGATIVE_INFINITY;
        for (let k = 0; k <= 400; k++) {
          const t = k / 400;
          const at = { x: p.x + t * (q.x - p.x), y: p.y + t * (q.y - p.y) };
          most = Math.max(most, m + t * (n - m) - distanceToPoint(line(a, b), at));
        }
        expect(peak).toBeGreaterThanOrEqual(most - 1e-9);
        // Between two places looked at neither need nor distance changes by more than half their share of the way.
        expect(peak).toBeLessThanOrEqual(most + (Math.hypot(q.x - p.x, q.y - p.y) + Math.abs(n - m)) / 800 + 1e-9);
      }),
      { numRuns: 60 },
    );
  });

  it("a stroke's reach likewise", () => {
    fc.assert(
      fc.property(spot, spot, um(0, 3), um(0, 3), spot, (p, q, m, n, at) => {
        const reach = reachOf({ a: { ...p, need: m }, b: { ...q, need: n }, slack: 0 }, at);
        let most = Number.NEGATIVE_INFINITY;
        for (let k = 0; k <= 400; k++) {
          const t = k / 400;
          const away = Math.hypot(p.x + t * (q.x - p.x) - at.x, p.y + t * (q.y - p.y) - at.y);
          most = Math.max(most, m + t * (n - m) - away);
        }
        expect(reach).toBeGreaterThanOrEqual(most - 1e-9);
        expect(reach).toBeLessThanOrEqual(most + (Math.hypot(q.x - p.x, q.y - p.y) + Math.abs(n - m)) / 800 + 1e-9);
      }),
      { numRuns: 60 },
    );
  });
});
