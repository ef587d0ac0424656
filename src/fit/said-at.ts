import type { DrawersDescription } from "../job/drawers.ts";
import type { Said } from "./said.ts";

/** A part of the drawers, with the places in the file of what it hangs on: findings and features point there. */
export function saidPart(
  part: string,
  d: DrawersDescription,
  of: "fronts" | "sides" | "backs" | "bottoms" | "runners",
): Said {
  const stuff = d[of];
  const r = d.runners;
  const front = d.frontJoint;
  const back = d.backJoint;
  return {
    part,
    source: stuff.source,
    sources: {
      thickness: (stuff.asPlaned ?? stuff.thickness).source,
      wood: stuff.wood.source,
      ...(of === "runners" && {
        width: r.clearance.source,
        depth: (stuff.asPlaned ?? stuff.thickness).source,
        "bearing wall": (r.bearingAt ?? r.height).source,
        height: (r.heightAsPlaned ?? r.height).source,
        clearance: r.clearance.source,
        "bearing wall at": (r.bearingAt ?? r.height).source,
        "stop from front": r.stopFromFront.source,
        nose: r.nose.source,
        screw: r.screw.source,
        "screw length": r.screwLength.source,
        screws: r.screws.source,
      }),
      ...(of === "sides" && {
        depth: (back.depth ?? back.kind).source,
        width: (d.backs.asPlaned ?? d.backs.thickness).source,
        "back depth": (back.depth ?? back.kind).source,
        "back lap": (back.lap ?? back.kind).source,
        "back joint": back.kind.source,
        tails: (front.tails ?? front.kind).source,
      }),
      ...(of === "fronts" && {
        depth: (front.lap ?? front.kind).source,
        lap: (front.lap ?? front.kind).source,
        "front joint": front.kind.source,
      }),
      ...(of === "bottoms" && {
        "groove at": d.bottoms.grooveAt.source,
        "near edge at": d.bottoms.grooveAt.source,
        depth: d.bottoms.grooveDepth.source,
        "groove depth": d.bottoms.grooveDepth.source,
        width: d.bottoms.grooveClearance.source,
      }),
    },
  };
}
