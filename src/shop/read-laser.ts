import { closest } from "../units/closest.ts";
import type { BurnSetting, Laser } from "./laser.ts";
import type { BurnFile, BurnsFile, LaserFile } from "./laser-file.ts";
import type { Machine } from "./machine.ts";
import type { YamlPath } from "./schema-shape.ts";
import type { Range, ShopReader } from "./shop-reader.ts";
import type { WoodKind } from "./wood.ts";

const OFFSET: Range = { min: -1000, max: 1000 };
const DIFFERENCE: Range = { min: -20, max: 20 };
const SPOT: Range = { min: 0.005, max: 5 };
const GAP: Range = { min: 0.1, max: 300 };
const FOCUS: Range = { min: 0.01, max: 50 };
const RATED: Range = { min: 0.1, max: 500 };
const LAG: Range = { min: 0, max: 0.1 };
const SPEED: Range = { min: 1, max: 200_000 };
const SPACING: Range = { min: 0.005, max: 10 };
const KERF: Range = { min: 0.005, max: 5 };
const DEPTH: Range = { min: 0, max: 50 };
/** Two statements of where the head is may differ by this before one must be a slip, mm. */
const HEAD_AGREES = 10;

/**
 * Reads a laser on the machine's carriage. What it can do is measured, never guessed: nothing here has a default but what
 * means "none". Undefined, with a finding, where the machine says nothing of the head itself.
 */
export function readLaser(
  machine: string,
  written: LaserFile,
  head: Machine["laserHead"],
  toolTable: boolean,
  reader: ShopReader,
): Laser | undefined {
  const at = (...keys: YamlPath): YamlPath => ["machines", machine, "laser", ...keys];
  const pair = (key: "offset" | "spot" | "cross off by", range: Range): { x: number; y: number } | undefined => {
    const raw = written[key];
    return (
      raw && {
        x: reader.size(raw.x, at(key, "x"), "length", range),
        y: reader.size(raw.y, at(key, "y"), "length", range),
      }
    );
  };
  if (head === undefined) {
    const mend = "give the head's place and size on the machine: laser head: {x: 60, y: 0, radius: 20, underside: 10}";
    reader.refuse("shop-file-missing", at(), `machine "${machine}" has a laser but no "laser head"`, { mend });
    return undefined;
  }
  const stated = pair("offset", OFFSET) ?? { x: head.x, y: head.y };
  if (Math.hypot(stated.x - head.x, stated.y - head.y) > HEAD_AGREES) {
    const mend = "the beam leaves the head near its middle: check signs and axes of both";
    reader.refuse("shop-file-disagrees", at("offset"), "the laser's offset and the laser head's place lie far apart", {
      mend,
    });
  }
  const off = pair("cross off by", DIFFERENCE) ?? { x: 0, y: 0 };
  const follows = yes(written["power follows speed"]);
  if (toolTable && written.slot === undefined) {
    const mend = "give the head a slot of its own, with its length measured so that Z 0 is the focus";
    const what = `machine "${machine}" has a tool table, so its laser needs a "slot"`;
    reader.refuse("shop-file-missing", at("slot"), what, { mend });
  }
  const lag = written.lag;
  return {
    offset: { x: toMicron(stated.x + off.x), y: toMicron(stated.y + off.y) },
    wavelength: wavelengthOf(written.wavelength),
    ratedPower: reader.size(written["rated power"], at("rated power"), "power", RATED),
    spot: pair("spot", SPOT)!,
    focusGap: reader.size(written["focus gap"], at("focus gap"), "length", GAP),
    focusRange: reader.size(written["focus range"], at("focus range"), "length", FOCUS),
    ...(yes(written["Z follows"] ?? false) ? { zFollows: true as const } : {}),
    fullScale: written["full power"],
    mode: follows ? "follows speed" : "constant",
    start: written["starts with"],
    lag: lag === undefined ? 0 : reader.size(lag, at("lag"), "time", LAG),
    ...(written.pilot === undefined ? {} : { pilot: shareOf(written.pilot, at("pilot"), reader) }),
    ...(written.slot === undefined ? {} : { slot: written.slot }),
    from: "shop file",
  };
}

