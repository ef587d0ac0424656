import type { Finding } from "../finding.ts";
import type { FaceName, Size } from "../job/board.ts";
import type { At, Feature, MortiseFeature, PartDescription } from "../job/job.ts";
import { fitFinding, mmText, PRACTICE, type Said } from "./said.ts";

/**
 * A divider between two case boards, joined at both ends by loose tenons. Described lying down: its first end meets the
 * left (or lower) board, its second end the right (or upper); its lower edge is the front edge. All mm.
 */
export interface DividerAsk {
  readonly said: Said;
  readonly wood: string;
  /** Between the two case boards. */
  readonly length: number;
  /** From its front edge to its back edge. */
  readonly depth: number;
  readonly thickness: number;
  /** Thickness of the board that it meets. */
  readonly caseThickness: number;
  /** From the case board's front edge to the divider's front edge. */
  readonly setBack: number;
  /** From the case board's first end (its bottom end) to the middle of the divider's thickness. */
  readonly at: number;
  /** Width of the mortises; absent: a third of the thickness, to the half millimetre, as far as a bit of the shop has it. */
  readonly mortiseWidth?: number;
  /** Widths that the shop's bits cut in one pass. */
  readonly bits: readonly number[];
  /** A long divider stands higher on its end than most machines reach: then its mortises are marked out and cut by hand. */
  readonly endsMade: "by machine" | "by hand";
  /** How far the tenon goes into the divider and into the case board. Absent: planned. */
  readonly into?: { readonly divider: number; readonly board: number };
}

/** One mortise along the divider's depth, from its front edge. mm */
export interface TenonPlace {
  readonly centre: number;
  /** Over the round ends. */
  readonly length: number;
}

/** A divider's joints, sized. mm */
export interface DividerJoints {
  readonly places: readonly TenonPlace[];
  readonly width: number;
  readonly depth: { readonly divider: number; readonly board: number };
  /** Wood from the mortise to the divider's faces, to its edges, and to the far face of the case board. */
  readonly wood: { readonly faces: number; readonly edges: number; readonly board: number };
  /** The loose tenon: `length` along its grain, from board to divider. */
  readonly tenon: Size;
  readonly divider: PartDescription;
  /** The mortises in its two ends, whether the divider carries them as features or not: for setting out by hand. */
  readonly endMortises: readonly (Feature & MortiseFeature)[];
  /**
   * For the right-hand case board, described with its inside as face, its bottom end as first end and its front edge as
   * lower edge. The left-hand one is its mirror image and gets the same from that.
   */
  readonly boardFeatures: readonly (Feature & MortiseFeature)[];
  readonly tenonPart: PartDescription;
  readonly findings: readonly Finding[];
}

/**
 * Deeper than the tenon, for glue and dust: 1/16 to 1/8 in (Popular Woodworking, "Make more room in the mortise"); the
 * middle is taken.
 */
export const DEEPER = { least: 1.6, most: 3.2, taken: 2.4 };
/** Width of a mortise as a share of the member: general joinery rule, from memory. */
const SHARE = 1 / 3;
/** A loose tenon is thinner than its mortise by this, mm: 0.05 to 0.15, common practice, no source. */
const TENON_PLAY = 0.1;
/** And narrower by this, so that it can be shifted until faces are flush, mm: common practice, no source. */
const TENON_SHIFT = 1;
/** All common practice, no source; mm. */
const LEAST_FACE = 3;
const LEAST_BEHIND = 4;
const LEAST_EDGE = 10;
const LONGEST = 40;
const SHORTEST_IN_WIDTHS = 2;
const BETWEEN = 15;
const DEEPEST_IN_DIVIDER = 25;

