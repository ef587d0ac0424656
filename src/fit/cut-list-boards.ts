import type { Finding } from "../finding.ts";
import type { Job } from "../job/job.ts";
import type { StockBoard } from "../job/stock-boards.ts";
import type { Shop } from "../shop/shop.ts";
import { closest } from "../units/closest.ts";
import { type Allowances, type CutRow, woodKey } from "./cut-list-rows.ts";
import { type Bar, type BarKind, type CuttingPlan, type CutWanted, planCuts } from "./cutting-plan.ts";
import { fitFinding, mmText } from "./said.ts";

/** How the boards of one wood and thickness are cut up. All mm. */
export interface BoardsPlan {
  readonly wood: string;
  /** As the boards lie there; without stock: as the parts ask. */
  readonly thickness: number;
  /** True: from the job's stock. False: what to buy. */
  readonly inStock: boolean;
  /** Boards of the stock that are cut into. */
  readonly boards: readonly BoardCut[];
  /** Without stock: strips as wide as the parts ask, and what boards of that length must come to in width, kerfs counted. */
  readonly buy: readonly { readonly length: number; readonly width: number; readonly strips: readonly StripCut[] }[];
  /** Crosscutting and ripping each: what is cut into, and what no plan goes below. Lengths of strips; widths of boards. */
  readonly lengths: Reach;
  readonly widths: Reach;
  readonly missing: readonly Wanted[];
}

/** A board, ripped into strips from one edge, each then cut to length. */
export interface BoardCut {
  readonly length: number;
  readonly width: number;
  readonly strips: readonly StripCut[];
  /** What the saw takes of the width, and what is left beside the last strip. */
  readonly kerfs: number;
  readonly offcut: number;
}

/**
 * A strip and the pieces that it is cut into, some of them narrower than it: those are ripped to width afterwards. `from` and
 * `to` across the board.
 */
export interface StripCut {
  readonly width: number;
  readonly from: number;
  readonly to: number;
  readonly bar: Bar;
}

/** What a plan cuts into, and what no plan with strips of these widths goes below; absent: not known. */
export interface Reach {
  readonly used: number;
  readonly least?: number;
}

/** A piece to be cut: along the board, across it, and the board's thickness. */
export interface Wanted {
  readonly name: string;
  readonly count: number;
  readonly along: number;
  readonly across: number;
  readonly thick: number;
}

/** Lengths that boards are sold in, without stock: common practice, no source. */
const SOLD = {
  mm: [600, 900, 1200, 1800, 2400],
  in: [24, 36, 48, 72, 96].map((n) => n * 25.4),
} as const;
const FINE = 1e-6;
/** Rounds of cutting what did not come out of the boards before from those still whole. */
const ROUNDS = 20;

/** Cuts all solid wood of a list from the job's stock, and says what to buy where there is none of a wood. */
export function boardPlans(
  job: Job,
  rows: readonly CutRow[],
  a: Allowances,
  shop: Shop,
): { readonly plans: readonly BoardsPlan[]; readonly findings: readonly Finding[] } {
  const findings: Finding[] = [];
  const solid = rows.filter((r) => r.outOf === undefined && r.from !== "panel");
  const woods = [...new Set(solid.map((r) => woodKey(shop, r.wood)))];
  const plans = woods.flatMap((wood) => {
    const own = solid.filter((r) => woodKey(shop, r.wood) === wood);
    const stock = (job.stock ?? []).filter((s) => woodKey(shop, s.wood) === wood);
    if (stock.length === 0) return toBuy(job, wood, own, a);
    const boards = stock.flatMap((s) => s.boards);
    const { classes, findings: thin } = intoClasses(own, boards);
    const cut = classes.map((c) =>
      bestStrips(c.pieces, (widths) =>
        cutClass(
          { wood, thickness: c.thickness, widths, kerf: a.kerf },
          c.pieces,
          boards.filter((b) => b.thickness === c.thickness),
        ),
      ),
    );
    const missing = cut.flatMap((c) => c.missing);
    const said = { part: wood, source: stock[0]!.source };
    if (thin.length > 0) {
      findings.push(
        fitFinding(said, "caution", "cut-stock-thin", {
          what: `no ${wood} in stock is thick enough to be planed as usual`,
          why: thin.map((t) => `${t.name} wants ${mmText(t.thick)} rough`).join(", "),
          mend: "take a thicker board, or plane less",
        }),
      );
    }
    if (missing.length > 0) {
      findings.push(
        fitFinding(said, "caution", "cut-stock-short", {
          what: `the ${wood} in stock does not hold all that is cut from it`,
          why: `without a board: ${missing.map((m) => `${m.count} × ${m.name} (${mmText(m.along)} × ${mmText(m.across)} × ${mmText(m.thick)})`).join(", ")}`,
          mend: "get another board, and add it to the stock",
        }),
      );
    }
    return cut;
  });
  for (const s of job.stock ?? []) {
    const wood = woodKey(shop, s.wood);
    if (rows.some((r) => woodKey(shop, r.wood) === wood)) continue;
    const near = closest(wood, [...new Set(rows.map((r) => r.wood.toLowerCase()))]);
    findings.push(
      fitFinding({ part: s.wood, source: s.source }, "note", "cut-stock-unused", {
        what: `no part is made of the ${s.wood} in stock`,
        why: `parts are of ${[...new Set(rows.map((r) => r.wood))].join(", ")}`,
        mend: near === undefined ? "leave it, or check the wood's name" : `did you mean "${near}"?`,
      }),
    );
  }
  return { plans, findings };
}

