import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { formGrid, formGridOf } from "../../src/job/form-grid.ts";
import { readJob } from "../../src/job/read-job.ts";
import { formPages, formPdf } from "../../src/sheets/form.ts";
import { formHtml } from "../../src/sheets/form-html.ts";
import { readPdf } from "./reading-pdf.ts";

const GRID = formGrid("Spice <cabinet>", "mm", 3, 2, ["cinnamon", "cloves"]);

/** All that is written on a page, in the order drawn. */
function textsOn(grid: Parameters<typeof formPages>[0]): readonly string[][] {
  return formPages(grid).map((p) => p.marks.flatMap((m) => (m.kind === "text" ? [m.text] : [])));
}

describe("the measuring sheet", () => {
  it("bears the very names under which the job file takes each reading", () => {
    const said = new Set(textsOn(GRID).flat());
    const value = (key: string): string => (key === "with" ? "calipers" : key === "wind" ? "0.2" : "100");
    const keys = [...said].flatMap((t) => /^((?:with|wind|(?:width|height|depth|diagonals): .+)):$/.exec(t)?.[1] ?? []);
    expect(keys).toHaveLength(16);
    // Every box filled in as it is named makes a job that is read.
    const lines = new Map<string, string[]>();
    for (const key of keys) {
      const [outer, inner] = key.split(": ");
      lines.set(outer!, [...(lines.get(outer!) ?? []), inner === undefined ? value(key) : `${inner}: ${value(key)}`]);
    }
    const opening = [...lines].map(([k, v]) => `      ${k}: ${v[0]!.includes(":") ? `{${v.join(", ")}}` : v[0]}`);
    const whole: Record<string, string> = {
      wood: "cherry",
      "side thickness": "15",
      "side grain": "upright",
      "back thickness": "6",
      "divider thickness": "12",
      columns: "1",
      "measured with": "rule",
      "moisture today": "8 % by meter",
    };
    for (const key of Object.keys(whole)) expect(said).toContain(`${key}:`);
    const job = [
      "title: A case",
      "units: mm",
      "parts: {side: {blank: {wood: ash, length: 100, width: 50, thickness: 9}}}",
      "case:",
      ...Object.entries(whole).map(([k, v]) => `  ${k}: ${v}`),
      "  openings:",
      "    cinnamon:",
      ...opening,
    ].join("\n");
    const read = readJob(job, "form.yaml", () => undefined);
    expect(read.findings.map((f) => `${f.place.source?.line}: ${f.what}`)).toEqual([]);
    expect(read.ok && read.value.cabinet?.case.openings[0]).toMatchObject({ name: "cinnamon", with: "calipers" });
  });

  it("goes round the case: in front, reaching in, behind", () => {
    const page = textsOn(GRID)[1]!;
    const at = (text: string): number => page.indexOf(text);
    const walk = [
      "width: mouth:",
      "diagonals: falling:",
      "wind:",
      "width: middle:",
      "depth: right:",
      "width: back:",
    ].map(at);
    expect(walk.every((n) => n >= 0)).toBe(true);
    expect([...walk].sort((a, b) => a - b)).toEqual(walk);
    expect(at("1. In front: the mouth")).toBeLessThan(walk[0]!);
  });

  it("has one sheet of paper a page, on both papers, with both check lines 100 mm long", () => {
    for (const paper of ["A4", "Letter"] as const) {
      const pages = readPdf(formPdf(GRID, paper));
      expect(pages).toHaveLength(formPages(GRID).length);
      for (const page of pages) {
        expect(page.height).toBeGreaterThan(page.width);
        const runs = page.paths.flatMap((path) => path.points).filter((points) => points.length === 2);
        const long = (a: { x: number; y: number }, b: { x: number; y: number }): [number, number] => [
          Math.abs(b.x - a.x),
          Math.abs(b.y - a.y),
        ];
        const lengths = runs.map(([a, b]) => long(a!, b!));
        expect(lengths.some(([x, y]) => y < 0.01 && Math.abs(x - 100) <= 0.1)).toBe(true);
        expect(lengths.some(([x, y]) => x < 0.01 && Math.abs(y - 100) <= 0.1)).toBe(true);
      }
    }
    expect(Buffer.compare(formPdf(GRID, "A4"), formPdf(GRID, "A4"))).toBe(0);
  });

  it("keeps every drawing on its page, however many openings there are and whatever they are called", () => {
    const cases = fc.record({
      rows: fc.integer({ min: 1, max: 12 }),
      columns: fc.integer({ min: 1, max: 5 }),
      name: fc.string({ maxLength: 60 }),
    });
    fc.assert(
      fc.property(cases, ({ rows, columns, name }) => {
        const pages = formPages(formGrid("x", "in", rows, columns, [name, `${name}${name}`]));
        const points = pages.flatMap(({ marks }) =>
          marks.flatMap((m) => (m.kind === "run" ? m.segments.flatMap((s) => [s.from, s.to]) : [])),
        );
        const off = points.filter((p) => p.x < -0.01 || p.x > 175.01 || p.y > 0.01 || p.y < -230.01);
        expect(off).toEqual([]);
      }),
      { numRuns: 12 },
    );
  });

  it("puts nothing of a name into the page but its letters", () => {
    const html = formHtml(formGrid('<script>alert("x")</script>', "mm", 1, 1, ["<b>&"]));
    expect(html).not.toContain("<script>");
    expect(html).not.toContain("<b>");
    expect(html.match(/<section>/g)).toHaveLength(3);
  });

  it("reads the openings of a job that is not measured yet", () => {
    const job = "title: T\nunits: in\ncase:\n  columns: 2\n  openings:\n    upper  left:\n    upper right:\n";
    expect(formGridOf(job, "j.yaml")).toEqual({
      title: "T",
      unit: "in",
      rows: 1,
      columns: 2,
      names: ["upper left", "upper right"],
    });
    expect(formGridOf("title: T\n", "j.yaml")).toMatchObject({ lacks: expect.stringContaining("no openings") });
    expect(formGridOf("case:\n  columns: 2\n  openings: {a: , b: , c: }\n", "j.yaml")).toMatchObject({
      lacks: expect.stringContaining("columns"),
    });
    expect(formGridOf("case: [", "j.yaml")).toHaveProperty("lacks");
  });
});
