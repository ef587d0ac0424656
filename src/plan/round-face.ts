import { type Finding, tidy } from "../finding.ts";
import type { FaceName } from "../job/board.ts";
import type { TurnedSolid } from "../shapes/turned-solid.ts";
import type { Bench } from "./bench.ts";
import type { Held } from "./hold.ts";
import { type RoundHold, roundHeld, roundHold } from "./hold-round.ts";
import { cradleFindings, zeroSpotFindings } from "./round-findings.ts";
import { type RoundPlacing, roundPlacing } from "./round-placing.ts";
import type { Rest, Zero } from "./setup.ts";

/** A turned blank as it lies with one side up: placed, held, zeroed. */
export interface RoundLay extends RoundPlacing {
  readonly hold: RoundHold;
  readonly held: Held & { readonly rests: readonly Rest[] };
  readonly bedZ: number;
  readonly findings: readonly Finding[];
}

/** Lays a side of a turned blank up and holds it; refused with the reason where it cannot lie or be held so. */
export function roundLay(bench: Bench, face: FaceName, round: TurnedSolid): RoundLay | Finding {
  const { workpiece } = bench;
  const hold = roundHold(workpiece, round);
  if ("grade" in hold) return hold;
  const height = hold.kind === "cradles" ? hold.axisHeight : undefined;
  const laid = roundPlacing(workpiece, round, face, height);
  if ("grade" in laid) return laid;
  const { placing, solid } = laid;
  const under = height === undefined ? placing.blank.min.z : solid.axis.z - height;
  const bedZ = under - bench.wasteBoard;
  const turned = (workpiece.wishes.turned ?? 0) % 360 === 180;
  const end = placing.corner.startsWith("left") ? "left" : "right";
  return {
    ...laid,
    hold,
    held: roundHeld(hold, solid, placing.frame, bedZ),
    bedZ,
    findings: [...cradleFindings(workpiece, hold), ...zeroSpotFindings(workpiece, end, turned)],
  };
}

/** How zero is found on a turned blank, in words. */
export function roundZeroWords(lay: RoundLay): string {
  const { placing, zero, hold, solid } = lay;
  const end = placing.corner.startsWith("left") ? "left" : "right";
  const flank = placing.corner.endsWith("front") ? "front" : "back";
  const x = `X at the ${end} end`;
  const y =
    zero.across === "axis"
      ? "Y on the axis: touch both flanks at one height with the same bit and take the middle"
      : `Y on the ${flank} flank of the square end`;
  return `${x}; ${y}; ${zWords(zero.z, hold, solid)}`;
}

function zWords(z: Zero["z"], hold: RoundHold, solid: TurnedSolid): string {
  switch (z) {
    case "top":
      return solid.flatTop === undefined ? "Z on the top of the square end" : "Z on the trued flat";
    case "waste board":
      return "Z on the waste board beside the wood";
    case "axis": {
      const height = hold.kind === "cradles" ? hold.axisHeight : undefined;
      const at = height === undefined ? "" : `: the waste board lies at Z ${tidy(-Math.round(height * 100) / 100)} mm`;
      return `Z on the axis${at}, never by a touch on the crown alone`;
    }
  }
}
