import type { Finding } from "../../finding.ts";
import { lengthOfMove } from "../../reader/motion.ts";
import type { ReadMove } from "../../reader/read-move.ts";
import { chipLoadFor } from "../../shop/chip-load.ts";
import type { Cutter } from "../../shop/cutter.ts";
import { BENDING_SHARE, CUTTING_ENERGY, CUTTING_ENERGY_SOURCE, tipBending } from "../../shop/strength.ts";
import type { WoodClass } from "../../shop/wood.ts";
import type { CutRecord } from "../../simulate/cut.ts";
import type { Case } from "../proof.ts";
import { lineOf } from "../say.ts";

/** A move that takes less wood than this is in air for the rules of feeds, mm³. */
const AIR = 0.5;
/** Feeds this near a limit keep it, as a share. */
const NEAR = 1.02;
/** Below this share of the lowest published chip load a bit rubs more than it cuts. Common practice, no source. */
const RUBS = 0.3;
/** A user's own chip load may be passed by this factor before it refuses: found good is not found to be the limit. */
const OWN_MARGIN = 1.5;

/** Passes deeper than the rule by less than this factor keep it: the grid's own error. */
const PASS_MARGIN = 1.1;

interface Cut {
  readonly move: ReadMove;
  readonly cutter: Cutter;
  readonly record: CutRecord;
}

/** Feeds against the machine, chip loads, plunges, depth of passes, power and bending. */
export function feedFindings(c: Case): readonly Finding[] {
  const cuts = cutsOf(c);
  return [
    ...tooFast(c),
    ...once(
      cuts,
      (k) => `${k.cutter.name} ${k.move.feed} ${k.move.spindle.rpm} ${isPlunge(k.move)}`,
      (k) => chipFindings(c, k),
    ),
    ...once(
      cuts,
      (k) => k.cutter.name,
      (k) => deadCentreFindings(c, k),
    ),
    ...once(
      cuts,
      (k) => k.cutter.name,
      (k) => loadFindings(c, k),
    ),
  ];
}

/** The moves that take wood, with what each took. */
function cutsOf(c: Case): readonly Cut[] {
  const moves = c.read.events.filter((e): e is ReadMove => e.kind === "move" && c.assemblyFor(e) !== undefined);
  const known = c.simulation.cuts;
  return moves.flatMap((move, i) => {
    const record = known[i];
    const cutter = c.cutterFor(move);
    if (record === undefined || cutter === undefined || move.rapid || record.fromMost < AIR) return [];
    return [{ move, cutter, record }];
  });
}

/** The first finding for each key, so that a fault of a whole operation is told once. */
function once(cuts: readonly Cut[], keyOf: (k: Cut) => string, of: (k: Cut) => readonly Finding[]): readonly Finding[] {
  const told = new Set<string>();
  return cuts.flatMap((k) => {
    const found = of(k).filter((f) => !told.has(`${f.code} ${keyOf(k)}`));
    for (const f of found) told.add(`${f.code} ${keyOf(k)}`);
    return found;
  });
}

function tooFast(c: Case): readonly Finding[] {
  const { topFeed } = c.setUp.machine;
  const told = new Set<number>();
  const findings: Finding[] = [];
  for (const m of c.read.events) {
    if (m.kind !== "move" || m.rapid || told.has(m.feed)) continue;
    const limit = axisLimit(m, topFeed);
    if (m.feed <= limit * NEAR) continue;
    told.add(m.feed);
    findings.push({
      grade: "refuse",
      code: "proof-feed-too-fast",
      place: lineOf(c, m.line),
      what: "the feed is faster than the machine can go",
      why: "the controller would slow it down or stop; either way it is not what was planned",
      mend: "lower the feed",
      measured: { value: m.feed, bound: 0, unit: "mm/min" },
      limit: { value: limit, unit: "mm/min", from: "the machine's top feed" },
    });
  }
  return findings;
}

/** Fastest that a move may go before one of its axes is at its top feed. An arc in XY uses both axes fully in turn. */
function axisLimit(m: ReadMove, top: { readonly x: number; readonly y: number; readonly z: number }): number {
  const d = {
    x: (m.to.x ?? 0) - (m.from.x ?? 0),
    y: (m.to.y ?? 0) - (m.from.y ?? 0),
    z: (m.to.z ?? 0) - (m.from.z ?? 0),
  };
  const length = lengthOfMove(m) ?? 0;
  if (length === 0) return Number.POSITIVE_INFINITY;
  if (m.path.kind === "arc") {
    const climb = Math.abs(d.z) / length;
    return Math.min(top.x, top.y, climb > 1e-9 ? top.z / climb : Number.POSITIVE_INFINITY);
  }
  const along = (share: number, limit: number): number =>
    Math.abs(share) < 1e-9 ? Number.POSITIVE_INFINITY : limit / (Math.abs(share) / length);
  return Math.min(along(d.x, top.x), along(d.y, top.y), along(d.z, top.z));
}

