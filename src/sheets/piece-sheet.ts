import { type Finding, tidy } from "../finding.ts";
import type { HoldingKit } from "../parts/holding-kit/holding.ts";
import type { TurnedPiece } from "../parts/turned-piece.ts";
import type { WallMap } from "../parts/walls/wall-map.ts";
import { orderOfWork, type PieceFiles } from "./piece-order.ts";
import { crossSection, crownView, elevation, flatView, pairView, sideView, type View } from "./piece-views.ts";
import { wallViews } from "./piece-walls.ts";
import { wrap } from "./sheet.ts";
import { decimal, element, escapeXml, text } from "./svg.ts";
import { stationsOf } from "./template-stations.ts";
import { turnedWorkCautions } from "./turning-cautions.ts";

/** All that the sheet of a turned piece shows. */
export interface PieceSheetContent {
  readonly jobTitle: string;
  readonly piece: TurnedPiece;
  readonly kit?: HoldingKit;
  readonly walls?: WallMap;
  /** How far the set-up may be off before wall or lip fail, in a sentence. */
  readonly holdsTo?: string;
  readonly files?: PieceFiles;
  /** Those about other parts are left out. */
  readonly findings: readonly Finding[];
}

const MARGIN = 14;
/** Width of the column that is read, and the gap before it, mm. */
const TEXT = 130;
const GAP = 8;
const INK = "#1d1a16";

/**
 * One page for a turned piece as SVG, true to scale: the piece from the front and from both index positions, across its
 * finger room, its walls, the order of work, places to write what was measured, and the cautions. Same input, same bytes.
 */
export function drawPieceSheet(content: PieceSheetContent): string {
  const { piece } = content;
  const left = Math.max(piece.blank.length + 40, 150);
  const title = column(MARGIN, 11, left + GAP + TEXT);
  title.say(`${content.jobTitle}: ${piece.name}`, 5.6, { "font-weight": "bold" });
  title.say(subtitle(piece));
  const drawn = drawings(content, column(MARGIN, title.y() + 2, left));
  const written = writing(content, column(MARGIN + left + GAP, title.y(), TEXT));
  const parts = [...title.parts, ...drawn.parts, ...written.parts];
  const width = left + GAP + TEXT + 2 * MARGIN;
  const height = Math.max(drawn.y(), written.y()) + MARGIN - 4;
  return [
    '<?xml version="1.0" encoding="UTF-8"?>\n',
    element(
      "svg",
      {
        xmlns: "http://www.w3.org/2000/svg",
        width: `${decimal(width)}mm`,
        height: `${decimal(height)}mm`,
        viewBox: `0 0 ${decimal(width)} ${decimal(height)}`,
        "font-family": "sans-serif",
        fill: INK,
      },
      element("title", {}, escapeXml(piece.name)),
      element("rect", { x: 0, y: 0, width, height, fill: "#ffffff" }),
      ...parts,
    ),
    "\n",
  ].join("\n");
}

/** A column that is filled downwards. */
interface Column {
  readonly parts: readonly string[];
  readonly y: () => number;
  readonly say: (sentence: string, size?: number, look?: Readonly<Record<string, string>>, indent?: number) => void;
  readonly heading: (said: string) => void;
  readonly show: (view: (left: number, top: number, width: number) => View) => void;
  /** A box to tick, and what to do beside it. */
  readonly step: (sentence: string) => void;
}

function column(left: number, top: number, width: number): Column {
  const parts: string[] = [];
  let y = top;
  const say: Column["say"] = (sentence, size = 3.2, look = {}, indent = 0) => {
    for (const row of wrap(sentence, Math.floor((width - indent) / (size * 0.56)))) {
      parts.push(text(left + indent, y, row, { "font-size": size, ...look }));
      y += size * 1.36;
    }
  };
  return {
    parts,
    y: () => y,
    say,
    heading: (said) => {
      y += 3;
      say(said, 3.8, { "font-weight": "bold" });
    },
    show: (view) => {
      const made = view(left, y, width);
      parts.push(...made.drawn);
      y += made.height;
    },
    step: (sentence) => {
      parts.push(
        element("rect", {
          x: left,
          y: y - 2.3,
          width: 2.3,
          height: 2.3,
          fill: "none",
          stroke: INK,
          "stroke-width": 0.25,
        }),
      );
      say(sentence, 3.2, {}, 4.5);
      y += 0.7;
    },
  };
}

