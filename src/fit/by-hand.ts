import type { FaceName } from "../job/board.ts";
import { axisOf } from "../job/faces.ts";
import type {
  Depth,
  Feature,
  GrooveFeature,
  HoleFeature,
  MortiseFeature,
  PartDescription,
  RabbetFeature,
} from "../job/job.ts";
import { type HandRun, runOf } from "./by-hand-run.ts";
import { type OnRule, onBothRules, onRule } from "./nearest-64th.ts";

/** What is set on a machine or a gauge. */
export interface HandSetting {
  readonly what:
    | "bit"
    | "bit height"
    | "blade height"
    /** From the fence to the near side of bit or blade. */
    | "fence"
    /** How far the bit stands out from the fence. */
    | "bit out of fence"
    /** From the side of the bit (or the blade where it leaves the table) to a block that stops the end named. */
    | "stop"
    /** From the fence to the drill's middle. */
    | "fence to middle"
    /** From the border named to the drill's middle. */
    | "along"
    | "drill"
    | "drill depth"
    | "countersink";
  readonly value: OnRule;
  /** The whole setting in words, with both rules. */
  readonly words: string;
}

/** One way to make one feature without a program. */
export interface HandCut {
  readonly part: string;
  readonly feature: string;
  readonly way: "router table" | "table saw" | "drill press";
  /** Face that lies on the table, or is up under a drill, by the part's own name for it. */
  readonly face: string;
  readonly settings: readonly HandSetting[];
  /** Order, chisel work, warnings. */
  readonly notes: readonly string[];
}

/** What the shop has for it. mm */
export interface HandTools {
  /** Diameters of straight bits, as measured. */
  readonly bits: readonly number[];
  /** Of the saw blade. */
  readonly kerf: number;
  readonly bladeDiameter: number;
}

/** A bit this near to a groove's width cuts it in one pass, mm. */
const SAME_WIDTH = 0.03;
/** Deeper than this a groove is routed in several passes, mm: common practice, no source. */
const ONE_PASS = 4;

/**
 * How each groove, rabbet, mortise and hole of a part is made at a router table, a table saw or a drill press: fence, height,
 * stops. Recesses, outlines and marks have no such settings and give nothing; a slanting groove neither.
 *
 * The face that is cut lies on the table and the border it is measured from runs along the fence. Work is fed from right
 * to left past a router table's bit, away from oneself past a saw: in both the same end goes first.
 */
export function handCuts(part: PartDescription, tools: HandTools): readonly HandCut[] {
  return part.features.flatMap((f) => cutsOf(part, f, tools));
}

function cutsOf(part: PartDescription, f: Feature, tools: HandTools): readonly HandCut[] {
  switch (f.kind) {
    case "groove":
      return grooveCuts(part, f, tools);
    case "mortise":
      return mortiseCuts(part, f, tools);
    case "rabbet":
      return rabbetCuts(part, f, tools);
    case "hole":
      return holeCuts(part, f);
    case "recess":
    case "outline":
    case "mark":
      return [];
  }
}

function setting(what: HandSetting["what"], value: number, words: string): HandSetting {
  return { what, value: onRule(value), words: `${words}: ${onBothRules(value)}` };
}

function grooveCuts(part: PartDescription, f: Feature & GrooveFeature, tools: HandTools): readonly HandCut[] {
  const run = runOf(part, f);
  if (run === undefined) return [];
  const square =
    f.ends === "square" && (run.stops.lead !== undefined || run.stops.trail !== undefined)
      ? ["square the stopped ends with a chisel"]
      : [];
  const router = routerRun(part, f, run, f.width, f.depth, tools, square);
  const saw = sawRun(part, f, run, f.depth, tools);
  return [...drilled(part, f, run, f.width, f.depth), ...(router ? [router] : []), ...(saw ? [saw] : [])];
}

