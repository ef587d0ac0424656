import { closest } from "../units/closest.ts";
import type { HeadHolding, Lathe, Rest, TailHolding, TurningTool } from "./lathe.ts";
import type { LatheFile, TurningToolFile } from "./lathe-file.ts";
import type { SpindleSpeed } from "./machine.ts";
import type { Range, ShopReader } from "./shop-reader.ts";

const LENGTH: Range = { min: 1, max: 3000 };
const FEED: Range = { min: 10, max: 60_000 };
const ACCELERATION: Range = { min: 1, max: 20_000 };
const SPEED: Range = { min: 20, max: 20_000 };
const SECONDS: Range = { min: 0, max: 120 };
const POWER: Range = { min: 10, max: 30_000 };
const CORNER: Range = { min: 0, max: 5 };
const NOSE: Range = { min: 0.02, max: 30 };
const WIDTH: Range = { min: 0.3, max: 60 };
const REACH: Range = { min: 2, max: 300 };
const FLANK: Range = { min: 0, max: 85 };
const INCLUDED: Range = { min: 5, max: 150 };
const A_TURN: Range = { min: 0.005, max: 2 };
const BITE: Range = { min: 0.05, max: 20 };

/** Reads one lathe over the built-in one that it is like. @param assumed collects what came from there */
export function readLathe(
  name: string,
  written: LatheFile,
  builtIn: readonly Lathe[],
  reader: ShopReader,
  assumed: string[],
): Lathe | undefined {
  const at = (...keys: readonly string[]): readonly string[] => ["lathes", name, ...keys];
  const base = baseOf(name, written, builtIn, reader);
  if (base === undefined) return undefined;
  const from = <T>(key: keyof LatheFile, value: T | undefined, fallback: T): T => {
    if (value !== undefined) return value;
    assumed.push(`lathe "${name}": ${key}, from "${base.name}"`);
    return fallback;
  };
  const axes = (
    key: "travel" | "top feed" | "acceleration",
    kind: "length" | "feed" | "acceleration",
    range: Range,
    fallback: { readonly x: number; readonly z: number },
  ): { readonly x: number; readonly z: number } => {
    const raw = written[key] as Readonly<Record<"x" | "z", number | string>> | undefined;
    const axis = (a: "x" | "z"): number => reader.size(raw![a], at(key, a), kind, range);
    return from(key, raw && { x: axis("x"), z: axis("z") }, fallback);
  };
  const one = (
    key: "spindle power" | "spin up" | "spin down" | "swing" | "between centres",
    kind: "length" | "power" | "time",
    range: Range,
    fallback: number,
  ): number => {
    const raw = written[key];
    return from(key, raw === undefined ? undefined : reader.size(raw, at(key), kind, range), fallback);
  };
  const holding = written["holding speed"];
  return {
    name,
    travel: axes("travel", "length", LENGTH, base.travel),
    topFeed: axes("top feed", "feed", FEED, base.topFeed),
    acceleration: axes("acceleration", "acceleration", ACCELERATION, base.acceleration),
    spindle: from("spindle", readSpindle(name, written, reader), base.spindle),
    spindlePowerWatts: one("spindle power", "power", POWER, base.spindlePowerWatts),
    spinUpSeconds: one("spin up", "time", SECONDS, base.spinUpSeconds),
    spinDownSeconds: one("spin down", "time", SECONDS, base.spinDownSeconds),
    swing: one("swing", "length", LENGTH, base.swing),
    betweenCentres: one("between centres", "length", LENGTH, base.betweenCentres),
    xWords: from("X words", written["X words"], base.xWords),
    toolPost: from("tool post", written["tool post"], base.toolPost),
    spindleWord: from("turns towards you with", written["turns towards you with"], base.spindleWord),
    ...(holding === undefined ? {} : { holdingMaxRpm: reader.size(holding, at("holding speed"), "speed", SPEED) }),
    ...optional("head", readHead(name, written, reader) ?? base.head),
    ...optional("tail", readTail(name, written, reader) ?? base.tail),
    ...optional("rest", readRest(name, written, reader) ?? base.rest),
    controller: readController(name, written, base, reader, assumed),
    post: from("post", written.post, base.post),
    from: "shop file",
  };
}

/** The built-in lathe that fills the gaps: the one named, else the one with the same post. */
function baseOf(name: string, written: LatheFile, builtIn: readonly Lathe[], reader: ShopReader): Lathe | undefined {
  if (written.like !== undefined) {
    const base = builtIn.find((l) => l.name === written.like);
    if (base !== undefined) return base;
    const names = builtIn.map((l) => l.name);
    const near = closest(written.like, names);
    const mend = near === undefined ? `one of: ${names.join("; ")}` : `did you mean "${near}"?`;
    reader.refuse("shop-file-wrong-value", ["lathes", name, "like"], "no built-in lathe is called so", { mend });
    return undefined;
  }
  // What an X word means, where the tool stands and how far it goes decide whether a program is safe: never guessed.
  const needed = ["X words", "tool post", "turns towards you with", "travel", "swing", "post"] as const;
  const missing = needed.filter((key) => written[key] === undefined);
  for (const key of missing) {
    const mend = `give it, or name a built-in lathe that yours is like: like: "${builtIn[0]?.name ?? ""}"`;
    reader.refuse("shop-file-missing", ["lathes", name, key], `"${key}" is missing for lathe "${name}"`, { mend });
  }
  return missing.length > 0 ? undefined : (builtIn.find((l) => l.post === written.post) ?? builtIn[0]);
}

