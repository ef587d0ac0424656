import { type Finding, tidy } from "../../finding.ts";
import type { Position } from "../../reader/read-move.ts";
import { extentOfMeridian, radiiOver } from "../../shapes/meridian.ts";
import type { TurningContact } from "../../simulate/turning.ts";
import { mm } from "../say.ts";
import { foundAt, onLine, type TurningCase } from "./case.ts";
import { markAt } from "./marks.ts";

/** Waits this much shorter than asked for are rounding, s. */
const ROUNDING = 0.01;

/** Diameter × speed that turners' pages quote, inches × rpm: the low figure of "6,000 to 9,000". */
const INCH_RPM = 6000;

/** Highest speeds of the work, rpm. Common practice, no source. */
const CAP = { upTo50: 3000, slim: 2500, notRoundUpTo50: 1500, notRound: 1000, paperJoint: 1000 } as const;

/** Work longer than this many times its thickness is slim. Common practice, no source. */
const SLIM = 10;

/** Ridges higher than this are told, mm: what light sanding takes off (common practice, no source). */
const RIDGE = 0.05;

/** Above the planned speed by less than this is rounding, rpm. */
const RPM_SLACK = 1;

/** Limits that turners quote are round figures: passing one by less than this share of it is not told. */
const LOOSE = 1.05;

/** How a program starts, runs and ends: spindle, speeds, feeds, bites, and where the tool stands. */
export function turningRules(c: TurningCase): readonly Finding[] {
  return [...startOf(c), ...spindle(c), ...speeds(c), ...feeds(c), ...bites(c), ...exactPath(c), ...endOf(c)];
}

/** What met what it must not. None of these can be overridden. */
export function turningContacts(c: TurningCase): readonly Finding[] {
  return c.simulation.contacts.map((k) =>
    onLine(
      c,
      k.line,
      {
        grade: "refuse",
        ...wordsFor(c, k),
        ...(k.depth > 0 ? { measured: { value: k.depth, bound: k.bound, unit: "mm" } } : {}),
      },
      k.at,
    ),
  );
}

function wordsFor(c: TurningCase, k: TurningContact): Pick<Finding, "code" | "what" | "why" | "mend"> {
  const where = k.at === undefined ? "" : foundAt(c.setUp, k.at);
  switch (k.kind) {
    case "rapid":
      return {
        code: "proof-turning-rapid-in-wood",
        what: "the tool goes into the wood at full speed",
        why: `${mm(k.depth)} of wood stands in its way, ${where}`,
        mend: "make the program again; never run this one",
      };
    case "holder":
      return {
        code: "proof-turning-holder-in-wood",
        what: "the tool's holder hits the wood",
        why: `wood stands ${mm(k.depth)} higher than its underside, ${where}`,
        mend: "set the tool farther out, or turn the deep places with a slimmer tool",
      };
    case "keep-out":
      return {
        code: "proof-turning-keep-out-hit",
        what: `the tool or its holder hits the ${k.keepOut ?? "holding"}`,
        mend: "leave more wood between the profile and what holds it",
      };
    case "still":
      return {
        code: "proof-turning-wood-standing",
        what: "the tool is pushed into wood that stands still",
        mend: "start the spindle before the cut",
      };
    case "through":
      return {
        code: "proof-turning-parted-through",
        what: "the wood is cut through, or all but, while it turns",
        why: `the nub is thinner than it must be, ${where}`,
        mend: "leave a nub and saw it off the lathe",
      };
    case "unplaced":
      return {
        code: "proof-turning-unplaced",
        what: "nothing says where this cut begins or ends",
        mend: "take X out, then go to Z, to stated places before the cut",
      };
    case "no tool":
      return {
        code: "proof-turning-no-tool",
        what: "a cut is made before the program says with which tool",
        mend: "call the tool first, or name it in a comment as the set-up does",
      };
  }
}

/** The first motion waits for the user to have taken the tool clear, or goes home. */
function startOf(c: TurningCase): readonly Finding[] {
  const first = c.read.events.findIndex((e) => e.kind === "move");
  const move = c.read.events[first];
  if (move?.kind !== "move" || move.machine) return [];
  if (c.read.events.slice(0, first).some((e) => e.kind === "stop" && !e.optional)) return [];
  return [
    onLine(c, move.line, {
      grade: "refuse",
      code: "proof-start-unasked",
      what: "the program moves off before anyone has made sure that the tool is clear",
      why: "it starts from wherever the tool happens to be",
      mend: "begin with X in machine coordinates, or with a stop that asks for the tool to be clear",
    }),
  ];
}

