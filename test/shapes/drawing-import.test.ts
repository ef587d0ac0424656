import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { printFinding } from "../../src/finding.ts";
import { type DrawingWish, type ImportedDrawing, importDrawing } from "../../src/shapes/drawing-import.ts";
import { distanceToPoint } from "../../src/shapes/nearest.ts";
import { distance, type Point } from "../../src/shapes/point.ts";
import { areaOf, regionSegments } from "../../src/shapes/region.ts";
import { pointAt, type Segment } from "../../src/shapes/segment.ts";

/** A page of 100 × 60 mm in which 1 unit is 0.5 mm. */
const HALF = 'width="100mm" height="60mm" viewBox="0 0 200 120"';
/** A page of 100 × 60 mm in which 1 unit is 1 mm. */
const WHOLE = 'width="100mm" height="60mm" viewBox="0 0 100 60"';
const svg = (body: string, page = WHOLE): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" ${page}>\n${body}\n</svg>\n`;

const outcomeOf = (text: string, wish: Partial<DrawingWish> = {}) => importDrawing(text, { file: "a.svg", ...wish });

function read(text: string, wish: Partial<DrawingWish> = {}): ImportedDrawing {
  const outcome = outcomeOf(text, wish);
  if (!outcome.ok) throw new Error(outcome.findings.map(printFinding).join("\n"));
  return outcome.value;
}

/** Codes told, each with line and column. */
function told(text: string, wish: Partial<DrawingWish> = {}): string[] {
  return outcomeOf(text, wish).findings.map(
    (f) => `${f.grade} ${f.code} ${f.place.source?.line}:${f.place.source?.column}`,
  );
}

function refusal(text: string, wish: Partial<DrawingWish> = {}): string {
  const outcome = outcomeOf(text, wish);
  expect(outcome.ok).toBe(false);
  const refused = outcome.findings.filter((f) => f.grade === "refuse");
  expect(refused).toHaveLength(1);
  expect(refused[0]!.mend).toBeTruthy();
  return refused[0]!.code;
}

/** Lengths along a chain's ends, closed or open. */
const isClosed = (chain: readonly Segment[]): boolean => {
  const [first, last] = [chain[0]!, chain[chain.length - 1]!];
  return first.from.x === last.to.x && first.from.y === last.to.y;
};

describe("the check drawing: worked by hand, a page of 100 × 60 mm with 0.5 mm a unit", () => {
  // Y down in the sums, as the file has it: 60 less that is ours.
  const text = svg(
    `<defs><rect id="square" width="10" height="10"/></defs>
<g id="nest" transform="translate(20,10) rotate(90)"><g transform="scale(2)"><use href="#square" x="5"/></g></g>
<rect id="plate" x="150" y="80" width="40" height="20" rx="5"/>
<circle id="lean" cx="50" cy="90" r="20" transform="skewX(10)"/>
<ellipse id="units" cx="1cm" cy="50" rx="2mm" ry="1mm"/>`,
    HALF,
  );
  const boxOf = (id: string): number[] => {
    const { min, max } = read(text, { id }).box;
    return [min.x, 60 - max.y, max.x, 60 - min.y];
  };

  it("a square repeated under nested transforms", () => {
    expect(boxOf("nest")).toEqual([0, 10, 10, 20]);
  });

  it("a rounded rectangle keeps its arcs", () => {
    expect(boxOf("plate")).toEqual([75, 40, 95, 50]);
    expect(areaOf(read(text, { id: "plate" }).region)).toBeCloseTo(200 - (4 - Math.PI) * 2.5 ** 2, 9);
  });

  it("a skewed circle", () => {
    for (const [i, v] of [22.780448, 35, 43.08898, 55].entries()) expect(boxOf("lean")[i]).toBeCloseTo(v, 6);
  });

  it("units inside a viewBox are scaled along, and that is told", () => {
    const [left, , right] = boxOf("units");
    expect(left).toBeCloseTo(15.1181, 4);
    expect(right).toBeCloseTo(22.6772, 4);
    expect(told(text, { id: "units" })).toEqual(["caution drawing-unit-scaled 6:25"]);
    const [found] = outcomeOf(text, { id: "units" }).findings;
    expect(found?.why).toContain('cx="1cm" becomes 18.8976 mm');
  });

  it("all of it: four areas, nothing lost but the unit", () => {
    const all = read(text);
    expect(all.region.loops).toHaveLength(4);
    expect(all.chains).toEqual([]);
    expect(all.unused.map((u) => [u.line, u.column, u.element])).toEqual([[6, 25, "ellipse"]]);
  });
});

