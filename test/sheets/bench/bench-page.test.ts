import { describe, expect, it } from "vitest";
import { makeAll } from "../../../src/pipeline.ts";
import { lengthWords } from "../../../src/sheets/bench/length-words.ts";
import { speedWords } from "../../../src/sheets/bench/set-up-section.ts";
import { runsOf } from "../../../src/sheets/bench/work.ts";
import { oneBoard, projectText, textsOf } from "../../pipeline/texts.ts";
import { readPdf } from "../reading-pdf.ts";

const CABINET = `title: One <small> drawer
units: mm
case:
  wood: cherry
  side thickness: 12
  measured with: calipers
  moisture today: 8 % by meter
  openings:
    till: {width: {mouth: 82.3, middle: 82.1, back: 82.4}, height: {left: 46.1, right: 46.0}, depth: 96}
drawers:
  held by: tape
  fronts: {wood: cherry, thickness: 12, as planed: 12.1}
  sides: {wood: ash, thickness: 9, as planed: 9}
  bottoms: {wood: plywood, thickness: 4, as planed: 4}
  runners: {wood: hard maple, tall: 11, tall as planed: 11, thickness: 4, as planed: 4, screw: 3.5 mm, screws: 2}
  front joint: rabbet
  back joint: through
`;

const shop = {
  text: projectText("samples/shop.yaml").replace(
    "diameter: 3.5\n    measured diameter: 3.5",
    "diameter: 4\n    measured diameter: 4",
  ),
  file: "shop.yaml",
};

/** What a page says, tags and entities taken out, white space made single. */
function wordsOf(html: string): string {
  return html
    .replace(/<style>[\s\S]*?<\/style>|<title>.*?<\/title>/g, "")
    .replace(/<[^>]+>/g, " ")
    .replace(/&lt;/g, "<")
    .replace(/&gt;/g, ">")
    .replace(/&quot;/g, '"')
    .replace(/&amp;/g, "&")
    .replace(/[\s\u00a0]+/g, " ");
}

describe("the bench page of a small cabinet that waits for its second measuring", () => {
  const made = makeAll(textsOf(CABINET, { shop }));
  const html = made.files.find((f) => f.name === "bench.html")?.text ?? "";
  const said = wordsOf(html);
  const report = made.report!;

  it("is handed out as HTML and as PDF for both papers", () => {
    expect(made.verdict).toBe("fine");
    expect(html).toContain("<h1>One &lt;small&gt; drawer</h1>");
    expect(made.prints.map((p) => p.name)).toEqual(expect.arrayContaining(["bench-a4.pdf", "bench-letter.pdf"]));
    for (const print of made.prints.filter((p) => p.name.startsWith("bench"))) {
      const first = readPdf(print.bytes)[0]!;
      expect(first.texts.map((t) => t.text)).toContain("One <small> drawer");
      expect(first.texts.some((t) => t.text.startsWith("Glue the case"))).toBe(true);
    }
  });

  it("names every program once in the order of work, before its own page", () => {
    const order = said.slice(0, said.indexOf("Set-ups on the router"));
    expect(runsOf(report).length).toBeGreaterThan(1);
    for (const run of runsOf(report)) {
      expect(order.split(run.file).length - 1, run.file).toBe(1);
      expect(said.slice(order.length)).toContain(run.file);
      expect(said).toContain(run.dryRun ?? "no dry run");
    }
  });

  it("goes from the glued case through hold points to the finish", () => {
    const at = [
      "Glue the case",
      "Saw and plane the stock",
      "Make the runners",
      "Screw the runners into the case",
      "Measure between the runners",
      "Stop and measure first: measure between the fitted runners of till",
      "Cut the sides' grooves",
      "Put each drawer together dry",
      "shellac or wax only, none on what is glued",
      "Glue front, sides and back",
      "Finish the fronts",
    ].map((t) => said.indexOf(t));
    expect(at.every((i) => i >= 0)).toBe(true);
    expect([...at].sort((a, b) => a - b)).toEqual(at);
    expect(said).toContain("between the runners of till, at the mouth: ______________");
  });

  it("names the programs that are held back, with why", () => {
    const from = said.indexOf("Held back: these programs are not made yet");
    expect(from).toBeGreaterThan(0);
    const box = said.slice(from, from + 700);
    expect(report.heldBack.length).toBe(4);
    for (const held of report.heldBack) expect(box).toContain(`"${held.setUp}"`);
    expect(box.toLowerCase()).toContain("measured between the runners");
    expect(said).toContain("Held back: no program is made for it yet");
  });

  it("gives at each set-up holding, zero, marks, bits, speeds and what to measure", () => {
    for (const p of report.programs) {
      const page = said.slice(said.indexOf(` ${p.setUp} `, said.indexOf("Set-ups on the router")));
      const end = page.indexOf("Stop and measure, before the next set-up");
      expect(end, p.setUp).toBeGreaterThan(0);
      expect(page.slice(0, end)).toContain("Held by tape");
      expect(page.slice(0, end)).toContain(`Zero: ${p.zero.how}`);
      for (const c of p.cutters) expect(page.slice(0, end)).toContain(c.name);
      for (const s of p.steps) expect(page.slice(0, end)).toContain(`N${s.n} ${s.title}`);
    }
    expect(said).toMatch(/wide \d+\.\d\d ± 0\.10 mm; deep \d+\.\d\d ± 0\.10 mm/);
  });

  it("tells the fit: sizes, planing, gauges, gaps by season, runners, what was taken for granted, by hand instead", () => {
    for (const t of [
      "Boxes, when glued and cleaned up",
      "left for fitting",
      "Marking gauge settings",
      "Gaps through the year",
      "matters most",
      "spacer: plane it to",
      "Cut list",
      "Taken because the job doesn't say",
      "If you'd rather cut it by hand",
      "till mouth 82.3",
      "middle 82.1, back 82.4",
    ])
      expect(said, t).toContain(t);
  });

  it("ends with what to do when it goes wrong, the cautions, and the two boxes", () => {
    const at = [
      "The drawer sits low",
      "The groove is too tight",
      "It rubs or binds",
      "The bit has pulled out of its collet",
      "The power was cut",
      "Take care",
      "Eyes, ears, lungs",
      "Checked, for every program",
      "Not checked: this is yours",
    ].map((t) => said.indexOf(t));
    expect(at.every((i) => i >= 0)).toBe(true);
    expect([...at].sort((a, b) => a - b)).toEqual(at);
    for (const line of report.programs.flatMap((p) => [...p.proof.checked, ...p.proof.notChecked])) {
      expect(said).toContain(line);
    }
    expect(said).toContain("manual");
  });
});

