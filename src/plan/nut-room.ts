import { type Finding, tidy } from "../finding.ts";
import { leastStickOut } from "../parts/holding-kit/stick-out.ts";
import type { Cutter } from "../shop/cutter.ts";
import type { Task } from "./task.ts";

/** Least distance between the nut and the wood beneath it, mm. Common practice, no source. */
export const NUT_CLEAR = 1;

/** How far a cutter must stick out of its nut for a task. mm. */
export interface StickOutNeed {
  /** `NUT_CLEAR` counted. */
  readonly value: number;
  /** On turned blanks, the flange or square beneath the nut that stands higher than all wood over the cut itself. */
  readonly flange?: {
    /** From the first end. */
    readonly at: number;
    readonly above: number;
  };
}

/**
 * The stick-out that keeps the nut off the wood: on a board from its surface to the tip, on a turned blank from the
 * highest crown that the nut passes over.
 * @param deep the deepest tip below the box's top, mm
 */
export function stickOutNeed(task: Task, cutter: Cutter, deep: number): StickOutNeed {
  if (task.round === undefined) return { value: deep + NUT_CLEAR };
  const { solid, nutRadius, firstEnd } = task.round;
  const beside = Math.max(0, nutRadius - cutter.diameter / 2);
  let most = { value: 0, over: 0, at: 0 };
  for (const c of task.cavities) {
    const near = leastStickOut(solid, c.section, -deep, beside);
    if (near === undefined || near.value <= most.value) continue;
    most = {
      value: near.value,
      over: leastStickOut(solid, c.section, -deep, 0)?.value ?? 0,
      at: Math.abs(near.flangeAt - firstEnd),
    };
  }
  const above = most.value - most.over;
  return { value: most.value + NUT_CLEAR, ...(above > 1e-6 ? { flange: { at: most.at, above } } : {}) };
}

/** The flange that decides, in words. */
export function flangeWords({ flange, value }: StickOutNeed): string {
  const fromTip = `${round(value - NUT_CLEAR)} mm above the tip`;
  return flange === undefined
    ? `the highest wood beneath the nut stands ${fromTip}`
    : `the wood ${round(flange.at)} mm from the first end stands ${round(flange.above)} mm higher than over the cut, ${fromTip}`;
}

/** What the sheet says of bits whose stick-out a flange beside the cut decides. */
export function stickOutNotes<C extends { readonly task: Task; readonly cutter: Cutter }>(
  chosen: readonly C[],
  needOf: (c: C) => StickOutNeed | undefined,
): readonly Finding[] {
  return chosen.flatMap((c) => {
    const need = needOf(c);
    if (need?.flange === undefined) return [];
    const [first] = c.task.cavities;
    return [
      {
        grade: "note" as const,
        code: "plan-least-stick-out" as const,
        place: { part: first.part, feature: first.feature, source: first.source },
        what: `${c.task.title}: at least ${round(need.value)} mm of "${c.cutter.name}" must stick out of the nut`,
        why: `${flangeWords(need)}, and ${tidy(NUT_CLEAR)} mm stays clear`,
        measured: { value: need.value, bound: 0, unit: "mm" },
        limit: { value: c.cutter.stickOut, unit: "mm", from: "the bit's stick-out" },
      },
    ];
  });
}

function round(mm: number): string {
  return tidy(Math.ceil(mm * 100 - 1e-6) / 100);
}
