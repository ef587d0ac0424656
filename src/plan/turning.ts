import { type Finding, type Outcome, refuses, tidy } from "../finding.ts";
import type { TurnedPiece } from "../parts/turned-piece.ts";
import { extentOfMeridian, type Meridian, radiiOver } from "../shapes/meridian.ts";
import { DEFAULT_HEAD, DEFAULT_TAIL, defaultLathes, defaultTurningTools } from "../shop/default-lathes.ts";
import type { Lathe, TurningTool } from "../shop/lathe.ts";
import type { Shop } from "../shop/shop.ts";
import { type Envelope, envelopeAt, exceeds, shared } from "./turning-envelope.ts";
import { turningMarks } from "./turning-marks.ts";
import { endKeepOuts, KEEP_CLEAR, movedMeridian, obstaclesOf, restKeepOut } from "./turning-obstacles.ts";
import { partingAt } from "./turning-parting.ts";
import type { TurningOperation, TurningSetUp } from "./turning-setup.ts";
import { SLIM, turningSpeeds } from "./turning-speed.ts";
import { fewestTools, leastOf, type Reach, reachOf, roomOf, type Unreached, unreachedBy } from "./turning-tools.ts";

/** A turned piece as it is to be made on the lathe. */
export interface PlannedTurning {
  readonly setUp: TurningSetUp;
  /** In the order they are cut; a tool's operations follow each other. */
  readonly operations: readonly TurningOperation[];
}

/** Feeds for each turn of the work, mm, where the shop file names none. Common practice, no source. */
const FEED_A_TURN = { rough: 0.2, finish: 0.08, plunge: 0.05 } as const;

/** Wood left for the finish where the shop's habit leaves none, mm. */
const LEAST_ALLOWANCE = 0.1;

/**
 * Plans the turning of a piece: how it is mounted, what must not be touched, at what speed, with which tools in which order.
 *
 * Refuses only what the user's own numbers rule out: wood too large for a lathe they measured, a profile fatter than its
 * blank, no tool at all. All that rests on defaults or on common practice is a caution with its number.
 */
export function planTurning(piece: TurnedPiece, shop: Shop): Outcome<PlannedTurning> {
  const findings: Finding[] = [];
  const startRadius = sweptRadius(piece);
  const lathe = chooseLathe(piece, startRadius, shop, findings);
  const tools = shop.turningTools ?? defaultTurningTools();
  if (!tools.some((t) => t.kind !== "parting")) {
    findings.push({
      ...of(piece),
      grade: "refuse",
      code: "turning-no-tool",
      what: "the shop has no tool that cuts a profile",
      mend: "describe a round-nose or a detail tool in the shop file",
    });
  }
  checkBlank(piece, startRadius, findings);
  if (lathe === undefined || refuses(findings)) return { ok: false, findings };
  const mounted = mount(piece, lathe, startRadius, shop, findings);
  if (refuses(findings)) return { ok: false, findings };
  const wood = obstaclesOf(mounted, mounted.target);
  const reaches = tools.map((t) => reachOf(t, wood));
  const chosen = fewestTools(reaches, mounted);
  findings.push(...hiddenFindings(piece, mounted));
  const unreached = unreachedBy(reaches, mounted, wood);
  findings.push(...unreachedFindings(piece, { ...mounted, tools }, unreached));
  const paced = staysRough(mounted, unreached) ? noFasterAfterwards(mounted) : mounted;
  const operations = operationsFor(piece, paced, chosen, reaches, findings);
  const equipped = { ...paced, tools: toolsIn(operations) };
  const setUp = { ...equipped, marks: turningMarks(equipped) };
  return { ok: true, value: { setUp, operations }, findings };
}

/**
 * Whether some of the wood never gets round: where no tool gets down to what a square is all round, or to the profile's
 * thickest, for its own shape or for a corner of what holds the work and is kept clear of.
 */
function staysRough({ piece, keepOuts, target }: TurningSetUp, unreached: readonly Unreached[]): boolean {
  const { from, to } = extentOfMeridian(target);
  const most = radiiOver(target, from, to)?.most ?? 0;
  const round = Math.max(most, piece.blank.shape === "square" ? piece.blank.across / 2 : 0);
  const gripped = keepOuts.some(({ outline }) =>
    outline.some(({ x, y }) => x + KEEP_CLEAR > from && x - KEEP_CLEAR < to && y + KEEP_CLEAR > round),
  );
  return gripped || unreached.some((u) => u.at.y + u.most > round);
}

