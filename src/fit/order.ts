import type { FittedGroup } from "./drawer.ts";
import type { FittedPart, HoldPoint, Step } from "./fit-plan.ts";
import { mmText } from "./said.ts";
import type { FitGround } from "./stuff.ts";

/** The order of work at the bench, with what has to be measured before it goes on. */
export function orderOf(
  g: FitGround,
  groups: readonly FittedGroup[],
  parts: readonly FittedPart[],
  byHand: readonly string[],
): { readonly steps: readonly Step[]; readonly holdPoints: readonly HoldPoint[] } {
  const holdPoints = [
    thicknessHold(g),
    bitsHold(g, groups),
    ...groups.flatMap((group) => betweenHold(g, group, parts)),
  ];
  const of = (...roles: readonly FittedPart["role"][]): readonly string[] =>
    parts.filter((p) => roles.includes(p.role)).flatMap((p) => namesOf(p));
  const hung = g.drawers.runners.kind.value === "side-hung";
  const between = holdPoints.filter((h) => h.id.startsWith("between"));
  const pull = g.drawers.pull;
  const slips = g.drawers.bottoms.slip !== undefined;
  const dovetails = (kind: string): boolean => kind === "half-blind" || kind === "through";
  const dovetailed = [
    ...(dovetails(g.drawers.frontJoint.kind.value) ? [`in front, ${g.drawers.frontJoint.kind.value},`] : []),
    ...(dovetails(g.drawers.backJoint.kind.value) ? [`at the back, ${g.drawers.backJoint.kind.value},`] : []),
  ];
  const steps: Step[] = [
    {
      id: "case",
      text: "Glue the case, clean it up, and measure each opening as the measuring sheet asks.",
      parts: [],
    },
    {
      id: "stock",
      text: "Saw and plane the stock; measure the thicknesses as planed and write them into the job.",
      parts: [...of("front", "side", "back", "bottom", "runner", "kicker", "slip")],
    },
    ...(hung
      ? [
          {
            id: "bits",
            text: "Measure the bits for the runners' grooves, with a micrometer or by a trial groove, and write them into the shop file.",
            parts: [],
          },
        ]
      : []),
    { id: "runners", text: "Make the runners.", parts: of("runner", "kicker"), hold: "thickness" },
    {
      id: "fit runners",
      text: sentences(
        hung
          ? "Screw the runners into the case, each on its spacer"
          : "Screw the runners into the case, flush with the rail in front, and the kickers above them on their spacers",
        ...groups.flatMap((group) => group.fitting?.words ?? kickerWords(group)),
        ...byHand,
      ),
      parts: [],
    },
    ...(hung
      ? [
          {
            id: "measure between",
            text: "Measure between the runners of each opening, at the mouth and at the back, and write it into the job.",
            parts: [],
          },
        ]
      : []),
    ...(between.length > 0
      ? between.map(
          (h): Step => ({
            id: `sides ${h.id}`,
            text: "Cut the sides' grooves, first in scrap of the same thickness.",
            parts: h.parts,
            hold: h.id,
          }),
        )
      : [{ id: "sides", text: "Cut the sides' grooves.", parts: of("side"), hold: "thickness" }]),
    {
      id: "fronts",
      text: "Cut the fronts' grooves and joints, while they are still square.",
      parts: of("front"),
      hold: "thickness",
    },
    {
      id: "joints",
      text: sentences(
        ...(dovetailed.length > 0
          ? [`Cut the dovetails ${dovetailed.join(" and ")} by hand, to the gauge settings`]
          : []),
        "Mark every side left and right, inside and lower edge, before it leaves the bench",
        ...(slips
          ? ["Glue the slips inside the sides, lower edges flush, their front ends at the inside of the front"]
          : []),
      ),
      parts: [...of("side", "front", "back", "slip")],
    },
    {
      id: "dry fit",
      text: "Put each drawer together dry, with its bottom in, and try it in its opening before there is glue.",
      parts: [],
    },
    { id: "finish inside", text: "Finish the inside faces, shellac or wax only, none on what is glued.", parts: [] },
    {
      id: "glue",
      text: "Glue front, sides and back, square; slide the bottom in dry.",
      parts: [...of("front", "side", "back")],
    },
    {
      id: "fit front",
      text: "Plane the ends and edges of each front to its opening, by what its drawing says.",
      parts: of("front"),
    },
    {
      id: "clean up",
      text: `Plane ${mmText(g.drawers.cleanUp.value)} off the outer face of each side.`,
      parts: of("side"),
    },
    ...(hung
      ? [
          {
            id: "pare",
            text: "Hang each drawer, and pare the runners' noses until the front lies flush.",
            parts: of("runner"),
          },
        ]
      : []),
    {
      id: "bottom",
      text:
        g.drawers.bottoms.kind.value === "solid"
          ? "Slide the bottom in from behind, glue its front edge only, and screw it to the back through its slot."
          : "Slide the bottom in from behind, and screw or pin it to the back.",
      parts: of("bottom"),
    },
    ...(pull ? [{ id: "pulls", text: `Fix the pulls, "${pull.value}".`, parts: [pull.value] }] : []),
    { id: "finish", text: "Finish the fronts; wax runners and grooves, no finish on what slides.", parts: [] },
  ];
  return { steps, holdPoints: holdPoints.map(({ parts: _, ...h }) => h) };
}

