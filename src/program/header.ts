import { tidy } from "../finding.ts";
import type { Cutter, CutterForm } from "../shop/cutter.ts";
import { comments } from "./comment.ts";
import type { WriteInput } from "./program-text.ts";

/** Printed in every program for a turning bit, short enough to be read at the machine. */
const SPINNING_CAUTIONS = [
  "Turning bit: eyes and ears covered, hands and sleeves away, stop button in reach, stay beside it.",
  "New program: rehearse it in scrap, or run the dry run first. Nothing here knows how well the wood is held.",
] as const;

/** What the first lines of a program say, beside its seal. */
export function headerLines(
  input: WriteInput,
  cutters: readonly Cutter[],
  operations: readonly { readonly label: number; readonly title: string }[],
  dryRun: boolean,
  place: { readonly nth: number; readonly of: number },
): readonly string[] {
  const { setUp, post } = input;
  const { workpiece, machine, zero, blank } = setUp;
  const size = workpiece.size;
  const lines: string[] = [];
  const say = (text: string): void => void lines.push(...comments(text));
  if (dryRun) say("DRY RUN: spindle off, everything lifted clear. The bit must touch nothing.");
  say(`Job: ${input.title}`);
  for (const o of input.overrides ?? []) say(`OVERRIDDEN: ${o.code}, because: ${o.because}`);
  const nth = place.of > 1 ? `; file ${place.nth} of ${place.of}` : "";
  say(`Part: ${workpiece.name}; set-up: ${setUp.name}${nth}`);
  say(`Blank: ${tidy(size.length)} x ${tidy(size.width)} x ${tidy(size.thickness)} mm, ${workpiece.wood}`);
  say(`Machine: ${machine.name}; post: ${post.name}; unit: ${post.unit}`);
  say(`Zero: X and Y at the ${zero.corner} corner; Z at the ${zero.z === "top" ? "top of the wood" : "waste board"}`);
  say(`Zero is found so: ${zero.how}`);
  const box = [blank.min.x, blank.max.x, blank.min.y, blank.max.y, blank.min.z, blank.max.z].map(tidy);
  say(`Wood lies from X ${box[0]} to ${box[1]}, Y ${box[2]} to ${box[3]}, Z ${box[4]} to ${box[5]} mm`);
  say(`Safe height: Z ${tidy(setUp.safeZ)} mm`);
  for (const c of cutters) say(`Bit: ${cutterWords(c)}`);
  for (const o of operations) say(`N${o.label}: ${o.title}`);
  for (const c of input.cautions ?? []) say(`Caution: ${c}`);
  if (!dryRun) for (const c of SPINNING_CAUTIONS) say(c);
  return lines;
}

/** A cutter as it is looked for in the drawer and set in the collet. */
export function cutterWords(c: Cutter): string {
  const measured = c.diameterMeasured ? ", measured" : "";
  return `slot ${c.slot}, ${c.name}: ${tidy(c.diameter)} mm${measured} ${formWords(c.form)}, sticks out ${tidy(c.stickOut)} mm`;
}

function formWords(form: CutterForm): string {
  switch (form.kind) {
    case "flat":
      return "flat";
    case "round-nose":
      return "round-nose";
    case "radiused-corner":
      return `radiused corner ${tidy(form.cornerRadius)} mm`;
    case "v":
      return `V of ${tidy(form.includedAngle)} deg`;
    case "drill":
      return "drill";
    case "countersink":
      return `countersink of ${tidy(form.includedAngle)} deg`;
  }
}
