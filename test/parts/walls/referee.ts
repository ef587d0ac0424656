import type { Shape, SlotRoom } from "./fixtures.ts";

/**
 * The law by brute force: a slot with upright walls in a turned blank, both surfaces as clouds of points, nothing shared
 * with the code under test. Axis coordinates, mm.
 */
export interface RefereeAnswer {
  /** Least of radius less distance from the axis over all of the recess's lower edge: < 0 where it breaks out. */
  readonly clear: number;
  readonly thinnest: number;
  /** Least t / s within the lip's reach, and s there. */
  readonly sharpest: number;
  readonly sharpestAt: number;
  /** Least of t − min(w, s·sin β). */
  readonly margin: number;
}

export function radiusOfShape(s: Shape, x: number): number {
  const deep = s.middle - s.end;
  const from = x - s.length / 2;
  if (Math.abs(from) >= s.long / 2 || Math.abs(deep) < 1e-3) return s.end;
  const r = (s.long ** 2 / 4 + deep ** 2) / (2 * Math.abs(deep));
  return s.middle + Math.sign(deep) * (Math.sqrt(r * r - from * from) - r);
}

export function judgeByForce(
  s: Shape,
  room: SlotRoom,
  law: { readonly wall: number; readonly sin: number; readonly near: number },
  half?: { readonly side: 1 | -1; readonly loss: number },
  also?: { readonly x: number; readonly y: number; readonly z: number },
): RefereeAnswer {
  const r = (x: number): number => radiusOfShape(s, x);
  const floor = r(room.at) - room.depth;
  const hw = room.width / 2;
  const core = room.length / 2 - hw;
  const off = room.off ?? 0;
  /** Distance inside the slot's outline. */
  const inside = (x: number, u: number): number => hw - Math.hypot(Math.max(0, Math.abs(x - room.at) - core), u - off);
  const gone = (x: number, u: number, v: number): boolean => inside(x, u) > 1e-9 && v > floor + 1e-9;
  /** Outline at length q along it. */
  const around = 4 * core + 2 * Math.PI * hw;
  const outline = (q: number): readonly [number, number] => {
    let a = ((q % around) + around) % around;
    if (a < 2 * core) return [room.at - core + a, off - hw];
    a -= 2 * core;
    if (a < Math.PI * hw) return [room.at + core + hw * Math.sin(a / hw), off - hw * Math.cos(a / hw)];
    a -= Math.PI * hw;
    if (a < 2 * core) return [room.at + core - a, off + hw];
    a -= 2 * core;
    return [room.at - core - hw * Math.sin(a / hw), off + hw * Math.cos(a / hw)];
  };
  const kept = (u: number): boolean => half === undefined || half.side * u > half.loss;
  let clear = Number.POSITIVE_INFINITY;
  for (let q = 0; q < around; q += 0.1) {
    const [x, u] = outline(q);
    clear = Math.min(clear, r(x) - Math.hypot(u, floor), x - 0, s.length - x);
    if (Math.abs(u) < r(x)) clear = Math.min(clear, Math.sqrt(r(x) ** 2 - u * u) - floor);
    else clear = Math.min(clear, r(x) - Math.abs(u));
  }
  for (let x = room.at - core; x <= room.at + core; x += 0.5)
    for (let u = -hw; u <= hw; u += 0.5) clear = Math.min(clear, r(x) - Math.hypot(u + off, floor));
  // The mouth.
  const mouth: number[] = [];
  for (let q = 0; q < around; q += 0.1) {
    const [x, u] = outline(q);
    if (kept(u)) mouth.push(x, u, Math.sqrt(Math.max(0, r(x) ** 2 - u * u)));
  }
  if (half) {
    const c = half.side * half.loss;
    const reach = inside(room.at, c) > 0 ? core + Math.sqrt(Math.max(0, hw * hw - (c - off) ** 2)) : -1;
    if (reach > 0) {
      for (let x = room.at - reach; x <= room.at + reach; x += 0.1) mouth.push(x, c, floor);
      for (const x of [room.at - reach, room.at + reach])
        for (let v = floor; v <= Math.sqrt(r(x) ** 2 - c * c); v += 0.1) mouth.push(x, c, v);
    }
  }
  const toMouth = (x: number, u: number, v: number): number => {
    let least = Number.POSITIVE_INFINITY;
    for (let k = 0; k < mouth.length; k += 3) {
      const d = (x - mouth[k]!) ** 2 + (u - mouth[k + 1]!) ** 2 + (v - mouth[k + 2]!) ** 2;
      if (d < least) least = d;
    }
    return Math.sqrt(least);
  };
  // The turned surface as rings, the ends as discs.
  const APART = 0.1;
  const COARSE = 0.3;
  const rings = Math.floor(s.length / APART) + 1;
  const radii = Array.from({ length: rings }, (_, i) => r(i * APART));
  const left = (x: number, u: number, v: number): number => {
    const rho = Math.hypot(u, v);
    const phi = Math.atan2(v, u);
    let least = 30;
    const look = (qx: number, qr: number): void => {
      if (Math.hypot(x - qx, rho - qr) >= least) return;
      for (let turn = 0; turn <= Math.PI; turn += 0.01) {
        const d = Math.sqrt((x - qx) ** 2 + rho * rho + qr * qr - 2 * rho * qr * Math.cos(turn));
        if (d >= least) break;
        const free = [phi + turn, phi - turn].some(
          (a) => !gone(qx, qr * Math.cos(a), qr * Math.sin(a)) && (!half || half.side * qr * Math.cos(a) >= half.loss),
        );
        if (free) {
          least = d;
          break;
        }
      }
    };
    // From the nearest ring outwards, until rings are farther off than what was found.
    const here = Math.round(x / APART);
    for (let k = 0; (k - 1) * APART < least; k++) {
      for (const i of k === 0 ? [here] : [here - k, here + k]) if (i >= 0 && i < rings) look(i * APART, radii[i]!);
    }
    for (const end of [0, s.length]) if (Math.abs(x - end) < least) for (let q = 0; q < s.end; q += 1) look(end, q);
    if (half) {
      const c = half.side * half.loss;
      const away = Math.abs(u - c);
      if (away < least) {
        if (!gone(x, c, v) && Math.hypot(c, v) <= r(x)) least = away;
        else {
          // Shells of a coarse raster, from the nearest outwards, then a fine one about the best place.
          let [x0, v0] = [Number.NaN, Number.NaN];
          const look = (dx: number, dv: number): void => {
            const d = Math.hypot(away, dx, dv);
            if (d >= least || gone(x + dx, c, v + dv) || Math.hypot(c, v + dv) > r(x + dx)) return;
            least = d;
            [x0, v0] = [dx, dv];
          };
          for (let m = 0; Math.hypot(away, m * COARSE) < least; m++) {
            for (let k = -m; k <= m; k++) {
              look(k * COARSE, -m * COARSE);
              look(k * COARSE, m * COARSE);
              look(-m * COARSE, k * COARSE);
              look(m * COARSE, k * COARSE);
            }
          }
          const [x1, v1] = [x0, v0];
          for (let i = Number.isNaN(x1) ? 11 : -10; i <= 10; i++)
            for (let j = -10; j <= 10; j++) look(x1 + (i * COARSE) / 10, v1 + (j * COARSE) / 10);
        }
      }
    }
    return least;
  };
  let thinnest = Number.POSITIVE_INFINITY;
  let sharpest = 1;
  let sharpestAt = 0;
  let margin = Number.POSITIVE_INFINITY;
  const zone = law.wall / law.sin;
  interface Place {
    readonly wall: boolean;
    readonly a: number;
    readonly b: number;
    readonly score: number;
  }
  /** The best places, none beside another: each low spot is looked into, not one of them four times. */
  const apart = (list: readonly Place[], count: number): readonly Place[] => {
    const found: Place[] = [];
    for (const p of [...list].sort((m, n) => m.score - n.score)) {
      if (found.length === count) break;
      if (found.every((f) => f.wall !== p.wall || Math.hypot(f.a - p.a, f.b - p.b) > 4)) found.push(p);
    }
    return found;
  };
  const best: { thin: Place[]; sharp: Place[]; margin: Place[] } = { thin: [], sharp: [], margin: [] };
  const weigh = (wall: boolean, a: number, b: number): void => {
    const [x, u] = wall ? outline(a) : [a, b];
    const v = wall ? b : floor;
    if (!kept(u) || Math.hypot(u, v) >= r(x) || v < floor || (!wall && inside(x, u) < 0)) return;
    const sd = toMouth(x, u, v);
    if (sd < law.near) return;
    const t = left(x, u, v);
    const short = t - Math.min(law.wall, sd * law.sin);
    margin = Math.min(margin, short);
    best.margin.push({ wall, a, b, score: short });
    if (sd >= zone) {
      thinnest = Math.min(thinnest, t);
      best.thin.push({ wall, a, b, score: t });
    } else {
      if (t / sd < sharpest) {
        sharpest = t / sd;
        sharpestAt = sd;
      }
      best.sharp.push({ wall, a, b, score: t / sd });
    }
  };
  const high = Math.max(s.end, s.middle);
  for (let q = 0; q < around; q += 3.1) {
    const [x, u] = outline(q);
    const top = Math.sqrt(Math.max(0, r(x) ** 2 - u * u));
    for (let v = floor; v < Math.min(high, top); v += 0.8) weigh(true, q, v);
    // Just within the lip's edges, where the nearest of it lie.
    weigh(true, q, top - law.near);
    weigh(true, q, top - zone);
  }
  // Along the foot, where most walls are thinnest and the lip's reach ends at places of its own.
  for (let q = 0; q < around; q += 0.5) weigh(true, q, floor);
  for (let x = room.at - core - hw; x <= room.at + core + hw; x += 2.6)
    for (let u = -hw; u <= hw; u += 2.6) weigh(false, x, u + off);
  for (const [wide, fine] of [
    [1.6, 0.4],
    [1.2, 0.3],
    [0.4, 0.08],
    [0.08, 0.016],
  ] as const) {
    for (const list of [best.thin, best.sharp, best.margin]) {
      const near = apart(list, wide > 1.5 ? 4 : wide > 0.5 ? 2 : 1);
      for (const p of near)
        for (let da = -wide; da <= wide; da += fine)
          for (let db = -wide; db <= wide; db += fine)
            weigh(p.wall, p.a + da, Math.max(p.wall ? floor : -99, p.b + db));
    }
  }
  // A place beyond the lip's reach may be too small for any raster: one that is named is measured by force as well.
  if (also !== undefined && toMouth(also.x, also.y, also.z) >= zone - 0.005) {
    thinnest = Math.min(thinnest, left(also.x, also.y, also.z));
  }
  return { clear, thinnest, sharpest, sharpestAt, margin };
}
