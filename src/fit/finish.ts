import type { CoatsOf, FinishSaid } from "../job/finish-said.ts";

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

/** A wet coat at the thick end of what is sprayed or brushed, mm: 5 mil (a woodworking journal, 2013). */
const WET = 5 * 0.0254;

/** Share of solids by volume in what is brushed on. */
function solidsOf(of: Exclude<CoatsOf, "varnish">): { readonly share: number; readonly source: string } {
  switch (of) {
    case "lacquer":
      return { share: 0.3, source: "30 % solids (a woodworking journal, 2013)" };
    case "shellac":
      // 0.24 kg of flakes, 1.1 kg a litre, in a litre of spirit: 0.22 of 1.22 litres.
      return { share: 0.18, source: "18 % solids, flakes and spirit at 240 g a litre, from memory" };
  }
}

/** The dry film on one face of a finish as the job says it, nothing rubbed off between coats. */
export function filmSaid(said: FinishSaid): Film {
  switch (said.kind) {
    case "none":
    case "oil or wax":
      return filmOf({ kind: said.kind });
    case "film":
      return filmOf(said);
    case "coats": {
      if (said.of === "varnish") {
        const three = filmOf({ kind: "varnish" });
        return { thickness: (three.thickness * said.coats) / 3, source: `a third of ${three.source}, each coat` };
      }
      const { share, source } = solidsOf(said.of);
      const film = filmOf({ kind: "coats", coats: said.coats, wet: WET, solids: share });
      return { ...film, source: `${film.source}: 0.127 mm wet each coat (a woodworking journal, 2013), ${source}` };
    }
  }
}

/** What the finish is called, for the page. */
export function finishWords(said: FinishSaid): string {
  switch (said.kind) {
    case "none":
      return "bare wood";
    case "film":
      return "as measured";
    case "oil or wax":
      return "oil or wax";
    case "coats":
      return `${said.coats} ${said.coats === 1 ? "coat" : "coats"} of ${said.of}`;
  }
}
