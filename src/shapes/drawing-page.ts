import { type Affine, numbersIn, within } from "./affine.ts";
import { lengthFrom, PIXELS_PER_INCH } from "./drawing-shapes.ts";
import type { XmlElement } from "./xml.ts";

/** How a drawing's own units become mm with Y up, zero at the page's lower left corner. */
export interface Page {
  readonly toMm: Affine;
  /** True when the file says mm, cm, in, pt, pc or Q; otherwise 1 unit was taken as 1/96 in. */
  readonly unitSaid: boolean;
  /** The page's size in mm, and in the drawing's own units; undefined when the file doesn't say it. */
  readonly size?: { readonly width: number; readonly height: number };
  readonly units?: { readonly width: number; readonly height: number };
}

/** What a page cannot be read for, and where. */
export interface PageFault {
  readonly at: number;
  readonly what: string;
}

/** Millimetres in a pixel. */
export const MM_PER_PIXEL = 25.4 / PIXELS_PER_INCH;

/**
 * Reads `width`, `height`, `viewBox` and `preserveAspectRatio` of the outer element. Without a height (or a viewBox
 * that gives one) zero is the drawing's own, and Y is turned up about it.
 * Source: W3C, SVG 1.1 second edition, §7.7 and §7.8.
 */
export function pageOf(svg: XmlElement): Page | PageFault {
  const width = sizeOf(svg, "width");
  const height = sizeOf(svg, "height");
  if (width === "bad") return { at: svg.attributes.get("width")!.at, what: "the page's width cannot be read" };
  if (height === "bad") return { at: svg.attributes.get("height")!.at, what: "the page's height cannot be read" };
  const box = viewBoxOf(svg);
  if (box !== undefined && "what" in box) return box;
  const unitSaid = [width, height].some((s) => s !== undefined && s.unit !== "" && s.unit !== "px");
  if (box === undefined) {
    const down = height === undefined ? 0 : height.mm;
    const toMm = { a: MM_PER_PIXEL, b: 0, c: 0, d: -MM_PER_PIXEL, e: 0, f: down };
    if (width === undefined || height === undefined) return { toMm, unitSaid };
    return {
      toMm,
      unitSaid,
      size: { width: width.mm, height: height.mm },
      units: { width: width.pixels, height: height.pixels },
    };
  }
  // One of the two sizes alone gives the other by the viewBox's own proportion.
  const { width: w, height: h } = box;
  const across = width?.mm ?? (height === undefined ? w * MM_PER_PIXEL : (height.mm * w) / h);
  const up = height?.mm ?? (width === undefined ? h * MM_PER_PIXEL : (width.mm * h) / w);
  const view = viewMap(svg, box, across, up);
  if ("what" in view) return view;
  return {
    toMm: within({ a: 1, b: 0, c: 0, d: -1, e: 0, f: up }, view),
    unitSaid,
    size: { width: across, height: up },
    units: { width: w, height: h },
  };
}

/** The part of the plane that a page shows, in its own units. */
export interface ViewBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** An element's `viewBox`; undefined when it has none. */
export function viewBoxOf(element: XmlElement): ViewBox | PageFault | undefined {
  const written = element.attributes.get("viewBox");
  if (written === undefined) return undefined;
  const [x, y, width, height, more] = numbersIn(written.value) ?? [];
  const box = { x: x ?? 0, y: y ?? 0, width: width ?? 0, height: height ?? 0 };
  const sound = height !== undefined && more === undefined && box.width > 0 && box.height > 0;
  if (!sound || !Object.values(box).every((n) => Math.abs(n) <= 1e9)) {
    return { at: written.at, what: "the viewBox must be four numbers, the last two above zero" };
  }
  return box;
}

/**
 * From the units of an element's viewBox to a page of the given size whose corner is zero, Y down on both, by the
 * element's `preserveAspectRatio`.
 */
export function viewMap(element: XmlElement, box: ViewBox, width: number, height: number): Affine | PageFault {
  const written = element.attributes.get("preserveAspectRatio");
  const fit = written?.value.trim() ?? "xMidYMid";
  let [sx, sy] = [width / box.width, height / box.height];
  let [left, top] = [0, 0];
  if (!/^none(?:\s|$)/.test(fit)) {
    const align = /^x(Min|Mid|Max)Y(Min|Mid|Max)(?:\s+(meet|slice))?$/.exec(fit);
    if (align === null) return { at: written!.at, what: "preserveAspectRatio cannot be read" };
    sx = align[3] === "slice" ? Math.max(sx, sy) : Math.min(sx, sy);
    sy = sx;
    const share = { Min: 0, Mid: 0.5, Max: 1 };
    left = (width - box.width * sx) * share[align[1] as "Min"];
    top = (height - box.height * sy) * share[align[2] as "Min"];
  }
  return { a: sx, b: 0, c: 0, d: sy, e: left - box.x * sx, f: top - box.y * sy };
}

function sizeOf(svg: XmlElement, name: string): ReturnType<typeof lengthFrom> | "bad" {
  const written = svg.attributes.get(name)?.value.trim();
  // A share of the window says nothing about the wood.
  if (written === undefined || written === "auto" || /^[\d.]{1,40}%$/.test(written)) return undefined;
  const length = lengthFrom(written);
  return length !== undefined && length.mm > 0 ? length : "bad";
}
