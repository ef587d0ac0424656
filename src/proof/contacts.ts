import type { Finding } from "../finding.ts";
import type { Contact } from "../simulate/contact.ts";
import type { Case } from "./proof.ts";
import { lineOf, mm, type ProofCode, placeIn } from "./say.ts";

/** What met what it must not, as findings. None of these can be overridden. */
export function contactFindings(c: Case): readonly Finding[] {
  return c.simulation.contacts.map((k) => contactFinding(c, k));
}

function contactFinding(c: Case, k: Contact): Finding {
  const place = { ...(k.at === undefined ? {} : placeIn(c.setUp, k.at)), ...lineOf(c, k.line) };
  const words = wordsFor(c, k);
  return {
    grade: "refuse",
    place,
    ...words,
    ...(k.depth > 0 ? { measured: { value: k.depth, bound: k.bound, unit: "mm" } } : {}),
  };
}

function wordsFor(c: Case, k: Contact): { code: ProofCode; what: string; why?: string; mend: string } {
  const again = "make the program again; never run this one";
  switch (k.kind) {
    case "rapid":
      return {
        code: "proof-rapid-in-wood",
        what: `the ${named(k)} goes through wood at full speed`,
        why: `up to ${mm(k.depth)} of wood stands in the way of a rapid`,
        mend: again,
      };
    case "rub":
      return k.member === "shank" || k.member === "cutter"
        ? {
            code: "proof-shank-rubs",
            what: "the shank, which does not cut, goes into wood",
            why: `wood stands ${mm(k.depth)} higher than the flutes reach`,
            mend: "use a bit with longer flutes, or cut in more passes",
          }
        : {
            code: "proof-head-in-wood",
            what: `the ${named(k)} goes into wood`,
            why: `wood stands ${mm(k.depth)} higher than its underside`,
            mend: "set the bit farther out of the collet, or use a longer one",
          };
    case "still":
      return {
        code: "proof-still-bit-in-wood",
        what: "the bit is pushed into wood without turning",
        mend: "start the spindle before the cut",
      };
    case "keep-out":
      return {
        code: "proof-keep-out-hit",
        what: `the ${named(k)} hits the ${k.keepOut ?? "clamp"}`,
        mend: "move the clamp or screw, or hold the wood in another way",
      };
    case "waste board":
      return {
        code: "proof-bed-cut",
        what: "the bit goes deeper into the waste board than it may",
        why: `it may go ${mm(c.setUp.intoWasteBoard)} below the wood`,
        mend: "check the wood's thickness and where zero is",
      };
    case "unplaced":
      return {
        code: "proof-move-unplaced",
        what: "nothing says where this cut begins or ends",
        why: "so it cannot be checked",
        mend: "move Z, then X and Y, to stated places before the cut",
      };
    case "no cutter":
      return {
        code: "proof-no-cutter",
        what: "a cut is made before the program says which bit is in the spindle",
        mend: "call the bit first, or name it in the set-up",
      };
  }
}

function named(k: Contact): string {
  switch (k.member) {
    case "cutter":
      return "bit";
    case "shank":
    case "nut":
    case "spindle body":
    case "laser head":
      return k.member;
  }
}
