import fc from "fast-check";
import Coordinate from "jsts/org/locationtech/jts/geom/Coordinate.js";
import GeometryFactory, { type Geometry } from "jsts/org/locationtech/jts/geom/GeometryFactory.js";
import OverlayOp from "jsts/org/locationtech/jts/operation/overlay/OverlayOp.js";
import { describe, expect, it } from "vitest";
import { type Outcome, printFinding } from "../../src/finding.ts";
import { type ImportedDrawing, importDrawing } from "../../src/shapes/drawing-import.ts";
import { flattenRegion } from "../../src/shapes/flatten.ts";
import type { Point } from "../../src/shapes/point.ts";
import { areaOf, containsPoint } from "../../src/shapes/region.ts";
import { areaOfPolygons } from "../../src/shapes/rings.ts";

const svg = (body: string, page = 'width="100mm" height="60mm" viewBox="0 0 100 60"'): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" ${page}>\n${body}\n</svg>\n`;
const SQUARE = '<rect width="2" height="2"/>';
const read = (text: string): Outcome<ImportedDrawing> => importDrawing(text, { file: "x.svg" });

const nested = (n: number): string =>
  Array.from({ length: n }, (_, i) => `<g id="u${i + 1}"><use href="#u${i}"/></g>`).join("");

describe("files that no drawing program writes: a clear refusal", () => {
  it.each<[string, string, () => string]>([
    ["nothing", "drawing-not-svg", () => ""],
    ["spaces", "drawing-not-svg", () => " \n "],
    ["bytes of a picture", "drawing-not-svg", () => "\u0089PNG\r\n\u001a\n\u0000\u0000"],
    ["a web page", "drawing-not-svg", () => "<!DOCTYPE html><html><body><svg/></body></html>"],
    ["zeros", "drawing-not-svg", () => "\u0000".repeat(1000)],
    ["cut off in the middle", "drawing-not-svg", () => svg(`<g>${SQUARE}`).slice(0, 140)],
    ["an unclosed comment", "drawing-not-svg", () => svg(`<!-- ${SQUARE}`)],
    ["an unclosed text section", "drawing-not-svg", () => svg("<style><![CDATA[ .a{}</style>")],
    ["an attribute twice", "drawing-not-svg", () => svg('<g id="a" id="b"/>')],
    ["two roots", "drawing-not-svg", () => svg(SQUARE) + svg(SQUARE)],
    ["text behind the end", "drawing-not-svg", () => `${svg(SQUARE)}x`],
    ["a page of no size", "drawing-size", () => svg(SQUARE, 'width="0" height="9"')],
    ["a page of no number", "drawing-size", () => svg(SQUARE, 'width="NaN" height="9"')],
    ["a viewBox turned over", "drawing-size", () => svg(SQUARE, 'viewBox="0 0 -5 5"')],
    ["a viewBox beyond measure", "drawing-size", () => svg(SQUARE, 'viewBox="0 0 1e300 1e300"')],
    ["no shapes", "drawing-nothing-usable", () => svg("")],
    ["text alone", "drawing-nothing-usable", () => svg("<text>A</text>")],
    [
      "shapes of no size",
      "drawing-nothing-usable",
      () => svg('<circle r="0"/><rect width="0" height="3"/><path d=""/>'),
    ],
    ["there and back", "drawing-nothing-usable", () => svg('<path d="M0 0L5 5L0 0Z"/>')],
    ["a filling without area", "drawing-nothing-usable", () => svg('<path d="M0 0H9H3H6Z"/>')],
    [
      "all of it unreadable",
      "drawing-nothing-usable",
      () => svg('<path d="nonsense"/><circle r="x"/><g transform="?"><circle r="1"/></g>'),
    ],
    ["beyond ten metres", "drawing-too-large", () => svg('<rect width="2" height="2" x="20000"/>')],
    ["grown beyond ten metres", "drawing-too-large", () => svg(`<g transform="scale(1e5)">${SQUARE}</g>`)],
    ["numbers beyond measure", "drawing-hostile", () => svg('<path d="M0 0L1e400 0 5 5Z"/>')],
    ["a use of itself", "drawing-repeats-itself", () => svg('<use id="a" href="#a"/>')],
    ["a use of what it stands in", "drawing-repeats-itself", () => svg('<g id="a"><g><use href="#a"/></g></g>')],
    ["a use of the whole drawing", "drawing-repeats-itself", () => svg('<use href="#a"/>', 'id="a"')],
    [
      "two that use each other",
      "drawing-repeats-itself",
      () => svg('<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>'),
    ],
    [
      "repetitions 21 deep",
      "drawing-hostile",
      () => svg(`<defs><g id="u0">${SQUARE}</g>${nested(21)}</defs><use href="#u21"/>`),
    ],
    [
      "two by two to the twentieth",
      "drawing-hostile",
      () =>
        svg(
          `<defs><g id="u0">${SQUARE}</g>${Array.from({ length: 19 }, (_, i) => `<g id="u${i + 1}"><use href="#u${i}"/><use href="#u${i}"/></g>`).join("")}</defs><use href="#u19"/>`,
        ),
    ],
    [
      "entities within entities",
      "drawing-hostile",
      () => `<!DOCTYPE l [<!ENTITY a "ha"><!ENTITY b "&a;&a;">]>${svg("<text>&b;</text>")}`,
    ],
    [
      "an entity from a file",
      "drawing-hostile",
      () => `<!DOCTYPE l [<!ENTITY a SYSTEM "file:///etc/hosts">]>${svg("<text>&a;</text>")}`,
    ],
    ["entities for parameters", "drawing-hostile", () => `<!DOCTYPE l [<!ENTITY % a "x"> %a;]>${svg(SQUARE)}`],
    [
      "too many entities",
      "drawing-hostile",
      () => `<!DOCTYPE l [${Array.from({ length: 99 }, (_, i) => `<!ENTITY a${i} "x">`).join("")}]>${svg(SQUARE)}`,
    ],
    [
      "one long entity a thousand times",
      "drawing-hostile",
      () => `<!DOCTYPE l [<!ENTITY a "${"1 ".repeat(499)}">]>${svg(`<polygon points="${"&a;".repeat(2000)}"/>`)}`,
    ],
    ["an unknown entity", "drawing-hostile", () => svg('<g id="&boom;"/>')],
    ["nested a hundred thousand deep", "drawing-hostile", () => svg("<g>".repeat(100_000))],
    ["two hundred thousand elements", "drawing-hostile", () => svg("<g/>".repeat(200_000))],
    ["a million points", "drawing-hostile", () => svg(`<polygon points="${"1 2 ".repeat(1_000_000)}"/>`)],
    ["a million pieces", "drawing-hostile", () => svg(`<path d="M0 0${"l1 1".repeat(1_000_000)}z"/>`)],
    [
      "many long paths",
      "drawing-hostile",
      () => svg(`<path stroke="red" fill="none" d="M0 0${"l1 1 -1 1".repeat(4000)}z"/>`.repeat(20)),
    ],
    ["seventeen million characters", "drawing-hostile", () => svg(" ".repeat(17_000_000))],
    [
      "ten thousand style rules",
      "drawing-hostile",
      () => svg(`<style>${".a .b{fill:none}".repeat(10_000)}</style>${SQUARE}`),
    ],
    [
      "rules that ask for everything above everything",
      "drawing-hostile",
      () =>
        svg(
          `<style>${".no * * * * * * .x{fill:none}".repeat(200)}</style>${"<g>".repeat(80)}${'<path class="x" d="M0 0H1V1Z"/>'.repeat(200)}${"</g>".repeat(80)}`,
        ),
    ],
    [
      "two thousand bars across two thousand bars, as one area",
      "drawing-hostile",
      () =>
        svg(
          `<path d="${Array.from({ length: 2000 }, (_, i) => `M0 ${i * 0.03}H100v.01H0ZM${i * 0.05} 0V60h.01V0Z`).join("")}"/>`,
        ),
    ],
  ])("%s: %s", (_, code, text) => {
    const outcome = read(text());
    expect(outcome.ok).toBe(false);
    const refused = outcome.findings.filter((f) => f.grade === "refuse");
    expect(refused.map((f) => f.code)).toEqual([code]);
    expect(refused[0]!.mend).toBeTruthy();
    expect(printFinding(refused[0]!).length).toBeLessThan(4000);
  });
});

