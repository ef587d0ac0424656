import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { printFinding } from "../../src/finding.ts";
import { type DrawingChoice, readDrawing } from "../../src/shapes/drawing.ts";
import type { Point } from "../../src/shapes/point.ts";
import {
  areaOf,
  boundsOfRegion,
  containsPoint,
  distanceToBoundary,
  type Region,
  regionSegments,
} from "../../src/shapes/region.ts";
import { radiusOf } from "../../src/shapes/segment.ts";

/** A page of 100 × 50 mm in which 1 unit is 1 mm. */
const PAGE = 'width="100mm" height="50mm" viewBox="0 0 100 50"';
const svg = (body: string, attributes = PAGE): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" ${attributes}>\n  ${body}\n</svg>\n`;

function read(text: string, choice: Partial<DrawingChoice> = {}): Region {
  const outcome = readDrawing(text, { file: "leaf.svg", ...choice });
  if (!outcome.ok) throw new Error(outcome.findings.map(printFinding).join("\n"));
  return outcome.value;
}

function refusal(
  text: string,
  choice: Partial<DrawingChoice> = {},
): { code: string; line: number; column: number; text: string } {
  const outcome = readDrawing(text, { file: "leaf.svg", ...choice });
  expect(outcome.ok).toBe(false);
  expect(outcome.findings).toHaveLength(1);
  const f = outcome.findings[0]!;
  expect(f.grade).toBe("refuse");
  expect(f.mend).toBeTruthy();
  const s = f.place.source!;
  return { code: f.code, line: s.line, column: s.column, text: printFinding(f) };
}

const kinds = (r: Region): string => r.loops.map((l) => l.map((s) => s.kind[0]).join("")).join(" ");

describe("shapes", () => {
  it.each<[string, string, number, string]>([
    ["circle", '<circle cx="10" cy="10" r="5"/>', 25 * Math.PI, "aa"],
    [
      "circle of arcs in a path, flags run together",
      '<path d="M10 10a5 5 0 1010 0 5 5 0 10-10 0z"/>',
      25 * Math.PI,
      "aa",
    ],
    ["rectangle", '<rect x="1" y="2" width="10" height="6"/>', 60, "llll"],
    ["rounded rectangle, one radius given", '<rect width="10" height="6" rx="2"/>', 60 - 16 + 4 * Math.PI, "alalalal"],
    ["rectangle with radii too large", '<rect width="10" height="6" rx="2cm" ry="9"/>', 15 * Math.PI, ""],
    ["polygon", '<polygon points="0,0 10,0 10,10,0 10"/>', 100, "llll"],
    ["polyline that ends where it began", '<polyline points="0 0 10 0 10 10 0 0"/>', 50, "lll"],
    ["relative lines, repeated without letters", '<path d="m5 5 10 0 0 10-10 0z"/>', 100, "llll"],
    ["h, v and compact numbers", '<path d="M1.5.5h10v.5e1H1.5z"/>', 50, "llll"],
    ["closed by coming back", '<path d="M0 0L10 0 10 10 0 0"/>', 50, "lll"],
    ["M after z starts from the first point", '<path d="m0 0h10v10z m20 0h5v5h-5z"/>', 75, "lll llll"],
  ])("%s", (_, body, area, pieces) => {
    const region = read(svg(body));
    expect(Math.abs(areaOf(region) - area)).toBeLessThan(0.03);
    if (pieces !== "") {
      expect(kinds(region)).toBe(pieces);
      expect(areaOf(region)).toBeCloseTo(area, 9);
    }
  });

  it("loops close bit for bit", () => {
    const region = read(svg('<path d="M10 6C10 0 0 0 0 7C0 13 10 15 10 20C10 15 20 13 20 7C20 0 10 0 10 6z"/>'));
    for (const loop of region.loops) {
      for (const [i, s] of loop.entries()) expect(loop[(i + 1) % loop.length]!.from).toEqual(s.to);
    }
    expect(areaOf(region)).toBeGreaterThan(0);
  });
});

