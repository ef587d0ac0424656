import type { Finding, Outcome } from "../finding.ts";
import { refuses } from "../finding.ts";
import { closest } from "../units/closest.ts";
import { readQuantity } from "../units/quantity.ts";
import type { QuantityKind } from "../units/unit-table.ts";
import { DEFAULT_HABITS, DEFAULT_SHOP, HABIT_WORDS } from "./default-shop.ts";
import { readCutter } from "./read-cutter.ts";
import { readFitCards, readMeasuring } from "./read-fitting.ts";
import { readBurns } from "./read-laser.ts";
import { readLathe, readTurningTool } from "./read-lathe.ts";
import { readMachine } from "./read-machine.ts";
import type { Habits, Shop } from "./shop.ts";
import { ShopFile, type WoodFile } from "./shop-file.ts";
import { type Range, type ShopReader, shopReader, unreadable } from "./shop-reader.ts";
import type { Sourced, WoodKind } from "./wood.ts";
import { readYaml, type YamlFile } from "./yaml-file.ts";
import type { YamlKind } from "./yaml-kind.ts";

const KIND: YamlKind = {
  what: "shop file",
  notYaml: "shop-file-not-yaml",
  unknownKey: "shop-file-unknown-key",
  missing: "shop-file-missing",
  wrong: "shop-file-wrong-value",
  size: (raw, quantity, path, plain, at) => {
    const unit = (plain as { readonly units?: unknown }).units === "in" ? "in" : "mm";
    const result = readQuantity(String(raw), quantity as QuantityKind, unit);
    return result.ok ? [] : [unreadable(String(path[path.length - 1]), result.problem, at)];
  },
};

/**
 * Reads the user's shop file over the built-in defaults.
 *
 * Machines, cutters, lathes and turning tools that the file lists replace the built-in ones: nobody owns both. Woods are added to, or stand for
 * the built-in wood of the same name; habits are filled up. What is not the user's own is listed in `defaultsUsed`.
 * Without a file the shop is all defaults.
 */
export function readShop(text: string | undefined, file: string): Outcome<Shop> {
  if (text === undefined || text.trim() === "") return { ok: true, value: DEFAULT_SHOP, findings: [] };
  const read = readYaml(text, file, ShopFile, KIND);
  if (!read.ok) return read;
  const written = read.value.value;
  const reader = shopReader(read.value, written.units);
  const machines = written.machines
    ? entries(written.machines).flatMap(([name, m]) => readMachine(name, m, DEFAULT_SHOP.machines, reader) ?? [])
    : DEFAULT_SHOP.machines;
  const slotsMatter = written.machines !== undefined && machines.some((m) => m.controller.toolTable);
  const cutters = written.cutters
    ? entries(written.cutters).map(([name, c], k) => readCutter(name, c, k + 1, slotsMatter, reader))
    : DEFAULT_SHOP.cutters;
  const turning: string[] = [];
  const lathes = written.lathes
    ? entries(written.lathes).flatMap(
        ([name, l]) => readLathe(name, l, DEFAULT_SHOP.lathes ?? [], reader, turning) ?? [],
      )
    : DEFAULT_SHOP.lathes;
  const tools = written["turning tools"];
  const turningTools = tools
    ? slotted(entries(tools)).map(([name, t, slot]) => readTurningTool(name, t, slot, reader, turning))
    : DEFAULT_SHOP.turningTools;
  const woods = readWoods(written, reader);
  const burns = readBurns(written.burns, woods, reader);
  const habits = readHabits(written, reader);
  const measuring = readMeasuring(written.measuring, reader);
  const fitCards = readFitCards(written["fit cards"], cutters, reader);
  crossCheck(read.value, woods, reader);
  if (refuses(reader.findings)) return { ok: false, findings: inOrder(reader) };
  const value: Shop = {
    machines,
    cutters,
    woods,
    habits,
    defaultsUsed: [
      ...(written.machines ? [] : defaultsNamed("machine")),
      ...(written.cutters ? [] : defaultsNamed("cutter")),
      ...woods
        .filter((w) => w.from === "built-in default")
        .flatMap((w) => DEFAULT_SHOP.defaultsUsed.filter((d) => d.startsWith(`wood "${w.name}"`))),
      ...reader.defaultsUsed,
    ],
    ...(lathes === undefined ? {} : { lathes }),
    ...(turningTools === undefined ? {} : { turningTools }),
    ...(burns.length > 0 ? { burns } : {}),
    ...(Object.keys(measuring).length > 0 ? { measuring } : {}),
    ...(fitCards.length > 0 ? { fitCards } : {}),
    turningDefaultsUsed: [
      ...(written.lathes ? [] : turningDefaults("lathe")),
      ...(tools ? [] : turningDefaults("turning tool")),
      ...turning,
    ],
  };
  return { ok: true, value, findings: inOrder(reader) };
}