describe("files that look hostile and are right", () => {
  it.each<[string, () => string, number]>([
    [
      "namespaces as entities, as some programs write",
      () =>
        `<?xml version="1.0"?>\n<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "x.dtd" [\n\t<!ENTITY ns_svg "http://www.w3.org/2000/svg">\n]>\n<svg xmlns="&ns_svg;" width="9mm" height="9mm" viewBox="0 0 9 9">${SQUARE}</svg>`,
      4,
    ],
    [
      "a prefix of its own",
      () =>
        `<d:svg xmlns:d="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9"><d:style>d{}.a{fill:none}</d:style><d:rect width="2" height="2"/><rect class="a" width="9" height="9" xmlns="urn:x"/></d:svg>`,
      4,
    ],
    ["repetitions 20 deep", () => svg(`<defs><g id="u0">${SQUARE}</g>${nested(19)}</defs><use href="#u19"/>`), 4],
    ["an arc's flags run together", () => svg('<path d="M10 10a5 5 0 1010 0 5 5 0 10-10 0z"/>'), 25 * Math.PI],
    ["an arc of no radius", () => svg('<path d="M0 0A0 5 0 0 1 2 0V2H0Z"/>'), 4],
    ["an arc too small to reach", () => svg('<path d="M0 0A1 1 0 0 0 20 0z"/>'), 50 * Math.PI],
    ["a mirror", () => svg(`<g transform="matrix(-1 0 0 1 50 10)">${SQUARE}</g>`), 4],
    ["a thousand times the same square", () => svg(SQUARE.repeat(1000)), 4],
    [
      "a thousand squares within each other",
      () =>
        svg(
          Array.from(
            { length: 1000 },
            (_, i) => `<rect x="${i * 0.02}" y="${i * 0.02}" width="${50 - i * 0.04}" height="${50 - i * 0.04}"/>`,
          ).join(""),
        ),
      2500,
    ],
    [
      "two thousand dots",
      () =>
        svg(
          Array.from(
            { length: 2000 },
            (_, i) => `<circle cx="${1 + 1.5 * (i % 60)}" cy="${1 + 1.5 * Math.floor(i / 60)}" r=".5"/>`,
          ).join(""),
        ),
      500 * Math.PI,
    ],
    ["a spike thinner than any grid", () => svg('<path d="M0 0H2V2H1.00001L1 40L.99999 2H0Z"/>'), 4],
    [
      "a comb of a thousand teeth",
      () =>
        svg(
          `<path d="M0 0${"h.02v-3h.02v3".repeat(1000)}V5H0Z"/>`,
          'width="100mm" height="60mm" viewBox="0 -10 100 60"',
        ),
      260,
    ],
    [
      "a style with quotes, brackets and rubbish",
      () => svg(`<style>@x "}" ; .a::before{content:"}"} ;;} rect{;;fill : red ; : ; x}</style>${SQUARE}`),
      4,
    ],
  ])("%s", (_, text, area) => {
    const outcome = read(text());
    if (!outcome.ok) throw new Error(outcome.findings.map(printFinding).join("\n"));
    expect(Math.abs(areaOf(outcome.value.region) - area)).toBeLessThan(0.003);
  });
});