describe("curves keep within 1 µm", () => {
  const bezier = (a: Point, b: Point, c: Point, d: Point, t: number): Point => {
    const s = 1 - t;
    const w = [s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t] as const;
    return {
      x: w[0] * a.x + w[1] * b.x + w[2] * c.x + w[3] * d.x,
      y: w[0] * a.y + w[1] * b.y + w[2] * c.y + w[3] * d.y,
    };
  };
  const number = fc.integer({ min: 0, max: 40_000 }).map((n) => n / 1000);

  it("cubic curves", () => {
    let judged = 0;
    fc.assert(
      fc.property(number, number, number, number, number, (x1, y1, x2, y2, x3) => {
        const d = `M0 50 C${x1} ${50 - y1} ${x2} ${50 - y2} ${x3 + 1} 50`;
        const outcome = readDrawing(svg(`<path d="${d} L${x3 + 1} 60 L0 60Z"/>`), { file: "a.svg" });
        // Curves that loop or dip below their base cross something: they are refused, and judged elsewhere.
        if (!outcome.ok) return;
        judged++;
        for (let i = 0; i <= 500; i++) {
          const p = bezier({ x: 0, y: 0 }, { x: x1, y: y1 }, { x: x2, y: y2 }, { x: x3 + 1, y: 0 }, i / 500);
          expect(distanceToBoundary(outcome.value, p)).toBeLessThan(0.001);
        }
      }),
      { numRuns: 60 },
    );
    expect(judged).toBeGreaterThan(30);
  });

  it("quadratic and smooth curves, relative", () => {
    const region = read(svg('<path d="M0 40q10 -20 20 0t20 0v18h-40z"/>'));
    for (let i = 0; i <= 400; i++) {
      const t = i / 400;
      const p = { x: 20 * t, y: 10 + 40 * t * (1 - t) };
      expect(distanceToBoundary(region, p)).toBeLessThan(0.001);
      expect(distanceToBoundary(region, { x: 20 + 20 * t, y: 10 - 40 * t * (1 - t) })).toBeLessThan(0.001);
    }
  });

  it("ellipses, turned and skewed", () => {
    const region = read(svg('<ellipse transform="translate(50 25) rotate(30) skewX(20)" rx="20" ry="8"/>'));
    const [rad, tan] = [(30 * Math.PI) / 180, Math.tan((20 * Math.PI) / 180)];
    for (let i = 0; i < 1000; i++) {
      const t = (2 * Math.PI * i) / 1000;
      const y = 8 * Math.sin(t);
      const x = 20 * Math.cos(t) + tan * y;
      const p = { x: 50 + x * Math.cos(rad) - y * Math.sin(rad), y: 25 - (x * Math.sin(rad) + y * Math.cos(rad)) };
      expect(distanceToBoundary(region, p)).toBeLessThan(0.001);
    }
    expect(areaOf(region)).toBeCloseTo(160 * Math.PI, 0);
  });

  it("elliptic arcs of paths end where they say, radii grown when too small", () => {
    const region = read(svg('<path d="M10 25A20 10 30 0 1 50 25A1 1 0 0 1 10 25z"/>'));
    expect(kinds(region)).toMatch(/^a+$/);
    const half = regionSegments(region).filter((s) => s.kind === "arc" && Math.abs(radiusOf(s) - 20) < 1e-9);
    expect(half).toHaveLength(1);
  });

  it("a cusp is followed", () => {
    const region = read(svg('<path d="M0 40C30 10 0 10 30 40L30 48 0 48Z"/>'));
    for (let i = 0; i <= 500; i++) {
      const p = bezier({ x: 0, y: 10 }, { x: 30, y: 40 }, { x: 0, y: 40 }, { x: 30, y: 10 }, i / 500);
      expect(distanceToBoundary(region, p)).toBeLessThan(0.001);
    }
  });
});

