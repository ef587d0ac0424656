import { describe, expect, it } from "vitest";
import { printFinding } from "../../src/finding.ts";
import { registrationCross } from "../../src/parts/cards/registration-cross.ts";
import { makeCard } from "../../src/pipeline/make-card.ts";
import { makeAll } from "../../src/pipeline.ts";
import { readPost } from "../../src/program/read-post.ts";
import { verifySeal } from "../../src/program/seal.ts";
import { BURNS, laserMachine, laserShop } from "../plan/beam-fixtures.ts";
import { POSTS, type PostName, postText } from "../program/fixtures.ts";

const SHOP = `units: mm
machines:
  my router:
    like: router, millimetre, with tool changer
    travel: {x: 600, y: 400, z: 100}
    laser head: {x: 60, y: -4, radius: 18, underside: 10}
    laser:
      wavelength: 450 nm
      rated power: 10 W
      spot: {x: 0.12, y: 0.16}
      focus gap: 24
      focus range: 0.6
      full power: 1000
      power follows speed: yes
      starts with: M4
      slot: 20
    post: millimetre
burns:
  ash:
    line: {power: 35 %, speed: 1500}
`;

const JOB = `title: Box
units: mm
parts:
  lid:
    blank: {wood: ash, length: 120, width: 60, thickness: 10}
    held by: tape
    features:
      - hole: peg
        diameter: 8
        depth: 5
        centre at: 20 from first end, 30 from lower edge
      - mark: name
        text: No. 7
        letters: upright
        cap height: 6
        centre at: 80 from first end, 30 from lower edge
        made by: burned line
`;

function made(job: string, shop = SHOP) {
  return makeAll({
    jobText: job,
    jobFile: "box.yaml",
    shop: { text: shop, file: "shop.yaml" },
    postText: (name) => postText(name as PostName),
  });
}

describe("a job with a burned mark", () => {
  const all = made(JOB);

  it("is cut first, then burned in the same clamping: program, outline walk and sheet, proved and sealed", () => {
    expect(all.findings.filter((f) => f.grade === "refuse").map(printFinding)).toEqual([]);
    expect(all.verdict).toBe("fine");
    const { programs, beams } = all.report!;
    expect(programs).toHaveLength(1);
    expect(beams).toHaveLength(1);
    const [beam] = beams;
    expect(beam).toMatchObject({
      parts: ["lid"],
      machine: "my router",
      laser: { wavelength: 450, fullScale: 1000, mode: "follows speed" },
      steps: [{ effect: "line", power: 0.35, feed: 1500, passes: 1, joulesPerMm2: null }],
    });
    // 3.5 W at 25 mm/s.
    expect(beam!.steps[0]!.joulesPerMm).toBeCloseTo(0.14, 9);
    expect(programs[0]!.file < beam!.file).toBe(true);
    expect(beam!.cautions.join(" ")).toContain("eyewear for 450 nm on everyone in the room");
    for (const name of [beam!.file, beam!.dryRun!]) {
      const file = all.files.find((f) => f.name === name)!;
      expect(verifySeal(file.text)).toMatchObject({ kind: "untouched", seal: beam!.seal });
    }
    expect(all.files.find((f) => f.name === beam!.sheet)?.kind).toBe("sheet");
  });

  it("gives the same bytes again", () => {
    expect(made(JOB).files).toEqual(all.files);
  });

  it("is refused as input without a setting, and nothing is made", () => {
    const none = made(JOB, SHOP.replace("  ash:\n    line", "  ash:\n    lines"));
    expect(none.verdict).toBe("input");
    expect(none.files).toEqual([]);
    expect(none.findings.map((f) => f.code)).toContain("beam-no-setting");
  });
});

describe("a card", () => {
  it.each(POSTS)("is planned, written and proved like any mark, in post %s", (name) => {
    const table = name === "millimetre" || name === "inch";
    const machine = laserMachine(table ? {} : { slot: undefined as never }, {}, name);
    const wish = { wood: "hard maple", length: 60, width: 40, thickness: 6, across: 10, setting: BURNS[0]! };
    const cross = registrationCross(wish);
    expect(cross.ok).toBe(true);
    if (!cross.ok) return;
    const card = makeCard(cross.value, laserShop(machine), (n) => readPost(postText(n as PostName), n));
    expect(card.findings.filter((f) => f.grade === "refuse").map(printFinding)).toEqual([]);
    expect(card.texts).toHaveLength(3);
    for (const { text } of card.texts.slice(0, 2))
      expect(verifySeal(text)).toMatchObject({ kind: "untouched", seal: expect.any(String) });
    expect(card.steps.length).toBeGreaterThan(3);
  });

  it("has no program where the shop has no laser or no post for it", () => {
    const wish = { wood: "hard maple", length: 60, width: 40, thickness: 6, across: 10, setting: BURNS[0]! };
    const cross = registrationCross(wish);
    if (!cross.ok) throw new Error("the cross fits");
    const post = (n: string) => readPost(postText(n as PostName), n);
    const bare = makeCard(cross.value, { ...laserShop(), machines: [] }, post);
    expect([bare.verdict, bare.texts, bare.findings.map((f) => f.code)]).toEqual(["input", [], ["beam-no-laser"]]);
    const mute = makeCard(cross.value, laserShop(), (n) => readPost("name: x", n));
    expect([mute.verdict, mute.texts]).toEqual(["input", []]);
  });
});