function readSpindle(name: string, written: LatheFile, reader: ShopReader): SpindleSpeed | undefined {
  const raw = written.spindle;
  if (raw === undefined) return undefined;
  const path = ["lathes", name, "spindle"];
  if ("dial" in raw) {
    const positions = Object.entries(raw.dial).map(([mark, rpm]) => ({
      mark,
      rpm: reader.size(rpm, [...path, "dial", mark], "speed", SPEED),
    }));
    if (positions.length === 0) {
      const mend = "give each mark with its speed: {dial: {low: 900 rpm, high: 2200 rpm}}";
      reader.refuse("shop-file-wrong-value", [...path, "dial"], "the dial has no marks", { mend });
    }
    return { kind: "dial", positions };
  }
  const min = reader.size(raw.from, [...path, "from"], "speed", SPEED);
  const max = reader.size(raw.to, [...path, "to"], "speed", SPEED);
  if (min > max) {
    const what = "the spindle's lowest speed is above its highest";
    reader.refuse("shop-file-disagrees", [...path, "from"], what, { mend: "write the lower speed first" });
  }
  return { kind: "program", min, max };
}

function readHead(name: string, written: LatheFile, reader: ShopReader): HeadHolding | undefined {
  const raw = written.headstock;
  if (raw === undefined) return undefined;
  const size = (key: "diameter" | "length" | "grip", value: number | string): number =>
    reader.size(value, ["lathes", name, "headstock", key], "length", { min: key === "grip" ? 0 : 1, max: 500 });
  if (raw.kind === "drive centre" && raw.grip !== undefined) {
    const what = "a drive centre has no grip: it doesn't reach over the wood";
    reader.refuse("shop-file-disagrees", ["lathes", name, "headstock", "grip"], what, { mend: "leave it out" });
  }
  if (raw.kind === "jaws" && raw.grip === undefined) {
    const mend = "measure how far the jaws reach over the wood: grip: 25 mm";
    reader.refuse("shop-file-missing", ["lathes", name, "headstock", "grip"], '"grip" is missing for jaws', { mend });
  }
  return {
    kind: raw.kind,
    diameter: size("diameter", raw.diameter),
    length: size("length", raw.length),
    grip: raw.grip === undefined ? 0 : size("grip", raw.grip),
  };
}

function readTail(name: string, written: LatheFile, reader: ShopReader): TailHolding | undefined {
  const raw = written.tailstock;
  if (raw === undefined) return undefined;
  if (raw.kind === "none") return { kind: "none", diameter: 0, length: 0 };
  const size = (key: "diameter" | "length"): number => {
    const value = raw[key];
    if (value !== undefined) {
      return reader.size(value, ["lathes", name, "tailstock", key], "length", { min: 1, max: 300 });
    }
    const what = `"${key}" is missing for the live centre`;
    const mend = "measure it: {kind: live centre, diameter: 30 mm, length: 12 mm}";
    reader.refuse("shop-file-missing", ["lathes", name, "tailstock", key], what, { mend });
    return Number.NaN;
  };
  return { kind: raw.kind, diameter: size("diameter"), length: size("length") };
}

function readRest(name: string, written: LatheFile, reader: ShopReader): Rest | undefined {
  const raw = written.rest;
  if (raw === undefined) return undefined;
  const size = (key: keyof typeof raw): number =>
    reader.size(raw[key], ["lathes", name, "rest", key], "length", {
      min: key === "from tailstock" ? 0 : 1,
      max: 3000,
    });
  const rest = {
    fromTailstock: size("from tailstock"),
    width: size("width"),
    opening: size("opening"),
    reach: size("reach"),
  };
  if (rest.reach <= rest.opening / 2) {
    const what = "the rest would end within its own opening";
    const mend = `measure its reach from the axis: more than ${rest.opening / 2} mm`;
    reader.refuse("shop-file-disagrees", ["lathes", name, "rest", "reach"], what, { mend });
  }
  return rest;
}

function readController(
  name: string,
  written: LatheFile,
  base: Lathe,
  reader: ShopReader,
  assumed: string[],
): Lathe["controller"] {
  const raw = written.understands;
  const path = ["lathes", name, "understands"];
  const flag = (key: "arcs" | "tool changer" | "homes" | "exact path", fallback: boolean): boolean => {
    const value = raw?.[key];
    if (value !== undefined) return value === true || value === "yes";
    assumed.push(`lathe "${name}": understands ${key}, from "${base.name}"`);
    return fallback;
  };
  const exactPath = flag("exact path", base.controller.exactPath);
  const error = raw?.["corner error"];
  if (!exactPath && error === undefined) {
    const what = `lathe "${name}" has no exact path, so "corner error" is needed`;
    const mend = "give it, from the controller's manual: corner error: 0.05 mm";
    reader.refuse("shop-file-missing", [...path, "corner error"], what, { mend });
  }
  return {
    arcs: flag("arcs", base.controller.arcs),
    toolTable: false,
    toolChanger: flag("tool changer", base.controller.toolChanger),
    homes: flag("homes", base.controller.homes),
    exactPath,
    cornerError: error === undefined ? 0 : reader.size(error, [...path, "corner error"], "length", CORNER),
    axes: ["X", "Z"],
  };
}

