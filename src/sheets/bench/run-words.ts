import { minutes } from "../sheet.ts";
import type { BenchWork, Run } from "./work.ts";

/** Programs as notes beneath a step: one line for each set-up, its files in order, the copies told. */
export function runWords(runs: readonly Run[], work: BenchWork): readonly string[] {
  const setUps = [...new Set(runs.map((r) => r.setUp))];
  return setUps.map((name) => {
    const own = runs.filter((r) => r.setUp === name);
    const seconds = own.reduce((sum, r) => sum + r.seconds, 0);
    const copies = copiesOf(name, work);
    const again = copies > 1 ? `; again for each of ${copies} blanks` : "";
    return `${name}: ${own.map((r) => r.file).join(", then ")} (about ${minutes(seconds)}${again})`;
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