/** The set-up turned at the speed for wood that is not round, all through. */
function noFasterAfterwards(setUp: TurningSetUp): TurningSetUp {
  if (setUp.finishRpm <= setUp.roughRpm) return setUp;
  return {
    ...setUp,
    finishRpm: setUp.roughRpm,
    speedReason: `${setUp.speedReason}; no faster afterwards, as wood that no tool gets at stays unturned`,
  };
}

function of(piece: TurnedPiece): Pick<Finding, "place"> {
  return { place: { part: piece.name, source: piece.source } };
}

/** Largest radius that the mounted blank sweeps: half the diagonal of a square. */
function sweptRadius(piece: TurnedPiece): number {
  const { across, shape } = piece.blank;
  return (across / 2) * (shape === "square" ? Math.SQRT2 : 1);
}

/** The lathe the job names, else the first that the piece fits. A default's numbers caution, the user's own refuse. */
function chooseLathe(piece: TurnedPiece, radius: number, shop: Shop, findings: Finding[]): Lathe | undefined {
  const all = shop.lathes ?? defaultLathes();
  const named = all.find((l) => l.name === piece.wishes.machine);
  const candidates = named === undefined ? all : [named];
  const fits = candidates.find((l) => tooLarge(piece, radius, l) === undefined);
  const lathe = fits ?? candidates[0];
  if (lathe === undefined) {
    const mend = "describe your lathe in the shop file";
    findings.push({ ...of(piece), grade: "refuse", code: "turning-no-lathe", what: "the shop has no lathe", mend });
    return undefined;
  }
  const large = tooLarge(piece, radius, lathe);
  if (large === undefined) return lathe;
  const own = lathe.from !== "built-in default";
  findings.push({
    ...of(piece),
    grade: own ? "refuse" : "caution",
    code: own ? "turning-no-lathe" : "turning-travel-short",
    what: `the blank is too ${large.how} for lathe "${lathe.name}"`,
    measured: { value: large.value, bound: 0, unit: "mm" },
    limit: { value: large.limit, unit: "mm", from: own ? "the shop file" : "a built-in lathe, invented" },
    mend: own ? "use a smaller blank or another lathe" : "describe your own lathe in the shop file",
  });
  return own ? undefined : lathe;
}

function tooLarge(
  piece: TurnedPiece,
  radius: number,
  lathe: Lathe,
): { readonly how: string; readonly value: number; readonly limit: number } | undefined {
  const { length } = piece.blank;
  if (2 * radius > lathe.swing) return { how: "thick", value: 2 * radius, limit: lathe.swing };
  if (length > lathe.betweenCentres) return { how: "long", value: length, limit: lathe.betweenCentres };
  if (length > lathe.travel.z) return { how: "long", value: length, limit: lathe.travel.z };
  return undefined;
}

/** A profile must lie inside what the blank is all round: on a square, within its flats. */
function checkBlank(piece: TurnedPiece, startRadius: number, findings: Finding[]): void {
  const { from, to } = extentOfMeridian(piece.meridian);
  const most = radiiOver(piece.meridian, from, to)?.most ?? 0;
  const sure = piece.blank.shape === "square" ? piece.blank.across / 2 : startRadius;
  if (most <= sure + 1e-9) return;
  findings.push({
    ...of(piece),
    grade: "refuse",
    code: "turning-blank-too-small",
    what: "the profile is thicker than its blank",
    why: piece.blank.shape === "square" ? "the flats of the square would stay" : "there is no wood out there",
    measured: { value: 2 * most, bound: 0, unit: "mm" },
    limit: { value: 2 * sure, unit: "mm", from: "the blank" },
    mend: "use a thicker blank, or make the profile slimmer",
  });
}

