import type { Finding } from "../finding.ts";
import type { Feature, HoleFeature } from "../job/job.ts";
import { circle } from "../shapes/outlines.ts";
import type { Point } from "../shapes/point.ts";
import { cavityBase, type Described, depthOf, type Ground, mmText, refusal, refused, SAME } from "./ground.ts";
import { evenReach, isFinding, placeOn } from "./place-of.ts";
import { offTheFace } from "./recess.ts";
import type { Cavity } from "./workpiece.ts";

/**
 * The cavities of holes: for each centre a bore with a flat floor, and where the head is sunk a cone or a wider bore
 * above it. Whether a blind bore ends in a drill's point is known only once a bit is chosen: see `withDrillTip`.
 */
export function describeHoles(ground: Ground, feature: Feature & HoleFeature): Described {
  const { part } = ground;
  const depth = depthOf(part, feature, feature.depth);
  if (isFinding(depth)) return refused(depth);
  const head = headOf(ground, feature, depth.to);
  if (isFinding(head)) return refused(head);
  const findings: Finding[] = [];
  const cavities: Cavity[] = [];
  const many = feature.centres.length > 1;
  const widest = Math.max(feature.diameter, head.diameter) / 2;
  for (const [i, at] of feature.centres.entries()) {
    const centre = placeOn(part, feature, at, evenReach(feature.diameter / 2));
    if (isFinding(centre)) {
      findings.push(centre);
      continue;
    }
    const off = offTheFace(ground, feature, circle(centre, widest));
    if (off) {
      findings.push(off);
      continue;
    }
    const base = cavityBase(ground, feature, many ? i + 1 : undefined);
    cavities.push(...head.cavities(base, centre));
    cavities.push({
      ...base,
      section: circle(centre, feature.diameter / 2),
      from: head.boreFrom,
      to: depth.to,
      through: depth.through,
      slopeTan: 0,
      insideRadius: feature.diameter / 2,
      shape: { kind: "hole", centre, diameter: feature.diameter, role: "bore" },
    });
  }
  return { cavities, findings };
}

type Base = ReturnType<typeof cavityBase>;

interface Head {
  /** Diameter at the surface, 0 for a plain hole. */
  readonly diameter: number;
  readonly boreFrom: number;
  readonly cavities: (base: Base, centre: Point) => readonly Cavity[];
}

function headOf(ground: Ground, feature: Feature & HoleFeature, depth: number): Head | Finding {
  const { head } = feature;
  switch (head.kind) {
    case "plain":
      return { diameter: 0, boreFrom: 0, cavities: () => [] };
    case "countersunk": {
      if (head.headDiameter <= feature.diameter + SAME) return headTooSmall(ground, feature, head.headDiameter);
      const slopeTan = Math.tan((head.includedAngle * Math.PI) / 360);
      const to = (head.headDiameter - feature.diameter) / 2 / slopeTan;
      if (to > depth - SAME) return headTooDeep(ground, feature, to, depth);
      return {
        diameter: head.headDiameter,
        boreFrom: 0,
        cavities: (base, centre) => [
          {
            ...sunk(base),
            section: circle(centre, head.headDiameter / 2),
            from: 0,
            to,
            through: false,
            slopeTan,
            insideRadius: feature.diameter / 2,
            shape: { kind: "hole", centre, diameter: head.headDiameter, role: "countersink" },
          },
        ],
      };
    }
    case "counterbored": {
      if (head.diameter <= feature.diameter + SAME) return headTooSmall(ground, feature, head.diameter);
      if (head.depth > depth - SAME) return headTooDeep(ground, feature, head.depth, depth);
      return {
        diameter: head.diameter,
        boreFrom: head.depth,
        cavities: (base, centre) => [
          {
            ...sunk(base),
            section: circle(centre, head.diameter / 2),
            from: 0,
            to: head.depth,
            through: false,
            slopeTan: 0,
            insideRadius: head.diameter / 2,
            shape: { kind: "hole", centre, diameter: head.diameter, role: "counterbore" },
          },
        ],
      };
    }
  }
}

/** The bit that the job names is for the hole itself; its head is the planner's. */
function sunk(base: Base): Base {
  const { cutter: _, ...rest } = base;
  return { ...rest, id: `${base.id}/head` };
}

function headTooSmall(ground: Ground, feature: Feature, diameter: number): Finding {
  return refusal(ground, feature, "part-shape", ["countersunk", "countersunk for", "counterbored", "diameter"], {
    what: "the screw's head is no wider than its hole",
    why: `head ${mmText(diameter)}, hole ${mmText((feature as HoleFeature).diameter)}`,
    mend: "check which of the two is the head",
  });
}

function headTooDeep(ground: Ground, feature: Feature, head: number, depth: number): Finding {
  return refusal(ground, feature, "part-too-deep", ["countersunk", "countersunk for", "counterbored", "depth"], {
    what: "the screw's head is sunk as deep as the hole itself or deeper",
    why: `the head goes ${mmText(head)} down, the hole ${mmText(depth)}`,
    mend: "make the hole deeper or sink the head less",
  });
}

/**
 * The cone that a drill's point leaves beneath a blind bore, as a cavity of its own; none beneath a through hole. Belongs
 * to the target only when a drill is chosen: the planner adds it.
 * @param pointAngle included angle of the drill's point, degrees
 */
export function drillTipOf(bore: Cavity, pointAngle: number): Cavity | undefined {
  const { shape } = bore;
  if (shape.kind !== "hole" || shape.role !== "bore" || bore.through) return undefined;
  const slopeTan = Math.tan((pointAngle * Math.PI) / 360);
  return {
    ...bore,
    id: `${bore.id}/tip`,
    from: bore.to,
    to: bore.to + shape.diameter / 2 / slopeTan,
    slopeTan,
    insideRadius: shape.diameter / 2,
    shape: { ...shape, role: "drill tip" },
  };
}

/** The same bore with another diameter: that of the drill it is made with. mm. */
export function withDiameter(bore: Cavity, diameter: number): Cavity {
  const { shape } = bore;
  if (shape.kind !== "hole") return bore;
  return {
    ...bore,
    section: circle(shape.centre, diameter / 2),
    insideRadius: diameter / 2,
    shape: { ...shape, diameter },
  };
}
