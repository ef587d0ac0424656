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
  const rings: number[] = [];
  for (let x = 0; x <= s.length; x += 0.1) rings.push(x, r(x));
  for (let q = 0; q < s.end; q += 1) rings.push(0, q, s.length, q);
  const left = (x: number, u: number, v: number): number => {
    const rho = Math.hypot(u, v);
    const phi = Math.atan2(v, u);
    let least = 30;
    for (let k = 0; k < rings.length; k += 2) {
      const [qx, qr] = [rings[k]!, rings[k + 1]!];
      if (Math.hypot(x - qx, rho - qr) >= least) continue;
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
    }
    if (half) {
      const c = half.side * half.loss;
      const away = Math.abs(u - c);
      if (away < least) {
        if (!gone(x, c, v) && Math.hypot(c, v) <= r(x)) least = away;
        else {
          for (let dx = -least; dx <= least; dx += 0.1)
            for (let dv = -least; dv <= least; dv += 0.1) {
              const d = Math.hypot(away, dx, dv);
              if (d < least && !gone(x + dx, c, v + dv) && Math.hypot(c, v + dv) <= r(x + dx)) least = d;
            }
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
  for (let x = room.at - core - hw; x <= room.at + core + hw; x += 2.6)
    for (let u = -hw; u <= hw; u += 2.6) weigh(false, x, u + off);
  for (const [wide, fine] of [
    [1.6, 0.3],
    [0.3, 0.06],
    [0.06, 0.012],
  ] as const) {
    for (const list of [best.thin, best.sharp, best.margin]) {
      const near = [...list].sort((p, q) => p.score - q.score).slice(0, wide > 0.5 ? 4 : 1);
      for (const p of near)
        for (let da = -wide; da <= wide; da += fine)
          for (let db = -wide; db <= wide; db += fine)
            weigh(p.wall, p.a + da, Math.max(p.wall ? floor : -99, p.b + db));
    }
  }
  return { clear, thinnest, sharpest, sharpestAt, margin };
}
