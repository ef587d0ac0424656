/**
 * The few SVG elements that sheets need, as text. Every text and attribute value passes `escapeXml`, so that a name
 * from a job can change nothing but the letters shown. Lengths are mm.
 */

/** Attribute values; numbers are written with at most three decimals. */
export type Attributes = Readonly<Record<string, string | number | undefined>>;

/** An element with children already written. */
export function element(name: string, attributes: Attributes, ...children: readonly string[]): string {
  const written = Object.entries(attributes)
    .filter((entry): entry is [string, string | number] => entry[1] !== undefined)
    .map(([key, value]) => ` ${key}="${typeof value === "number" ? decimal(value) : escapeXml(value)}"`)
    .join("");
  return children.length === 0 ? `<${name}${written}/>` : `<${name}${written}>${children.join("")}</${name}>`;
}

/** A line of text. */
export function text(x: number, y: number, content: string, attributes: Attributes = {}): string {
  return element("text", { x, y, ...attributes }, escapeXml(content));
}

/** A number in SVG: at most three decimals (a micrometre), no minus zero. */
export function decimal(value: number): string {
  const written = value.toFixed(3).replace(/\.?0+$/, "");
  return written === "-0" ? "0" : written;
}

/** Makes any string safe inside SVG text and attributes. Control characters become spaces. */
export function escapeXml(value: string): string {
  return value
    .replace(/[\u0000-\u001f\u007f-\u009f\ufffe\uffff]/g, " ")
    .replace(/[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g, "\ufffd")
    .replace(/&/g, "&amp;")
    .replace(/</g, "&lt;")
    .replace(/>/g, "&gt;")
    .replace(/"/g, "&quot;");
}