/** Sense, spin-up before wood is met, spin-down before a stop. */
function spindle(c: TurningCase): readonly Finding[] {
  const { lathe, start } = c.setUp;
  const wanted = lathe.spindleWord === "M3" ? "clockwise" : "counter-clockwise";
  const outer = Math.max(...start.segments.flatMap((s) => [s.from.y, s.to.y]));
  const findings: Finding[] = [];
  let turning = false;
  let starting: number | undefined;
  let stopping: number | undefined;
  let waited = 0;
  for (const e of c.read.events) {
    if (e.kind === "spindle") {
      const turns = e.spindle.turning !== "off" && (e.spindle.rpm > 0 || lathe.spindle.kind === "dial");
      if (e.spindle.turning !== "off" && e.spindle.turning !== wanted) {
        findings.push(
          onLine(c, e.line, {
            grade: "refuse",
            code: "proof-spindle-backwards",
            what: "the spindle is started backwards",
            why: "the wood would come at the tool from below, and a screwed-on chuck would come off",
            mend: `write ${lathe.spindleWord}, as the shop file has it`,
          }),
        );
      }
      if (turns !== turning) {
        waited = 0;
        starting = turns ? e.line : undefined;
        stopping = turns ? undefined : e.line;
      }
      turning = turns;
    } else if (e.kind === "dwell") waited += e.seconds;
    else if (e.kind === "move") {
      const in_ = e.to.x !== undefined && Math.abs(e.to.x) < outer;
      if (starting !== undefined && in_) {
        if (waited < lathe.spinUpSeconds - ROUNDING) findings.push(tooShort(c, starting, waited, "up"));
        starting = undefined;
      }
    } else if ((e.kind === "stop" && !e.optional) || e.kind === "tool change") {
      if (stopping !== undefined && waited < lathe.spinDownSeconds - ROUNDING) {
        findings.push(tooShort(c, stopping, waited, "down"));
      }
      stopping = undefined;
      // A change stops the spindle by itself (NISTIR 6556 §3.6.3).
      if (e.kind === "tool change") turning = false;
    }
  }
  return findings;
}

function tooShort(c: TurningCase, line: number, waited: number, way: "up" | "down"): Finding {
  const { lathe } = c.setUp;
  const needed = way === "up" ? lathe.spinUpSeconds : lathe.spinDownSeconds;
  return onLine(c, line, {
    grade: "refuse",
    code: way === "up" ? "proof-no-spin-up" : "proof-no-spin-down",
    what:
      way === "up"
        ? "the tool meets the wood before it is up to speed"
        : "the program stops for a hand while the wood still runs down",
    mend: "write a wait, G4 P, behind the spindle word",
    measured: { value: waited, bound: 0, unit: "s" },
    limit: { value: needed, unit: "s", from: `the shop file's ${way === "up" ? "spin-up" : "spin-down"} time` },
  });
}

interface SpeedLimit {
  readonly rpm: number;
  readonly from: string;
  /** The user's own number: beyond it the program is refused. */
  readonly own: boolean;
}

/**
 * Speeds against the largest diameter that turns at the time: the published rule, workshop caps, the holding, the lathe.
 * Until the turned stretch has been cut down all round it counts as not yet round.
 */
