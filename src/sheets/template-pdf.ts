import type { TurnedPiece } from "../parts/turned-piece.ts";
import { drawingsPdf } from "./pdf.ts";
import type { PaperName } from "./pdf-tiles.ts";
import { storyStickDrawing, templateDrawing } from "./template.ts";

/** The half-profile template and the story stick of a piece as one PDF, true to scale, tiled on the paper named. */
export function templatePdf(piece: TurnedPiece, paper: PaperName): Uint8Array {
  return drawingsPdf([templateDrawing(piece), storyStickDrawing(piece)], paper);
}
