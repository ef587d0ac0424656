import { closest } from "../units/closest.ts";
import type { Machine, SpindleSpeed } from "./machine.ts";
import { readLaser } from "./read-laser.ts";
import { readRotary } from "./read-rotary.ts";
import type { MachineFile } from "./shop-file.ts";
import type { Range, ShopReader } from "./shop-reader.ts";

const LENGTH: Range = { min: 0.1, max: 5000 };
const TRAVEL: Range = { min: 10, max: 10_000 };
const FEED: Range = { min: 10, max: 200_000 };
const ACCELERATION: Range = { min: 1, max: 50_000 };
const SPEED: Range = { min: 100, max: 100_000 };
const SECONDS: Range = { min: 0, max: 120 };
const POWER: Range = { min: 10, max: 30_000 };
const OFFSET: Range = { min: -1000, max: 1000 };
const CORNER: Range = { min: 0, max: 5 };

type Key = keyof MachineFile;

/** Reads one machine over the built-in one that it is like; what comes from there is noted. */
export function readMachine(
  name: string,
  written: MachineFile,
  builtIn: readonly Machine[],
  reader: ShopReader,
): Machine | undefined {
  const at = (...keys: readonly string[]): readonly string[] => ["machines", name, ...keys];
  const base = baseOf(name, written, builtIn, reader);
  if (!base) return undefined;
  const from = <T>(key: Key, value: T | undefined, fallback: T): T => {
    if (value !== undefined) return value;
    reader.defaultsUsed.push(`machine "${name}": ${key}, from "${base.name}"`);
    return fallback;
  };
  const axes = <T extends Record<"x" | "y" | "z", number>>(
    key: "travel" | "top feed" | "acceleration",
    kind: "length" | "feed" | "acceleration",
    range: Range,
    fallback: T,
  ): { x: number; y: number; z: number } => {
    const raw = written[key] as Readonly<Record<"x" | "y" | "z", number | string>> | undefined;
    const axis = (a: "x" | "y" | "z"): number => reader.size(raw![a], at(key, a), kind, range);
    return from(key, raw && { x: axis("x"), y: axis("y"), z: axis("z") }, fallback);
  };
  const one = (
    key: "corner deviation" | "spindle power" | "spin up" | "spin down",
    kind: "length" | "power" | "time",
    range: Range,
    fallback: number,
  ): number => {
    const raw = written[key];
    return from(key, raw === undefined ? undefined : reader.size(raw, at(key), kind, range), fallback);
  };
  const round = (key: "nut" | "body"): { diameter: number; length: number } => {
    const raw = written[key];
    const part = raw && {
      diameter: reader.size(raw.diameter, at(key, "diameter"), "length", LENGTH),
      length: reader.size(raw.length, at(key, "length"), "length", LENGTH),
    };
    return from(key, part, base[key]);
  };
  const head = written["laser head"];
  const headSize = (key: "x" | "y" | "radius" | "underside", range: Range): number =>
    reader.size(head![key], at("laser head", key), "length", range);
  const controller = readController(name, written, base, reader);
  const seat = head && {
    x: headSize("x", OFFSET),
    y: headSize("y", OFFSET),
    radius: headSize("radius", LENGTH),
    underside: headSize("underside", OFFSET),
  };
  const laser = written.laser && readLaser(name, written.laser, seat, controller.toolTable, reader);
  const rotary = written["rotary axis"] && readRotary(name, written["rotary axis"], controller.axes, reader);
  return {
    name,
    travel: axes("travel", "length", TRAVEL, base.travel),
    topFeed: axes("top feed", "feed", FEED, base.topFeed),
    acceleration: axes("acceleration", "acceleration", ACCELERATION, base.acceleration),
    cornerDeviation: one("corner deviation", "length", { min: 0.0001, max: 1 }, base.cornerDeviation),
    spindle: from("spindle", readSpindle(name, written, reader), base.spindle),
    spindlePowerWatts: one("spindle power", "power", POWER, base.spindlePowerWatts),
    spinUpSeconds: one("spin up", "time", SECONDS, base.spinUpSeconds),
    spinDownSeconds: one("spin down", "time", SECONDS, base.spinDownSeconds),
    nut: round("nut"),
    body: round("body"),
    // The beam leaves the head's middle: its place as measured is the better one.
    ...(seat ? { laserHead: { ...seat, ...(laser?.offset ?? {}) } } : {}),
    ...(laser ? { laser } : {}),
    ...(rotary ? { rotary } : {}),
    controller,
    post: from("post", written.post, base.post),
    from: "shop file",
  };
}

