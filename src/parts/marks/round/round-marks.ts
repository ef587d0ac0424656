import type { Finding, Source } from "../../../finding.ts";
import type { FaceName } from "../../../job/board.ts";
import type { MarkContent, TurnedMark } from "../../../job/mark.ts";
import { turnBy } from "../../../shapes/plan-map.ts";
import { line } from "../../../shapes/segment.ts";
import { mmText, type OfOneCopy } from "../../ground.ts";
import type { TurnedPiece } from "../../turned-piece.ts";
import { inkOf, mapInk } from "../ink.ts";
import type { Ink, Mark } from "../mark.ts";
import { once } from "../once.ts";
import { besideRoom, guidePieces, guideSegment, reachAtEnd } from "./guide-lines.ts";
import { type LaidInk, type LayTrouble, layInk, ontoFace, type RoundWood, type Side, sideFor } from "./lay-ink.ts";
import { layUnrolled, type UnrolledInk } from "./lay-unrolled.ts";
import { roundFindings } from "./round-findings.ts";

/** What is burned on a turned blank, its crown up on "face". */
export interface MarkedRound {
  readonly marks: readonly Mark[];
  /** What differs from copy to copy; absent: nothing. */
  readonly each?: readonly OfOneCopy[];
  readonly findings: readonly Finding[];
}

/** Lays all marks of a turned part around its blank. */
export function roundMarks(piece: TurnedPiece): MarkedRound {
  const all = (piece.marks ?? []).map((m, i) => oneMark(piece, m, i));
  const marks = all.flatMap((a) => a.marks);
  const copies = Math.max(0, ...all.map((a) => a.each?.length ?? 0));
  const each = Array.from({ length: copies }, (_, i) => ({
    cavities: [],
    marks: all.flatMap((a) => a.each?.[i]?.marks ?? []),
  }));
  return { marks, ...(each.length > 0 && { each }), findings: once(all.flatMap((a) => a.findings)) };
}

function oneMark(piece: TurnedPiece, mark: TurnedMark, nth: number): MarkedRound {
  const { made } = mark;
  if (made.by === "cut line" || made.by === "v-groove") {
    const mend = 'burn it: "made by: burned line"; or cut it into a flat part';
    const what = `a ${made.by} is not cut into a turned part`;
    return {
      marks: [],
      findings: [
        refusal(piece, mark, "mark-kind-unfit", ["made by"], what, "its depth would change all over the round", mend),
      ],
    };
  }
  const twins = (piece.marks ?? []).filter((m) => m.name === mark.name).length > 1;
  const id = `${piece.name}/${mark.name}${twins ? `/${nth + 1}` : ""}`;
  const base = { part: piece.name, feature: mark.name, source: mark.source, sources: mark.sources, made };
  if (mark.guide !== undefined) {
    const { lines, findings } = guideOf(piece, mark);
    const marks = lines.map(
      (l, i): Mark => ({
        ...base,
        id: `${id}/line ${i + 1}`,
        face: l.face,
        ink: l.ink,
        drop: l.drop,
        from: { kind: "line" },
      }),
    );
    return { marks, findings };
  }
  const contents = mark.each ?? [mark.content];
  const laid = contents.map((content) => lay(piece, mark, content));
  const findings: Finding[] = [];
  const own: Mark[] = [];
  for (const [i, one] of laid.entries()) {
    const found = "trouble" in one ? [troubleFinding(piece, mark, one)] : roundFindings(piece, mark, one);
    // What is said of one copy holds of all.
    if (i === 0 || (!findings.some((f) => f.grade === "refuse") && found.some((f) => f.grade === "refuse"))) {
      findings.push(...found);
    }
    if ("trouble" in one) continue;
    const { ink, stretch, drop, slopeDeg } = one;
    const from = contents[i]?.from ?? mark.content.from;
    const where =
      "radius" in one
        ? { face: "face" as const, unrolled: { radius: one.radius } }
        : { face: sideFor(mark.around).face };
    own.push({ ...base, id, ...where, ink, from, stretch, drop, slopeDeg });
  }
  if (mark.each === undefined) return { marks: own, findings };
  return { marks: [], each: own.map((m) => ({ cavities: [], marks: [m] })), findings };
}

