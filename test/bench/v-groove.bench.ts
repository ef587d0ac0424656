import { edgesOf } from "../../src/parts/marks/v-groove.ts";
import { waysAlongAxis } from "../../src/paths/v-ways.ts";
import { markedBoard, proofOf, refusalCodes } from "../proof/cut-mark-help.ts";
import { type Row, timed } from "./row.ts";

/** A name plate cut with a V: from the job's text to its proof. */
export default async function (): Promise<Row[]> {
  const features = [
    "- mark: name",
    "  text: Till 2026",
    "  letters: book",
    "  cap height: 8",
    "  centre at: 30 from first end, 20 from lower edge",
    "  made by: v groove",
  ];
  const board = markedBoard(features);
  const [cavity] = board.planned.setUp.cavities;
  const edges = edgesOf(cavity!);
  const bit = { tan: Math.tan(Math.PI / 6), tipFlat: 0.1 };
  const refused = refusalCodes(proofOf(board, board.text));
  return [
    {
      name: 'ways along the medial axis, "Till 2026"',
      unit: "ms",
      ...timed(() => waysAlongAxis({ edges, bit, cap: Number.POSITIVE_INFINITY }), 5),
    },
    { name: "described, planned, written", unit: "ms", ...timed(() => markedBoard(features), 3) },
    {
      name: "proved: every move, every place of the groove",
      unit: "ms",
      ...timed(() => proofOf(board, board.text), 3),
      note: refused.length === 0 ? "nothing refused" : refused.join(", "),
    },
  ];
}
