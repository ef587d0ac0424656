import type { Finding } from "../../finding.ts";
import type { BeamSetUp } from "../../plan/beam-setup.ts";
import { sweptWood } from "../../plan/rotary.ts";
import { moveBounds } from "../../reader/motion.ts";
import type { ReadMove } from "../../reader/read-move.ts";
import type { Box3 } from "../../shapes/point.ts";
import { reachOver, topOver } from "../../shapes/turned-section.ts";
import { extentOfSolid, type TurnedSolid } from "../../shapes/turned-solid.ts";
import { beamCarriage } from "../../shop/beam-carriage.ts";
import { nearestFromArea, nearestToBox } from "../../simulate/keep-out.ts";
import { pathOf } from "../../simulate/path.ts";
import type { DullPart } from "../../simulate/underside.ts";
import type { Figure } from "../proof.ts";
import { mm } from "../say.ts";
import { type BeamCase, type BeamMeasures, placeOfLine } from "./case.ts";

/** Nearer than this is told as the least clearance, mm; beyond it nothing is looked at closely. */
const ENOUGH = 50;

/** Something the carriage could strike. */
interface Solid {
  readonly name: string;
  readonly box: Box3;
}

/**
 * Head, nut and spindle body, without a bit, against clamps, bed and wood, on every move, beam on or off. First all moves
 * of the program together, as a box of places; only where that is not clear, move by move.
 */
export function carriageFindings(c: BeamCase): BeamMeasures {
  const { setUp } = c;
  const parts = beamCarriage(setUp.machine).map(
    (p): DullPart => ({
      member: p.member,
      radius: p.profile.radius,
      height: p.profile.from,
      top: p.profile.to,
      offset: p.offset,
    }),
  );
  if (parts.length === 0) return { findings: [headUnknown(setUp)], figures: {} };
  const moves = (c.asWritten ?? c.read).events.filter(
    (e): e is ReadMove => e.kind === "move" && moveBounds(e) !== undefined,
  );
  const all = moves.reduce<Box3 | undefined>((box, m) => around(box, moveBounds(m)!), undefined);
  if (all === undefined) return { findings: [], figures: {} };
  const findings: Finding[] = [];
  let least = Number.POSITIVE_INFINITY;
  for (const part of parts) {
    for (const solid of solidsFor(setUp, part, all)) {
      const rough = nearestFromArea(all, part, solid.box).distance;
      if (rough >= 0) {
        least = Math.min(least, rough);
        continue;
      }
      let told = false;
      for (const move of moves) {
        const bounds = moveBounds(move)!;
        const near = solidsFor(setUp, part, bounds).find((s) => s.name === solid.name);
        if (near === undefined) continue;
        const quick = nearestFromArea(bounds, part, near.box).distance;
        if (quick >= 0) {
          least = Math.min(least, quick);
          continue;
        }
        const path = pathOf(move);
        if (path === undefined) continue;
        const hit = nearestToBox(path, part, near.box, ENOUGH);
        least = Math.min(least, hit.distance);
        if (hit.distance >= 0 || told) continue;
        told = true;
        findings.push({
          grade: "refuse",
          code: "proof-beam-carriage-hit",
          place: { ...placeOfLine(c, move.line), at: hit.tip },
          what: `the ${part.member} strikes the ${solid.name}`,
          why: `by ${mm(-hit.distance)}, with the spot at X ${mm(hit.tip.x)}, Y ${mm(hit.tip.y)}, Z ${mm(hit.tip.z)}`,
          mend: "use lower clamps or move them, or mount the head lower",
          measured: { value: -hit.distance, bound: hit.bound, unit: "mm" },
        });
      }
    }
  }
  const figures: Record<string, Figure> = Number.isFinite(least)
    ? { "least clearance of head and nut": { value: least, bound: 0.05, unit: "mm" } }
    : {};
  return { findings, figures };
}

/** Clamps, bed, and the wood as high as it stands beneath a part while the spot is within a box. */
function solidsFor(setUp: BeamSetUp, part: DullPart, box: Box3): readonly Solid[] {
  const { turning, keepOuts, bedZ } = setUp;
  // Wood that turns is looked at as all that it sweeps, whatever the angle.
  const round = turning === undefined ? setUp.round : sweptWood(turning.wood);
  const blank = turning === undefined ? setUp.blank : boxOfWood(sweptWood(turning.wood));
  const beneath = {
    min: { x: box.min.x + part.offset.x, y: box.min.y + part.offset.y },
    max: { x: box.max.x + part.offset.x, y: box.max.y + part.offset.y },
  };
  const top = round === undefined ? blank.max.z : topOver(round, beneath, part.radius);
  return [
    ...keepOuts,
    ...(top === undefined ? [] : [{ name: "wood", box: { min: blank.min, max: { ...blank.max, z: top } } }]),
    { name: "bed", box: { min: { x: -1e6, y: -1e6, z: bedZ - 1000 }, max: { x: 1e6, y: 1e6, z: bedZ } } },
  ];
}

function boxOfWood(wood: TurnedSolid): Box3 {
  const { from, to } = extentOfSolid(wood);
  const reach = reachOver(wood, from, to);
  return { min: { x: from, y: -reach, z: -reach }, max: { x: to, y: reach, z: reach } };
}

function around(a: Box3 | undefined, b: Box3): Box3 {
  if (a === undefined) return b;
  return {
    min: { x: Math.min(a.min.x, b.min.x), y: Math.min(a.min.y, b.min.y), z: Math.min(a.min.z, b.min.z) },
    max: { x: Math.max(a.max.x, b.max.x), y: Math.max(a.max.y, b.max.y), z: Math.max(a.max.z, b.max.z) },
  };
}

function headUnknown(setUp: BeamSetUp): Finding {
  return {
    grade: "caution",
    code: "proof-beam-head-unknown",
    place: { part: setUp.workpiece.name },
    what: "nothing says how large the laser head is, so it was not checked against clamps and wood",
    mend: 'measure it, and write "laser head" under the machine in the shop file',
  };
}
