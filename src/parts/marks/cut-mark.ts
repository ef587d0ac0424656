import type { Outcome } from "../../finding.ts";
import type { MarkMade } from "../../job/mark.ts";
import type { Region } from "../../shapes/region.ts";
import type { Segment } from "../../shapes/segment.ts";
import type { Cavity } from "../workpiece.ts";
import type { CutGround } from "./cut-ground.ts";
import { cutLineCavity } from "./cut-line.ts";
import type { Ink } from "./mark.ts";
import { vGrooveCavity } from "./v-groove.ts";

/** Marks that the router cuts. */
export type CutMade = Extract<MarkMade, { by: "cut line" | "v-groove" }>;

/** The wood that a cut mark takes: ink in plan coordinates of its face, as a cavity beneath it. */
export function cutMark(ink: Ink, made: CutMade, ground: CutGround): Outcome<readonly Cavity[]> {
  const base = { ...ground.base, ...(made.bit !== undefined && { cutter: made.bit }) };
  const cavity = cavityOf(ink, made, { ...ground, base });
  return "grade" in cavity ? { ok: false, findings: [cavity] } : { ok: true, value: [cavity], findings: [] };
}

function cavityOf(ink: Ink, made: CutMade, ground: CutGround): ReturnType<typeof vGrooveCavity> {
  switch (made.by) {
    case "cut line":
      return cutLineCavity(chainsOf(ink), made.depth, ground);
    case "v-groove":
      return vGrooveCavity(areaOf(ink), made.cap, ground);
  }
}

/** Lines as they are, and the outlines of areas. */
function chainsOf(ink: Ink): readonly (readonly Segment[])[] {
  switch (ink.kind) {
    case "lines":
      return ink.chains;
    case "area":
      return ink.region.loops;
    case "lines and area":
      return [...ink.chains, ...ink.region.loops];
    case "picture":
      throw new Error("a picture was let through to the router: this is a bug in job");
  }
}

function areaOf(ink: Ink): Region {
  switch (ink.kind) {
    case "area":
      return ink.region;
    case "lines":
    case "lines and area":
    case "picture":
      throw new Error(`${ink.kind} were let through to a V-groove: this is a bug in job`);
  }
}
