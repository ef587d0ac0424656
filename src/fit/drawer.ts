import type { Finding } from "../finding.ts";
import type { BetweenRunners } from "../job/drawers.ts";
import { type Screw, screwCalled } from "../job/screws.ts";
import type { Sized, SizedGroup } from "./box.ts";
import type { BackFit, BottomFit, DrawerFit, GrooveFit, RunnerFit } from "./fit-plan.ts";
import { type FrontSet, setFront } from "./front.ts";
import { gapsOf } from "./gaps.ts";
import { noseRadius, noseStop } from "./groove-end.ts";
import { backSettings, frontSettings, layTails, type Stretch } from "./joints.ts";
import { saidOf } from "./opening.ts";
import { runnersBelow } from "./runner-below.ts";
import { type RunnerFitting, runnerFitting } from "./runner-fitting.ts";
import { entersFromBetween, type RunnerGroove, runnerGroove } from "./runner-groove.ts";
import { behindDrawer, runnerLength, setbackOf } from "./runner-place.ts";
import { fitFinding, mmText, PRACTICE } from "./said.ts";
import { saidPart } from "./said-at.ts";
import { knownDrivers } from "./screw-driver.ts";
import { type RunnerScrews, runnerScrews, screwsOfDivider } from "./screw-holes.ts";
import { caseDepthChange, changeIn, clean, downTo, type FitGround, growth, nearTo, upTo } from "./stuff.ts";

/** A group of drawers with everything its parts are written from. */
export interface FittedGroup {
  readonly label: string;
  readonly drawers: readonly { readonly fit: DrawerFit; readonly set: FrontSet }[];
  /** Side-hung only. */
  readonly runnerGroove?: RunnerGroove;
  readonly runner: {
    readonly screw: Screw;
    readonly noseRadius: number;
    /** For the case's sides and the left face of dividers; and for the right face where they must not meet. */
    readonly screws: RunnerScrews;
    readonly screwsBeyond?: RunnerScrews;
  };
  /** How the runners go into the case; side-hung only. */
  readonly fitting?: RunnerFitting;
  /** All openings of the group were measured between their runners. */
  readonly measured: boolean;
}

/** Play of a bottom in its grooves, at each edge, mm: common practice, no source. */
const BOTTOM_PLAY = 0.5;
/** A solid bottom stays so far before the back's outer face in the wettest month, mm: common practice, no source. */
const BOTTOM_BACK = 1;

/** Fits all drawers of a group: grooves, runners, bottoms, backs, joints, gaps. */
export function fitGroup(
  g: FitGround,
  group: SizedGroup,
): { readonly fitted?: FittedGroup; readonly findings: readonly Finding[] } {
  const { drawers: d } = g;
  const found: Finding[] = [];
  const hung = d.runners.kind.value === "side-hung";
  const height = (d.runners.heightAsPlaned ?? d.runners.height).value;
  const reach = g.runner.thickness - d.runners.letIn.value;
  const between = group.drawers.map((s) => betweenOf(d.betweenRunners, s, reach));
  between.forEach((b, i) => {
    found.push(...betweenFindings(g, group.drawers[i]!, b, reach));
  });
  const enters = group.drawers.map((s, i) => entersFromBetween(s.box.width, between[i]!));
  const groove = hung ? grooveOf(g, group, reach, Math.max(...enters)) : undefined;
  // The deepest sets the depth; the shallowest has to hold as well.
  const shallow = hung ? grooveOf(g, group, reach, Math.min(...enters)).findings.filter(holdsLittle) : [];
  found.push(...(groove?.findings.filter((f) => !holdsLittle(f)) ?? []), ...shallow);
  const first = group.drawers[0]!;
  const bottomGroove = bottomGrooveOf(g);
  found.push(...bottomGrooveFindings(g, first));
  if (found.some((f) => f.grade === "refuse")) return { findings: found };
  const radius = hung
    ? noseRadius(height, groove!.endRadius, d.runners.nose.value === "round" ? "round" : { eased: 1 })
    : 0;
  const runners = group.drawers.map((s, i) => runnerOf(g, group.label, s, between[i]!, groove, radius, found));
  // Runners of a group are cut alike, to the shortest.
  const length = Math.min(...runners.map((r) => r.size.length));
  const screws = screwsOf(g, group, length, height, radius, found);
  const drawers = group.drawers.map((s, i) => {
    const runner = { ...runners[i]!, size: { ...runners[i]!.size, length } };
    return drawerOf(g, group.label, s, runner, groove, bottomGroove, found);
  });
  const fitting = groove && fittingOf(g, group.label, drawers, screws);
  found.push(...once(found, fitting?.findings ?? []));
  if (found.some((f) => f.grade === "refuse")) return { findings: found };
  return {
    fitted: {
      label: group.label,
      drawers,
      ...(fitting && { fitting }),
      ...(groove && { runnerGroove: groove }),
      runner: { noseRadius: radius, ...screws },
      measured: between.every((b) => b.measured),
    },
    findings: found,
  };
}

