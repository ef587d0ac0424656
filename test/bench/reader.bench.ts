import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { readProgram } from "../../src/reader/read.ts";
import type { ReadMove } from "../../src/reader/read-move.ts";
import type { Controller } from "../../src/shop/machine.ts";
import { type Row, timed } from "./row.ts";

const CONTROLLER: Controller = {
  arcs: true,
  toolTable: false,
  toolChanger: true,
  homes: true,
  exactPath: true,
  cornerError: 0,
  axes: ["X", "Y", "Z"],
};

const STOCK = { min: { x: -200, y: -200, z: -20 }, max: { x: 200, y: 200, z: 0 } };

/** A program of ours of about the given size: pockets of level rings in lines and arcs, with entries and lifts. */
function program(bytes: number, everyLineNumbered: boolean): string {
  const lines = ["(pockets)", "G17 G21 G40 G54 G61 G80 G90 G94", "G53 G0 Z0.0000", "M5"];
  lines.push("G0 Z15.0000", "G0 X0.0000 Y0.0000", "S18000 M3", "G4 P3.");
  let size = 0;
  let n = 0;
  const say = (line: string): void => {
    n = (n + 10) % 100000;
    const text = everyLineNumbered ? `N${n} ${line}` : line;
    lines.push(text);
    size += text.length + 1;
  };
  const f = (v: number): string => v.toFixed(4);
  for (let k = 0; size < bytes; k++) {
    const r = 5 + (k % 40) * 0.731;
    const z = -0.5 - (k % 9) * 0.75;
    const x = ((k * 37) % 150) - 75;
    const y = ((k * 53) % 150) - 75;
    say("G0 Z15.0000");
    say(`G0 X${f(x + r)} Y${f(y)}`);
    say(`G1 Z${f(z)} F450.0`);
    for (let i = 1; i <= 60; i++) {
      const a = (i * Math.PI) / 30;
      const wobble = r * (1 + 0.02 * Math.sin(7 * a));
      say(`G1 X${f(x + wobble * Math.cos(a))} Y${f(y + wobble * Math.sin(a))}${i === 1 ? " F1800.0" : ""}`);
    }
    say(`G1 X${f(x + r)} Y${f(y)}`);
    say(`G3 X${f(x - r)} Y${f(y)} I${f(x - (x + r))} J0.0000`);
    say(`G3 X${f(x + r)} Y${f(y)} I${f(x - (x - r))} J0.0000`);
    say(`G2 X${f(x + r)} Y${f(y)} Z${f(z - 0.2)} I${f(-r)} J0.0000`);
  }
  lines.push("G0 Z15.0000", "M5", "M2", "");
  return lines.join("\n");
}

/** Ten megabytes of damaged text: every line has a mistake. */
function damaged(bytes: number): string {
  const line = "G1 X12.34,5 Y-3.2 F100 E5\n";
  return line.repeat(Math.ceil(bytes / line.length));
}

function speed(name: string, text: string, goal?: string): Row {
  const megabytes = text.length / 1e6;
  let moves = 0;
  let findings = 0;
  const time = timed(() => {
    const read = readProgram(text, "bench.ngc", CONTROLLER, { safeZ: 15, stock: STOCK });
    moves = read.events.length;
    findings = read.findings.length;
  }, 9);
  return {
    name: `${name}, ${megabytes.toFixed(1)} MB`,
    value: (megabytes / time.value) * 1000,
    unit: "MB/s",
    ...(goal === undefined ? {} : { goal }),
    spread: [(megabytes / time.spread[1]) * 1000, (megabytes / time.spread[0]) * 1000],
    note: `${moves} events, ${findings} findings`,
  };
}

/** The floor beneath any reader that hands on such events: making as many moves, and nothing else. */
function floor(text: string): Row {
  const megabytes = text.length / 1e6;
  const events = readProgram(text, "bench.ngc", CONTROLLER, { safeZ: 15, stock: STOCK }).events;
  const numbers = Float64Array.from(events, (e) => (e.kind === "move" ? (e.to.x ?? 0.5) : 0.5));
  let kept: readonly ReadMove[] = [];
  const time = timed(() => {
    kept = bareMoves(numbers);
  }, 9);
  return {
    name: "  making the same moves, without any text",
    value: (megabytes / time.value) * 1000,
    unit: "MB/s",
    spread: [(megabytes / time.spread[1]) * 1000, (megabytes / time.spread[0]) * 1000],
    note: `${kept.length} moves`,
  };
}

function bareMoves(numbers: Float64Array): readonly ReadMove[] {
  const path = { kind: "line" } as const;
  const spindle = { turning: "clockwise", rpm: 18000 } as const;
  const moves: ReadMove[] = [];
  let from: ReadMove["to"] = { x: undefined, y: undefined, z: undefined };
  for (let k = 0; k < numbers.length; k++) {
    const to = { x: numbers[k]! * 1.5, y: numbers[k]! * 2.5, z: from.z };
    const feed = numbers[k]! > 0 ? 1800 : 450.5;
    moves.push({
      kind: "move",
      line: k,
      rapid: false,
      from,
      to,
      path,
      machine: false,
      feed,
      spindle,
      tool: undefined,
      exactPath: true,
    });
    from = to;
  }
  return moves;
}

/** What a reading keeps in memory, as a multiple of its text. */
function memory(text: string): Row {
  setFlagsFromString("--expose-gc");
  const collect = runInNewContext("gc") as () => void;
  collect();
  const before = process.memoryUsage().heapUsed;
  const read = readProgram(text, "bench.ngc", CONTROLLER, { safeZ: 15, stock: STOCK });
  collect();
  const kept = process.memoryUsage().heapUsed - before;
  return {
    name: `heap kept by ${read.events.length} events of ${(text.length / 1e6).toFixed(1)} MB`,
    value: kept / 1e6,
    unit: "MB",
    note: `${Math.round(kept / read.events.length)} bytes an event`,
  };
}

/** Speed and memory of the strict reader on generated programs. */
export default async function bench(): Promise<Row[]> {
  const plain = program(8e6, false);
  const numbered = program(8e6, true);
  return [
    speed("pockets", plain, "≥ 20 MB/s"),
    floor(plain),
    speed("pockets, half the size", program(4e6, false)),
    speed("pockets, every line numbered", numbered, "≥ 20 MB/s"),
    speed("a mistake on every line", damaged(8e6)),
    memory(plain),
  ];
}
