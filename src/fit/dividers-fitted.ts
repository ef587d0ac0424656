import { type Finding, type Outcome, refuses } from "../finding.ts";
import type { DividerDescription } from "../job/dividers.ts";
import type { Job, PartDescription } from "../job/job.ts";
import type { Shop } from "../shop/shop.ts";
import { type DividerJoints, dividerJoints } from "./divider.ts";
import { fitFinding, mmText, type Said } from "./said.ts";

/** A divider as it was fitted. */
export interface DividerFit {
  readonly name: string;
  /** Names of its part and its tenons'. */
  readonly parts: readonly [string, string];
  readonly into: string;
  readonly joints: DividerJoints;
}

/** Writes dividers and their loose tenons out, and cuts their mortises into the boards they meet. */
export function fitDividers(
  job: Job,
  dividers: readonly DividerDescription[],
  shop: Shop,
): Outcome<{ readonly job: Job; readonly dividers: readonly DividerFit[] }> {
  const bits = shop.cutters.filter((c) => c.form.kind === "flat").map((c) => c.diameter);
  const found: Finding[] = [];
  const fits: DividerFit[] = [];
  let parts: readonly PartDescription[] = job.parts;
  for (const d of dividers) {
    const board = parts.find((p) => p.name === d.into.value);
    if (board === undefined) continue;
    const joints = dividerJoints({
      said: saidOf(d),
      wood: d.wood.value,
      length: d.length.value,
      depth: d.depth.value,
      thickness: d.thickness.value,
      caseThickness: board.size.thickness,
      setBack: d.setBack.value,
      at: d.at.value,
      ...(d.mortiseWidth && { mortiseWidth: d.mortiseWidth.value }),
      bits,
      endsMade: d.ends.value,
    });
    found.push(...joints.findings, ...besideBoard(d, board), ...taken(parts, joints));
    fits.push({ name: d.name, parts: [joints.divider.name, joints.tenonPart.name], into: board.name, joints });
    // The mortises are in the board's inside: its face, unless it calls its back so.
    const inside = /\binside\b/i.test(board.labels.back) ? ("back" as const) : ("face" as const);
    const mortises = joints.boardFeatures.map((f) => ({ ...f, on: inside }));
    const cut = { ...board, features: [...board.features, ...mortises] };
    parts = [...parts.map((p) => (p === board ? cut : p)), joints.divider, joints.tenonPart];
  }
  if (refuses(found)) return { ok: false, findings: found };
  return { ok: true, value: { job: { ...job, parts }, dividers: fits }, findings: found };
}

function saidOf(d: DividerDescription): Said {
  return {
    part: d.name,
    source: d.source,
    sources: {
      length: d.length.source,
      depth: d.depth.source,
      thickness: d.thickness.source,
      width: (d.mortiseWidth ?? d.thickness).source,
      at: d.at.source,
      "centre at": d.at.source,
      "set back": d.setBack.source,
    },
  };
}

/** A divider that doesn't lie beside its board. */
function besideBoard(d: DividerDescription, board: PartDescription): readonly Finding[] {
  const half = d.thickness.value / 2;
  const ends = d.at.value - half < 0 || d.at.value + half > board.size.length;
  const deep = d.setBack.value + d.depth.value - board.size.width;
  if (!ends && deep <= 1e-9) return [];
  return [
    fitFinding(saidOf(d), "refuse", "fit-divider-outside", {
      what: ends
        ? `the divider lies beyond an end of "${board.name}"`
        : `the divider is deeper than "${board.name}" is wide`,
      why: ends
        ? `its middle lies ${mmText(d.at.value)} from an end of a board ${mmText(board.size.length)} long`
        : `${mmText(d.setBack.value)} and ${mmText(d.depth.value)}, and the board is ${mmText(board.size.width)} wide`,
      mend: "check where it lies, and which board it meets",
      keys: [ends ? "at" : "depth"],
    }),
  ];
}

function taken(parts: readonly PartDescription[], joints: DividerJoints): readonly Finding[] {
  return [joints.divider, joints.tenonPart].flatMap((made): readonly Finding[] => {
    const other = parts.find((p) => p.name.toLowerCase() === made.name.toLowerCase());
    if (other === undefined) return [];
    return [
      {
        grade: "refuse",
        code: "fit-name-taken",
        place: { part: made.name, source: other.source },
        what: `"${made.name}" is also what a divider or its tenon is called`,
        mend: "give this part, or the divider, another name",
      },
    ];
  });
}
