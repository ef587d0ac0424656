import { type Finding, type Outcome, refuses } from "../../finding.ts";
import type { Job } from "../../job/job.ts";
import type { SplitDescription, TurnedDescription } from "../../job/turned.ts";
import { type Meridian, radiiAt } from "../../shapes/meridian.ts";
import type { SquareStretch } from "../../shapes/turned-solid.ts";
import { ACCURACY } from "../../tolerance.ts";
import { lossPerHalf, type Split, type TurnedPiece } from "../turned-piece.ts";
import { readOff } from "./as-turned.ts";
import { fingerRoomOf } from "./finger-room-of.ts";
import { type Laid, layOut } from "./layout.ts";
import { mmText, turnedFinding } from "./say.ts";

/** How far a hand-turned radius may lie from the plan when nothing was measured, mm. Common practice, no source. */
const HAND_ERROR = 0.5;
/** A reading farther than this from the plan, on the diameter, is taken for a slip, mm. Common practice, no source. */
const FAR_READING = 4;

/**
 * The turned parts of a job, in the order of the file. All independent findings are gathered; when one refuses there is no
 * value.
 */
export function describeTurned(job: Job): Outcome<readonly TurnedPiece[]> {
  const all = (job.turned ?? []).map(describePiece);
  const findings = all.flatMap((d) => d.findings);
  if (refuses(findings)) return { ok: false, findings };
  return { ok: true, value: all.flatMap((d) => d.piece ?? []), findings };
}

/** One turned part; without a piece when a finding refuses. */
export function describePiece(part: TurnedDescription): {
  readonly piece?: TurnedPiece;
  readonly findings: readonly Finding[];
} {
  const { laid: plan, findings: first } = layOut(part);
  if (plan === undefined) return { findings: first };
  const found: Finding[] = [...first];
  const surface = surfaceOf(part, plan, found);
  if (surface === undefined) return { findings: found };
  const laid: Laid = { ...plan, meridian: surface.meridian };
  const split = part.split === undefined ? undefined : splitOf(part.split);
  const loss = split === undefined ? 0 : lossPerHalf(split).most;
  const wish = part.fingerRoom;
  const room = wish === undefined ? undefined : fingerRoomOf(part, wish, laid, loss);
  found.push(...(room?.findings ?? []));
  if (wish !== undefined && split === undefined) {
    const back = wish.cut === "back";
    found.push(
      turnedFinding(
        part,
        back ? "finger-room-shape" : "finger-room-unsplit",
        wish,
        ["cut"],
        {
          what: back
            ? "a finger room in the flat back needs halves, and this blank is not split"
            : "the room behind the lip is counted to the split line, and this blank is not split",
          why: "it stays whole in the job",
          mend: 'add "- split: halves" and below it "by: saw" or "by: paper joint"',
        },
        back ? "refuse" : "caution",
      ),
    );
  }
  if (refuses(found)) return { findings: found };
  const piece: TurnedPiece = {
    name: part.name,
    wood: part.wood,
    copies: part.copies,
    blank: part.blank,
    elements: laid.elements,
    meridian: laid.meridian,
    squares: squaresOf(part),
    waste: laid.waste,
    turnedBy: part.turnedBy,
    ...(part.lathe !== undefined && { lathe: part.lathe }),
    ...(part.zeroSpot !== undefined && { zeroSpot: part.zeroSpot }),
    pulls: laid.pulls,
    asTurned: part.asTurned !== undefined,
    radiusError: surface.radiusError,
    ...(room?.room !== undefined && { fingerRoom: room.room }),
    ...(split !== undefined && { split }),
    ...(part.marks !== undefined && { marks: part.marks }),
    ...(part.each !== undefined && { each: part.each }),
    wishes: part.wishes,
    source: part.source,
    sources: part.sources,
  };
  return { piece, findings: found };
}