function speeds(c: TurningCase): readonly Finding[] {
  const findings: Finding[] = [];
  const { setUp } = c;
  const { lathe, piece } = setUp;
  const worst = new Map<number, { readonly line: number; readonly limits: readonly SpeedLimit[] }>();
  for (const cut of c.simulation.cuts) {
    const { move } = cut;
    if (move.rapid || move.spindle.turning === "off") continue;
    const { rpm } = move.spindle;
    if (worst.has(rpm)) continue;
    worst.set(rpm, { line: move.line, limits: limitsFor(2 * cut.largest, cut.largestTurned) });
  }
  for (const [rpm, { line, limits }] of worst) {
    if (!settable(c, rpm)) {
      findings.push(
        onLine(c, line, {
          grade: "refuse",
          code: "proof-spindle-out-of-range",
          what: "the lathe cannot turn at this speed",
          mend: "use a speed that the shop file gives for it",
          measured: { value: rpm, bound: 0, unit: "rpm" },
        }),
      );
    }
    for (const l of limits) {
      if (rpm <= (l.own ? l.rpm : l.rpm * LOOSE) + RPM_SLACK) continue;
      findings.push(
        onLine(c, line, {
          grade: l.own ? "refuse" : "caution",
          code: l.own ? "proof-turning-speed" : "proof-turning-speed-high",
          what: "the wood turns faster than it should",
          why: `the largest diameter is ${tidy(Math.round(2 * largestAt(c, line) * 10) / 10)} mm`,
          mend: `turn at ${tidy(Math.floor(l.rpm))} rpm or less`,
          measured: { value: rpm, bound: 0, unit: "rpm" },
          limit: { value: Math.floor(l.rpm), unit: "rpm", from: l.from },
        }),
      );
      break;
    }
  }
  return findings;

  function limitsFor(diameter: number, turned: number): readonly SpeedLimit[] {
    const round = turned <= roundAt(c);
    const limits: SpeedLimit[] = [];
    if (lathe.holdingMaxRpm !== undefined) {
      limits.push({ rpm: lathe.holdingMaxRpm, from: "the holding's limit in the shop file", own: true });
    }
    // What the set-up was planned for is on the sheet that the person works by.
    limits.push({
      rpm: round ? Math.max(setUp.roughRpm, setUp.finishRpm) : setUp.roughRpm,
      from: round ? "the set-up" : "the set-up, until round",
      own: true,
    });
    const said: SpeedLimit[] = [
      {
        rpm: (INCH_RPM * 25.4) / diameter,
        from: "6,000 inch × rpm, the low figure that turners' pages quote",
        own: false,
      },
    ];
    const practice = "common practice, no source";
    if (!round)
      said.push({
        rpm: diameter <= 50 ? CAP.notRoundUpTo50 : CAP.notRound,
        from: `until round: ${practice}`,
        own: false,
      });
    if (piece.split?.by === "paper joint")
      said.push({ rpm: CAP.paperJoint, from: `paper-jointed: ${practice}`, own: false });
    if (diameter <= 50) said.push({ rpm: CAP.upTo50, from: `up to 50 mm: ${practice}`, own: false });
    if (piece.blank.length > SLIM * diameter)
      said.push({ rpm: CAP.slim, from: `long and slim: ${practice}`, own: false });
    return [...limits, ...said.sort((a, b) => a.rpm - b.rpm)];
  }
}

/** Wood this much above the largest radius it shall have counts as round, mm: roughing leaves less. */
const ALMOST = 0.5;

/** Radius within which the turned stretch is round: inside a square's flats, or all but down to the profile. */
function roundAt(c: TurningCase): number {
  const { piece, target } = c.setUp;
  const extent = extentOfMeridian(target);
  const most = radiiOver(target, extent.from, extent.to)?.most ?? 0;
  return Math.max(most + ALMOST, piece.blank.shape === "square" ? piece.blank.across / 2 + 0.01 : 0);
}

function largestAt(c: TurningCase, line: number): number {
  return c.simulation.cuts.find((k) => k.move.line === line)?.largest ?? 0;
}

function settable(c: TurningCase, rpm: number): boolean {
  const { spindle: s } = c.setUp.lathe;
  switch (s.kind) {
    case "program":
      return rpm >= s.min && rpm <= s.max;
    case "dial":
      return rpm === 0 || s.positions.some((p) => Math.abs(p.rpm - rpm) < 0.5);
  }
}

/** Feeds within what each slide can do, and no coarser than leaves a smooth surface. Told once a speed and feed. */
function feeds(c: TurningCase): readonly Finding[] {
  const { topFeed } = c.setUp.lathe;
  const findings: Finding[] = [];
  const told = new Set<string>();
  for (const { move, path, form, depth } of c.simulation.cuts) {
    if (move.rapid) continue;
    const length = Math.hypot(path.to.x - path.from.x, path.to.y - path.from.y);
    const share = (d: number): number => (path.kind === "arc" ? 1 : length === 0 ? 0 : Math.abs(d) / length);
    const top = Math.min(
      topFeed.z / Math.max(1e-9, share(path.to.x - path.from.x)),
      topFeed.x / Math.max(1e-9, share(path.to.y - path.from.y)),
    );
    if (move.feed > top + 0.5 && !told.has(`top ${move.feed}`)) {
      told.add(`top ${move.feed}`);
      findings.push(
        onLine(c, move.line, {
          grade: "refuse",
          code: "proof-feed-too-fast",
          what: "the feed is faster than the lathe's slides can go",
          mend: "lower the feed",
          measured: { value: move.feed, bound: 0, unit: "mm/min" },
          limit: { value: Math.floor(top), unit: "mm/min", from: "the lathe's top feed" },
        }),
      );
    }
    const ridge = ridgeOf(move.feed, move.spindle.rpm, form.tool.noseRadius, form.tool.width);
    const key = `ridge ${form.tool.name}`;
    if (depth > 0 && ridge > RIDGE && !told.has(key)) {
      told.add(key);
      findings.push(
        onLine(c, move.line, {
          grade: "caution",
          code: "proof-turning-ridge",
          what: `the ${form.tool.name} leaves ridges from turn to turn`,
          why: `${tidy(Math.round((move.feed / move.spindle.rpm) * 1000) / 1000)} mm of feed a turn`,
          mend: "lower the feed or raise the speed",
          measured: { value: ridge, bound: 0, unit: "mm" },
          limit: { value: RIDGE, unit: "mm", from: "common practice, no source" },
        }),
      );
    }
  }
  return findings;
}

