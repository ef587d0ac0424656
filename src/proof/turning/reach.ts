import { KEEP_CLEAR } from "../../plan/turning-obstacles.ts";
import { boxGap, nearestOn } from "../../shapes/nearest.ts";
import type { Point } from "../../shapes/point.ts";
import { boundsOf, lengthOf, pointAt, type Segment, tangentAt } from "../../shapes/segment.ts";
import { intoKeepOut } from "../../simulate/turning.ts";
import { coreHolds, coreToCurve, standing } from "../../simulate/turning-sweep.ts";
import type { TurningForm } from "../../simulate/turning-tool.ts";
import { radiusThere, type TurnedTarget } from "./solid.ts";

/** What the shop's tools can reach of a target; each stretch of surface is asked for once. */
export interface Reacher {
  readonly target: TurnedTarget;
  readonly forms: readonly TurningForm[];
  /** Places where a tool touches the surface without cutting into it, by tool and curve; filled as they are asked for. */
  readonly known: Map<Segment, readonly Placement[]>;
}

/** A tool set down on the surface. */
interface Placement {
  readonly form: TurningForm;
  /** Its reference point. */
  readonly at: Point;
}

/** Tools touch the surface this far apart when all are set down about a place, mm. */
const APART = 0.2;

/** Halvings between a place where a tool fits and one where it doesn't. */
const HALVINGS = 14;

/** Directions between two faces of a corner, one for each so many radians. */
const FAN = 0.1;

/** Rounding in what counts as cutting in, mm. */
const TOUCH = 1e-6;

export function reacherFor(target: TurnedTarget, forms: readonly TurningForm[]): Reacher {
  return { target, forms, known: new Map() };
}

/**
 * How near the best of the shop's tools comes to a point of the surface without cutting into the part, jaws or centres:
 * 0 where some tool touches it, else the least that any of them leaves, found from tools set down on the surface all
 * about; so never too little by more than the places lie apart.
 * @param enough what is left there now: placements farther off are of no interest
 */
export function bestReach(r: Reacher, s: Segment, share: number, enough: number): number {
  const p = pointAt(s, share);
  for (const n of normalsAt(s, share)) {
    for (const form of r.forms) {
      for (const at of touching(form, p, n)) if (fits(r, form, at)) return 0;
    }
  }
  let least = enough;
  const widest = Math.max(...r.forms.map((f) => f.edge.half), 0);
  for (const c of r.target.judged) {
    const b = boundsOf(c);
    if (p.x < b.min.x - 2 * widest - APART || p.x > b.max.x + 2 * widest + APART) continue;
    for (const { form, at } of placements(r, c)) {
      if (Math.abs(at.x - p.x) > form.edge.half + least) continue;
      least = Math.min(least, distanceFrom(form, at, p));
    }
  }
  return least;
}

/** Directions out of the solid at a point of its outline: the solid lies to the right of a meridian's way. */
function normalsAt(s: Segment, share: number): readonly Point[] {
  const d = tangentAt(s, share);
  return [{ x: -d.y, y: d.x }];
}

/** Where a tool's reference point stands when its edge touches p from outside, in direction n. Corner by corner. */
function touching(form: TurningForm, p: Point, n: Point): readonly Point[] {
  const { radius, flat } = form.edge;
  const middle = { x: p.x + radius * n.x, y: p.y + radius * n.y };
  if (flat === 0) return [middle];
  return [
    { x: middle.x - flat, y: middle.y },
    { x: middle.x + flat, y: middle.y },
  ];
}

/** Whether a tool that stands at a place keeps out of the part and out of all keep-outs. */
function fits(r: Reacher, form: TurningForm, at: Point): boolean {
  const { target } = r;
  if (at.y - form.edge.radius < -TOUCH) return false;
  const sweeps = form.bodies.map((b) => standing(b, at));
  for (const sweep of sweeps) {
    const { body } = sweep;
    const first = sweep.curves[0]?.from ?? at;
    if (first.y < radiusThere(target, first.x)) return false;
    for (const [i, c] of target.curves.entries()) {
      if (boxGap(sweep.box, target.boxes[i]!) > body.radius) continue;
      if (coreToCurve(sweep, c) < body.radius - TOUCH) return false;
    }
  }
  return target.setUp.keepOuts.every((k) => intoKeepOut(sweeps, k.outline, KEEP_CLEAR) === 0);
}

/** Distance of a point from a standing tool's cutting end, mm; 0 inside. */
function distanceFrom(form: TurningForm, at: Point, p: Point): number {
  const edge = form.bodies[0]!;
  const sweep = standing(edge, at);
  if (coreHolds(sweep, p)) return 0;
  let least = Number.POSITIVE_INFINITY;
  for (const c of sweep.curves) least = Math.min(least, nearestOn(c, p).distance);
  return Math.max(0, least - edge.radius);
}

/** Places where tools touch a curve without cutting in, 0.2 mm apart, and close to where they no longer fit. */
function placements(r: Reacher, c: Segment): readonly Placement[] {
  const had = r.known.get(c);
  if (had !== undefined) return had;
  const found: Placement[] = [];
  const n = Math.max(2, Math.ceil(lengthOf(c) / APART));
  for (const form of r.forms) {
    const sides = form.edge.flat === 0 ? 1 : 2;
    for (let side = 0; side < sides; side++) {
      const place = (share: number): Point => touching(form, pointAt(c, share), normalsAt(c, share)[0]!)[side]!;
      let before: { readonly share: number; readonly fits: boolean } | undefined;
      for (let i = 0; i <= n; i++) {
        const share = i / n;
        const at = place(share);
        const ok = fits(r, form, at);
        if (ok) found.push({ form, at });
        if (before !== undefined && before.fits !== ok) {
          const last = lastFitting(
            r,
            form,
            place,
            before.fits ? before.share : share,
            before.fits ? share : before.share,
          );
          found.push({ form, at: place(last) });
        }
        before = { share, fits: ok };
      }
      found.push(...aboutCorner(r, form, c, side));
    }
  }
  r.known.set(c, found);
  return found;
}

/** Between a share where a tool fits and one where it doesn't: the last that fits. */
function lastFitting(
  r: Reacher,
  form: TurningForm,
  place: (share: number) => Point,
  good: number,
  bad: number,
): number {
  let fit = good;
  let not = bad;
  for (let k = 0; k < HALVINGS; k++) {
    const middle = (fit + not) / 2;
    if (fits(r, form, place(middle))) fit = middle;
    else not = middle;
  }
  return fit;
}

/** A tool that goes round the corner at a curve's end, touching it from all sides between the two faces. */
function aboutCorner(r: Reacher, form: TurningForm, c: Segment, side: number): readonly Placement[] {
  const i = r.target.judged.indexOf(c);
  const next = r.target.judged[i + 1];
  if (next === undefined || next.from.x !== c.to.x || next.from.y !== c.to.y) return [];
  const a = normalsAt(c, 1)[0]!;
  const b = normalsAt(next, 0)[0]!;
  // Outward normals turn clockwise round a corner that stands out.
  const turn = Math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y);
  if (turn >= -FAN) return [];
  const steps = Math.ceil(-turn / FAN);
  const found: Placement[] = [];
  for (let k = 1; k < steps; k++) {
    const angle = Math.atan2(a.y, a.x) + (turn * k) / steps;
    const at = touching(form, c.to, { x: Math.cos(angle), y: Math.sin(angle) })[side]!;
    if (fits(r, form, at)) found.push({ form, at });
  }
  return found;
}
