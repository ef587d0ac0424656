import { standsOver } from "../../plan/turning-contact.ts";
import {
  chainOf,
  clipped,
  type Envelope,
  envelopeAt,
  linePiece,
  piecesOf,
  upperEnvelope,
} from "../../plan/turning-envelope.ts";
import { obstaclesOf } from "../../plan/turning-obstacles.ts";
import type { PartingTurning, TurningSetUp } from "../../plan/turning-setup.ts";
import { extentOfMeridian, type Meridian } from "../../shapes/meridian.ts";
import { line } from "../../shapes/segment.ts";
import { halfWidthTowards, turningShape } from "../../shop/turning-profile.ts";
import type { Cut } from "./rough.ts";
import { trailFor } from "./trail.ts";
import { clearOf, woodAfterPlunge } from "./wood.ts";

/** Neighbouring plunges overlap so that this share of the tool's width is new, at most. Common practice, no source. */
const STEP_SHARE = 0.75;

/** Plunges side by side over each slot, straight in to the nub and out again, from the tailstock side on. */
export function partTurning(op: PartingTurning, setUp: TurningSetUp, wood: Envelope): Cut {
  const shape = turningShape(op.tool);
  const stands = standsOver(obstaclesOf(setUp, slotted(setUp.target, op)), op.tool);
  // Straight out: beside a plunge stands wood that the next one takes.
  const trail = trailFor(op, setUp);
  let left = wood;
  for (const slot of op.at) {
    for (const z of placesIn(
      slot.from + halfWidthTowards(shape, "first"),
      slot.to - halfWidthTowards(shape, "second"),
      op,
    )) {
      const clear = envelopeAt(clearOf(left, shape), z);
      const deep = Math.max(op.nubRadius + shape.noseRadius, lowestOf(stands, z));
      const top = clear + setUp.habits.approach;
      if (!(clear > deep)) continue;
      const way = [line({ x: z, y: top }, { x: z, y: deep })];
      trail.cut(way, clear, op.plunge, "rough");
      left = woodAfterPlunge(left, shape, z, deep);
    }
  }
  return { moves: trail.moves, wood: left };
}

/** At the very edge of a slot the larger of two values is its side: a hair inwards is what counts. */
function lowestOf(stands: Envelope, z: number): number {
  return Math.min(envelopeAt(stands, z), envelopeAt(stands, z - 1e-7), envelopeAt(stands, z + 1e-7));
}

/** Even places from the last to the first. */
function placesIn(first: number, last: number, op: PartingTurning): readonly number[] {
  if (last - first <= 1e-9) return [(first + last) / 2];
  const n = Math.ceil((last - first) / (op.tool.width * STEP_SHARE) - 1e-9);
  return Array.from({ length: n + 1 }, (_, k) => last - ((last - first) * k) / n);
}

/** The target with its parting slots sunk to the nub. */
function slotted(target: Meridian, op: PartingTurning): Meridian {
  const { from, to } = extentOfMeridian(target);
  const slots = [...op.at].sort((a, b) => a.from - b.from);
  const edges = [from, ...slots.flatMap((s) => [s.from, s.to]), to];
  const kept = edges.flatMap((a, k) => (k % 2 === 0 ? clipped(piecesOf(target.segments), a, edges[k + 1]!) : []));
  const floors = slots.flatMap((s) => linePiece(s.from, op.nubRadius, s.to, op.nubRadius) ?? []);
  return { segments: chainOf(upperEnvelope([...kept, ...floors].sort((a, b) => a.from - b.from))) };
}
