import { type Finding, tidy } from "../finding.ts";
import type { BeamPath } from "../paths/beam/beam-move.ts";
import type { BeamSetUp } from "../plan/beam-setup.ts";
import { powerText } from "./beam-pen.ts";
import type { Post } from "./post.ts";
import { postFits } from "./post-fits.ts";

/** Power may come out of rounding by this share of itself. */
const ROUNDED = 0.02;

/** What in a post does not fit the machine and laser it is to write for. */
export function beamFits(post: Post, setUp: BeamSetUp, paths: readonly BeamPath[]): readonly Finding[] {
  const { machine, laser } = setUp;
  const findings: Finding[] = [...postFits(post, machine, [])];
  const refuse = (what: string, why: string, mend: string): void => {
    findings.push({
      grade: "refuse",
      code: "post-does-not-fit-machine",
      place: {},
      what: `post "${post.name}" does not fit the laser on "${machine.name}": ${what}`,
      why,
      mend,
    });
  };
  if (post.beam === undefined) {
    refuse("it says nothing of a beam", "how a beam is started is never guessed", "give the post its key beam");
    return findings;
  }
  if (!post.beam.starts.includes(laser.start)) {
    refuse(`it never writes ${laser.start}`, "the shop file says that starts the beam", "make the two agree");
  }
  if (post.lengthOffset === "G43" && laser.slot === undefined) {
    refuse("it uses a tool table", "the laser has no slot in it", "give the laser its slot in the shop file");
  }
  for (const { operation } of paths) {
    const written = Number(powerText(operation.power, laser, post)) / laser.fullScale;
    if (Math.abs(written - operation.power) <= ROUNDED * operation.power) continue;
    findings.push({
      grade: "refuse",
      code: "beam-power-unsayable",
      place: { part: setUp.workpiece.name },
      what: `${operation.title}: its power cannot be said in S words of this machine`,
      why: `${tidy(operation.power * 100)} % of S${tidy(laser.fullScale)} rounds to ${tidy(written * 100)} %`,
      mend: "give the post more decimals for power, if the controller reads them, or burn with more power and more speed",
    });
  }
  return findings;
}
