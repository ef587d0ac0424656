import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type StripGraph, stripFlow } from "../../src/simulate/strip-flow.ts";

/** Largest flow by the plainest way: any way with room, found breadth first, until there is none. */
function plainFlow(g: StripGraph): number {
  const nodes = 2 * g.count + 2;
  const room = Array.from({ length: nodes }, () => new Array<number>(nodes).fill(0));
  for (let k = 0; k < g.count; k++) {
    room[2 * k]![2 * k + 1] = g.own[k]!;
    for (let m = 0; m < 4; m++) {
      const v = g.beside[4 * k + m]!;
      if (v >= 0) room[2 * k + 1]![2 * v] = g.shared[4 * k + m]!;
    }
    if (g.ends[k] === 1) room[2 * k + 1]![nodes - 1] = 1e9;
  }
  for (const s of g.starts) room[nodes - 2]![2 * s.column]! += s.capacity;
  let total = 0;
  for (;;) {
    const from = new Array<number>(nodes).fill(-1);
    from[nodes - 2] = nodes - 2;
    const queue = [nodes - 2];
    for (const u of queue) {
      for (let v = 0; v < nodes; v++) {
        if (from[v]! >= 0 || room[u]![v]! <= 0) continue;
        from[v] = u;
        queue.push(v);
      }
    }
    if (from[nodes - 1]! < 0) return total;
    let amount = 1e9;
    for (let v = nodes - 1; v !== nodes - 2; v = from[v]!) amount = Math.min(amount, room[from[v]!]![v]!);
    for (let v = nodes - 1; v !== nodes - 2; v = from[v]!) {
      room[from[v]!]![v]! -= amount;
      room[v]![from[v]!]! += amount;
    }
    total += amount;
  }
}

const W = 5;
const H = 4;

const graph = fc
  .record({
    own: fc.array(fc.integer({ min: 0, max: 9 }), { minLength: W * H, maxLength: W * H }),
    cut: fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 2 * W * H, maxLength: 2 * W * H }),
    starts: fc.array(fc.record({ column: fc.nat(W * H - 1), capacity: fc.integer({ min: 1, max: 9 }) }), {
      minLength: 1,
      maxLength: 5,
    }),
    ends: fc.array(fc.nat(W * H - 1), { minLength: 0, maxLength: 4 }),
  })
  .map(({ own, cut, starts, ends }): StripGraph => {
    const beside = new Int32Array(4 * W * H).fill(-1);
    const shared = new Int32Array(4 * W * H);
    const join = (a: number, b: number, m: number, room: number) => {
      beside[4 * a + m] = b;
      beside[4 * b + (m ^ 1)] = a;
      shared[4 * a + m] = room;
      shared[4 * b + (m ^ 1)] = room;
    };
    for (let j = 0; j < H; j++) {
      for (let i = 0; i < W; i++) {
        const k = j * W + i;
        if (i + 1 < W) join(k, k + 1, 1, cut[2 * k]!);
        if (j + 1 < H) join(k, k + W, 3, cut[2 * k + 1]!);
      }
    }
    const flags = new Uint8Array(W * H);
    for (const e of ends) flags[e] = 1;
    return { count: W * H, beside, shared, own: Int32Array.from(own), starts, ends: flags };
  });

describe("the flow of strips", () => {
  it("is what the plainest search finds, on small random pieces of wood", () => {
    fc.assert(
      fc.property(graph, (g) => {
        expect(stripFlow(g, 1_000_000)).toBe(plainFlow(g));
      }),
      { numRuns: 300 },
    );
  });

  it("stops at the limit", () => {
    fc.assert(
      fc.property(graph, fc.integer({ min: 1, max: 12 }), (g, limit) => {
        expect(stripFlow(g, limit)).toBe(Math.min(limit, plainFlow(g)));
      }),
      { numRuns: 100 },
    );
  });
});