/** Where the kickers of runners below lie. */
function kickerWords(group: FittedGroup): readonly string[] {
  return group.drawers.flatMap(({ fit }) =>
    fit.runner.kickerAt === undefined
      ? []
      : [`${fit.name}: the kickers' lower faces lie ${mmText(fit.runner.kickerAt)} above the runners' upper faces`],
  );
}

/** Sentences in a row, each with its full stop. */
function sentences(...said: readonly string[]): string {
  return said.map((w) => `${w.charAt(0).toUpperCase()}${w.slice(1)}.`).join(" ");
}

/** Names under which a part's programs are made: its own and its mirror image's. */
function namesOf(p: FittedPart): readonly string[] {
  const { name, mirroredAs } = p.description;
  return mirroredAs === undefined ? [name] : [name, mirroredAs];
}

interface Hold extends HoldPoint {
  /** Parts whose step waits for it. */
  readonly parts: readonly string[];
}

/** Thicknesses as planed: everything follows them, so they are asked for before anything is cut. */
function thicknessHold(g: FitGround): Hold {
  const { drawers: d } = g;
  const stuffs = [
    ["fronts", d.fronts],
    ["sides", d.sides],
    ["bottoms", d.bottoms],
    ["runners", d.runners],
  ] as const;
  const open = stuffs.filter(([, s]) => s.asPlaned === undefined);
  const measure = open.map(([name]) => ({
    name: `thickness of the ${name}, as planed`,
    write: `drawers: ${name}: as planed`,
  }));
  const tall = d.runners.heightAsPlaned === undefined;
  const done = open.length === 0 && !tall;
  return {
    id: "thickness",
    what: "measure the stock as planed",
    measure: tall
      ? [...measure, { name: "how tall the runners are, as planed", write: "drawers: runners: tall as planed" }]
      : measure,
    done,
    holdsBack: [],
    parts: [],
    finding: {
      grade: "note",
      code: "fit-measure-first",
      place: { source: d.source },
      what: done ? "thicknesses are as planed and measured" : "thicknesses are as planned, not as planed",
      ...(done
        ? {}
        : {
            why: `not measured: ${open.map(([n]) => n).join(", ")}${tall ? `${open.length > 0 ? ", " : ""}how tall the runners are` : ""}`,
          }),
      mend: done
        ? "measure again if the stock is planed again"
        : 'measure the planed stock, and add "as planed:" to each; grooves and joints follow it',
    },
  };
}

/** Bits that may cut a runner's groove: a tenth on the label's diameter is most of the runner's play. */
function bitsHold(g: FitGround, groups: readonly FittedGroup[]): Hold {
  const widest = Math.max(0, ...groups.map((group) => group.runnerGroove?.width ?? 0));
  const open = g.bits.filter((b) => b.diameter <= widest && !b.diameterMeasured).map((b) => b.name);
  const done = open.length === 0;
  return {
    id: "bits",
    what: "measure the bits that cut the runners' grooves",
    measure: open.map((name) => ({
      name: `diameter of "${name}"`,
      write: `shop file: cutters: ${name}: measured diameter`,
    })),
    done,
    holdsBack: [],
    parts: [],
    finding: {
      grade: "note",
      code: "fit-measure-first",
      place: { source: g.drawers.runners.source },
      what: done
        ? "the bits for the runners' grooves are measured"
        : "a bit for the runners' grooves may be other than its label says",
      ...(done ? {} : { why: `not measured: ${open.join(", ")}` }),
      mend: done
        ? "measure again when one was sharpened"
        : 'measure them with a micrometer or by a trial groove, and add "measured diameter:" in the shop file',
    },
  };
}

/** Between the runners: no groove's depth is known before. */
function betweenHold(g: FitGround, group: FittedGroup, all: readonly FittedPart[]): readonly Hold[] {
  if (group.runnerGroove === undefined) return [];
  const { parts } = group.drawers[0]!.fit.side;
  const own = all.filter((p) => p.role === "side" && p.description.name === parts.right).flatMap(namesOf);
  const open = group.drawers.filter(({ fit }) => !fit.runner.between.measured).map(({ fit }) => fit.name);
  return [
    {
      id: `between, ${group.label}`,
      what: `measure between the fitted runners${group.drawers.length > 1 ? "" : ` of ${group.drawers[0]!.fit.name}`}`,
      measure: open.flatMap((name) => [
        { name: `between the runners of ${name}, at the mouth`, write: `drawers: between runners: ${name}: mouth` },
        { name: `between the runners of ${name}, at the back`, write: `drawers: between runners: ${name}: back` },
      ]),
      done: group.measured,
      holdsBack: group.measured ? [] : own,
      parts: own,
      finding: {
        grade: group.measured ? "note" : "caution",
        code: "fit-measure-first",
        place: { part: parts.right, source: g.drawers.source },
        what: group.measured
          ? "the grooves follow what was measured between the runners"
          : "the grooves of these sides are held back until it is measured between the runners",
        why: group.measured
          ? `groove ${mmText(group.runnerGroove.depth)} deep before clean-up`
          : `not measured: ${open.join(", ")}; from the openings alone the groove would be ${mmText(group.runnerGroove.depth)} deep`,
        mend: group.measured
          ? "measure again if a runner is moved"
          : 'fit the runners, measure between them at mouth and back, and add "between runners:" to "drawers:"',
      },
    },
  ];
}
