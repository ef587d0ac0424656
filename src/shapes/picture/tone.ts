import type { Finding, Outcome, Place } from "../../finding.ts";
import type { GreyPicture } from "./grey-picture.ts";

/** One field of a burned grey scale: what was asked, and what it looks like. */
export interface TonePoint {
  /** Share of dots that were left bare in the field, 0 (all burned) to 1 (none). */
  readonly asked: number;
  /** Light the field sends back, on any even scale: 0 black to 1 white for a photographed card. */
  readonly got: number;
}

/** A shop's measured grey scale, ready for use: `asked` climbs from 0 to 1, and `got` with it, from 0 to 1. */
export interface ToneCurve {
  readonly points: readonly TonePoint[];
}

/**
 * A tone curve from measured fields, in any order. What the wood gives when bare counts as white and what it gives when
 * all is burned as black: a picture cannot be lighter or darker than that.
 * Refuses fewer than two fields, fields without the two ends, and a scale that does not get lighter from field to field.
 */
export function toneCurve(fields: readonly TonePoint[], place: Place = {}): Outcome<ToneCurve> {
  const sorted = [...fields].sort((a, b) => a.asked - b.asked);
  const refuse = (what: string, mend: string): Outcome<ToneCurve> => {
    const finding: Finding = { grade: "refuse", code: "picture-tone", place, what, mend };
    return { ok: false, findings: [finding] };
  };
  const first = sorted[0];
  const last = sorted[sorted.length - 1];
  if (sorted.some((f) => !Number.isFinite(f.asked) || !Number.isFinite(f.got))) {
    return refuse("A field of the grey scale has no number", "measure the card again");
  }
  if (first === undefined || last === undefined || first.asked !== 0 || last.asked !== 1) {
    return refuse(
      "The grey scale lacks an end",
      "measure the field that is burned all over (0) and the bare wood (1) as well",
    );
  }
  for (let i = 1; i < sorted.length; i++) {
    const a = sorted[i - 1]!;
    const b = sorted[i]!;
    if (!(b.asked > a.asked && b.got > a.got)) {
      return refuse(
        `The grey scale gets no lighter from the field ${a.asked} to the field ${b.asked}`,
        "leave out one of the two fields, or burn the card with less power",
      );
    }
  }
  const span = last.got - first.got;
  return {
    ok: true,
    value: { points: sorted.map((f) => ({ asked: f.asked, got: (f.got - first.got) / span })) },
    findings: [],
  };
}

/** The picture to ask for so that the wood shows this one: straight between the measured fields. */
export function askFor(picture: GreyPicture, curve: ToneCurve): GreyPicture {
  const { points } = curve;
  const grey = new Float32Array(picture.grey.length);
  for (let i = 0; i < grey.length; i++) {
    const wanted = picture.grey[i]!;
    let low = 0;
    let high = points.length - 1;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (points[middle]!.got <= wanted) low = middle;
      else high = middle;
    }
    const a = points[low]!;
    const b = points[high]!;
    grey[i] = a.asked + ((wanted - a.got) / (b.got - a.got)) * (b.asked - a.asked);
  }
  return { width: picture.width, height: picture.height, grey };
}
