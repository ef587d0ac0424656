import { type Affine, numbersIn } from "./affine.ts";
import { lengthFrom, PIXELS_PER_INCH } from "./drawing-shapes.ts";
import type { XmlElement } from "./xml.ts";

/** How a drawing's own units become mm with Y up, zero at the page's lower left corner. */
export interface Page {
  readonly toMm: Affine;
  /** True when the file says mm, cm, in, pt or pc; otherwise 1 unit was taken as 1/96 in. */
  readonly unitSaid: boolean;
}

const MM_PER_PIXEL = 25.4 / PIXELS_PER_INCH;

/**
 * Reads `width`, `height`, `viewBox` and `preserveAspectRatio` of the outer element. Without a height (or a viewBox
 * that gives one) zero is the drawing's own, and Y is turned up about it.
 * Source: W3C, SVG 1.1 second edition, §7.7 and §7.8.
 */
export function pageOf(svg: XmlElement): Page | { readonly at: number; readonly what: string } {
  const width = sizeOf(svg, "width");
  const height = sizeOf(svg, "height");
  if (width === "bad") return { at: svg.attributes.get("width")!.at, what: "the page's width cannot be read" };
  if (height === "bad") return { at: svg.attributes.get("height")!.at, what: "the page's height cannot be read" };
  const written = svg.attributes.get("viewBox");
  const box = written === undefined ? undefined : numbersIn(written.value);
  if (
    written !== undefined &&
    !(box?.length === 4 && box[2]! > 0 && box[3]! > 0 && box.every((n) => Math.abs(n) <= 1e9))
  ) {
    return { at: written.at, what: "the viewBox must be four numbers, the last two above zero" };
  }
  const unitSaid = [width, height].some((s) => s !== undefined && s.unit !== "" && s.unit !== "px");
  if (box === undefined) {
    const down = height === undefined ? 0 : height.mm;
    return { toMm: { a: MM_PER_PIXEL, b: 0, c: 0, d: -MM_PER_PIXEL, e: 0, f: down }, unitSaid };
  }
  const [x = 0, y = 0, w = 1, h = 1] = box;
  // One of the two sizes alone gives the other by the viewBox's own proportion.
  const across = width?.mm ?? (height === undefined ? w * MM_PER_PIXEL : (height.mm * w) / h);
  const up = height?.mm ?? (width === undefined ? h * MM_PER_PIXEL : (width.mm * h) / w);
  const fit = svg.attributes.get("preserveAspectRatio")?.value.trim() ?? "xMidYMid";
  if (fit.startsWith("none")) {
    return { toMm: { a: across / w, b: 0, c: 0, d: -up / h, e: (-x * across) / w, f: up + (y * up) / h }, unitSaid };
  }
  const align = /^x(Min|Mid|Max)Y(Min|Mid|Max)(?:\s+(meet|slice))?$/.exec(fit);
  if (align === null) {
    return { at: svg.attributes.get("preserveAspectRatio")!.at, what: "preserveAspectRatio cannot be read" };
  }
  const scale = align[3] === "slice" ? Math.max(across / w, up / h) : Math.min(across / w, up / h);
  const share = { Min: 0, Mid: 0.5, Max: 1 };
  const left = (across - w * scale) * share[align[1] as "Min"];
  const top = (up - h * scale) * share[align[2] as "Min"];
  return { toMm: { a: scale, b: 0, c: 0, d: -scale, e: left - x * scale, f: up - top + y * scale }, unitSaid };
}

function sizeOf(svg: XmlElement, name: string): ReturnType<typeof lengthFrom> | "bad" {
  const written = svg.attributes.get(name)?.value.trim();
  // A share of the window says nothing about the wood.
  if (written === undefined || written === "auto" || /^[\d.]+%$/.test(written)) return undefined;
  const length = lengthFrom(written);
  return length !== undefined && length.mm > 0 ? length : "bad";
}