describe("where it lies on the face", () => {
  it("reads as on the screen: Y up from the page's lower left corner, not mirrored", () => {
    // A letter L: upright on the left, foot to the right at the bottom.
    const region = read(svg('<path d="M10 10H15V35H30V40H10Z"/>'));
    expect(boundsOfRegion(region)).toEqual({ min: { x: 10, y: 10 }, max: { x: 30, y: 40 } });
    expect(containsPoint(region, { x: 12, y: 38 })).toBe(true);
    expect(containsPoint(region, { x: 28, y: 12 })).toBe(true);
    expect(containsPoint(region, { x: 28, y: 38 })).toBe(false);
  });

  it.each<[string, string, number]>([
    ["mm by viewBox", 'width="50mm" height="50mm" viewBox="0 0 100 100"', 5],
    ["cm", 'width="5cm" height="5cm" viewBox="0 0 100 100"', 5],
    ["in", 'width="2in" height="2in" viewBox="0 0 50.8 50.8"', 10],
    ["width alone", 'width="50mm" viewBox="0 0 100 100"', 5],
    ["height alone", 'height="50mm" viewBox="0 0 100 100"', 5],
    ["fitted into a page of other proportion", 'width="50mm" height="900mm" viewBox="0 0 100 100"', 5],
    ["mm without viewBox are pixels inside", 'width="50mm" height="50mm"', (10 * 25.4) / 96],
  ])("size: %s", (_, attributes, width) => {
    const outcome = readDrawing(svg('<rect width="10" height="10"/>', attributes), { file: "a.svg" });
    expect(outcome.findings).toEqual([]);
    if (outcome.ok) expect(areaOf(outcome.value)).toBeCloseTo(width * width, 9);
  });

  it.each([
    ['width="100" height="100"'],
    ['viewBox="0 0 10 10"'],
    ['width="100%" height="100%" viewBox="0 0 9 9"'],
    [""],
  ])("no unit (%s): pixels of 1/96 inch, and a note says so", (attributes) => {
    const outcome = readDrawing(svg('<rect width="96" height="96"/>', attributes), { file: "a.svg" });
    expect(outcome.findings.map((f) => [f.grade, f.code])).toEqual([["note", "drawing-unit-assumed"]]);
    if (outcome.ok && !attributes.startsWith('width="100"')) expect(areaOf(outcome.value)).toBeCloseTo(25.4 ** 2, 6);
  });

  it("places by viewBox origin, and centres what is fitted", () => {
    const moved = read(
      svg('<rect x="-5" y="-5" width="10" height="10"/>', 'width="20mm" height="20mm" viewBox="-10 -10 20 20"'),
    );
    expect(boundsOfRegion(moved)).toEqual({ min: { x: 5, y: 5 }, max: { x: 15, y: 15 } });
    const fitted = read(svg('<rect width="10" height="10"/>', 'width="40mm" height="20mm" viewBox="0 0 10 10"'));
    expect(boundsOfRegion(fitted)).toEqual({ min: { x: 10, y: 0 }, max: { x: 30, y: 20 } });
    const stretched = read(
      svg(
        '<rect width="10" height="10"/>',
        'width="40mm" height="20mm" viewBox="0 0 10 10" preserveAspectRatio="none"',
      ),
    );
    expect(boundsOfRegion(stretched)).toEqual({ min: { x: 0, y: 0 }, max: { x: 40, y: 20 } });
  });
});