function mortiseCuts(part: PartDescription, f: Feature & MortiseFeature, tools: HandTools): readonly HandCut[] {
  const run = runOf(part, f);
  if (run === undefined) return [];
  const router = routerRun(part, f, run, f.width, f.depth, tools, []);
  return [...drilled(part, f, run, f.width, f.depth), ...(router ? [router] : [])];
}

/** A slot no longer than so many times its width is drilled at its ends and cleared between. */
const DRILLED = 8;

/** Slots, and mortises: holes at both ends, and the wood between them taken by more holes and a chisel. */
function drilled(part: PartDescription, f: Feature, run: HandRun, width: number, depth: Depth): readonly HandCut[] {
  const { lead, trail } = run.stops;
  if (lead === undefined || trail === undefined) return [];
  const last = deepOf(part, run.ends.lead) - trail - width / 2;
  const first = lead + width / 2;
  if (last - first > (DRILLED - 1) * width || last <= first) return [];
  const from = part.labels[run.ends.lead];
  return [
    {
      part: part.name,
      feature: f.name,
      way: "drill press",
      face: part.labels[f.on],
      settings: [
        setting("drill", width, "drill"),
        ...(depth.kind === "to" ? [setting("drill depth", depth.depth, "depth stop below the face")] : []),
        setting(
          "fence to middle",
          (run.near + run.far) / 2,
          `fence, "${part.labels[run.fence]}" against it, to the drill's middle`,
        ),
        setting("along", first, `first hole, from "${from}" to the drill's middle`),
        setting("along", last, `last hole, from "${from}" to the drill's middle`),
      ],
      notes: [
        "drill the two ends, then holes between them that don't touch, then what is left; pare the walls",
        ...(depth.kind === "through" ? [SCRAP] : []),
      ],
    },
  ];
}

/** Beneath what is drilled through. */
const SCRAP = "lay it on scrap, so that the far face doesn't tear";

/** Narrower across the fence than this, fingers come near the bit, mm: common practice, no source. */
const NARROW = 40;

function narrowNote(part: PartDescription, fence: FaceName): readonly string[] {
  return deepOf(part, fence) < NARROW
    ? ["the part is narrow: make this cut while it is still on a wider board, or carry the part in a holder"]
    : [];
}

/** Wood beneath a face. */
function deepOf(part: PartDescription, face: FaceName): number {
  const { length, width, thickness } = part.size;
  return [length, width, thickness][axisOf(face)]!;
}

function depthOf(part: PartDescription, f: Feature, depth: Depth): number {
  return depth.kind === "to" ? depth.depth : deepOf(part, f.on);
}

/** The passes of a cutter as wide as `wide` from wall to wall: distances of its near side, smallest first. */
function passesOf(near: number, far: number, wide: number): readonly number[] {
  const last = far - wide;
  if (last - near <= SAME_WIDTH) return [near];
  const steps = Math.ceil((last - near) / wide - 1e-9);
  return Array.from({ length: steps + 1 }, (_, i) => (i === steps ? last : near + ((last - near) * i) / steps));
}

function fenceSettings(
  part: PartDescription,
  run: HandRun,
  passes: readonly number[],
  what: "bit" | "blade",
): readonly HandSetting[] {
  const edge = part.labels[run.fence];
  return passes.map((p, i) =>
    setting(
      "fence",
      p,
      passes.length === 1
        ? `fence, "${edge}" against it, to the near side of the ${what}`
        : `pass ${i + 1}: fence, "${edge}" against it, to the near side of the ${what}`,
    ),
  );
}

