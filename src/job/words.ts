/**
 * Keys that mean the same, on both sides of the Atlantic and in older shops. Left: as it may be written; right: as the
 * schema knows it. Keys are compared in lower case with single spaces; `_` and `-` count as spaces.
 */
const SAME_KEY: ReadonlyMap<string, string> = new Map([
  ["center at", "centre at"],
  ["centers at", "centres at"],
  ["rebate", "rabbet"],
  ["mortice", "mortise"],
  ["dado", "groove"],
  ["housing", "groove"],
  ["housed groove", "groove"],
  ["reference face", "face side"],
  ["reference side", "face side"],
  ["reference edge", "face edge"],
  ["timber", "wood"],
  ["lumber", "wood"],
  ["height", "width"],
  ["cutter", "bit"],
  ["hold down", "held by"],
  ["held with", "held by"],
  ["counter bored", "counterbored"],
  ["counterbore", "counterbored"],
  ["countersink", "countersunk"],
  ["countersink for", "countersunk for"],
  ["turnover", "turn over"],
  ["wasteboard", "waste board"],
  ["measurements", "measured"],
  ["overrides", "override"],
  ["unit", "units"],
  ["quantity", "copies"],
  ["toward", "towards"],
  ["flipped as", "mirrored as"],
  ["spigot", "tenon"],
  ["filet", "fillet"],
  ["round-over", "round over"],
  ["ovolo", "round over"],
  ["scotia", "cove"],
  ["astragal", "bead"],
  ["parting allowance", "parting"],
  ["maker's mark", "mark"],
  ["cap size", "cap height"],
  ["capital height", "cap height"],
]);

/** A key as the schema knows it. */
export function canonicalKey(key: string): string {
  const plain = plainKey(key);
  return SAME_KEY.get(plain) ?? plain;
}

/** A key in lower case, with single spaces. */
export function plainKey(key: string): string {
  return key
    .trim()
    .toLowerCase()
    .replace(/[\s_-]+/g, " ");
}

/** All ways of writing a key that the schema knows. */
export function spellingsOf(key: string): readonly string[] {
  return [key, ...[...SAME_KEY].filter(([, to]) => to === key).map(([from]) => from)];
}

/**
 * Renames a map's keys to those that a schema knows, where `known` holds the name. A key that is already there under
 * another spelling keeps its own, so that the schema refuses it.
 */
export function withKnownKeys(data: unknown, known: readonly string[]): unknown {
  if (typeof data !== "object" || data === null || Array.isArray(data)) return data;
  const out = new Map<string, unknown>();
  for (const [key, value] of Object.entries(data)) {
    const plain = plainKey(key);
    const own = known.includes(plain) ? plain : canonicalKey(key);
    out.set(known.includes(own) && !out.has(own) ? own : key, value);
  }
  return Object.fromEntries(out);
}
