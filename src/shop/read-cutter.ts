import type { Cutter, CutterForm } from "./cutter.ts";
import { noseHeight } from "./profile.ts";
import type { CutterFile } from "./shop-file.ts";
import type { Range, ShopReader } from "./shop-reader.ts";

const DIAMETER: Range = { min: 0.1, max: 120 };
const HEIGHT: Range = { min: 0.5, max: 300 };
const SMALL: Range = { min: 0, max: 60 };
const ANGLE: Range = { min: 5, max: 175 };
const SPEED: Range = { min: 100, max: 100_000 };
const CHIP: Range = { min: 0.001, max: 2 };

/** A measured diameter farther from the label than this is likelier a slip than a worn bit. Common practice, no source. */
const FAR_FROM_LABEL = { share: 0.05, least: 0.2 } as const;

/** Reads one cutter. @param position in the file, from 1: its slot where no machine needs one */
export function readCutter(
  name: string,
  written: CutterFile,
  position: number,
  slotsMatter: boolean,
  reader: ShopReader,
): Cutter {
  const at = (...keys: readonly string[]): readonly string[] => ["cutters", name, ...keys];
  const size = (
    key: keyof CutterFile,
    range: Range,
    kind: "length" | "angle" | "speed" = "length",
  ): number | undefined => {
    const raw = written[key];
    return raw === undefined ? undefined : reader.size(raw as number | string, at(key), kind, range);
  };
  const assume = <T>(value: T | undefined, fallback: T, words: string): T => {
    if (value !== undefined) return value;
    reader.defaultsUsed.push(`cutter "${name}": ${words}, not given`);
    return fallback;
  };
  const refuse = (key: keyof CutterFile, what: string, mend: string): void =>
    reader.refuse("shop-file-disagrees", at(key), what, { mend });

  const nominal = size("diameter", DIAMETER)!;
  const measured = size("measured diameter", DIAMETER);
  const diameter = measured ?? nominal;
  const drill = written.kind === "drill";
  const pointed = drill || written.kind === "V" || written.kind === "countersink";
  if (slotsMatter && written.slot === undefined) {
    const mend = "give the number under which the machine keeps its length: slot: 1";
    reader.refuse("shop-file-missing", at("slot"), `"slot" is missing for cutter "${name}"`, { mend });
  }
  const cutter: Cutter = {
    name,
    slot: written.slot ?? position,
    form: readForm(name, written, size, assume, reader),
    fluteSense: assume(
      written.cut,
      pointed && !drill ? "straight" : "up-cut",
      pointed && !drill ? "cut taken as straight" : "cut taken as up-cut",
    ),
    flutes: assume(written.flutes, 2, "two flutes taken"),
    nominalDiameter: nominal,
    diameter,
    diameterMeasured: measured !== undefined,
    fluteLength: size("flute length", HEIGHT)!,
    stickOut: size("stick out", HEIGHT)!,
    shankDiameter: size("shank", DIAMETER)!,
    deadCentre: assume(size("dead centre", SMALL), 0, "taken to cut to its middle"),
    material: assume(written.material, drill ? "steel" : "carbide", drill ? "taken as steel" : "taken as carbide"),
    ...optional("maxRpm", size("max speed", SPEED, "speed")),
    chipLoads: Object.fromEntries(
      Object.entries(written["chip loads"] ?? {}).map(([wood, raw]) => [
        wood,
        reader.size(raw, at("chip loads", wood), "length", CHIP),
      ]),
    ),
    from: "shop file",
  };
  if (measured === undefined) reader.defaultsUsed.push(`cutter "${name}": diameter as on the label, not measured`);
  else if (Math.abs(measured - nominal) > Math.max(FAR_FROM_LABEL.least, FAR_FROM_LABEL.share * nominal)) {
    reader.caution("measured-far-from-label", at("measured diameter"), `"${name}" measures far from its label`, {
      measured: { value: measured, bound: 0, unit: "mm" },
      limit: { value: nominal, unit: "mm", from: "the label" },
      mend: "measure again, and look at the units",
    });
  }
  check(cutter, refuse);
  return cutter;
}