function betweenOf(
  measured: readonly BetweenRunners[],
  s: Sized,
  reach: number,
): RunnerFit["between"] & { readonly said?: BetweenRunners } {
  const said = measured.find((b) => b.opening === s.opening.name);
  if (said) return { mouth: said.mouth.value, back: said.back.value, measured: true, said };
  const { mouth, back } = s.opening.width;
  return {
    mouth: clean(mouth.value - 2 * reach),
    back: clean((back ?? mouth).value - 2 * reach),
    measured: false,
  };
}

/** More than this from what the opening says, and one of the two measurements is a slip, mm: common practice, no source. */
const FAR = 1;

function betweenFindings(g: FitGround, s: Sized, b: ReturnType<typeof betweenOf>, reach: number): readonly Finding[] {
  if (b.said === undefined) return [];
  const { mouth, back } = s.opening.width;
  const off = Math.max(
    Math.abs(b.mouth - (mouth.value - 2 * reach)),
    Math.abs(b.back - ((back ?? mouth).value - 2 * reach)),
  );
  if (off <= FAR) return [];
  const said = { ...saidPart(s.opening.name, g.drawers, "runners"), source: b.said.source, sources: {} };
  return [
    fitFinding(
      said,
      "caution",
      "fit-between-far",
      {
        what: `what lies between the runners of "${s.opening.name}" doesn't agree with its width`,
        why: `${mmText(b.mouth)} and ${mmText(b.back)} were measured; the opening less two runners is ${mmText(mouth.value - 2 * reach)} at the mouth`,
        mend: "measure both again; the groove follows what lies between the runners",
      },
      { found: off, limit: FAR, from: PRACTICE },
    ),
  ];
}

function holdsLittle(f: Finding): boolean {
  return f.code === "fit-runner-misses" || f.code === "fit-runner-shallow";
}

/** One groove for all sides of a group, into which a runner enters so far. */
function grooveOf(g: FitGround, group: SizedGroup, reach: number, enters: number): RunnerGroove {
  const { drawers: d } = g;
  const { runners: r } = d;
  const height = (r.heightAsPlaned ?? r.height).value;
  const first = group.drawers[0]!;
  const sideThickness = g.side.thickness - d.cleanUp.value;
  return inSteps(
    runnerGroove({
      said: saidPart(`${group.label} side`, d, "runners"),
      runner: {
        height,
        reach,
        heightChange: changeIn(g.runner, "width", height, g.year),
        thicknessChange: changeIn(g.runner, "thickness", g.runner.thickness, g.year),
      },
      side: {
        height: first.box.height,
        thickness: sideThickness,
        thicknessChange: changeIn(g.side, "thickness", g.side.thickness, g.year),
        grooveWidthChange: changeIn(g.side, "width", height, g.year),
      },
      sideGap: reach - enters,
      clearance: r.clearance.value + g.film,
      freeDepth: r.freeDepth.value + g.film,
      cleanUp: d.cleanUp.value,
      bearingAt: first.bearingAt,
      stopFromFront: clean(first.front.show + r.stopFromFront.value - first.front.sideEnd),
      ends: "round",
      on: "face",
      frontEnd: "first end",
    }),
  );
}

