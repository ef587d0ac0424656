import { spellingsOf } from "./words.ts";

/** A JSON Schema, or part of one. */
type Json = { readonly [key: string]: unknown };

/**
 * A copy of a JSON Schema in which every key may also be written in its other spellings (rebate, height, center at),
 * so that an editor accepts what the reader accepts. A required key is then required in one of its spellings.
 */
export function withSpellings(schema: Json): Json {
  const inner = Object.fromEntries(Object.entries(schema).map(([k, v]) => [k, deeper(v)]));
  const properties = inner.properties;
  if (!isJson(properties)) return inner;
  const known = Object.keys(properties);
  const extra = known.flatMap((key) =>
    spellingsOf(key)
      .filter((s) => !known.includes(s))
      .map((s) => [s, properties[key]] as const),
  );
  const required = Array.isArray(inner.required) ? inner.required.map(String) : [];
  const spelt = (key: string): readonly string[] => spellingsOf(key).filter((s) => s === key || !known.includes(s));
  const plain = required.filter((key) => spelt(key).length === 1);
  const choices = required
    .filter((key) => spelt(key).length > 1)
    .map((key) => ({ anyOf: spelt(key).map((s) => ({ required: [s] })) }));
  const { required: _, ...rest } = inner;
  return {
    ...rest,
    properties: { ...properties, ...Object.fromEntries(extra) },
    ...(plain.length > 0 && { required: plain }),
    ...(choices.length > 0 && { allOf: choices }),
  };
}

function deeper(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(deeper);
  return isJson(value) ? withSpellings(value) : value;
}

function isJson(value: unknown): value is Json {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