/** How the piece is held, what stands in the way, how fast it turns. */
function mount(piece: TurnedPiece, lathe: Lathe, startRadius: number, shop: Shop, findings: Finding[]): TurningSetUp {
  const { length } = piece.blank;
  const head = lathe.head ?? DEFAULT_HEAD;
  const tail = lathe.tail ?? DEFAULT_TAIL;
  const assumed = [
    ...(lathe.head === undefined ? [`a drive centre ${tidy(head.diameter)} mm across`] : []),
    ...(lathe.tail === undefined ? [`a live centre ${tidy(tail.diameter)} mm across`] : []),
  ];
  if (assumed.length > 0) {
    findings.push({
      ...of(piece),
      grade: "caution",
      code: "turning-holding-assumed",
      what: `the tool is kept clear of ${assumed.join(" and ")}, which nobody measured`,
      why: "invented sizes: jaws or a larger centre would be hit",
      mend: "give headstock and tailstock of the lathe in the shop file",
    });
  }
  const target = movedMeridian(piece.meridian, -length);
  const squares = piece.squares.map((s) => (s.side / 2) * Math.SQRT2);
  const extent = extentOfMeridian(target);
  const profile = radiiOver(target, extent.from, extent.to)!.most;
  const finished = 2 * Math.max(profile, ...squares);
  const hidden = hiddenByRest(lathe, length, extent.from, extent.to) !== undefined;
  const speeds = turningSpeeds({
    lathe,
    startDiameter: 2 * startRadius,
    finishDiameter: hidden ? 2 * startRadius : finished,
    length,
    paperJoint: piece.split?.by === "paper joint",
  });
  if (length > SLIM * 2 * profile) {
    findings.push({
      ...of(piece),
      grade: "caution",
      code: "turning-slim",
      what: "the work is long for its thickness: it whips and chatters",
      measured: { value: length / (2 * profile), bound: 0, unit: "times as long as thick" },
      limit: { value: SLIM, unit: "times", from: "common practice, no source" },
      mend: "support it in the middle, take light cuts, or turn two shorter pieces",
    });
  }
  if (speeds.lowestTooFast) {
    findings.push({
      ...of(piece),
      grade: "caution",
      code: "turning-lathe-too-fast",
      what: "the lathe doesn't turn as slowly as this work should",
      why: speeds.reason,
      mend: "start with a blank that is already round, or use a smaller one",
    });
  }
  const { rest } = lathe;
  checkRest(piece, lathe, startRadius, findings);
  const highest = Math.max(startRadius, head.diameter / 2, tail.diameter / 2, rest?.reach ?? 0);
  const safeRadius = Math.ceil((highest + shop.habits.clearance) * 10) / 10;
  if (safeRadius > lathe.travel.x) {
    findings.push({
      ...of(piece),
      grade: "caution",
      code: "turning-travel-short",
      what: "the cross slide may not reach from the axis to the safe radius",
      measured: { value: safeRadius, bound: 0, unit: "mm" },
      limit: { value: lathe.travel.x, unit: "mm", from: lathe.from },
      mend: "check how far X travels on your lathe",
    });
  }
  return {
    name: `${piece.name}, on the lathe`,
    piece,
    lathe,
    zShift: -length,
    start: roundBar(-length, 0, startRadius),
    target,
    keepOuts: [...endKeepOuts(length, head, tail), ...(rest === undefined ? [] : [restKeepOut(rest)])],
    safeRadius,
    tools: [],
    habits: shop.habits,
    roughRpm: speeds.rough,
    // Under a rest the blank stays as it was: it never gets round.
    finishRpm: hidden ? speeds.rough : speeds.finish,
    speedReason: hidden
      ? `${speeds.reason}; no faster afterwards, as wood under the rest stays unturned`
      : speeds.reason,
  };
}

/** A rest that the blank itself would turn into; elsewhere what it hides from the tools is told as not reached. */
function checkRest(piece: TurnedPiece, lathe: Lathe, startRadius: number, findings: Finding[]): void {
  const { rest } = lathe;
  if (rest === undefined) return;
  const beside = rest.fromTailstock - rest.width / 2 < piece.blank.length;
  if (!beside || rest.opening / 2 >= startRadius + KEEP_CLEAR) return;
  findings.push({
    ...of(piece),
    grade: lathe.from === "built-in default" ? "caution" : "refuse",
    code: "turning-rest-in-work",
    what: "the blank would turn into the rest",
    why: `it sweeps ${tidy(round(2 * startRadius))} mm across, and ${KEEP_CLEAR} mm must stay free all round (common practice, no source)`,
    measured: { value: rest.opening, bound: 0, unit: "mm" },
    limit: { value: 2 * (startRadius + KEEP_CLEAR), unit: "mm", from: "the blank as it turns" },
    mend: "open the rest wider, take it off the bed, or leave it out of the shop file",
  });
}

function roundBar(from: number, to: number, radius: number): Meridian {
  return { segments: [{ kind: "line", from: { x: from, y: radius }, to: { x: to, y: radius } }] };
}