function chipFindings(c: Case, { move, cutter }: Cut): readonly Finding[] {
  if (c.wood === undefined || move.spindle.rpm <= 0) return [];
  const load = chipLoadFor(cutter, c.wood, 0);
  const chip = move.feed / (move.spindle.rpm * cutter.flutes);
  const measured = { value: chip, bound: 0, unit: "mm a tooth" };
  const place = lineOf(c, move.line);
  const turning = cutter.form.kind === "drill";
  // Makers' charts give a plunge or ramp the feed divided by the number of flutes.
  const high = isPlunge(move) && !turning ? load.high / Math.max(1, cutter.flutes) : load.high;
  if (chip > high * NEAR) {
    const own = load.measured && chip > high * OWN_MARGIN;
    return [
      {
        grade: own ? "refuse" : "caution",
        code: isPlunge(move) ? "proof-plunge-fast" : "proof-chip-load",
        place,
        what: isPlunge(move) ? "the bit goes down faster than suits it" : "the feed is fast for this bit and speed",
        why: "each tooth takes a thick chip: the bit may break or pull out of the collet",
        mend: "lower the feed, or raise the speed",
        measured,
        limit: { value: high, unit: "mm a tooth", from: load.source },
      },
    ];
  }
  if (!isPlunge(move) && chip < load.low * RUBS) {
    return [
      {
        grade: "caution",
        code: "proof-chip-load",
        place,
        what: "the feed is slow for this bit and speed: it rubs and burns",
        mend: "raise the feed, or lower the speed",
        measured,
        limit: { value: load.low, unit: "mm a tooth", from: load.source },
      },
    ];
  }
  return [];
}

/** Straight down. */
function isPlunge(m: ReadMove): boolean {
  return m.path.kind === "line" && m.from.x === m.to.x && m.from.y === m.to.y && (m.to.z ?? 0) < (m.from.z ?? 0);
}

function deadCentreFindings(c: Case, { move, cutter, record }: Cut): readonly Finding[] {
  if (cutter.deadCentre <= 0 || !((move.to.z ?? 0) < (move.from.z ?? 0))) return [];
  const helix =
    move.path.kind === "arc"
      ? Math.hypot((move.from.x ?? 0) - move.path.centre.x, (move.from.y ?? 0) - move.path.centre.y)
      : undefined;
  const straightDown =
    isPlunge(move) && record.fromLeast > 0 && record.fromMost > Math.PI * cutter.deadCentre ** 2 * 0.1;
  if (!straightDown && !(helix !== undefined && helix < cutter.deadCentre - 1e-6)) return [];
  return [
    {
      grade: "refuse",
      code: "proof-dead-centre",
      place: lineOf(c, move.line),
      what: `the ${cutter.name} is sent straight down, but its middle does not cut`,
      mend: "go down on a ramp or a wider helix, or use a bit that plunges",
      measured: { value: helix ?? 0, bound: 0, unit: "mm" },
      limit: { value: cutter.deadCentre, unit: "mm", from: "the bit's dead centre" },
    },
  ];
}

/** Deepest pass as a share of the bit's diameter. */
function deepestPass(wood: WoodClass): { readonly share: number; readonly from: string } {
  switch (wood) {
    case "hardwood":
    case "plywood":
      return { share: 0.5, from: "half the bit's diameter: common practice, no source" };
    case "softwood":
    case "mdf":
      return { share: 1, from: "cutter makers' charts: up to one diameter" };
  }
}

/** Cross-section of wood taken: wood a mm of way, so the depth of a cut as wide as the bit. */
function loadFindings(c: Case, { move, cutter, record }: Cut): readonly Finding[] {
  if (c.wood === undefined || isPlunge(move) || record.length < cutter.diameter) return [];
  // Surely taken: the grid's other bound is a bit too wide.
  const section = Math.min(record.fromMost, record.fromLeast) / record.length;
  const place = lineOf(c, move.line);
  const findings: Finding[] = [];
  const deep = section / cutter.diameter;
  const pass = deepestPass(c.wood.class);
  if (deep > pass.share * cutter.diameter * PASS_MARGIN) {
    findings.push({
      grade: "caution",
      code: "proof-pass-deep",
      place,
      what: "the pass is deep for this bit",
      why: "as much wood as a cut of the bit's full width and this depth",
      mend: "take it in more passes",
      measured: { value: deep, bound: 0, unit: "mm" },
      limit: { value: pass.share * cutter.diameter, unit: "mm", from: pass.from },
    });
  }
  const watts = (CUTTING_ENERGY[c.wood.class] * section * move.feed) / 60 / 1000;
  if (watts > c.setUp.machine.spindlePowerWatts) {
    findings.push({
      grade: "caution",
      code: "proof-power-short",
      place,
      what: "the cut may take more power than the spindle has",
      mend: "take less at a time, or lower the feed",
      measured: { value: watts, bound: watts / 2, unit: "W" },
      limit: { value: c.setUp.machine.spindlePowerWatts, unit: "W", from: CUTTING_ENERGY_SOURCE },
    });
  }
  const bend = move.spindle.rpm > 0 ? tipBending(cutter, watts, move.spindle.rpm) : 0;
  if (bend > BENDING_SHARE * cutter.stickOut) {
    findings.push({
      grade: "caution",
      code: "proof-bit-bends",
      place,
      what: "the bit may bend more than suits a clean wall",
      mend: "take less at a time, or set the bit less far out",
      measured: { value: bend, bound: bend, unit: "mm" },
      limit: {
        value: BENDING_SHARE * cutter.stickOut,
        unit: "mm",
        from: "0.025 mm for 25 mm of overhang, a published rule of thumb",
      },
    });
  }
  return findings;
}