/** The built-in machine that fills the gaps: the one named, else the one with the same post. */
function baseOf(
  name: string,
  written: MachineFile,
  builtIn: readonly Machine[],
  reader: ShopReader,
): Machine | undefined {
  const names = builtIn.map((m) => m.name);
  if (written.like !== undefined) {
    const base = builtIn.find((m) => m.name === written.like);
    if (base) return base;
    const near = closest(written.like, names);
    const mend = near === undefined ? `one of: ${names.join("; ")}` : `did you mean "${near}"?`;
    reader.refuse("shop-file-wrong-value", ["machines", name, "like"], `no built-in machine is called so`, { mend });
    return undefined;
  }
  // Travel, post and what the controller knows decide whether a program is safe at all: they are never guessed.
  const base = builtIn.find((m) => m.post === written.post);
  const needed = ["travel", "post", ...(base ? [] : ["understands", "spindle", "top feed", "nut", "body"])];
  const missing = needed.filter((key) => written[key as Key] === undefined);
  for (const key of missing) {
    const mend = 'give it, or name a built-in machine that yours is like: like: "router, plain, speed by dial"';
    reader.refuse("shop-file-missing", ["machines", name, key], `"${key}" is missing for machine "${name}"`, { mend });
  }
  return missing.length > 0 ? undefined : (base ?? builtIn[builtIn.length - 1]);
}

function readSpindle(name: string, written: MachineFile, reader: ShopReader): SpindleSpeed | undefined {
  const raw = written.spindle;
  if (!raw) return undefined;
  const path = ["machines", name, "spindle"];
  if ("dial" in raw) {
    const positions = Object.entries(raw.dial).map(([mark, rpm]) => ({
      mark,
      rpm: reader.size(rpm, [...path, "dial", mark], "speed", SPEED),
    }));
    if (positions.length === 0) {
      const mend = "give each mark with its speed: {dial: {1: 10000 rpm}}";
      reader.refuse("shop-file-wrong-value", [...path, "dial"], "the dial has no marks", { mend });
    }
    return { kind: "dial", positions };
  }
  const min = reader.size(raw.from, [...path, "from"], "speed", SPEED);
  const max = reader.size(raw.to, [...path, "to"], "speed", SPEED);
  if (min > max) {
    const mend = "write the lower speed first";
    reader.refuse("shop-file-disagrees", [...path, "from"], "the spindle's lowest speed is above its highest", {
      mend,
    });
  }
  return { kind: "program", min, max };
}

function readController(name: string, written: MachineFile, base: Machine, reader: ShopReader): Machine["controller"] {
  const raw = written.understands;
  const known = base.controller;
  const path = ["machines", name, "understands"];
  const flag = (key: "arcs" | "tool table" | "tool changer" | "homes" | "exact path", fallback: boolean): boolean => {
    const value = raw?.[key];
    if (value !== undefined) return value === true || value === "yes";
    reader.defaultsUsed.push(`machine "${name}": understands ${key}, from "${base.name}"`);
    return fallback;
  };
  const exactPath = flag("exact path", known.exactPath);
  const cornerError = raw?.["corner error"];
  if (!exactPath && cornerError === undefined) {
    const mend = "give it, from the controller's manual: corner error: 0.05 mm";
    const what = `machine "${name}" has no exact path, so "corner error" is needed`;
    reader.refuse("shop-file-missing", [...path, "corner error"], what, { mend });
  }
  const toolTable = flag("tool table", known.toolTable);
  const toolChanger = flag("tool changer", known.toolChanger);
  if (toolChanger && !toolTable) {
    const mend = "give tool table: yes, or tool changer: no";
    const what = "a tool changer without a tool table cannot know how long its bits are";
    reader.refuse("shop-file-disagrees", path, what, { mend });
  }
  return {
    arcs: flag("arcs", known.arcs),
    toolTable,
    toolChanger,
    homes: flag("homes", known.homes),
    exactPath,
    cornerError: cornerError === undefined ? 0 : reader.size(cornerError, [...path, "corner error"], "length", CORNER),
    axes: raw?.axes ?? known.axes,
  };
}
