import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { drawText } from "../../../src/shapes/lettering/draw-text.ts";
import { layText, MOST_CHARACTERS, type TextLayout, type TextPlace } from "../../../src/shapes/lettering/layout.ts";
import { strokeFace } from "../../../src/shapes/lettering/stroke-face.ts";
import { extentOf, type Typeface } from "../../../src/shapes/lettering/typeface.ts";
import type { Point } from "../../../src/shapes/point.ts";
import { faceOf } from "./fonts.ts";

const upright = strokeFace("upright");
const script = strokeFace("script");
const sans = faceOf("sans");

const usual: TextLayout = {
  text: "Tea",
  size: { by: "cap height", mm: 5 },
  align: "left",
  letterSpacing: 0,
  lineSpacing: 1.8,
  standing: "first baseline",
  place: { kind: "line", at: { x: 0, y: 0 }, turnedDeg: 0 },
};

function laid(face: Typeface, layout: Partial<TextLayout>) {
  const found = layText(face, { ...usual, ...layout });
  if (!found.ok) throw new Error(found.findings[0]!.what);
  return found.value;
}

function strokes(layout: Partial<TextLayout>, face = upright): readonly (readonly Point[])[] {
  const found = drawText(face, { ...usual, ...layout }, { tolerance: 0.01, made: "lines" });
  if (!found.ok || found.value.kind !== "strokes") throw new Error("no strokes");
  return found.value.strokes;
}

const box = (layout: Partial<TextLayout>, face = upright) => extentOf(strokes(layout, face).flat())!;

const um = (least: number, most: number) => fc.integer({ min: least * 1000, max: most * 1000 }).map((v) => v / 1000);
const words = fc.stringMatching(/^[A-Za-z][A-Za-z ]{0,12}[A-Za-z]$/);
const faces = fc.constantFrom<Typeface>(upright, script, sans);

describe("size", () => {
  it("by cap height scales every length alike", () => {
    fc.assert(
      fc.property(faces, words, um(1, 60), (face, text, mm) => {
        const one = laid(face, { text, size: { by: "cap height", mm: 1 } });
        const many = laid(face, { text, size: { by: "cap height", mm } });
        expect(many.capHeight).toBeCloseTo(mm, 10);
        many.glyphs.forEach((g, i) => {
          expect(g.scale).toBeCloseTo(one.glyphs[i]!.scale * mm, 10);
          expect(g.at.x).toBeCloseTo(one.glyphs[i]!.at.x * mm, 8);
          expect(g.at.y).toBeCloseTo(one.glyphs[i]!.at.y * mm, 8);
        });
      }),
      { numRuns: 60 },
    );
  });

  it("by cap height makes H that high", () => {
    for (const mm of [1, 2.5, 7, 33])
      expect(box({ text: "H", size: { by: "cap height", mm } }).maxY).toBeCloseTo(mm, 12);
  });

  it("by width fills it with the longest line's ink, letter spacing included", () => {
    fc.assert(
      fc.property(words, words, um(5, 200), fc.integer({ min: -5, max: 30 }), (a, b, mm, spacing) => {
        const wide = { text: `${a}\n${b}`, size: { by: "width", mm }, letterSpacing: spacing / 100 } as const;
        const lengths = laid(upright, wide).lines.map((l) => l.ink);
        expect(Math.max(...lengths)).toBeCloseTo(mm, 9);
        const b2 = box(wide);
        expect(b2.maxX - b2.minX).toBeCloseTo(mm, 9);
      }),
      { numRuns: 60 },
    );
  });
});