interface Class {
  readonly thickness: number;
  readonly pieces: readonly Wanted[];
}

/** A row's piece as it may lie in a board; a strip or a blank in two ways. */
function waysOf(r: CutRow): readonly Wanted[] {
  const { length, width, thickness } = r.rough;
  const [along, across] = r.grain === "along width" ? [width, length] : [length, width];
  const one = { name: r.part, count: r.count, along };
  const flat: Wanted = { ...one, across, thick: thickness };
  return r.from === "board" ? [flat] : [flat, { ...one, across: thickness, thick: across }];
}

/** Each piece goes to the boards in which it takes least; one that none is thick enough for, to the thickest that will do. */
function intoClasses(
  rows: readonly CutRow[],
  boards: readonly StockBoard[],
): { readonly classes: readonly Class[]; readonly findings: readonly Wanted[] } {
  const thin: Wanted[] = [];
  const placed = rows.map((r): Wanted => {
    const ways = waysOf(r);
    const choices = ways.flatMap((w) =>
      boards
        .filter((b) => b.thickness >= w.thick - FINE && b.length >= w.along - FINE && b.width >= w.across - FINE)
        .map((b) => ({ ...w, thick: b.thickness })),
    );
    const best = leastOf(choices);
    if (best !== undefined) return best;
    // Planed less than usual, as long as it still comes out at its finished thickness.
    const spare = r.rough.thickness - r.finished.thickness;
    const close = ways.flatMap((w) =>
      boards
        .filter(
          (b) => b.thickness >= w.thick - spare - FINE && b.length >= w.along - FINE && b.width >= w.across - FINE,
        )
        .map((b) => ({ ...w, thick: b.thickness })),
    );
    const scant = close.reduce<Wanted | undefined>((x, y) => (x && x.thick >= y.thick ? x : y), undefined);
    if (scant !== undefined) thin.push(ways[0]!);
    return scant ?? ways[0]!;
  });
  const thicknesses = [...new Set(placed.map((p) => p.thick))].sort((x, y) => y - x);
  return {
    classes: thicknesses.map((thickness) => ({ thickness, pieces: placed.filter((p) => p.thick === thickness) })),
    findings: thin,
  };
}

function leastOf(ways: readonly Wanted[]): Wanted | undefined {
  return ways.reduce<Wanted | undefined>(
    (best, w) => (best === undefined || w.thick * w.across < best.thick * best.across - FINE ? w : best),
    undefined,
  );
}

