import { describe, expect, it } from "vitest";
import type { BeamSetUp } from "../../../src/plan/beam-setup.ts";
import { beamReadOptions } from "../../../src/proof/beam/prove-beam.ts";
import { readProgram } from "../../../src/reader/read.ts";
import { rectangle } from "../../../src/shapes/outlines.ts";
import { arc, line } from "../../../src/shapes/segment.ts";
import { beamRun } from "../../../src/simulate/beam.ts";
import { mark } from "../../plan/beam-fixtures.ts";
import { burnText, proved, refusals, type Stroke, setUpFor, writingFor } from "./programs.ts";

const at = (x: number, y: number) => ({ x, y });

/** One line of a text changed in one way; undefined where it does not apply. @param by mm */
const mutations = (by: number): Readonly<Record<string, (line: string, i: number) => string | undefined>> => ({
  "line left out": () => "",
  "line twice": (l) => `${l}\n${l}`,
  "X off": (l) => changed(l, "X", (v) => v + by),
  "Y off": (l) => changed(l, "Y", (v) => v - by),
  "X with the other sign": (l) => changed(l, "X", (v) => -v),
  "X and Y exchanged": (l) => {
    const x = /X(-?[\d.]+)/.exec(l)?.[1];
    const y = /Y(-?[\d.]+)/.exec(l)?.[1];
    return x === undefined || y === undefined || x === y
      ? undefined
      : l.replace(`X${x}`, `X${y}`).replace(`Y${y}`, `Y${x}`);
  },
  "Z half a millimetre off": (l) => changed(l, "Z", (v) => (v === 0 && l.startsWith("G1") ? 0.6 : v)),
  "S ten times": (l) => changed(l, "S", (v) => v * 10),
  "S a tenth": (l) => changed(l, "S", (v) => v / 10),
  "S taken out": (l) => (/ S\d+/.test(l) ? l.replace(/ S\d+/, "") : undefined),
  "F doubled": (l) => changed(l, "F", (v) => v * 2),
  "the arc the other way": (l) =>
    /^G[23] /.test(l) ? l.replace(/^G[23]/, (g) => (g === "G2" ? "G3" : "G2")) : undefined,
  "I and J doubled": (l) => (/ I/.test(l) ? changed(changed(l, "I", (v) => 2 * v) ?? l, "J", (v) => 2 * v) : undefined),
  "a rapid": (l) => (/^G1 /.test(l) ? l.replace("G1 ", "G0 ") : undefined),
  "M3 for M4": (l) => (/M4/.test(l) ? l.replace("M4", "M3") : undefined),
});

function changed(l: string, letter: string, to: (v: number) => number): string | undefined {
  if (l.startsWith("(")) return undefined;
  const found = new RegExp(`${letter}(-?[\\d.]+)`).exec(l);
  if (found === null) return undefined;
  const value = to(Number(found[1]));
  return value === Number(found[1]) ? undefined : l.replace(found[0], `${letter}${Number(value.toFixed(4))}`);
}

/** What is burned, as text: where, at which power, speed and height. */
function burnedBy(setUp: BeamSetUp, text: string): string {
  const read = readProgram(text, "a.ngc", setUp.machine.controller, beamReadOptions(setUp));
  return JSON.stringify(
    beamRun(read.events, setUp.laser, setUp.machine).burns.map((b) => [
      b.curve,
      b.power,
      b.commanded.feed,
      b.zFrom,
      b.zTo,
    ]),
  );
}

/** Every mutation of every line: those that change what is burned, and those of them that are not refused. */
function missed(
  setUp: BeamSetUp,
  text: string,
  by: number,
): { readonly planted: number; readonly missed: readonly string[] } {
  const right = burnedBy(setUp, text);
  const lines = text.split("\n");
  let planted = 0;
  const letBy: string[] = [];
  for (const [i, l] of lines.entries()) {
    for (const [name, mutate] of Object.entries(mutations(by))) {
      const now = mutate(l, i);
      if (now === undefined || now === l) continue;
      const wrong = [...lines.slice(0, i), now, ...lines.slice(i + 1)].join("\n");
      const p = burnedBy(setUp, wrong) === right ? undefined : proved(setUp, wrong);
      if (p === undefined) continue;
      planted++;
      if (refusals(p).length === 0) letBy.push(`${i + 1} ${name}: ${l}`);
    }
  }
  return { planted, missed: letBy };
}

describe("planted faults", () => {
  it("of burned lines: each that changes what is burned is refused", () => {
    const chains = [
      [line(at(20, 20), at(20, 30)), arc(at(20, 30), at(20, 20), at(20, 25), false)],
      [line(at(30, 21), at(40, 30)), line(at(40, 30), at(44, 22))],
      [line(at(50, 25), at(70, 27))],
    ];
    const setUp = setUpFor([mark("name", { kind: "lines", chains }, { by: "burned line" })]);
    const text = burnText(
      writingFor(setUp),
      chains.map((along) => ({ along })),
    );
    const found = missed(setUp, text, 0.03);
    expect(found.missed).toEqual([]);
    expect(found.planted).toBeGreaterThan(50);
  });

  it("of a burned area: each that changes what is burned is refused", () => {
    const [half, pitch] = [0.07, 0.1];
    const rows = Math.floor((0.9 - 2 * half) / pitch + 1e-9) + 1;
    const first = 20.45 - ((rows - 1) * pitch) / 2;
    const strokes = Array.from({ length: rows }, (_, k): Stroke => {
      const y = first + k * pitch;
      const [a, b] = [at(20 + half, y), at(24 - half, y)];
      return { along: [k % 2 === 0 ? line(a, b) : line(b, a)], runUp: 3 };
    });
    const region = rectangle(at(20, 20), at(24, 20.9));
    const area = mark(
      "patch",
      { kind: "area", region },
      { by: "burned area", angleDeg: 0, ways: "two", contour: false },
    );
    const setUp = setUpFor([area], { mode: "constant", start: "M3" });
    const found = missed(setUp, burnText(writingFor(setUp), strokes), 0.15);
    expect(found.missed).toEqual([]);
    expect(found.planted).toBeGreaterThan(100);
  });
});
