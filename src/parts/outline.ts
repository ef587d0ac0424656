import type { Feature, OutlineFeature } from "../job/job.ts";
import { fitRegion } from "../shapes/fit-arcs.ts";
import { offsetRegion } from "../shapes/offset.ts";
import { roundedRectangle } from "../shapes/outlines.ts";
import { mapRegion, shiftBy } from "../shapes/plan-map.ts";
import type { Loop, Region } from "../shapes/region.ts";
import { reversed } from "../shapes/segment.ts";
import { TOLERANCE } from "../tolerance.ts";
import { faceExtent } from "./faces.ts";
import {
  cavityBase,
  DEFAULT_INSIDE_RADIUS,
  type Described,
  type Ground,
  mmText,
  refusal,
  refused,
  SAME,
} from "./ground.ts";
import { isFinding, placeOn } from "./place-of.ts";
import { reachOf } from "./plan-shape.ts";
import { insideRadiusFor, offTheFace, placedShape } from "./recess.ts";
import { keepOf, placeTabs } from "./tabs.ts";
import type { Cavity } from "./workpiece.ts";

/** Width of the cut beside an outline until a bit is chosen for it, mm. */
const BAND = 8;

/** The one cavity of an outline: a band beside the finished outline, as wide as a bit. */
export function describeOutline(ground: Ground, feature: Feature & OutlineFeature): Described {
  const { part } = ground;
  if (feature.on !== "face" && feature.on !== "back") {
    return refused(
      refusal(ground, feature, "part-outline-on-edge", ["on"], {
        what: "an outline is cut from the face or the back, not from an edge",
        why: `it is on "${part.labels[feature.on]}"`,
        mend: 'write "on: face"',
      }),
    );
  }
  const profile = profileOf(ground, feature);
  if (isFinding(profile)) return refused(profile);
  const extent = faceExtent(part.size, feature.on);
  const deep = extent.deep;
  const { hold } = feature;
  const tooHigh = hold.kind === "tabs" ? hold.height : hold.kind === "skin" ? hold.thickness : 0;
  if (tooHigh > deep - SAME) {
    return refused(
      refusal(ground, feature, "part-too-deep", ["hold by"], {
        what: `the ${hold.kind === "skin" ? "skin is" : "tabs are"} as thick as the wood`,
        why: `${mmText(tooHigh)} in wood of ${mmText(deep)}`,
        mend: "leave less: 0.5 mm of skin, or tabs a quarter of the thickness",
      }),
    );
  }
  const to = hold.kind === "skin" ? deep - hold.thickness : deep;
  const outer = profile.loops[0]!;
  const tabs = hold.kind === "tabs" ? placeTabs(outer, hold.count, hold.width, hold.height) : [];
  if (tabs === undefined) {
    return refused(
      refusal(ground, feature, "part-no-room-for-tabs", ["hold by"], {
        what: "the outline has no room for these tabs",
        why:
          hold.kind === "tabs"
            ? `${hold.count} tabs of ${mmText(hold.width)}, each on a straight run or a wide arc and 6 mm clear of its ends`
            : "",
        mend: "use fewer or narrower tabs, or leave a skin",
      }),
    );
  }
  return {
    findings: [],
    cavities: [
      withBand(
        {
          ...cavityBase(ground, feature),
          section: profile,
          from: 0,
          to,
          through: hold.kind !== "skin",
          slopeTan: 0,
          insideRadius:
            feature.side === "inside"
              ? insideRadiusFor(profile, feature.insideRadius)
              : (feature.insideRadius ?? DEFAULT_INSIDE_RADIUS),
          clear: "walls",
          shape: { kind: "outline", side: feature.side, profile, tabs },
        },
        BAND,
      ),
    ],
  };
}

function profileOf(ground: Ground, feature: Feature & OutlineFeature): Region | ReturnType<typeof refusal> {
  const { part } = ground;
  const { u, v } = faceExtent(part.size, feature.on);
  if (feature.shape.kind === "blank") {
    const { radius } = feature.shape;
    if (feature.side === "inside" || radius > Math.min(u, v) / 2) {
      return refusal(ground, feature, "part-shape", ["corners", "shape"], {
        what:
          feature.side === "inside"
            ? "the part's own outline cannot be an opening in it"
            : "the corner radius doesn't fit the part",
        why: `radius ${mmText(radius)} on a part of ${mmText(u)} × ${mmText(v)}`,
        mend:
          feature.side === "inside"
            ? 'write "side: outside", or give the opening a shape'
            : `at most ${mmText(Math.min(u, v) / 2)}`,
      });
    }
    return roundedRectangle({ x: u / 2, y: v / 2 }, u, v, radius, 0);
  }
  const shaped = placedShape(ground, feature, feature.shape, feature.turnedDeg);
  if (isFinding(shaped)) return shaped;
  if (shaped.loops.length !== 1) {
    return refusal(ground, feature, "part-shape", ["drawing", "shape"], {
      what: "an outline must be one closed line",
      why: `the drawing has ${shaped.loops.length}`,
      mend: "describe each opening as an outline of its own, inside",
    });
  }
  let about = { x: u / 2, y: v / 2 };
  if (feature.at !== undefined) {
    const placed = placeOn(part, feature, feature.at, reachOf(shaped));
    if (isFinding(placed)) return placed;
    about = { x: placed.x, y: placed.y };
  } else if (feature.shape.kind === "drawing" && feature.shape.placed === "as drawn") {
    about = { x: 0, y: 0 };
  }
  const profile = mapRegion(shiftBy(about.x, about.y), shaped);
  if (feature.side === "inside") return offTheFace(ground, feature, profile) ?? profile;
  const box = reachOf(profile);
  if (box.min.x < -SAME || box.min.y < -SAME || box.max.x > u + SAME || box.max.y > v + SAME) {
    return refusal(ground, feature, "part-off-the-board", ["centre at", "shape", "length"], {
      what: "the outline reaches beyond the part's blank",
      why: `it covers ${mmText(box.min.x)} to ${mmText(box.max.x)} by ${mmText(box.min.y)} to ${mmText(box.max.y)} on ${mmText(u)} × ${mmText(v)}`,
      mend: "make the blank larger or the outline smaller",
    });
  }
  return profile;
}

/**
 * An outline's cavity with its band as wide as the cut really is; tabs are as wide again. Other cavities are returned as
 * they are. The far side of the band lies in waste: it is within the kernel's tolerance, the finished outline exact.
 * @param width mm, the bit's diameter and what it strays outwards
 */
export function withBand(cavity: Cavity, width: number): Cavity {
  const { shape } = cavity;
  if (shape.kind !== "outline") return cavity;
  const { profile, side, tabs } = shape;
  const far = fitRegion(offsetRegion(profile, side === "outside" ? width : -width, TOLERANCE.offset), TOLERANCE.arcFit);
  const backwards = (loop: Loop): Loop => [...loop].reverse().map(reversed);
  const section: Region =
    side === "outside"
      ? { loops: [...far.loops, ...profile.loops.map(backwards)] }
      : { loops: [...profile.loops, ...far.loops.map(backwards)] };
  return {
    ...cavity,
    section,
    keeps: (tabs ?? []).map((tab) => keepOf(tab, side, width, cavity.to)),
  };
}
