import type { Block } from "./block.ts";
import { sentence } from "./length-words.ts";
import type { BenchWork } from "./work.ts";

/** Programs that are not made yet, each with why and what lets it go; nothing where none is held back. */
export function heldSection({ report, setUps, beams, turnings }: BenchWork): readonly Block[] {
  if (report.heldBack.length === 0) return [];
  const partsOf = (name: string): readonly string[] => [
    ...[...setUps, ...beams].filter((s) => s.name === name).flatMap((s) => s.workpiece.pieces.map((p) => p.part)),
    ...turnings.filter((s) => s.name === name).map((s) => s.piece.name),
  ];
  const reasons = new Map<string, string[]>();
  for (const held of report.heldBack) {
    const parts = partsOf(held.setUp);
    const codes = [...new Set(held.because)];
    const said = codes.map((code) => {
      const found = report.findings.filter((f) => f.code === code && f.grade !== "note");
      const own = found.find((f) => f.part !== null && parts.includes(f.part)) ?? found[0];
      return own === undefined ? code : [own.what, own.why, own.mend].filter((t) => t !== null).join("; ");
    });
    const why = said.join(". ") || "its program was refused";
    reasons.set(why, [...(reasons.get(why) ?? []), held.setUp]);
  }
  return [
    {
      kind: "caution",
      title: "Held back: these programs are not made yet",
      items: [...reasons].map(([why, names]) => sentence(`${names.map((n) => `"${n}"`).join("; ")} \u2014 ${why}`)),
    },
  ];
}
