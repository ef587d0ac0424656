import type { FitPlan } from "../../src/fit/fit-plan.ts";
import type { Feature, GrooveFeature, PartDescription, RabbetFeature } from "../../src/job/job.ts";
import type { Point } from "../../src/shapes/point.ts";

/**
 * Puts a drawer together from its parts as a joiner would: sides hang by their grooves on runners that stand on the spacer,
 * the bottom makes front and sides level, joints are cut to their gauge settings, the front is planed by its words'
 * numbers, the runner's nose stops the drawer. It knows the parts' sizes and features and the bench's numbers only, and
 * none of the planner's formulas.
 */
export interface Assembled {
  /** Corners of the planed front, in a frame whose z = 0 is the opening's lower edge and whose x is yet to be shifted. */
  readonly front: readonly [Point, Point, Point, Point];
  /** Outer faces of the sides after clean-up, in the same x. */
  readonly box: { readonly left: number; readonly right: number; readonly bottom: number; readonly top: number };
  /** z of the wall that carries. */
  readonly bearing: number;
  /** y from the case's front, when the drawer is home. */
  readonly show: number;
  readonly farthest: number;
  /** Lip's outline, for a lipped front. */
  readonly lip?: { readonly left: number; readonly right: number; readonly bottom: number; readonly top: number };
  readonly backLength: { readonly is: number; readonly wanted: number };
  /** Between the bottom's edges and the floors of the grooves at the sides, together. */
  readonly bottomPlay: number;
  /** From the bottom's back edge to the back's outer face, and how much of the back's thickness it lies under. */
  readonly bottomBack: { readonly before: number; readonly under: number };
  readonly bottomUnderBack: number;
  readonly grooveOverBottom: number;
  readonly runner?: { readonly groove: GrooveFeature; readonly enters: number; readonly finishedDepth: number };
}

export interface Bench {
  readonly cleanUp: number;
  /** What is left on a nose for paring. */
  readonly pare: number;
  readonly lipThickness?: number;
}

export function assemble(plan: FitPlan, name: string, bench: Bench): Assembled {
  const d = plan.drawers.find((x) => x.name === name)!;
  const partOf = (role: string): PartDescription =>
    plan.parts.find((p) => p.role === role && p.drawers.includes(name))!.description;
  const [front, side, back, bottom] = [partOf("front"), partOf("side"), partOf("back"), partOf("bottom")];
  const slip = plan.parts.find((p) => p.role === "slip" && p.drawers.includes(name))?.description;
  const carrier = slip ?? side;
  const sideGroove = grooveCalled(carrier, "bottom");
  const frontGroove = grooveCalled(front, "bottom");
  // Level: the runner's upper face where there is one, else the floor.
  const runnerGroove = side.features.find(
    (f): f is Feature & GrooveFeature => f.kind === "groove" && f.name === "runner",
  );
  const bearing = runnerGroove ? d.runner.spacer + d.runner.size.width : 0;
  const z = runnerGroove ? bearing - upperWall(runnerGroove) : 0;
  const blankZ = z + lowerWall(sideGroove) - lowerWall(frontGroove);
  // Across, from the front's left end: gauge settings, or the rabbets as they are cut.
  const [leftInside, rightInside] = insides(front, d.frontJoint.settings);
  const thick = side.size.thickness;
  const outerLeft = leftInside - thick;
  const outerRight = front.size.length - rightInside + thick;
  const lip = lipOf(front);
  // Along: the side's front end lies so deep within the front.
  const takes = front.size.thickness - lap(d.frontJoint, front);
  const home = homeOf(d.runner.setback + (runnerGroove ? bench.pare : 0), runnerGroove);
  const sideFront = runnerGroove
    ? home
    : (bench.lipThickness === undefined ? 0 : -bench.lipThickness) + front.size.thickness - takes;
  const show = sideFront + takes - front.size.thickness;
  const inside = show + front.size.thickness;
  const sideBack = sideFront + side.size.length;
  const backBaseline = d.backJoint.settings.find((s) => s.name === "baseline")?.value ?? 0;
  const shoulder = side.features.find((f) => f.name === "back housing" || f.name === "back joint");
  const backPlace = backOf(d.backJoint.kind, sideBack, back, backBaseline, shoulder);
  const sunk =
    shoulder?.kind === "groove" || shoulder?.kind === "rabbet"
      ? depthOf(shoulder)
      : d.backJoint.kind === "butt"
        ? 0
        : thick;
  const proud = d.backJoint.settings.find((s) => s.name === "proud")?.value ?? 0;
  const slipWidth = slip?.size.thickness ?? 0;
  const between = outerRight - outerLeft - 2 * thick;
  // Pushed home into the front.
  const bottomFront = inside - depthOf(frontGroove);
  const bottomBackEdge = bottomFront + bottom.size.width;
  const cut = d.front.plane.map((p) => [p.first, p.second] as const);
  const [lower, right, upper, left] =
    cut.length === 4
      ? cut
      : [
          [0, 0],
          [0, 0],
          [0, 0],
          [0, 0],
        ];
  const [L, W] = [front.size.length, front.size.width];
  // Where lip and joint are one rabbet, the sides are what goes into the opening.
  const merged = lip !== undefined && !front.features.some((f) => f.name === "left lip");
  const inner = (merged ? { ...lip, left: outerLeft + bench.cleanUp, right: L - outerRight + bench.cleanUp } : lip) ?? {
    left: 0,
    right: 0,
    bottom: 0,
    top: 0,
  };
  const corners: Assembled["front"] = [
    { x: inner.left + left![0]!, y: blankZ + inner.bottom + lower![0]! },
    { x: L - inner.right - right![0]!, y: blankZ + inner.bottom + lower![1]! },
    { x: L - inner.right - right![1]!, y: blankZ + W - inner.top - upper![1]! },
    { x: inner.left + left![1]!, y: blankZ + W - inner.top - upper![0]! },
  ];
  return {
    front: corners,
    box: { left: outerLeft + bench.cleanUp, right: outerRight - bench.cleanUp, bottom: z, top: z + side.size.width },
    bearing,
    show,
    farthest: Math.max(sideBack - proud, backPlace.outer),
    ...(lip && { lip: { left: 0, right: L, bottom: blankZ, top: blankZ + W } }),
    backLength: { is: back.size.length, wanted: between + 2 * sunk },
    bottomPlay: between - 2 * slipWidth + 2 * depthOf(sideGroove) - bottom.size.length,
    bottomBack: {
      before: backPlace.outer - bottomBackEdge,
      under: bottomBackEdge - (backPlace.outer - back.size.thickness),
    },
    bottomUnderBack: side.size.width - back.size.width - upperWall(sideGroove),
    grooveOverBottom: sideGroove.width - bottom.size.thickness,
    ...(runnerGroove && {
      runner: {
        groove: runnerGroove,
        enters:
          (outerRight - outerLeft - 2 * bench.cleanUp - Math.min(d.runner.between.mouth, d.runner.between.back)) / 2,
        finishedDepth: depthOf(runnerGroove) - bench.cleanUp,
      },
    }),
  };
}