/** Width and depth in steps that a bench can set; never less than reckoned. */
const STEP = 0.05;

function inSteps(groove: RunnerGroove): RunnerGroove {
  const width = upTo(STEP, groove.width);
  const depth = upTo(STEP, groove.depth);
  return {
    ...groove,
    width,
    lower: clean(groove.upper - width),
    depth,
    finishedDepth: clean(groove.finishedDepth + depth - groove.depth),
    behind: clean(groove.behind + groove.depth - depth),
    endRadius: width / 2,
    feature: { ...groove.feature, width, depth: { kind: "to", depth } },
  };
}

/** The bottom's groove in sides or slips: where, how wide, how deep. */
function bottomGrooveOf(g: FitGround): GrooveFit {
  const { bottoms: b } = g.drawers;
  const grows = growth(changeIn(g.bottom, "thickness", g.bottom.thickness, g.year));
  const width = nearTo(0.05, g.bottom.thickness + b.grooveClearance.value + grows);
  return { lower: b.grooveAt.value, upper: clean(b.grooveAt.value + width), depth: b.grooveDepth.value };
}

function bottomGrooveFindings(g: FitGround, s: Sized): readonly Finding[] {
  const { bottoms: b } = g.drawers;
  const said = saidPart("bottom", g.drawers, "bottoms");
  const out: Finding[] = [];
  const carrier = b.slip ? b.slip.width.value : g.side.thickness - g.drawers.cleanUp.value;
  const depth = b.grooveDepth.value;
  const least = BOTTOM_PLAY + 0.5;
  const where = b.slip ? "slip" : "drawer side";
  const tell = (grade: "refuse" | "caution", what: string, limit: number, from: string): void => {
    const why = `${mmText(depth)} deep: the front is ${mmText(g.front.thickness)} thick, the ${where} ${mmText(carrier)}, and the bottom has ${mmText(BOTTOM_PLAY)} of play`;
    const mend = "a third of the wood it is in is usual";
    const text = { what, why, mend, keys: ["groove depth"] };
    out.push(fitFinding(said, grade, "fit-groove-depth", text, { found: depth, limit, from }));
  };
  if (depth >= Math.min(g.front.thickness, carrier)) {
    const through = depth >= carrier ? where : "front";
    tell(
      "refuse",
      `the bottom's groove goes through the ${through}`,
      Math.min(g.front.thickness, carrier),
      "its thickness",
    );
  } else if (depth <= least)
    tell("refuse", "the bottom's groove is too shallow to hold it", least, "the bottom's play");
  else if (depth > carrier / 2)
    tell("caution", `the bottom's groove is deeper than half the ${where}`, carrier / 2, PRACTICE);
  const top = b.grooveAt.value + g.bottom.thickness;
  if (top > s.box.height / 2) {
    out.push(
      fitFinding(said, "refuse", "fit-groove-depth", {
        what: "the bottom would lie above the middle of the drawer",
        why: `its groove begins ${mmText(b.grooveAt.value)} above the lower edge of sides ${mmText(s.box.height)} high`,
        mend: "lower the groove",
        keys: ["groove at"],
      }),
    );
  }
  return out;
}