/** Fillets in inside corners thinner than this are told together, mm: the roundness of the sharpest tool. */
const FILLET = 0.1;

function unreachedFindings(piece: TurnedPiece, setUp: TurningSetUp, all: readonly Unreached[]): readonly Finding[] {
  const fillets = all.filter((u) => u.most <= FILLET);
  const findings = all.filter((u) => u.most > FILLET).map((u) => unreachedFinding(piece, setUp, u));
  const thickest = fillets.reduce<Unreached | undefined>(
    (a, b) => (a === undefined || b.most > a.most ? b : a),
    undefined,
  );
  if (thickest === undefined) return findings;
  const places = fillets.map((u) => tidy(round(u.at.x - setUp.zShift))).slice(0, 12);
  const more = fillets.length > places.length ? " and others" : "";
  return [
    ...findings,
    {
      ...unreachedFinding(piece, setUp, thickest),
      grade: "note",
      what: "a small fillet stays in inside corners, as round as the sharpest tool",
      why: `at ${places.join(", ")} mm from the first end${more}; the thickest`,
    },
  ];
}

function unreachedFinding(piece: TurnedPiece, setUp: TurningSetUp, u: Unreached): Finding {
  const at = u.at.x - setUp.zShift;
  const mm = (z: number): string => tidy(round(z - setUp.zShift));
  return {
    grade: "caution",
    code: "turning-not-reached",
    place: { part: piece.name, source: piece.source, at: { x: at, y: 0, z: u.at.y } },
    what: `no turning tool gets into the profile ${mm(u.at.x)} mm from the first end: wood is left there`,
    why: `over ${tidy(round(u.to - u.from))} mm of length, from ${mm(u.from)} to ${mm(u.to)} mm${besideRest(setUp, u) ? "; the rest stands in the way" : ""}`,
    measured: { value: round(u.most), bound: 0.005, unit: "mm" },
    mend: besideRest(setUp, u)
      ? "move the rest, or take it off the bed and out of the shop file; else clean it by hand"
      : "clean it by hand, open the profile, or add a slimmer tool to the shop file",
  };
}

/** The stretch of a profile that lies under the rest, tools kept clear of it, set-up coordinates; undefined where none does. */
function hiddenByRest(
  { rest }: Lathe,
  length: number,
  low: number,
  high: number,
): { readonly from: number; readonly to: number } | undefined {
  if (rest === undefined || rest.fromTailstock - rest.width / 2 >= length) return undefined;
  const from = Math.max(low, -rest.fromTailstock - rest.width / 2 - KEEP_CLEAR);
  const to = Math.min(high, -rest.fromTailstock + rest.width / 2 + KEEP_CLEAR);
  return to > from ? { from, to } : undefined;
}

function hiddenFindings(piece: TurnedPiece, setUp: TurningSetUp): readonly Finding[] {
  const extent = extentOfMeridian(setUp.target);
  const hidden = hiddenByRest(setUp.lathe, piece.blank.length, extent.from, extent.to);
  if (hidden === undefined) return [];
  const mm = (z: number): string => tidy(round(z - setUp.zShift));
  return [
    {
      ...of(piece),
      grade: "caution",
      code: "turning-not-reached",
      what: `the rest hides the profile from ${mm(hidden.from)} to ${mm(hidden.to)} mm from the first end: wood is left there`,
      why: "no tool is sent under the rest or across it",
      measured: { value: round(hidden.to - hidden.from), bound: 0, unit: "mm" },
      mend: "move the rest, or take it off the bed and out of the shop file; else clean it by hand",
    },
  ];
}

/** What is left lies under the rest, or where a holder would meet it. */
function besideRest({ lathe: { rest }, tools }: TurningSetUp, u: Unreached): boolean {
  if (rest === undefined) return false;
  const wide = rest.width / 2 + KEEP_CLEAR + Math.max(0, ...tools.map((t) => t.width + 2 * t.holderHalfWidth));
  return u.from < -rest.fromTailstock + wide && u.to > -rest.fromTailstock - wide;
}

function round(mm: number): number {
  return Math.round(mm * 100) / 100;
}

