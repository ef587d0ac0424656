import type { Finding } from "../finding.ts";
import type { FaceName, Size } from "../job/board.ts";
import { BOTTOM_LABELS, markOfDrawer } from "../job/drawer-marks.ts";
import type { Feature, From, GrooveFeature, PartDescription, RabbetFeature } from "../job/job.ts";
import type { TurnedDescription } from "../job/turned.ts";
import type { FittedGroup } from "./drawer.ts";
import type { DrawerFit, FittedPart, Role } from "./fit-plan.ts";
import type { FrontSet } from "./front.ts";
import { runnerPart } from "./runner-part.ts";
import { fitFinding, mmText, PRACTICE, type Said } from "./said.ts";
import { saidPart } from "./said-at.ts";
import { clean, type FitGround } from "./stuff.ts";

/** What a group's parts are, with sentences for the hand. */
export interface WrittenOut {
  readonly parts: readonly FittedPart[];
  readonly byHand: readonly string[];
  readonly findings: readonly Finding[];
}

/** Writes the parts of a group of drawers out as ordinary descriptions, front by front and the sides' and runners' once. */
export function writeOut(g: FitGround, group: FittedGroup, turned: readonly TurnedDescription[]): WrittenOut {
  const { drawers: d } = g;
  const names = group.drawers.map(({ fit }) => fit.name);
  const found: Finding[] = [];
  const first = group.drawers[0]!;
  const each = group.drawers.flatMap(({ fit, set }): readonly FittedPart[] => [
    part("front", [fit.name], frontPart(g, fit, set, turned, found)),
    part("back", [fit.name], backPart(g, fit)),
    part("bottom", [fit.name], bottomPart(g, fit, found)),
    ...(fit.bottom.slipPart === undefined ? [] : [part("slip", [fit.name], slipPart(g, fit, fit.bottom.slipPart))]),
  ]);
  const runners = runnerParts(g, group);
  const parts = [
    ...each,
    part("side", names, sidePart(g, group, first.fit)),
    ...runners.parts.map((p) => part(p.role, names, p.description)),
    ...(group.fitting?.spacers ?? []).map((s) => part("spacer", names, s.part)),
  ];
  const heldBy = d.heldBy?.value;
  const wished =
    heldBy === undefined
      ? parts
      : parts.map((p) => ({
          ...p,
          description: { ...p.description, wishes: { ...p.description.wishes, holding: { by: heldBy } } },
        }));
  const spacers = (group.fitting?.spacers ?? []).flatMap((s) => s.findings);
  return { parts: wished, byHand: runners.byHand, findings: [...found, ...spacers] };
}

function part(role: Role, drawers: readonly string[], description: PartDescription): FittedPart {
  return { role, drawers, description };
}

interface Plain {
  readonly said: Said;
  readonly wood: string;
  readonly size: Size;
  readonly grain?: PartDescription["grain"];
  readonly copies?: number;
  readonly labels: Partial<Record<FaceName, string>>;
  readonly features: readonly Feature[];
}

function describe(p: Plain): PartDescription {
  return {
    name: p.said.part,
    wood: p.wood,
    size: p.size,
    grain: p.grain ?? "along length",
    copies: p.copies ?? 1,
    labels: {
      face: "face",
      back: "back",
      "lower edge": "lower edge",
      "upper edge": "upper edge",
      "first end": "first end",
      "second end": "second end",
      ...p.labels,
    },
    faceSide: "face",
    faceEdge: "lower edge",
    features: p.features,
    wishes: {},
    source: p.said.source,
  };
}

type Stops = RabbetFeature["stops"];

function groove(
  said: Said,
  name: string,
  on: FaceName,
  from: From,
  size: { readonly width: number; readonly depth: number },
  stops: Stops = {},
): Feature & GrooveFeature {
  return {
    kind: "groove",
    name,
    on,
    source: said.source,
    sources: said.sources ?? {},
    run: { kind: "along", from, stops },
    width: clean(size.width),
    depth: { kind: "to", depth: clean(size.depth) },
    ends: "round",
  };
}

