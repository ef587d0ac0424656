import type { Finding, Limit, Measured } from "../finding.ts";
import type { FindingCode } from "../finding-codes.ts";
import { withLineBit } from "../parts/marks/cut-line.ts";
import { vGrooveWidest, withVForm } from "../parts/marks/v-groove.ts";
import type { Cavity, VForm } from "../parts/workpiece.ts";
import type { Cutter } from "../shop/cutter.ts";
import { cutterRadiusAt, noseHeight } from "../shop/profile.ts";
import { V_FLOOR_RIDGE } from "./levels.ts";
import { reachTrouble } from "./reach.ts";
import type { Task } from "./task.ts";

/** Why a bit does not do a mark: as `Suit` tells it. */
export interface Unfit {
  readonly ok: false;
  readonly code: FindingCode;
  readonly what: string;
  readonly why: string;
  readonly mend: string;
  readonly measured?: Measured;
  readonly limit?: Limit;
}

/** Room that a tip's flat needs beside it in the widest place to count as getting in, mm. */
const BESIDE_TIP = 0.02;

/** A V-shaped bit as the wood sees it; undefined for other bits. */
export function vFormOf(cutter: Cutter): VForm | undefined {
  const { form } = cutter;
  if (form.kind !== "v") return undefined;
  return { tan: Math.tan((form.includedAngle * Math.PI) / 360), tipFlat: form.tipFlat };
}

/** A task with its cavities as they will be cut by this bit: of cut marks, whose shape hangs on it. */
export function withBitKnown(task: Task, cutter: Cutter, way: string): Task {
  const known = cavitiesKnown(task.cavities, cutter, way);
  const [first, ...rest] = known;
  return first === undefined ? task : { ...task, cavities: [first, ...rest] };
}

function cavitiesKnown(cavities: readonly Cavity[], cutter: Cutter, way: string): readonly Cavity[] {
  const bit = vFormOf(cutter);
  if (way === "trace") return cavities.map((c) => withLineBit(c, cutter));
  return way === "v-groove" && bit !== undefined ? cavities.map((c) => withVForm(c, bit)) : cavities;
}

/** Why a bit does not cut a V-groove: form, tip, width. */
export function vGrooveTrouble(cavity: Cavity, cutter: Cutter): Unfit | undefined {
  const bit = vFormOf(cutter);
  if (bit === undefined) {
    return {
      ok: false,
      code: "plan-bit-wrong-form",
      what: "doesn't cut a V",
      why: `it is a ${cutter.form.kind} bit`,
      mend: "add a V-shaped bit to the shop file, with its angle and the flat at its tip",
    };
  }
  if (cutter.deadCentre > 0) return noPlunge(cutter);
  const widest = vGrooveWidest(cavity);
  const trouble = widest < bit.tipFlat / 2 + BESIDE_TIP ? "doesn't fit" : troubleOfTip(cavity, bit);
  if (trouble !== undefined && trouble !== "leaves a place that it can't get into") {
    return {
      ok: false,
      code: "plan-bit-too-wide",
      what: trouble === "doesn't fit" ? "is too blunt to get in" : "is too blunt for the thinnest strokes",
      why: `the flat at its tip is ${mm(bit.tipFlat)}; the widest place ${mm(2 * widest)}, and hairlines are thinner`,
      mend: "use a sharper V, or larger or bolder letters",
      measured: { value: bit.tipFlat, bound: 0, unit: "mm" },
    };
  }
  const deep = withVForm(cavity, bit).to;
  const most = Math.min(noseHeight(cutter), cutter.fluteLength);
  if (deep <= most + 1e-9) return undefined;
  return {
    ok: false,
    code: "plan-bit-flute-short",
    what: "is too narrow for the widest place",
    why: `there the groove is ${mm(2 * widest)} wide and would be ${mm(deep)} deep`,
    mend: `write "deepest: ${Number(Math.min(most, 2).toFixed(1))}", or use a wider V`,
    measured: { value: deep, bound: 0, unit: "mm" },
    limit: { value: most, unit: "mm", from: "the height of the bit's V" },
  };
}