/** What no stock is named for: strips of the lengths that boards are sold in. */
function toBuy(job: Job, wood: string, rows: readonly CutRow[], a: Allowances): readonly BoardsPlan[] {
  const pieces = rows.map((r) => {
    const ways = waysOf(r);
    // Ripped off the edge of a board as thick as the strip is tall, it leaves the wider board for other parts.
    return ways.length > 1 && ways[1]!.thick > ways[0]!.thick ? ways[1]! : ways[0]!;
  });
  return [...new Set(pieces.map((p) => p.thick))]
    .sort((x, y) => y - x)
    .map((thickness): BoardsPlan => {
      const own = pieces.filter((p) => p.thick === thickness);
      const longest = Math.max(...own.map((p) => p.along));
      const sold: readonly number[] = SOLD[job.unit];
      const kinds: readonly BarKind[] = (longest > Math.max(...sold) ? [...sold, longest] : sold).map((length) => ({
        length,
      }));
      return bestStrips(own, (widths) => {
        const { strips, lengths } = intoStrips(own, widths, () => kinds, a.kerf);
        const buy = kinds.flatMap(({ length }) => {
          const here = strips.filter((s) => s.bar.length === length);
          let at = 0;
          const laid = here.map((s): StripCut => {
            const from = at;
            at += s.width + a.kerf;
            return { ...s, from, to: from + s.width };
          });
          return laid.length === 0 ? [] : [{ length, width: laid.at(-1)!.to, strips: laid }];
        });
        const width = buy.reduce((sum, b) => sum + b.width, 0);
        return {
          wood,
          thickness,
          inStock: false,
          boards: [],
          buy,
          lengths,
          widths: { used: width, least: width },
          missing: [],
        };
      });
    });
}

interface Strip {
  readonly width: number;
  readonly bar: Bar;
}

/** Crosscuts: for each width of strip, pieces from strips of the lengths that there are. */
function intoStrips(
  pieces: readonly Wanted[],
  widths: readonly number[],
  bars: (width: number) => readonly BarKind[],
  kerf: number,
): { readonly strips: readonly Strip[]; readonly lengths: Reach & { readonly least: number } } {
  const plans = widths.map((width) => {
    const own = pieces.filter((p) => stripFor(p, widths) === width);
    const wanted = own.map((p): CutWanted => ({ name: p.name, length: p.along, count: p.count }));
    return { width, plan: planCuts(wanted, bars(width), kerf) };
  });
  return {
    strips: plans.flatMap(({ width, plan }) => plan.bars.map((bar) => ({ width, bar }))),
    lengths: reachOf(plans.map((p) => p.plan)),
  };
}

/** The narrowest strip that a piece comes out of. */
function stripFor(piece: Wanted, widths: readonly number[]): number {
  return Math.min(...widths.filter((w) => w >= piece.across));
}

/**
 * The widths to rip strips to: one for each width of piece at first; then two neighbours become one, as long as that leaves
 * fewer pieces without a board, or cuts into less of them.
 */
function bestStrips(pieces: readonly Wanted[], planned: (widths: readonly number[]) => BoardsPlan): BoardsPlan {
  let widths = [...new Set(pieces.map((p) => p.across))].sort((x, y) => y - x);
  let best = planned(widths);
  for (;;) {
    const merged = widths.slice(1).map((w) => widths.filter((other) => other !== w));
    const plans = merged.map((m) => ({ widths: m, plan: planned(m) }));
    const better = plans.reduce<(typeof plans)[number] | undefined>((a, b) => {
      return isLess(b.plan, a?.plan ?? best) ? b : a;
    }, undefined);
    if (better === undefined) return best;
    widths = better.widths;
    best = better.plan;
  }
}

function isLess(a: BoardsPlan, b: BoardsPlan): boolean {
  const lacking = (p: BoardsPlan): number => p.missing.reduce((v, m) => v + m.count * m.along * m.across, 0);
  const taken = (p: BoardsPlan): number => [...p.boards, ...p.buy].reduce((v, x) => v + x.length * x.width, 0);
  const cuts = (p: BoardsPlan): number => [...p.boards, ...p.buy].reduce((n, x) => n + x.strips.length, 0);
  const by = [lacking, taken, cuts].map((of) => of(a) - of(b)).find((d) => Math.abs(d) > FINE);
  return by !== undefined && by < 0;
}

function reachOf(plans: readonly Pick<CuttingPlan, "used" | "least">[]): Reach & { readonly least: number } {
  return {
    used: plans.reduce((sum, p) => sum + p.used, 0),
    least: plans.reduce((sum, p) => sum + p.least, 0),
  };
}

