import { minutes } from "../sheet.ts";
import type { BenchWork, Run } from "./work.ts";

/** Programs as notes beneath a step, in order, with their time; one line for those that are run equally often. */
export function runWords(runs: readonly Run[], work: BenchWork): readonly string[] {
  const often = runs.map((r) => copiesOf(r.setUp, work));
  return [...new Set(often)].map((copies) => {
    const own = runs.filter((_, i) => often[i] === copies);
    const seconds = own.reduce((sum, r) => sum + r.seconds, 0);
    const again = copies > 1 ? `, again for each of ${copies} blanks` : "";
    return `${own.map((r) => r.file).join(", ")} \u2014 about ${minutes(seconds)}${again}`;
  });
}

/** Set-ups of parts that are held back, as notes. */
export function heldWords(parts: readonly string[], work: BenchWork): readonly string[] {
  const held = new Set(work.report.heldBack.map((h) => h.setUp));
  const own = [...work.setUps, ...work.beams].filter(
    (s) => held.has(s.name) && s.workpiece.pieces.some((p) => parts.includes(p.part)),
  );
  const turned = work.turnings.filter((s) => held.has(s.name) && parts.includes(s.piece.name));
  return [...new Set([...own, ...turned].map((s) => s.name))].map((name) => `${name}: held back, no program yet`);
}

/** How often a set-up's programs are run. */
export function copiesOf(setUp: string, work: BenchWork): number {
  const flat = [...work.setUps, ...work.beams].find((s) => s.name === setUp);
  return flat?.workpiece.copies ?? work.turnings.find((s) => s.name === setUp)?.piece.copies ?? 1;
}