describe("what is line and what is area", () => {
  const square = 'd="M10 10H20V20H10Z"';
  it.each<[string, string, number, number]>([
    ["nothing said: area", `<path ${square}/>`, 0, 100],
    ["stroke alone", `<path ${square} fill="none" stroke="#f00"/>`, 1, 0],
    ["both", `<path ${square} stroke="blue"/>`, 1, 100],
    ["inherited through groups", `<g fill="none"><g stroke="red"><path ${square}/></g></g>`, 1, 0],
    ["the shape's own say is above the group's", `<g fill="none"><path fill="red" ${square}/></g>`, 0, 100],
    ["own style above attribute", `<path fill="red" stroke="none" style="fill:none;stroke:red" ${square}/>`, 1, 0],
    ["style sheet above attribute", `<style>path{fill:none;stroke:red}</style><path fill="red" ${square}/>`, 1, 0],
    ["own style above sheet", `<style>path{fill:none}</style><path style="fill:#000" ${square}/>`, 0, 100],
    [
      "important above own style",
      `<style>path{fill:none!important;stroke:red}</style><path style="fill:#000" ${square}/>`,
      1,
      0,
    ],
    [
      "class above type, whatever the order",
      `<style>.a{fill:red}path{fill:none}</style><path class="b a" ${square}/>`,
      0,
      100,
    ],
    ["id above class", `<style>#p{fill:red}.a{fill:none}</style><path id="p" class="a" ${square}/>`, 0, 100],
    ["the later of equals", `<style>.a{fill:none}.b{fill:red}</style><path class="b a" ${square}/>`, 0, 100],
    ["descendant", `<style>g .a{fill:none;stroke:red}</style><g><g><path class="a" ${square}/></g></g>`, 1, 0],
    ["child", `<style>#o>g>path{fill:none;stroke:red}</style><g id="o"><g><path ${square}/></g></g>`, 1, 0],
    [
      "child is not any descendant",
      `<style>#o>path{fill:none;stroke:red}</style><g id="o"><g><path ${square}/></g></g>`,
      0,
      100,
    ],
    [
      "lists and comments",
      `<style>/*x*/ rect, .q{}rect,path/* , */{fill:none;stroke:red}</style><path ${square}/>`,
      1,
      0,
    ],
    ["in a CDATA section", `<style><![CDATA[ g > path{fill:none;stroke:red} ]]></style><g><path ${square}/></g>`, 1, 0],
    [
      "a seen-through colour is none",
      `<path ${square} fill="rgba(1,2,3,0)" stroke="#fff0"/><rect width="1" height="1"/>`,
      0,
      1,
    ],
    ["opacity of the filling", `<path ${square} fill-opacity="0" stroke="red"/>`, 1, 0],
    ["opacity of the line in per cent", `<path ${square} style="stroke:red;stroke-opacity:0%"/>`, 0, 100],
    ["no width, no line", `<path ${square} stroke="red" stroke-width="0"/>`, 0, 100],
    ["a line has no area", '<line x1="1" y1="1" x2="9" y2="9" stroke="red"/>', 1, 0],
    ["an open path is filled as if closed, its line stays open", '<path d="M10 10H20V20H10" stroke="red"/>', 1, 100],
    ["colour as initial", `<g fill="none"><path fill="initial" ${square}/></g>`, 0, 100],
  ])("%s", (_, body, chains, area) => {
    const drawing = read(svg(body));
    expect(drawing.chains).toHaveLength(chains);
    expect(areaOf(drawing.region)).toBeCloseTo(area, 9);
  });

  it("closed lines end bit for bit where they began; open ones don't", () => {
    const { chains } = read(
      svg(
        '<g fill="none" stroke="red"><path d="M1 1L9.1 3.3L4 8z"/><circle r="3.7" cx="9.1" cy="9"/><path d="M1 1L5 5L9 1"/></g>',
      ),
    );
    expect(chains.map(isClosed)).toEqual([true, true, false]);
    expect(chains.map((c) => c.length)).toEqual([3, 2, 2]);
  });

  it.each<[string, string]>([
    ["display none", `<g display="none"><path ${square}/></g>`],
    ["display none by a rule", `<style>.h{display:none}</style><g class="h"><path ${square}/></g>`],
    ["visibility", `<g visibility="hidden"><path ${square}/></g>`],
    ["opacity of a group", `<g opacity="0"><path ${square} opacity="1"/></g>`],
    ["defs", `<defs><path ${square}/></defs>`],
    ["neither line nor area", `<path ${square} fill="none"/>`],
  ])("hidden: %s", (_, body) => {
    expect(refusal(svg(body))).toBe("drawing-nothing-usable");
    const beside = read(svg(`${body}<rect x="50" width="3" height="3"/>`));
    expect(areaOf(beside.region)).toBeCloseTo(9, 9);
    expect(beside.unused).toEqual([]);
  });

  it("a child may be seen again within a hidden group", () => {
    expect(areaOf(read(svg(`<g visibility="hidden"><path ${square} visibility="visible"/></g>`)).region)).toBeCloseTo(
      100,
      9,
    );
  });
});

