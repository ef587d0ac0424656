import { type Finding, tidy } from "../finding.ts";
import type { Workpiece } from "../parts/workpiece.ts";
import { boxGap } from "../shapes/nearest.ts";
import type { Box, Box3, Point } from "../shapes/point.ts";
import { boundsOfRegion } from "../shapes/region.ts";
import { boundsOf, type Segment } from "../shapes/segment.ts";
import { topOver } from "../shapes/turned-section.ts";
import type { TurnedSolid } from "../shapes/turned-solid.ts";
import { beamCarriage, type CarriagePiece } from "../shop/beam-carriage.ts";
import type { BeamMachine } from "./beam-choice.ts";
import { dotAxes } from "./beam-focus.ts";
import type { BeamOperation, PlacedMark } from "./beam-setup.ts";
import type { KeepOut } from "./setup.ts";

/** Least gap between what moves with the beam and what stands still, mm. Common practice, no source. */
const CLEAR = 1;

/** A box around points; undefined for none. */
export function boxAround(points: readonly Point[]): Box | undefined {
  const [first, ...rest] = points;
  if (first === undefined) return undefined;
  return rest.reduce<Box>(
    (b, p) => ({
      min: { x: Math.min(b.min.x, p.x), y: Math.min(b.min.y, p.y) },
      max: { x: Math.max(b.max.x, p.x), y: Math.max(b.max.y, p.y) },
    }),
    { min: first, max: first },
  );
}

/** A box around chains; undefined for none. */
export function boxOfChains(chains: readonly (readonly Segment[])[]): Box | undefined {
  return boxAround(
    chains.flat().flatMap((s) => {
      const b = boundsOf(s);
      return [b.min, b.max];
    }),
  );
}

/** Everywhere the spot may go in an operation, run-ups and what lies between two chains included; undefined for nothing. */
export function reachOfBeam(o: BeamOperation): Box | undefined {
  switch (o.kind) {
    case "lines":
      return boxOfChains(o.chains);
    case "area": {
      // Every line is longer by a run-up at both ends: the area smeared along its direction, whose bounds are exact.
      const own = boundsOfRegion(o.region);
      const hair = boxOfChains(o.hairlines ?? []);
      const rad = (o.angleDeg * Math.PI) / 180;
      const x = o.runUp * Math.abs(Math.cos(rad));
      const y = o.runUp * Math.abs(Math.sin(rad));
      const long = own && [
        { x: own.min.x - x, y: own.min.y - y },
        { x: own.max.x + x, y: own.max.y + y },
      ];
      return boxAround([...(long ?? []), ...(hair ? [hair.min, hair.max] : [])]);
    }
    case "dots": {
      const { aim, runUp } = o;
      const [u, v] = dotAxes(aim);
      const at = (a: number, b: number): Point => ({
        x: aim.corner.x + a * u.x + b * v.x,
        y: aim.corner.y + a * u.y + b * v.y,
      });
      const long = aim.columns * aim.pitch + runUp;
      const high = aim.rows * aim.pitch;
      return boxAround([at(-runUp, 0), at(long, 0), at(-runUp, high), at(long, high)]);
    }
  }
}

/** What an operation is looked at with. */
interface Work {
  readonly operation: BeamOperation;
  readonly placed: PlacedMark;
}

/**
 * Where head, nut or spindle body would meet a clamp or the wood while burning, and where the machine cannot reach. Looked
 * at by boxes around all that an operation moves over, so a narrow escape is refused too.
 */
export function reachFindings(
  workpiece: Workpiece,
  works: readonly Work[],
  keepOuts: readonly KeepOut[],
  blank: Box3,
  round: TurnedSolid | undefined,
  machine: BeamMachine,
  routedHere: boolean,
): readonly Finding[] {
  const findings: Finding[] = [];
  const pieces = beamCarriage(machine);
  for (const { operation, placed } of works) {
    const box = reachOfBeam(operation);
    if (box === undefined) continue;
    const lowest = operation.follows ? placed.surface.bottom : operation.z;
    for (const piece of pieces)
      findings.push(...carriageMeets(piece, box, lowest, operation, placed, keepOuts, blank, round));
  }
  return [...findings, ...travelFindings(workpiece, works, blank, machine, routedHere)];
}