describe("the bench page of one board, in inches", () => {
  const made = makeAll(
    textsOf(
      oneBoard(
        [
          "- groove: keeper",
          "  on: face",
          "  from: lower edge",
          "  near edge at: 1/2",
          "  width: 3/8",
          "  depth: 4.5 mm",
          "- hole: peg",
          "  on: face",
          "  diameter: 5 mm",
          "  depth: 8 mm",
          "  centre at: 1 from first end, 2 1/4 from lower edge",
        ],
        { length: 5, width: 3, thickness: 0.75 },
      ).replace("units: mm", "units: in"),
    ),
  );
  const said = wordsOf(made.files.find((f) => f.name === "bench.html")?.text ?? "");

  it("says inches first, measures cuts by calipers, and goes from stock to finish without drawers", () => {
    expect(made.findings.filter((f) => f.grade === "refuse").map((f) => f.what)).toEqual([]);
    expect(said).toContain("Blank 5 × 3 × 3/4 in (127 × 76.2 × 19.05 mm)");
    expect(said).toContain("wide 0.375 ± 0.004 in (9.53 ± 0.10 mm)");
    expect(said).toContain("deep 0.177 ± 0.004 in (4.50 ± 0.10 mm)");
    expect(said).toContain("from lower edge 0.500 ± 0.004 in (12.70 ± 0.10 mm)");
    expect(said).toContain("across 0.197 ± 0.004 in (5.00 ± 0.10 mm)");
    const at = ["Saw and plane the stock", 'Cut "board"', "shellac or wax only inside drawers", "Glue up, square"].map(
      (t) => said.indexOf(t),
    );
    expect(at.every((i) => i >= 0)).toBe(true);
    expect([...at].sort((a, b) => a - b)).toEqual(at);
    expect(said).not.toContain("The fit");
    expect(said).not.toContain("The drawer sits low");
  });
});

describe("the bench page of a fit card and of a burned tag", () => {
  const made = makeAll(
    textsOf(`title: Card and tag
units: mm
shop: shop.yaml
fit card: {wood: ash, thickness: 9, runner: 9.53, depth: 3.5, bit: flat 4, grooves: 3}
parts:
  tag:
    blank: {wood: plywood, length: 60, width: 40, thickness: 4}
    held by: tape
    features:
      - mark: name
        on: face
        text: Till
        letters: script
        cap height: 6
        centre at: 30 from first end, 20 from lower edge
        made by: burned line
        effect: line
`),
  );
  const said = wordsOf(made.files.find((f) => f.name === "bench.html")?.text ?? "");
  const report = made.report!;

  it("tells the card's grooves by their tallies, with room for the one chosen, and no way of cutting it by hand", () => {
    expect(made.findings.filter((f) => f.grade === "refuse").map((f) => f.what)).toEqual([]);
    expect(said).toContain("Slide the real runner into each groove");
    for (const [n, tally] of [
      [1, "dot"],
      [2, "dot, dot"],
      [3, "dot, dot, dot"],
    ] as const) {
      expect(said).toContain(`${n} ${tally} `);
    }
    expect(said).toContain("groove chosen");
    expect(said).not.toContain("If you'd rather cut it by hand");
  });

  it("puts the laser's cautions before its set-ups, and tells zero, setting and outline walk of each", () => {
    const beam = report.beams[0]!;
    const from = said.indexOf("Under the laser");
    const at = [beam.cautions[0]!, beam.setUp, beam.zero.how, 'setting "line"', beam.dryRun!].map((t) =>
      said.indexOf(t, from),
    );
    expect(at.every((i) => i > from)).toBe(true);
    expect([...at].sort((a, b) => a - b)).toEqual(at);
    for (const caution of beam.cautions) expect(said).toContain(caution);
    // Burned after it is cut, and before there is finish.
    const order = said.slice(0, from);
    expect(order.indexOf("Burn the marks")).toBeGreaterThan(order.indexOf('Cut "fit card"'));
    expect(order.indexOf("Burn the marks")).toBeLessThan(order.indexOf("Finish the inside faces"));
    expect(said).toContain("A flame that stays");
  });
});