/** The blank of a turned part as wood to lay marks on. */
export function woodOf(piece: TurnedPiece): RoundWood {
  return { meridian: piece.meridian, squares: piece.squares, length: piece.blank.length, across: piece.blank.across };
}

/** Around the wood as it is turned beneath the beam, where the part says so; else from above, at an index position. */
function lay(piece: TurnedPiece, mark: TurnedMark, content: MarkContent): LaidInk | UnrolledInk | LayTrouble {
  const ink = mapInk(turnBy(mark.turnedDeg), inkOf(content));
  if (piece.wishes.rotaryAxis === true) return layUnrolled(ink, piece, mark.along, mark.around);
  return layInk(ink, woodOf(piece), mark.along, sideFor(mark.around));
}

interface GuideLine {
  readonly face: FaceName;
  readonly ink: Ink;
  readonly drop: number;
}

function guideOf(
  piece: TurnedPiece,
  mark: TurnedMark,
): { readonly lines: readonly GuideLine[]; readonly findings: readonly Finding[] } {
  const { guide } = mark;
  const { length } = piece.blank;
  if (guide === undefined) throw new Error("a guide line without its places");
  const beyond = Math.max(-guide.from, guide.to - length);
  if (beyond > 1e-9) {
    const why = `it reaches ${mmText(beyond)} beyond the blank, which is ${mmText(length)} long`;
    return {
      lines: [],
      findings: [
        refusal(
          piece,
          mark,
          "mark-off-the-face",
          ["start at", "end at"],
          "this line runs off the blank",
          why,
          "let it end on the wood",
        ),
      ],
    };
  }
  if (guide.kind === "along") {
    const side = sideFor(mark.around);
    if (Math.abs(side.aside) > 1e-9) {
      const what = "a line along the axis lies on one of the four sides";
      const mend = 'write "around: 0", 90, 180 or 270';
      return {
        lines: [],
        findings: [refusal(piece, mark, "mark-between-index", ["around"], what, "the square ends give no other", mend)],
      };
    }
    const spans =
      side.index === 0 ? besideRoom(piece.fingerRoom, guide.from, guide.to) : [[guide.from, guide.to] as const];
    return pieced(
      piece,
      mark,
      spans.flatMap(([a, b]) => onSide(piece, side, a, b)),
      guide.to - guide.from,
    );
  }
  if (piece.split === undefined) {
    const what = "this part is not split, so it has no split line";
    const mend = 'add "- split: halves", or write "around:", "start at:" and "end at:" for a line';
    return { lines: [], findings: [refusal(piece, mark, "mark-unclear", ["along"], what, undefined, mend)] };
  }
  const spans = besideRoom(piece.fingerRoom, guide.from, guide.to);
  const crown = spans.flatMap(([a, b]) => onSide(piece, sideFor(0), a, b));
  const back = onSide(piece, sideFor(180), guide.from, guide.to);
  const ends = guide.ends ? (["first", "second"] as const).map((e) => acrossEnd(piece, e)) : [];
  return pieced(piece, mark, [...crown, ...back, ...ends], guide.to - guide.from);
}

/** Lines with a note where little of them could be drawn. */
function pieced(
  piece: TurnedPiece,
  mark: TurnedMark,
  lines: readonly GuideLine[],
  length: number,
): { readonly lines: readonly GuideLine[]; readonly findings: readonly Finding[] } {
  if (lines.length > 0) return { lines, findings: [] };
  const why = `nowhere along ${mmText(length)} is the wood level enough for 6 mm of line`;
  const mend = "draw it by hand, or move it to where the wood is a cylinder or square";
  return {
    lines,
    findings: [
      refusal(piece, mark, "mark-over-step", ["along", "start at"], "no part of this line can be drawn", why, mend),
    ],
  };
}

