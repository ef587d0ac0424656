import { describe, expect, it } from "vitest";
import type { Finding } from "../../src/finding.ts";
import type { Move, Toolpath } from "../../src/paths/move.ts";
import { pathFor } from "../../src/paths/path-for.ts";
import { planAll } from "../../src/pipeline.ts";
import type { Operation } from "../../src/plan/operation.ts";
import type { PlannedSetUp } from "../../src/plan/plan-job.ts";
import type { SetUp } from "../../src/plan/setup.ts";
import type { Post } from "../../src/program/post.ts";
import { readPost } from "../../src/program/read-post.ts";
import { writePrograms } from "../../src/program/write-programs.ts";
import { proveSetUp } from "../../src/proof/prove.ts";
import { oneBoard, projectText, textsOf } from "./texts.ts";

/**
 * Mistakes planted before the text is written, as a slip in planning, paths or writing would make them. The proof sees
 * the true set-up and the wrong text, and must refuse every one that harms: that moves the cutter by more than the
 * accuracy while it is in wood, or changes spindle, feed or unit.
 */

const JOB = oneBoard([
  "- recess: room",
  "  shape: rounded rectangle",
  "  length: 46",
  "  width: 26",
  "  corner radius: 6",
  "  centre at: 40 from first end, 46 from lower edge",
  "  depth: 7",
  "- groove: bottom",
  "  from: lower edge",
  "  near edge at: 12",
  "  width: 8.4",
  "  depth: 5",
  "  stops: 9 from first end",
  "- rabbet: lap",
  "  along: second end",
  "  width: 11",
  "  depth: 6",
  "- hole: peg",
  "  diameter: 9",
  "  depth: 6",
  "  centre at: 85 from first end, 50 from lower edge",
]);

interface Slip {
  readonly name: string;
  readonly operation?: (o: Operation) => Operation;
  readonly moves?: (moves: readonly Move[], setUp: SetUp) => readonly Move[];
  readonly setUp?: (s: SetUp) => SetUp;
  readonly text?: (t: string) => string;
}

const movePoint =
  (f: (p: { x: number; y: number }) => { x: number; y: number }) =>
  (m: Move): Move => {
    switch (m.kind) {
      case "rapid xy":
        return { ...m, to: f(m.to) };
      case "line":
        return { ...m, to: { ...m.to, ...f(m.to) } };
      case "arc":
        return { ...m, to: { ...m.to, ...f(m.to) }, centre: f(m.centre) };
      case "rapid z":
      case "dwell":
        return m;
    }
  };

const deeper =
  (by: number) =>
  (m: Move): Move =>
    (m.kind === "line" || m.kind === "arc") && m.to.z < 0 ? { ...m, to: { ...m.to, z: m.to.z - by } } : m;

const SLIPS: readonly Slip[] = [
  { name: "a sign: Y turned round", moves: (ms) => ms.map(movePoint((p) => ({ x: p.x, y: -p.y }))) },
  {
    name: "a mirrored frame: left for right",
    moves: (ms, s) => ms.map(movePoint((p) => ({ x: s.blank.min.x + s.blank.max.x - p.x, y: p.y }))).map(flipSense),
  },
  { name: "X and Y exchanged", moves: (ms) => ms.map(movePoint((p) => ({ x: p.y, y: p.x }))).map(flipSense) },
  { name: "all shifted by 0.05 mm in X", moves: (ms) => ms.map(movePoint((p) => ({ x: p.x + 0.05, y: p.y }))) },
  { name: "all shifted by 0.05 mm in Y", moves: (ms) => ms.map(movePoint((p) => ({ x: p.x, y: p.y + 0.05 }))) },
  { name: "all 0.03 mm too deep", moves: (ms) => ms.map(deeper(0.03)) },
  { name: "all 0.03 mm too high", moves: (ms) => ms.map(deeper(-0.03)) },
  {
    name: "radius for diameter",
    operation: (o) => ({ ...o, cutter: { ...o.cutter, diameter: o.cutter.diameter / 2 } }),
  },
  {
    name: "diameter for radius",
    operation: (o) => bored({ ...o, cutter: { ...o.cutter, diameter: o.cutter.diameter * 1.2 } }),
  },
  {
    name: "the last level left out",
    operation: (o) => ("levels" in o ? ({ ...o, levels: o.levels.slice(0, -1), ...finishless(o) } as Operation) : o),
  },
  { name: "a level 0.4 mm too deep", operation: (o) => lowered(o, 0.4) },
  { name: "no finish pass", moves: (ms) => ms.filter((m) => !("why" in m) || m.why !== "finish") },
  {
    name: "rapids between cuts 8 mm too low",
    setUp: (s) => ({ ...s, safeZ: s.safeZ - 8 }),
    moves: (ms) => ms,
  },
  { name: "arcs turned the other way", moves: (ms) => ms.map(flipSense) },
  { name: "feeds ten times too fast", moves: (ms) => ms.map((m) => ("feed" in m ? { ...m, feed: m.feed * 10 } : m)) },
  { name: "inches for millimetres", text: (t) => t.replaceAll("G21", "G20") },
  {
    name: "the other bit called",
    text: (t) =>
      t
        .replace(/T(\d+) M6/, (_, n: string) => `T${Number(n) === 1 ? 2 : 1} M6`)
        .replace(/G43 H(\d+)/, (_, n: string) => `G43 H${Number(n) === 1 ? 2 : 1}`),
  },
  {
    name: "the wrong length offset",
    text: (t) => t.replace(/G43 H(\d+)/, (_, n: string) => `G43 H${Number(n) === 1 ? 2 : 1}`),
  },
  { name: "the spindle never started", text: (t) => t.replace(/ ?M3/g, "") },
  { name: "the spindle turning backwards", text: (t) => t.replace(/M3\b/g, "M4") },
  { name: "no time to spin up", text: (t) => t.replace(/^G4 .*\n/gm, "") },
  { name: "no lift before the first move", text: (t) => t.replace(/^G53 .*\n/gm, "") },
  { name: "path mode rounding corners", text: (t) => t.replaceAll("G61", "G64") },
  { name: "incremental mode", text: (t) => t.replaceAll("G90", "G91") },
];

