import type { Finding, Outcome } from "../finding.ts";
import { refuses } from "../finding.ts";
import type { Job } from "../job/job.ts";
import { IDENTITY } from "../shapes/frame.ts";
import { describeBoard } from "./board.ts";
import { checkCavities } from "./check.ts";
import { type Description, describeFeatures, withTwins } from "./features.ts";
import { checkMarks } from "./marks/check-marks.ts";
import { withCopiesMarked } from "./marks/copies.ts";
import { once } from "./marks/once.ts";
import { describeTurned } from "./turning/describe-turned.ts";
import { turnedWorkpieces } from "./turning/workpieces.ts";
import type { Workpiece } from "./workpiece.ts";

/**
 * The pieces of wood of a job, each with all that is to be cut from it, in the order of the file: every part that is not
 * cut from a board, its mirror-image twin after it, then the boards, then what is hollowed out of turned parts. All independent findings are gathered; when one
 * refuses there is no value.
 */
export function describeWorkpieces(job: Job): Outcome<readonly Workpiece[]> {
  const parts = withTwins(job.parts);
  const onBoards = new Set(job.boards.flatMap((b) => b.places.map((p) => p.part)));
  const findings: Finding[] = [];
  const workpieces: Workpiece[] = [];
  for (const one of parts) {
    if (onBoards.has(one.part.name)) continue;
    const { workpieces: alone, findings: found } = describeAlone(one);
    findings.push(...found);
    workpieces.push(...alone);
  }
  for (const board of job.boards) {
    const { workpiece, findings: found } = describeBoard(board, parts);
    findings.push(...found);
    workpieces.push(workpiece);
  }
  findings.push(...copiesMissing(job, parts));
  const turned = describeTurned(job);
  findings.push(...turned.findings);
  for (const piece of turned.ok ? turned.value : []) {
    const { workpieces: round, findings: found } = turnedWorkpieces(piece);
    findings.push(...found);
    workpieces.push(...round);
  }
  return refuses(findings) ? { ok: false, findings } : { ok: true, value: workpieces, findings };
}

function describeAlone({ part, mirrored }: Description): {
  workpieces: readonly Workpiece[];
  findings: readonly Finding[];
} {
  const described = describeFeatures({ part, idPrefix: part.name, around: "air" });
  const workpiece: Workpiece = {
    name: part.name,
    wood: part.wood,
    size: part.size,
    grain: part.grain,
    pieces: [{ part: part.name, copy: 1, mirrored, place: IDENTITY, size: part.size }],
    ...(part.copies > 1 ? { copies: part.copies } : {}),
    cavities: described.cavities,
    ...(described.marks !== undefined && { marks: described.marks }),
    labels: part.labels,
    faceSide: part.faceSide,
    faceEdge: part.faceEdge,
    wishes: part.wishes,
    source: part.source,
  };
  const workpieces = withCopiesMarked(workpiece, described.each, part.each);
  const copies = workpieces.filter((w) => w !== workpiece);
  const checked = copies.map((w) => ({ ...w, cavities: [...workpiece.cavities, ...w.cavities] }));
  return {
    workpieces,
    findings: [
      ...described.findings,
      ...once([workpiece, ...checked].flatMap((w) => checkMarks(w))),
      ...checkCavities(workpiece),
    ],
  };
}

/** Parts that are cut from boards, but not as often as the job asks for. */
function copiesMissing(job: Job, parts: readonly Description[]): readonly Finding[] {
  return parts.flatMap(({ part }) => {
    const placed = job.boards.flatMap((b) => b.places.filter((p) => p.part === part.name)).length;
    if (placed === 0 || placed === part.copies) return [];
    return [
      {
        grade: "caution" as const,
        code: "part-copies-differ" as const,
        place: { part: part.name, source: part.source },
        what: `"${part.name}" is placed ${placed} times on boards, but ${part.copies} are wanted`,
        why: `copies: ${part.copies}`,
        mend: "add or take away places, or change the number of copies",
      },
    ];
  });
}
