import { describe, expect, it } from "vitest";
import { drawText } from "../../../src/shapes/lettering/draw-text.ts";
import { HERSHEY_NOTICE } from "../../../src/shapes/lettering/notice.ts";
import { STROKE_FACES, strokeFace } from "../../../src/shapes/lettering/stroke-face.ts";
import { extentOf, type SetLine, type Typeface } from "../../../src/shapes/lettering/typeface.ts";

const upright = strokeFace("upright");

function line(face: Typeface, text: string): SetLine {
  const set = face.setLine(text, true);
  if (!set.ok) throw new Error(set.findings[0]!.what);
  return set.value;
}

function strokesOf(face: Typeface, text: string) {
  return line(face, text).glyphs.flatMap((g) =>
    g.ink.kind === "strokes" ? g.ink.strokes.map((s) => s.map((p) => ({ x: p.x + g.pen, y: p.y }))) : [],
  );
}

describe("the upright face", () => {
  it("sets 'ABC 2026' with the data's own advance, box, pen-downs and length", () => {
    const strokes = strokesOf(upright, "ABC 2026");
    expect(line(upright, "ABC 2026").advance).toBe(156);
    // In the data Y grows down from −12 at the top of a capital to 9 at its foot.
    expect(extentOf(strokes.flat())).toEqual({ minX: 1, maxX: 153, minY: 0, maxY: 21 });
    expect(strokes).toHaveLength(11);
    const drawn = drawText(
      upright,
      {
        text: "ABC 2026",
        size: { by: "cap height", mm: 5 },
        align: "left",
        letterSpacing: 0,
        lineSpacing: 1.8,
        standing: "first baseline",
        place: { kind: "line", at: { x: 0, y: 0 }, turnedDeg: 0 },
      },
      { tolerance: 0.01, made: "lines" },
    );
    if (!drawn.ok || drawn.value.kind !== "strokes") throw new Error("no strokes");
    expect(drawn.value.strokeLength).toBeCloseTo(97.9856, 4);
    expect((drawn.value.strokeLength * 21) / 5).toBeCloseTo(411.5397, 4);
    expect(drawn.value.lines[0]!.advance).toBeCloseTo(37.1429, 4);
  });

  it("draws A as the data has it", () => {
    expect(strokesOf(upright, "A").map((s) => s.map((p) => [p.x - 9, 9 - p.y]))).toEqual([
      [
        [0, -12],
        [-8, 9],
      ],
      [
        [0, -12],
        [8, 9],
      ],
      [
        [-5, 2],
        [5, 2],
      ],
    ]);
  });
});

/** Latin letters of the languages of Europe, and signs, beyond ASCII. */
const LETTERS =
  "ÀÁÂÃÄÅÇÈÉÊËÌÍÎÏÑÒÓÔÕÖÙÚÛÜÝàáâãäåçèéêëìíîïñòóôõöùúûüýÿŸĀāĂăĄąĆćĈĉĊċČčĎďĒēĔĕĖėĘęĚěĜĝĞğĠġĢģĤĥĨĩĪīĬĭĮįİıĴĵĶķĹĺĻļĽľŁłŃńŅņŇňŌōŎŏŐőŒœŔŕŖŗŘřŚśŜŝŞşŠšŢţŤťŨũŪūŬŭŮůŰűŲųŴŵŶŷŹźŻżŽžȘșȚțÆæØøßẞÐðĐđÞþ";
const SIGNS = "–—’‘“”„‚«»‹›…€°×÷±·•¡¿−";

describe.each(STROKE_FACES)("the %s face beyond ASCII", (name) => {
  const face = strokeFace(name);

  it("draws every printable ASCII character", () => {
    for (let code = 33; code < 127; code++) {
      const strokes = strokesOf(face, String.fromCharCode(code));
      expect(strokes.length).toBeGreaterThan(0);
    }
  });

  it("has every accented Latin letter and the usual signs", () => {
    const missing = [...LETTERS, ...SIGNS].filter((c) => !face.setLine(c, true).ok);
    expect(missing).toEqual([]);
    const blank = [...LETTERS, ...SIGNS].filter((c) => strokesOf(face, c).length === 0);
    expect(blank).toEqual([]);
  });

  it("keeps the base letter under its accent, and the accent off it", () => {
    for (const c of [..."ÉÈÊËÃÅŐČéèêëãåőč"]) {
      const base = strokesOf(face, c.normalize("NFD")[0]!);
      const whole = strokesOf(face, c);
      expect(whole.slice(0, base.length)).toEqual(base);
      const [letter, mark] = [extentOf(base.flat())!, extentOf(whole.slice(base.length).flat())!];
      expect(mark.minY).toBeGreaterThanOrEqual(letter.maxY + 1);
      expect(mark.maxY).toBeLessThanOrEqual(letter.maxY + 8);
      expect(mark.minX).toBeGreaterThan(letter.minX - 6);
      expect(mark.maxX).toBeLessThan(letter.maxX + 8);
    }
  });

  it("takes the dot from an i under an accent", () => {
    expect(strokesOf(face, "í")).toHaveLength(strokesOf(face, "i").length);
    expect(strokesOf(face, "ı")).toHaveLength(strokesOf(face, "i").length - 1);
    expect(strokesOf(face, "į").length).toBe(strokesOf(face, "i").length + 1);
  });

  it("hangs a cedilla and an ogonek below the line", () => {
    for (const c of "çşąęĘ") expect(extentOf(strokesOf(face, c).flat())!.minY).toBeLessThanOrEqual(-5);
  });

  it("is alike however accents are typed", () => {
    expect(line(face, LETTERS.normalize("NFD"))).toEqual(line(face, LETTERS));
  });

  it("refuses by name what it lacks, all at once", () => {
    const set = face.setLine("Жa漢Ж", true);
    expect(set.findings.map((f) => f.code)).toEqual(["lettering-character-missing"]);
    expect(set.findings[0]!.what).toContain("“Ж” (U+0416), “漢” (U+6F22)");
  });
});

it("carries the acknowledgement", () => {
  for (const word of ["A. V. Hershey", "National Bureau of Standards", "James Hurt", "Cognition, Inc."]) {
    expect(HERSHEY_NOTICE).toContain(word);
  }
});