function troubleOfTip(cavity: Cavity, bit: VForm): ReturnType<typeof reachTrouble> {
  return bit.tipFlat > 0 ? reachTrouble(cavity.section, bit.tipFlat / 2) : undefined;
}

/** Why a bit does not follow lines. */
export function cutLineTrouble(cutter: Cutter): Unfit | undefined {
  switch (cutter.form.kind) {
    case "flat":
    case "round-nose":
    case "radiused-corner":
    case "v":
      return cutter.deadCentre > 0 ? noPlunge(cutter) : undefined;
    case "drill":
    case "countersink":
      return {
        ok: false,
        code: "plan-bit-wrong-form",
        what: "doesn't cut sideways",
        why: `it is a ${cutter.form.kind}`,
        mend: "name a fine flat bit, a round nose or a V, or leave the choice to the planner",
      };
  }
}

function noPlunge(cutter: Cutter): Unfit {
  return {
    ok: false,
    code: "plan-bit-dead-centre",
    what: "cannot cut straight down where a line begins",
    why: `its middle doesn't cut within ${mm(cutter.deadCentre)} of the axis`,
    mend: "use a bit that plunges",
    measured: { value: cutter.deadCentre, bound: 0, unit: "mm" },
  };
}

/** How finely a bit draws a mark: larger is finer. A line by its width, a V-groove by its tip. */
export function finenessFor(cavity: Cavity, cutter: Cutter): number {
  const bit = vFormOf(cutter);
  if (cavity.shape.kind === "v-groove") return 1 / (0.1 + (bit?.tipFlat ?? 1));
  return 1 / (0.01 + 2 * cutterRadiusAt(cutter, cavity.to - cavity.from));
}

/** V-shaped bits by how well letters look: 60 degrees first. Common practice, no source. */
export function angleRank(cutter: Cutter): number {
  return cutter.form.kind === "v" ? Math.abs(cutter.form.includedAngle - 60) / 10 : 0;
}

/** A depth error whose effect is told, mm. */
const TOLD_ERROR = 0.1;

/**
 * What must be seen at the machine of V-shaped bits: how much wider a wrong zero makes lines, how sharp corners are.
 * @param flatFloors ids of the cavities whose floor a flat bit clears
 */
export function cutMarkNotes(
  chosen: readonly { readonly task: Task; readonly cutter: Cutter; readonly way: string }[],
  flatFloors: ReadonlySet<string>,
): readonly Finding[] {
  return chosen.flatMap(({ task, cutter, way }): readonly Finding[] => {
    const bit = vFormOf(cutter);
    const [c] = task.cavities;
    if (bit === undefined || (way !== "v-groove" && way !== "trace")) return [];
    const wider = 2 * TOLD_ERROR * bit.tan;
    const floor = way === "v-groove" && c.shape.kind === "v-groove" && c.shape.cap !== undefined && c.to >= c.shape.cap;
    const sharp = way === "trace" ? "" : `; corners are sharp to the ${mm(bit.tipFlat)} flat at its tip`;
    const where = flatFloors.has(c.id) ? "in the floor's corners, where no flat bit gets in," : "on the floor";
    const ridges = floor ? `; ${where} ridges of ${mm(V_FLOOR_RIDGE)} at most stay between its passes` : "";
    return [
      {
        grade: "note",
        code: "plan-v-depth-widens",
        place: { part: c.part, feature: c.feature, source: c.source },
        what: `${task.title}: a zero ${TOLD_ERROR} mm too low makes every line ${mm(wider)} wider`,
        why: `"${cutter.name}" widens by 2·tan of half its angle with depth${sharp}${ridges}`,
        mend: "set Z on the very face that is cut, and hold the wood flat all over",
        measured: { value: wider, bound: 0, unit: "mm" },
      },
    ];
  });
}

function mm(value: number): string {
  return `${Number(value.toFixed(3))} mm`;
}