describe("areas against an independent library", () => {
  const factory = new GeometryFactory();
  const coordinate = fc.integer({ min: 0, max: 60 });
  const rings = fc.array(fc.array(fc.tuple(coordinate, coordinate), { minLength: 3, maxLength: 7 }), {
    minLength: 1,
    maxLength: 3,
  });

  /** Winding by angles: the slow, obvious way. */
  const winding = (ring: readonly (readonly [number, number])[], p: Point): number => {
    let turned = 0;
    for (const [i, [x, y]] of ring.entries()) {
      const [u, v] = ring[(i + 1) % ring.length]!;
      const [ax, ay, bx, by] = [x - p.x, y - p.y, u - p.x, v - p.y];
      turned += Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
    }
    return Math.round(turned / (2 * Math.PI));
  };

  it("crossing polygons by both rules: every sampled point is in when its winding says so", () => {
    // Off the whole numbers, so that no probe lies on an edge's line by chance.
    const probes = Array.from({ length: 60 }, (_, i) => ({ x: (i * 37.177) % 60, y: (i * 23.391) % 60 }));
    fc.assert(
      fc.property(fc.array(fc.tuple(rings, fc.boolean()), { minLength: 1, maxLength: 3 }), (shapes) => {
        const body = shapes
          .map(([r, evenOdd]) => {
            const d = r.map((ring) => `M${ring.map((p) => p.join(" ")).join("L")}Z`).join("");
            return `<path fill-rule="${evenOdd ? "evenodd" : "nonzero"}" d="${d}"/>`;
          })
          .join("");
        const outcome = read(svg(body));
        for (const p of probes) {
          const clear = shapes.every(([r]) => r.every((ring) => farFrom(ring, p)));
          if (!clear) continue;
          const inside = shapes.some(([r, evenOdd]) => {
            const turns = r.map((ring) => winding(ring, p)).reduce((a, b) => a + b, 0);
            return evenOdd ? turns % 2 !== 0 : turns !== 0;
          });
          const found = outcome.ok && containsPoint(outcome.value.region, { x: p.x, y: 60 - p.y });
          expect(found).toBe(inside);
        }
      }),
      { numRuns: 60 },
    );
  });

  const farFrom = (ring: readonly (readonly [number, number])[], p: Point): boolean =>
    ring.every(([x, y], i) => {
      const [u, v] = ring[(i + 1) % ring.length]!;
      const square = (u - x) ** 2 + (v - y) ** 2;
      const t = square === 0 ? 0 : Math.max(0, Math.min(1, ((p.x - x) * (u - x) + (p.y - y) * (v - y)) / square));
      return Math.hypot(p.x - x - t * (u - x), p.y - y - t * (v - y)) > 0.01;
    });

  it("black and white rectangles: a point is what the last one over it is", () => {
    const rectangle = fc.tuple(
      coordinate,
      coordinate,
      fc.integer({ min: 1, max: 40 }),
      fc.integer({ min: 1, max: 40 }),
      fc.boolean(),
    );
    const probes = Array.from({ length: 80 }, (_, i) => ({
      x: ((i * 37.177) % 60) + 0.0031,
      y: ((i * 23.391) % 60) + 0.0031,
    }));
    fc.assert(
      fc.property(fc.array(rectangle, { minLength: 1, maxLength: 7 }), (rectangles) => {
        const body = rectangles
          .map(
            ([x, y, w, h, white]) =>
              `<rect x="${x}" y="${y}" width="${w}" height="${h}" fill="${white ? "#fff" : "#000"}"/>`,
          )
          .join("");
        const outcome = importDrawing(svg(body), { file: "x.svg", whiteIsBare: true });
        for (const p of probes) {
          const over = rectangles.filter(([x, y, w, h]) => p.x > x && p.x < x + w && p.y > y && p.y < y + h);
          const found = outcome.ok && containsPoint(outcome.value.region, { x: p.x, y: 60 - p.y });
          expect(found).toBe(over.length > 0 && !over[over.length - 1]![4]);
        }
      }),
      { numRuns: 40 },
    );
  });

  it("unions of triangles have the area that library finds", () => {
    const triangle = fc
      .tuple(coordinate, coordinate, coordinate, coordinate, coordinate, coordinate)
      .filter(([a, b, c, d, e, f]) => Math.abs((c - a) * (f - b) - (d - b) * (e - a)) > 10);
    fc.assert(
      fc.property(fc.array(triangle, { minLength: 2, maxLength: 8 }), (triangles) => {
        const outcome = read(svg(triangles.map((t) => `<polygon points="${t.join(" ")}"/>`).join("")));
        const shapes = triangles.map(([a, b, c, d, e, f]): Geometry => {
          const corners = [a, b, c, d, e, f, a, b];
          const points = [0, 2, 4, 6].map((i) => new Coordinate(corners[i]!, corners[i + 1]!));
          return factory.createPolygon(factory.createLinearRing(points), []);
        });
        const area = shapes.reduce((all, one) => OverlayOp.union(all, one)).getArea();
        if (!outcome.ok) throw new Error("refused");
        expect(Math.abs(areaOf(outcome.value.region) - area)).toBeLessThan(0.02);
        expect(Math.abs(areaOfPolygons(flattenRegion(outcome.value.region, 0.001)) - area)).toBeLessThan(0.02);
      }),
      { numRuns: 40 },
    );
  });
});