describe("transforms", () => {
  it("nest from the outside in", () => {
    const region = read(
      svg('<g transform="translate(10,20)"><g transform="scale(2)"><rect x="1" y="1" width="3" height="2"/></g></g>'),
    );
    const box = boundsOfRegion(region)!;
    expect(box.min.x).toBeCloseTo(12, 9);
    expect(box.max.y).toBeCloseTo(50 - 22, 9);
    expect(areaOf(region)).toBeCloseTo(24, 9);
  });

  it("a turn about a point is a shift, a turn and a shift back", () => {
    const a = read(svg('<rect x="20" y="10" width="8" height="3" transform="rotate(33 24 12)"/>'));
    const b = read(
      svg('<rect x="20" y="10" width="8" height="3" transform="translate(24 12) rotate(33), translate(-24,-12)"/>'),
    );
    for (const [i, s] of regionSegments(a).entries()) {
      expect(s.from.x).toBeCloseTo(regionSegments(b)[i]!.from.x, 9);
      expect(s.from.y).toBeCloseTo(regionSegments(b)[i]!.from.y, 9);
    }
  });

  it("circles stay exact arcs through turns, shifts, even scales and mirrors, and become many when squeezed", () => {
    const similar = read(svg('<g transform="translate(50 20) rotate(37) scale(-1.5 1.5)"><circle r="8"/></g>'));
    expect(kinds(similar)).toBe("aa");
    expect(areaOf(similar)).toBeCloseTo(144 * Math.PI, 8);
    const squeezed = read(svg('<g transform="matrix(1 0 0 .5 50 20)"><circle r="8"/></g>'));
    expect(regionSegments(squeezed).length).toBeGreaterThan(8);
    expect(Math.abs(areaOf(squeezed) - 32 * Math.PI)).toBeLessThan(0.04);
  });

  it.each([
    ["turn(3)"],
    ["rotate(1,2)"],
    ["scale(0)"],
    ["matrix(1 2 3)"],
    ["translate(1e999)"],
    ["rotate(3"],
    ["skewX(90) x"],
  ])("refuses %s", (transform) => {
    const found = refusal(svg(`<circle r="3" transform="${transform}"/>`));
    expect(found.code).toBe("drawing-transform");
    expect([found.line, found.column]).toEqual([2, 28]);
  });
});

describe("holes", () => {
  const outer = "M0 0H20V20H0Z";
  it.each<[string, string, number]>([
    ["even-odd, drawn the same way round", `<path fill-rule="evenodd" d="${outer}M5 5H15V15H5Z"/>`, 300],
    ["even-odd in a style", `<path style="fill:red;fill-rule:evenodd" d="${outer}M5 5H15V15H5Z"/>`, 300],
    ["even-odd from the group", `<g fill-rule="evenodd"><path d="${outer}M5 5H15V15H5Z"/></g>`, 300],
    ["nonzero, the same way round: no hole", `<path d="${outer}M5 5H15V15H5Z"/>`, 400],
    ["nonzero, the other way round", `<path d="${outer}M5 5V15H15V5Z"/>`, 300],
    ["an island in the hole", `<path fill-rule="evenodd" d="${outer}M5 5H15V15H5ZM8 8H12V12H8Z"/>`, 316],
    ["drawn clockwise on the screen or not", `<path d="M0 0V20H20V0Z"/>`, 400],
  ])("%s", (_, body, area) => {
    const region = read(svg(body));
    expect(areaOf(region)).toBeCloseTo(area, 9);
    expect(containsPoint(region, { x: 2, y: 48 })).toBe(true);
  });
});