describe("areas unite", () => {
  it.each<[string, string, number, number]>([
    ["side by side", '<rect width="10" height="10"/><rect x="20" width="10" height="10"/>', 200, 2],
    ["crossing", '<rect width="10" height="10"/><rect x="5" y="5" width="10" height="10"/>', 175, 1],
    ["one within another", '<rect width="10" height="10"/><circle cx="5" cy="5" r="2"/>', 100, 1],
    ["sharing an edge", '<rect width="10" height="10"/><rect x="10" width="10" height="10"/>', 200, 1],
    ["twice the same", '<rect width="10" height="10"/><rect width="10" height="10"/>', 100, 1],
    [
      "a ring of four bars",
      '<path d="M0 0H30V5H0Z"/><path d="M0 25H30V30H0Z"/><path d="M0 0H5V30H0Z"/><path d="M25 0H30V30H25Z"/>',
      500,
      2,
    ],
    ["even-odd star", '<path fill-rule="evenodd" d="M0 0H20V20H0ZM10 10H30V30H10Z"/>', 600, 2],
    ["nonzero of the same", '<path d="M0 0H20V20H0ZM10 10H30V30H10Z"/>', 700, 1],
    [
      "a hole filled by a later shape",
      '<path fill-rule="evenodd" d="M0 0H20V20H0ZM5 5H15V15H5Z"/><rect x="8" y="8" width="4" height="4"/>',
      316,
      3,
    ],
    ["a bow crossing itself", '<path d="M0 0L20 20H0L20 0Z"/>', 200, 2],
  ])("%s", (_, body, area, loops) => {
    const { region } = read(svg(body));
    expect(areaOf(region)).toBeCloseTo(area, 3);
    expect(region.loops).toHaveLength(loops);
    for (const loop of region.loops) {
      for (const [i, s] of loop.entries()) expect(loop[(i + 1) % loop.length]!.from).toEqual(s.to);
    }
  });

  it.each<[string, string, number, number]>([
    ["an eye", '<rect width="10" height="10"/><circle cx="5" cy="5" r="2" fill="#fff"/>', 100 - 4 * Math.PI, 2],
    ["over the edge", '<rect width="10" height="10"/><rect x="5" width="10" height="10" fill="white"/>', 50, 1],
    [
      "painted over again",
      '<rect width="10" height="10"/><rect x="2" y="2" width="6" height="6" fill="white"/><rect x="4" y="4" width="2" height="2"/>',
      68,
      3,
    ],
    [
      "beneath, where it changes nothing",
      '<rect width="90" height="50" fill="white"/><rect width="10" height="10"/>',
      100,
      1,
    ],
    [
      "with a hole of its own",
      '<rect width="10" height="10"/><path fill="#fff" fill-rule="evenodd" d="M1 1H9V9H1ZM3 3H7V7H3Z"/>',
      52,
      3,
    ],
  ])("white uncovers the wood where the wish says so: %s", (_, body, area, loops) => {
    const drawing = read(svg(body), { whiteIsBare: true });
    expect(Math.abs(areaOf(drawing.region) - area)).toBeLessThan(0.02);
    expect(drawing.region.loops).toHaveLength(loops);
    expect(drawing.unused).toEqual([]);
    // Else it is a colour like others, and that is told.
    expect(areaOf(read(svg(body)).region)).toBeGreaterThan(99.99);
    expect(told(svg(body)).every((t) => t.startsWith("caution drawing-white"))).toBe(true);
  });

  it("white alone leaves nothing", () => {
    expect(refusal(svg('<rect width="10" height="10" fill="white"/>'), { whiteIsBare: true })).toBe(
      "drawing-nothing-usable",
    );
  });

  it("circles that cross keep within the tolerance; those that stand clear stay exact", () => {
    const { region } = read(
      svg('<circle cx="20" cy="20" r="10"/><circle cx="30" cy="20" r="10"/><circle cx="60" cy="20" r="10"/>'),
    );
    // Two circles whose centres lie a radius apart: (4π/3 + √3/2)·r².
    const united = ((4 * Math.PI) / 3 + Math.sqrt(3) / 2) * 100;
    expect(Math.abs(areaOf(region) - united - 100 * Math.PI)).toBeLessThan(0.005 * 2 * Math.PI * 20);
    const clear = region.loops.find((loop) => loop.every((s) => s.from.x > 45))!;
    expect(clear.map((s) => s.kind)).toEqual(["arc", "arc"]);
    for (const s of regionSegments(region)) {
      for (const t of [0, 0.3, 0.7]) {
        const p = pointAt(s, t);
        const off = [20, 30, 60].map((x) => Math.abs(distance(p, { x, y: 40 }) - 10));
        expect(Math.min(...off)).toBeLessThan(0.005);
      }
    }
  });
});