/** Rough, then finish, tool by tool; later tools rough first where the ones before had to leave much; parting last. */
function operationsFor(
  piece: TurnedPiece,
  setUp: TurningSetUp,
  chosen: readonly Reach[],
  all: readonly Reach[],
  findings: Finding[],
): readonly TurningOperation[] {
  const allowance = Math.max(LEAST_ALLOWANCE, setUp.habits.allowance);
  const operations: TurningOperation[] = [];
  const main = chosen[0]!;
  // The strongest tool takes the bulk: one of the chosen if it is round-nosed, so that no change is spent on it.
  const rougher =
    main.tool.kind === "round-nose"
      ? main
      : ([...all].filter((r) => r.tool.kind === "round-nose").sort(byNose)[0] ?? main);
  const base = (kind: "rough" | "finish" | "part", tool: TurningTool, reason: string) => {
    const rpm = kind === "finish" ? setUp.finishRpm : setUp.roughRpm;
    const { topFeed } = setUp.lathe;
    const along = kind === "finish" ? FEED_A_TURN.finish : FEED_A_TURN.rough;
    return {
      id: `${piece.name}/${kind} ${operations.length + 1}`,
      tool,
      toolReason: reason,
      rpm,
      feed: Math.min(topFeed.z, rpm * (tool.feedPerTurn ?? along)),
      plunge: Math.min(topFeed.x, rpm * (tool.plungePerTurn ?? FEED_A_TURN.plunge)),
    };
  };
  const rough = (tool: TurningTool, reason: string, title: string): void =>
    void operations.push({ ...base("rough", tool, reason), kind: "rough", title, bite: tool.maxBite, allowance });
  rough(
    rougher.tool,
    rougher === main ? "takes the bulk and cuts most of the profile" : "the strongest nose, for the bulk",
    `rough to ${tidy(allowance)} mm from the profile`,
  );
  const done: Reach[] = [rougher];
  for (const [k, reach] of chosen.entries()) {
    const gain = gainOf(leastOf(done), reach.left, setUp);
    if (reach !== rougher && gain > Math.max(allowance, reach.tool.maxBite / 2)) {
      rough(
        reach.tool,
        "gets in where the tool before had to leave wood",
        `rough where ${done[done.length - 1]!.tool.name} did not reach`,
      );
    }
    const reason =
      k === 0
        ? chosen.length === 1
          ? "the largest nose that reaches all that can be reached"
          : "cuts most of the profile; the other tools finish what it can't reach"
        : `gets in where the tools before can't: up to ${tidy(round(gain))} mm`;
    operations.push({
      ...base("finish", reach.tool, reason),
      kind: "finish",
      title: k === 0 ? "finish the profile" : `finish where ${chosen[k - 1]!.tool.name} did not reach`,
    });
    done.push(reach);
  }
  const parting = partingAt(
    piece,
    setUp,
    all.map((r) => r.tool),
    findings,
  );
  if (parting !== undefined) {
    operations.push({
      ...base("part", parting.tool, "square end, for parting"),
      kind: "part",
      title: `part to a nub of ${tidy(2 * parting.nubRadius)} mm, sawn off afterwards`,
      at: parting.at,
      nubRadius: parting.nubRadius,
    });
  }
  const defaults = toolsIn(operations).filter((t) => t.feedPerTurn === undefined || t.plungePerTurn === undefined);
  if (defaults.length > 0) {
    findings.push({
      ...of(piece),
      grade: "caution",
      code: "turning-feeds-assumed",
      what: `feeds for ${defaults.map((t) => t.name).join(", ")} are common practice, not yours`,
      why: `${tidy(FEED_A_TURN.rough)} mm a turn roughing, ${tidy(FEED_A_TURN.finish)} finishing, ${tidy(FEED_A_TURN.plunge)} straight in; common practice, no source`,
      mend: 'try them in scrap, then write "feed a turn" and "plunge a turn" for each tool in the shop file',
    });
  }
  return operations;
}

/** How much thicker one outline is than another over the part, mm of radius. */
function gainOf(before: Envelope, after: Envelope, setUp: TurningSetUp): number {
  let most = 0;
  for (const i of shared(exceeds(before, after, 0.01), roomOf(setUp))) {
    for (let k = 0; k <= 16; k++) {
      const z = i.from + ((i.to - i.from) * (k + 0.5)) / 17;
      most = Math.max(most, envelopeAt(before, z) - envelopeAt(after, z));
    }
  }
  return most;
}

function byNose(a: Reach, b: Reach): number {
  return b.tool.noseRadius - a.tool.noseRadius || a.tool.slot - b.tool.slot;
}

/** Each tool once, in the order of its first use. */
function toolsIn(operations: readonly TurningOperation[]): readonly TurningTool[] {
  return [...new Set(operations.map((o) => o.tool))];
}
