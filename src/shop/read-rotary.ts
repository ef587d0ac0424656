import type { Machine } from "./machine.ts";
import type { RotaryAxis } from "./rotary.ts";
import type { MachineFile } from "./shop-file.ts";
import type { Range, ShopReader } from "./shop-reader.ts";

const HEIGHT: Range = { min: 0, max: 1000 };
const DIAMETER: Range = { min: 1, max: 1000 };
const OVER: Range = { min: 0, max: 500 };
const TURN: Range = { min: 1, max: 1_000_000 };

/** Reads a machine's rotary axis; refused where the controller names no A for a program to turn it by. */
export function readRotary(
  machine: string,
  written: NonNullable<MachineFile["rotary axis"]>,
  axes: Machine["controller"]["axes"],
  reader: ShopReader,
): RotaryAxis {
  const at = (...keys: readonly string[]): readonly string[] => ["machines", machine, "rotary axis", ...keys];
  if (!axes.includes("A")) {
    reader.refuse("shop-file-disagrees", at(), `machine "${machine}" has a rotary axis, but no axis A`, {
      mend: 'write "axes: [X, Y, Z, A]" under "understands", if its controller turns it by A',
    });
  }
  const holder = (key: "chuck" | "centre"): RotaryAxis["chuck"] => ({
    diameter: reader.size(written[key].diameter, at(key, "diameter"), "length", DIAMETER),
    over: reader.size(written[key].over, at(key, "over"), "length", OVER),
  });
  return {
    height: reader.size(written.height, at("height"), "length", HEIGHT),
    swing: reader.size(written.swing, at("swing"), "length", DIAMETER),
    chuck: holder("chuck"),
    centre: holder("centre"),
    topSpeed: reader.size(written["top speed"], at("top speed"), "angle", TURN),
    acceleration: reader.size(written.acceleration, at("acceleration"), "angle", TURN),
    crownGoes: written["crown goes to"],
  };
}