describe("choosing", () => {
  const two = svg(
    '<g class="all"><circle id="a" r="3" cx="5" cy="5"/><rect class="b c" id="r" x="20" width="4" height="4"/></g><path id="open" d="M0 0L5 5"/>',
  );

  it("by id, by class, by group, by both", () => {
    expect(areaOf(read(two, { id: "a" }))).toBeCloseTo(9 * Math.PI, 9);
    expect(areaOf(read(two, { class: "c" }))).toBeCloseTo(16, 9);
    expect(areaOf(read(two, { class: "all" }))).toBeCloseTo(16 + 9 * Math.PI, 9);
    expect(areaOf(read(two, { class: "all", id: "r" }))).toBeCloseTo(16, 9);
  });

  it("says what there is when the choice finds none or too many", () => {
    const none = refusal(two, { id: "leaf" });
    expect(none.code).toBe("drawing-no-such-outline");
    expect(none.text).toContain('id "leaf"');
    expect(none.text).toContain('circle id "a" (line 2, column 18)');
    const several = refusal(two);
    expect(several.code).toBe("drawing-several-outlines");
    expect(several.text).toContain('rect id "r" class "b c"');
    expect(refusal(two, { id: "open" }).code).toBe("drawing-open");
    const nothing = refusal(svg("<text>A</text>"));
    expect(nothing.code).toBe("drawing-nothing-usable");
    expect(nothing.text).toContain("found no path");
  });

  it("takes the one closed outline beside open ones, and passes over what isn't drawn", () => {
    const region = read(
      svg(
        '<defs><circle r="9"/></defs><clipPath><rect width="3" height="3"/></clipPath><metadata><x:path xmlns:x="q" d="?"/></metadata><rect display="none" width="9" height="9"/><path d="M0 0L9 9"/><circle r="2"/>',
      ),
    );
    expect(areaOf(region)).toBeCloseTo(4 * Math.PI, 9);
  });

  it("reads prefixed elements, comments, entities of XML itself and a bare document type", () => {
    const text = `\ufeff<?xml version="1.0"?><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">
<!-- <circle r="1"/> --><svg:svg xmlns:svg="http://www.w3.org/2000/svg" ${PAGE}><svg:rect id='a&amp;&#98;' width="3" height="3"/></svg:svg>`;
    expect(areaOf(read(text, { id: "a&b" }))).toBeCloseTo(9, 9);
  });
});

describe("refusals name the place", () => {
  it.each<[string, string, string, number, number]>([
    ["crosses itself", '<path d="M0 0L20 20H0L20 0Z"/>', "drawing-crosses-itself", 2, 3],
    ["touches itself at a corner", '<path d="M0 0H20V20L10 0L0 20Z"/>', "drawing-crosses-itself", 2, 3],
    ["a spike out and back", '<path d="M0 0H20V20H0V10H-5H0Z"/>', "drawing-crosses-itself", 2, 3],
    ["two outlines that cross", '<path d="M0 0H20V20H0ZM10 10H30V30H10Z"/>', "drawing-crosses-itself", 2, 3],
    ["bad letter", '<path d="M0 0L5 5 X3z"/>', "drawing-outline-unreadable", 2, 21],
    ["number missing", '<path d="M0 0L5 z"/>', "drawing-outline-unreadable", 2, 19],
    ["flag that is none", '<path d="M0 0A5 5 0 2 0 9 9z"/>', "drawing-outline-unreadable", 2, 23],
    ["does not begin with M", '<path d="L5 5z"/>', "drawing-outline-unreadable", 2, 12],
    ["not a number", '<path d="M0 NaN L5 5z"/>', "drawing-outline-unreadable", 2, 15],
    ["huge number", '<path d="M0 0L1e400 5 5 5z"/>', "drawing-hostile", 2, 17],
    ["ten kilometres", '<path d="M0 0L1e7 5 5 5z"/>', "drawing-too-large", 2, 13],
    ["odd number of coordinates", '<polygon points="0 0 5 5 5"/>', "drawing-outline-unreadable", 2, 20],
    ["circle without a radius", '<circle cx="3"/>', "drawing-outline-unreadable", 2, 3],
    ["share of the page", '<rect width="50%" height="3"/>', "drawing-outline-unreadable", 2, 16],
  ])("%s", (_, body, code, line, column) => {
    const found = refusal(svg(body));
    expect([found.code, found.line, found.column]).toEqual([code, line, column]);
  });

  it("an outline that crosses itself says where, in mm on the page", () => {
    expect(refusal(svg('<path d="M0 0L20 20H0L20 0Z"/>')).text).toContain("X 10.000 Y 40.000");
  });

  it("an open outline says how far apart its ends are", () => {
    expect(refusal(svg('<path id="p" d="M0 0H20V20"/>'), { id: "p" }).text).toContain("28.284 mm apart");
  });

  it.each<[string, string, string]>([
    ["nothing", "", "drawing-not-svg"],
    ["words", "hello", "drawing-not-svg"],
    ["a web page", "<html><body/></html>", "drawing-not-svg"],
    ["unclosed element", "<svg><g></svg>", "drawing-not-svg"],
    ["never closed", "<svg><g>", "drawing-not-svg"],
    ["attribute twice", '<svg id="a" id="b"/>', "drawing-not-svg"],
    ["unquoted attribute", "<svg id=a/>", "drawing-not-svg"],
    ["second root", "<svg/><svg/>", "drawing-not-svg"],
    ["unended comment", "<svg><!-- ", "drawing-not-svg"],
    ["entities of its own", '<!DOCTYPE a [<!ENTITY b "&c;">]><svg/>', "drawing-hostile"],
    ["unknown entity", '<svg id="&boom;"/>', "drawing-hostile"],
    ["size without sense", '<svg width="0mm" height="3mm"/>', "drawing-size"],
    ["relative size", '<svg width="3em" height="3em"/>', "drawing-size"],
    ["viewBox of nothing", '<svg viewBox="0 0 0 9"/>', "drawing-size"],
  ])("%s", (_, text, code) => {
    expect(refusal(text).code).toBe(code);
  });
});