function runnerOf(
  g: FitGround,
  label: string,
  s: Sized,
  between: ReturnType<typeof betweenOf>,
  groove: RunnerGroove | undefined,
  radius: number,
  found: Finding[],
): RunnerFit {
  const { drawers: d } = g;
  const { runners: r } = d;
  const height = (r.heightAsPlaned ?? r.height).value;
  const said = saidPart(`${label} runner`, d, "runners");
  const change = caseDepthChange(g, s.mouth.depth);
  const { said: _, ...known } = between;
  const reach = g.runner.thickness - r.letIn.value;
  const thick = { width: height, thickness: g.runner.thickness };
  if (groove === undefined) {
    const below = runnersBelow({
      said,
      opening: Math.min(s.opening.height.left.value, s.opening.height.right.value),
      slidesAt: 0,
      sideHeight: s.box.height,
      sideHeightChange: changeIn(g.side, "width", s.box.height, g.year),
      runner: { height, width: reach, heightChange: changeIn(g.runner, "width", height, g.year) },
      kicker: { height, heightChange: changeIn(g.runner, "width", height, g.year) },
      sideThickness: g.side.thickness - d.cleanUp.value,
      sideGap: (s.mouth.narrowest.width - s.box.width) / 2,
      clearance: Math.min(1, s.reveal.beside),
    });
    // A kicker beside the opening's upper edge may lie as high as the rail above, so its room in the opening is not asked.
    found.push(...below.findings.filter((f) => !(f.code === "fit-below-no-room" && below.bears > 0)));
    const length = runnerLength(said, { depth: s.mouth.depth, nose: s.front.inside, depthChange: change });
    found.push(...length.findings);
    return {
      kind: "below",
      part: `${label} runner`,
      kickerPart: `${label} kicker`,
      size: { length: length.length, ...thick },
      reach,
      bearing: 0,
      kickerAt: clean(below.kickerBottom),
      setback: s.front.inside,
      spacer: -height,
      between: known,
    };
  }
  const stop = noseStop({ height: groove.width, radius: groove.endRadius }, { height, radius });
  const stopFromFront = clean(s.front.show + r.stopFromFront.value - s.front.sideEnd);
  const setback = setbackOf({ said, stop, sideFrontAt: s.front.sideEnd, stopFromFront });
  const length = runnerLength(said, { depth: s.mouth.depth, nose: setback.nose, depthChange: change });
  found.push(...once(found, [...setback.findings, ...length.findings]));
  return {
    kind: "side-hung",
    part: `${label} runner`,
    size: { length: length.length, ...thick },
    reach,
    bearing: clean(s.box.bottom + s.bearingAt),
    setback: clean(setback.nose),
    spacer: clean(s.box.bottom + s.bearingAt - height),
    between: known,
  };
}

/** Findings that were not made before: alike drawers say the same. */
function once(before: readonly Finding[], made: readonly Finding[]): readonly Finding[] {
  return made.filter((m) => !before.some((b) => b.code === m.code && b.what === m.what && b.why === m.why));
}

function screwsOf(
  g: FitGround,
  group: SizedGroup,
  length: number,
  height: number,
  radius: number,
  found: Finding[],
): Omit<FittedGroup["runner"], "noseRadius"> {
  const { drawers: d } = g;
  const { runners: r } = d;
  const screw = screwCalled(r.screw.value).screw;
  if (screw === undefined) throw new Error(`no screw is called ${r.screw.value}`);
  const said = saidPart(`${group.label} runner`, d, "runners");
  const divider = g.case.dividerThickness?.value;
  const depth = Math.max(...group.drawers.map((s) => s.mouth.depth));
  const ask = (face: "only" | "first of two" | "second of two", caseThickness: number): RunnerScrews =>
    runnerScrews({
      said,
      screw,
      length: r.screwLength.value,
      count: r.screws.value,
      runner: { length, height, thickness: g.runner.thickness, letIn: r.letIn.value, noseRadius: radius },
      caseThickness,
      caseChange: caseDepthChange(g, depth),
      caseDepth: depth,
      face,
    });
  const thin = Math.min(g.caseSide.thickness, divider ?? g.caseSide.thickness);
  const plain = ask("only", thin);
  const bothFaces = divider !== undefined && g.case.columns > 1 && 2 * plain.reaches > divider;
  if (!bothFaces) {
    found.push(...once(found, plain.findings));
    return { screw, screws: plain };
  }
  const one = ask("first of two", thin);
  const other = ask("second of two", thin);
  const meet = screwsOfDivider(
    said,
    screw,
    divider,
    { holes: one.holes, reaches: one.reaches, height: 0 },
    { holes: other.holes, reaches: other.reaches, height: 0 },
  );
  found.push(...once(found, [...one.findings, ...other.findings, ...meet.findings]));
  return { screw, screws: one, screwsBeyond: other };
}

