import type { Finding } from "../finding.ts";
import type { Lathe } from "../shop/lathe.ts";
import type { Post } from "./post.ts";

/** What in a post does not fit the lathe it is to write for. X words above all: they are never guessed. */
export function latheFits(post: Post, lathe: Lathe): readonly Finding[] {
  const c = lathe.controller;
  const findings: Finding[] = [];
  const refuse = (what: string, why: string, mend: string): void => {
    findings.push({
      grade: "refuse",
      code: "post-does-not-fit-machine",
      place: {},
      what: `post "${post.name}" does not fit lathe "${lathe.name}": ${what}`,
      why,
      mend,
    });
  };
  if (post.xWords === undefined) {
    const why = "it states G17 and writes X, Y and Z for a turning bit";
    refuse("it is for a router", why, "name a lathe's post for this lathe in the shop file");
    return findings;
  }
  if (post.xWords !== lathe.xWords) {
    const why = `the post writes X as ${post.xWords}, the shop file says the controller reads it as ${lathe.xWords}: every diameter would be wrong by half`;
    refuse("X words disagree", why, `use a post with X words: ${lathe.xWords}`);
  }
  if (post.arcs.kind === "centre" && !c.arcs) {
    refuse("it writes arcs", "the shop file says the controller knows none", "use a post that writes chords");
  }
  if (post.toolChange.length > 0 && !c.toolChanger) {
    const why = "the shop file says there is no tool changer";
    refuse("it changes tools within a program", why, "use a post with tool change: none");
  }
  if (post.lift.kind === "machine height" && !c.homes) {
    const why = "the shop file says the lathe does not home";
    refuse("it retracts X to a machine position", why, "use a post with first lift: ask");
  }
  const exact = post.opening.some((word) => word === "G61" || word === "G61.1");
  if (exact && !c.exactPath) {
    const why = "the shop file says the controller doesn't know it";
    refuse("it asks for exact path", why, "state G64 in the post's opening");
  }
  if (!exact && c.exactPath) {
    const why = "corners would be rounded by an amount that nobody knows";
    refuse("it does not ask for exact path", why, "state G61 in the post's opening");
  }
  return findings;
}