/**
 * Height of the ridge that a nose leaves between two turns, mm: n − √(n² − (f/2)²), f the feed a turn (plane geometry).
 * A square end leaves none while it overlaps itself.
 */
export function ridgeOf(feed: number, rpm: number, nose: number, width: number): number {
  if (!(rpm > 0)) return 0;
  const f = feed / rpm;
  if (width > 2 * nose + 1e-9 && f < width - 2 * nose) return 0;
  return nose - Math.sqrt(Math.max(0, nose * nose - (f / 2) ** 2));
}

/** No cut deeper than the tool may take, square to its way along the axis. Told once a tool. */
function bites(c: TurningCase): readonly Finding[] {
  const findings: Finding[] = [];
  const told = new Set<string>();
  for (const { move, form, bite, path } of c.simulation.cuts) {
    const { tool } = form;
    if (move.rapid || told.has(tool.name) || bite <= tool.maxBite + BITE_SLACK) continue;
    told.add(tool.name);
    findings.push(
      onLine(
        c,
        move.line,
        {
          grade: tool.from === "built-in default" ? "caution" : "refuse",
          code: "proof-turning-bite",
          what: `the ${tool.name} cuts deeper than it may`,
          mend: "take the wood down in more passes",
          measured: { value: bite, bound: BITE_SLACK, unit: "mm" },
          limit: { value: tool.maxBite, unit: "mm", from: tool.from },
        },
        path.from,
      ),
    );
  }
  return findings;
}

/** Cells, chords and the wood's bounds may add this to a bite, mm. */
const BITE_SLACK = 0.06;

function exactPath(c: TurningCase): readonly Finding[] {
  const { controller } = c.setUp.lathe;
  if (!controller.exactPath) {
    if (controller.cornerError === 0) return [];
    return [
      onLine(c, 1, {
        grade: "note",
        code: "proof-corners-rounded",
        what: `the controller rounds corners by up to ${mm(controller.cornerError)}, which is added to what the proof allows`,
      }),
    ];
  }
  const loose = c.read.events.find((e) => e.kind === "move" && !e.rapid && !e.exactPath);
  if (loose === undefined) return [];
  return [
    onLine(c, loose.line, {
      grade: "refuse",
      code: "proof-exact-path-unstated",
      what: "the program does not say that the path must be kept exactly",
      why: "the controller may cut corners by an unknown amount",
      mend: "write G61 before the first cut, and again behind each change of tool",
    }),
  ];
}

/** At every stop and at the end the tool stands clear, where hands come near and wood is taken off. */
function endOf(c: TurningCase): readonly Finding[] {
  const findings: Finding[] = [];
  let last: { readonly line: number; readonly to: Position; readonly radius: number } | undefined;
  const check = (where: string): void => {
    if (last === undefined || last.radius >= c.setUp.safeRadius - 0.001) return;
    findings.push(
      onLine(c, last.line, {
        grade: "refuse",
        code: "proof-turning-ends-in",
        what: `the program ${where} with the tool inside the safe radius`,
        mend: "take X out first",
        measured: { value: last.radius, bound: 0, unit: "mm" },
        limit: { value: c.setUp.safeRadius, unit: "mm", from: "the set-up's safe radius" },
      }),
    );
  };
  let turning = false;
  for (const e of c.read.events) {
    if (e.kind === "spindle") turning = e.spindle.turning !== "off";
    if (e.kind === "move") {
      const x = e.to.x;
      if (e.machine) last = e.machineTarget?.x === undefined ? last : undefined;
      else if (x !== undefined) last = { line: e.line, to: e.to, radius: Math.abs(x) };
    } else if ((e.kind === "stop" && !e.optional) || e.kind === "tool change") {
      // At a mark the still tool stands a gauge block off the wood, on purpose.
      const halts = e.kind === "stop" && !turning && last !== undefined && markAt(c, last.to) !== undefined;
      if (!halts) check("stops");
      last = undefined;
    } else if (e.kind === "end") check("ends");
  }
  return findings;
}