function grooveCalled(part: PartDescription, name: string): GrooveFeature {
  return part.features.find((f): f is Feature & GrooveFeature => f.kind === "groove" && f.name === name)!;
}

function depthOf(f: GrooveFeature | RabbetFeature): number {
  if (f.depth.kind === "through") throw new Error("through");
  return f.depth.depth;
}

/** Walls of a groove along a board, from its lower edge. */
function lowerWall(g: GrooveFeature): number {
  if (g.run.kind !== "along" || g.run.from.border !== "lower edge") throw new Error("not along the lower edge");
  return g.run.from.reach === "near edge" ? g.run.from.distance : g.run.from.distance - g.width;
}

function upperWall(g: GrooveFeature): number {
  return lowerWall(g) + g.width;
}

/** From the front's ends to the inner faces of the sides. */
function insides(
  front: PartDescription,
  settings: readonly { name: string; value: number; where: string }[],
): readonly [number, number] {
  const rabbets = front.features.filter(
    (f): f is Feature & RabbetFeature => f.kind === "rabbet" && f.name.endsWith("joint"),
  );
  if (rabbets.length === 2) {
    const of = (end: string): number => rabbets.find((r) => r.along === end)!.width;
    return [of("first end"), of("second end")];
  }
  const set = settings.filter((s) => s.name === "inset");
  return [set.find((s) => s.where.includes("left end"))!.value, set.find((s) => s.where.includes("right end"))!.value];
}

/** Wood of the front before the sides' ends: from the settings that are scribed from the front's inside. */
function lap(joint: FitPlan["drawers"][number]["frontJoint"], front: PartDescription): number {
  const within =
    joint.settings.find((s) => s.name === "depth" || s.name === "lap")?.value ??
    joint.settings.find((s) => s.name === "baseline")?.value ??
    0;
  return front.size.thickness - within;
}

function lipOf(front: PartDescription): { left: number; right: number; bottom: number; top: number } | undefined {
  const rabbets = front.features.filter((f): f is Feature & RabbetFeature => f.kind === "rabbet");
  const widest = (border: string): number =>
    Math.max(0, ...rabbets.filter((r) => r.along === border).map((r) => r.width));
  const named = (name: string, border: string): number => rabbets.find((r) => r.name === name)?.width ?? widest(border);
  if (widest("lower edge") === 0) return undefined;
  return {
    left: named("left lip", "first end"),
    right: named("right lip", "second end"),
    bottom: widest("lower edge"),
    top: widest("upper edge"),
  };
}

/** Where the side's front end comes to rest: the groove's farthest point on the pared nose, both ends round. */
function homeOf(nose: number, groove: GrooveFeature | undefined): number {
  if (groove === undefined) return 0;
  if (groove.run.kind !== "along") throw new Error("a runner's groove runs along");
  return nose - groove.run.stops.first!;
}

function backOf(
  kind: string,
  sideBack: number,
  back: PartDescription,
  baseline: number,
  shoulder: Feature | undefined,
): { readonly outer: number } {
  if (kind === "housing" && shoulder?.kind === "groove" && shoulder.run.kind === "along")
    return { outer: sideBack - shoulder.run.from.distance };
  if (kind === "through" || kind === "half-blind") return { outer: sideBack - baseline + back.size.thickness };
  return { outer: sideBack };
}
