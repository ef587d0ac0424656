import Module, { type Manifold } from "manifold-3d";
import { beforeAll, describe, expect, it } from "vitest";
import type { Cavity } from "../../src/parts/workpiece.ts";
import { cuttersOf } from "../../src/proof/cutters.ts";
import { readOptions } from "../../src/proof/prove.ts";
import { readProgram } from "../../src/reader/read.ts";
import { flattenRegion } from "../../src/shapes/flatten.ts";
import { roundedRectangle } from "../../src/shapes/outlines.ts";
import type { Region } from "../../src/shapes/region.ts";
import { simulate } from "../../src/simulate/run.ts";
import { startWood } from "../../src/simulate/start.ts";
import { BLANK, type Blank, room, slot, workpieceOf } from "../plan/round-stock.ts";
import { allThrough, refusedBy, type Through } from "./round-through.ts";

describe("volume removed from round stock against an independent solid library", () => {
  let lib: Awaited<ReturnType<typeof Module>>;
  beforeAll(async () => {
    lib = await Module();
    lib.setup();
  });

  function prism(section: Region, from: number, to: number): Manifold {
    const rings = flattenRegion(section, 0.002).map((ring) => ring.map((p): [number, number] => [p.x, p.y]));
    return lib.Manifold.extrude(rings, to - from).translate(0, 0, from);
  }

  /** The blank of straight tapers as a solid of revolution about X through (y, z) = (20, 20), with its squares. */
  function solid(b: Blank): Manifold {
    const span = b.length - 2 * b.square;
    const n = b.radii.length - 1;
    const outline: [number, number][] = b.radii.map((r, i) => [r, b.square + (span * i) / n]);
    const ring: [number, number][] = [[0, b.square], ...outline, [0, b.length - b.square]];
    const turned = lib.Manifold.revolve([ring], 720).rotate(0, 90, 0).translate(0, 20, 20);
    if (b.square === 0) return turned;
    const block = (x: number) => lib.Manifold.cube([b.square, b.across, b.across]).translate(x, 0, 0);
    return turned.add(block(0)).add(block(b.length - b.square));
  }

  function removed(made: Through, cell: number): { least: number; most: number } {
    const { setUp } = made;
    let wood = startWood(setUp.blank, cell, [], setUp.round);
    let least = 0;
    let most = 0;
    for (const [i, { file, text }] of made.texts.entries()) {
      const read = readProgram(text, file, setUp.machine.controller, readOptions(setUp));
      const { assemblyFor } = cuttersOf(setUp, read, i, made.texts.length);
      const done = simulate({
        wood,
        events: read.events,
        assemblyFor,
        around: { keepOuts: setUp.keepOuts, lowestTip: setUp.blank.min.z },
      });
      wood = done.after;
      // Between the first wood and the last, counted from `most` and from `least` alike.
      least += done.cuts.reduce((t, c) => t + Math.min(c.fromMost, c.fromLeast), 0);
      most += done.cuts.reduce((t, c) => t + Math.max(c.fromMost, c.fromLeast), 0);
    }
    return { least, most };
  }

  const cases: readonly (readonly [string, Blank, Cavity])[] = [
    ["a slot in a cylinder", BLANK, room(slot({ x: 80, y: 20 }, 60, 16), 18)],
    ["a slot below the axis of a waist", { ...BLANK, radii: [19, 14, 19] }, room(slot({ x: 80, y: 20 }, 50, 13), 24)],
    [
      "a rounded rectangle in a taper",
      { ...BLANK, radii: [19, 13] },
      room(roundedRectangle({ x: 77.5, y: 20 }, 55, 15, 5, 0), 21),
    ],
  ];
  it.each(cases)("%s, within 0.5 %%", (_, blank, cavity) => {
    const made = allThrough(workpieceOf(blank, [cavity]))[0]!;
    expect(refusedBy(made.proof)).toEqual([]);
    const exact = solid(blank)
      .intersect(prism(cavity.section, blank.across - cavity.to, blank.across + 1))
      .volume();
    const { least, most } = removed(made, 0.1);
    expect(Math.abs((least + most) / 2 / exact - 1)).toBeLessThan(0.005);
  });
});