function routerRun(
  part: PartDescription,
  f: Feature,
  run: HandRun,
  width: number,
  depth: Depth,
  tools: HandTools,
  more: readonly string[],
): HandCut | undefined {
  const bit = [...tools.bits].sort((a, b) => b - a).find((b) => b <= width + SAME_WIDTH);
  if (bit === undefined) return undefined;
  const passes = passesOf(run.near, run.far, bit);
  const to = depthOf(part, f, depth);
  const notes: string[] = [];
  if (passes.length > 1) {
    notes.push("in the order of the passes: the fence moves away, so that the bit always cuts against the feed");
  }
  if (to > ONE_PASS) notes.push(`raise the bit in passes of ${ONE_PASS} mm or less`);
  if (depth.kind === "through") notes.push("the last pass goes through: lay the part on a backing strip");
  return {
    part: part.name,
    feature: f.name,
    way: "router table",
    face: part.labels[f.on],
    settings: [
      setting("bit", bit, "straight bit"),
      setting("bit height", to, depth.kind === "through" ? "bit height, just above this" : "bit height"),
      ...fenceSettings(part, run, passes, "bit"),
      ...stopSettings(part, run, "the bit"),
    ],
    notes: [...notes, ...leadNote(part, run), ...more, ...narrowNote(part, run.fence)],
  };
}

function stopSettings(part: PartDescription, run: HandRun, from: string): readonly HandSetting[] {
  const out: HandSetting[] = [];
  if (run.stops.trail !== undefined) {
    out.push(
      setting(
        "stop",
        run.stops.trail,
        `start: block on the right for "${part.labels[run.ends.trail]}", from the right side of ${from}`,
      ),
    );
  }
  if (run.stops.lead !== undefined) {
    out.push(
      setting(
        "stop",
        run.stops.lead,
        `end: block on the left for "${part.labels[run.ends.lead]}", from the left side of ${from}`,
      ),
    );
  }
  return out;
}

function leadNote(part: PartDescription, run: HandRun): readonly string[] {
  const first = `"${part.labels[run.ends.lead]}" goes first`;
  return run.stops.trail === undefined
    ? [first]
    : [first, "lower the part onto the running bit against the right block"];
}

function sawRun(part: PartDescription, f: Feature, run: HandRun, depth: Depth, tools: HandTools): HandCut | undefined {
  // Through cuts and cuts that begin within the wood are no work for a saw table.
  if (depth.kind === "through" || run.stops.trail !== undefined) return undefined;
  if (run.far - run.near < tools.kerf - SAME_WIDTH) return undefined;
  const passes = passesOf(run.near, run.far, tools.kerf);
  const notes = [`"${part.labels[run.ends.lead]}" goes first`, ...narrowNote(part, run.fence)];
  const settings = [setting("blade height", depth.depth, "blade height"), ...fenceSettings(part, run, passes, "blade")];
  if (run.stops.lead !== undefined) {
    const ramp = bladeRamp(tools.bladeDiameter, depth.depth);
    settings.push(
      setting(
        "stop",
        run.stops.lead,
        `end: block beyond the blade for "${part.labels[run.ends.lead]}", from where the blade leaves the table`,
      ),
    );
    notes.push(
      `stop the saw before you lift the part; the blade leaves a ramp ${onBothRules(ramp)} long at the stop: clear it with a chisel`,
    );
  }
  return { part: part.name, feature: f.name, way: "table saw", face: part.labels[f.on], settings, notes };
}

/** Length of the ramp that a round blade leaves: half the chord at table height, √(h · (d − h)). mm */
export function bladeRamp(diameter: number, height: number): number {
  return Math.sqrt(Math.max(0, height * (diameter - height)));
}