describe("hostile drawings are refused at a limit", () => {
  it.each<[string, () => string]>([
    ["a million points", () => svg(`<polygon points="${"1 2 ".repeat(1_000_000)}"/>`)],
    ["a million path pieces", () => svg(`<path d="M0 0${"l1 1".repeat(1_000_000)}z"/>`)],
    ["many long paths", () => svg(`<path d="M0 0${"l1 1 -1 1".repeat(2000)}z"/>`.repeat(20))],
    ["a hundred thousand nested groups", () => svg("<g>".repeat(100_000))],
    ["two hundred thousand elements", () => svg("<g/>".repeat(200_000))],
    ["too many attributes", () => svg(`<g ${Array.from({ length: 100 }, (_, i) => `a${i}="1"`).join(" ")}/>`)],
    ["billion laughs", () => `<!DOCTYPE l [<!ENTITY a "ha"><!ENTITY b "&a;&a;">]>${svg("<text>&b;</text>")}`],
    ["endless text", () => svg(" ".repeat(17_000_000))],
  ])("%s", (_, text) => {
    expect(refusal(text()).code).toBe("drawing-hostile");
  });

  it("a transform of a million steps is not read", () => {
    expect(refusal(svg(`<circle r="1" transform="${"scale(1)".repeat(100_000)}"/>`)).code).toBe("drawing-transform");
  });

  it("no text makes it throw, and every place lies inside the text", () => {
    const scraps = fc.array(
      fc.constantFrom(
        "<svg",
        ">",
        "<g>",
        "</g>",
        "</svg>",
        '<path d="',
        "M0 0",
        "L9 9",
        "a1 1 0 1 0 3 3",
        "Z",
        '"',
        "/>",
        '<circle r="3"',
        ' transform="rotate(3)"',
        "&amp;",
        "<!--",
        "-->",
        "1e9",
        "\n",
        "x",
        "-",
        ".",
      ),
      { maxLength: 30 },
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          scraps.map((s) => s.join("")),
          scraps.map((s) => svg(`<path d="${s.join("").replace(/["<&]/g, "")}"/>`)),
        ),
        (text) => {
          const outcome = readDrawing(text, { file: "x.svg" });
          expect(outcome.ok).toBe(!outcome.findings.some((f) => f.grade === "refuse"));
          const lines = text.split("\n");
          for (const f of outcome.findings) {
            const s = f.place.source!;
            expect(s.line).toBeLessThanOrEqual(lines.length);
            expect(s.column).toBeLessThanOrEqual(lines[s.line - 1]!.length + 1);
            printFinding(f);
          }
        },
      ),
      { numRuns: 1000 },
    );
  });
});