function rabbet(said: Said, name: string, along: FaceName, width: number, depth: number): Feature & RabbetFeature {
  return {
    kind: "rabbet",
    name,
    on: "back",
    source: said.source,
    sources: said.sources ?? {},
    along,
    width: clean(width),
    depth: { kind: "to", depth: clean(depth) },
    stops: {},
  };
}

function nearEdge(border: FaceName, distance: number): From {
  return { distance: clean(distance), border, reach: "near edge" };
}

/** Seen with its show face up, the left end at the left. */
function frontPart(
  g: FitGround,
  fit: DrawerFit,
  set: FrontSet,
  turned: readonly TurnedDescription[],
  found: Finding[],
): PartDescription {
  const { drawers: d } = g;
  const said = saidPart(fit.front.part, d, "fronts");
  const bottom = saidPart(fit.front.part, d, "bottoms");
  const { groove: b, inset, lip } = set;
  const thick = g.side.thickness;
  const features: Feature[] = [
    groove(
      bottom,
      "bottom",
      "back",
      nearEdge("lower edge", b.lower),
      { width: b.upper - b.lower, depth: b.depth },
      { first: b.stop, second: b.stopRight },
    ),
  ];
  const rabbeted = fit.frontJoint.kind === "rabbet";
  const takes = fit.frontJoint.takes;
  // A lip's rabbet and the joint's are one where they are equally deep.
  const oneRabbet = rabbeted && lip !== undefined && Math.abs(takes - lip.depth) < 1e-6;
  if (rabbeted) {
    features.push(rabbet(said, "left joint", "first end", inset.left + thick, takes));
    features.push(rabbet(said, "right joint", "second end", inset.right + thick, takes));
  }
  if (lip !== undefined) {
    if (!oneRabbet) {
      features.push(rabbet(said, "left lip", "first end", lip.left, lip.depth));
      features.push(rabbet(said, "right lip", "second end", lip.right, lip.depth));
    }
    features.push(rabbet(said, "lower lip", "lower edge", lip.lower, lip.depth));
    features.push(rabbet(said, "upper lip", "upper edge", lip.upper, lip.depth));
  }
  const pull = pullHole(g, fit, turned, found);
  if (pull) features.push(pull);
  return describe({
    said,
    wood: d.fronts.wood.value,
    size: fit.front.blank,
    labels: { face: "show face", back: "inside", "first end": "left end", "second end": "right end" },
    features,
  });
}

/** A pull with a tenon sits in a hole in the middle of the fitted front; others are glued or screwed on. */
function pullHole(
  g: FitGround,
  fit: DrawerFit,
  turned: readonly TurnedDescription[],
  found: Finding[],
): Feature | undefined {
  const { pull } = g.drawers;
  const piece = turned.find((t) => t.name === pull?.value);
  if (pull === undefined || piece === undefined || piece.split !== undefined) return undefined;
  const { elements } = piece.profile;
  const tenon = [elements.at(-1), elements[0]].find((e) => e?.kind === "tenon");
  if (tenon?.kind !== "tenon" || tenon.length.kind !== "mm") return undefined;
  const said: Said = { part: fit.front.part, source: pull.source };
  const [a, b, c, e] = fit.front.shape;
  const middle = { x: (a.x + b.x + c.x + e.x) / 4 - fit.front.at.x, y: (a.y + b.y + c.y + e.y) / 4 - fit.front.at.y };
  // Bored through where the tenon is as long as the front is thick: it can then be wedged from inside.
  const blind = tenon.length.mm < g.front.thickness - 2;
  const behind = fit.bottom.at.z + g.bottom.thickness - fit.front.at.y;
  if (middle.y - tenon.diameter / 2 < behind && !blind) {
    found.push(
      fitFinding(said, "caution", "fit-pull-hole", {
        what: `the pull's hole comes out at the bottom of "${fit.name}"`,
        why: `its lower edge lies ${mmText(middle.y - tenon.diameter / 2)} above the front's lower edge, the bottom's upper face ${mmText(behind)}`,
        mend: "take a shorter tenon, so that its hole ends in the front",
      }),
    );
  }
  return {
    kind: "hole",
    name: "pull",
    // A hole right through is bored from inside, with the front's other cuts.
    on: blind ? "face" : "back",
    source: pull.source,
    sources: {},
    diameter: tenon.diameter,
    // Half a millimetre for glue beneath the tenon.
    depth: blind ? { kind: "to", depth: clean(tenon.length.mm + 0.5) } : { kind: "through" },
    centres: [
      [
        { distance: clean(middle.x), border: "first end", reach: "centre" },
        { distance: clean(middle.y), border: "lower edge", reach: "centre" },
      ],
    ],
    head: { kind: "plain" },
  };
}

