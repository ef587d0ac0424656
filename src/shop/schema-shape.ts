/** Keys and list positions from the top of a value to one inside it. */
export type YamlPath = readonly (string | number)[];

/** As much of JSON Schema as is needed to know what may stand where. */
export interface Shape {
  readonly description?: string;
  readonly quantity?: string;
  readonly properties?: Readonly<Record<string, Shape>>;
  readonly additionalProperties?: Shape | boolean;
  readonly items?: Shape;
  readonly anyOf?: readonly Shape[];
  readonly oneOf?: readonly Shape[];
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
}

/** Every value that stands where the schema wants a size, and could be one. */
export function* sizesIn(
  value: unknown,
  shape: Shape,
  path: YamlPath,
): Generator<{ readonly raw: number | string; readonly quantity: string; readonly path: YamlPath }> {
  const here = shapesAt(shape, path);
  const quantity = here.find((s) => s.quantity !== undefined)?.quantity;
  if (quantity !== undefined) {
    if (typeof value === "number" || typeof value === "string") yield { raw: value, quantity, path };
    return;
  }
  // Only what the schema knows is walked, so depth and number are those of the schema's own keys.
  if (isRecord(value) && here.length > 0) {
    for (const [key, inner] of Object.entries(value)) yield* sizesIn(inner, shape, [...path, key]);
  }
}

/** What the schema says of the value at a path. */
export function describe(shape: Shape, path: YamlPath): string | undefined {
  return shapesAt(shape, path)
    .map((s) => s.description)
    .find((d) => d !== undefined);
}

/** Keys that may stand in the value at a path. */
export function knownKeys(shape: Shape, path: YamlPath): readonly string[] {
  return [...new Set(shapesAt(shape, path).flatMap((s) => Object.keys(s.properties ?? {})))];
}

/** The words that may stand at a path, where only certain words may. */
export function choicesAt(shape: Shape, path: YamlPath): readonly string[] {
  const found = shapesAt(shape, path);
  if (found.some((s) => s.properties || s.items)) return [];
  return found.flatMap((s) => (s.enum ?? (s.const === undefined ? [] : [s.const])).map(String));
}

/** Every shape that may stand at a path, unions opened. */
function shapesAt(shape: Shape, path: YamlPath): readonly Shape[] {
  let here: readonly Shape[] = opened(shape);
  for (const step of path) {
    here = here.flatMap((s) => {
      const next =
        typeof step === "number"
          ? s.items
          : s.properties && Object.hasOwn(s.properties, step)
            ? s.properties[step]
            : typeof s.additionalProperties === "object"
              ? s.additionalProperties
              : undefined;
      return next ? opened(next) : [];
    });
  }
  return here;
}

function opened(shape: Shape): readonly Shape[] {
  return [shape, ...[...(shape.anyOf ?? []), ...(shape.oneOf ?? [])].flatMap(opened)];
}

/** True for a set of named values. */
export function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** The value at a path; undefined where there is none. Looks at own keys only. */
export function valueAt(plain: unknown, path: YamlPath): unknown {
  let here: unknown = plain;
  for (const step of path) {
    if (typeof here !== "object" || here === null || !Object.hasOwn(here, step)) return undefined;
    here = (here as Record<string | number, unknown>)[step];
  }
  return here;
}
