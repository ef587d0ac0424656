import type { Finding } from "../finding.ts";
import type { BackJointWish, FrontJointWish } from "../job/drawers.ts";
import type { GaugeSetting, JointFit } from "./fit-plan.ts";
import { fitFinding, mmText, PRACTICE, type Said } from "./said.ts";
import { clean } from "./stuff.ts";

/** Where front and sides lie from front to back; y from the case's front, mm. */
export interface FrontPlace {
  /** Show face: 0 inset, before the case by the lip's thickness for a lipped front. */
  readonly show: number;
  readonly inside: number;
  /** Front end of the sides before clean-up. */
  readonly sideEnd: number;
  /** How much of the side lies within the front. */
  readonly takes: number;
  /** Wood left before the side's end; 0 for a through joint. */
  readonly lap: number;
}

/** A third of a thickness, to half millimetres: what a lap or a shallow housing usually is. Common practice, no source. */
export function third(thickness: number): number {
  return Math.max(1, Math.round((thickness / 3) * 2) / 2);
}

/** Places a front of some thickness and the ends of the sides in it. */
export function placeFront(
  wish: FrontJointWish,
  thickness: number,
  lip: number | undefined,
  said: Said,
): { readonly place: FrontPlace; readonly findings: readonly Finding[] } {
  const show = lip === undefined ? 0 : -lip;
  const inside = show + thickness;
  const findings: Finding[] = [];
  const kind = wish.kind.value;
  const lap =
    kind === "half-blind" || kind === "rabbet" ? (wish.lap?.value ?? lip ?? Math.max(3, third(thickness))) : 0;
  const end = ((): number => {
    switch (kind) {
      case "half-blind":
      case "rabbet":
        return show + lap;
      case "through":
        return show - wish.proud.value;
      case "butt":
        return inside;
    }
  })();
  if (lap >= thickness) {
    findings.push(
      fitFinding(
        said,
        "refuse",
        "fit-joint-no-room",
        {
          what: "the lap is as thick as the front",
          why: `a lap of ${mmText(lap)} in a front of ${mmText(thickness)} leaves the sides nothing to enter`,
          mend: "a lap of a quarter to a third of the front is usual (common practice, no source)",
          keys: ["lap"],
        },
        { found: lap, limit: thickness, from: "the front's thickness" },
      ),
    );
  }
  if (lip !== undefined && (kind === "through" || (lap > 0 && lap < lip))) {
    findings.push(
      fitFinding(said, "refuse", "fit-joint-no-room", {
        what:
          kind === "through" ? "a lipped front cannot have through joints" : "the sides would come out through the lip",
        why: `the lip lies before the case and covers the sides' ends; it is ${mmText(lip)} thick`,
        mend: kind === "through" ? "choose half-blind, rabbet or butt" : `make the lap ${mmText(lip)} or more`,
        keys: ["front joint", "lap"],
      }),
    );
  }
  return { place: { show, inside, sideEnd: end, takes: Math.max(0, inside - end), lap }, findings };
}

/** Where the back lies, measured forward from the farthest point of the drawer's sides before clean-up. */
export interface BackPlace {
  /** From the sides' back end before clean-up to the back's outer face; negative: the back reaches farther. */
  readonly outer: number;
  /** What is planed off the sides' back end. */
  readonly proud: number;
  /** How deep the back's ends enter the sides from their inside; the whole thickness for dovetails. */
  readonly enters: number;
  readonly takes: number;
}