/** The right side, seen from outside with its front end at the left; the left side is its mirror image. */
function sidePart(g: FitGround, group: FittedGroup, fit: DrawerFit): PartDescription {
  const { drawers: d } = g;
  const said = saidPart(fit.side.parts.right, d, "sides");
  const bottom = saidPart(fit.side.parts.right, d, "bottoms");
  const features: Feature[] = [];
  if (group.runnerGroove) {
    features.push(group.runnerGroove.feature);
  }
  const b = fit.side.bottomGroove;
  if (b) {
    const stops: Stops = b.stop === undefined ? {} : { first: b.stop };
    features.push(
      groove(
        bottom,
        "bottom",
        "back",
        nearEdge("lower edge", b.lower),
        { width: b.upper - b.lower, depth: b.depth },
        stops,
      ),
    );
  }
  const joint = fit.backJoint.settings;
  const shoulder = joint.find((s) => s.name === "shoulder")?.value;
  const depth = joint.find((s) => s.name === "depth")?.value;
  if (shoulder !== undefined && depth !== undefined) {
    if (fit.backJoint.kind === "housing") {
      features.push(
        groove(said, "back housing", "back", nearEdge("second end", shoulder), { width: g.back.thickness, depth }),
      );
    } else features.push(rabbet(said, "back joint", "second end", shoulder, depth));
  }
  return {
    ...describe({
      said,
      wood: d.sides.wood.value,
      size: fit.side.size,
      copies: group.drawers.length,
      labels: { face: "outside", back: "inside", "first end": "front end", "second end": "back end" },
      features,
    }),
    mirroredAs: fit.side.parts.left,
  };
}

function backPart(g: FitGround, fit: DrawerFit): PartDescription {
  const { drawers: d } = g;
  return describe({
    said: saidPart(fit.back.part, d, "backs"),
    wood: d.backs.wood.value,
    size: fit.back.size,
    labels: { face: "outside", back: "inside" },
    features: [],
  });
}

/** Its lower edge goes into the front. A solid bottom gets a slot for the screw that holds it to the back. */
function bottomPart(g: FitGround, fit: DrawerFit, found: Finding[]): PartDescription {
  const { drawers: d } = g;
  const said = saidPart(fit.bottom.part, d, "bottoms");
  const slot = d.bottoms.kind.value === "solid" ? screwSlot(g, fit, said, found) : undefined;
  const index = g.case.openings.findIndex((o) => o.name === fit.name);
  const marks = (d.bottoms.marks ?? []).map((m) => markOfDrawer(m, index));
  return describe({
    said,
    wood: d.bottoms.wood.value,
    size: fit.bottom.size,
    grain: fit.bottom.grain,
    labels: BOTTOM_LABELS,
    features: [...(slot ? [slot] : []), ...marks],
  });
}

/** Hole of the slotted screw, mm: 3 mm screws with a clearance of 3.5; common practice, no source. */
const SLOT = 3.5;
/** Wood left behind the slot. */
const SLOT_WEB = 2;

