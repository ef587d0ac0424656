import { type Finding, type Outcome, refuses } from "../finding.ts";
import { dotAxes } from "../plan/beam-focus.ts";
import { boxAround, boxOfChains, reachOfBeam } from "../plan/beam-reach.ts";
import type { BeamAim } from "../plan/beam-setup.ts";
import type { Box, Point } from "../shapes/point.ts";
import { boundsOfRegion } from "../shapes/region.ts";
import { type WalkRound, writeBeamBody, writeWalkBody } from "./beam-body.ts";
import { beamFits } from "./beam-fits.ts";
import { beamHeaderLines } from "./beam-header.ts";
import type { BeamProgramText, BeamWriteInput } from "./beam-text.ts";
import { fileName } from "./file-name.ts";
import { sealLine } from "./seal.ts";

/**
 * Writes the program of one set-up under the beam. It starts from unknown X, Y and Z with the beam off; every operation
 * begins behind a line number of its own with all modes restated at safe height. Same input, same bytes.
 * @returns findings when the post does not fit the machine or laser, or when there is nothing to write
 * @throws RangeError when a path breaks the rules of `BeamPath`: a bug of ours
 */
export function writeBeamProgram(input: BeamWriteInput): Outcome<BeamProgramText> {
  return write(input, false);
}

/**
 * The rehearsal: at safe height round each mark, beam off; and round the drawn marks with the visible pilot, where the shop
 * has one.
 */
export function outlineWalkOf(input: BeamWriteInput): Outcome<BeamProgramText> {
  return write(input, true);
}

function write(input: BeamWriteInput, walk: boolean): Outcome<BeamProgramText> {
  const { post, setUp, paths } = input;
  const findings: Finding[] = [...beamFits(post, setUp, paths)];
  if (paths.length === 0) {
    findings.push({
      grade: "refuse",
      code: "nothing-to-write",
      place: { part: setUp.workpiece.name },
      what: `set-up "${setUp.name}" has nothing to burn`,
    });
  }
  if (refuses(findings)) return { ok: false, findings };
  const operations = paths.map(({ operation }, k) => ({
    id: operation.id,
    title: operation.title,
    label: post.labels.first + k * post.labels.step,
    markId: operation.markId,
  }));
  if (operations[operations.length - 1]!.label > 99_999) throw new RangeError("more operations than line numbers");
  const lines: string[] = [];
  if (post.percentLines) lines.push("%");
  lines.push(...beamHeaderLines(input, operations, walk));
  const sealAt = lines.length;
  lines.push("");
  if (walk) writeWalkBody(input, operations, roundsOf(input), lines);
  else writeBeamBody(input, operations, lines);
  if (post.percentLines) lines.push("%");
  lines.push("");
  lines[sealAt] = sealLine(lines, sealAt, input.version, undefined);
  const words = [setUp.name, ...(walk ? ["outline walk"] : [])];
  return {
    ok: true,
    value: {
      name: fileName(input.sequence ?? 1, words, post.fileEnding),
      text: lines.join("\n"),
      setUp: setUp.name,
      post: post.name,
      unit: post.unit,
      dryRun: walk,
      operations,
    },
    findings,
  };
}

/** For each operation the rectangle of all its motion, and that of what it burns. */
function roundsOf({ setUp, paths }: BeamWriteInput): readonly WalkRound[] {
  return paths.map(({ operation }, k): WalkRound => {
    const aim = setUp.marks[k]?.aim;
    const drawn = aim === undefined ? undefined : boundsOfAim(aim);
    return { wide: corners(reachOfBeam(operation)), drawn: corners(drawn) };
  });
}

function boundsOfAim(aim: BeamAim): Box | undefined {
  switch (aim.kind) {
    case "lines":
      return boxOfChains(aim.chains);
    case "area":
      return boundsOfRegion(aim.region);
    case "through":
      return boundsOfRegion(aim.outline);
    case "dots": {
      const [u, v] = dotAxes(aim);
      const w = aim.columns * aim.pitch;
      const h = aim.rows * aim.pitch;
      const at = (a: number, b: number): Point => ({
        x: aim.corner.x + a * u.x + b * v.x,
        y: aim.corner.y + a * u.y + b * v.y,
      });
      return boxAround([at(0, 0), at(w, 0), at(0, h), at(w, h)]);
    }
  }
}

function corners(box: Box | undefined): readonly Point[] {
  if (box === undefined) return [];
  return [box.min, { x: box.max.x, y: box.min.y }, box.max, { x: box.min.x, y: box.max.y }];
}
