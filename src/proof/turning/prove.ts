import { type Finding, refuses } from "../../finding.ts";
import type { TurningSetUp } from "../../plan/turning-setup.ts";
import type { ReadOptions } from "../../reader/options.ts";
import { readProgram } from "../../reader/read.ts";
import { extentOfMeridian, radiiOver } from "../../shapes/meridian.ts";
import { type TurningTool, xSignOf } from "../../shop/lathe.ts";
import type { Shop } from "../../shop/shop.ts";
import { LEAST_NUB, simulateTurning, turningTime } from "../../simulate/turning.ts";
import { formOf } from "../../simulate/turning-tool.ts";
import type { TurnedWood } from "../../simulate/turning-wood.ts";
import { ACCURACY } from "../../tolerance.ts";
import type { Figure, ProgramToProve, Proof } from "../proof.ts";
import { mm, shortened } from "../say.ts";
import { turningBoxes } from "./boxes.ts";
import { foundAt, inMachine, onLine, placeAlong, type TurningCase } from "./case.ts";
import { turnedGouge } from "./gouge.ts";
import { type LeftStretch, turnedLeft } from "./left.ts";
import { turningMarkFindings } from "./marks.ts";
import { reacherFor } from "./reach.ts";
import { turningContacts, turningRules } from "./rules.ts";
import { type TurnedTarget, turnedTarget } from "./solid.ts";
import { toolsOf } from "./tools.ts";

export { proveTurningDryRun } from "./dry-run.ts";

/** What is to be proved: all programs of one mounting on the lathe, in the order in which they are run. */
export interface TurningToProve {
  readonly setUp: TurningSetUp;
  readonly programs: readonly ProgramToProve[];
  readonly shop: Shop;
}

/**
 * Proves turning programs against their piece, from their text alone. Every cutting move is measured against the exact
 * meridian; wood is carried on from program to program; what is left on the surface is judged after the last, against
 * the best that the shop's tools could do.
 */
export function proveTurning({ setUp, programs, shop }: TurningToProve): Proof {
  const findings: Finding[] = [];
  const cases: TurningCase[] = [];
  let wood: TurnedWood | undefined;
  for (const { file, text } of programs) {
    const read = readProgram(text, file, setUp.lathe.controller, turningReadOptions(setUp));
    findings.push(...read.findings);
    if (read.events.at(-1)?.kind !== "end") {
      findings.push({
        grade: "refuse",
        code: "proof-not-reached",
        place: { part: setUp.piece.name, program: { file, line: 1 } },
        what: "the program breaks the language's rules, so it was not checked against the part",
        mend: "mend what is said above, then check again",
      });
      return { findings: shortened(findings), figures: {}, ...turningBoxes(false, false) };
    }
    const toolFor = toolsOf(setUp, read);
    const simulation = simulateTurning({
      setUp,
      events: read.events,
      toolFor,
      ...(wood === undefined ? {} : { wood }),
    });
    wood = simulation.after;
    cases.push({ setUp, file, lines: text.split(/\r\n|\n|\r/), read, toolFor, simulation });
  }
  const target = turnedTarget(setUp);
  const figures: Record<string, Figure> = {};
  for (const [i, c] of cases.entries()) {
    findings.push(...gouges(c, target, figures), ...turningContacts(c), ...turningRules(c));
    findings.push(...turningMarkFindings(c, i === 0));
    motionFigures(c, figures);
  }
  findings.push(...left(cases, target, shop, figures));
  if (wood !== undefined) woodFigures(setUp, wood, cases, figures);
  return { findings: shortened(findings), figures, ...turningBoxes(!refuses(findings), true) };
}

/** What the reader is told of a mounting on the lathe. */
export function turningReadOptions(setUp: TurningSetUp): ReadOptions {
  const { lathe } = setUp;
  return {
    manner: "ours",
    machineTravel: { x: lathe.travel.x, y: Number.POSITIVE_INFINITY, z: lathe.travel.z },
    speedByDial: lathe.spindle.kind === "dial",
    lathe: {
      xWords: lathe.xWords,
      side: xSignOf(lathe),
      safeRadius: setUp.safeRadius,
      stockRadius: Math.max(...setUp.start.segments.flatMap((s) => [s.from.y, s.to.y])),
    },
  };
}

/** Every cutting move against the exact meridian. */
function gouges(c: TurningCase, target: TurnedTarget, figures: Record<string, Figure>): readonly Finding[] {
  const findings: Finding[] = [];
  const slack = cornerError(c.setUp);
  for (const cut of c.simulation.cuts) {
    if (cut.move.rapid) continue;
    const g = turnedGouge(target, cut);
    const before = figures.gouge;
    if (before === undefined || g.depth + g.bound > before.value + before.bound) {
      figures.gouge = { value: g.depth, bound: g.bound, unit: "mm", at: inMachine(c.setUp, g.at) };
    }
    if (g.depth + g.bound <= ACCURACY + slack) continue;
    findings.push(
      onLine(
        c,
        cut.move.line,
        {
          grade: "refuse",
          code: "proof-turning-gouge",
          what: "the tool cuts into the finished shape",
          why: foundAt(c.setUp, g.at),
          mend: "make the program again; never run this one",
          measured: { value: g.depth, bound: g.bound, unit: "mm" },
          limit: { value: ACCURACY + slack, unit: "mm", from: "the stated accuracy" },
        },
        g.at,
      ),
    );
  }
  return findings;
}