describe("transforms", () => {
  type Matrix = readonly [number, number, number, number, number, number];
  /** Row by row, by hand: (a c e; b d f; 0 0 1). */
  const times = (m: Matrix, n: Matrix): Matrix => [
    m[0] * n[0] + m[2] * n[1],
    m[1] * n[0] + m[3] * n[1],
    m[0] * n[2] + m[2] * n[3],
    m[1] * n[2] + m[3] * n[3],
    m[0] * n[4] + m[2] * n[5] + m[4],
    m[1] * n[4] + m[3] * n[5] + m[5],
  ];
  const rad = (deg: number): number => (deg * Math.PI) / 180;
  const whole = (least: number, most: number): fc.Arbitrary<number> =>
    fc.integer({ min: Math.round(least * 1000), max: Math.round(most * 1000) }).map((n) => n / 1000);
  const step: fc.Arbitrary<readonly [string, Matrix]> = fc.oneof(
    fc.tuple(whole(-5, 5), whole(-5, 5)).map(([x, y]) => [`translate(${x} ${y})`, [1, 0, 0, 1, x, y]] as const),
    whole(0.5, 1.6).map((s) => [`scale(${s})`, [s, 0, 0, s, 0, 0]] as const),
    fc.tuple(whole(0.5, 1.6), whole(-1.6, -0.5)).map(([x, y]) => [`scale(${x},${y})`, [x, 0, 0, y, 0, 0]] as const),
    whole(-360, 360).map((d) => {
      const [c, s] = [Math.cos(rad(d)), Math.sin(rad(d))];
      return [`rotate(${d})`, [c, s, -s, c, 0, 0]] as const;
    }),
    fc.tuple(whole(-360, 360), whole(-9, 9), whole(-9, 9)).map(([d, x, y]) => {
      const [c, s] = [Math.cos(rad(d)), Math.sin(rad(d))];
      return [`rotate(${d}, ${x} ${y})`, [c, s, -s, c, x - c * x + s * y, y - s * x - c * y]] as const;
    }),
    whole(-50, 50).map((d) => [`skewX(${d})`, [1, 0, Math.tan(rad(d)), 1, 0, 0]] as const),
    whole(-50, 50).map((d) => [`skewY(${d})`, [1, Math.tan(rad(d)), 0, 1, 0, 0]] as const),
    fc
      .tuple(whole(0.6, 1.5), whole(-0.4, 0.4), whole(-0.4, 0.4), whole(0.6, 1.5), whole(-9, 9), whole(-9, 9))
      .map((m) => [`matrix(${m.join(",")})`, m as Matrix] as const),
  );
  const nests = fc.array(fc.array(step, { minLength: 1, maxLength: 2 }), { minLength: 1, maxLength: 3 });
  const nested = (nest: readonly (readonly (readonly [string, Matrix])[])[], body: string): string =>
    nest.reduceRight((inner, steps) => `<g transform="${steps.map(([s]) => s).join(" ")}">${inner}</g>`, body);
  const product = (nest: readonly (readonly (readonly [string, Matrix])[])[]): Matrix =>
    nest.flat().reduce<Matrix>((m, [, n]) => times(m, n), [1, 0, 0, 1, 0, 0]);

  it("nested in any way: points stand where the product of the matrices puts them", () => {
    fc.assert(
      fc.property(
        nests,
        fc.array(fc.tuple(whole(-9, 9), whole(-9, 9)), { minLength: 2, maxLength: 5 }),
        (nest, points) => {
          fc.pre(points.every((p, i) => i === 0 || distance(at(p), at(points[i - 1]!)) > 0.01));
          const body = `<polyline fill="none" stroke="red" points="${points.map((p) => p.join(",")).join(" ")}"/>`;
          const m = product(nest);
          const [chain] = read(svg(nested(nest, body))).chains;
          const found = [chain![0]!.from, ...chain!.map((s) => s.to)];
          for (const [i, [x, y]] of points.entries()) {
            expect(found[i]!.x).toBeCloseTo(m[0] * x + m[2] * y + m[4], 8);
            expect(found[i]!.y).toBeCloseTo(60 - (m[1] * x + m[3] * y + m[5]), 8);
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  const at = ([x, y]: readonly [number, number]): Point => ({ x, y });

  it("arcs under any of them: sampled points lie within the tolerance, whether circles stay circles or not", () => {
    fc.assert(
      fc.property(
        nests,
        whole(2, 8),
        whole(2, 8),
        whole(-90, 90),
        fc.boolean(),
        fc.boolean(),
        (nest, rx, ry, turn, large, sweep) => {
          // From (rx, 0) to (0, ry) on an ellipse about zero, in the frame turned by `turn`: its middle is known.
          const [c, s] = [Math.cos(rad(turn)), Math.sin(rad(turn))];
          const place = (x: number, y: number): readonly [number, number] => [c * x - s * y, s * x + c * y];
          const [from, to] = [place(rx, 0), place(0, ry)];
          fc.pre(large !== sweep);
          const body = `<path fill="none" stroke="red" d="M${from.join(" ")}A${rx} ${ry} ${turn} ${large ? 1 : 0}${sweep ? 1 : 0}${to.join(" ")}"/>`;
          const m = product(nest);
          const [chain] = read(svg(nested(nest, body))).chains;
          const span = sweep ? 90 : -270;
          for (let i = 0; i <= 60; i++) {
            const t = rad((span * i) / 60);
            const [x, y] = place(rx * Math.cos(t), ry * Math.sin(t));
            const p = { x: m[0] * x + m[2] * y + m[4], y: 60 - (m[1] * x + m[3] * y + m[5]) };
            expect(Math.min(...chain!.map((piece) => distanceToPoint(piece, p)))).toBeLessThan(0.005);
          }
        },
      ),
      { numRuns: 40 },
    );
  });

  it("a wish for a size scales all, and fits curves at that size", () => {
    const text = svg('<g fill="none" stroke="red"><ellipse cx="3" cy="4" rx="2" ry="1"/><path d="M1 3H5"/></g>');
    const { box, chains } = read(text, { size: { by: "width", mm: 80 } });
    expect(box.max.x - box.min.x).toBeCloseTo(80, 6);
    expect(box.max.y - box.min.y).toBeCloseTo(40, 6);
    for (let i = 0; i < 400; i++) {
      const t = (2 * Math.PI * i) / 400;
      const p = { x: 60 + 40 * Math.cos(t), y: 20 * (60 - 4) + 20 * Math.sin(t) };
      expect(Math.min(...chains[0]!.map((s) => distanceToPoint(s, p)))).toBeLessThan(0.005);
    }
    expect(refusal(svg('<path stroke="red" d="M1 1V9"/>'), { size: { by: "width", mm: 10 } })).toBe("drawing-size");
    // With a size given it doesn't matter what a unit is.
    expect(told(svg('<path stroke="red" fill="none" d="M1 1V9"/>', ""), { size: { by: "height", mm: 5 } })).toEqual([]);
    expect(told(svg('<path stroke="red" fill="none" d="M1 1V9"/>', ""))).toEqual(["note drawing-unit-assumed 1:1"]);
  });
});

describe("repetitions and pages within the page", () => {
  const boxOf = (body: string, wish: Partial<DrawingWish> = {}, page = WHOLE): number[] => {
    const { min, max } = read(svg(body, page), wish).box;
    return [min.x, 60 - max.y, max.x, 60 - min.y].map((v) => Math.round(v * 1e6) / 1e6);
  };
  it.each<[string, string, number[]]>([
    [
      "use of a shape, also by the older name",
      '<defs><rect id="r" width="4" height="2"/></defs><use xlink:href="#r" x="10" y="20" xmlns:xlink="http://www.w3.org/1999/xlink"/>',
      [10, 20, 14, 22],
    ],
    [
      "use before its target, with a transform",
      '<use href="#r" transform="scale(2)" x="1"/><defs><g id="r"><rect width="4" height="2"/></g></defs>',
      [2, 0, 10, 4],
    ],
    [
      "use of a use",
      '<defs><rect id="r" width="4" height="2"/><use id="u" href="#r" x="3"/></defs><use href="#u" y="5"/>',
      [3, 5, 7, 7],
    ],
    [
      "a symbol without a viewBox",
      '<symbol id="s"><rect width="4" height="2"/></symbol><use href="#s" x="1" width="99" height="99"/>',
      [1, 0, 5, 2],
    ],
    [
      "a symbol fitted into the size asked for",
      '<symbol id="s" viewBox="0 0 10 10"><rect width="10" height="10"/></symbol><use href="#s" x="10" y="10" width="30" height="20"/>',
      [15, 10, 35, 30],
    ],
    [
      "an inner page",
      '<svg x="10" y="20" width="20" height="10" viewBox="0 0 4 2"><rect width="4" height="2"/></svg>',
      [10, 20, 30, 30],
    ],
    [
      "an inner page in per cent, its contents to the left",
      '<svg x="10%" width="50%" height="100%" viewBox="0 0 2 4" preserveAspectRatio="xMinYMid meet"><rect width="2" height="4"/></svg>',
      [10, 0, 40, 60],
    ],
    [
      "a switch shows the first child that asks for nothing",
      '<switch><foreignObject requiredExtensions="x"/><g systemLanguage="de"><rect width="9" height="9"/></g><rect width="2" height="2"/><rect width="50" height="2"/></switch>',
      [0, 0, 2, 2],
    ],
    ["a link is a group", '<a href="https://example.org"><rect width="2" height="2"/></a>', [0, 0, 2, 2]],
  ])("%s", (_, body, box) => {
    expect(boxOf(body)).toEqual(box);
    expect(outcomeOf(svg(body)).findings).toEqual([]);
  });

  it("what is repeated takes the style of the place it is repeated in, below its own", () => {
    const text = svg(
      '<defs><g id="p"><rect width="4" height="2"/><rect y="10" width="4" height="2" fill="none" stroke="red"/></g></defs><use href="#p"/><use href="#p" x="20" fill="none" stroke="red"/>',
    );
    const { chains, region } = read(text);
    expect(chains).toHaveLength(3);
    expect(areaOf(region)).toBeCloseTo(8, 9);
  });

  it("by id, by class, by both: what is chosen through a repetition too", () => {
    const body =
      '<g id="leaf" class="a"><rect width="4" height="4"/></g><g class="a b"><rect x="10" width="4" height="4"/></g><use id="again" href="#leaf" x="20"/><text>x</text>';
    expect(boxOf(body, { id: "again" })).toEqual([20, 0, 24, 4]);
    expect(boxOf(body, { class: "b" })).toEqual([10, 0, 14, 4]);
    expect(boxOf(body, { id: "leaf", class: "a" })).toEqual([0, 0, 24, 4]);
    expect(told(svg(body), { class: "b" })).toEqual([]);
    expect(told(svg(body))).toHaveLength(1);
    expect(refusal(svg(body), { id: "root" })).toBe("drawing-no-such-outline");
  });
});

describe("what lines and areas don't show is told with its place", () => {
  const beside = '<rect id="r" width="2" height="2"/>';
  it.each<[string, string, string[]]>([
    ["text", `<text x="1">A</text>${beside}`, ["caution drawing-not-used 2:1"]],
    ["image", `${beside}<image href="a.png"/>`, ["caution drawing-not-used 2:36"]],
    ["foreign object", `<foreignObject/>${beside}`, ["caution drawing-not-used 2:1"]],
    ["script", `<script>x</script>${beside}`, ["caution drawing-not-used 2:1"]],
    ["an unknown element", `<sparkle/>${beside}`, ["caution drawing-not-used 2:1"]],
    ["movement", '<rect width="2" height="2"><animate/></rect>', ["caution drawing-not-used 2:28"]],
    ["clip path", `<g clip-path="url(#c)">${beside}</g>`, ["caution drawing-not-used 2:15"]],
    [
      "mask and filter in a style",
      '<rect width="2" height="2" style="mask:url(#m);filter:blur(2px)"/>',
      ["caution drawing-not-used 2:35", "caution drawing-not-used 2:48"],
    ],
    [
      "pattern filling",
      `<defs><pattern id="p"/></defs><rect width="9" height="2" fill="url(#p)"/>${beside}`,
      ["caution drawing-not-used 2:64"],
    ],
    [
      "gradient filling",
      '<defs><linearGradient id="p"/></defs><rect width="2" height="2" fill="url(#p)"/>',
      ["note drawing-shades-lost 2:71"],
    ],
    [
      "a filling that leads nowhere",
      `<rect width="9" height="2" fill="url(#p)"/>${beside}`,
      ["caution drawing-not-used 2:34"],
    ],
    [
      "the same with another colour to stand in",
      '<rect width="2" height="2" fill="url(#p) red"/>',
      ["caution drawing-not-used 2:34"],
    ],
    ["markers", `<path d="M0 0H2" stroke="red" marker-end="url(#m)"/>${beside}`, ["caution drawing-not-used 2:43"]],
    ["dashes", `<path d="M0 0H2" stroke="red" stroke-dasharray="1 2"/>${beside}`, ["caution drawing-not-used 2:49"]],
    ["a broad line", '<rect width="2" height="2" stroke="red" stroke-width="1.5"/>', ["note drawing-line-width 2:1"]],
    ["a dot", `<path d="M5 5L5 5" stroke="red" stroke-linecap="round"/>${beside}`, ["caution drawing-not-used 2:11"]],
    ["per cent", `<circle r="5%"/>${beside}`, ["caution drawing-not-used 2:12"]],
    ["a broken path", `<path d="M0 0L5"/>${beside}`, ["caution drawing-not-used 2:16"]],
    [
      "a broken transform",
      `<g transform="spin(3)"><circle r="1"/><circle r="2"/></g>${beside}`,
      ["caution drawing-not-used 2:15"],
    ],
    [
      "a transform in a style",
      `<g style="transform:rotate(3deg)"><circle r="1"/></g>${beside}`,
      ["caution drawing-not-used 2:11"],
    ],
    ["a size in a style", `<circle style="r:3px"/>${beside}`, ["caution drawing-not-used 2:16"]],
    ["white", '<rect width="2" height="2" fill="#fff"/>', ["caution drawing-white 2:34"]],
    ["off the page", '<rect x="99" width="2" height="2"/>', ["caution drawing-off-the-page 2:1"]],
    [
      "off an inner page",
      '<svg width="5" height="5"><rect x="4" width="2" height="2"/></svg>',
      ["caution drawing-off-the-page 2:27"],
    ],
    ["use of nothing", `<use href="#q"/>${beside}`, ["caution drawing-not-used 2:12"]],
    ["use of another file", `<use href="b.svg#q"/>${beside}`, ["caution drawing-not-used 2:12"]],
    [
      "selectors of other kinds",
      `<style>rect:hover{fill:none} [x]{} a+b{} .k{}</style>${beside}`,
      ["caution drawing-not-used 2:8", "caution drawing-not-used 2:30", "caution drawing-not-used 2:36"],
    ],
    [
      "at-rules",
      `<style>@import url(a.css); @media print{rect{fill:none}} @font-face{x:y}</style>${beside}`,
      ["caution drawing-not-used 2:8", "caution drawing-not-used 2:28"],
    ],
    ["hidden text is not missed", `<g display="none"><text/></g><title>x</title><desc/>${beside}`, []],
    [
      "foreign data of drawing programs",
      `<x:view xmlns:x="urn:x"><x:path d="?"/></x:view><metadata><rdf/></metadata>${beside}`,
      [],
    ],
  ])("%s", (_, body, found) => {
    expect(told(svg(body))).toEqual(found);
    const outcome = outcomeOf(svg(body));
    if (!outcome.ok) throw new Error("it is refused");
    expect(areaOf(outcome.value.region)).toBeCloseTo(4, 9);
    expect(outcome.value.unused.map((u) => `${u.line}:${u.column}`)).toEqual(found.map((f) => f.split(" ")[2]));
    for (const f of outcome.findings) expect(f.mend).toBeTruthy();
  });

  it("many of a kind: a few places and the number of the rest", () => {
    const outcome = outcomeOf(svg(`<text/>\n`.repeat(50) + beside));
    expect(outcome.findings).toHaveLength(3);
    expect(outcome.findings[2]!.why).toBe("and in 47 more places");
    if (outcome.ok) expect(outcome.value.unused).toHaveLength(50);
  });
});