/** Sizes and places a divider's mortises, the same at both ends, so that left and right case boards are mirror images. */
export function dividerJoints(ask: DividerAsk): DividerJoints {
  const width = ask.mortiseWidth ?? widthFor(ask.thickness, ask.bits);
  const places = placesFor(ask.depth, width);
  const board = ask.into
    ? ask.into.board + DEEPER.taken
    : Math.max(0, Math.floor((ask.caseThickness - LEAST_BEHIND) * 2) / 2);
  const divider = ask.into ? ask.into.divider + DEEPER.taken : Math.min(DEEPEST_IN_DIVIDER, ask.length / 4);
  const first = places[0];
  const tenon: Size = {
    length: board + divider - 2 * DEEPER.taken,
    width: (first?.length ?? 0) - TENON_SHIFT,
    thickness: width - TENON_PLAY,
  };
  const wood = {
    faces: (ask.thickness - width) / 2,
    edges: first === undefined ? 0 : first.centre - first.length / 2,
    board: ask.caseThickness - board,
  };
  const endMortises = (["first end", "second end"] as const).flatMap((end) =>
    places.map((p, i) => endMortise(ask, end, p, i, width, divider)),
  );
  return {
    places,
    width,
    depth: { divider, board },
    wood,
    tenon,
    divider: dividerPart(ask, ask.endsMade === "by machine" ? endMortises : []),
    endMortises,
    boardFeatures: places.map((p, i) => boardMortise(ask, p, i, width, board)),
    tenonPart: tenonPart(ask, tenon, 2 * places.length),
    findings: findingsOf(ask, { places, width, wood, tenon }),
  };
}

/** The bit nearest to a third of the thickness; half millimetres where the shop has none. */
function widthFor(thickness: number, bits: readonly number[]): number {
  const third = thickness * SHARE;
  const fitting = bits.filter((b) => b > 0 && b < thickness / 2);
  return (
    fitting.reduce<number | undefined>(
      (best, b) => (best === undefined || Math.abs(b - third) < Math.abs(best - third) ? b : best),
      undefined,
    ) ?? Math.max(0.5, Math.round(third * 2) / 2)
  );
}

/** Mortises all alike, spread evenly with the same wood at both edges: one in a narrow divider, more as it grows. */
function placesFor(depth: number, width: number): readonly TenonPlace[] {
  const room = depth - 2 * LEAST_EDGE;
  const least = SHORTEST_IN_WIDTHS * width;
  if (room < least) return room <= width ? [] : [{ centre: depth / 2, length: room }];
  // Two where both are long enough to be worth it: one alone lets the divider twist.
  const two = room >= 2 * least + BETWEEN;
  const count = two ? Math.max(2, Math.ceil(room / (4 * LONGEST))) : 1;
  const length = Math.min(LONGEST, Math.floor((room - (count - 1) * BETWEEN) / count));
  if (count === 1) return [{ centre: depth / 2, length }];
  const first = LEAST_EDGE + length / 2;
  const step = (depth - 2 * first) / (count - 1);
  return Array.from({ length: count }, (_, i) => ({ centre: first + i * step, length }));
}

function mortise(
  ask: DividerAsk,
  name: string,
  on: FaceName,
  at: At,
  p: TenonPlace,
  width: number,
  depth: number,
  turnedDeg: number,
): Feature & MortiseFeature {
  return {
    name,
    kind: "mortise",
    on,
    source: ask.said.source,
    sources: ask.said.sources ?? {},
    length: p.length,
    width,
    depth: { kind: "to", depth },
    at,
    turnedDeg,
  };
}

/** In the divider's end: along the edge-to-edge direction, midway of the thickness. */
function endMortise(
  ask: DividerAsk,
  end: "first end" | "second end",
  p: TenonPlace,
  i: number,
  width: number,
  depth: number,
): Feature & MortiseFeature {
  const at: At = [
    { distance: p.centre, border: "lower edge", reach: "centre" },
    { distance: ask.thickness / 2, border: "face", reach: "centre" },
  ];
  return mortise(
    ask,
    `mortise ${i + 1} in the ${end === "first end" ? "left" : "right"} end`,
    end,
    at,
    p,
    width,
    depth,
    0,
  );
}

/** In the case board's inside, long from front to back. */
function boardMortise(
  ask: DividerAsk,
  p: TenonPlace,
  i: number,
  width: number,
  depth: number,
): Feature & MortiseFeature {
  const at: At = [
    { distance: ask.at, border: "first end", reach: "centre" },
    { distance: ask.setBack + p.centre, border: "lower edge", reach: "centre" },
  ];
  return mortise(ask, `${ask.said.part}, mortise ${i + 1}`, "face", at, p, width, depth, 90);
}

