import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import { jobSchema } from "../../src/job/schema.ts";
import { PULLS } from "../parts/turning/sample.ts";

type Json = { readonly [key: string]: unknown };

const schema = jobSchema() as Json;

function isJson(value: unknown): value is Json {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** What a JSON Schema (draft 2020-12, as far as ours goes) has against some data, each as a path. */
function against(s: Json, data: unknown, path = "$"): string[] {
  const types = s.type === undefined ? undefined : [s.type].flat();
  if (types && !types.includes(typeOf(data)) && !(typeOf(data) === "integer" && types.includes("number")))
    return [`${path}: ${typeOf(data)}`];
  if (Array.isArray(s.enum) && !s.enum.includes(data)) return [`${path}: none of its words`];
  const found: string[] = [];
  if (Array.isArray(s.anyOf)) {
    const tries = (s.anyOf as Json[]).map((one) => against(one, data, path));
    if (!tries.some((t) => t.length === 0)) found.push(...(tries.sort((a, b) => a.length - b.length)[0] ?? []));
  }
  for (const one of (s.allOf ?? []) as Json[]) found.push(...against(one, data, path));
  if (Array.isArray(data) && isJson(s.items))
    found.push(...data.flatMap((d, i) => against(s.items as Json, d, `${path}[${i}]`)));
  if (isJson(data)) {
    const properties = (s.properties ?? {}) as Readonly<Record<string, Json>>;
    for (const key of (s.required ?? []) as string[]) if (!(key in data)) found.push(`${path}: ${key} is missing`);
    for (const [key, value] of Object.entries(data)) {
      const one = properties[key];
      if (one) found.push(...against(one, value, `${path}.${key}`));
      else if (s.additionalProperties === false) found.push(`${path}: ${key} is unknown`);
      else if (isJson(s.additionalProperties)) found.push(...against(s.additionalProperties, value, `${path}.${key}`));
    }
  }
  return found;
}

function typeOf(data: unknown): string {
  if (data === null) return "null";
  if (Array.isArray(data)) return "array";
  if (typeof data === "number") return Number.isInteger(data) ? "integer" : "number";
  return typeof data;
}

const PART = { blank: { wood: "ash", length: 190, height: '2 1/4"', thickness: "= t" } };
const job = (rest: Json): Json => ({ title: "x", units: "mm", parts: { side: { ...PART, ...rest } } });

describe("the JSON Schema of a job file", () => {
  it("is plain JSON that says which draft it is", () => {
    expect(JSON.parse(JSON.stringify(schema))).toEqual(schema);
    expect(schema.$schema).toBe("https://json-schema.org/draft/2020-12/schema");
  });

  it("accepts turned parts, and refuses what they don't have", () => {
    expect(against(schema, parse(PULLS))).toEqual([]);
    expect(against(schema, parse(PULLS.replace("diameter: 46, from", "diametre: 46, from")))).not.toEqual([]);
    expect(against(schema, parse(PULLS.replace("hook: 11", "hok: 11")))).not.toEqual([]);
    expect(against(schema, parse(PULLS.replace("square: 60", "squre: 60")))).not.toEqual([]);
    const lines = "          - bead: foot\n            length: 8\n            diameter: 34\n";
    const fillet = "          - fillet: {length: 3, diameter: 34}\n";
    expect(against(schema, parse(PULLS.replace(fillet, lines)))).toEqual([]);
  });

  it("accepts the sample, and jobs in either spelling", () => {
    const sample = parse(readFileSync(new URL("../../samples/first-part.yaml", import.meta.url), "utf8"));
    expect(against(schema, sample)).toEqual([]);
    expect(
      against(
        schema,
        job({
          features: [
            { rebate: "r", along: "upper edge", width: 6, depth: 4 },
            {
              groove: "g",
              from: "lower edge",
              "center at": 8,
              width: 4,
              depth: "through",
              stops: { "12 from": "front end" },
            },
            {
              hole: "h",
              screw: "no 6",
              depth: "through",
              "centre at": { "from first end": 20, "from lower edge": 9 },
              row: "4 at 32 towards second end",
            },
            { outline: null, side: "outside", "hold by": { tabs: 3, width: 6, height: 1.5 } },
          ],
        }),
      ),
    ).toEqual([]);
  });

  it("refuses what the reader refuses for its shape", () => {
    expect(against(schema, job({ featurs: [] }))).toEqual(["$.parts.side: featurs is unknown"]);
    expect(against(schema, { title: "x", parts: {} })).not.toEqual([]);
    expect(against(schema, { ...job({}), units: "cm" })).toEqual(["$.units: none of its words"]);
    expect(
      against(schema, { title: "x", units: "mm", parts: { a: { blank: { wood: "ash", length: 1, thickness: 2 } } } }),
    ).not.toEqual([]);
    expect(against(schema, job({ features: [{ groove: "g", depth: 4 }] }))).not.toEqual([]);
    expect(against(schema, job({ features: { groove: "g" } }))).not.toEqual([]);
  });

  it("explains every key in its own words", () => {
    const mute: string[] = [];
    const walk = (s: unknown, path: string): void => {
      if (Array.isArray(s)) {
        for (const [i, one] of s.entries()) walk(one, `${path}[${i}]`);
        return;
      }
      if (!isJson(s)) return;
      for (const [key, one] of Object.entries((s.properties ?? {}) as Json)) {
        const said = isJson(one) ? one.description : undefined;
        const own = isJson(one) && (isJson(one.properties) || isJson(one.additionalProperties) || one.type === "array");
        if (typeof said !== "string" && !own && !path.includes("hold by")) mute.push(`${path}.${key}`);
        walk(one, `${path}.${key}`);
      }
      for (const k of ["items", "additionalProperties", "anyOf"]) walk(s[k], `${path}.${k}`);
    };
    walk(schema, "$");
    expect(mute.filter((p) => !/\.(?:tabs|skin|width|height|count|spacing|towards?)$/.test(p))).toEqual([]);
  });
});
