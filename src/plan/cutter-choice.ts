import type { Finding } from "../finding.ts";
import type { Cavity } from "../parts/workpiece.ts";
import type { Cutter } from "../shop/cutter.ts";
import type { Shop } from "../shop/shop.ts";
import { closest } from "../units/closest.ts";
import { angleRank, finenessFor } from "./cut-marks.ts";
import { type Suit, suits, type Way } from "./suit.ts";
import type { Task } from "./task.ts";

/** A task with the bit that will do it. */
export interface Chosen {
  readonly task: Task;
  readonly cutter: Cutter;
  readonly way: Way;
  readonly reason: string;
}

/** A choice with the cavities as they will really be cut: drill points, drill sizes, an outline's band. */
export interface Settled extends Chosen {
  readonly final: readonly Cavity[];
}

/** A bit already in use is taken again when it is at least this share of the largest that fits: fewer changes. */
const NEAR_ENOUGH = 0.75;

interface Candidate {
  readonly cutter: Cutter;
  readonly way: Way;
  /** Lower is liked better among equals. */
  readonly rank: number;
}

/**
 * Chooses a bit for each task of a set-up. What the job names is used or refused with the reason. Otherwise, among those
 * that fit, the largest; and where several tasks would each have their own, as few bits as do them all, none smaller than
 * three quarters of the largest that fits. A hole is drilled where there is a drill for it. The same input gives the same choice.
 */
export function chooseCutters(
  tasks: readonly Task[],
  shop: Shop,
): { chosen: readonly Chosen[]; findings: readonly Finding[] } {
  const findings: Finding[] = [];
  const chosen = new Map<Task, Chosen>();
  const open: { task: Task; candidates: readonly Candidate[] }[] = [];
  for (const task of tasks) {
    const name = task.cavities[0].cutter;
    if (name !== undefined) {
      const named = chooseNamed(task, name, shop);
      if ("grade" in named) findings.push(named);
      else chosen.set(task, named);
      continue;
    }
    const candidates = candidatesFor(task, shop);
    if (candidates.length === 0) findings.push(noneFits(task, shop));
    else open.push({ task, candidates });
  }
  const used: Cutter[] = [...chosen.values()].map((c) => c.cutter);
  let left = open.map(({ task, candidates }) => ({ task, good: goodEnough(task, candidates), best: candidates[0]! }));
  while (left.length > 0) {
    const next = best(left, used, shop);
    for (const { task, good, best: largest } of left) {
      const c = good.find((g) => g.cutter === next);
      if (c) {
        const reason = `${reasonFor(task, c, largest)}${passedOver(task, c, shop)}`;
        chosen.set(task, { task, cutter: next, way: c.way, reason });
      }
    }
    left = left.filter(({ task }) => !chosen.has(task));
    used.push(next);
  }
  return { chosen: tasks.flatMap((t) => chosen.get(t) ?? []), findings };
}

/** The bit that does most of what is left: one in use before others, then the most tasks, the larger, the better liked. */
function best(left: readonly { readonly good: readonly Candidate[] }[], used: readonly Cutter[], shop: Shop): Cutter {
  const scored = shop.cutters
    .map((cutter) => {
      const for1 = left.flatMap(({ good }) => good.filter((g) => g.cutter === cutter));
      return { cutter, does: for1.length, rank: for1.reduce((sum, g) => sum + g.rank, 0), used: used.includes(cutter) };
    })
    .filter((s) => s.does > 0);
  scored.sort(
    (a, b) =>
      Number(b.used) - Number(a.used) ||
      b.does - a.does ||
      b.cutter.diameter - a.cutter.diameter ||
      a.rank - b.rank ||
      a.cutter.slot - b.cutter.slot ||
      (a.cutter.name < b.cutter.name ? -1 : 1),
  );
  return scored[0]!.cutter;
}