/** Own entries in the order of the file; a name such as "constructor" is a name like any other. */
function entries<T>(record: Readonly<Record<string, T>>): readonly (readonly [string, T])[] {
  return Object.entries(record);
}

function inOrder(reader: ShopReader): readonly Finding[] {
  return [...reader.findings].sort((a, b) => (a.place.source?.line ?? 0) - (b.place.source?.line ?? 0));
}

function defaultsNamed(kind: "machine" | "cutter"): readonly string[] {
  return DEFAULT_SHOP.defaultsUsed.filter((d) => d.startsWith(`${kind} "`));
}

/** Entries with their slots: the written one, else the lowest number that no other tool has. */
function slotted<T extends { readonly slot?: number | undefined }>(
  tools: readonly (readonly [string, T])[],
): readonly (readonly [string, T, number])[] {
  const taken = new Set(tools.flatMap(([, t]) => t.slot ?? []));
  let next = 1;
  return tools.map(([name, t]) => {
    if (t.slot !== undefined) return [name, t, t.slot] as const;
    while (taken.has(next)) next++;
    return [name, t, next++] as const;
  });
}

function turningDefaults(kind: "lathe" | "turning tool"): readonly string[] {
  return (DEFAULT_SHOP.turningDefaultsUsed ?? []).filter((d) => d.startsWith(`${kind} "`));
}

function readWoods(written: ShopFile, reader: ShopReader): readonly WoodKind[] {
  const own = entries(written.woods ?? {}).map(([name, w]) => readWood(name, w, reader));
  const names = new Set(own.map((w) => w.name.toLowerCase()));
  return [...own, ...DEFAULT_SHOP.woods.filter((w) => !names.has(w.name.toLowerCase()))];
}

function readWood(name: string, written: WoodFile, reader: ShopReader): WoodKind {
  const base = DEFAULT_SHOP.woods.find((w) => w.name.toLowerCase() === name.toLowerCase());
  const kind = written.class ?? base?.class;
  if (kind === undefined) {
    const mend = "write class: hardwood, softwood, plywood or mdf";
    reader.refuse("shop-file-missing", ["woods", name, "class"], `"class" is missing for wood "${name}"`, { mend });
  }
  const source = written.source ?? "the shop file";
  const field = <F extends WoodNumber>(key: WoodKey, to: F): { readonly [k in F]?: Sourced } => {
    const value = written[key];
    if (value !== undefined) return { [to]: { value, source } } as { readonly [k in F]?: Sourced };
    const known = base?.[to];
    if (!known) return {};
    reader.defaultsUsed.push(`wood "${name}": ${key}, ${known.source}`);
    return { [to]: known } as { readonly [k in F]?: Sourced };
  };
  // A number of the user's own stands alone: neither another table's nor a shrinkage that goes with another number belongs beside it.
  const movement = (way: "radial" | "tangential"): Partial<WoodKind> => {
    const elsewhere = base?.[`${way}Elsewhere`];
    const own = written[way] !== undefined;
    return {
      ...field(way, `${way}PerPercent`),
      ...(own || !elsewhere ? {} : { [`${way}Elsewhere`]: elsewhere }),
      ...(own && written[`${way} shrinkage`] === undefined ? {} : field(`${way} shrinkage`, `${way}Shrinkage`)),
    };
  };
  return {
    name,
    alsoCalled: written["also called"] ?? base?.alsoCalled ?? [],
    class: kind ?? "hardwood",
    ...field("specific gravity", "specificGravity"),
    ...movement("radial"),
    ...movement("tangential"),
    ...field("through sheet", "throughSheetPerPercent"),
    from: "shop file",
  };
}

/** Numbers of a wood in the shop file, and what they are called inside. */
type WoodKey = Exclude<keyof WoodFile, "also called" | "class" | "source">;
type WoodNumber =
  | "specificGravity"
  | "radialPerPercent"
  | "tangentialPerPercent"
  | "radialShrinkage"
  | "tangentialShrinkage"
  | "throughSheetPerPercent";

