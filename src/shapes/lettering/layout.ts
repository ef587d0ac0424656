import type { Finding, Outcome } from "../../finding.ts";
import type { Point } from "../point.ts";
import { quoted, refusal } from "./say.ts";
import { extentOfInk, type Ink, type SetLine, type Typeface } from "./typeface.ts";

/** How large: the height of a capital H, or the width that the longest line's ink fills. mm, above 0. */
export type LetterSize =
  | { readonly by: "cap height"; readonly mm: number }
  | { readonly by: "width"; readonly mm: number };

/** Where lines begin, are centred, or end: by their ink, not by the air beside it. */
export type Alignment = "left" | "centre" | "right";

/**
 * Where the text stands, mm and degrees.
 * `line`: `at` is the aligned end (or middle) of the text, baseline turned counter-clockwise by `turnedDeg`.
 * `arc`: baselines on circles about `centre`, lengths true along them; the aligned end (or middle) lies in direction
 * `atDeg` (0 = +X, counter-clockwise). `outside`: tops away from the centre, read clockwise, as over an arch; further
 * lines lie nearer to the centre. `inside`: tops towards it, read counter-clockwise, as along the foot of a plate;
 * further lines lie farther out.
 */
export type TextPlace =
  | { readonly kind: "line"; readonly at: Point; readonly turnedDeg: number }
  | {
      readonly kind: "arc";
      readonly centre: Point;
      readonly radius: number;
      readonly atDeg: number;
      readonly side: "outside" | "inside";
    };

/** Everything about a text but its face. */
export interface TextLayout {
  /** Lines parted by "\n"; an empty one leaves its room. Placeholders filled before. */
  readonly text: string;
  readonly size: LetterSize;
  readonly align: Alignment;
  /** Added between letters, in cap heights; may be below zero. 0 for the face's own spacing. */
  readonly letterSpacing: number;
  /** From baseline to baseline, in cap heights, above 0. See `USUAL_LINE_SPACING`. */
  readonly lineSpacing: number;
  /**
   * What of the text stands at `at` (or on the radius): a baseline, or the middle between the first line's cap height
   * and the last baseline.
   */
  readonly standing: "first baseline" | "middle" | "last baseline";
  readonly place: TextPlace;
}

/** Cap heights from baseline to baseline where nothing else is wished: room for accents above and tails below. */
export const USUAL_LINE_SPACING = 1.8;

/** Most characters in one mark. */
export const MOST_CHARACTERS = 1000;

/** Longest line and highest letter, mm: beyond any board, and what damaged fonts ask for. */
const LARGEST_TEXT = 5000;

/** A letter in its place: the glyph's units × `scale`, turned by `turnRad`, its origin at `at`. mm. */
export interface PlacedGlyph {
  readonly ink: Ink;
  readonly scale: number;
  readonly turnRad: number;
  readonly at: Point;
  /** Which line, from 0. */
  readonly line: number;
  /** Middle of its advance along the line, mm from the line's aligned point, towards its end. */
  readonly along: number;
}

/** Text with every letter in its place. mm. */
export interface TextInPlace {
  readonly glyphs: readonly PlacedGlyph[];
  readonly capHeight: number;
  /** Of each line: length of its ink along the baseline, and of its advances with the spacing between. 0 for a blank. */
  readonly lines: readonly { readonly ink: number; readonly advance: number }[];
}

interface Measured {
  readonly line: SetLine;
  /** Ink along the baseline, units, spacing included; undefined for a blank line. */
  readonly ink: { readonly from: number; readonly to: number } | undefined;
  readonly advance: number;
}

/**
 * Sets text in a face: sizes, aligns and places its letters. Letters along an arc are turned, not bent: each stands with
 * the middle of its advance on the circle, at its true length along it.
 * Refuses: characters the face lacks; nothing to draw; more than `MOST_CHARACTERS`; lines that don't fit their circle,
 * or no board at all.
 */
