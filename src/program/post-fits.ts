import type { Finding } from "../finding.ts";
import type { Cutter } from "../shop/cutter.ts";
import type { Machine } from "../shop/machine.ts";
import type { Post } from "./post.ts";

/** What in a post does not fit the machine it is to write for. A post must ask nothing that the controller doesn't know. */
export function postFits(post: Post, machine: Machine, cutters: readonly Cutter[]): readonly Finding[] {
  const c = machine.controller;
  const findings: Finding[] = [];
  const refuse = (what: string, why: string, mend: string): void => {
    findings.push({
      grade: "refuse",
      code: "post-does-not-fit-machine",
      place: {},
      what: `post "${post.name}" does not fit machine "${machine.name}": ${what}`,
      why,
      mend,
    });
  };
  if (post.xWords !== undefined) {
    refuse(
      "it is for a lathe",
      "it states G18 and knows no Y",
      "name a router's post for this machine in the shop file",
    );
  }
  if (post.arcs.kind === "centre" && !c.arcs) {
    refuse("it writes arcs", "the shop file says the controller knows none", "use a post that writes chords");
  }
  if (post.lengthOffset === "G43" && !c.toolTable) {
    refuse("it uses a tool table", "the shop file says there is none", "use a post with length offset: none");
  }
  if (post.lengthOffset === "none" && c.toolTable) {
    const why = "without the table's length, heights mean the spindle's nose and the bit is driven down";
    refuse("it ignores the tool table", why, "use a post with length offset: G43");
  }
  if (post.toolChange.length > 0 && !c.toolChanger) {
    refuse(
      "it changes bits by itself",
      "the shop file says there is no tool changer",
      "use a post with tool change: none",
    );
  }
  if (post.lift.kind === "machine height" && !c.homes) {
    refuse(
      "it lifts to a machine height",
      "the shop file says the machine does not home",
      "use a post with first lift: ask",
    );
  }
  const exact = post.opening.some((word) => word === "G61" || word === "G61.1");
  if (exact && !c.exactPath) {
    refuse(
      "it asks for exact path",
      "the shop file says the controller doesn't know it",
      "state G64 in the post's opening",
    );
  }
  if (!exact && c.exactPath) {
    const why = "corners would be rounded by an amount that nobody knows";
    refuse("it does not ask for exact path", why, "state G61 in the post's opening");
  }
  if (c.toolTable || c.toolChanger) {
    for (const cutter of cutters) {
      if (Number.isInteger(cutter.slot) && cutter.slot >= 1 && cutter.slot <= 9999) continue;
      const what = `"${cutter.name}" has no slot number`;
      refuse(what, "the program must call it by its slot", "give its slot, a whole number from 1, in the shop file");
    }
  }
  return findings;
}
