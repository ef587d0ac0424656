import { type Finding, refuses, tidy } from "../finding.ts";
import type { Cutter } from "../shop/cutter.ts";
import { defaultLathes, defaultTurningTools } from "../shop/default-lathes.ts";
import type { Lathe, TurningTool } from "../shop/lathe.ts";
import type { Machine, SpindleSpeed } from "../shop/machine.ts";
import { readShop } from "../shop/read-shop.ts";
import type { Shop } from "../shop/shop.ts";
import type { WoodKind } from "../shop/wood.ts";
import { EXIT } from "./exit.ts";
import { readText } from "./files.ts";
import { packagedPosts } from "./packaged.ts";
import { jsonFindings, say, sayError, sayFindings, sayJson } from "./say.ts";

/** Lists what the shop owns and what the tool knows: a table for people, or one JSON document. */
export function list(
  what: "cutters" | "machines" | "lathes" | "posts" | "woods",
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
    sayJson(documentOf(what, shop, posts));
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
    case "lathes": {
      const { lathes, tools } = turningOf(shop);
      table(
        ["name", "swing × between centres", "spindle", "X words", "tool post", "post", "from"],
        lathes.map(latheRow),
      );
      say("");
      table(["slot", "turning tool", "kind", "nose radius", "width", "deepest bite", "from"], tools.map(toolRow));
      break;
    }
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
  if (what !== "posts" && restsOnDefaults(what, shop)) {
    sayError(
      "Built-in defaults are a starting point: measure your own bits and machine, and put them into a shop file.",
    );
  }
}

function restsOnDefaults(what: string, shop: Shop): boolean {
  if (what !== "lathes") return shop.defaultsUsed.length > 0;
  const { lathes, tools } = turningOf(shop);
  return [...lathes, ...tools].some((t) => t.from === "built-in default");
}

/** What a list holds, as one JSON document. */
function documentOf(
  what: "cutters" | "machines" | "lathes" | "posts" | "woods",
  shop: Shop,
  posts: ReturnType<typeof packagedPosts>,
): unknown {
  switch (what) {
    case "posts":
      return posts.map((p) => ({ name: p.name, about: p.about, unit: p.unit }));
    case "lathes":
      return turningOf(shop);
    case "cutters":
    case "machines":
    case "woods":
      return shop[what];
  }
}

function turningOf(shop: Shop): { readonly lathes: readonly Lathe[]; readonly tools: readonly TurningTool[] } {
  return { lathes: shop.lathes ?? defaultLathes(), tools: shop.turningTools ?? defaultTurningTools() };
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
  const { x, y, z } = m.travel;
  return [m.name, `${x} × ${y} × ${z} mm`, spindleWords(m.spindle), m.post, m.from];
}

function spindleWords(s: SpindleSpeed): string {
  return s.kind === "program"
    ? `${s.min}–${s.max} rpm`
    : `dial: ${s.positions.map((p) => `${p.mark} = ${p.rpm}`).join(", ")}`;
}

function latheRow(l: Lathe): string[] {
  return [l.name, `${l.swing} × ${l.betweenCentres} mm`, spindleWords(l.spindle), l.xWords, l.toolPost, l.post, l.from];
}

function toolRow(t: TurningTool): string[] {
  return [String(t.slot), t.name, t.kind, tidy(t.noseRadius), tidy(t.width), tidy(t.maxBite), t.from];
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