describe("spacing and alignment", () => {
  it("adds the spacing between letters, and none for a mark", () => {
    const plain = laid(upright, { text: "ÉTÉ" });
    const apart = laid(upright, { text: "E\u0301TE\u0301", letterSpacing: 0.2 });
    expect(apart.lines[0]!.ink - plain.lines[0]!.ink).toBeCloseTo(2 * 0.2 * 5, 10);
    expect(apart.lines[0]!.advance - plain.lines[0]!.advance).toBeCloseTo(2 * 0.2 * 5, 10);
  });

  it("keeps the ink at the place asked for, line by line", () => {
    const text = "Cumin\nA";
    for (const [align, pick] of [
      ["left", (b: { minX: number; maxX: number }) => b.minX],
      ["centre", (b: { minX: number; maxX: number }) => (b.minX + b.maxX) / 2],
      ["right", (b: { minX: number; maxX: number }) => b.maxX],
    ] as const) {
      const drawn = strokes({ text, align, place: { kind: "line", at: { x: 30, y: 40 }, turnedDeg: 0 } });
      const first = drawn.filter((s) => s[0]!.y >= 40 - 1e-9).flat();
      const second = drawn.filter((s) => s[0]!.y < 40 - 1e-9).flat();
      expect(pick(extentOf(first)!)).toBeCloseTo(30, 10);
      expect(pick(extentOf(second)!)).toBeCloseTo(30, 10);
    }
  });

  it("stands on its first or last baseline, or on the middle", () => {
    const text = "H\nH\nH";
    expect(box({ text }).maxY).toBeCloseTo(5, 12);
    expect(box({ text }).minY).toBeCloseTo(-18, 12);
    expect(box({ text, standing: "last baseline" }).minY).toBeCloseTo(0, 12);
    const b = box({ text, standing: "middle" });
    expect(b.maxY + b.minY).toBeCloseTo(0, 12);
  });

  it("leaves room for an empty line", () => {
    expect(box({ text: "H\n\nH" }).minY).toBeCloseTo(-18, 12);
  });

  it("turned about its place, is the flat text turned", () => {
    fc.assert(
      fc.property(words, fc.integer({ min: -180, max: 180 }), um(-50, 50), um(-50, 50), (text, turnedDeg, x, y) => {
        const flat = strokes({ text, align: "centre" });
        const turned = strokes({ text, align: "centre", place: { kind: "line", at: { x, y }, turnedDeg } });
        const [c, s] = [Math.cos((turnedDeg * Math.PI) / 180), Math.sin((turnedDeg * Math.PI) / 180)];
        flat.flat().forEach((p, i) => {
          const q = turned.flat()[i]!;
          expect(q.x).toBeCloseTo(x + p.x * c - p.y * s, 8);
          expect(q.y).toBeCloseTo(y + p.x * s + p.y * c, 8);
        });
      }),
      { numRuns: 40 },
    );
  });
});

