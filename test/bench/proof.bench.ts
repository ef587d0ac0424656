import { contactFindings } from "../../src/proof/contacts.ts";
import { cuttersOf } from "../../src/proof/cutters.ts";
import { provedGouge, provedLeft } from "../../src/proof/exact.ts";
import { holdMeasures, looseFindings, webMeasures } from "../../src/proof/hold-down.ts";
import type { Case } from "../../src/proof/proof.ts";
import { prove, readOptions } from "../../src/proof/prove.ts";
import { feedFindings } from "../../src/proof/rules/feeds.ts";
import { orderFindings } from "../../src/proof/rules/order.ts";
import { spindleFindings } from "../../src/proof/rules/spindle.ts";
import { readProgram } from "../../src/reader/read.ts";
import { offsetPasses } from "../../src/shapes/offset.ts";
import { polygonsToRegion } from "../../src/shapes/polygons.ts";
import { cellFor } from "../../src/simulate/grid.ts";
import { simulate } from "../../src/simulate/run.ts";
import { startWood } from "../../src/simulate/start.ts";
import { bit, cavity, feed, programText, setUpOf, shop, targetOf } from "../proof/fixture.ts";
import { type Row, timed } from "./row.ts";

/** A wavy pocket with an island, cleared in rings: about 3,000 moves, none of them an arc. */
function pocket(points: number) {
  const ring = Array.from({ length: points }, (_, k) => {
    const a = (2 * Math.PI * k) / points;
    const r = 30 * (1 + 0.12 * Math.cos(5 * a));
    return { x: 50 + r * Math.cos(a), y: 40 + r * Math.sin(a) };
  });
  const island = Array.from({ length: 24 }, (_, k) => {
    const a = (-2 * Math.PI * k) / 24;
    return { x: 50 + 6 * Math.cos(a), y: 40 + 6 * Math.sin(a) };
  });
  const section = polygonsToRegion([ring, island]);
  const target = targetOf([cavity({ section, zTo: -5 })]);
  const passes = offsetPasses([ring, island], 3.001, 2.4, 0.002);
  const moves = [-2.5, -5].flatMap((z) =>
    passes.flatMap((p) =>
      p.components.flat().flatMap((loop) =>
        loop.map((a, i) => {
          const b = loop[(i + 1) % loop.length]!;
          return feed({ ...a, z }, { ...b, z });
        }),
      ),
    ),
  );
  return { setUp: setUpOf(target, [bit("6 mm flat")]), text: programText(moves), moves: moves.length };
}

export default async function (): Promise<Row[]> {
  const rows: Row[] = [];
  for (const points of [120, 240, 480]) {
    const { setUp, text, moves } = pocket(points);
    const whole = timed(() => prove({ setUp, text, file: "pocket.ngc", shop }), 3);
    const refused = prove({ setUp, text, file: "pocket.ngc", shop }).findings.filter((f) => f.grade === "refuse");
    rows.push({ name: `whole proof, ${moves} moves`, ...whole, unit: "ms", note: `${refused.length} refusals` });
    const read = readProgram(text, "pocket.ngc", setUp.machine.controller, readOptions(setUp));
    const spindled = cuttersOf(setUp, read, 0, 1);
    const wood = startWood(setUp.blank, cellFor(setUp.blank, 6));
    const cut = () =>
      simulate({
        wood,
        events: read.events,
        assemblyFor: spindled.assemblyFor,
        around: { keepOuts: [], lowestTip: -12 },
      });
    const c: Case = {
      setUp,
      shop,
      file: "pocket.ngc",
      lines: text.split("\n"),
      read,
      wood: shop.woods[0],
      ...spindled,
      simulation: cut(),
    };
    const parts: readonly (readonly [string, () => unknown])[] = [
      ["read", () => readProgram(text, "pocket.ngc", setUp.machine.controller, readOptions(setUp))],
      ["grid cut and contacts", cut],
      ["gouge, exact", () => provedGouge(c)],
      ["wood left, exact", () => provedLeft([c])],
      ["hold-down and webs", () => [looseFindings(c), holdMeasures(c), webMeasures(c)]],
      ["rules", () => [contactFindings(c), feedFindings(c), orderFindings(c), spindleFindings(c)]],
    ];
    for (const [name, work] of parts) rows.push({ name: `  ${name}`, ...timed(work, 3), unit: "ms" });
  }
  return rows;
}