/** What the spacers are made of. */
const SPACER_WOOD = "plywood";

function fittingOf(
  g: FitGround,
  label: string,
  drawers: FittedGroup["drawers"],
  { screw, screws }: Omit<FittedGroup["runner"], "noseRadius">,
): RunnerFitting {
  const { runners: r } = g.drawers;
  const height = (r.heightAsPlaned ?? r.height).value;
  return runnerFitting({
    said: saidPart(`${label} spacer`, g.drawers, "runners"),
    wood: SPACER_WOOD,
    drawers: drawers.map(({ fit }) => ({ fit, sideHeightChange: changeIn(g.side, "width", fit.box.height, g.year) })),
    runnerHeightChange: changeIn(g.runner, "width", height, g.year),
    screw,
    screws,
    screwLength: r.screwLength.value,
    drivers: knownDrivers(),
  });
}

function drawerOf(
  g: FitGround,
  label: string,
  s: Sized,
  runner: RunnerFit,
  groove: RunnerGroove | undefined,
  bottomGroove: GrooveFit,
  found: Finding[],
): { readonly fit: DrawerFit; readonly set: FrontSet } {
  const { drawers: d } = g;
  const cleanUp = d.cleanUp.value;
  const thick = g.side.thickness;
  const insideLeft = s.box.left - cleanUp + thick;
  const insideWidth = s.box.width + 2 * cleanUp - 2 * thick;
  const sideBack = s.front.sideEnd + s.sideLength;
  const backOuter = clean(sideBack - s.back.outer);
  const back: BackFit = {
    part: `${s.opening.name} back`,
    size: {
      length: clean(insideWidth + 2 * s.back.enters),
      width: clean(s.box.height - bottomGroove.upper),
      thickness: g.back.thickness,
    },
    at: {
      x: clean(insideLeft - s.back.enters),
      y: clean(backOuter - g.back.thickness),
      z: clean(s.box.bottom + bottomGroove.upper),
    },
  };
  const bottom = bottomOf(g, s, { insideLeft, insideWidth, backOuter }, bottomGroove, found);
  const set = setFront(g, s, {
    left: bottom.at.x,
    right: bottom.at.x + bottom.size.length,
    grooveAt: bottomGroove.lower,
    grooveWidth: bottomGroove.upper - bottomGroove.lower,
    grooveDepth: bottomGroove.depth,
  });
  found.push(...set.findings);
  const slips = d.bottoms.slip !== undefined;
  const frontTails = tailsFor(g, label, s, "front", slips ? undefined : bottomGroove, undefined, found);
  const backTails = tailsFor(g, label, s, "back", bottomGroove, groove, found);
  const gap = s.mouth.depth - s.box.depth;
  found.push(...once(found, behindDrawer(saidOf(s.opening), gap, caseDepthChange(g, s.mouth.depth)).findings));
  const through = d.frontJoint.kind.value === "through";
  const stop = s.front.inside - bottomGroove.depth - (bottomGroove.upper - bottomGroove.lower) / 2 - s.front.sideEnd;
  const fit: DrawerFit = {
    name: s.opening.name,
    row: s.opening.row,
    column: s.opening.column,
    mouth: s.mouth,
    box: s.box,
    front: set.front,
    side: {
      parts: { left: `${label} left side`, right: `${label} right side` },
      size: { length: s.sideLength, width: s.box.height, thickness: thick },
      frontAt: s.front.sideEnd,
      ...(!slips && { bottomGroove: { ...bottomGroove, ...(through && { stop: downTo(0.1, stop) }) } }),
      ...(groove && {
        runnerGroove: {
          lower: groove.lower,
          upper: groove.upper,
          depth: groove.depth,
          stop: clean(s.front.show + d.runners.stopFromFront.value - s.front.sideEnd),
        },
      }),
    },
    back,
    bottom,
    runner,
    frontJoint: frontSettings(d.frontJoint, s.front, thick, set.inset, frontTails),
    backJoint: backSettings(d.backJoint, s.back, thick, g.back.thickness, backTails),
    gaps: gapsOf(g, s, set.front, groove && { groove, runner }),
    opening: s.opening,
  };
  return { fit, set };
}