function squaresOf(part: TurnedDescription): readonly SquareStretch[] {
  const { length, across: side } = part.blank;
  const { first, second } = part.squareEnds;
  return [
    ...(first > 0 ? [{ from: 0, to: first, side }] : []),
    ...(second > 0 ? [{ from: length - second, to: length, side }] : []),
  ];
}

function splitOf(said: SplitDescription): Split {
  const { by, kerf, wander, truing, source } = said;
  return { by, kerf, wander, truing, source };
}

/** The surface that counts: read off the wood, or the plan with what turning may miss it by. */
function surfaceOf(
  part: TurnedDescription,
  plan: Laid,
  found: Finding[],
): { readonly meridian: Meridian; readonly radiusError: TurnedPiece["radiusError"] } | undefined {
  const { asTurned } = part;
  if (asTurned === undefined) {
    if (part.turnedBy === "machine") {
      return { meridian: plan.meridian, radiusError: { value: ACCURACY, from: "the lathe program's stated accuracy" } };
    }
    found.push(
      turnedFinding(
        part,
        "turned-unmeasured",
        { ...part.profile, name: part.profile.name },
        [],
        {
          what: `turned by hand and not yet measured, so its radius counts as ± ${mmText(HAND_ERROR)}`,
          why: "walls and cradles are reckoned with the worst of it (common practice, no source)",
          mend: 'turn it, measure it with calipers, and write the readings under "as turned"',
        },
        "caution",
      ),
    );
    return {
      meridian: plan.meridian,
      radiusError: { value: HAND_ERROR, from: "turned by hand, unmeasured (common practice, no source)" },
    };
  }
  const before = found.length;
  for (const r of asTurned.readings) checkReading(part, plan, r, found);
  if (refuses(found.slice(before))) return undefined;
  const { meridian, error } = readOff(plan.meridian, asTurned);
  const how = asTurned.with === "unsaid" ? "as read off the turned blank" : `as read off with the ${asTurned.with}`;
  return { meridian, radiusError: { value: error, from: how } };
}

function checkReading(
  part: TurnedDescription,
  plan: Laid,
  r: NonNullable<TurnedDescription["asTurned"]>["readings"][number],
  found: Finding[],
): void {
  const said = { name: part.profile.name, source: r.source, sources: {} };
  const from = part.squareEnds.first;
  const to = part.blank.length - part.squareEnds.second;
  const radii = r.at < from || r.at > to ? undefined : radiiAt(plan.meridian, r.at);
  if (radii === undefined) {
    found.push(
      turnedFinding(part, "turned-reading", said, [], {
        what: "this reading lies where nothing is turned",
        why: `it is ${mmText(r.at)} from the first end; the turned stretch runs from ${mmText(from)} to ${mmText(to)}`,
        mend: "measure where it was turned; distances are taken from the blank's first end, square waste included",
      }),
    );
    return;
  }
  if (r.diameter > part.blank.across + 1e-6) {
    found.push(
      turnedFinding(part, "turned-reading", said, [], {
        what: "this reading is thicker than the blank",
        why: `${mmText(r.diameter)}, and the blank is ${mmText(part.blank.across)} across`,
        mend: "check the reading and the blank's size",
      }),
    );
    return;
  }
  const off = Math.min(Math.abs(r.diameter - 2 * radii.least), Math.abs(r.diameter - 2 * radii.most));
  if (off <= FAR_READING) return;
  found.push(
    turnedFinding(
      part,
      "turned-reading-far",
      said,
      [],
      {
        what: `this reading is ${mmText(off)} off the plan`,
        why: `${mmText(r.diameter)} was read, and the plan has ${mmText(2 * radii.least)} there: more likely a slip than the wood`,
        mend: "check the reading and its distance from the first end; it counts as it stands",
        measured: { value: off, bound: 0, unit: "mm" },
        limit: { value: FAR_READING, unit: "mm", from: "common practice, no source" },
      },
      "caution",
    ),
  );
}
