import { type Finding, refuses, tidy } from "../finding.ts";
import type { Cutter } from "../shop/cutter.ts";
import type { Machine } from "../shop/machine.ts";
import { readShop } from "../shop/read-shop.ts";
import type { Shop } from "../shop/shop.ts";
import type { WoodKind } from "../shop/wood.ts";
import { EXIT } from "./exit.ts";
import { readText } from "./files.ts";
import { packagedPosts } from "./packaged.ts";
import { jsonFindings, say, sayError, sayFindings, sayJson } from "./say.ts";

/** Lists what the shop owns and what the tool knows: a table for people, or one JSON document. */
export function list(
  what: "cutters" | "machines" | "posts" | "woods",
  options: { readonly shop?: string; readonly json?: boolean },
): void {
  const outcome = shopFrom(options.shop);
  if (outcome.shop === undefined) {
    if (options.json) sayJson(jsonFindings(outcome.findings));
    else sayFindings(outcome.findings);
    process.exitCode = EXIT.wrongInput;
    return;
  }
  const shop = outcome.shop;
  const posts = what === "posts" ? packagedPosts() : [];
  if (options.json) {
    sayJson(what === "posts" ? posts.map((p) => ({ name: p.name, about: p.about, unit: p.unit })) : shop[what]);
    return;
  }
  sayFindings(outcome.findings);
  switch (what) {
    case "cutters":
      table(["slot", "name", "kind", "diameter", "flutes", "stick-out", "from"], shop.cutters.map(cutterRow));
      break;
    case "machines":
      table(["name", "travel", "spindle", "post", "from"], shop.machines.map(machineRow));
      break;
    case "posts":
      table(
        ["name", "unit", "about"],
        posts.map((p) => [p.name, p.unit, p.about]),
      );
      break;
    case "woods":
      table(["name", "class", "also called", "from"], shop.woods.map(woodRow));
      break;
  }
  if (what !== "posts" && shop.defaultsUsed.length > 0) {
    sayError(
      "Built-in defaults are a starting point: measure your own bits and machine, and put them into a shop file.",
    );
  }
}

function shopFrom(path: string | undefined): { readonly shop?: Shop; readonly findings: readonly Finding[] } {
  if (path === undefined) {
    const defaults = readShop(undefined, "built-in");
    return defaults.ok ? { shop: defaults.value, findings: [] } : { findings: defaults.findings };
  }
  const read = readText(path);
  if ("finding" in read) return { findings: [read.finding] };
  const shop = readShop(read.text, path);
  return shop.ok && !refuses(shop.findings)
    ? { shop: shop.value, findings: shop.findings }
    : { findings: shop.findings };
}

function cutterRow(c: Cutter): string[] {
  const form =
    c.form.kind === "v" || c.form.kind === "countersink"
      ? `${c.form.kind} ${tidy(c.form.includedAngle)}°`
      : c.form.kind === "radiused-corner"
        ? `${c.form.kind} r ${tidy(c.form.cornerRadius)}`
        : c.form.kind;
  const measured = c.diameterMeasured ? `${tidy(c.diameter)} measured` : `${tidy(c.diameter)}`;
  return [String(c.slot), c.name, `${form}, ${c.fluteSense}`, measured, String(c.flutes), tidy(c.stickOut), c.from];
}

function machineRow(m: Machine): string[] {
  const spindle =
    m.spindle.kind === "program"
      ? `${m.spindle.min}–${m.spindle.max} rpm`
      : `dial: ${m.spindle.positions.map((p) => `${p.mark} = ${p.rpm}`).join(", ")}`;
  return [m.name, `${m.travel.x} × ${m.travel.y} × ${m.travel.z} mm`, spindle, m.post, m.from];
}

function woodRow(w: WoodKind): string[] {
  return [w.name, w.class, w.alsoCalled.join(", "), w.from];
}

/** Columns padded to their widest entry. */
function table(head: readonly string[], rows: readonly (readonly string[])[]): void {
  const widths = head.map((h, i) => Math.max(h.length, ...rows.map((r) => r[i]!.length)));
  for (const row of [head, ...rows]) {
    say(row.map((cell, i) => (i === row.length - 1 ? cell : cell.padEnd(widths[i]! + 2))).join(""));
  }
}
