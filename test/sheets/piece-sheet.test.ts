import { describe, expect, it } from "vitest";
import { holdingKit } from "../../src/parts/holding-kit/kit.ts";
import { lossPerHalf, solidOf, type TurnedPiece } from "../../src/parts/turned-piece.ts";
import { type WallMap, wallMap } from "../../src/parts/walls/wall-map.ts";
import { slot } from "../../src/shapes/outlines.ts";
import { orderOfWork } from "../../src/sheets/piece-order.ts";
import { drawPieceSheet } from "../../src/sheets/piece-sheet.ts";
import { SPLITTING_CAUTIONS, TURNING_CAUTIONS, turnedWorkCautions } from "../../src/sheets/turning-cautions.ts";
import { room, tenonPull, waistPull } from "../parts/turned-sample.ts";

/** Walls of a piece under a law that holds; what a map says is tested beside it. */
function wallsOf(piece: TurnedPiece): WallMap {
  const whole = solidOf(piece);
  const back = piece.fingerRoom?.cut === "back";
  const solid = back ? { ...whole, flatTop: whole.axis.z - lossPerHalf(piece.split!).most } : whole;
  const law = { leastWall: 1, lipAngleDeg: 10 };
  return wallMap(solid, piece.fingerRoom!, law, { step: 2, split: piece.split!, want: "map" });
}

const WALLS = { crown: wallsOf(waistPull()), back: wallsOf(tenonPull()) };

function sheetOf(piece: TurnedPiece): string {
  const kit = holdingKit(piece);
  return drawPieceSheet({
    jobTitle: "Spice cabinet",
    piece,
    ...(kit.ok ? { kit: kit.value } : {}),
    walls: WALLS[piece.fingerRoom!.cut],
    findings: kit.findings,
  });
}

/** What a sheet says, each row of text as it stands. */
function rowsOf(
  svg: string,
): readonly { readonly x: number; readonly y: number; readonly size: number; readonly said: string }[] {
  return [...svg.matchAll(/<text x="([-\d.]+)" y="([-\d.]+)"(?: font-size="([\d.]+)")?[^>]*>([^<]*)<\/text>/g)].map(
    (m) => ({
      x: Number(m[1]),
      y: Number(m[2]),
      size: Number(m[3] ?? 3.2),
      said: m[4]!.replace(/&(quot|amp|lt|gt);/g, "*"),
    }),
  );
}

describe("the sheet of a turned piece", () => {
  const samples = [
    waistPull(),
    tenonPull(),
    waistPull({ fingerRoom: room(62, { section: slot({ x: 62, y: 0 }, 40, 18, 0) }) }),
  ];

  it("is true to scale and draws the meridian itself, arcs as arcs", () => {
    const svg = sheetOf(waistPull());
    const m = /width="([\d.]+)mm" height="([\d.]+)mm" viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg)!;
    expect([m[1], m[2]]).toEqual([m[3], m[4]]);
    // The cove's and the beads' radii: (24² + 6²) / 12 and (6² + 2²) / 4.
    expect(svg).toContain("A51 51 0 0 0 ");
    expect(svg).toContain("A10 10 0 0 1 ");
    expect(svg).toMatch(/x1="14" y1="[\d.]+" x2="114"/);
  });

  it("is the same bytes twice", () => {
    for (const piece of samples) expect(sheetOf(piece)).toBe(sheetOf(piece));
  });

  it("keeps every row of text within the page and off every other row", () => {
    for (const piece of samples) {
      const svg = sheetOf(piece);
      const [width, height] = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg)!.slice(1).map(Number) as [number, number];
      const rows = rowsOf(svg);
      expect(rows.length).toBeGreaterThan(40);
      for (const [i, a] of rows.entries()) {
        const right = a.x + a.said.length * a.size * 0.56;
        expect(right, a.said).toBeLessThanOrEqual(width);
        expect(a.y).toBeLessThan(height);
        for (const b of rows.slice(i + 1)) {
          const apart = Math.abs(a.y - b.y) >= Math.min(a.size, b.size) * 0.95;
          const beside = right <= b.x + 0.01 || b.x + b.said.length * b.size * 0.56 <= a.x + 0.01;
          expect(apart || beside, `${a.said} | ${b.said}`).toBe(true);
        }
      }
    }
  });

  it("carries every caution, the splitting ones where it is split", () => {
    const flat = (svg: string): string =>
      rowsOf(svg)
        .map((r) => r.said)
        .join(" ");
    const said = flat(sheetOf(waistPull()));
    for (const c of [...TURNING_CAUTIONS, ...SPLITTING_CAUTIONS]) expect(said).toContain(c);
    const { split: _, fingerRoom: __, ...whole } = waistPull();
    const plain = flat(drawPieceSheet({ jobTitle: "t", piece: whole, findings: [] }));
    for (const c of TURNING_CAUTIONS) expect(plain).toContain(c);
    for (const c of SPLITTING_CAUTIONS) expect(plain).not.toContain(c);
  });

  it("covers what turned work needs cautions for", () => {
    const all = turnedWorkCautions(true).join(" ");
    for (const word of [
      /cracks.*knots/,
      /by hand first/,
      /rest close/,
      /out of the line/,
      /rest off for sanding/,
      /never a cloth/,
      /cradle/,
    ]) {
      expect(all).toMatch(word);
    }
  });

  it("draws a mirror pair where the halves differ, and none where they are alike", () => {
    expect(sheetOf(samples[2]!)).toContain("a mirror pair");
    expect(sheetOf(samples[0]!)).not.toContain("a mirror pair: on");
  });

  it("lets no name out of its text", () => {
    expect(sheetOf(waistPull({ name: "<b>\u0000&", wood: "]]>" }))).not.toMatch(/<b>|\u0000/);
  });

  it("has a line to write each reading on for a hand-turned blank", () => {
    const svg = sheetOf(tenonPull());
    expect(svg.match(/planned/g)).toHaveLength(8);
    expect(sheetOf(waistPull())).not.toContain("planned");
  });
});

describe("the order of work", () => {
  it("hollows from the crown before the split, and the flat backs after it", () => {
    const names = (piece: TurnedPiece): readonly string[] => orderOfWork(piece, undefined).map((s) => s.name);
    expect(names(waistPull())).toEqual(["Blank", "Turn", "Hollow", "Split", "Finish"]);
    expect(names(tenonPull())).toEqual(["Blank", "Turn", "Split", "Hollow", "Finish"]);
    const { split: _, fingerRoom: __, ...whole } = waistPull();
    expect(names(whole)).toEqual(["Blank", "Turn"]);
  });

  it("stops a hand-turned blank for readings before it is hollowed, until they have been given", () => {
    const said = (piece: TurnedPiece): string =>
      orderOfWork(piece, undefined)
        .flatMap((s) => s.steps)
        .join(" ");
    expect(said(tenonPull())).toContain("Stop and measure");
    expect(said(tenonPull({ asTurned: true }))).not.toContain("Stop and measure");
    expect(said(waistPull())).not.toContain("Stop and measure");
  });

  it("names the files where there are any", () => {
    const stages = orderOfWork(waistPull(), undefined, { turning: "01-turn.nc", hollowing: ["02-hollow.nc"] });
    const said = stages.flatMap((s) => s.steps).join(" ");
    expect(said).toContain("01-turn.nc");
    expect(said).toContain("Programs: 02-hollow.nc.");
  });
});
