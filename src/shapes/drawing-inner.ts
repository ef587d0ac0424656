import { transformFrom, within } from "./affine.ts";
import { viewBoxOf, viewMap } from "./drawing-page.ts";
import { type Here, type Inner, isMeant, type Listed, type Listing, type Walk } from "./drawing-seen.ts";
import { lengthFrom } from "./drawing-shapes.ts";
import type { XmlElement } from "./xml.ts";

/**
 * A page within the page: an inner `svg`, or a symbol with a viewBox.
 * @param sized the element whose width and height count first: the page itself, or what repeats it
 */
export function innerPage(
  walk: Walk,
  here: Here,
  page: XmlElement,
  sized: XmlElement,
  list: Listing,
): Inner | undefined {
  const own = (name: string): XmlElement => (sized.attributes.has(name) ? sized : page);
  const isSvg = walk.nameOf(page) === "svg";
  const x = isSvg ? lengthAt(here, page, "x", 0, list) : 0;
  const y = isSvg ? lengthAt(here, page, "y", 0, list) : 0;
  const width = lengthAt(here, own("width"), "width", here.view?.width, list);
  const height = lengthAt(here, own("height"), "height", here.view?.height, list);
  const box = viewBoxOf(page);
  const drop = (at: number, what: string): undefined => {
    if (isMeant(here))
      list.add({ at, element: "svg", what: `a page within the page: ${what}`, mend: "draw its shapes in place" });
    return undefined;
  };
  if (box !== undefined && "what" in box) return drop(box.at, box.what);
  if (x === undefined || y === undefined || width === undefined || height === undefined) {
    return drop(page.at, "its size is not known");
  }
  if (!(width > 0 && height > 0)) return drop(page.at, "it has no size");
  const outer = moved(here.toMm, page, walk.cascade.of(page));
  if ("badAt" in outer) return { toMm: outer };
  const toMm = within(outer, { a: 1, b: 0, c: 0, d: 1, e: x, f: y });
  const overflow = page.attributes.get("overflow")?.value;
  const frame = overflow === "visible" || overflow === "auto" ? here.frame : { at: page.at, toMm, width, height };
  if (box === undefined) return { toMm, view: { width, height }, frame };
  const view = viewMap(page, box, width, height);
  if ("what" in view) return drop(view.at, view.what);
  const { unitMm } = here;
  return {
    toMm: within(toMm, view),
    view: { width: box.width, height: box.height },
    unitMm: unitMm * Math.hypot(view.a, view.b),
    fitted: true,
    frame,
  };
}

/** A length of an element in its own units; undefined, and listed, where it cannot be told. */
export function lengthAt(
  here: Here,
  element: XmlElement,
  name: string,
  missing: number | undefined,
  list: Listing,
): number | undefined {
  const written = element.attributes.get(name);
  if (written === undefined || written.value.trim() === "auto") return missing;
  const share = written.value.length > 100 ? null : /^\s*(\d+\.?\d*|\.\d+)%\s*$/.exec(written.value);
  const whole = name === "x" || name === "width" ? here.view?.width : here.view?.height;
  if (share !== null && whole !== undefined) return (Number(share[1]) / 100) * whole;
  const length = lengthFrom(written.value);
  if (length === undefined) {
    if (isMeant(here)) list.add(badLength(written.at, here.name, name));
    return undefined;
  }
  return length.pixels;
}

function badLength(at: number, element: string, name: string): Listed {
  return { at, element, what: `${name} is not a length that can be read here`, mend: "write it as a number" };
}

/** A transform in a style, or about a point of its own, is not read: such an element stands nowhere. */
export function moved(outer: Here["toMm"], element: XmlElement, said: Here["said"]): Here["toMm"] {
  if ("badAt" in outer) return outer;
  const written = element.attributes.get("transform");
  const meant = said.get("transform");
  if (meant !== undefined && meant !== written && meant.value.trim() !== "none") return { badAt: meant.at };
  if (written === undefined || meant !== written) return outer;
  const about = said.get("transform-origin");
  if (about !== undefined && !/^0(?:px)?(?:\s+0(?:px)?)?$/.test(about.value.trim())) return { badAt: about.at };
  const own = written.value.trim() === "none" ? undefined : transformFrom(written.value);
  return own === undefined ? { badAt: written.at } : within(outer, own);
}
