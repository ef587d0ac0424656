import { importDrawing } from "../shapes/drawing-import.ts";
import { decodePicture } from "../shapes/picture/decode.ts";
import type { GreyPicture } from "../shapes/picture/grey-picture.ts";
import { type SignatureFacts, signatureOutline, signatureStrokes } from "../shapes/picture/signature.ts";
import type { Point } from "../shapes/point.ts";
import { bytesIn, fileIn } from "./files.ts";
import type { MarkContent, MarkOrigin } from "./mark.ts";
import { boxOf, middleOf, scaledRegion, scaledSegment } from "./mark-content.ts";
import type { MarkGround } from "./mark-ground.ts";
import { told } from "./mark-text.ts";
import { type OnPart, refuseAt } from "./places.ts";

/** A drawing, picture or signature as said. */
export interface ArtSaid {
  readonly drawing?: string | undefined;
  readonly id?: string | undefined;
  readonly class?: string | undefined;
  readonly placed?: "centred" | "as drawn" | undefined;
  readonly picture?: string | undefined;
  readonly signature?: string | undefined;
  readonly "drawn as"?: "pen strokes" | "outline" | undefined;
  readonly width?: number | undefined;
}

/** A drawing from a file, in its true size or to the width given. */
export function drawingContent(on: OnPart, named: string, said: ArtSaid, ground: MarkGround): MarkContent | undefined {
  const file = fileIn(ground.files, named);
  if (!file.ok) {
    refuseAt(on, ["drawing"], file.code, file.what, file.mend);
    return undefined;
  }
  const read = importDrawing(file.text, {
    file: file.path,
    ...(said.id !== undefined && { id: said.id }),
    ...(said.class !== undefined && { class: said.class }),
    ...(said.width !== undefined && { size: { by: "width", mm: said.width } }),
  });
  told(on, read.findings, ["drawing"]);
  if (!read.ok) return undefined;
  const about = said.placed === "as drawn" ? { x: 0, y: 0 } : middleOf(read.value.box);
  const chains = read.value.chains.map((c) => c.map((s) => scaledSegment(s, about, 1)));
  const region = scaledRegion(read.value.region, about, 1);
  const from = { kind: "drawing", file: file.path } as const;
  if (region.loops.length === 0) return { kind: "lines", chains, from };
  if (chains.length === 0) return { kind: "area", region, from };
  return { kind: "lines and areas", chains, region, from };
}

/** A picture to be burned in dots, as wide as the job says. */
export function pictureContent(on: OnPart, named: string, said: ArtSaid, ground: MarkGround): MarkContent | undefined {
  const found = greyPicture(on, "picture", named, said.width, ground);
  if (found === undefined) return undefined;
  const { grey, width, file } = found;
  return { kind: "picture", grey, width, height: (width * grey.height) / grey.width, from: { kind: "picture", file } };
}

/** A photographed signature, as the lines of the pen or the area of the ink, about the middle of its ink. */
export function signatureContent(
  on: OnPart,
  named: string,
  said: ArtSaid,
  ground: MarkGround,
): MarkContent | undefined {
  const found = greyPicture(on, "signature", named, said.width, ground);
  if (found === undefined) return undefined;
  const wishes = { width: found.width };
  const from = (facts: SignatureFacts, middle: Point): MarkOrigin => ({
    kind: "signature",
    file: found.file,
    photo: { grey: facts.flat, width: found.width, height: facts.height, middle },
  });
  if (said["drawn as"] === "outline") {
    const read = signatureOutline(found.grey, wishes);
    told(on, read.findings, ["signature"]);
    const box = read.ok ? boxOf(read.value.region.loops.flat()) : undefined;
    if (!read.ok || box === undefined) return undefined;
    const about = middleOf(box);
    return { kind: "area", region: scaledRegion(read.value.region, about, 1), from: from(read.value, about) };
  }
  const read = signatureStrokes(found.grey, wishes);
  told(on, read.findings, ["signature"]);
  const box = read.ok ? boxOf(read.value.strokes.flatMap((s) => s.segments)) : undefined;
  if (!read.ok || box === undefined) return undefined;
  const about = middleOf(box);
  return {
    kind: "lines",
    chains: read.value.strokes.map((s) => s.segments.map((g) => scaledSegment(g, about, 1))),
    from: from(read.value, about),
  };
}

function greyPicture(
  on: OnPart,
  key: "picture" | "signature",
  named: string,
  width: number | undefined,
  ground: MarkGround,
): { readonly grey: GreyPicture; readonly width: number; readonly file: string } | undefined {
  const file = bytesIn(ground.files, named);
  if (!file.ok) {
    refuseAt(on, [key], file.code, file.what, file.mend);
    return undefined;
  }
  if (width === undefined) {
    const what = `it is not said how wide this ${key} is on the wood`;
    refuseAt(on, [key], "mark-incomplete", what, 'add "width: 40": the whole picture, with its margins');
    return undefined;
  }
  const read = decodePicture(file.bytes);
  told(on, read.findings, [key]);
  return read.ok ? { grey: read.value, width, file: file.path } : undefined;
}
