import type { Finding } from "../../finding.ts";
import type { BeamSetUp, PlacedMark } from "../../plan/beam-setup.ts";
import { moveBounds } from "../../reader/motion.ts";
import { readProgram } from "../../reader/read.ts";
import type { Box } from "../../shapes/point.ts";
import { boundsOfRegion } from "../../shapes/region.ts";
import { boundsOf } from "../../shapes/segment.ts";
import { runUp } from "../../shop/beam.ts";
import { beamRun } from "../../simulate/beam.ts";
import type { DryRunProof } from "../dry-run.ts";
import type { ProgramToProve } from "../proof.ts";
import { mm, shortened } from "../say.ts";
import { carriageFindings } from "./carriage.ts";
import { type BeamCase, placeOfLine } from "./case.ts";
import { dotFrame } from "./dot-frame.ts";
import { kerfOf } from "./fit.ts";
import { turnFindings, unrolledFor } from "./turned.ts";

/** The walk may keep this far from the marks on top of run-ups, mm. */
const BESIDE = 5;
/** The walk shows the marks' extent this exactly, mm. */
const SHOWN = 0.05;

/**
 * Proves an outline walk: the beam is never on, or no stronger than the visible pilot that the shop file gives; it goes
 * around what will be burned and not elsewhere; and the carriage touches nothing.
 */
export function proveOutlineWalk(setUp: BeamSetUp, { file, text }: ProgramToProve): DryRunProof {
  const { laser } = setUp;
  const read = readProgram(text, file, setUp.machine.controller, {
    manner: "ours",
    safeZ: setUp.safeZ,
    stock: setUp.blank,
    machineTravel: setUp.machine.travel,
    beam: {
      fullScale: laser.fullScale,
      start: laser.start,
      mode: laser.mode,
      ...(laser.slot === undefined ? {} : { slot: laser.slot }),
      ...(setUp.turning === undefined ? {} : { turns: true as const }),
    },
  });
  const unrolled = unrolledFor(setUp, read);
  const lines = text.split(/\r\n|\n|\r/);
  const run = beamRun(unrolled.read.events, laser, setUp.machine);
  const c: BeamCase = { setUp, file, lines, read: unrolled.read, asWritten: read, run };
  const findings: Finding[] = [
    ...read.findings,
    ...turnFindings(c, unrolled.troubles),
    ...carriageFindings(c).findings.filter((f) => f.grade === "refuse"),
  ];
  if (read.events.at(-1)?.kind !== "end") {
    findings.push({
      grade: "refuse",
      code: "proof-not-reached",
      place: placeOfLine(c, 1),
      what: "the outline walk could not be followed to its end",
      mend: "make it again",
    });
  }
  const marked = markedBox(setUp);
  const pilot = laser.pilot ?? 0;
  let walked: Box | undefined;
  for (const e of unrolled.read.events) {
    if (
      e.kind === "spindle" &&
      e.spindle.turning !== "off" &&
      e.spindle.rpm > (pilot > 0 ? pilot * laser.fullScale + 0.5 : 0)
    ) {
      findings.push({
        grade: "refuse",
        code: "proof-beam-walk-burns",
        place: placeOfLine(c, e.line),
        what: pilot > 0 ? "the outline walk is brighter than the pilot" : "the outline walk switches the beam on",
        why:
          pilot > 0 ? "above the shop file's pilot it may burn" : "the shop file gives no visible pilot for this laser",
        mend: "make it again; never run this one",
        measured: { value: (100 * e.spindle.rpm) / laser.fullScale, bound: 0, unit: "% of full power" },
        limit: { value: 100 * pilot, unit: "% of full power", from: "the pilot in the shop file" },
      });
    }
    if (e.kind !== "move" || e.rapid) continue;
    const b = moveBounds(e);
    if (b !== undefined) walked = walked === undefined ? b : joined(walked, b);
  }
  const allowed = marked === undefined ? undefined : grown(marked, longestRunUp(setUp) + BESIDE);
  if (walked !== undefined && allowed !== undefined && over(walked, allowed) > 1e-6) {
    findings.push({
      grade: "refuse",
      code: "proof-beam-walk-outside",
      place: placeOfLine(c, 1),
      what: "the outline walk goes far beyond what will be burned",
      why: `by ${mm(over(walked, allowed))} more than run-ups need`,
      mend: "make it again",
    });
  }
  if (marked !== undefined && (walked === undefined || over(marked, walked) > SHOWN)) {
    findings.push({
      grade: "refuse",
      code: "proof-beam-walk-short",
      place: placeOfLine(c, 1),
      what: "the outline walk does not go round all that will be burned",
      why: walked === undefined ? "it goes nowhere" : `by ${mm(over(marked, walked))}`,
      mend: "make it again",
    });
  }
  return { findings: shortened(findings) };
}

/** The box around all marks. */
function markedBox(setUp: BeamSetUp): Box | undefined {
  return setUp.marks
    .flatMap((placed) => boxOfMark(setUp, placed) ?? [])
    .reduce<Box | undefined>((a, b) => (a === undefined ? b : joined(a, b)), undefined);
}

/** Where the middle of the spot goes for a mark, at least. */
function boxOfMark(setUp: BeamSetUp, placed: PlacedMark): Box | undefined {
  const { aim } = placed;
  switch (aim.kind) {
    case "lines":
      return aim.chains
        .flat()
        .map(boundsOf)
        .reduce<Box | undefined>((a, b) => (a === undefined ? b : joined(a, b)), undefined);
    case "area": {
      const box = boundsOfRegion(aim.region);
      return box && grown(box, -Math.max(setUp.laser.spot.x, setUp.laser.spot.y) / 2 - SHOWN);
    }
    case "through": {
      const box = boundsOfRegion(aim.outline);
      return box && grown(box, (aim.keep === "inside" ? 1 : -1) * (kerfOf(setUp, placed) / 2));
    }
    case "dots":
      return grown(dotFrame(aim).box, -aim.pitch);
  }
}

function longestRunUp({
  marks,
  machine,
  laser,
}: { readonly marks: BeamSetUp["marks"] } & Pick<BeamSetUp, "machine" | "laser">): number {
  const slowest = Math.min(machine.acceleration.x, machine.acceleration.y);
  return marks.reduce((most, { setting }) => {
    const speed = setting.speed / 60;
    return Math.max(most, runUp(speed, slowest) + speed * laser.lag);
  }, 0);
}

function joined(a: Box, b: Box): Box {
  return {
    min: { x: Math.min(a.min.x, b.min.x), y: Math.min(a.min.y, b.min.y) },
    max: { x: Math.max(a.max.x, b.max.x), y: Math.max(a.max.y, b.max.y) },
  };
}

function grown(box: Box, by: number): Box {
  return { min: { x: box.min.x - by, y: box.min.y - by }, max: { x: box.max.x + by, y: box.max.y + by } };
}

/** How far one box reaches beyond another. */
function over(inner: Box, outer: Box): number {
  return Math.max(
    outer.min.x - inner.min.x,
    outer.min.y - inner.min.y,
    inner.max.x - outer.max.x,
    inner.max.y - outer.max.y,
  );
}