function drawings(content: PieceSheetContent, into: Column): Column {
  const { piece, walls } = content;
  const views = [elevation, crownView, sideView, flatView, crossSection, pairView];
  for (const view of views) into.show((left, top) => view(piece, left + 6, top));
  into.show((left, top) => ({ drawn: checkLine(left, top + 3), height: 9 }));
  if (walls !== undefined) {
    into.heading("Walls");
    into.show((left, top, width) => wallViews(walls, left, top, width));
    if (content.holdsTo !== undefined) into.say(`The set-up of the finger room ${content.holdsTo}.`);
  }
  if (piece.turnedBy === "hand") {
    into.heading("What the calipers say");
    into.show((left, top, width) => readings(piece, left, top, width));
  }
  return into;
}

function writing(content: PieceSheetContent, into: Column): Column {
  const { piece } = content;
  for (const [i, stage] of orderOfWork(piece, content.kit, content.files).entries()) {
    into.heading(`${i + 1}. ${stage.name}`);
    for (const step of stage.steps) into.step(step);
  }
  const found = content.findings.filter((f) => f.place.part === undefined || f.place.part === piece.name);
  if (found.length > 0) into.heading("Found");
  for (const f of found) {
    const why = f.why === undefined ? "" : ` (${f.why})`;
    const mend = f.mend === undefined ? "" : ` \u2014 ${f.mend}`;
    into.say(`${f.grade}: ${f.what}${why}${mend}`, 3, { "font-weight": "bold" });
  }
  into.heading("Take care");
  for (const caution of turnedWorkCautions(piece.split !== undefined)) into.say(caution, 3);
  return into;
}

function subtitle(piece: TurnedPiece): string {
  const { blank } = piece;
  const pulls =
    piece.pulls === undefined || piece.pulls.length < 2 ? "" : `; ${piece.pulls.length} pulls in one turning`;
  return `${piece.wood}; blank ${tidy(blank.length)} mm long, ${tidy(blank.across)} mm ${blank.shape}; turned by ${piece.turnedBy}; radius ± ${tidy(piece.radiusError.value)} mm, ${piece.radiusError.from}${pulls}`;
}

/** Numbered places with a line to write on. */
function readings(piece: TurnedPiece, left: number, top: number, width: number): View {
  const stations = stationsOf(piece).filter((s) => s.diameters.length > 0);
  const columns = Math.max(1, Math.floor(width / 80));
  const rows = Math.ceil(stations.length / columns);
  const drawn = stations.flatMap((s, i) => {
    const x = left + Math.floor(i / rows) * 80;
    const y = top + 1 + (i % rows) * 5.2;
    const planned = s.diameters.map((d) => d.toFixed(2)).join(" then ");
    return [
      text(x, y, `at ${s.at.toFixed(2)}: planned ${planned} mm`, { "font-size": 2.8 }),
      element("line", { x1: x + 59, y1: y + 0.6, x2: x + 76, y2: y + 0.6, stroke: INK, "stroke-width": 0.2 }),
    ];
  });
  return { drawn, height: rows * 5.2 + 1 };
}

function checkLine(x: number, y: number): readonly string[] {
  const stroke = { stroke: INK, "stroke-width": 0.35 };
  return [
    element("line", { x1: x, y1: y, x2: x + 100, y2: y, ...stroke }),
    element("line", { x1: x, y1: y - 2, x2: x, y2: y + 2, ...stroke }),
    element("line", { x1: x + 100, y1: y - 2, x2: x + 100, y2: y + 2, ...stroke }),
    text(x + 102, y + 1.2, "100 mm: measure it", { "font-size": 3 }),
  ];
}
