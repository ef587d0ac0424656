/** How a face is finished. Wet thickness and film in mm. */
export type Finish =
  | { readonly kind: "none" }
  /** Dry film as the user found it, or from the maker. */
  | { readonly kind: "film"; readonly film: number }
  /** Coats of one wet thickness, the share of solids by volume (0 to 1), and what is rubbed off between coats. */
  | {
      readonly kind: "coats";
      readonly coats: number;
      readonly wet: number;
      readonly solids: number;
      readonly rubbedOff?: number;
    }
  | { readonly kind: "oil or wax" }
  | { readonly kind: "varnish" };

/** A dry film on one face, with where the number comes from. */
export interface Film {
  /** mm on one face. */
  readonly thickness: number;
  readonly source: string;
}

/**
 * Dry film on one face: wet film × solids by volume (a woodworking journal, 2013), times the coats, less what is rubbed off
 * between them. The named finishes are taken at the thick end of what is remembered.
 */
export function filmOf(finish: Finish): Film {
  switch (finish.kind) {
    case "none":
      return { thickness: 0, source: "bare wood" };
    case "film":
      return { thickness: finish.film, source: "the job" };
    case "coats": {
      const dry = finish.coats * finish.wet * finish.solids - Math.max(0, finish.coats - 1) * (finish.rubbedOff ?? 0);
      return { thickness: Math.max(0, dry), source: "wet film × volume solids" };
    }
    case "oil or wax":
      return { thickness: 0.01, source: "0 to 0.010 mm a face, from memory" };
    case "varnish":
      return { thickness: 0.125, source: "three coats, 0.075 to 0.125 mm a face, from memory" };
  }
}