function flipSense(m: Move): Move {
  return m.kind === "arc" ? { ...m, ccw: !m.ccw } : m;
}

function bored(o: Operation): Operation {
  return o.kind === "bore" ? { ...o, diameter: o.diameter - 1 } : o;
}

function finishless(o: Operation): object {
  return o.kind === "clear" ? { finishLevels: [] } : {};
}

function lowered(o: Operation, by: number): Operation {
  switch (o.kind) {
    case "clear":
      return {
        ...o,
        levels: o.levels.map((l) => ({ ...l, z: l.z - by })),
        finishLevels: o.finishLevels.map((l) => ({ ...l, z: l.z - by })),
      };
    case "follow":
    case "contour":
    case "trace":
      return { ...o, levels: o.levels.map((z) => z - by) };
    case "v-groove":
      return { ...o, topZ: o.topZ - by, levels: o.levels.map((z) => z - by) };
    case "bore":
      return { ...o, floorZ: o.floorZ - by };
    case "peck":
    case "sink":
      return { ...o, tipZ: o.tipZ - by };
    case "ease":
      return {
        ...o,
        passes: o.passes.map((pass) => ({ ...pass, points: pass.points.map((q) => ({ ...q, z: q.z - by })) })),
      };
  }
}

const planned = planAll(textsOf(JOB));
const post = readPost(projectText("post/millimetre.yaml"), "millimetre");

/** Codes of what stopped a slip: the proof's refusals, or a guard of path or writer that saw a mistake of ours. */
function stoppedBy(one: PlannedSetUp, slip: Slip, dialect: Post): readonly string[] {
  const shop = planned.ok ? planned.value.shop : undefined;
  if (shop === undefined) throw new Error("not planned");
  const wrong = slip.setUp?.(one.setUp) ?? one.setUp;
  try {
    const toolpaths = one.operations.flatMap((o): Toolpath[] => {
      const path = pathFor(slip.operation?.(o) ?? o, wrong);
      return path.ok ? [{ operation: o, moves: slip.moves?.(path.value.moves, one.setUp) ?? path.value.moves }] : [];
    });
    const written = writePrograms({ setUp: wrong, toolpaths, post: dialect, title: "t", version: "0" });
    if (!written.ok) return written.findings.map((f) => f.code);
    const programs = written.value.map((p) => ({ file: p.name, text: slip.text?.(p.text) ?? p.text }));
    return refusalsOf(proveSetUp({ setUp: one.setUp, programs, shop }).findings);
  } catch (error) {
    if (error instanceof RangeError) return [`guard: ${error.message}`];
    throw error;
  }
}

function refusalsOf(findings: readonly Finding[]): readonly string[] {
  return findings.filter((f) => f.grade === "refuse").map((f) => f.code);
}

describe("slips upstream of the text", () => {
  it("the right program passes", () => {
    if (!planned.ok || !post.ok) throw new Error("not planned");
    expect(planned.value.setUps).toHaveLength(1);
    expect(stoppedBy(planned.value.setUps[0]!, { name: "none" }, post.value)).toEqual([]);
  });

  it.each(SLIPS)("$name: refused", (slip) => {
    if (!planned.ok || !post.ok) throw new Error("not planned");
    expect(stoppedBy(planned.value.setUps[0]!, slip, post.value)).not.toEqual([]);
  });
});