export function layText(face: Typeface, layout: TextLayout): Outcome<TextInPlace> {
  const { size, place } = layout;
  for (const [what, value] of [
    ["a letter size", size.mm],
    ["line spacing", layout.lineSpacing],
    ["a radius", place.kind === "arc" ? place.radius : 1],
  ] as const) {
    if (!(value > 0 && Number.isFinite(value))) throw new RangeError(`${what} must be above zero, not ${value}`);
  }
  const text = layout.text.replace(/\r\n?/g, "\n").replace(/\t/g, " ");
  if (text.length > MOST_CHARACTERS) {
    return no(
      refusal(
        "lettering-too-long",
        `a text of ${text.length} characters is too long`,
        `at most ${MOST_CHARACTERS} go into one mark`,
        "divide it among several marks",
      ),
    );
  }
  const set = text.split("\n").map((line) => face.setLine(line, layout.letterSpacing === 0));
  const findings = set.flatMap((s) => s.findings);
  const spacing = layout.letterSpacing * face.capHeight;
  const measured = set.flatMap((s) => (s.ok ? [measure(s.value, spacing)] : []));
  if (measured.length < set.length) return { ok: false, findings };
  const widest = Math.max(...measured.map((m) => (m.ink === undefined ? 0 : m.ink.to - m.ink.from)));
  if (measured.every((m) => m.ink === undefined)) {
    return no(refusal("lettering-empty", `nothing to draw in ${quoted(text)}`, undefined, "give it some letters"));
  }
  if (size.by === "width" && !(widest > 0)) {
    return no(
      refusal(
        "lettering-does-not-fit",
        `${quoted(text)} has no width to fill`,
        undefined,
        "give the height of its capitals instead",
      ),
    );
  }
  const scale = size.mm / (size.by === "width" ? widest : face.capHeight);
  const capHeight = scale * face.capHeight;
  const reach = scale * Math.max(...measured.map(reachOf));
  if (!(reach <= LARGEST_TEXT)) {
    return no(
      refusal(
        "lettering-does-not-fit",
        `${quoted(text)} would be larger than any board`,
        `${mm(reach)} from its beginning to its end`,
        "give smaller letters, or take another font",
      ),
    );
  }
  const tooTight = place.kind === "arc" ? fitOnArc(layout, place, measured, scale, capHeight) : undefined;
  if (tooTight !== undefined) return no(tooTight);
  const glyphs = measured.flatMap((m, line) =>
    m.ink === undefined ? [] : placeLine(m, m.ink, line, measured.length, layout, spacing, scale, capHeight),
  );
  return {
    ok: true,
    findings,
    value: {
      glyphs,
      capHeight,
      lines: measured.map((m) => ({
        ink: m.ink === undefined ? 0 : scale * (m.ink.to - m.ink.from),
        advance: scale * m.advance,
      })),
    },
  };
}

function no(finding: Finding): Outcome<never> {
  return { ok: false, findings: [finding] };
}

function measure(line: SetLine, spacing: number): Measured {
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  let last = 0;
  for (const g of line.glyphs) {
    last = Math.max(last, g.letter);
    const box = extentOfInk(g.ink);
    if (box === undefined) continue;
    const origin = g.pen + g.dx + g.letter * spacing;
    from = Math.min(from, origin + box.minX);
    to = Math.max(to, origin + box.maxX);
  }
  return { line, ink: from <= to ? { from, to } : undefined, advance: line.advance + last * spacing };
}

/** Farthest that a line's ink lies from its beginning on the baseline, units. */
function reachOf(m: Measured): number {
  let far = Math.abs(m.advance);
  for (const g of m.line.glyphs) {
    const box = extentOfInk(g.ink);
    if (box === undefined) continue;
    far = Math.max(far, Math.abs(g.pen + g.dx + box.minX), Math.abs(g.pen + g.dx + box.maxX));
    far = Math.max(far, Math.abs(g.dy + box.minY), Math.abs(g.dy + box.maxY));
  }
  return far;
}

/** How far the first baseline stands above the place asked for (towards the tops of the letters). mm. */
function riseOfFirst(layout: TextLayout, lines: number, capHeight: number): number {
  const below = (lines - 1) * layout.lineSpacing * capHeight;
  switch (layout.standing) {
    case "first baseline":
      return 0;
    case "middle":
      return (below - capHeight) / 2;
    case "last baseline":
      return below;
  }
}