function screwSlot(g: FitGround, fit: DrawerFit, said: Said, found: Finding[]): Feature | undefined {
  const { size, at, growth } = fit.bottom;
  const middle = fit.back.at.y + g.back.thickness / 2 - at.y;
  const half = growth + 0.5;
  const end = middle + half + SLOT / 2;
  if (end > size.width - SLOT_WEB) {
    found.push(
      fitFinding(
        said,
        "caution",
        "fit-bottom-short",
        {
          what: "there is no room for the slot of the screw that holds the bottom to the back",
          why: `it would end ${mmText(size.width - end)} before the bottom's back edge`,
          mend: "saw a slot open to the back edge by hand, or take a thicker back",
        },
        { found: size.width - end, limit: SLOT_WEB, from: PRACTICE },
      ),
    );
    return undefined;
  }
  const on = (y: number) =>
    [
      { distance: clean(size.length / 2), border: "first end", reach: "centre" },
      { distance: clean(y), border: "lower edge", reach: "centre" },
    ] as const;
  return {
    kind: "groove",
    name: "screw slot",
    on: "face",
    source: said.source,
    sources: said.sources ?? {},
    run: { kind: "between", start: on(middle - half), end: on(middle + half) },
    width: SLOT,
    depth: { kind: "through" },
    ends: "round",
  };
}

/** Glued to the inside of a side, lower edges flush; its groove faces the drawer. One serves left, its mirror image right. */
function slipPart(g: FitGround, fit: DrawerFit, name: string): PartDescription {
  const { bottoms: b } = g.drawers;
  const said = saidPart(name, g.drawers, "bottoms");
  const width = b.slip?.width.value ?? 0;
  const tall = b.slip?.height.value ?? 0;
  const thick = fit.back.at.z - fit.box.bottom - b.grooveAt.value;
  const length = clean(fit.back.at.y + g.back.thickness - fit.front.inside);
  return {
    ...describe({
      said: { ...said, part: `${name}, right` },
      wood: g.drawers.sides.wood.value,
      size: { length, width: tall, thickness: width },
      labels: { face: "groove side", back: "glue side", "first end": "back end", "second end": "front end" },
      features: [
        groove(said, "bottom", "face", nearEdge("lower edge", b.grooveAt.value), {
          width: thick,
          depth: b.grooveDepth.value,
        }),
      ],
    }),
    mirroredAs: `${name}, left`,
  };
}

function runnerParts(
  g: FitGround,
  group: FittedGroup,
): { readonly parts: readonly { role: Role; description: PartDescription }[]; readonly byHand: readonly string[] } {
  const { drawers: d } = g;
  const { runner } = group.drawers[0]!.fit;
  const beyond = group.runner.screwsBeyond;
  const right = beyond === undefined ? 0 : group.drawers.filter(({ fit }) => fit.column > 1).length;
  const all = 2 * group.drawers.length;
  const made = (name: string, screws: FittedGroup["runner"]["screws"], copies: number) =>
    runnerPart({
      said: saidPart(name, d, "runners"),
      wood: d.runners.wood.value,
      length: runner.size.length,
      height: runner.size.width,
      thickness: runner.size.thickness,
      noseRadius: group.runner.noseRadius,
      noseMade: "by hand",
      screw: group.runner.screw,
      screws,
      copies,
    });
  const runners = [
    made(runner.part, group.runner.screws, all - right),
    ...(beyond !== undefined && right > 0 ? [made(`${runner.part}, dividers' right`, beyond, right)] : []),
  ];
  const kickers = runner.kickerPart === undefined ? [] : [made(runner.kickerPart, group.runner.screws, all)];
  return {
    parts: [
      ...runners.map((r) => ({ role: "runner" as const, description: r.part })),
      ...kickers.map((r) => ({ role: "kicker" as const, description: r.part })),
    ],
    byHand: [...runners, ...kickers].flatMap((r) => r.byHand),
  };
}