/** Reads what the shop found good, by wood and effect. Woods must be known, so that a slip of the pen is found. */
export function readBurns(
  written: BurnsFile | undefined,
  woods: readonly WoodKind[],
  reader: ShopReader,
): readonly BurnSetting[] {
  const known = woods.flatMap((w) => [w.name, ...w.alsoCalled]);
  const seen = new Map<string, string>();
  return Object.entries(written ?? {}).flatMap(([wood, effects]) => {
    const found = woods.find((w) => [w.name, ...w.alsoCalled].some((n) => n.toLowerCase() === wood.toLowerCase()));
    if (found === undefined) {
      const near = closest(wood, known);
      const mend = near === undefined ? "name a wood of this file, or add it under woods" : `did you mean "${near}"?`;
      reader.refuse("shop-file-wrong-value", ["burns", wood], `no wood is called "${wood}"`, { mend });
      return [];
    }
    return Object.entries(effects).map(([effect, setting]) => {
      const path = ["burns", wood, effect];
      const key = `${found.name}\u0000${effect.toLowerCase()}`;
      const before = seen.get(key);
      if (before !== undefined) {
        const what = `two settings for "${effect}" on ${found.name}`;
        reader.refuse("shop-file-disagrees", path, what, {
          why: `the other stands under "${before}"`,
          mend: "keep one",
        });
      }
      seen.set(key, wood);
      return readBurn(found.name, effect, setting, path, reader);
    });
  });
}

function readBurn(wood: string, effect: string, w: BurnFile, path: YamlPath, reader: ShopReader): BurnSetting {
  const size = (key: "spacing" | "kerf" | "depth", range: Range): { readonly [k in typeof key]?: number } => {
    const raw = w[key];
    return raw === undefined ? {} : { [key]: reader.size(raw, [...path, key], "length", range) };
  };
  for (const [i, tone] of (w.tones ?? []).entries()) {
    const last = w.tones?.[i - 1];
    const first = i === 0 && (tone.dots !== 0 || tone.dark !== 0);
    const end = i === (w.tones?.length ?? 0) - 1 && tone.dots !== 1;
    const rises = last === undefined || (tone.dots > last.dots && tone.dark > last.dark);
    if (!first && !end && rises) continue;
    const what = first
      ? 'the grey scale begins with bare wood: "{dots: 0, dark: 0}"'
      : end
        ? 'the grey scale ends with all dots burned: "dots: 1"'
        : "each field of the grey scale has more dots and is darker than the one before";
    reader.refuse("shop-file-wrong-value", [...path, "tones", i], what, {
      mend: "measure the card again, or leave the field out",
    });
  }
  return {
    effect,
    wood,
    power: shareOf(w.power, [...path, "power"], reader),
    speed: reader.size(w.speed, [...path, "speed"], "feed", SPEED),
    passes: w.passes ?? 1,
    ...size("spacing", SPACING),
    ...size("kerf", KERF),
    ...size("depth", DEPTH),
    ...(w.tones === undefined ? {} : { tones: w.tones }),
    from: "shop file",
  };
}

function yes(value: boolean | "yes" | "no"): boolean {
  return value === true || value === "yes";
}

/** A share of full power; refuses more than all and nothing at all. */
function shareOf(raw: number | string, path: YamlPath, reader: ShopReader): number {
  const share = typeof raw === "number" ? raw : Number.parseFloat(raw) / 100;
  if (share > 0 && share <= 1) return share;
  const what = `"${String(path[path.length - 1])}" must be above 0 % and no more than 100 %`;
  reader.refuse("shop-file-wrong-value", path, what, { mend: "write a share of full power, such as 35 %" });
  return Number.NaN;
}

/** nm. */
function wavelengthOf(raw: number | string): number {
  if (typeof raw === "number") return raw;
  const value = Number.parseFloat(raw);
  return /nm/.test(raw) ? value : Math.round(value * 1000);
}

/** A sum without the last digits of its halves. */
function toMicron(mm: number): number {
  return Math.round(mm * 1000) / 1000;
}