function rise(layout: TextLayout, line: number, lines: number, capHeight: number): number {
  return riseOfFirst(layout, lines, capHeight) - line * layout.lineSpacing * capHeight;
}

function placeLine(
  m: Measured,
  ink: { readonly from: number; readonly to: number },
  line: number,
  lines: number,
  layout: TextLayout,
  spacing: number,
  scale: number,
  capHeight: number,
): PlacedGlyph[] {
  const { align, place } = layout;
  const zero = align === "left" ? ink.from : align === "right" ? ink.to : (ink.from + ink.to) / 2;
  const up = rise(layout, line, lines, capHeight);
  return m.line.glyphs
    .filter((g) => extentOfInk(g.ink) !== undefined)
    .map((g) => {
      const pen = g.pen + g.letter * spacing;
      const along = scale * (pen + g.advance / 2 - zero);
      const foot = footAt(place, along, up);
      // From the middle of the advance on the baseline to the glyph's origin.
      const dx = scale * (g.dx - g.advance / 2);
      const dy = scale * g.dy;
      const cos = Math.cos(foot.turnRad);
      const sin = Math.sin(foot.turnRad);
      return {
        ink: g.ink,
        scale,
        turnRad: foot.turnRad,
        at: { x: foot.at.x + dx * cos - dy * sin, y: foot.at.y + dx * sin + dy * cos },
        line,
        along,
      };
    });
}

/** The point of a baseline `along` mm from its aligned point, and how the letter there is turned. */
function footAt(place: TextPlace, along: number, up: number): { readonly at: Point; readonly turnRad: number } {
  switch (place.kind) {
    case "line": {
      const turnRad = (place.turnedDeg * Math.PI) / 180;
      const cos = Math.cos(turnRad);
      const sin = Math.sin(turnRad);
      return { at: { x: place.at.x + along * cos - up * sin, y: place.at.y + along * sin + up * cos }, turnRad };
    }
    case "arc": {
      const radius = baselineRadius(place, up);
      const start = (place.atDeg * Math.PI) / 180;
      const outside = place.side === "outside";
      const angle = outside ? start - along / radius : start + along / radius;
      const at = {
        x: place.centre.x + radius * Math.cos(angle),
        y: place.centre.y + radius * Math.sin(angle),
      };
      return { at, turnRad: outside ? angle - Math.PI / 2 : angle + Math.PI / 2 };
    }
  }
}

function baselineRadius(place: Extract<TextPlace, { readonly kind: "arc" }>, up: number): number {
  return place.side === "outside" ? place.radius + up : place.radius - up;
}

/** Refuses lines that reach round their whole circle, or circles too small for the letters. */
function fitOnArc(
  layout: TextLayout,
  place: Extract<TextPlace, { readonly kind: "arc" }>,
  measured: readonly Measured[],
  scale: number,
  capHeight: number,
): Finding | undefined {
  for (const [line, m] of measured.entries()) {
    if (m.ink === undefined) continue;
    const radius = baselineRadius(place, rise(layout, line, measured.length, capHeight));
    // Letters that stand towards the centre must not reach it.
    const least = place.side === "inside" ? capHeight : 0;
    const length = scale * (m.ink.to - m.ink.from);
    const round = 2 * Math.PI * radius;
    const which = measured.length === 1 ? "the text" : `line ${line + 1}`;
    if (!(radius > least)) {
      return refusal(
        "lettering-does-not-fit",
        `${which} has no room on its arc`,
        `its baseline would lie ${mm(radius)} from the centre, with capitals ${mm(capHeight)} high`,
        "give a larger radius or smaller letters",
      );
    }
    if (length > round) {
      return refusal(
        "lettering-does-not-fit",
        `${which} is longer than its whole circle`,
        `${mm(length)} of letters, ${mm(round)} around`,
        `give a radius of ${mm((place.radius * length) / round)} or more, or smaller letters`,
      );
    }
  }
  return undefined;
}

function mm(value: number): string {
  return `${value.toFixed(2)} mm`;
}