function dividerPart(ask: DividerAsk, features: readonly Feature[]): PartDescription {
  return {
    name: ask.said.part,
    wood: ask.wood,
    size: { length: ask.length, width: ask.depth, thickness: ask.thickness },
    grain: "along length",
    copies: 1,
    labels: {
      face: "face",
      back: "back",
      "lower edge": "front edge",
      "upper edge": "back edge",
      "first end": "left end",
      "second end": "right end",
    },
    faceSide: "face",
    faceEdge: "lower edge",
    features,
    wishes: {},
    source: ask.said.source,
  };
}

function tenonPart(ask: DividerAsk, size: Size, copies: number): PartDescription {
  return {
    name: `${ask.said.part}, loose tenon`,
    wood: ask.wood,
    size,
    grain: "along length",
    copies,
    labels: {
      face: "face",
      back: "back",
      "lower edge": "rounded edge",
      "upper edge": "other rounded edge",
      "first end": "case end",
      "second end": "divider end",
    },
    faceSide: "face",
    faceEdge: "lower edge",
    features: [],
    wishes: {},
    source: ask.said.source,
  };
}

function findingsOf(
  ask: DividerAsk,
  j: Pick<DividerJoints, "places" | "width" | "wood" | "tenon">,
): readonly Finding[] {
  const { said } = ask;
  const out: Finding[] = [];
  const shortest = j.places[0]?.length ?? 0;
  const enters = ask.caseThickness - j.wood.board - DEEPER.taken;
  if (enters < j.width / 2) {
    out.push(
      fitFinding(
        said,
        enters <= 0 || j.tenon.length <= 0 ? "refuse" : "caution",
        "fit-divider-tenon-short",
        {
          what: "the case board is thin for a loose tenon",
          why: `the tenon goes ${mmText(enters)} into ${mmText(ask.caseThickness)}`,
          mend: "house the divider in the case boards instead, or take thicker boards",
        },
        { found: enters, limit: j.width / 2, from: PRACTICE },
      ),
    );
  }
  if (j.places.length === 0 || shortest < j.width || j.wood.edges <= 0 || j.tenon.width <= 0) {
    out.push(
      fitFinding(said, "refuse", "fit-divider-narrow", {
        what: "the divider is too narrow for a mortise",
        why: `it is ${mmText(ask.depth)} from front to back; a mortise ${mmText(j.width)} wide and ${mmText(LEAST_EDGE)} of wood at both edges leave no length`,
        mend: "make it wider, or join it another way",
      }),
    );
  }
  if (j.wood.faces <= 0 || j.tenon.thickness <= 0) {
    out.push(
      fitFinding(
        said,
        "refuse",
        "fit-divider-outside",
        {
          what: "the mortise is as wide as the divider is thick",
          why: `${mmText(j.width)} in ${mmText(ask.thickness)}`,
          mend: "about a third of the thickness is usual",
          keys: ["mortise width"],
        },
        { found: j.width, limit: ask.thickness, from: "the divider's thickness" },
      ),
    );
  } else if (j.wood.faces < LEAST_FACE) {
    out.push(
      fitFinding(
        said,
        "caution",
        "fit-divider-thin",
        {
          what: "little wood is left beside the divider's mortises",
          why: `${mmText(j.wood.faces)} to each face`,
          mend: "take a narrower mortise: about a third of the thickness",
          keys: ["mortise width"],
        },
        { found: j.wood.faces, limit: LEAST_FACE, from: PRACTICE },
      ),
    );
  }
  if (j.wood.board <= 0) {
    out.push(
      fitFinding(
        said,
        "refuse",
        "fit-divider-mortise-through",
        {
          what: "the mortise goes through the case board",
          why: `${mmText(ask.caseThickness - j.wood.board)} deep in ${mmText(ask.caseThickness)}`,
          mend: "take a shorter tenon",
        },
        { found: j.wood.board, limit: 0, from: "the case board's thickness" },
      ),
    );
  } else if (j.wood.board < LEAST_BEHIND) {
    out.push(
      fitFinding(
        said,
        "caution",
        "fit-divider-mortise-deep",
        {
          what: "little wood is left behind the mortises in the case board",
          why: `${mmText(j.wood.board)}: it may show through when the glue dries`,
          mend: "take a shorter tenon",
        },
        { found: j.wood.board, limit: LEAST_BEHIND, from: PRACTICE },
      ),
    );
  }
  return out;
}
