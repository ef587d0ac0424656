import { tidy } from "../finding.ts";
import type { Cutter, CutterForm } from "../shop/cutter.ts";
import { comments } from "./comment.ts";
import type { Post } from "./post.ts";
import type { WriteInput } from "./program-text.ts";

/** Printed in every program for a turning bit, short enough to be read at the machine. */
const SPINNING_CAUTIONS = [
  "Turning bit: eyes and ears covered, hands and sleeves away, stop button in reach, stay beside it.",
  "New program: rehearse it in scrap, or run the dry run first. Nothing here knows how well the wood is held.",
] as const;

const ZERO_Z = {
  top: "at the top of the wood",
  "waste board": "at the waste board",
  axis: "on the axis of the turned blank",
} as const;

/** What the first lines of a program say, beside its seal. @param lift mm that a dry run is lifted by; absent for cutting */
export function headerLines(
  input: WriteInput,
  cutters: readonly Cutter[],
  operations: readonly { readonly label: number; readonly title: string }[],
  lift: number | undefined,
  place: { readonly nth: number; readonly of: number },
): readonly string[] {
  const { setUp, post } = input;
  const { workpiece, machine, zero, blank } = setUp;
  const { length, width, thickness } = workpiece.size;
  const lines: string[] = [];
  const say = (text: string): void => void lines.push(...comments(text));
  const inUnit = (mm: number): string => lengthWords(mm, post);
  if (lift !== undefined) {
    say(`DRY RUN: spindle off, everything lifted by ${inUnit(lift)}. The bit must touch nothing.`);
  }
  say(`Job: ${input.title}`);
  for (const o of input.overrides ?? []) say(`OVERRIDDEN: ${o.code}, because: ${o.because}`);
  const nth = place.of > 1 ? `, file ${place.nth} of ${place.of}` : "";
  say(`Part: ${workpiece.name}. Set-up: ${setUp.name}${nth}`);
  say(`Blank: ${inUnit(length)} x ${inUnit(width)} x ${inUnit(thickness)}, ${workpiece.wood}`);
  say(`Machine: ${machine.name}. Post: ${post.name}. All numbers in ${post.unit === "mm" ? "millimetres" : "inches"}`);
  const end = zero.corner.startsWith("left") ? "left" : "right";
  const across = zero.across === "axis" ? `X at the ${end} end, Y on the axis` : `X and Y at the ${zero.corner} corner`;
  say(`Zero: ${across}, Z ${ZERO_Z[zero.z]}`);
  say(`Zero is found so: ${zero.how}`);
  const span = (axis: "x" | "y" | "z"): string => `${inUnit(blank.min[axis])} to ${inUnit(blank.max[axis])}`;
  say(`Wood lies from X ${span("x")}, Y ${span("y")}, Z ${span("z")}`);
  say(`Safe height: Z ${inUnit(setUp.safeZ)}`);
  for (const c of cutters) say(`Bit: ${cutterWords(c, post)}`);
  for (const o of operations) say(`N${o.label}: ${o.title}`);
  for (const c of input.cautions ?? []) say(`Caution: ${c}`);
  if (lift === undefined) for (const c of SPINNING_CAUTIONS) say(c);
  return lines;
}

/** A length as the program's own numbers have it, with its unit. */
export function lengthWords(mm: number, post: Post): string {
  return post.unit === "mm" ? `${tidy(mm)} mm` : `${tidy(mm / 25.4)} in`;
}

/** A cutter as it is looked for in the drawer and set in the collet. */
export function cutterWords(c: Cutter, post: Post): string {
  const called = post.lengthOffset === "G43" || post.toolChange.length > 0 ? `slot ${c.slot}, ` : "";
  const measured = c.diameterMeasured ? " as measured" : "";
  const across = `${lengthWords(c.diameter, post)} across${measured}`;
  return `${called}${c.name}, ${formWords(c.form, post)}, ${across}, sticks out ${lengthWords(c.stickOut, post)}`;
}

function formWords(form: CutterForm, post: Post): string {
  switch (form.kind) {
    case "flat":
      return "flat";
    case "round-nose":
      return "round-nose";
    case "radiused-corner":
      return `radiused corner ${lengthWords(form.cornerRadius, post)}`;
    case "v":
      return `V of ${tidy(form.includedAngle)} deg`;
    case "drill":
      return "drill";
    case "countersink":
      return `countersink of ${tidy(form.includedAngle)} deg`;
  }
}
