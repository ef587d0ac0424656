import { tidy } from "../finding.ts";
import { extentOfMeridian } from "../shapes/meridian.ts";
import type { TurningTool } from "../shop/lathe.ts";
import { comments } from "./comment.ts";
import { lengthWords } from "./header.ts";
import type { Post } from "./post.ts";
import type { TurningWriteInput } from "./turning-text.ts";

/** Printed in every program that turns wood, short enough to be read at the lathe. Common practice, no source. */
const TURNING_CAUTIONS = [
  "Turn the blank by hand first: nothing may touch. No cracks, no loose knots, no wood glued up today.",
  "Face shield on. Sleeves and hair tied, stop button in reach. Stand out of the line of the work.",
  "New program: run the dry run first, then rehearse it in scrap. Nothing here knows how well the wood is held.",
] as const;

/** What the first lines of a turning program say, beside its seal. @param lift mm that a dry run stands off; absent for cutting */
export function turningHeaderLines(
  input: TurningWriteInput,
  tools: readonly TurningTool[],
  operations: readonly { readonly label: number; readonly title: string }[],
  lift: number | undefined,
  place: { readonly nth: number; readonly of: number },
): readonly string[] {
  const { setUp, post } = input;
  const { piece, lathe } = setUp;
  const lines: string[] = [];
  const say = (text: string): void => void lines.push(...comments(text));
  const inUnit = (mm: number): string => lengthWords(mm, post);
  if (lift !== undefined) {
    say(`DRY RUN: spindle off, everything ${inUnit(lift)} farther out on the radius. The tool must touch nothing.`);
  }
  say(`Job: ${input.title}`);
  for (const o of input.overrides ?? []) say(`OVERRIDDEN: ${o.code}, because: ${o.because}`);
  const nth = place.of > 1 ? `, file ${place.nth} of ${place.of}` : "";
  say(`Part: ${piece.name}. Set-up: ${setUp.name}${nth}`);
  say(
    `Blank: ${inUnit(piece.blank.length)} long, ${inUnit(piece.blank.across)} ${shapeWords(piece.blank.shape)}, ${piece.wood}`,
  );
  say(`Lathe: ${lathe.name}. Post: ${post.name}. All numbers in ${post.unit === "mm" ? "millimetres" : "inches"}`);
  say(
    lathe.xWords === "radius"
      ? "X words are RADII. X0 is the axis. I and K are true distances."
      : "X words are DIAMETERS. X0 is the axis. I and K are true distances: I is not doubled.",
  );
  say(
    lathe.toolPost === "rear"
      ? "The tool stands behind the work: X grows away from you, the tool works at X above 0."
      : "The tool stands in front of the work: X grows away from you, the tool works at X below 0.",
  );
  say("Z0 is the end of the blank at the tailstock, Z falls towards the headstock.");
  const wood = extentOfMeridian(setUp.start);
  say(`Wood lies from Z ${inUnit(wood.from)} to ${inUnit(wood.to)}. Safe radius ${inUnit(setUp.safeRadius)}`);
  for (const k of setUp.keepOuts) say(`Kept clear of: ${k.name}`);
  say(`Speeds: ${setUp.speedReason}`);
  for (const t of tools) say(`Tool: ${toolWords(t, post)}`);
  for (const o of operations) say(`N${o.label}: ${o.title}`);
  for (const c of input.cautions ?? []) say(`Caution: ${c}`);
  if (lift === undefined) for (const c of TURNING_CAUTIONS) say(c);
  return lines;
}

function shapeWords(shape: "square" | "round"): string {
  switch (shape) {
    case "square":
      return "square";
    case "round":
      return "across, round";
  }
}

/** A turning tool as it is looked for and set: kind, sizes, and the point that zero is set with. */
export function toolWords(t: TurningTool, post: Post): string {
  const size = (mm: number): string => lengthWords(mm, post);
  const { first, second } = t.flanks;
  const flanks = first > 0 || second > 0 ? `, sides ${tidy(first)} and ${tidy(second)} deg` : "";
  const slot = post.toolChange.length > 0 ? `slot ${t.slot}, ` : "";
  return `${slot}${t.name}, ${t.kind}, ${size(t.width)} wide, nose radius ${size(t.noseRadius)}${flanks}, zero set with ${pointWords(t)}`;
}

function pointWords(t: TurningTool): string {
  switch (t.point) {
    case "tip middle":
      return "the middle of its tip";
    case "corner first":
      return "its corner towards the headstock";
    case "corner second":
      return "its corner towards the tailstock";
  }
}
