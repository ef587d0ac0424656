import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { printFinding } from "../../src/finding.ts";
import type { WriteInput } from "../../src/program/program-text.ts";
import { readPost } from "../../src/program/read-post.ts";
import { dryRunOf, writePrograms } from "../../src/program/write-programs.ts";
import { readProgram } from "../../src/reader/read.ts";
import type { ReadEvent } from "../../src/reader/read-move.ts";
import {
  arc,
  line,
  machine,
  operation,
  POSTS,
  type PostName,
  path,
  postText,
  SAFE_Z,
  sample,
  setUp,
} from "./fixtures.ts";

/** Reads every file that the input gives, as the machine's own controller would. */
function readBack(name: PostName, input: WriteInput, dry: boolean): readonly (readonly ReadEvent[])[] {
  const out = dry ? dryRunOf(input) : writePrograms(input);
  if (!out.ok) throw new Error(out.findings.map(printFinding).join("\n"));
  return out.value.map((p) => {
    const read = readProgram(p.text, p.name, machine(name).controller, {
      safeZ: SAFE_Z,
      stock: setUp(name).blank,
      machineTravel: machine(name).travel,
      highestSlot: 20,
      speedByDial: name === "plain",
    });
    const heard = read.findings.filter((f) => f.grade !== "note");
    expect(heard.map(printFinding).join("\n")).toBe("");
    expect(read.unit).toBe(name === "inch" ? "inch" : "mm");
    return read.events;
  });
}

describe("the strict reader", () => {
  for (const name of POSTS) {
    it(`finds nothing wrong with the programs of post ${name}, nor with their dry runs`, () => {
      for (const dry of [false, true]) {
        const files = readBack(name, sample(name), dry);
        const labels = files.map((events) => events.flatMap((e) => (e.kind === "line number" ? [e.n] : [])));
        expect(labels).toEqual(name === "plain" || name === "no-arcs" ? [[10], [10, 20]] : [[10, 20, 30]]);
        for (const events of files) {
          expect(events[events.length - 1]!.kind).toBe("end");
          const turning = events.some((e) => e.kind === "spindle" && e.spindle.turning !== "off");
          expect(turning).toBe(!dry);
        }
      }
    });
  }

  it("finds nothing wrong with percent lines, another zero and a change on two lines", () => {
    const text = postText("millimetre")
      .replace("G54", "G55")
      .replace("percent lines: false", "percent lines: true")
      .replace("[T M6]", "[T, M6]");
    const read = readPost(text, "own.yaml");
    if (!read.ok) throw new Error("the post does not read");
    readBack("millimetre", sample("millimetre", { post: read.value }), false);
  });

  it("reads the planned motion out of the text: lines, arcs, helices, with feed and spindle", () => {
    const micro = (min: number, max: number) => fc.integer({ min: min * 1000, max: max * 1000 }).map((n) => n / 1000);
    const circles = fc.array(
      fc.record({
        x: micro(30, 170),
        y: micro(30, 70),
        r: micro(0.01, 25),
        z: micro(-15, -0.1),
        ccw: fc.boolean(),
        f: micro(100, 3000),
      }),
      { minLength: 1, maxLength: 5 },
    );
    fc.assert(
      fc.property(circles, (list) => {
        for (const name of ["millimetre", "inch"] as const) {
          const toolpaths = list.map((c, k) =>
            path(operation(`c${k}`), c.x + c.r, c.y, [
              arc(c.x + c.r, c.y, c.z, c.x, c.y, c.ccw, c.f),
              line(c.x, c.y, c.z, c.f),
            ]),
          );
          const [events] = readBack(name, sample(name, { toolpaths }), false);
          const arcs = events!.flatMap((e) => (e.kind === "move" && e.path.kind === "arc" ? [e] : []));
          expect(arcs.length).toBe(2 * list.length);
          for (const [k, c] of list.entries()) {
            const [first, second] = [arcs[2 * k]!, arcs[2 * k + 1]!];
            for (const half of [first, second]) {
              if (half.path.kind !== "arc") throw new Error("an arc was read as a line");
              expect(half.path.ccw).toBe(c.ccw);
              expect(Math.hypot(half.path.centre.x - c.x, half.path.centre.y - c.y)).toBeLessThan(0.0004);
              expect(half.feed).toBeLessThanOrEqual(c.f + 1e-6);
              expect(half.feed).toBeGreaterThan(c.f - 0.11);
              expect(half.spindle).toEqual({ turning: "clockwise", rpm: 16000 });
              expect(half.exactPath).toBe(true);
            }
            expect(Math.abs(first.to.x! - (c.x - c.r))).toBeLessThan(0.0003);
            expect(Math.abs(second.to.z! - c.z)).toBeLessThan(0.0002);
          }
        }
      }),
      { numRuns: 40 },
    );
  });
});
