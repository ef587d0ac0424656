import type { Finding, Outcome } from "../finding.ts";
import { drawText } from "../shapes/lettering/draw-text.ts";
import { type TextLayout, USUAL_LINE_SPACING } from "../shapes/lettering/layout.ts";
import { fillPlaceholders, type PlaceholderValues } from "../shapes/lettering/placeholders.ts";
import type { Point } from "../shapes/point.ts";
import { line, type Segment } from "../shapes/segment.ts";
import type { MarkContent } from "./mark.ts";
import { boundsOfContent, middleOf, scaledRegion, scaledSegment } from "./mark-content.ts";
import type { MarkGround } from "./mark-ground.ts";
import type { Serial } from "./mark-values.ts";
import { type OnPart, refuseAt, sourceAtPath } from "./places.ts";

/** A text as said. */
export interface TextSaid {
  readonly text: string;
  readonly letters?: string | undefined;
  readonly "cap height"?: number | undefined;
  readonly width?: number | undefined;
  readonly align?: "left" | "centre" | "right" | undefined;
  readonly "letter spacing"?: number | undefined;
  readonly "line spacing"?: number | undefined;
  readonly "on arc"?:
    | {
        readonly radius: number;
        readonly "middle at"?: number | undefined;
        readonly tops?: "outwards" | "inwards" | undefined;
      }
    | undefined;
  readonly date?: string | undefined;
  readonly serial?: Serial | undefined;
}

/** How closely outlined letters follow their face's curves, mm: half of what a program promises. */
const LETTER_TOLERANCE = 0.005;

/**
 * The text of each copy as lines or areas: one content for all where they are alike.
 * @param letters the face where the job names none
 */
export function textContents(
  on: OnPart,
  said: TextSaid,
  ground: MarkGround,
  letters: "upright" | "book",
): readonly MarkContent[] | undefined {
  const size = sizeOf(on, said);
  const face = ground.faceCalled(said.letters ?? letters);
  if (!face.ok) {
    told(on, face.findings, said.letters === undefined ? ["text"] : ["letters"]);
    return undefined;
  }
  const texts = filledTexts(on, said, ground);
  if (size === undefined || texts === undefined) return undefined;
  const arc = said["on arc"];
  const layout: Omit<TextLayout, "text"> = {
    size,
    align: said.align ?? "centre",
    letterSpacing: said["letter spacing"] ?? 0,
    lineSpacing: said["line spacing"] ?? USUAL_LINE_SPACING,
    standing: arc === undefined ? "middle" : "first baseline",
    place:
      arc === undefined
        ? { kind: "line", at: { x: 0, y: 0 }, turnedDeg: 0 }
        : {
            kind: "arc",
            centre: { x: 0, y: 0 },
            radius: arc.radius,
            atDeg: arc["middle at"] ?? 90,
            side: arc.tops === "inwards" ? "inside" : "outside",
          },
  };
  const alike = texts.every((t) => t === texts[0]);
  const contents: MarkContent[] = [];
  for (const text of alike ? texts.slice(0, 1) : texts) {
    const drawn = drawText(face.value, { ...layout, text }, { tolerance: LETTER_TOLERANCE, made: "arcs" });
    // What is wrong with one name is most often wrong with all.
    told(on, drawn.findings, ["text"]);
    if (!drawn.ok) return undefined;
    const from = { kind: "text", text, face: face.value.name, size } as const;
    const content: MarkContent =
      drawn.value.kind === "strokes"
        ? { kind: "lines", chains: drawn.value.strokes.map(chainOf).filter((c) => c.length > 0), from }
        : { kind: "area", region: drawn.value.region, from };
    contents.push(arc === undefined ? centredAcross(content) : content);
  }
  return contents;
}

function sizeOf(on: OnPart, said: TextSaid): TextLayout["size"] | undefined {
  const { "cap height": cap, width } = said;
  if (cap !== undefined && width === undefined) return { by: "cap height", mm: cap };
  if (width !== undefined && cap === undefined) return { by: "width", mm: width };
  const mend = 'write "cap height: 5", or "width: 40" for the longest line to fill';
  if (cap === undefined) refuseAt(on, ["text"], "mark-incomplete", "it is not said how large this text is", mend);
  else refuseAt(on, ["width"], "mark-key-odd", "two sizes are given for this text", 'keep "cap height" or "width"');
  return undefined;
}

