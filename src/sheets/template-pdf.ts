import type { TurnedPiece } from "../parts/turned-piece.ts";
import { drawingsPdf } from "./pdf.ts";
import type { PaperName } from "./pdf-tiles.ts";
import { stationTable, storyStickDrawing, templateDrawing } from "./template.ts";

/**
 * The half-profile template, the story stick and the table of their numbers as one PDF, true to scale, tiled on the paper
 * named.
 */
export function templatePdf(piece: TurnedPiece, paper: PaperName): Uint8Array {
  return drawingsPdf([templateDrawing(piece), storyStickDrawing(piece), stationTable(piece)], paper);
}
