import type { Feature, RabbetFeature } from "../job/job.ts";
import { rectangle } from "../shapes/outlines.ts";
import { borderOf, faceExtent, fromBorder, pointOf, runsTowards } from "./faces.ts";
import { stopBeyond, unclearBorder } from "./groove.ts";
import {
  blindDepthOf,
  cavityBase,
  DEFAULT_INSIDE_RADIUS,
  type Described,
  type Ground,
  mmText,
  refusal,
  refused,
  SAME,
} from "./ground.ts";

/** How far a rabbet is described beyond the part's borders, mm: in the air, room for a bit to come in from outside. */
const RUN_OUT = { air: 15, board: 4 } as const;

/** The one cavity of a rabbet: a step along a border, described out beyond the border and beyond each open end. */
export function describeRabbet(ground: Ground, feature: Feature & RabbetFeature): Described {
  const { part } = ground;
  const border = borderOf(feature.on, feature.along);
  const towards = runsTowards(feature.on, feature.along);
  if (border === undefined || towards === undefined) return refused(unclearBorder(ground, feature, feature.along));
  const depth = blindDepthOf(
    part,
    feature,
    feature.depth,
    "a rabbet through the wood would only make the part narrower",
  );
  if (typeof depth !== "number") return refused(depth);
  const extent = faceExtent(part.size, feature.on);
  const across = border.axis === "u" ? extent.u : extent.v;
  if (feature.width > across - SAME) {
    return refused(
      refusal(ground, feature, "part-off-the-board", ["width"], {
        what: "the rabbet is as wide as the face or wider",
        why: `${mmText(feature.width)} wide on a face of ${mmText(across)}`,
        mend: "make it narrower",
      }),
    );
  }
  const out = RUN_OUT[ground.around];
  const runAxis = border.axis === "u" ? "v" : "u";
  const length = runAxis === "u" ? extent.u : extent.v;
  const tip = (k: 0 | 1): number => {
    const stop = k === 0 ? feature.stops.first : feature.stops.second;
    return fromBorder(part.size, feature.on, borderOf(feature.on, towards[k])!, stop ?? -out);
  };
  for (const [stop, name] of [
    [feature.stops.first, towards[0]],
    [feature.stops.second, towards[1]],
  ] as const) {
    if (stop !== undefined && (stop < SAME || stop > length - SAME))
      return refused(stopBeyond(ground, feature, name, stop, length));
  }
  const [lo, hi] = sorted(tip(0), tip(1));
  const passed = borderOf(feature.on, towards[0])!.end === "low" ? tip(1) <= tip(0) : tip(1) >= tip(0);
  if (passed || hi - lo < SAME) {
    return refused(
      refusal(ground, feature, "part-groove-short", ["stops"], {
        what: "the rabbet's stops pass each other",
        why: `they overlap by ${mmText(hi - lo)}`,
        mend: `check from which of "${towards[0]}" and "${towards[1]}" each stop is measured`,
      }),
    );
  }
  const [a, b] = sorted(
    fromBorder(part.size, feature.on, border, feature.width),
    fromBorder(part.size, feature.on, border, -out),
  );
  const stopped = feature.stops.first !== undefined || feature.stops.second !== undefined;
  // Without stops no inside corner is left on the part: any bit does that stays within what is described.
  const natural = ground.around === "board" ? out : (feature.width + out) / 2;
  const radius = feature.insideRadius ?? (stopped ? DEFAULT_INSIDE_RADIUS : natural);
  return {
    findings: [],
    cavities: [
      {
        ...cavityBase(ground, feature),
        section: rectangle(cornerOf(runAxis, lo, a), cornerOf(runAxis, hi, b)),
        from: 0,
        to: depth,
        through: false,
        slopeTan: 0,
        insideRadius: Math.min(radius, natural),
        shape: { kind: "rabbet" },
      },
    ],
  };
}

function cornerOf(axis: "u" | "v", along: number, across: number): { readonly x: number; readonly y: number } {
  return pointOf(axis, along, across);
}

function sorted(a: number, b: number): readonly [number, number] {
  return a < b ? [a, b] : [b, a];
}
