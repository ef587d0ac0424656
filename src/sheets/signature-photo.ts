import type { MarkOrigin, SignaturePhoto } from "../job/mark.ts";
import type { BeamAim, PlacedMark } from "../plan/beam-setup.ts";
import type { SetUp } from "../plan/setup.ts";
import type { Box } from "../shapes/point.ts";
import { boundsOf, type Segment } from "../shapes/segment.ts";
import { regionData, runData } from "./path-data.ts";
import { pictureData } from "./picture-data.ts";
import { decimal, element, text } from "./svg.ts";

/** A signature as it was photographed, and as it was read from the photo: in set-up coordinates. */
export interface ReadSignature {
  readonly name: string;
  readonly photo: SignaturePhoto;
  readonly strokes: readonly (readonly Segment[])[];
  /** Closed loops, inside by the even-odd rule. */
  readonly areas: readonly (readonly Segment[])[];
}

/** What is drawn, and where it ends on the sheet. */
export interface PhotoDrawing {
  readonly parts: readonly string[];
  readonly bottom: number;
}

const INK = "#1d1a16";
/** Pixels of a photo's longer side on a sheet: enough to see a pen's line, little enough for a file. */
const MOST_PIXELS = 360;
/** Largest height on the sheet, mm. */
const TALLEST = 60;
const GAP = 6;

/** The signatures among marks that are burned. */
export function burnedSignatures(marks: readonly PlacedMark[]): readonly ReadSignature[] {
  return together(
    marks.flatMap(({ mark, aim }) => {
      const photo = photoOf(mark.from);
      return photo === undefined ? [] : [{ name: mark.feature, photo, ...drawn(aim) }];
    }),
  );
}

/** The signatures among what the bit cuts: each cut as wide as the bit leaves it. */
export function cutSignatures({ target }: SetUp): readonly ReadSignature[] {
  return together(
    target.cavities.flatMap(({ cavity, section }) =>
      cavity.photo === undefined
        ? []
        : [{ name: cavity.feature, photo: cavity.photo, strokes: [], areas: section.loops }],
    ),
  );
}

/** The photo a mark was read from; absent: it was read from none. */
export function photoOf(from: MarkOrigin): SignaturePhoto | undefined {
  return from.kind === "signature" ? from.photo : undefined;
}

/**
 * Each signature beside its photo, both to one scale, the lines where they lie in the photo: what was left out or made up
 * shows at a glance. True size where the sheet is wide enough.
 */
export function signaturePhotos(
  signatures: readonly ReadSignature[],
  left: number,
  top: number,
  width: number,
): PhotoDrawing {
  const parts: string[] = [];
  let y = top;
  for (const { name, photo, strokes, areas } of signatures) {
    const box = boxOf([...strokes, ...areas]);
    if (box === undefined) continue;
    const scale = Math.min(1, (width - GAP) / (2 * photo.width), TALLEST / photo.height);
    const size = { width: photo.width * scale, height: photo.height * scale };
    const frame = { ...size, fill: "none", stroke: INK, "stroke-width": 0.2 };
    const right = left + size.width + GAP;
    const shown = scale === 1 ? "true size" : `${Math.round(100 * scale)} % of its size`;
    parts.push(
      text(left, y + 3, `${name}: the photo, its paper made white, and beside it what was read from it, ${shown}`, {
        "font-size": 3,
      }),
    );
    y += 5;
    const href = pictureData(photo.grey, MOST_PIXELS);
    parts.push(
      element("image", { x: left, y, ...size, href, preserveAspectRatio: "none" }),
      element("rect", { x: left, y, ...frame }),
      element("rect", { x: right, y, ...frame }),
    );
    // The photo's lower left corner is zero of its `middle`.
    const at = {
      left: photo.middle.x - (box.min.x + box.max.x) / 2,
      baseline: photo.height - photo.middle.y + (box.min.y + box.max.y) / 2,
    };
    const lines = strokes.map((run) => runData(at, run)).join("");
    const pen = { fill: "none", stroke: INK, "stroke-width": 0.2 / scale, "stroke-linejoin": "round" };
    parts.push(
      element(
        "g",
        { transform: `translate(${decimal(right)} ${decimal(y)}) scale(${String(scale)})` },
        ...(areas.length === 0
          ? []
          : [element("path", { d: regionData(at, { loops: areas }), fill: INK, "fill-rule": "evenodd" })]),
        ...(lines === "" ? [] : [element("path", { d: lines, ...pen })]),
      ),
    );
    y += size.height + 3;
  }
  return { parts, bottom: y };
}

function drawn(aim: BeamAim): Pick<ReadSignature, "strokes" | "areas"> {
  switch (aim.kind) {
    case "lines":
      return { strokes: aim.chains, areas: [] };
    case "area":
      return { strokes: [], areas: aim.region.loops };
    case "through":
      return { strokes: aim.outline.loops, areas: [] };
    case "dots":
      return { strokes: [], areas: [] };
  }
}

/** One for each photo: a mark may have become several. */
function together(found: readonly ReadSignature[]): readonly ReadSignature[] {
  const names = [...new Set(found.map((f) => f.name))];
  return names.map((name) => {
    const own = found.filter((f) => f.name === name);
    return { ...own[0]!, strokes: own.flatMap((f) => f.strokes), areas: own.flatMap((f) => f.areas) };
  });
}

function boxOf(runs: readonly (readonly Segment[])[]): Box | undefined {
  let box: Box | undefined;
  for (const s of runs.flat()) {
    const { min, max } = boundsOf(s);
    box =
      box === undefined
        ? { min, max }
        : {
            min: { x: Math.min(box.min.x, min.x), y: Math.min(box.min.y, min.y) },
            max: { x: Math.max(box.max.x, max.x), y: Math.max(box.max.y, max.y) },
          };
  }
  return box;
}
