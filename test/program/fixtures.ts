import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Move, Toolpath } from "../../src/paths/move.ts";
import type { Operation, Speeds } from "../../src/plan/operation.ts";
import type { SetUp } from "../../src/plan/setup.ts";
import type { Post } from "../../src/program/post.ts";
import type { WriteInput } from "../../src/program/program-text.ts";
import { readPost } from "../../src/program/read-post.ts";
import { IDENTITY } from "../../src/shapes/frame.ts";
import type { Cutter } from "../../src/shop/cutter.ts";
import { DEFAULT_HABITS, DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import type { Machine } from "../../src/shop/machine.ts";

export const POSTS = ["millimetre", "inch", "no-arcs", "plain"] as const;
export type PostName = (typeof POSTS)[number];

export function postText(name: PostName): string {
  return readFileSync(join(import.meta.dirname, "../../post", `${name}.yaml`), "utf8");
}

export function post(name: PostName): Post {
  const read = readPost(postText(name), `${name}.yaml`);
  if (!read.ok) throw new Error(`post ${name} does not read`);
  return read.value;
}

/** The built-in machine that a post writes for. */
export function machine(name: PostName): Machine {
  return DEFAULT_SHOP.machines.find((m) => m.post === name)!;
}

export function cutter(name: string): Cutter {
  return DEFAULT_SHOP.cutters.find((c) => c.name === name)!;
}

const speeds: Speeds = { rpm: 16000, feed: 2000, plunge: 500, ramp: 1000, slot: 1500, reason: "for tests" };

export function operation(id: string, title = id, bit = "6 mm flat", rpm = 16000): Operation {
  return {
    kind: "peck",
    id,
    title,
    cavityIds: [id],
    cutter: cutter(bit),
    cutterReason: "for tests",
    speeds: { ...speeds, rpm },
    roughing: "conventional",
    finishing: "climb",
    topZ: 0,
    centres: [],
    tipZ: -5,
    bite: 3,
  };
}

export const SAFE_Z = 12;

/** Moves of an operation around feed moves that begin at (x, y) on the height of approach. */
export function path(op: Operation, x: number, y: number, cuts: readonly Move[]): Toolpath {
  return {
    operation: op,
    moves: [
      { kind: "rapid xy", to: { x, y } },
      { kind: "rapid z", z: SAFE_Z },
      { kind: "rapid z", z: 1 },
      ...cuts,
      { kind: "rapid z", z: SAFE_Z },
    ],
  };
}

export function line(x: number, y: number, z: number, feed = 1500): Move {
  return { kind: "line", to: { x, y, z }, feed, why: "rough" };
}

export function arc(x: number, y: number, z: number, cx: number, cy: number, ccw: boolean, feed = 1500): Move {
  return { kind: "arc", to: { x, y, z }, centre: { x: cx, y: cy }, ccw, feed, why: "rough" };
}

export function setUp(name: PostName, more: Partial<SetUp> = {}): SetUp {
  const size = { length: 200, width: 100, thickness: 18 };
  const labels = {
    face: "face",
    back: "back",
    "lower edge": "lower edge",
    "upper edge": "upper edge",
    "first end": "first end",
    "second end": "second end",
  };
  const source = { file: "job.yaml", line: 1, column: 1, length: 1, text: "" };
  const blank = { min: { x: 0, y: 0, z: -18 }, max: { x: 200, y: 100, z: 0 } };
  return {
    name: "left side, inside up",
    workpiece: {
      name: "left side",
      wood: "ash",
      size,
      grain: "along length",
      pieces: [],
      cavities: [],
      labels,
      faceSide: "face",
      faceEdge: "lower edge",
      wishes: {},
      source,
    },
    face: "face",
    machine: machine(name),
    frame: IDENTITY,
    blank,
    bedZ: -24,
    intoWasteBoard: 0.5,
    holding: { kind: "underside", by: "tape" },
    keepOuts: [{ name: "clamp", box: { min: { x: -20, y: 0, z: -18 }, max: { x: -2, y: 30, z: 7 } } }],
    zero: { corner: "left front", z: "top", how: "corner found with the edge of a card" },
    safeZ: SAFE_Z,
    cavities: [],
    earlier: [],
    target: { blank, slabs: [], cavities: [] },
    marks: [
      { name: "mark A", at: { x: 10, y: 12, z: 0 } },
      { name: "mark B", at: { x: 190, y: 25, z: 0 } },
    ],
    habits: DEFAULT_HABITS,
    cutters: [cutter("6 mm flat")],
    ...more,
  };
}

/** A set-up with a slot by helix and circles, and a groove with a second bit: arcs of both senses, helices, lines. */
export function sample(name: PostName, more: Partial<WriteInput> = {}): WriteInput {
  const bore = path(operation("bore", 'hole "shelf pin"'), 55, 40, [
    line(55, 40, 0, 800),
    arc(45, 40, -1, 50, 40, true, 800),
    arc(55, 40, -2, 50, 40, true, 800),
    arc(55, 40, -2, 50, 40, true),
    line(52.5, 41.25, -2),
    line(52.5, 41.25, 0.5, 900),
  ]);
  const groove = path(operation("groove", 'groove "runner"', "4 mm flat", 20000), 20, 70, [
    line(20, 70, -1.5, 500),
    line(150.12345, 70.00004, -1.5),
    arc(155.0, 74.87659, -1.5, 150.12345, 74.87659, true),
    arc(150.12345, 79.75314, -1.5, 150.12345, 74.87659, true),
    line(20, 80, -1.5),
  ]);
  const again = path(operation("mark", "line", "4 mm flat", 20000), 5, 5, [line(5, 5, -0.5, 400), line(60, 5, -0.5)]);
  return {
    setUp: setUp(name),
    toolpaths: [bore, groove, again],
    post: post(name),
    title: "Spice cabinet",
    version: "0.1.0",
    ...more,
  };
}