describe("the bench page of turned parts", () => {
  const made = makeAll(
    textsOf(`title: Pulls
units: mm
shop: shop.yaml
parts:
  knob:
    blank: {wood: cherry, length: 48, square: 22}
    turned by: hand
    copies: 2
    features:
      - turning: profile
        waste at ends: 8
        elements:
          - tenon: {length: 15, diameter: 6}
          - fillet: {length: 2, diameter: 14}
          - cove: {length: 5, diameter: 9, from: 14, to: 11}
          - bead: {length: 10, diameter: 18, from: 11, to: 9}
  rail pull:
    blank: {wood: cherry, length: 190, square: 60}
    turned by: machine
    square ends: 22
    held by: jaws
    features:
      - turning: profile
        half profile: yes
        waste at ends: 6
        elements:
          - fillet: {length: 4, diameter: 34}
          - bead: {length: 9, diameter: 46, from: 39, to: 42}
          - fillet: {length: 2, diameter: 42}
          - ogee: {length: 12, from: 42, to: 55}
          - cylinder: {length: 1 share, diameter: 55}
      - split: halves
        by: saw
        kerf: 1.2
        wander: 0.5
`),
  );
  const said = wordsOf(made.files.find((f) => f.name === "bench.html")?.text ?? "");

  it("tells the order from the blank to the trued halves, and each piece's diameters with room for what is found", () => {
    expect(made.findings.filter((f) => f.grade === "refuse").map((f) => f.what)).toEqual([]);
    const at = [
      '"knob": make the blank, turn it, stop and measure it',
      '"rail pull": make the blank, turn it, stop and measure it',
      made.report!.turnings[0]!.file,
      '"rail pull": split it, and true the faces',
      "Turned parts",
      "rail pull, in order",
      "rail pull, on the lathe",
      "Stop and measure, the lathe standing still",
      "knob, turned by hand",
      "Caliper settings, and what was found",
      "The work catches, wobbles or cracks",
      "Never split round wood on a saw bench",
    ].map((t) => said.indexOf(t));
    expect(at.every((i) => i >= 0)).toBe(true);
    expect([...at].sort((a, b) => a - b)).toEqual(at);
    expect(said).toContain("thickest of bead 18.00 mm, 45/64 in");
    const turning = made.report!.turnings[0]!;
    for (const s of turning.steps) expect(said).toContain(`N${s.n} ${s.title}`);
    for (const t of turning.tools) expect(said).toContain(`${t.name}, slot ${t.slot}`);
  });
});

describe("words", () => {
  it("says a length in the job's unit first", () => {
    const mm = lengthWords("mm");
    const inch = lengthWords("in");
    const plain = (t: string): string => t.replace(/\u00a0/g, " ");
    expect(plain(mm.one(12.7))).toBe("12.7 mm");
    expect(plain(mm.both(12.7))).toBe("12.7 mm (1/2 in)");
    expect(plain(inch.one(12.7))).toBe("1/2 in (12.7 mm)");
    expect(plain(mm.calipers(4.5, 0.1))).toBe("4.50 ± 0.10 mm");
    expect(plain(inch.calipers(4.5, 0.1))).toBe("0.177 ± 0.004 in (4.50 ± 0.10 mm)");
    expect(plain(inch.size(304.8, 50.8, 19.05))).toBe("12 × 2 × 3/4 in (304.8 × 50.8 × 19.05 mm)");
  });

  it("says what a dial is set to, by its mark where it has one", () => {
    const dial = { kind: "dial", positions: [{ mark: "3", rpm: 16000 }] } as const;
    expect(speedWords(16000, dial)).toBe("set the dial to 3 (16000 rpm)");
    expect(speedWords(12000, dial)).toBe("set 12000 rpm");
    expect(speedWords(18000, { kind: "program", min: 1, max: 24000 })).toBe("18000 rpm");
  });
});