describe("along an arc", () => {
  const arcs = fc.record({
    kind: fc.constant("arc" as const),
    centre: fc.record({ x: um(-100, 100), y: um(-100, 100) }),
    radius: um(40, 300),
    atDeg: fc.integer({ min: -180, max: 180 }),
    side: fc.constantFrom("outside" as const, "inside" as const),
  });

  /** The middle of a letter's advance on its baseline, in place. */
  const foot = (face: Typeface, text: string, place: TextPlace) => {
    const flat = laid(face, { text, align: "centre" });
    const bent = laid(face, { text, align: "centre", place });
    return bent.glyphs.map((g, i) => {
      const back = { x: flat.glyphs[i]!.along - flat.glyphs[i]!.at.x, y: -flat.glyphs[i]!.at.y };
      const [c, s] = [Math.cos(g.turnRad), Math.sin(g.turnRad)];
      return { x: g.at.x + back.x * c - back.y * s, y: g.at.y + back.x * s + back.y * c, along: flat.glyphs[i]!.along };
    });
  };

  it("letters stand on the circle, at their true length along it, upright on it", () => {
    fc.assert(
      fc.property(faces, words, arcs, (face, text, place) => {
        const way = place.side === "outside" ? -1 : 1;
        for (const p of foot(face, text, place)) {
          expect(Math.hypot(p.x - place.centre.x, p.y - place.centre.y)).toBeCloseTo(place.radius, 8);
          const angle = (place.atDeg * Math.PI) / 180 + (way * p.along) / place.radius;
          expect(p.x).toBeCloseTo(place.centre.x + place.radius * Math.cos(angle), 7);
          expect(p.y).toBeCloseTo(place.centre.y + place.radius * Math.sin(angle), 7);
        }
      }),
      { numRuns: 60 },
    );
  });

  it("keeps every letter's shape, and so the length of all strokes", () => {
    fc.assert(
      fc.property(words, arcs, (text, place) => {
        const length = (layout: Partial<TextLayout>): number => {
          const found = drawText(upright, { ...usual, ...layout }, { tolerance: 0.01, made: "lines" });
          return found.ok && found.value.kind === "strokes" ? found.value.strokeLength : Number.NaN;
        };
        expect(length({ text, place })).toBeCloseTo(length({ text }), 7);
      }),
      { numRuns: 40 },
    );
  });

  it("outside: tops away from the centre, read clockwise; inside: towards it, the other way", () => {
    const at = (side: "outside" | "inside", atDeg: number) =>
      strokes({
        text: "LL",
        align: "centre",
        place: { kind: "arc", centre: { x: 0, y: 0 }, radius: 50, atDeg, side },
      }).flat();
    const over = at("outside", 90);
    expect(Math.max(...over.map((p) => Math.hypot(p.x, p.y)))).toBeGreaterThan(54.9);
    expect(over[0]!.x).toBeLessThan(0);
    const under = at("inside", 270);
    expect(Math.min(...under.map((p) => Math.hypot(p.x, p.y)))).toBeLessThan(45.2);
    expect(under[0]!.x).toBeLessThan(0);
    expect(under[0]!.y).toBeGreaterThan(under[1]!.y);
  });

  it("puts further lines where they read on", () => {
    const radii = (side: "outside" | "inside") =>
      laid(upright, { text: "H\nH", place: { kind: "arc", centre: { x: 0, y: 0 }, radius: 50, atDeg: 90, side } });
    const far = (g: { at: Point }) => Math.hypot(g.at.x, g.at.y);
    const [a, b] = radii("outside").glyphs;
    const [c, d] = radii("inside").glyphs;
    expect(far(a!) - far(b!)).toBeGreaterThan(8.5);
    expect(far(d!) - far(c!)).toBeGreaterThan(8.5);
  });

  it("refuses what goes more than once round, naming a radius that works", () => {
    const place = { kind: "arc", centre: { x: 0, y: 0 }, radius: 10, atDeg: 90, side: "outside" } as const;
    const text = "a text much too long for a ring";
    const found = layText(upright, { ...usual, text, place });
    expect(found.findings[0]!.code).toBe("lettering-does-not-fit");
    const named = Number(/radius of ([\d.]+) mm/.exec(found.findings[0]!.mend!)![1]);
    expect(layText(upright, { ...usual, text, place: { ...place, radius: named + 0.01 } }).ok).toBe(true);
  });

  it("refuses letters that reach the centre", () => {
    const place = { kind: "arc", centre: { x: 0, y: 0 }, radius: 4, atDeg: 90, side: "inside" } as const;
    expect(layText(upright, { ...usual, text: "I", place }).findings[0]!.code).toBe("lettering-does-not-fit");
    const second = { ...place, side: "outside", radius: 8 } as const;
    expect(layText(upright, { ...usual, text: "I\nI", place: second }).findings[0]!.what).toMatch(/^line 2/);
  });
});

describe("refusals", () => {
  const code = (layout: Partial<TextLayout>) => layText(upright, { ...usual, ...layout }).findings.map((f) => f.code);
  it("says what is wrong with the text", () => {
    expect(code({ text: "" })).toEqual(["lettering-empty"]);
    expect(code({ text: " \n " })).toEqual(["lettering-empty"]);
    expect(code({ text: "a".repeat(MOST_CHARACTERS + 1) })).toEqual(["lettering-too-long"]);
    expect(code({ text: "l", size: { by: "width", mm: 10 } })).toEqual(["lettering-does-not-fit"]);
    expect(code({ text: "Ж\nÖ\n漢" })).toEqual(["lettering-character-missing", "lettering-character-missing"]);
    expect(code({ text: "abc", size: { by: "cap height", mm: 1e7 } })).toEqual(["lettering-does-not-fit"]);
  });

  it("takes sizes that are no size for our own fault", () => {
    expect(() => layText(upright, { ...usual, size: { by: "cap height", mm: 0 } })).toThrow(RangeError);
    expect(() => layText(upright, { ...usual, lineSpacing: Number.NaN })).toThrow(RangeError);
  });
});
