import type { Finding } from "../finding.ts";
import { CUSP } from "../plan/levels.ts";
import type { Point3 } from "../shapes/point.ts";
import type { Assembly } from "../shop/cutter.ts";
import { ACCURACY } from "../tolerance.ts";
import { provedCutLine, provedVGroove } from "./cut-marks.ts";
import { type Body, bodyOf, GOUGE_FLOOR, type Gouge, gougeOf } from "./gouge.ts";
import { hollowFindings } from "./hollow-findings.ts";
import { hollowLeft } from "./hollow-left.ts";
import { type Left, type Stroke, woodLeft } from "./left.ts";
import { lipCores } from "./lip-core.ts";
import { type LipGouger, lipGouger } from "./lip-gouge.ts";
import { lipFindings, lipLeft } from "./lip-left.ts";
import { type Motion, motionsOf } from "./motion.ts";
import type { Case, Figure, Measures } from "./proof.ts";
import { type Gouger, roundGouger } from "./round-gouge.ts";
import { lineOf, mm, placeIn, placeOfCavity } from "./say.ts";
import { silhouetteOf } from "./silhouette.ts";
import { layersOf } from "./solid.ts";

/** How far corners may be rounded off by the controller, mm: 0 where exact path is understood and stated. */
export function cornerSlack(c: Case): number {
  const { controller } = c.setUp.machine;
  return controller.exactPath ? 0 : controller.cornerError;
}

/** Gouges of one program: every move, rapid or feed, with the whole assembly, against the target. */
export function provedGouge(c: Case): Measures {
  const layers = layersOf(c.setUp.target);
  const round = c.setUp.round === undefined ? undefined : roundGouger(c.setUp);
  const lip = lipGouger(c.setUp, lipCores(c.setUp));
  const allowed = ACCURACY + cornerSlack(c);
  const bodies = new Map<Assembly, { all: Body; cutter: Body }>();
  const findings: Finding[] = [];
  let worst = 0;
  let bound = 0;
  let at: Point3 | undefined;
  for (const m of motionsOf(c.read)) {
    const assembly = c.assemblyFor(m.move);
    if (assembly === undefined) continue;
    const body = bodies.get(assembly) ?? {
      all: bodyOf(silhouetteOf(assembly)),
      cutter: bodyOf(silhouetteOf(assembly, ["cutter"])),
    };
    bodies.set(assembly, body);
    // Less than the worst so far is of no interest, unless it is too much by itself.
    const known = Math.min(worst, allowed);
    const g =
      round === undefined ? gougeOf(m, body.all, layers, known) : onRound(round, lip, m, assembly, known, allowed);
    if (g.depth > worst) {
      worst = g.depth;
      at = g.at;
    }
    bound = Math.max(bound, g.depth >= worst ? g.bound : 0);
    // The true way may lie `slack` beside the one that was measured.
    if (g.depth + m.slack <= allowed) continue;
    const byCutter = gougeOf(m, body.cutter, layers, 0).depth > allowed;
    findings.push({
      grade: "refuse",
      code: byCutter ? "proof-gouge" : "proof-shank-in-part",
      place: { ...placeIn(c.setUp, g.at), ...lineOf(c, m.move.line) },
      what: byCutter
        ? `the bit cuts ${mm(g.depth)} into the part where wood must stay`
        : "the shank, nut or spindle would go into the part where wood must stay",
      why: "measured from the program's own moves to the finished part, sideways or downwards, whichever is less",
      mend: "make the program again; if it comes back, check the bit's diameter and the part's sizes",
      measured: { value: g.depth, bound: g.bound, unit: "mm" },
      limit: { value: allowed, unit: "mm", from: "the accuracy that programs promise" },
    });
  }
  const figure: Figure = {
    value: worst,
    bound: Math.max(bound, GOUGE_FLOOR),
    unit: "mm",
    ...(at === undefined || worst === 0 ? {} : { at }),
  };
  return { findings, figures: { gouge: figure } };
}

/** Over an eased lip the box that stands for round stock is no wood: how deep the box is cut there is of no interest. */
function onRound(round: Gouger, lip: LipGouger, m: Motion, assembly: Assembly, known: number, allowed: number): Gouge {
  const boxed = round(m, assembly, known, allowed);
  if (boxed.depth + m.slack <= allowed) return boxed;
  return lip(m, assembly, allowed - m.slack) ?? round(m, assembly, known);
}