/** Deepest bite taken where the file gives none, as a share of the tool's width. Common practice, no source. */
const BITE_SHARE = 0.25;

/** Reads one turning tool. @param slot its own, or a free one */
export function readTurningTool(
  name: string,
  written: TurningToolFile,
  slot: number,
  reader: ShopReader,
  assumed: string[],
): TurningTool {
  const at = (...keys: readonly string[]): readonly string[] => ["turning tools", name, ...keys];
  const refuse = (key: keyof TurningToolFile, what: string, mend: string): void =>
    reader.refuse("shop-file-disagrees", at(key), what, { mend });
  const size = (
    key: "nose radius" | "width" | "reach" | "holder width" | "max bite" | "feed a turn" | "plunge a turn",
    range: Range,
  ): number | undefined => {
    const raw = written[key];
    return raw === undefined ? undefined : reader.size(raw, at(key), "length", range);
  };
  const width = size("width", WIDTH)!;
  const nose = size("nose radius", NOSE) ?? noseFor(name, written, width, reader, assumed);
  const flanks = flanksOf(name, written, reader);
  if (written.kind === "round-nose" && written.width !== undefined && nose * 2 > width + 1e-9) {
    refuse("nose radius", "the nose is wider than the tool", "a full round has half the width as its nose radius");
  }
  if (written.kind === "round-nose" && flanks.first === 0 && flanks.second === 0 && nose * 2 < width - 1e-9) {
    refuse(
      "nose radius",
      "a round nose with parallel sides is as wide as its round",
      "leave the nose radius out, or give the flanks",
    );
  }
  if (written.kind === "parting" && nose * 2 > width) {
    refuse("nose radius", "the corners are rounder than the tool is wide", "give the small radius of its corners");
  }
  const given = size("max bite", BITE);
  if (given === undefined) {
    assumed.push(`turning tool "${name}": bite of a quarter of its width taken, common practice, no source`);
  }
  return {
    name,
    slot,
    kind: written.kind,
    noseRadius: nose,
    width,
    flanks,
    reach: size("reach", REACH)!,
    holderHalfWidth: size("holder width", { min: 1, max: 300 })! / 2,
    point: written.point ?? "tip middle",
    maxBite: given ?? width * BITE_SHARE,
    ...optional("feedPerTurn", size("feed a turn", A_TURN)),
    ...optional("plungePerTurn", size("plunge a turn", A_TURN)),
    from: "shop file",
  };
}

/** A full round's nose is half its width; a parting tool's corners count as 0.1 mm; a detail tool must say it. */
function noseFor(name: string, written: TurningToolFile, width: number, reader: ShopReader, assumed: string[]): number {
  switch (written.kind) {
    case "round-nose":
      return width / 2;
    case "parting":
      assumed.push(`turning tool "${name}": corners taken as 0.1 mm round`);
      return 0.1;
    case "detail": {
      const what = `"nose radius" is missing for turning tool "${name}"`;
      const mend = "even a sharp point is a little round: nose radius: 0.3 mm";
      reader.refuse("shop-file-missing", ["turning tools", name, "nose radius"], what, { mend });
      return Number.NaN;
    }
  }
}

function flanksOf(name: string, written: TurningToolFile, reader: ShopReader): TurningTool["flanks"] {
  const at = (...keys: readonly string[]): readonly string[] => ["turning tools", name, ...keys];
  if (written.flanks !== undefined && written.angle !== undefined) {
    const what = "the angle is said twice: as a whole and for each side";
    reader.refuse("shop-file-disagrees", at("angle"), what, { mend: "keep one of the two" });
  }
  if (written.flanks !== undefined) {
    const { first, second } = written.flanks;
    return {
      first: reader.size(first, at("flanks", "first"), "angle", FLANK),
      second: reader.size(second, at("flanks", "second"), "angle", FLANK),
    };
  }
  if (written.angle !== undefined) {
    const half = reader.size(written.angle, at("angle"), "angle", INCLUDED) / 2;
    return { first: half, second: half };
  }
  if (written.kind === "detail") {
    const what = `"angle" is missing for turning tool "${name}"`;
    reader.refuse("shop-file-missing", at("angle"), what, { mend: "write the whole angle: angle: 35 deg" });
  }
  return { first: 0, second: 0 };
}

function optional<K extends string, T>(key: K, value: T | undefined): { readonly [k in K]?: T } {
  return (value === undefined ? {} : { [key]: value }) as { readonly [k in K]?: T };
}
