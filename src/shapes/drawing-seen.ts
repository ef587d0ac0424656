import type { Affine } from "./affine.ts";
import type { Paint } from "./drawing-paint.ts";
import type { DrawingFault } from "./drawing-place.ts";
import type { Cascade, Declaration } from "./drawing-styles.ts";
import type { XmlElement } from "./xml.ts";

/** Which elements of a drawing are meant: that with the id, all of the class, and what stands in them. */
export interface Meant {
  readonly id?: string;
  readonly class?: string;
  /** True: what is filled with white lets bare wood be seen through all beneath it. Else white is a colour like others. */
  readonly whiteIsBare?: boolean;
}

/** A shape as it is seen on the page. */
export interface DrawnShape {
  readonly element: XmlElement;
  readonly name: string;
  readonly meant: boolean;
  /** To mm on the page, Y up; or where a transform stands that cannot be read. */
  readonly toMm: Affine | { readonly badAt: number };
  readonly rule: "nonzero" | "even-odd";
  readonly filled: boolean;
  /** True for an area that uncovers the wood again. */
  readonly bare: boolean;
  readonly stroked: boolean;
  /** mm; along a skewed line the middle of its widths. */
  readonly strokeWidth: number;
  /** A stroke without length is seen as a dot. */
  readonly dots: boolean;
  /** The inner or outer page that cuts it off on the screen. */
  readonly frame: PageFrame | undefined;
}

/** The part of a page that is seen: from zero to its size, in units that `toMm` brings to mm. */
export interface PageFrame {
  readonly at: number;
  readonly toMm: Affine;
  readonly width: number;
  readonly height: number;
}

/** Something in the drawing that lines and areas don't show as the screen does. */
export interface Unused extends DrawingFault {
  readonly element: string;
  readonly grade: "caution" | "note";
}

/** An element that is being looked at, with all that reaches it from outside. */
export interface Here {
  readonly element: XmlElement;
  readonly name: string;
  readonly outer: Here | undefined;
  readonly said: ReadonlyMap<string, Declaration>;
  readonly paint: Paint;
  readonly toMm: DrawnShape["toMm"];
  readonly idMet: boolean;
  readonly classMet: boolean;
  readonly uses: number;
  /** Size of the page in its own units, for lengths in per cent. */
  readonly view: { readonly width: number; readonly height: number } | undefined;
  /** Millimetres in a unit by the pages' viewBoxes alone; `fitted` where there is one. */
  readonly unitMm: number;
  readonly fitted: boolean;
  readonly frame: PageFrame | undefined;
}

/** What a page within the page changes for what stands in it. */
export type Inner = Partial<Pick<Here, "toMm" | "view" | "unitMm" | "fitted" | "frame">>;

/** What stays the same while a drawing is gone through. */
export interface Walk {
  readonly nameOf: (element: XmlElement) => string | undefined;
  readonly byId: ReadonlyMap<string, XmlElement>;
  readonly cascade: Cascade;
  readonly meant: Meant;
  readonly hidden: number[];
}

/** What is not said holds for most: a caution that something is not used. */
export type Listed = Omit<Unused, "code" | "grade"> & Partial<Pick<Unused, "code" | "grade">>;

/** Gathers what is lost. */
export interface Listing {
  readonly add: (unused: Listed) => void;
  readonly all: () => readonly Unused[];
}

/** Each place once, however often the drawing repeats it. */
export function listing(): Listing {
  const found = new Map<string, Unused>();
  return {
    add: (unused) => {
      const key = `${unused.at} ${unused.what}`;
      if (!found.has(key)) found.set(key, { code: "drawing-not-used", grade: "caution", ...unused });
    },
    all: () => [...found.values()].sort((a, b) => a.at - b.at),
  };
}

/** Whether an element is one of those asked for, or stands in one. */
export function isMeant(here: Here): boolean {
  return here.idMet && here.classMet;
}

/** Text for a sentence. */
export function short(text: string): string {
  return text.length > 40 ? `${text.slice(0, 40)}…` : text;
}