/** Places the back at the sides' ends. Thicknesses before clean-up. */
export function placeBack(
  wish: BackJointWish,
  back: number,
  side: number,
  said: Said,
): { readonly place: BackPlace; readonly findings: readonly Finding[] } {
  const proud = wish.proud.value;
  const lap = wish.lap?.value ?? Math.max(2, third(back));
  const depth = wish.depth?.value ?? third(side);
  const findings: Finding[] = [];
  const kind = wish.kind.value;
  if (kind === "half-blind" && lap >= back) {
    findings.push(
      fitFinding(said, "refuse", "fit-joint-no-room", {
        what: "the lap is as thick as the back",
        why: `a lap of ${mmText(lap)} in a back of ${mmText(back)}`,
        mend: "a lap of a quarter to a third of the back is usual (common practice, no source)",
        keys: ["back lap"],
      }),
    );
  }
  if ((kind === "housing" || kind === "rabbet") && depth > (side * 2) / 3) {
    findings.push(
      fitFinding(
        said,
        depth >= side ? "refuse" : "caution",
        "fit-joint-no-room",
        {
          what:
            depth >= side ? `the ${kind} goes through the side` : `the ${kind} is deeper than two thirds of the side`,
          why: `${mmText(depth)} of ${mmText(side)}`,
          mend: "a third to a half is usual",
          keys: ["back depth"],
        },
        {
          found: depth,
          limit: depth >= side ? side : (side * 2) / 3,
          from: depth >= side ? "the side's thickness" : PRACTICE,
        },
      ),
    );
  }
  const place = ((): BackPlace => {
    switch (kind) {
      case "through":
        return { outer: proud, proud, enters: side, takes: back + proud };
      case "half-blind":
        return { outer: -lap, proud: 0, enters: side, takes: back - lap };
      case "housing":
        return { outer: wish.behind?.value ?? side, proud: 0, enters: depth, takes: 0 };
      case "rabbet":
        return { outer: 0, proud: 0, enters: depth, takes: 0 };
      case "butt":
        return { outer: 0, proud: 0, enters: 0, takes: 0 };
    }
  })();
  return { place, findings };
}

/** Half pins and pins are at least so wide, and a groove stays so far from a tail's edge, mm: common practice, no source. */
const LEAST_PIN = 3;
const BESIDE_GROOVE = 1;

/** A stretch up the side, from its lower edge. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/**
 * Lays out tails up a side, from its lower edge, so that each groove falls inside one of them. Pins are as even as that
 * allows: each is put where it would lie evenly, and moved to the nearest place that no groove takes.
 * @param height of the joint, mm; the side's, or the back's on it
 * @param from lower end of the joint, above the side's lower edge
 * @returns undefined when no pin can be placed
 */
export function layTails(
  height: number,
  from: number,
  wanted: number | undefined,
  pin: number,
  grooves: readonly Stretch[],
): readonly Stretch[] | undefined {
  const span = height - from;
  const count = wanted ?? Math.max(1, Math.round(span / 28));
  for (let n = count; n >= 1; n--) {
    const tails = tailsOf(height, from, n, pin, grooves);
    if (tails !== undefined) return tails;
    if (wanted !== undefined) return undefined;
  }
  return undefined;
}

function tailsOf(
  height: number,
  from: number,
  n: number,
  pin: number,
  grooves: readonly Stretch[],
): readonly Stretch[] | undefined {
  const lowest = Math.min(height, ...grooves.filter((g) => g.to > from).map((g) => g.from));
  const highest = Math.max(from, ...grooves.map((g) => g.to));
  const half = pin / 2;
  const lower = Math.min(half + 1, lowest - from - BESIDE_GROOVE);
  const upper = Math.min(half + 1, height - highest - BESIDE_GROOVE);
  if (lower < 1 && lowest < height) return undefined;
  const first = from + Math.max(1, lower);
  const last = height - Math.max(1, upper);
  if (last - first < n * 2 * LEAST_PIN) return undefined;
  const middles: number[] = [];
  for (let i = 1; i < n; i++) {
    const even = first + ((last - first) * i) / n;
    const free = nearestFree(even, half, first, last, grooves, middles.at(-1));
    if (free === undefined) return undefined;
    middles.push(free);
  }
  const edges = [first, ...middles.flatMap((m) => [m - half, m + half]), last];
  return Array.from({ length: n }, (_, i) => ({ from: clean(edges[2 * i]!), to: clean(edges[2 * i + 1]!) }));
}