/**
 * Cuts the boards of one thickness: lengths first, as if each width had all boards to itself, then the strips are laid into
 * the boards. Strips that find no room go back, and their pieces are cut from the boards that are still whole.
 */
function cutClass(
  c: { readonly wood: string; readonly thickness: number; readonly widths: readonly number[]; readonly kerf: number },
  pieces: readonly Wanted[],
  stock: readonly StockBoard[],
): BoardsPlan {
  const { kerf } = c;
  let there = alikeOnce(stock);
  let open = pieces;
  const boards: BoardCut[] = [];
  const lengths: Reach[] = [];
  const widths: Reach[] = [];
  for (let round = 0; round < ROUNDS && open.length > 0 && there.length > 0; round++) {
    const bars = (width: number): readonly BarKind[] =>
      there
        .map((b) => ({ length: b.length, count: b.count * Math.floor((b.width + kerf) / (width + kerf) + FINE) }))
        .filter((b) => b.count > 0);
    const crosscut = intoStrips(open, c.widths, bars, kerf);
    const laid = [...new Set(crosscut.strips.map((s) => s.bar.length))].map((length) => {
      const own = crosscut.strips.filter((s) => s.bar.length === length);
      const names = own.map((s, i): CutWanted => ({ name: String(i), length: s.width, count: 1 }));
      const kinds = there.filter((b) => b.length === length).map((b) => ({ length: b.width, count: b.count }));
      const plan = planCuts(names, kinds, kerf);
      const cut = plan.bars.map(
        (bar): BoardCut => ({
          length,
          width: bar.length,
          strips: bar.pieces.map((p) => ({ ...own[Number(p.name)]!, from: p.from, to: p.to })),
          kerfs: bar.kerfs,
          offcut: bar.offcut,
        }),
      );
      return { plan, cut };
    });
    const now = laid.flatMap((l) => l.cut);
    if (now.length === 0) break;
    boards.push(...now);
    const strips = now.flatMap((b) => b.strips);
    const all = strips.length === crosscut.strips.length;
    lengths.push(all ? crosscut.lengths : { used: strips.reduce((sum, s) => sum + s.bar.length, 0) });
    widths.push(reachOf(laid.map((l) => l.plan)));
    there = there
      .map((b) => ({ ...b, count: b.count - now.filter((n) => n.length === b.length && n.width === b.width).length }))
      .filter((b) => b.count > 0);
    open = stillOpen(open, now);
  }
  return {
    wood: c.wood,
    thickness: c.thickness,
    inStock: true,
    boards,
    buy: [],
    lengths: allOf(lengths),
    widths: allOf(widths),
    missing: open,
  };
}

/** Rounds together. In a later round the boards are those that the earlier ones left, so nothing is known of the whole. */
function allOf(rounds: readonly Reach[]): Reach {
  const used = rounds.reduce((sum, r) => sum + r.used, 0);
  const least = rounds.length === 1 ? rounds[0]!.least : undefined;
  return { used, ...(least !== undefined && { least }) };
}

/** Boards of one size listed twice are one kind. */
function alikeOnce(stock: readonly StockBoard[]): readonly Pick<StockBoard, "length" | "width" | "count">[] {
  const same = (a: StockBoard, b: StockBoard): boolean => a.length === b.length && a.width === b.width;
  return stock
    .filter((b, i) => stock.findIndex((o) => same(o, b)) === i)
    .map((b) => ({
      length: b.length,
      width: b.width,
      count: stock.reduce((n, o) => n + (same(o, b) ? o.count : 0), 0),
    }));
}

/** What is still to be cut when these boards are. */
function stillOpen(open: readonly Wanted[], boards: readonly BoardCut[]): readonly Wanted[] {
  const cut = new Map<string, number>();
  for (const b of boards) {
    for (const s of b.strips) {
      for (const p of s.bar.pieces) cut.set(p.name, (cut.get(p.name) ?? 0) + 1);
    }
  }
  return open.flatMap((w) => {
    const count = w.count - (cut.get(w.name) ?? 0);
    return count > 0 ? [{ ...w, count }] : [];
  });
}
