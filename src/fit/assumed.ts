import type { CabinetDescription, Given } from "../job/drawers.ts";
import { filmSaid, finishWords } from "./finish.ts";
import type { Assumed } from "./fit-plan.ts";
import type { FitGround } from "./stuff.ts";

/** Finish on the faces of a gap, where its thickness is not the user's own number: what is reckoned, and whose number it is. */
function finishes(g: FitGround): readonly Assumed[] {
  const each = [
    { what: "finish on the case's faces in gaps", given: g.case.finish },
    ...(g.drawers.finish ? [{ what: "finish on the drawers' faces in gaps", given: g.drawers.finish }] : []),
  ];
  return each.flatMap(({ what, given }): readonly Assumed[] => {
    if (given.value.kind === "film") return [];
    const { thickness, source } = filmSaid(given.value);
    const value = `${finishWords(given.value)}, ${Number(thickness.toFixed(3))} mm on a face`;
    return [{ what, value, why: given.assumed ?? source, source: given.source }];
  });
}

/** Every value that the job leaves out, in the order in which the job would say them. */
export function assumedIn(g: FitGround, cabinet: CabinetDescription): readonly Assumed[] {
  const { case: c } = cabinet;
  const { drawers: d } = g;
  const mm = (v: number): string => `${v} mm`;
  const plain = (v: number | string): string => String(v);
  const one = <T>(what: string, given: Given<T> | undefined, say: (value: T) => string): readonly Assumed[] =>
    given?.assumed === undefined ? [] : [{ what, value: say(given.value), why: given.assumed, source: given.source }];
  const air = (a: { celsius: number; humidity: number }): string => `${a.celsius} °C at ${a.humidity} %`;
  return [
    ...one("grain of the case sides", c.sideGrain, plain),
    ...one("case sides sawn", c.sawn, plain),
    ...one("thickness of the case back", c.backThickness, mm),
    ...finishes(g),
    ...one("air in the dry month", c.seasons.dry, air),
    ...one("air in the wet month", c.seasons.wet, air),
    ...one("fronts set", d.fronts.set, plain),
    ...one("lip over the case", d.fronts.lip?.over, mm),
    ...one("lip's thickness", d.fronts.lip?.thickness, mm),
    ...one("fronts from one board", d.fronts.oneBoard, plain),
    ...one("fronts sawn", d.fronts.sawn, plain),
    ...one("sides alike", d.sides.alike, plain),
    ...one("sides sawn", d.sides.sawn, plain),
    ...(d.backs.source === d.sides.source ? [] : one("backs sawn", d.backs.sawn, plain)),
    ...one("bottoms", d.bottoms.kind, plain),
    ...one("bottoms in", d.bottoms.in, plain),
    ...one("bottom groove above the lower edge", d.bottoms.grooveAt, mm),
    ...one("bottom groove's depth", d.bottoms.grooveDepth, mm),
    ...one("bottom groove over the bottom", d.bottoms.grooveClearance, mm),
    ...one("slip's width", d.bottoms.slip?.width, mm),
    ...one("slip's height", d.bottoms.slip?.height, mm),
    ...one("runners", d.runners.kind, plain),
    ...one("runners let in", d.runners.letIn, mm),
    ...one("groove over the runner", d.runners.clearance, mm),
    ...one("groove deeper than the runner", d.runners.freeDepth, mm),
    ...one("runner's nose", d.runners.nose, plain),
    ...one("groove stops behind the show face", d.runners.stopFromFront, mm),
    ...one("runner's screws", d.runners.screw, plain),
    ...one("screw length", d.runners.screwLength, mm),
    ...one("screws a runner", d.runners.screws, plain),
    ...one("front joint proud", d.frontJoint.proud, mm),
    ...one("back joint proud", d.backJoint.proud, mm),
    ...one("reveal", d.reveal, mm),
    ...one("side clearance", d.sideClearance, mm),
    ...one("back clearance", d.backClearance, mm),
    ...one("leave for fitting", d.leaveForFitting, mm),
    ...one("clean up after glue", d.cleanUp, mm),
    ...one("rough length, each end", d.roughLength, mm),
    ...one("rough width, each edge", d.roughWidth, mm),
    ...one("rough thickness", d.roughThickness, mm),
    ...one("kerf", d.kerf, mm),
  ];
}