/** The best way first; within it the largest, then the better liked. */
function candidatesFor(task: Task, shop: Shop): readonly Candidate[] {
  const list = shop.cutters.flatMap((cutter): Candidate[] => {
    const suit = suits(task, cutter, shop.habits);
    return suit.ok ? [{ cutter, way: suit.way, rank: rankOf(task, cutter) }] : [];
  });
  return list.sort(
    (a, b) =>
      wayRank(a) - wayRank(b) ||
      sizeRank(task, b) - sizeRank(task, a) ||
      a.rank - b.rank ||
      a.cutter.slot - b.cutter.slot,
  );
}

/** Wider than this an outline's cut only makes more dust, mm. Common practice, no source. */
const OUTLINE_MOST = 8;

/**
 * The larger the better; for outlines up to a size, beyond which smaller is better again; for marks the finer the better.
 * A cone's size doesn't matter.
 */
function sizeRank(task: Task, c: Candidate): number {
  const d = c.cutter.diameter;
  if (c.way === "sink") return 0;
  if (c.way === "trace" || c.way === "v-groove") return finenessFor(task.cavities[0], c.cutter);
  return c.way === "contour" && d > OUTLINE_MOST ? OUTLINE_MOST / d : d;
}

/** A drill before a flat bit of the hole's size before a helix; a groove followed before one cleared. */
function wayRank(c: Candidate): number {
  switch (c.way) {
    case "peck":
      return c.cutter.form.kind === "drill" ? 0 : 1;
    case "follow":
    case "sink":
    case "contour":
    case "v-groove":
    case "trace":
      return 0;
    case "bore":
    case "clear":
      return 2;
  }
}

/** Bits of the same size: which throws its chips the right way, and plunges. */
function rankOf(task: Task, cutter: Cutter): number {
  const through = task.cavities[0].through;
  const likes = through
    ? (["compression", "up-cut", "straight", "down-cut"] as const)
    : (["up-cut", "straight", "down-cut", "compression"] as const);
  const cone = task.kind === "countersink" && cutter.form.kind !== "countersink" ? 10 : 0;
  // A round nose leaves lower ridges in a hollow than a small corner radius does.
  const ridges = task.cavities[0].hollow !== undefined && cutter.form.kind !== "round-nose" ? 10 : 0;
  const angle = task.kind === "v-groove" ? 10 * angleRank(cutter) : 0;
  return likes.indexOf(cutter.fluteSense) + cone + ridges + angle;
}

/** Those that may stand in for the best: done the same way, and nearly as large. */
function goodEnough(task: Task, candidates: readonly Candidate[]): readonly Candidate[] {
  const largest = candidates[0]!;
  return candidates.filter(
    (c) => wayRank(c) === wayRank(largest) && sizeRank(task, c) >= NEAR_ENOUGH * sizeRank(task, largest) - 1e-9,
  );
}

function reasonFor(task: Task, c: Candidate, largest: Candidate): string {
  const what = thingOf(task);
  if (c.way === "peck") return `${c.cutter.form.kind === "drill" ? "a drill" : "a bit"} of the hole's own diameter`;
  if (c.way === "sink") return "the angle of the screw's head";
  if (c.way === "follow") return `as wide as ${what}`;
  if (c.way === "v-groove") return "the sharpest V of the shop";
  if (c.way === "trace") return "cuts the finest line";
  return c.cutter.diameter >= largest.cutter.diameter - 1e-9
    ? `the largest that fits ${what}${c.way === "contour" ? `, up to ${OUTLINE_MOST} mm` : ""}`
    : `fits ${what} and is in use already; the largest would be ${largest.cutter.name}`;
}

/** Bits as large or larger on a turned blank whose nut would meet its wood: nothing else speaks against them. */
function passedOver(task: Task, c: Candidate, shop: Shop): string {
  if (task.round === undefined) return "";
  const short = shop.cutters.filter((cutter) => {
    if (cutter === c.cutter || cutter.diameter < c.cutter.diameter - 1e-9) return false;
    const suit = suits(task, cutter, shop.habits);
    return !suit.ok && suit.code === "plan-bit-stick-out-short";
  });
  if (short.length === 0) return "";
  const names = short.map((s) => `"${s.name}"`).join(" and ");
  return `; ${names} would have to stick out farther to keep the nut off the wood`;
}

