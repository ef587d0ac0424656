import type { HoldingWish } from "../job/wishes.ts";
import { toSetup } from "../shapes/frame.ts";
import type { Box3, Point } from "../shapes/point.ts";
import type { Placing } from "./placing.ts";
import type { Holding, KeepOut } from "./setup.ts";

/** How a set-up is held, with what stands in the way. */
export interface Held {
  readonly holding: Holding;
  readonly keepOuts: readonly KeepOut[];
  /** True when the job doesn't say how, or says it for another face. */
  readonly assumed: boolean;
}

/**
 * Holding for one face. Clamps and screws are described on the length × width of the wood and hold for its face and back;
 * other faces, and wood of which nothing is said, are taken to be held all over the underside.
 */
export function heldOn(placing: Placing, wish: HoldingWish | undefined, bedZ: number): Held {
  const flat = placing.face === "face" || placing.face === "back";
  const turned = wish?.by === "jaws" || wish?.by === "cradles";
  if (wish === undefined || turned || (!flat && (wish.by === "clamps" || wish.by === "screws"))) {
    return { holding: { kind: "underside", by: "tape" }, keepOuts: [], assumed: true };
  }
  switch (wish.by) {
    case "tape":
    case "vacuum":
      return { holding: { kind: "underside", by: wish.by }, keepOuts: [], assumed: false };
    case "clamps": {
      const solids = wish.clamps.map((c) => ({
        name: c.name,
        box: solid(placing, c.at, { x: c.at.x + c.size.x, y: c.at.y + c.size.y }, c.height, bedZ),
      }));
      return spots("clamps", solids);
    }
    case "screws": {
      const half = wish.headDiameter / 2;
      const solids = wish.at.map((p, i) => ({
        name: `screw ${i + 1}`,
        box: solid(placing, { x: p.x - half, y: p.y - half }, { x: p.x + half, y: p.y + half }, wish.headHeight, bedZ),
      }));
      return spots("screws", solids);
    }
  }
}

function spots(by: "clamps" | "screws", solids: readonly KeepOut[]): Held {
  return {
    holding: {
      kind: "spots",
      by,
      spots: solids.map(({ box }) => ({ min: { x: box.min.x, y: box.min.y }, max: { x: box.max.x, y: box.max.y } })),
    },
    keepOuts: solids,
    assumed: false,
  };
}

/** A rectangle on the face, as a solid from the bed to its height above the wood. */
function solid(placing: Placing, a: Point, b: Point, height: number, bedZ: number): Box3 {
  const p = toSetup(placing.frame, { x: a.x, y: a.y, z: 0 });
  const q = toSetup(placing.frame, { x: b.x, y: b.y, z: 0 });
  return {
    min: { x: Math.min(p.x, q.x), y: Math.min(p.y, q.y), z: bedZ },
    max: { x: Math.max(p.x, q.x), y: Math.max(p.y, q.y), z: placing.blank.max.z + height },
  };
}