/** Lines of text are brought about the middle of their width; their height stays by capitals and baselines. */
function centredAcross(content: MarkContent): MarkContent {
  const box = boundsOfContent(content);
  if (box === undefined) return content;
  const about = { x: middleOf(box).x, y: 0 };
  switch (content.kind) {
    case "lines":
      return { ...content, chains: content.chains.map((c) => c.map((s) => scaledSegment(s, about, 1))) };
    case "area":
      return { ...content, region: scaledRegion(content.region, about, 1) };
    case "lines and areas":
    case "picture":
      return content;
  }
}

function chainOf(points: readonly Point[]): readonly Segment[] {
  return points.flatMap((p, i) => {
    const before = points[i - 1];
    return before === undefined || (before.x === p.x && before.y === p.y) ? [] : [line(before, p)];
  });
}

/** The text of each copy with its placeholders filled. */
function filledTexts(on: OnPart, said: TextSaid, ground: MarkGround): readonly string[] | undefined {
  const date = dateOf(on, said, ground);
  const serials = serialsOf(on, said, ground.copies);
  if (date === null || serials === null) return undefined;
  const texts: string[] = [];
  for (let i = 0; i < ground.copies; i++) {
    const copy = ground.each?.[i];
    const name = copy?.name ?? ground.part;
    const serial = serials?.[i];
    const values: PlaceholderValues = {
      name,
      drawer: name,
      count: String(ground.copies),
      ...(copy?.row !== undefined && { row: String(copy.row) }),
      ...(copy?.column !== undefined && { column: String(copy.column) }),
      ...(date !== undefined && { date }),
      ...(serial !== undefined && { serial }),
    };
    const filled = fillPlaceholders(said.text, values);
    if (!filled.ok) {
      told(on, filled.findings.map(withOwnMend), ["text"]);
      return undefined;
    }
    texts.push(filled.value);
  }
  return texts;
}

function withOwnMend(f: Finding): Finding {
  if (!/\{\s*(?:row|column)\s*\}/i.test(f.what)) return f;
  const mend =
    'add "each: [cinnamon, cloves]" to the part, and a "front view:" above the parts that has these drawers; or write it out';
  return { ...f, mend };
}

/** What the date is; null when a finding was made. */
function dateOf(on: OnPart, said: TextSaid, ground: MarkGround): string | undefined | null {
  const words = said.date?.toLowerCase().replace(/\s+/g, " ");
  if (words !== "today" && words !== "this month" && words !== "this year") return said.date;
  const today = /^(\d{4})-(\d{2})-(\d{2})$/.exec(ground.files.today ?? "");
  if (today === null) {
    refuseAt(
      on,
      ["date"],
      "mark-incomplete",
      "today's date is not to be had here",
      'write the date itself: "date: 25 November 2026"',
    );
    return null;
  }
  const [, year = "", month = "", day = ""] = today;
  const called = MONTHS[Number(month) - 1] ?? month;
  switch (words) {
    case "today":
      return `${Number(day)} ${called} ${year}`;
    case "this month":
      return `${called} ${year}`;
    case "this year":
      return year;
  }
}

const MONTHS = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December",
];

/** The serial of each copy; null when a finding was made. */
function serialsOf(on: OnPart, said: TextSaid, copies: number): readonly string[] | undefined | null {
  const { serial } = said;
  if (serial === undefined) return undefined;
  if (serial.kind === "from") return Array.from({ length: copies }, (_, i) => String(serial.first + i));
  if (serial.items.length === copies) return serial.items;
  refuseAt(
    on,
    ["serial"],
    "mark-copies",
    `${serial.items.length} serial numbers are given for ${copies} ${copies === 1 ? "copy" : "copies"}`,
    'give one for each copy, or write "serial: from 12"',
  );
  return null;
}

/** Findings of the lettering, at the value they are about. */
export function told(on: OnPart, findings: Outcome<unknown>["findings"], path: readonly string[]): void {
  for (const f of findings) {
    const place = {
      source: sourceAtPath(on, path),
      ...(on.part !== undefined && { part: on.part }),
      ...(on.feature !== undefined && { feature: on.feature }),
    };
    on.found.push({
      ...f,
      place: { ...place, ...f.place },
      mend: f.mend ?? "change it, or take the mark out",
    });
  }
}
