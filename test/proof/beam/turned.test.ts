import { describe, expect, it } from "vitest";
import { planBeam } from "../../../src/plan/beam.ts";
import { outlineWalkOf } from "../../../src/program/write-beam.ts";
import { proveBeam, proveOutlineWalk } from "../../../src/proof/beam/prove-beam.ts";
import { rectangle } from "../../../src/shapes/outlines.ts";
import { arc, line, pointAt, type Segment } from "../../../src/shapes/segment.ts";
import { laserShop } from "../../plan/beam-fixtures.ts";
import { around, cylinder, RADIUS, refused, textOf, turnedBeam, turningMachine, writing } from "./turned-fixtures.ts";

const LINE = { by: "burned line" } as const;
const AREA = { by: "burned area", angleDeg: 0, ways: "two", contour: true } as const;

/** A hook: along, around past 180 degrees, a bow, and along again. Alike to nothing of itself mirrored or turned. */
const HOOK: readonly Segment[] = [
  line({ x: 60, y: 4 }, { x: 84, y: 4 }),
  line({ x: 84, y: 4 }, { x: 80, y: 60 }),
  arc({ x: 80, y: 60 }, { x: 60, y: 40 }, { x: 80, y: 40 }, true),
  line({ x: 60, y: 40 }, { x: 50, y: 40 }),
];
const hook = turnedBeam(cylinder([around({ kind: "lines", chains: [HOOK] }, LINE)]));
const text = textOf(hook);

interface Read {
  readonly x: number;
  readonly deg: number;
  /** Minutes that the move takes, by its own F. */
  readonly minutes: number | undefined;
  readonly on: boolean;
}

/** A reader of its own, for these programs only: where the axes stand behind each feed move, and how long it takes. */
function followed(program: string): Read[] {
  let [x, deg, feed, power] = [0, 0, 0, 0];
  let inverse = false;
  const out: Read[] = [];
  for (const l of program.split("\n")) {
    if (l.startsWith("(")) continue;
    if (/\bG93\b/.test(l)) inverse = true;
    if (/\bG94\b/.test(l)) inverse = false;
    const at = (letter: string): number | undefined => {
      const found = new RegExp(`${letter}(-?[\\d.]+)`).exec(l)?.[1];
      return found === undefined ? undefined : Number(found);
    };
    power = at("S") ?? power;
    const before = { x, deg };
    x = at("X") ?? x;
    deg = at("A") ?? deg;
    if (!inverse) feed = at("F") ?? feed;
    if (!/\bG1\b/.test(l)) continue;
    const f = at("F");
    const way = Math.abs(x - before.x);
    out.push({ x, deg, minutes: inverse ? (f === undefined ? undefined : 1 / f) : way / feed, on: power > 0 });
  }
  return out;
}

/** The wood that is up at an angle of A, in the part's own x, y (over the upper edge) and z (the crown). */
function woodUp(x: number, deg: number, crownGoes: "front" | "back"): readonly [number, number, number] {
  // Turned by A, the crown (0, 1) stands at (-sin, cos), to the front; what is up came from the inverse turn of (0, R).
  const a = ((crownGoes === "front" ? deg : -deg) * Math.PI) / 180;
  return [x, RADIUS * Math.sin(a), RADIUS * Math.cos(a)];
}

function onWood(p: { readonly x: number; readonly y: number }): readonly [number, number, number] {
  return [p.x, RADIUS * Math.sin(p.y / RADIUS), RADIUS * Math.cos(p.y / RADIUS)];
}

function apart(a: readonly number[], b: readonly number[]): number {
  return Math.hypot(...a.map((v, i) => v - b[i]!));
}

