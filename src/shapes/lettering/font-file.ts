import { inflateSync } from "node:zlib";
import type { Outcome } from "../../finding.ts";
import { refusal } from "./say.ts";

/** A font file taken apart: its tables by tag. Views into the file's own bytes where it was not packed. */
export interface FontTables {
  /** "true": quadratic outlines; "CFF": cubic ones. */
  readonly outlines: "true" | "CFF";
  readonly tables: ReadonlyMap<string, Uint8Array>;
}

/** Largest file taken, and largest when unpacked, bytes. Fonts with all of Chinese are some 20 MB. */
const LARGEST = 64 * 1024 * 1024;
/** Most tables; fonts have some twenty. */
const MOST_TABLES = 200;
/** Without these no letter can be found, placed or drawn. */
const NEEDED = ["cmap", "head", "hhea", "hmtx", "maxp"];

const TRUE_TYPE = 0x00010000;
const APPLE_TRUE = 0x74727565;
const OPEN_TYPE_CFF = 0x4f54544f;
const WOFF = 0x774f4646;
const WOFF2 = 0x774f4632;
const COLLECTION = 0x74746366;

/**
 * Takes a TTF, OTF or WOFF file apart; every table is checked to lie in the file. Refuses other kinds by name.
 * Sources: OpenType specification 1.9, "Organization of an OpenType Font"; W3C, WOFF File Format 1.0, §4–5.
 * @param name the file's name, for the findings
 */
export function readFontFile(bytes: Uint8Array, name: string): Outcome<FontTables> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length > LARGEST) return damaged(name, `it is larger than ${LARGEST / 1024 / 1024} MB`);
  if (bytes.length < 12) return notAFont(name, `it holds ${bytes.length} bytes`);
  switch (view.getUint32(0)) {
    case TRUE_TYPE:
    case APPLE_TRUE:
    case OPEN_TYPE_CFF:
      return checked(readDirectory(view, bytes), name);
    case WOFF:
      return checked(unpackWoff(view, bytes), name);
    case WOFF2:
      return otherKind(name, "a WOFF2 file", "give the TTF or OTF that it was packed from");
    case COLLECTION:
      return otherKind(name, "a collection of several fonts", "give one font by itself, as a TTF or OTF file");
    default:
      return notAFont(name, "it begins like none");
  }
}

/** Tables, or what is wrong with them. */
type Parts = ReadonlyMap<string, Uint8Array> | string;

function checked(parts: Parts, name: string): Outcome<FontTables> {
  if (typeof parts === "string") return damaged(name, parts);
  const missing = NEEDED.filter((tag) => !parts.has(tag));
  if (missing.length > 0)
    return damaged(name, `it lacks its ${missing.join(", ")} table${missing.length > 1 ? "s" : ""}`);
  const outlines =
    parts.has("glyf") && parts.has("loca") ? ("true" as const) : parts.has("CFF ") ? ("CFF" as const) : undefined;
  if (outlines !== undefined) return { ok: true, value: { outlines, tables: parts }, findings: [] };
  return otherKind(name, "a font without plain outlines", "give a font whose letters are drawn, not pictured");
}

function readDirectory(view: DataView, bytes: Uint8Array): Parts {
  const count = view.getUint16(4);
  if (count === 0 || count > MOST_TABLES) return `it claims ${count} tables`;
  if (12 + 16 * count > bytes.length) return "it ends within its list of tables";
  const tables = new Map<string, Uint8Array>();
  for (let i = 0; i < count; i++) {
    const at = 12 + 16 * i;
    const [offset, length] = [view.getUint32(at + 8), view.getUint32(at + 12)];
    if (offset + length > bytes.length) return `its table ${tagAt(bytes, at)} reaches past the end of the file`;
    tables.set(tagAt(bytes, at), bytes.subarray(offset, offset + length));
  }
  return tables;
}

function unpackWoff(view: DataView, bytes: Uint8Array): Parts {
  if (bytes.length < 44) return "it ends within its header";
  const count = view.getUint16(12);
  if (count === 0 || count > MOST_TABLES) return `it claims ${count} tables`;
  if (44 + 20 * count > bytes.length) return "it ends within its list of tables";
  const tables = new Map<string, Uint8Array>();
  let whole = 0;
  for (let i = 0; i < count; i++) {
    const at = 44 + 20 * i;
    const tag = tagAt(bytes, at);
    const [offset, packed, length] = [view.getUint32(at + 4), view.getUint32(at + 8), view.getUint32(at + 12)];
    if (offset + packed > bytes.length) return `its table ${tag} reaches past the end of the file`;
    whole += length;
    if (packed > length || whole > LARGEST) return `its table ${tag} claims ${length} bytes`;
    const data = bytes.subarray(offset, offset + packed);
    const table = packed === length ? data : unpacked(data, length);
    if (table === undefined) return `its table ${tag} cannot be unpacked`;
    tables.set(tag, table);
  }
  return tables;
}

/** The stated length bounds the work, whatever the packed bytes would grow to. */
function unpacked(data: Uint8Array, length: number): Uint8Array | undefined {
  try {
    const out = inflateSync(data, { maxOutputLength: Math.max(1, length) });
    return out.length === length ? new Uint8Array(out) : undefined;
  } catch {
    return undefined;
  }
}

function tagAt(bytes: Uint8Array, at: number): string {
  return String.fromCharCode(...bytes.subarray(at, at + 4)).replace(/[^ -~]/g, "?");
}

/**
 * Tables as one file again, each at a multiple of four bytes. Check sums are left at zero: neither reader of ours looks.
 * Source: OpenType specification 1.9, "Organization of an OpenType Font".
 */
export function writeFontFile(outlines: FontTables["outlines"], tables: ReadonlyMap<string, Uint8Array>): Uint8Array {
  const entries = [...tables].sort(([a], [b]) => (a < b ? -1 : 1));
  const padded = (n: number): number => (n + 3) & ~3;
  const start = 12 + 16 * entries.length;
  const out = new Uint8Array(entries.reduce((sum, [, t]) => sum + padded(t.length), start));
  const view = new DataView(out.buffer);
  view.setUint32(0, outlines === "true" ? TRUE_TYPE : OPEN_TYPE_CFF);
  view.setUint16(4, entries.length);
  const power = 2 ** Math.floor(Math.log2(entries.length));
  view.setUint16(6, power * 16);
  view.setUint16(8, Math.log2(power));
  view.setUint16(10, entries.length * 16 - power * 16);
  let offset = start;
  entries.forEach(([tag, table], i) => {
    for (let k = 0; k < 4; k++) out[12 + 16 * i + k] = tag.charCodeAt(k);
    view.setUint32(12 + 16 * i + 8, offset);
    view.setUint32(12 + 16 * i + 12, table.length);
    out.set(table, offset);
    offset += padded(table.length);
  });
  return out;
}

function notAFont(name: string, why: string): Outcome<never> {
  const mend = "give a TTF, OTF or WOFF file";
  return { ok: false, findings: [refusal("font-not-a-font", `${name} is not a font`, why, mend)] };
}

function otherKind(name: string, kind: string, mend: string): Outcome<never> {
  return { ok: false, findings: [refusal("font-unusable-kind", `${name} is ${kind}`, undefined, mend)] };
}

/** Refuses a font file that contradicts itself. */
export function damaged(name: string, why: string): Outcome<never> {
  const mend = "fetch the font again, or take another";
  return { ok: false, findings: [refusal("font-damaged", `${name} is damaged`, why, mend)] };
}