function rabbetCuts(part: PartDescription, f: Feature & RabbetFeature, tools: HandTools): readonly HandCut[] {
  const run = runOf(part, f);
  if (run === undefined || f.depth.kind === "through") return [];
  const { depth } = f.depth;
  const edge = part.labels[f.along];
  const bits = [...tools.bits].sort((a, b) => a - b);
  const bit = bits.find((b) => b >= f.width) ?? bits.at(-1);
  const out: HandCut[] = [];
  if (bit !== undefined) {
    // A bit that is too narrow takes the edge first, then the rest with the fence moved back.
    const passes = bit >= f.width ? [f.width] : passesOf(0, f.width, bit).map((p) => p + bit);
    out.push({
      part: part.name,
      feature: f.name,
      way: "router table",
      face: part.labels[f.on],
      settings: [
        setting("bit", bit, "straight bit"),
        setting("bit height", depth, "bit height"),
        ...passes.map((p, i) =>
          setting(
            "bit out of fence",
            p,
            `${passes.length > 1 ? `pass ${i + 1}: ` : ""}"${edge}" against the fence, the bit standing out of it by`,
          ),
        ),
        ...stopSettings(part, run, "the bit"),
      ],
      notes: [
        ...(depth > ONE_PASS ? [`raise the bit in passes of ${ONE_PASS} mm or less`] : []),
        ...leadNote(part, run),
        ...acrossGrain(part, f),
      ],
    });
  }
  if (run.stops.lead === undefined && run.stops.trail === undefined && f.width >= tools.kerf && depth >= tools.kerf) {
    out.push({
      part: part.name,
      feature: f.name,
      way: "table saw",
      face: part.labels[f.on],
      settings: [
        setting("blade height", depth, `first cut, "${part.labels[f.on]}" down: blade height`),
        setting("fence", f.width - tools.kerf, `fence, "${edge}" against it, to the near side of the blade`),
        setting("blade height", f.width, `second cut, "${edge}" down: blade height`),
        setting("fence", depth - tools.kerf, `fence, "${part.labels[f.on]}" against it, to the near side of the blade`),
      ],
      notes: [
        "the second cut frees the strip: stand beside it, and let it fall away from the blade",
        ...acrossGrain(part, f),
      ],
    });
  }
  return out;
}

/** Cuts across the grain tear out where the bit leaves. */
function acrossGrain(part: PartDescription, f: RabbetFeature): readonly string[] {
  const grainAxis = part.grain === "along length" ? 0 : part.grain === "along width" ? 1 : undefined;
  return grainAxis !== undefined && axisOf(f.along) === grainAxis
    ? ["it runs across the grain: push the part with a square block behind it, which backs up the edge"]
    : [];
}

function holeCuts(part: PartDescription, f: Feature & HoleFeature): readonly HandCut[] {
  const to = depthOf(part, f, f.depth);
  const settings: HandSetting[] = [setting("drill", f.diameter, "drill")];
  if (f.depth.kind === "to") settings.push(setting("drill depth", to, "depth stop below the face"));
  // Holes that share the fence are drilled one after the other along it.
  const rows = new Map<string, { fence: number; border: FaceName; along: { at: number; border: FaceName }[] }>();
  for (const [first, second] of f.centres) {
    const key = `${second.border} ${second.distance.toFixed(4)}`;
    const row = rows.get(key) ?? { fence: second.distance, border: second.border, along: [] };
    row.along.push({ at: first.distance, border: first.border });
    rows.set(key, row);
  }
  for (const row of rows.values()) {
    if (row.fence < 0) continue;
    settings.push(
      setting("fence to middle", row.fence, `fence, "${part.labels[row.border]}" against it, to the drill's middle`),
    );
    for (const a of row.along) {
      if (a.at >= 0) settings.push(setting("along", a.at, `from "${part.labels[a.border]}" to the drill's middle`));
    }
  }
  const notes: string[] = [];
  switch (f.head.kind) {
    case "plain":
      break;
    case "countersunk":
      settings.push(
        setting("countersink", f.head.headDiameter, `countersink, ${f.head.includedAngle}°, until it is this wide`),
      );
      break;
    case "counterbored":
      settings.push(
        setting("drill", f.head.diameter, "first, counterbore with a drill of"),
        setting("drill depth", f.head.depth, "counterbore so deep"),
      );
      break;
  }
  if (f.depth.kind === "through") notes.push(SCRAP);
  return [{ part: part.name, feature: f.name, way: "drill press", face: part.labels[f.on], settings, notes }];
}