function nearestFree(
  even: number,
  half: number,
  first: number,
  last: number,
  grooves: readonly Stretch[],
  below: number | undefined,
): number | undefined {
  const room = half + LEAST_PIN;
  const low = below === undefined ? first + room : below + half + room;
  const high = last - room;
  const clear = (m: number): boolean =>
    m >= low - 1e-9 &&
    m <= high + 1e-9 &&
    grooves.every((g) => m + half <= g.from - BESIDE_GROOVE + 1e-9 || m - half >= g.to + BESIDE_GROOVE - 1e-9);
  const places = [
    Math.min(high, Math.max(low, even)),
    ...grooves.flatMap((g) => [g.from - BESIDE_GROOVE - half, g.to + BESIDE_GROOVE + half]),
  ].filter(clear);
  return places.length === 0 ? undefined : places.reduce((a, b) => (Math.abs(b - even) < Math.abs(a - even) ? b : a));
}

/** What a front joint's gauges are set to. `inset`: from the ends of the front's blank to the sides' faces before clean-up. */
export function frontSettings(
  wish: FrontJointWish,
  place: FrontPlace,
  side: number,
  inset: { readonly left: number; readonly right: number },
  tails: readonly Stretch[],
): JointFit {
  const kind = wish.kind.value;
  const ends = [
    {
      name: "inset" as const,
      value: clean(inset.left + side),
      where: "inside of the front, from its left end, to the inside of the left side",
    },
    {
      name: "inset" as const,
      value: clean(inset.right + side),
      where: "inside of the front, from its right end, to the inside of the right side",
    },
  ];
  const settings = ((): readonly GaugeSetting[] => {
    switch (kind) {
      case "half-blind":
        return [
          { name: "baseline", value: clean(place.takes), where: "both faces of the sides, from the front end" },
          { name: "lap", value: clean(place.takes), where: "both ends of the front, from its inside" },
          ...ends,
        ];
      case "through":
        return [
          { name: "baseline", value: clean(place.takes), where: "both faces of the sides, from the front end" },
          {
            name: "proud",
            value: wish.proud.value,
            where: "tails stand out of the show face by this, and are planed off",
          },
          ...ends,
        ];
      case "rabbet":
        return [
          { name: "depth", value: clean(place.takes), where: "rabbets at both ends of the front, from its inside" },
          ...ends.map((e) => ({ ...e, name: "shoulder" as const })),
        ];
      case "butt":
        return ends;
    }
  })();
  return { kind, takes: clean(place.takes), settings, tails };
}

/** What a back joint's gauges are set to. */
export function backSettings(
  wish: BackJointWish,
  place: BackPlace,
  side: number,
  back: number,
  tails: readonly Stretch[],
): JointFit {
  const kind = wish.kind.value;
  const settings = ((): readonly GaugeSetting[] => {
    switch (kind) {
      case "through":
        return [
          { name: "baseline", value: clean(place.takes), where: "both faces of the sides, from the back end" },
          { name: "baseline", value: side, where: "both faces of the back, from its ends" },
          { name: "proud", value: place.proud, where: "tails stand out of the back by this, and are planed off" },
        ];
      case "half-blind":
        return [
          { name: "baseline", value: clean(place.takes), where: "both faces of the sides, from the back end" },
          { name: "lap", value: clean(place.takes), where: "both ends of the back, from its inside" },
          { name: "baseline", value: side, where: "inside of the back, from its ends" },
        ];
      case "housing":
        return [
          { name: "shoulder", value: place.outer, where: "inside of the sides, from the back end, to the housing" },
          {
            name: "shoulder",
            value: clean(place.outer + back),
            where: "inside of the sides, from the back end, across the housing",
          },
          { name: "depth", value: place.enters, where: "housings in the sides, from their inside" },
        ];
      case "rabbet":
        return [
          { name: "shoulder", value: back, where: "inside of the sides, from the back end" },
          { name: "depth", value: place.enters, where: "rabbets in the sides, from their inside" },
        ];
      case "butt":
        return [];
    }
  })();
  return { kind, takes: clean(place.takes), settings, tails };
}