function readForm(
  name: string,
  written: CutterFile,
  size: (key: keyof CutterFile, range: Range, kind?: "length" | "angle") => number | undefined,
  assume: <T>(value: T | undefined, fallback: T, words: string) => T,
  reader: ShopReader,
): CutterForm {
  const needed = (key: "corner radius" | "angle", value: number | undefined, example: string): number => {
    if (value !== undefined) return value;
    const mend = `write ${key}: ${example}`;
    reader.refuse("shop-file-missing", ["cutters", name, key], `"${key}" is missing for cutter "${name}"`, { mend });
    return Number.NaN;
  };
  const idle = (keys: readonly ("corner radius" | "angle" | "tip flat")[]): void => {
    for (const key of keys) {
      if (written[key] === undefined) continue;
      const what = `a ${written.kind} cutter has no "${key}"`;
      reader.refuse("shop-file-disagrees", ["cutters", name, key], what, { mend: "leave it out, or check the kind" });
    }
  };
  switch (written.kind) {
    case "flat":
      idle(["corner radius", "angle", "tip flat"]);
      return { kind: "flat" };
    case "round-nose":
      idle(["corner radius", "angle", "tip flat"]);
      return { kind: "round-nose" };
    case "radiused-corner":
      idle(["angle", "tip flat"]);
      return {
        kind: "radiused-corner",
        cornerRadius: needed("corner radius", size("corner radius", { min: 0.05, max: 60 }), "1 mm"),
      };
    case "V":
      idle(["corner radius"]);
      return {
        kind: "v",
        includedAngle: needed("angle", size("angle", ANGLE, "angle"), "60 deg"),
        tipFlat: assume(size("tip flat", SMALL), 0.2, "tip flat taken as 0.2 mm"),
      };
    case "countersink":
      idle(["corner radius"]);
      return {
        kind: "countersink",
        includedAngle: needed("angle", size("angle", ANGLE, "angle"), "82 deg"),
        tipFlat: assume(size("tip flat", SMALL), 0, "tip taken as sharp"),
      };
    case "drill":
      idle(["corner radius", "tip flat"]);
      return {
        kind: "drill",
        pointAngle: assume(size("angle", ANGLE, "angle"), 118, "point angle taken as 118 degrees"),
      };
  }
}

/** What one cutter's numbers say about each other. Comparisons with a number that could not be read are false. */
function check(c: Cutter, refuse: (key: keyof CutterFile, what: string, mend: string) => void): void {
  if (c.fluteLength > c.stickOut) {
    refuse(
      "flute length",
      "the flutes are longer than the bit sticks out",
      "measure the stick out from the tip to the nut",
    );
  }
  if (c.deadCentre > c.diameter / 2) {
    refuse("dead centre", "the dead centre is wider than the bit", "give its radius at the tip, or leave it out");
  }
  const { form } = c;
  if (form.kind === "radiused-corner" && form.cornerRadius > c.diameter / 2) {
    refuse("corner radius", "the corner radius is more than half the diameter", "check both numbers");
  }
  if ((form.kind === "v" || form.kind === "countersink") && form.tipFlat >= c.diameter) {
    refuse("tip flat", "the tip flat is as wide as the bit", "check both numbers");
  }
  const nose = noseHeight(c);
  if (nose > c.fluteLength + 1e-9 && form.kind !== "flat") {
    const height = nose.toFixed(2);
    refuse(
      "flute length",
      `the flutes end below the full diameter, which this ${form.kind} bit reaches ${height} mm above its tip`,
      `give at least ${height} mm, or the diameter that it really cuts`,
    );
  }
}

function optional<K extends string>(key: K, value: number | undefined): { readonly [k in K]?: number } {
  return (value === undefined ? {} : { [key]: value }) as { readonly [k in K]?: number };
}