function thingOf(task: Task): string {
  const { shape } = task.cavities[0];
  switch (shape.kind) {
    case "groove":
      return `the ${Number(shape.width.toFixed(3))} mm groove`;
    case "hole":
      return `the ${Number(shape.diameter.toFixed(3))} mm hole`;
    case "recess":
    case "mortise":
    case "rabbet":
    case "outline":
    case "v-groove":
    case "cut line":
      return `the ${shape.kind}`;
  }
}

function placeOfTask(task: Task): Finding["place"] {
  const [c] = task.cavities;
  return { part: c.part, feature: c.feature, source: c.sources?.bit ?? c.source };
}

function chooseNamed(task: Task, name: string, shop: Shop): Chosen | Finding {
  const cutter = shop.cutters.find((c) => c.name.toLowerCase() === name.toLowerCase());
  if (cutter === undefined) {
    const near = closest(
      name,
      shop.cutters.map((c) => c.name),
    );
    return {
      grade: "refuse",
      code: "plan-bit-unknown",
      place: placeOfTask(task),
      what: `the shop has no bit called "${name}"`,
      why: `it has ${shop.cutters.map((c) => `"${c.name}"`).join(", ")}`,
      mend: near === undefined ? "name one of these, or add it to the shop file" : `did you mean "${near}"?`,
    };
  }
  const suit = suits(task, cutter, shop.habits);
  return suit.ok ? { task, cutter, way: suit.way, reason: "named in the job" } : refusalOf(task, cutter, suit);
}

function refusalOf(task: Task, cutter: Cutter, suit: Extract<Suit, { ok: false }>): Finding {
  return {
    grade: "refuse",
    code: suit.code,
    place: placeOfTask(task),
    what: `the bit "${cutter.name}" ${suit.what}`,
    why: suit.why,
    mend: suit.mend,
    ...(suit.measured === undefined ? {} : { measured: suit.measured }),
    ...(suit.limit === undefined ? {} : { limit: suit.limit }),
  };
}

/** Told by the bits that come nearest: the reasons of those of the right form, widest first. */
function noneFits(task: Task, shop: Shop): Finding {
  const no = shop.cutters.flatMap((cutter) => {
    const suit = suits(task, cutter, shop.habits);
    return suit.ok ? [] : [{ cutter, suit }];
  });
  const cones = no.filter(({ cutter }) => cutter.form.kind === "countersink" || cutter.form.kind === "v");
  const nearer = task.kind === "countersink" ? cones : no.filter(({ suit }) => suit.code !== "plan-bit-wrong-form");
  const shown = (nearer.length > 0 ? nearer : no).sort(
    // A number that was missed tells more than a form that is another's.
    (a, b) =>
      Number(b.suit.measured !== undefined) - Number(a.suit.measured !== undefined) ||
      a.cutter.diameter - b.cutter.diameter,
  );
  const why = shown
    .slice(0, 4)
    .map(({ cutter, suit }) => `"${cutter.name}" ${suit.what} (${suit.why})`)
    .join("; ");
  const sink = task.kind === "countersink";
  const [first] = shown;
  return {
    grade: "refuse",
    code: sink ? "plan-no-countersink" : onlyCode(nearer.map(({ suit }) => suit.code)),
    place: { ...placeOfTask(task), source: task.cavities[0].source },
    what: sink ? `no bit of the shop sinks the heads of ${task.title}` : `no bit of the shop can cut ${task.title}`,
    why: why === "" ? "the shop has no bits" : why,
    mend: first?.suit.mend ?? "add one to the shop file",
    ...(first?.suit.measured === undefined ? {} : { measured: first.suit.measured }),
    ...(first?.suit.limit === undefined ? {} : { limit: first.suit.limit }),
  };
}

/** One reason for all of them is the reason. */
function onlyCode(codes: readonly Finding["code"][]): Finding["code"] {
  const first = codes[0];
  return first !== undefined && codes.every((c) => c === first) ? first : "plan-no-bit-fits";
}