/** Where one part of the carriage would meet a clamp or the wood, with the spot anywhere in a box at one height. */
export function carriageMeets(
  piece: CarriagePiece,
  box: Box,
  z: number,
  operation: BeamOperation,
  { mark }: PlacedMark,
  keepOuts: readonly KeepOut[],
  blank: Box3,
  round: TurnedSolid | undefined,
): readonly Finding[] {
  const { radius } = piece.profile;
  const bottom = z + piece.profile.from;
  const { x, y } = piece.offset;
  const swept: Box = { min: { x: box.min.x + x, y: box.min.y + y }, max: { x: box.max.x + x, y: box.max.y + y } };
  const place = { part: mark.part, feature: mark.feature, source: mark.source };
  const said = (name: string, height: number, mend: string): Finding => ({
    grade: "refuse",
    code: "beam-carriage-in-the-way",
    place,
    what: `the ${piece.member} would meet ${name} while ${operation.title} is made`,
    why: `the ${piece.member} comes down to Z ${tidy(Math.round(bottom * 100) / 100)} mm there, run-ups counted; ${name} stands up to Z ${tidy(Math.round(height * 100) / 100)} mm`,
    mend,
  });
  const found = keepOuts
    .filter((k) => boxGap(k.box, swept) < radius + CLEAR && k.box.max.z > bottom - CLEAR)
    .map((k) => said(`"${k.name}"`, k.box.max.z, "move it away or use a lower one"));
  const wood = round === undefined ? blank.max.z : topOver(round, swept, radius);
  if (wood !== undefined && wood > bottom && boxGap(blank, swept) < radius) {
    found.push(said("the wood", wood, "raise the nut or lower the head on its mount, and measure the head anew"));
  }
  return found;
}

function travelFindings(
  workpiece: Workpiece,
  works: readonly Work[],
  blank: Box3,
  machine: BeamMachine,
  routedHere: boolean,
): readonly Finding[] {
  const place = { part: workpiece.name, source: workpiece.source };
  const boxes = works.flatMap(({ operation }) => reachOfBeam(operation) ?? []);
  const all = boxAround(boxes.flatMap((b) => [b.min, b.max]));
  if (all === undefined) return [];
  const { travel, laser } = machine;
  const findings: Finding[] = [];
  for (const axis of ["x", "y"] as const) {
    const span = all.max[axis] - all.min[axis];
    if (span > travel[axis]) {
      findings.push({
        grade: "refuse",
        code: "beam-larger-than-travel",
        place,
        what: `burning "${workpiece.name}" needs more of ${axis.toUpperCase()} than the machine can travel`,
        why: "run-ups outside burned areas are counted",
        mend: "turn the burned lines by 90 degrees, burn slower, or burn with the wood turned",
        measured: { value: span, bound: 0, unit: "mm" },
        limit: { value: travel[axis], unit: "mm", from: "the machine's travel" },
      });
      continue;
    }
    if (!routedHere) continue;
    // The spindle goes over the whole blank for the bit, and over the marks less the head's offset for the beam.
    const low = Math.min(blank.min[axis], all.min[axis] - laser.offset[axis]);
    const high = Math.max(blank.max[axis], all.max[axis] - laser.offset[axis]);
    if (high - low <= travel[axis]) continue;
    findings.push({
      grade: "caution",
      code: "beam-shift-blank",
      place,
      what: `in one clamping the machine's ${axis.toUpperCase()} does not reach for both bit and beam`,
      why: `the head stands ${tidy(laser.offset[axis])} mm beside the spindle, which takes as much off the travel`,
      mend: "clamp the wood anew for burning and find zero again",
      measured: { value: high - low, bound: 0, unit: "mm" },
      limit: { value: travel[axis], unit: "mm", from: "the machine's travel" },
    });
  }
  return findings;
}