/** Least and largest of each habit that is a size, mm (mm² for the hold). */
const HABIT_RANGES: Readonly<Record<Exclude<keyof Habits, "roughing" | "finishing" | "sanding">, Range>> = {
  clearance: { min: 1, max: 100 },
  approach: { min: 0.1, max: 20 },
  intoWasteBoard: { min: 0, max: 10 },
  allowance: { min: 0, max: 5 },
  gaugeBlock: { min: 1, max: 100 },
  leastWeb: { min: 0, max: 50 },
  leastHold: { min: 0, max: 10_000 },
};

/** Wood that sanding takes, mm. */
const SANDING: Range = { min: 0, max: 2 };

function readHabits(written: ShopFile, reader: ShopReader): Habits {
  const raw = written.habits ?? {};
  const assumed = (key: keyof typeof HABIT_WORDS): void =>
    void reader.defaultsUsed.push(`habit "${HABIT_WORDS[key]}": common practice, no source`);
  const sense = (key: "roughing" | "finishing"): "climb" | "conventional" => {
    const value = raw[key];
    if (value !== undefined) return value;
    assumed(key);
    return DEFAULT_HABITS[key];
  };
  const size = (key: keyof typeof HABIT_RANGES): number => {
    const words = HABIT_WORDS[key] as Exclude<keyof typeof raw, "roughing" | "finishing">;
    const value = raw[words];
    if (value !== undefined) {
      // An area: a plain number of mm², whatever the file's unit.
      const kind = key === "leastHold" ? "number" : "length";
      return reader.size(value, ["habits", words], kind, HABIT_RANGES[key]);
    }
    assumed(key);
    return DEFAULT_HABITS[key];
  };
  return {
    roughing: sense("roughing"),
    finishing: sense("finishing"),
    clearance: size("clearance"),
    approach: size("approach"),
    intoWasteBoard: size("intoWasteBoard"),
    allowance: size("allowance"),
    gaugeBlock: size("gaugeBlock"),
    leastWeb: size("leastWeb"),
    leastHold: size("leastHold"),
    ...(raw.sanding === undefined
      ? {}
      : { sanding: reader.size(raw.sanding, ["habits", "sanding"], "length", SANDING) }),
  };
}

/** What the entries of a file say about each other. */
function crossCheck(file: YamlFile<ShopFile>, woods: readonly WoodKind[], reader: ShopReader): void {
  const written = file.value;
  for (const section of ["machines", "cutters", "lathes", "turning tools", "woods"] as const) {
    const seen = new Map<string, string>();
    for (const name of Object.keys(written[section] ?? {})) {
      const before = seen.get(name.toLowerCase());
      if (before !== undefined) {
        const what = `"${name}" and "${before}" differ only in capitals`;
        reader.refuse("shop-file-disagrees", [section, name], what, { mend: "rename one of the two" });
      }
      seen.set(name.toLowerCase(), name);
    }
    if (written[section] && seen.size === 0) {
      const mend = "leave the key out to use the built-in ones";
      reader.refuse("shop-file-wrong-value", [section], `"${section}" lists nothing`, { mend });
    }
  }
  for (const [section, kind] of [
    ["cutters", "cutter"],
    ["turning tools", "turning tool"],
  ] as const) {
    const slots = new Map<number, string>();
    for (const [name, { slot }] of entries<{ readonly slot?: number | undefined }>(written[section] ?? {})) {
      if (slot === undefined) continue;
      const before = slots.get(slot);
      if (before !== undefined) {
        const what = `slot ${slot} belongs to "${before}" and to "${name}"`;
        reader.refuse("shop-file-disagrees", [section, name, "slot"], what, {
          mend: `give each ${kind} a slot of its own`,
        });
      }
      slots.set(slot, name);
    }
  }
  const known = woods.flatMap((w) => [w.name, ...w.alsoCalled, w.class]);
  for (const [name, cutter] of entries(written.cutters ?? {})) {
    for (const wood of Object.keys(cutter["chip loads"] ?? {})) {
      if (known.some((k) => k.toLowerCase() === wood.toLowerCase())) continue;
      const near = closest(wood, known);
      const mend =
        near === undefined
          ? "name a wood of this file, or hardwood, softwood, plywood, mdf"
          : `did you mean "${near}"?`;
      const path = ["cutters", name, "chip loads", wood];
      reader.refuse("shop-file-wrong-value", path, `no wood is called "${wood}"`, { mend });
    }
  }
}