describe("no text makes it throw", () => {
  it("and every place lies inside the text", () => {
    const scrap = fc.constantFrom(
      "<svg",
      '<svg viewBox="0 0 9 9" width="9mm">',
      "</svg>",
      ">",
      "<g>",
      '<g fill="none" stroke="red">',
      "</g>",
      '<g id="a">',
      '<use href="#a"/>',
      '<path d="M0 0L9 9C1 2 3 4 5 5a1 2 3 0 1 3 3Z"/>',
      '<path d="',
      "M0 0",
      "a1 1 0 1 0 3 3",
      'z"/>',
      '<rect width="3" height="2" rx="1"/>',
      '<circle r="3" style="fill:url(#a);stroke:blue"',
      ' transform="rotate(3) skewX(80)"',
      "/>",
      "<style>.a, #b > g{fill:none;",
      "}</style>",
      "<symbol id='a' viewBox='0 0 1 1'>",
      "</symbol>",
      "&amp;",
      "<!--",
      "-->",
      "<![CDATA[",
      "]]>",
      "1e9",
      "\n",
      "{",
      ";",
    );
    const scraps = fc.array(scrap, { maxLength: 25 }).map((s) => s.join(""));
    fc.assert(
      fc.property(
        fc.oneof(
          scraps,
          scraps.map((s) => svg(s)),
          scraps.map((s) => svg(`<style>${s}</style>${SQUARE}`)),
        ),
        (text) => {
          const outcome = read(text);
          expect(outcome.ok).toBe(!outcome.findings.some((f) => f.grade === "refuse"));
          const lines = text.split("\n");
          for (const f of outcome.findings) {
            const s = f.place.source!;
            expect(s.line).toBeLessThanOrEqual(lines.length);
            expect(s.column).toBeLessThanOrEqual(lines[s.line - 1]!.length + 1);
          }
        },
      ),
      { numRuns: 1500 },
    );
  });
});
