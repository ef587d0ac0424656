import { resolve } from "node:path";
import { type Finding, type Outcome, refuses } from "../finding.ts";
import type { Card } from "../parts/cards/card.ts";
import { greyCard } from "../parts/cards/grey-card.ts";
import { kerfCard } from "../parts/cards/kerf-card.ts";
import { registrationCross } from "../parts/cards/registration-cross.ts";
import { recordCell, type TestCardWish, testCard } from "../parts/cards/test-card.ts";
import { makeCard } from "../pipeline/make-card.ts";
import { readPost } from "../program/read-post.ts";
import type { BurnSetting } from "../shop/laser.ts";
import { readShop } from "../shop/read-shop.ts";
import type { Shop } from "../shop/shop.ts";
import { closest } from "../units/closest.ts";
import { EXIT } from "./exit.ts";
import { readText, shown } from "./files.ts";
import { packagedPost } from "./packaged.ts";
import { jsonFindings, say, sayFindings, sayJson } from "./say.ts";
import { writeAll } from "./write-all.ts";

/** Words of the command; numbers as they were typed. */
export interface CardOptions {
  readonly shop?: string;
  readonly out?: string;
  readonly json?: boolean;
  readonly wood?: string;
  readonly effect?: string;
  readonly powers: string;
  readonly speeds: string;
  readonly burn: string;
  readonly passes: string;
  readonly spacing?: string;
  readonly cell: string;
  readonly label: string;
  readonly thickness: string;
  readonly length: string;
  readonly width: string;
  readonly slits: string;
  readonly fields: string;
  readonly across: string;
  readonly chosen?: string;
}

const KINDS = ["test", "kerf", "grey", "cross"] as const;

/** `card`: a card to burn on waste, for finding what a laser does on a wood; or the chosen cell, as lines for the shop file. */
export function card(kind: string, options: CardOptions): void {
  const done = made(kind, options);
  if ("lines" in done) {
    if (options.json) sayJson({ lines: done.lines, ...jsonFindings(done.findings) });
    else say(done.lines.trimEnd());
    return;
  }
  process.exitCode = EXIT[done.exit];
  if (options.json) {
    sayJson({ written: done.written, steps: done.steps, ...jsonFindings(done.findings) });
    return;
  }
  sayFindings(done.findings);
  if (done.written.length === 0) return;
  say(`${done.written.join(", ")} written into ${done.folder}.`);
  for (const [i, step] of done.steps.entries()) say(`${i + 1}. ${step}`);
  say(
    "Everyone in the room wears glasses for the wavelength; never leave it alone; extraction on. The manual comes first.",
  );
}

type Done =
  | { readonly lines: string; readonly findings: readonly Finding[] }
  | {
      readonly exit: "fine" | "refused" | "wrongInput";
      readonly folder: string;
      readonly written: readonly string[];
      readonly steps: readonly string[];
      readonly findings: readonly Finding[];
    };

function made(kind: string, options: CardOptions): Done {
  const folder = shown(resolve(options.out ?? `${kind}-card`));
  const nothing = { exit: "wrongInput", folder, written: [], steps: [] } as const;
  const shop = shopOf(options.shop);
  const what = shop.ok ? wanted(kind, options, shop.value) : shop;
  if (!shop.ok || !what.ok) return { ...nothing, findings: what.findings };
  if (what.value.kind === "lines") return { lines: what.value.text, findings: what.findings };
  const program = makeCard(what.value.card, shop.value, (name) => postOf(name));
  const findings = [...what.findings, ...program.findings.map(inNoFile)];
  if (program.made === undefined) {
    return { ...nothing, exit: program.verdict === "proof" ? "refused" : "wrongInput", findings };
  }
  const written: string[] = [];
  const trouble = writeAll(resolve(options.out ?? `${kind}-card`), program.texts, written);
  if (trouble !== undefined) return { ...nothing, findings: [...findings, trouble] };
  return { exit: "fine", folder, written, steps: program.steps, findings };
}

/** A card stands in no file, so that nothing is to be pointed at. */
function inNoFile(finding: Finding): Finding {
  const { source: _, ...place } = finding.place;
  return { ...finding, place };
}

type Wanted = { readonly kind: "card"; readonly card: Card } | { readonly kind: "lines"; readonly text: string };

function wanted(kind: string, options: CardOptions, shop: Shop): Outcome<Wanted> {
  const known = KINDS.find((k) => k === kind);
  if (known === undefined) {
    const near = closest(kind, KINDS);
    return refused(
      `there is no card called "${kind.slice(0, 40)}"`,
      near === undefined ? `cards: ${KINDS.join(", ")}` : `did you mean "${near}"?`,
    );
  }
  const numbers = readNumbers(options);
  if (!numbers.ok) return numbers;
  const n = numbers.value;
  if (known === "test") {
    if (options.wood === undefined) return refused("say which wood the card is burned on", "--wood cherry");
    if (options.burn !== "line" && options.burn !== "area")
      return refused(`"${options.burn.slice(0, 40)}" is not a way to burn`, "--burn line, or --burn area");
    const wish: TestCardWish = {
      wood: options.wood,
      thickness: n.thickness,
      powers: n.powers,
      speeds: n.speeds,
      burn: options.burn,
      passes: n.passes,
      ...(n.spacing === undefined ? {} : { spacing: n.spacing }),
      cell: n.cell,
      label: n.label,
    };
    return options.chosen === undefined ? asCard(testCard(wish)) : chosen(wish, options.chosen, options.effect);
  }
  const setting = settingOf(shop, options);
  if (!setting.ok) return setting;
  switch (known) {
    case "kerf":
      return asCard(
        kerfCard({
          wood: setting.value.wood,
          length: n.length,
          width: n.width,
          thickness: n.thickness,
          slits: n.slits,
          setting: setting.value,
        }),
      );
    case "grey":
      return asCard(
        greyCard({ thickness: n.thickness, setting: setting.value, fields: n.fields, cell: n.cell, label: n.label }),
      );
    case "cross":
      return asCard(
        registrationCross({
          wood: setting.value.wood,
          length: n.length,
          width: n.width,
          thickness: n.thickness,
          across: n.across,
          setting: setting.value,
        }),
      );
  }
}