describe("a mark burned while a rotary axis turns the wood", () => {
  it.each(["front", "back"] as const)("lies on the wood where it is drawn, the crown going to the %s", (crownGoes) => {
    const planned = turnedBeam(
      cylinder([around({ kind: "lines", chains: [HOOK] }, LINE)]),
      laserShop(turningMachine({ crownGoes })),
    );
    const own = textOf(planned);
    expect(refused(planned, own)).toEqual([]);
    const burned = followed(own);
    const drawn = HOOK.flatMap((s) => Array.from({ length: 2001 }, (_, i) => onWood(pointAt(s, i / 2000))));
    for (const [i, r] of burned.entries()) {
      if (!r.on) continue;
      // Both ends of each burning move lie on the drawing, and so does its middle.
      const b = burned[i - 1]!;
      for (const t of [0, 0.5, 1]) {
        const place = woodUp(b.x + t * (r.x - b.x), b.deg + t * (r.deg - b.deg), crownGoes);
        expect(Math.min(...drawn.map((d) => apart(d, place)))).toBeLessThan(0.02);
      }
    }
    // And nothing of the drawing is left out.
    for (const s of HOOK) {
      for (const end of [s.from, s.to]) {
        expect(Math.min(...burned.map((r) => apart(onWood(end), woodUp(r.x, r.deg, crownGoes))))).toBeLessThan(0.001);
      }
    }
  });

  it("runs past the beam at the setting's speed, whatever the direction", () => {
    const burned = followed(text);
    let checked = 0;
    for (const [i, r] of burned.entries()) {
      if (!r.on) continue;
      const b = burned[i - 1]!;
      const way = Math.hypot(r.x - b.x, ((r.deg - b.deg) * Math.PI * RADIUS) / 180);
      // Coordinates are written to 0.0001 mm, so the shortest chords of the bow tell it least exactly.
      expect(Math.abs(way / r.minutes! / 1500 - 1)).toBeLessThan(2e-4);
      checked++;
    }
    expect(checked).toBeGreaterThan(50);
  });

  it.each(["millimetre", "inch", "no-arcs", "plain"] as const)(
    "is proved for post %s, with its outline walk",
    (name) => {
      const planned = turnedBeam(
        cylinder([
          around({ kind: "lines", chains: [HOOK] }, LINE),
          { ...around({ kind: "area", region: rectangle({ x: 100, y: -46 }, { x: 106, y: -40 }) }, AREA), id: "patch" },
        ]),
        laserShop(turningMachine({}, name)),
      );
      const { setUp } = planned;
      const proof = proveBeam({
        setUp,
        programs: [{ file: "a.nc", text: textOf(planned, name) }],
        shop: laserShop(setUp.machine),
      });
      expect(proof.findings.filter((f) => f.grade === "refuse")).toEqual([]);
      expect(proof.figures["off focus"]!.value).toBeLessThan(1e-3);
      const walk = outlineWalkOf(writing(planned, name));
      if (!walk.ok) throw new Error("no walk");
      const walked = proveOutlineWalk(setUp, { file: "w.nc", text: walk.value.text });
      expect(walked.findings.filter((f) => f.grade === "refuse")).toEqual([]);
      // A walk the other way round shows another mark.
      const wrong = walk.value.text.replace(/A(-?)([\d.]+)/g, (_, s, v) => `A${s === "-" ? "" : "-"}${v}`);
      expect(proveOutlineWalk(setUp, { file: "w.nc", text: wrong }).findings.map((f) => f.code)).toContain(
        "proof-beam-walk-short",
      );
    },
  );

  it("may go once around, and its ends meet", () => {
    const turn = 2 * Math.PI * RADIUS;
    const ring = turnedBeam(
      cylinder([around({ kind: "lines", chains: [[line({ x: 80, y: -turn / 2 }, { x: 80, y: turn / 2 })]] }, LINE)]),
    );
    const own = textOf(ring);
    expect(refused(ring, own)).toEqual([]);
    const degrees = followed(own)
      .filter((r) => r.on)
      .map((r) => r.deg);
    expect(Math.abs(degrees[degrees.length - 1]!)).toBeCloseTo(180, 3);
  });
});