function bottomOf(
  g: FitGround,
  s: Sized,
  at: { readonly insideLeft: number; readonly insideWidth: number; readonly backOuter: number },
  groove: GrooveFit,
  found: Finding[],
): BottomFit {
  const { bottoms: b } = g.drawers;
  const solid = b.kind.value === "solid";
  const slip = b.slip?.width.value ?? 0;
  const left = at.insideLeft + slip - groove.depth + BOTTOM_PLAY;
  const length = clean(at.insideWidth - 2 * slip + 2 * (groove.depth - BOTTOM_PLAY));
  // Fixed in front: what it grows goes to the back.
  const front = s.front.inside - groove.depth + BOTTOM_PLAY;
  const room = at.backOuter - front;
  const grows = growth(changeIn(g.bottom, "width", room, g.year));
  const width = downTo(0.1, room - grows - BOTTOM_BACK);
  const under = front + width - (at.backOuter - g.back.thickness);
  if (under < g.back.thickness / 3) {
    found.push(
      fitFinding(
        saidPart(`${s.opening.name} bottom`, g.drawers, "bottoms"),
        "caution",
        "fit-bottom-short",
        {
          what: "the bottom hardly reaches beneath the back",
          why: `${mmText(under)} of ${mmText(g.back.thickness)}: it has to leave ${mmText(grows)} for what it grows`,
          mend: "take a thicker back, a quartersawn bottom or a panel",
        },
        { found: under, limit: g.back.thickness / 3, from: PRACTICE },
      ),
    );
  }
  return {
    part: `${s.opening.name} bottom`,
    size: { length, width, thickness: g.bottom.thickness },
    grain: solid ? "along length" : "none",
    at: { x: clean(left), y: clean(front), z: clean(s.box.bottom + groove.lower) },
    growth: grows,
    ...(b.slip && { slipPart: `${s.opening.name} slip` }),
  };
}

/** Tails of one joint, so that grooves fall inside them; a caution where they cannot. */
function tailsFor(
  g: FitGround,
  label: string,
  s: Sized,
  end: "front" | "back",
  bottomGroove: GrooveFit | undefined,
  runner: RunnerGroove | undefined,
  found: Finding[],
): readonly Stretch[] {
  const { drawers: d } = g;
  const joint = end === "front" ? d.frontJoint : d.backJoint;
  const kind = joint.kind.value;
  if (kind !== "half-blind" && kind !== "through") return [];
  const from = end === "front" ? 0 : (bottomGroove?.upper ?? 0);
  // A bottom's groove that stops before a through joint's end doesn't show there.
  const hides = end === "front" && kind === "half-blind" && bottomGroove !== undefined;
  const grooves: readonly Stretch[] = [
    ...(hides ? [{ from: bottomGroove.lower, to: bottomGroove.upper }] : []),
    ...(end === "back" && runner ? [{ from: runner.lower, to: runner.upper }] : []),
  ];
  const pin = Math.max(4, nearTo(0.5, g.side.thickness * 0.6));
  const tails = layTails(s.box.height, from, joint.tails?.value, pin, grooves);
  if (tails !== undefined) return tails;
  const finding = fitFinding(saidPart(`${label} side`, d, "sides"), "caution", "fit-tails-miss-groove", {
    what: `no layout of tails at the ${end} keeps the groove inside one of them`,
    why: `sides ${mmText(s.box.height)} high, grooves at ${grooves.map((x) => `${mmText(x.from)} to ${mmText(x.to)}`).join(", ")}`,
    mend: "take fewer tails, or move the groove; else it shows in the joint and has to be plugged",
    keys: ["tails"],
  });
  found.push(...once(found, [finding]));
  return [];
}