function onSide(piece: TurnedPiece, side: Side, from: number, to: number): readonly GuideLine[] {
  const wood = woodOf(piece);
  return guidePieces(piece, from, to).map((g) => {
    const s = guideSegment(g);
    const put = (p: { readonly x: number; readonly y: number }) => ontoFace(wood, side.index, p.x, p.y);
    return { face: side.face, ink: { kind: "lines", chains: [[line(put(s.from), put(s.to))]] }, drop: g.drop };
  });
}

/** The plane of the split across an end face: upright there, from the crown to 180 degrees. */
function acrossEnd(piece: TurnedPiece, end: "first" | "second"): GuideLine {
  const half = piece.blank.across / 2;
  const reach = reachAtEnd(piece, end);
  const chain = [line({ x: half, y: half - reach }, { x: half, y: half + reach })];
  return { face: end === "first" ? "first end" : "second end", ink: { kind: "lines", chains: [chain] }, drop: 0 };
}

function troubleFinding(piece: TurnedPiece, mark: TurnedMark, t: LayTrouble): Finding {
  switch (t.trouble) {
    case "no wood":
      return refusal(
        piece,
        mark,
        "mark-off-the-face",
        ["centre at"],
        "there is no wood where the middle of this mark lies",
        `it lies ${mmText(mark.along)} from the first end of a blank ${mmText(piece.blank.length)} long`,
        "give a place on the turned part or a square end, and not at a step",
      );
    case "step":
      return refusal(
        piece,
        mark,
        "mark-over-step",
        ["width", "cap height", "centre at"],
        `this mark runs ${mmText(t.over)} over a step of the profile or the end of the wood`,
        "the beam comes from above, and finds no wood to draw on there",
        t.over > 0
          ? `make it ${mmText(2 * t.over)} shorter along the axis, or move its middle by ${mmText(t.over)}`
          : "make it narrower",
      );
    case "too wide":
      return refusal(
        piece,
        mark,
        "mark-too-wide",
        ["width", "cap height", "centre at"],
        "this mark reaches round to where the wood turns under",
        `at most ${mmText(t.widest)} around the wood can be seen from this side`,
        `make it less than ${mmText(Math.floor(t.widest * 10) / 10)} wide around the wood; on a cylinder a machine's rotary axis can turn it under the beam: "index: rotary axis"`,
      );
    case "aside on a flat":
      return refusal(
        piece,
        mark,
        "mark-between-index",
        ["around"],
        "a square end has four sides and nothing between",
        `${Number(mark.around.toFixed(2))} degrees is on none of them`,
        'write "around: 0", 90, 180 or 270',
      );
    case "uneven":
      return refusal(
        piece,
        mark,
        "mark-not-on-cylinder",
        ["centre at", "width", "cap height"],
        "a mark on the rotary axis lies on a cylinder, and the wood beneath this one is none",
        t.least === undefined || t.most === undefined
          ? "it lies on a square end or beside the wood"
          : `its radius goes from ${mmText(t.least)} to ${mmText(t.most)} along the mark`,
        'move it onto a cylinder, or burn it from above: take "index: rotary axis" out',
      );
    case "more than a turn":
      return refusal(
        piece,
        mark,
        "mark-too-wide",
        ["width", "cap height", "centre at"],
        "this mark reaches more than once around the wood",
        `once around is ${mmText(t.whole)}`,
        `make it at most ${mmText(Math.floor(t.whole * 10) / 10)} wide around the wood`,
      );
  }
}

function refusal(
  piece: TurnedPiece,
  mark: TurnedMark,
  code: Finding["code"],
  keys: readonly string[],
  what: string,
  why: string | undefined,
  mend: string,
): Finding {
  const source: Source = keys.map((k) => mark.sources[k]).find((s) => s !== undefined) ?? mark.source;
  return {
    grade: "refuse",
    code,
    place: { part: piece.name, feature: mark.name, source },
    what,
    ...(why !== undefined && { why }),
    mend,
  };
}