function asCard(made: Outcome<Card>): Outcome<Wanted> {
  return made.ok ? { ok: true, value: { kind: "card", card: made.value }, findings: made.findings } : made;
}

/** "row 2, column 3" of the very card that was burned. */
function chosen(wish: TestCardWish, text: string, effect: string | undefined): Outcome<Wanted> {
  const [, row, column] = /^\s*row\s+(\d+)\s*,?\s*column\s+(\d+)\s*$/i.exec(text) ?? [];
  if (row === undefined || column === undefined)
    return refused(`"${text.slice(0, 40)}" is not a cell`, '--chosen "row 2, column 3", counted from the top left');
  if (effect === undefined) return refused("say what the cell is good for", '--effect "dark line"');
  const [r, c] = [Number(row), Number(column)];
  if (r < 1 || r > wish.powers.length || c < 1 || c > wish.speeds.length)
    return refused(
      `the card has ${wish.powers.length} rows and ${wish.speeds.length} columns, so no row ${r}, column ${c}`,
      "give the same --powers and --speeds as when it was burned",
    );
  return { ok: true, value: { kind: "lines", text: recordCell(wish, r - 1, c - 1, effect) }, findings: [] };
}

function settingOf(shop: Shop, options: CardOptions): Outcome<BurnSetting> {
  const all = shop.burns ?? [];
  const names = all.map((b) => `"${b.effect}" on ${b.wood}`);
  const found = all.filter(
    (b) => b.effect === options.effect && (options.wood === undefined || b.wood === options.wood),
  );
  const [first, ...more] = found;
  if (first !== undefined && more.length === 0) return { ok: true, value: first, findings: [] };
  return refused(
    first === undefined ? "the shop file has no such setting" : "that setting stands for more than one wood",
    names.length === 0
      ? "find one by a test card: tillwright card test --wood cherry"
      : `say --effect and --wood; the shop has ${names.join(", ")}`,
  );
}

interface Numbers {
  readonly powers: readonly number[];
  readonly speeds: readonly number[];
  readonly passes: number;
  readonly spacing?: number;
  readonly cell: number;
  readonly label: { readonly power: number; readonly speed: number };
  readonly thickness: number;
  readonly length: number;
  readonly width: number;
  readonly slits: number;
  readonly fields: number;
  readonly across: number;
}

/** The command's numbers: per cent, mm/min, mm. */
function readNumbers(o: CardOptions): Outcome<Numbers> {
  const findings: Finding[] = [];
  const one = (word: string, text: string): number => {
    const value = /^\d+(\.\d+)?$/.test(text.trim()) ? Number(text) : Number.NaN;
    if (Number.isNaN(value)) findings.push(notNumber(word, text));
    return value;
  };
  const several = (word: string, text: string): number[] => text.split(",").map((t) => one(word, t));
  const [power = "", speed = ""] = o.label.split(/\s+at\s+/);
  const value: Numbers = {
    powers: several("--powers", o.powers).map((p) => p / 100),
    speeds: several("--speeds", o.speeds),
    passes: one("--passes", o.passes),
    ...(o.spacing === undefined ? {} : { spacing: one("--spacing", o.spacing) }),
    cell: one("--cell", o.cell),
    label: { power: one("--label", power) / 100, speed: one("--label", speed) },
    thickness: one("--thickness", o.thickness),
    length: one("--length", o.length),
    width: one("--width", o.width),
    slits: one("--slits", o.slits),
    fields: one("--fields", o.fields),
    across: one("--across", o.across),
  };
  return refuses(findings) ? { ok: false, findings } : { ok: true, value, findings };
}

function notNumber(word: string, text: string): Finding {
  return {
    grade: "refuse",
    code: "card-wish",
    place: {},
    what: `${word}: "${text.trim().slice(0, 40)}" is not a number`,
    mend: "write plain numbers: per cent for powers, mm/min for speeds, mm for lengths; several with commas between",
  };
}

function postOf(name: string): ReturnType<typeof readPost> {
  const text = packagedPost(name);
  if (text !== undefined) return readPost(text, name);
  return refused(`there is no post called "${name}"`, "run `tillwright posts` to see the names");
}

function shopOf(path: string | undefined): Outcome<Shop> {
  if (path === undefined) return refused("say which shop's laser it is for", "--shop shop.yaml");
  const read = readText(path);
  return "finding" in read ? { ok: false, findings: [read.finding] } : readShop(read.text, path);
}

function refused(what: string, mend: string): { readonly ok: false; readonly findings: readonly Finding[] } {
  return { ok: false, findings: [{ grade: "refuse", code: "card-wish", place: {}, what, mend }] };
}