/** Where exact path cannot be kept, corners may be off by as much as the shop file says. */
function cornerError(setUp: TurningSetUp): number {
  const { controller } = setUp.lathe;
  return controller.exactPath ? 0 : controller.cornerError;
}

/** What is left on the surface after the last program. */
function left(
  cases: readonly TurningCase[],
  target: TurnedTarget,
  shop: Shop,
  figures: Record<string, Figure>,
): readonly Finding[] {
  const { setUp } = target;
  const cuts = cases.flatMap((c) => c.simulation.cuts.filter((k) => !k.move.rapid && k.move.spindle.turning !== "off"));
  const reacher = reacherFor(turnedTarget(setUp, true), toolsAtHand(setUp, shop).map(formOf));
  const found = turnedLeft(target, cuts, reacher, cornerError(setUp));
  figures["wood left"] = { value: found.worst, bound: found.bound, unit: "mm" };
  const beyond = found.stretches.filter((s) => s.kind === "beyond");
  // Of places that are equally thick within the bound, the first.
  const thickest = beyond.reduce<LeftStretch | undefined>(
    (a, b) => (a === undefined || b.left > a.left + a.bound ? b : a),
    undefined,
  );
  if (thickest !== undefined) {
    const { left: value, bound, at } = thickest;
    figures["wood out of reach"] = { value, bound, unit: "mm", at: inMachine(setUp, at) };
  }
  return [
    ...found.stretches.filter((s) => s.kind === "missed").map((s) => missedFinding(setUp, s)),
    ...(thickest === undefined
      ? []
      : [
          beyondFinding(
            setUp,
            thickest,
            beyond.filter((s) => s !== thickest),
          ),
        ]),
  ];
}

/** A place with the length of surface that it takes up. */
function stretchWords(setUp: TurningSetUp, s: LeftStretch): string {
  const length = Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y);
  return `${foundAt(setUp, s.at)}, over ${mm(Math.max(length, 0.01))}`;
}

function missedFinding(setUp: TurningSetUp, s: LeftStretch): Finding {
  return {
    grade: "refuse",
    code: "proof-turning-wood-left",
    place: placeAlong(setUp, s.at),
    what: "wood is left where a tool of the shop could have cut",
    why: stretchWords(setUp, s),
    mend: "make the program again, or finish it by hand and override this",
    measured: { value: s.left, bound: s.bound, unit: "mm" },
    limit: { value: ACCURACY, unit: "mm", from: "the stated accuracy" },
  };
}

/** What no tool reaches, told once: where it is thickest, and where else. */
function beyondFinding(setUp: TurningSetUp, s: LeftStretch, others: readonly LeftStretch[]): Finding {
  const round = (v: number): number => Math.round(v * 100) / 100;
  const places = others.map((o) => round(o.at.x - setUp.zShift)).sort((a, b) => a - b);
  const also = places.length === 0 ? "" : `; no thicker at ${places.join(", ")} mm from the first end`;
  return {
    grade: "caution",
    code: "proof-turning-out-of-reach",
    place: placeAlong(setUp, s.at),
    what: "no tool of the shop gets in here, so wood is left",
    why: `${stretchWords(setUp, s)}${also}`,
    mend: "cut it by hand, or use a tool with a smaller nose or steeper flanks",
    measured: { value: s.left, bound: s.bound, unit: "mm" },
  };
}

/** All tools that could have been used: too big a one is no excuse while a smaller one lies in the drawer. */
function toolsAtHand(setUp: TurningSetUp, shop: Shop): readonly TurningTool[] {
  const more = (shop.turningTools ?? []).filter((t) => !setUp.tools.some((u) => u.name === t.name));
  return [...setUp.tools, ...more];
}

function motionFigures(c: TurningCase, figures: Record<string, Figure>): void {
  const time = turningTime(c.read.events, c.setUp).seconds;
  figures.time = { value: (figures.time?.value ?? 0) + time, bound: 0, unit: "s" };
  for (const cut of c.simulation.cuts) {
    most(figures, "largest bite", cut.bite, c.simulation.after.cell, "mm");
    if (!cut.move.rapid) most(figures, "fastest", cut.move.spindle.rpm, 0, "rpm");
  }
}

function most(figures: Record<string, Figure>, name: string, value: number, bound: number, unit: string): void {
  if (value > (figures[name]?.value ?? -1)) figures[name] = { value, bound, unit };
}

function woodFigures(
  setUp: TurningSetUp,
  wood: TurnedWood,
  cases: readonly TurningCase[],
  figures: Record<string, Figure>,
): void {
  const volume = cases.reduce(
    (v, c) => ({ least: v.least + c.simulation.removed.least, most: v.most + c.simulation.removed.most }),
    { least: 0, most: 0 },
  );
  figures["wood removed"] = {
    value: (volume.least + volume.most) / 2,
    bound: (volume.most - volume.least) / 2,
    unit: "mm³",
  };
  figures["cell along the axis"] = { value: wood.cell, bound: 0, unit: "mm" };
  figures.contacts = { value: cases.reduce((n, c) => n + c.simulation.contacts.length, 0), bound: 0, unit: "times" };
  const extent = extentOfMeridian(setUp.target);
  let thin = radiiOver(setUp.target, extent.from, extent.to)?.most ?? LEAST_NUB;
  for (let i = 1; i + 1 < wood.least.length; i++) thin = Math.min(thin, wood.least[i]!);
  figures["thinnest radius"] = { value: thin, bound: wood.cell, unit: "mm" };
}