describe("a wrong program for wood that turns", () => {
  const numbers = (letter: string, to: (v: number) => number): string =>
    text
      .split("\n")
      .map((l) =>
        l.startsWith("(")
          ? l
          : l.replace(new RegExp(`${letter}(-?[\\d.]+)`), (_, v) => `${letter}${to(Number(v)).toFixed(4)}`),
      )
      .join("\n");
  const once = (from: RegExp, to: string): string => text.replace(from, to);

  it.each([
    ["A the other way", numbers("A", (v) => -v), "proof-beam-outside-marks"],
    ["the diameter for the radius", numbers("A", (v) => v / 2), "proof-beam-outside-marks"],
    ["the radius for the diameter", numbers("A", (v) => 2 * v), "proof-beam-outside-marks"],
    ["millimetres for degrees", numbers("A", (v) => (v * Math.PI * RADIUS) / 180), "proof-beam-outside-marks"],
    ["radians for degrees", numbers("A", (v) => (v * Math.PI) / 180), "proof-beam-outside-marks"],
    ["a degree off", numbers("A", (v) => v + 1), "proof-beam-outside-marks"],
    ["A half a degree off on one line", once(/(\nG1 X[\d.]+ A)(\d+)/, "$1$29"), "proof-beam-outside-marks"],
    ["no G93", text.replace(/G93 /g, ""), "rs-beam-turn-feed"],
    ["G93 missing once", once(/G93 /, ""), "rs-beam-turn-feed"],
    ["no G94 behind the turns", text.replace(/G94 G1/g, "G1"), "rs-beam-feed-mode"],
    ["no F of its own", once(/(G1 X[\d.]+ A-?[\d.]+) F[\d.]+/, "$1"), "rs-e31-no-inverse-time"],
    ["a feed for an inverse time", once(/(G1 X[\d.]+ A-?[\d.]+) F[\d.]+/, "$1 F1500.0"), "proof-beam-setting"],
    ["F doubled on one line", once(/(G93 G1 X[\d.]+ A-?[\d.]+) F([\d.]+)/, "$1 F99.9"), "proof-beam-setting"],
    ["Y beside the axis", text.replace(/Y0\.0/g, "Y2.0"), "proof-beam-off-axis"],
    ["Z a millimetre low", numbers("Z", (v) => (v === 15 ? 14 : v)), "proof-beam-out-of-focus"],
    ["A left out at the start", text.replace(/(G0 X[\d.]+ Y0\.0) A-?[\d.]+/g, "$1"), "proof-beam-angle-unknown"],
    ["A in no line", text.replace(/ A-?[\d.]+/g, ""), "proof-beam-angle-unknown"],
  ])("%s is refused", (_, wrong, code) => {
    expect(wrong).not.toBe(text);
    expect(refused(hook, wrong)).toContain(code);
  });

  it("is one that turns faster than the axis can", () => {
    const { setUp } = hook;
    const slow = {
      ...hook,
      setUp: { ...setUp, turning: { ...setUp.turning!, axis: { ...setUp.turning!.axis, topSpeed: 4000 } } },
    };
    // 1500 mm/min on a radius of 15 mm is 5730 degrees a minute.
    expect(refused(slow, text)).toContain("proof-beam-turn-fast");
  });

  it("is one for wood of another radius", () => {
    const { wood } = hook.setUp.turning!;
    const thin = { ...wood, meridian: { segments: [line({ x: 20, y: 14.9 }, { x: 140, y: 14.9 })] } };
    const other = { ...hook, setUp: { ...hook.setUp, turning: { ...hook.setUp.turning!, wood: thin } } };
    expect(refused(other, text)).toContain("proof-beam-radius");
  });

  it("is one whose head meets the corners of a square end as they come round", () => {
    const { wood } = hook.setUp.turning!;
    const wide = { ...wood, squares: wood.squares.map((s) => ({ ...s, from: s.from < 50 ? 0 : 92, side: 50 })) };
    // Half the side stands below the head, half the diagonal does not: 25 and 35.4 over 15 + 20 of focus gap.
    const other = { ...hook, setUp: { ...hook.setUp, turning: { ...hook.setUp.turning!, wood: wide } } };
    expect(refused(other, text)).toContain("proof-beam-carriage-hit");
  });
});

describe("planning for a rotary axis", () => {
  const lines = { kind: "lines", chains: [HOOK] } as const;
  const codes = (shop = laserShop(turningMachine()), w = cylinder([around(lines, LINE)])) =>
    planBeam(w, shop, []).findings.map((f) => `${f.grade} ${f.code}`);

  it("refuses what cannot be done, each with its reason", () => {
    const { rotary: _, ...bare } = turningMachine();
    expect(codes(laserShop(bare))).toEqual(["refuse beam-no-rotary"]);
    expect(codes(laserShop(turningMachine({ swing: 45 })))).toEqual(["refuse beam-swing"]);
    expect(codes(laserShop(turningMachine({ topSpeed: 4000 })))).toEqual(["refuse beam-too-fast"]);
    const through = around(
      { kind: "area", region: rectangle({ x: 60, y: 0 }, { x: 70, y: 9 }) },
      { by: "burned through", keep: "inside" },
    );
    expect(codes(undefined, cylinder([through]))).toEqual(["refuse beam-turned-through"]);
    const near = around({ kind: "lines", chains: [[line({ x: 25, y: 0 }, { x: 30, y: 0 })]] }, LINE);
    expect(codes(laserShop(turningMachine({ chuck: { diameter: 110, over: 12 } })), cylinder([near]))).toContain(
      "refuse beam-carriage-in-the-way",
    );
  });

  it("has a set-up for each radius", () => {
    const w = cylinder([around(lines, LINE), { ...around(lines, LINE, 14), id: "other" }]);
    const planned = planBeam(w, laserShop(turningMachine()), []);
    expect(planned.ok && planned.value.map((p) => [p.setUp.turning!.radius, p.setUp.name])).toEqual([
      [15, "lid, rotary axis, radius 15, laser"],
      [14, "lid, rotary axis, radius 14, laser"],
    ]);
  });
});
