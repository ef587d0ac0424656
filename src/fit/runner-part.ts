import type { At, Feature, PartDescription } from "../job/job.ts";
import type { Screw } from "../job/screws.ts";
import type { Loop, Region } from "../shapes/region.ts";
import { arc, line, type Segment } from "../shapes/segment.ts";
import { mmText, type Said } from "./said.ts";
import type { RunnerScrews } from "./screw-holes.ts";
import { strip } from "./strip.ts";

/** A runner to be written out. mm */
export interface RunnerPartAsk {
  readonly said: Said;
  readonly wood: string;
  readonly length: number;
  readonly height: number;
  readonly thickness: number;
  /** Of both corners of its nose, 0 to half the height. */
  readonly noseRadius: number;
  /**
   * `by hand`: a square strip, pared or filed to a line. `outline`: the router cuts round it, so it has to lie on a board
   * that is larger; sensible for thick stock and many alike.
   */
  readonly noseMade: "by hand" | "outline";
  readonly screw: Screw;
  readonly screws: RunnerScrews;
  readonly copies: number;
}

/** A runner as an ordinary part, with what is left to the hand. */
export interface RunnerPart {
  readonly part: PartDescription;
  /** Sentences for the page. */
  readonly byHand: readonly string[];
}

/**
 * Writes a runner out. It lies with the face that slides up and its front end left; holes lie on its middle line, so that
 * turned end for end in that plane it serves the other side of the case, and left and right runners are one part.
 */
export function runnerPart(ask: RunnerPartAsk): RunnerPart {
  const { said, length, height, thickness } = ask;
  const features = [
    ...holeFeatures(ask),
    ...(ask.noseMade === "outline" && ask.noseRadius > 0 ? [outlineFeature(ask)] : []),
  ];
  const part = strip(
    said,
    ask.wood,
    { length, width: height, thickness },
    { face: "sliding face", back: "case face" },
    features,
    ask.copies,
  );
  return { part, byHand: handWords(ask) };
}

/** The runner's own outline: its nose at x = 0, its lower edge at y = 0. Counter-clockwise. mm */
export function runnerOutline(length: number, height: number, noseRadius: number): Region {
  if (!(noseRadius >= 0 && noseRadius <= height / 2 && noseRadius < length)) {
    throw new RangeError(`a nose of radius ${noseRadius} doesn't fit a runner ${height} high and ${length} long`);
  }
  const c = noseRadius;
  const corner = { lowerBack: { x: length, y: 0 }, upperBack: { x: length, y: height } };
  const lower = { x: c, y: 0 };
  const upper = { x: c, y: height };
  const loop: Segment[] = [line(lower, corner.lowerBack), line(corner.lowerBack, corner.upperBack)];
  loop.push(line(corner.upperBack, upper));
  if (c === 0) return region([...loop, line(upper, lower)]);
  const tip = { high: { x: 0, y: height - c }, low: { x: 0, y: c } };
  loop.push(arc(upper, tip.high, { x: c, y: height - c }, true));
  if (height - c > c) loop.push(line(tip.high, tip.low));
  // A full round nose has one tip: the two arcs must meet in it bit for bit.
  loop.push(arc(height - c > c ? tip.low : tip.high, lower, { x: c, y: c }, true));
  return region(loop);
}

function region(loop: Loop): Region {
  return { loops: [loop] };
}

function holeFeatures(ask: RunnerPartAsk): readonly Feature[] {
  const { screws, screw, height, said } = ask;
  const base = { on: "face", source: said.source, sources: said.sources ?? {} } as const;
  const on = (x: number): At => [
    { distance: x, border: "first end", reach: "centre" },
    { distance: height / 2, border: "lower edge", reach: "centre" },
  ];
  const round = screws.holes.filter((h) => h.kind === "round");
  const slotted = screws.holes.filter((h) => h.kind === "slotted");
  const slot = (name: string, from: number, to: number, width: number, depth: number | "through"): Feature => ({
    ...base,
    name,
    kind: "groove",
    run: { kind: "between", start: on(from), end: on(to) },
    width,
    depth: depth === "through" ? { kind: "through" } : { kind: "to", depth },
    ends: "round",
  });
  const out: Feature[] = [];
  if (round.length > 0) {
    out.push({
      ...base,
      name: round.length === 1 ? "front screw" : "screws",
      kind: "hole",
      diameter: screws.clearance,
      depth: { kind: "through" },
      centres: round.map((h) => on(h.at)),
      head: { kind: "countersunk", headDiameter: screws.mouth, includedAngle: screw.headAngle },
    });
  }
  // Head room first: the bit that follows through has less to cut. Both are grooves, which may lie in one another.
  slotted.forEach((h, i) => {
    const n = slotted.length === 1 ? "" : ` ${i + 1}`;
    const more = (screws.room.width - screws.clearance) / 2;
    out.push(slot(`head room${n}`, h.from - more, h.to + more, screws.room.width, screws.room.depth));
    out.push(slot(`screw slot${n}`, h.from, h.to, screws.clearance, "through"));
  });
  return out;
}

function outlineFeature(ask: RunnerPartAsk): Feature {
  const { said } = ask;
  return {
    name: "nose",
    kind: "outline",
    on: "face",
    source: said.source,
    sources: said.sources ?? {},
    side: "outside",
    shape: {
      kind: "drawing",
      region: runnerOutline(ask.length, ask.height, ask.noseRadius),
      placed: "as drawn",
      file: said.source.file,
    },
    turnedDeg: 0,
    hold: { kind: "skin", thickness: Math.min(0.5, ask.thickness / 4) },
  };
}

function handWords(ask: RunnerPartAsk): readonly string[] {
  const { noseRadius: c, height, screws, said } = ask;
  const words: string[] = [];
  if (ask.noseMade === "by hand" && c > 0) {
    words.push(
      c >= height / 2
        ? `${said.part}: round the nose to a half circle, radius ${mmText(c)}; set out the radius ${mmText(c)} from the front end and leave the tip at its length`
        : `${said.part}: ease the two corners of the nose to a radius of ${mmText(c)}, leave the tip at its length`,
    );
  }
  words.push(
    `${said.part}: glue only the front ${mmText(screws.glueTo)}, behind that the screws alone hold it, so that the case side can move`,
  );
  const slots = screws.holes.filter((h) => h.kind === "slotted");
  if (slots.length > 0) {
    words.push(
      `${said.part}: set each screw in the middle mark of its slot (${slots.map((h) => mmText(h.at)).join(", ")} from the nose), and drive it only until it bears`,
    );
  }
  return words;
}
