import type { Finding, Outcome, Place } from "../../finding.ts";
import { fitArcs } from "../fit-arcs.ts";
import type { Point } from "../point.ts";
import type { Region } from "../region.ts";
import type { Segment } from "../segment.ts";
import { fitClear } from "./fit-clear.ts";
import type { Bitmap, GreyPicture } from "./grey-picture.ts";
import { outlineOf } from "./outline.ts";
import { despeckle } from "./specks.ts";
import { strokesOf } from "./strokes.ts";
import { flattenPaper, otsu } from "./threshold.ts";

/** How a photographed signature is read. */
export interface SignatureWishes {
  /** Width of the whole picture on the wood, mm, > 0; its height follows. */
  readonly width: number;
  /** Ink patches and holes of fewer pixels are taken for specks. Absent: 1 in 20,000 of the picture, at least 4. */
  readonly speck?: number;
  /** Grey below which is ink, 0 to 1, after the paper is made white. Absent: found by Otsu's rule. */
  readonly level?: number;
  /** How far the lines and arcs may lie from the outline or middle found, mm. Absent: 0.6 of a pixel. */
  readonly tolerance?: number;
}

/** What was read, for showing beside the photo. */
export interface SignatureFacts {
  /** mm a pixel. */
  readonly pitch: number;
  /** Height of the whole picture on the wood, mm. */
  readonly height: number;
  readonly level: number;
  /** How far the lines and arcs may lie from what was found, mm. */
  readonly tolerance: number;
  readonly specks: number;
  readonly pinholes: number;
  /** The picture with its paper made white. */
  readonly flat: GreyPicture;
  /** 1 is ink. */
  readonly ink: Bitmap;
}

/** A signature as the area its ink covers. Zero is the picture's lower left corner; mm, Y up. */
export interface SignatureOutline extends SignatureFacts {
  readonly region: Region;
}

/** One stroke of a signature. */
export interface SignatureStroke {
  readonly segments: readonly Segment[];
  readonly closed: boolean;
  /** Mean width of its ink, mm. */
  readonly width: number;
}

/** A signature as the lines the pen drew. Zero is the picture's lower left corner; mm, Y up. */
export interface SignatureStrokes extends SignatureFacts {
  readonly strokes: readonly SignatureStroke[];
}

/** Least difference of ink and paper, as a share of the paper's light, that is not called faint. Ours, no source. */
const CLEAR = 0.25;
/** Below this there is only the grain of the paper. Ours, no source. */
const NOTHING = 0.06;
/** Default tolerance of the fit, pixels: what the steps between pixels leave in doubt. */
const DOUBT = 0.6;

/** The outline of a photographed signature, fitted with lines and arcs. */
export function signatureOutline(
  picture: GreyPicture,
  wishes: SignatureWishes,
  place: Place = {},
): Outcome<SignatureOutline> {
  const read = readInk(picture, wishes, place);
  if (!read.ok) return read;
  const { facts } = read.value;
  const rings = outlineOf(facts.flat, facts.ink, facts.level).map((ring) => ring.map((p) => scaled(p, facts.pitch)));
  return {
    ok: true,
    value: { ...facts, region: fitClear(rings, facts.tolerance) },
    findings: read.findings,
  };
}

/** The middle of a photographed signature's strokes, fitted with lines and arcs. */
export function signatureStrokes(
  picture: GreyPicture,
  wishes: SignatureWishes,
  place: Place = {},
): Outcome<SignatureStrokes> {
  const read = readInk(picture, wishes, place);
  if (!read.ok) return read;
  const { facts } = read.value;
  const strokes = strokesOf(facts.ink)
    .map(({ points, closed, width }) => ({
      segments: fitArcs(
        points.map((p) => scaled(p, facts.pitch)),
        facts.tolerance,
        closed,
      ),
      closed,
      width: width * facts.pitch,
    }))
    .filter((s) => s.segments.length > 0);
  return { ok: true, value: { ...facts, strokes }, findings: read.findings };
}

function scaled(p: Point, pitch: number): Point {
  return { x: p.x * pitch, y: p.y * pitch };
}

function readInk(
  picture: GreyPicture,
  wishes: SignatureWishes,
  place: Place,
): Outcome<{ readonly facts: SignatureFacts }> {
  if (!(wishes.width > 0) || (wishes.tolerance !== undefined && !(wishes.tolerance > 0))) {
    throw new RangeError("a signature's width and tolerance must be above zero");
  }
  const none = (why: string): Outcome<{ readonly facts: SignatureFacts }> => ({
    ok: false,
    findings: [
      {
        grade: "refuse",
        code: "picture-no-ink",
        place,
        what: "No ink is found in the picture",
        why,
        mend: "photograph dark ink on white paper in even light, and crop the picture to the signature",
      },
    ],
  });
  const flat = flattenPaper(picture);
  const parted = otsu(flat);
  if (parted === undefined) return none("it is the same grey all over");
  const contrast = parted.paper - parted.ink;
  if (contrast < NOTHING) return none("nothing in it is clearly darker than the paper");
  const level = wishes.level ?? parted.level;
  const bits = Uint8Array.from(flat.grey, (v) => (v < level ? 1 : 0));
  const least = wishes.speck ?? Math.max(4, Math.round(bits.length / 20_000));
  const cleared = despeckle({ width: flat.width, height: flat.height, bits }, least);
  if (!cleared.bitmap.bits.includes(1)) return none(`all of it is specks of fewer than ${least} pixels`);
  const findings: Finding[] = [];
  if (contrast < CLEAR) {
    findings.push({
      grade: "caution",
      code: "picture-faint",
      place,
      what: "The ink is hardly darker than the paper",
      measured: { value: contrast, bound: 0, unit: "of the paper's light" },
      limit: { value: CLEAR, unit: "of the paper's light", from: "ours, no source" },
      mend: "look at the preview; a darker pen or a scan makes it sure",
    });
  }
  const pitch = wishes.width / picture.width;
  const facts: SignatureFacts = {
    pitch,
    height: pitch * picture.height,
    level,
    tolerance: wishes.tolerance ?? DOUBT * pitch,
    specks: cleared.specks,
    pinholes: cleared.pinholes,
    flat,
    ink: cleared.bitmap,
  };
  return { ok: true, value: { facts }, findings };
}
