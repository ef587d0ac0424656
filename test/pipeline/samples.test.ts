import { describe, expect, it } from "vitest";
import { refuses } from "../../src/finding.ts";
import { verifySeal } from "../../src/program/seal.ts";
import { readProgram } from "../../src/reader/read.ts";
import { reportSchema } from "../../src/sheets/report.ts";
import { defaultMachines } from "../../src/shop/default-machines.ts";
import { madeSample, programsOf } from "./texts.ts";

const controller = defaultMachines()[0]!.controller;

describe.each(["first-part.yaml", "spice-cabinet.yaml"])("the sample %s", (name) => {
  const made = madeSample(name);

  it("is made whole, each program proved", () => {
    expect(made.findings.filter((f) => f.grade === "refuse")).toEqual([]);
    expect(made.verdict).toBe("fine");
    expect(programsOf(made).length).toBeGreaterThan(1);
    expect(made.report?.heldBack).toEqual([]);
  });

  it("passes the strict reader, programs and dry runs alike", () => {
    for (const file of made.files.filter((f) => f.kind === "program" || f.kind === "dry run")) {
      const entry = made.report!.programs.find((p) => p.file === file.name || p.dryRun === file.name);
      // Turning programs are read by their lathe's own profile (see turning-through), the beam's by their laser's.
      if (entry === undefined) {
        const apart = [...made.report!.turnings, ...made.report!.beams];
        expect(apart.some((p) => p.file === file.name || p.dryRun === file.name)).toBe(true);
        continue;
      }
      const read = readProgram(file.text, file.name, controller, {
        manner: "ours",
        stock: entry.stock,
        safeZ: entry.safeZ,
      });
      expect(read.findings.filter((f) => f.grade !== "note")).toEqual([]);
      expect(read.events.at(-1)?.kind).toBe("end");
    }
  });

  it("carries an untouched seal, the one in the report", () => {
    const entries = [...made.report!.programs, ...made.report!.turnings, ...made.report!.beams];
    for (const file of programsOf(made)) {
      const state = verifySeal(file.text);
      expect(state).toMatchObject({
        kind: "untouched",
        seal: entries.find((p) => p.file === file.name)!.seal,
      });
    }
  });

  it("keeps the promised accuracy, with bounds", () => {
    for (const program of [...made.report!.programs, ...made.report!.turnings]) {
      const { figures } = program.proof;
      expect(figures["gouge"]!.value + figures["gouge"]!.bound).toBeLessThanOrEqual(0.01);
      expect(figures["wood left"]!.value).toBeLessThanOrEqual(0.01);
    }
  });

  it("has a report that its own schema accepts", () => {
    expect(reportSchema.safeParse(made.report).success).toBe(true);
    const text = made.files.find((f) => f.kind === "report")!.text;
    expect(JSON.parse(text)).toEqual(made.report);
  });

  it("draws one sheet a program, in true scale", () => {
    const { programs, turnings, turned } = made.report!;
    for (const program of [...programs, ...turnings, ...turned]) {
      const sheet = made.files.find((f) => f.name === program.sheet)!.text;
      const [, w, h, vw, vh] = /width="([\d.]+)mm" height="([\d.]+)mm" viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(sheet)!;
      expect([w, h]).toEqual([vw, vh]);
      expect(sheet).not.toMatch(/NaN|undefined|Infinity/);
    }
  });

  it("gives the same bytes twice", () => {
    const again = madeSample(name);
    expect(again.files).toEqual(made.files);
    expect(again.prints).toEqual(made.prints);
  });

  it("turns no spindle in a dry run, and lights no beam", () => {
    for (const dry of made.files.filter((f) => f.kind === "dry run")) {
      const beam = made.report!.beams.some((p) => p.dryRun === dry.name);
      expect(dry.text).not.toMatch(beam ? /^[^(]*\b(M3|M4|S[1-9])/m : /^[^(]*\b(M3|M4|S\d)/m);
    }
    expect(refuses(made.findings)).toBe(false);
  });
});