/** Wood left in each cavity by all programs of a set-up together. */
export function provedLeft(cases: readonly Case[]): Measures {
  const first = cases[0];
  if (first === undefined) return { findings: [], figures: {} };
  const { setUp, shop } = first;
  const slack = Math.max(...cases.map(cornerSlack));
  const strokes = cases.flatMap(strokesOf);
  const findings: Finding[] = [];
  const figures: Record<string, Figure> = {};
  let worst: Figure = { value: 0, bound: 0, unit: "mm" };
  for (const cavity of setUp.target.cavities) {
    const { hollow } = cavity.cavity;
    if (hollow !== undefined) {
      const left = hollowLeft(cavity, hollow, strokes);
      findings.push(...hollowFindings(cavity, left, slack));
      const name = `wood left: ${cavity.cavity.part}, ${cavity.cavity.feature}`;
      const place = left.at === undefined ? {} : { at: left.at };
      largest(figures, name, { value: left.touch, bound: left.bound, unit: "mm", ...place });
      largest(figures, "ridges in hollows", { value: left.ridge, bound: left.bound, unit: "mm", ...place });
      if (left.touch > worst.value || worst.at === undefined) worst = figures[name]!;
      continue;
    }
    const { shape } = cavity.cavity;
    if (shape.kind === "v-groove" || shape.kind === "cut line") {
      const mark =
        shape.kind === "v-groove" ? provedVGroove(cavity, strokes, slack) : provedCutLine(cavity, cases, slack);
      findings.push(...mark.findings);
      for (const [name, figure] of Object.entries(mark.figures)) largest(figures, name, figure);
      continue;
    }
    const left = woodLeft(setUp.target, cavity, strokes, shop, slack, setUp.round);
    const finding = leftFinding(left);
    if (finding !== undefined) findings.push(finding);
    if (left.ridge !== undefined && left.ridge.height > (figures["ridges on sloped walls"]?.value ?? 0)) {
      figures["ridges on sloped walls"] = { value: left.ridge.height, bound: 0, unit: "mm" };
    }
    const figure: Figure = {
      value: left.sideways,
      bound: left.bound,
      unit: "mm",
      ...(left.at === undefined ? {} : { at: left.at }),
    };
    const name = `wood left: ${cavity.cavity.part}, ${cavity.cavity.feature}`;
    const before = figures[name];
    if (before === undefined || figure.value > before.value) figures[name] = figure;
    if (figure.value > worst.value || worst.at === undefined) worst = figure;
  }
  for (const core of lipCores(setUp)) {
    const left = lipLeft(core, strokes, setUp.cutters);
    findings.push(...lipFindings(core, left, slack));
    const place = left.at === undefined ? {} : { at: left.at };
    largest(figures, "ridges on eased lips", { value: left.ridge, bound: left.bound, unit: "mm", ...place });
  }
  return { findings, figures: { "wood left": worst, ...figures } };
}

function largest(figures: Record<string, Figure>, name: string, figure: Figure): void {
  const before = figures[name];
  if (before === undefined || figure.value > before.value) figures[name] = figure;
}

/** The feed motions of a program, with the cutting part that makes each. */
export function strokesOf(c: Case): readonly Stroke[] {
  const parts = new Map<Assembly, Pick<Stroke, "cutter" | "top">>();
  return motionsOf(c.read).flatMap((motion) => {
    const assembly = c.assemblyFor(motion.move);
    if (assembly === undefined || motion.move.rapid) return [];
    const part = parts.get(assembly) ?? {
      cutter: silhouetteOf(assembly, ["cutter"]),
      top: assembly.cutter.fluteLength,
    };
    parts.set(assembly, part);
    return [{ motion, ...part }];
  });
}

function leftFinding(left: Left): Finding | undefined {
  const place = { ...placeOfCavity(left.cavity), ...(left.at === undefined ? {} : { at: left.at }) };
  const from = "the accuracy that programs promise";
  if (left.outOfReach) {
    return {
      grade: "refuse",
      code: "proof-out-of-reach",
      place,
      what: "no bit of the shop gets into this place",
      mend: "widen it, allow rounder corners, or add a narrower bit to the shop file",
    };
  }
  if (left.floorHigh > 0) {
    return {
      grade: "refuse",
      code: "proof-floor-high",
      place,
      what: `the floor stays ${mm(left.floorHigh)} too high`,
      mend: "make the program again; if it comes back, check the depth asked for",
      measured: { value: left.floorHigh, bound: 0, unit: "mm" },
      limit: { value: ACCURACY, unit: "mm", from },
    };
  }
  if (left.ridge !== undefined && left.ridge.height > CUSP + ACCURACY) {
    return {
      grade: "refuse",
      code: "proof-wood-left",
      place,
      what: `the sloped wall keeps a ridge of ${mm(left.ridge.height)} at Z ${mm(left.ridge.z)}`,
      why: "a pass is missing there, or does not reach the wall",
      mend: "make the program again",
      measured: { value: left.ridge.height, bound: 0, unit: "mm" },
      limit: { value: CUSP + ACCURACY, unit: "mm", from: "the ridges that the sheet states for sloped walls" },
    };
  }
  if (left.sideways + left.bound <= left.allowed) return undefined;
  const nothing = left.sideways > 1e5;
  return {
    grade: "refuse",
    code: "proof-wood-left",
    place,
    what: nothing
      ? "nothing is cut here to full depth"
      : `wood is left standing: ${mm(left.sideways)} beside what is cut`,
    why: "as far as the best of the shop's bits reaches",
    mend: "make the program again; if it comes back, use a narrower bit or allow rounder corners",
    ...(nothing ? {} : { measured: { value: left.sideways, bound: left.bound, unit: "mm" } }),
    limit: { value: left.allowed, unit: "mm", from },
  };
}
