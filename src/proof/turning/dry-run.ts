import type { Finding } from "../../finding.ts";
import type { TurningSetUp } from "../../plan/turning-setup.ts";
import { readProgram } from "../../reader/read.ts";
import { xSignOf } from "../../shop/lathe.ts";
import { intoKeepOut } from "../../simulate/turning.ts";
import { chordsOf, halfPlanePath, shifted } from "../../simulate/turning-path.ts";
import { sweepOf } from "../../simulate/turning-sweep.ts";
import { formOf } from "../../simulate/turning-tool.ts";
import { startTurnedWood, woodAbove } from "../../simulate/turning-wood.ts";
import type { DryRunProof } from "../dry-run.ts";
import type { ProgramToProve } from "../proof.ts";
import { mm, shortened } from "../say.ts";
import { toolsOf } from "./tools.ts";

/** Wood this much above an edge is rounding, mm. */
const FELT = 0.0025;

/**
 * Proves that a dry run on the lathe turns nothing and touches nothing: the blank is still whole, and every move, rapid
 * or feed, keeps tool and holder out of it and out of all keep-outs.
 */
export function proveTurningDryRun(setUp: TurningSetUp, { file, text }: ProgramToProve): DryRunProof {
  const { lathe } = setUp;
  const wood = startTurnedWood(setUp);
  const read = readProgram(text, file, lathe.controller, {
    manner: "ours",
    lathe: {
      xWords: lathe.xWords,
      side: xSignOf(lathe),
      safeRadius: setUp.safeRadius,
      stockRadius: Math.max(...wood.most),
    },
  });
  const lines = text.split(/\r\n|\n|\r/);
  const toolFor = toolsOf(setUp, read);
  const findings: Finding[] = [...read.findings];
  const say = (line: number, finding: Pick<Finding, "code" | "what" | "mend"> & { readonly why?: string }): void => {
    const quoted = lines[line - 1]?.trim();
    findings.push({
      grade: "refuse",
      place: { part: setUp.piece.name, program: { file, line, ...(quoted === undefined ? {} : { text: quoted }) } },
      ...finding,
    });
  };
  if (read.events.at(-1)?.kind !== "end") {
    say(1, { code: "proof-not-reached", what: "the dry run could not be followed to its end", mend: "make it again" });
  }
  for (const e of read.events) {
    if (e.kind === "spindle" && e.spindle.turning !== "off") {
      say(e.line, { code: "dry-run-spindle", what: "the dry run starts the spindle", mend: "make it again" });
    }
    if (e.kind !== "move") continue;
    const point = halfPlanePath(e, lathe);
    if (point === undefined) {
      if (!e.rapid) {
        say(e.line, {
          code: "dry-run-touches",
          what: "nothing says where this move of the dry run goes",
          mend: "make it again",
        });
      }
      continue;
    }
    // Any of the set-up's tools may stand in the post while the text has not said which.
    const one = toolFor(e);
    for (const form of (one === undefined ? setUp.tools : [one]).map(formOf)) {
      const path = shifted(point, form.offset);
      const met = chordsOf(path, 0.001).map((s) =>
        Math.max(woodAbove(wood, form.edge, s).depth, woodAbove(wood, form.holder, s).depth),
      );
      const depth = Math.max(...met);
      const sweeps = form.bodies.map((b) => sweepOf(b, path));
      const hit = setUp.keepOuts.find((k) => intoKeepOut(sweeps, k.outline) > 0);
      if (depth <= FELT && hit === undefined) continue;
      say(e.line, {
        code: "dry-run-touches",
        what: `the dry run touches the ${hit?.name ?? "wood"}`,
        ...(hit === undefined ? { why: `by ${mm(depth)}` } : {}),
        mend: "make it again, farther out",
      });
      break;
    }
  }
  return { findings: shortened(findings) };
}
