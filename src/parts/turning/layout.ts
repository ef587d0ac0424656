import type { Finding } from "../../finding.ts";
import type { ElementDescription, ElementShape, Stretch, TurnedDescription } from "../../job/turned.ts";
import type { Meridian } from "../../shapes/meridian.ts";
import { arc, boundsOf, line, type Segment } from "../../shapes/segment.ts";
import type { TurnedElement } from "../turned-piece.ts";
import { curveOf, ownEnds, SAME_DIAMETER, turnedRound } from "./element.ts";
import { mmText, type Said, turnedFinding } from "./say.ts";

/** Lengths that differ by less add up, mm. */
const SAME_LENGTH = 1e-6;
/** Steps of diameter smaller than this are hardly meant, mm. Common practice, no source. */
const SMALL_STEP = 0.2;
/** Diameter of waste beside an end that comes to a point, mm: the nub that parting leaves. Common practice, no source. */
const LEAST_WASTE = 8;
/** Thinner than this a spindle whips and breaks between centres, mm. Common practice, no source. */
const THIN = 4;

/** Elements in their places, and the one curve that they make. */
export interface Laid {
  readonly elements: readonly TurnedElement[];
  readonly meridian: Meridian;
  readonly waste: readonly { readonly from: number; readonly to: number }[];
  readonly pulls: readonly { readonly from: number; readonly to: number }[];
}

/** One stretch of the axis on the way: an element or waste. */
interface Slot {
  readonly said: Said;
  readonly kind: TurnedElement["kind"];
  readonly name: string;
  readonly shape: ElementShape | "waste";
  readonly stretch: Stretch;
  readonly pull: number;
}

/**
 * Lays all elements of a turned part along its axis, waste between and beside the pulls included, so that they fill
 * what is turned exactly. What cannot be is found for each element on its own; then there is no value.
 */
export function layOut(part: TurnedDescription): { readonly laid?: Laid; readonly findings: readonly Finding[] } {
  const found: Finding[] = [];
  const slots = slotsOf(part);
  const start = part.squareEnds.first;
  const end = part.blank.length - part.squareEnds.second;
  const lengths = lengthsOf(part, slots, end - start, found);
  if (lengths === undefined) return { findings: found };
  const ends = endsOf(part, slots, lengths, found);
  if (ends === undefined) return { findings: once(found) };
  const segments: Segment[] = [];
  const elements: TurnedElement[] = [];
  let x = start;
  for (const [i, slot] of slots.entries()) {
    const length = lengths[i]!;
    const { from, to } = ends[i]!;
    const till = i === slots.length - 1 ? end : x + length;
    const shape: ElementShape =
      slot.shape === "waste" ? { kind: "cylinder", length: slot.stretch, diameter: from } : slot.shape;
    const curve = curveOf({ shape, length, from, to });
    if ("what" in curve) {
      const { key, ...says } = curve;
      found.push(turnedFinding(part, "turned-shape", slot.said, [key, "diameter", "length"], says));
      continue;
    }
    const put = placed(curve, x, till);
    const bounds = put.map(boundsOf);
    const least = 2 * Math.min(...bounds.map((b) => b.min.y));
    const most = 2 * Math.max(...bounds.map((b) => b.max.y));
    tooMuch(part, slot, least, most, found);
    const before = segments[segments.length - 1];
    const first = put[0]!;
    if (before !== undefined && Math.abs(before.to.y - first.from.y) > SAME_DIAMETER / 2) {
      segments.push(line(before.to, first.from), ...put);
    } else if (before !== undefined) segments.push(begunAt(first, before.to), ...put.slice(1));
    else segments.push(...put);
    const { kind, name, pull } = slot;
    const source = slot.said.source;
    elements.push({ kind, name, from: x, to: till, fromDiameter: from, toDiameter: to, least, most, pull, source });
    x = till;
  }
  found.push(...steps(part, elements), ...necks(part, elements));
  const findings = once(found);
  if (findings.some((f) => f.grade === "refuse")) return { findings };
  const waste = elements.filter((e) => e.kind === "parting").map(({ from, to }) => ({ from, to }));
  return { laid: { elements, meridian: { segments }, waste, pulls: pullsOf(part, elements) }, findings };
}

/** The same mistake in the second pull of a turning is not told again. */
function once(findings: readonly Finding[]): readonly Finding[] {
  const key = (f: Finding): string => `${f.code}:${f.place.source?.line}:${f.place.source?.column}`;
  return findings.filter((f, i) => findings.findIndex((g) => key(g) === key(f)) === i);
}

function slotsOf(part: TurnedDescription): readonly Slot[] {
  const { profile } = part;
  const waste = (stretch: Stretch, key: string, name: string): readonly Slot[] => {
    if (stretch.kind === "mm" && stretch.mm === 0) return [];
    const source = profile.sources[key] ?? profile.source;
    const own = profile.sources["waste diameter"];
    const said = { name, source, sources: own === undefined ? {} : { diameter: own } };
    return [{ said, kind: "parting", name, shape: "waste", stretch, pull: 0 }];
  };
  const ends = waste(profile.endWaste, "waste at ends", "waste at the end");
  const slots: Slot[] = [...ends];
  for (let pull = 1; pull <= profile.pulls; pull++) {
    if (pull > 1) slots.push(...waste(profile.parting, "parting", "parting"));
    const first = profile.elements.map((e) => slotOf(e, e, pull));
    slots.push(...first);
    if (profile.half) slots.push(...profile.elements.map((e) => slotOf(e, turnedRound(e), pull)).reverse());
  }
  return [...slots, ...ends];
}

function slotOf(said: ElementDescription, shape: ElementShape, pull: number): Slot {
  const stretch: Stretch =
    shape.kind === "path" ? { kind: "mm", mm: shape.segments[shape.segments.length - 1]?.to.x ?? 0 } : shape.length;
  return { said, kind: shape.kind, name: said.name, shape, stretch, pull };
}

function lengthsOf(
  part: TurnedDescription,
  slots: readonly Slot[],
  turned: number,
  found: Finding[],
): readonly number[] | undefined {
  const fixed = slots.reduce((sum, s) => sum + (s.stretch.kind === "mm" ? s.stretch.mm : 0), 0);
  const shares = slots.reduce((sum, s) => sum + (s.stretch.kind === "shares" ? s.stretch.shares : 0), 0);
  const left = turned - fixed;
  const squares = part.squareEnds.first + part.squareEnds.second;
  const whole = squares > 0 ? `${mmText(turned)} between the square ends` : `the blank's ${mmText(turned)}`;
  if (shares === 0 ? Math.abs(left) > SAME_LENGTH : left <= SAME_LENGTH) {
    const short = left > 0;
    found.push(
      turnedFinding(part, "turned-lengths", part.profile, ["elements"], {
        what: short
          ? "the elements don't fill the blank"
          : shares > 0
            ? "the fixed lengths leave nothing for the shares"
            : "the elements are longer than the blank",
        why: `they add up to ${mmText(fixed)}, and ${whole} are to be turned`,
        mend: short
          ? 'give one of them "length: 1 share", or write "waste at ends: 1 share"'
          : `make them ${mmText(-left)} shorter in all, or the blank longer`,
        measured: { value: fixed, bound: 0, unit: "mm" },
        limit: { value: turned, unit: "mm", from: "the blank's length less its square ends" },
      }),
    );
    return undefined;
  }
  return slots.map((s) => (s.stretch.kind === "mm" ? s.stretch.mm : (left * s.stretch.shares) / shares));
}

interface Ends {
  readonly from: number;
  readonly to: number;
}

/** Diameters at all ends: an element's own, else its neighbour's; waste takes the lesser of its neighbours'. */
function endsOf(
  part: TurnedDescription,
  slots: readonly Slot[],
  lengths: readonly number[],
  found: Finding[],
): readonly Ends[] | undefined {
  const own = slots.map((s, i) => (s.shape === "waste" ? {} : ownEnds(s.shape, lengths[i]!)));
  const known = own.map((o, i) => ({
    from: o.from ?? (slots[i]!.shape === "waste" ? undefined : own[i - 1]?.to),
    to: o.to ?? (slots[i]!.shape === "waste" ? undefined : own[i + 1]?.from),
  }));
  const ends = known.map((k, i) => {
    const slot = slots[i]!;
    if (slot.shape === "waste") {
      const beside = [known[i - 1]?.to, known[i + 1]?.from].filter((d) => d !== undefined);
      const thin = Math.min(Math.max(Math.min(...beside), LEAST_WASTE), part.blank.across);
      const d = part.profile.wasteDiameter ?? thin;
      return Number.isFinite(d) ? { from: d, to: d } : undefined;
    }
    if (k.from !== undefined && k.to !== undefined) return { from: k.from, to: k.to };
    const key = k.from === undefined ? "from" : "to";
    found.push(
      turnedFinding(part, "turned-end-unknown", slot.said, [], {
        what: `it is not said how thick "${slot.name}" ${key === "from" ? "begins" : "ends"}`,
        why: `its neighbour ${key === "from" ? "before" : "after"} it has no diameter of its own there`,
        mend: `add "${key}:" with the diameter`,
      }),
    );
    return undefined;
  });
  return ends.every((e) => e !== undefined) ? ends : undefined;
}

/** A curve from x = 0 put in its place; its last end lies exactly at `till`. */
function placed(curve: readonly Segment[], x: number, till: number): readonly Segment[] {
  return curve.map((s, i) => {
    const from = { x: x + s.from.x, y: s.from.y };
    const to = { x: i === curve.length - 1 ? till : x + s.to.x, y: s.to.y };
    return s.kind === "line" ? line(from, to) : arc(from, to, { x: x + s.centre.x, y: s.centre.y }, s.ccw);
  });
}

function begunAt(s: Segment, from: Segment["from"]): Segment {
  return s.kind === "line" ? line(from, s.to) : arc(from, s.to, s.centre, s.ccw);
}

function tooMuch(part: TurnedDescription, slot: Slot, least: number, most: number, found: Finding[]): void {
  const { across, shape } = part.blank;
  if (least < -SAME_DIAMETER) {
    found.push(
      turnedFinding(part, "turned-below-axis", slot.said, ["from", "bottom", "diameter", "length"], {
        what: `"${slot.name}" would reach beyond the axis`,
        why: `its least diameter would be ${mmText(least)}`,
        mend: "make it shorter, flatter or thicker",
        measured: { value: least, bound: 0, unit: "mm" },
        limit: { value: 0, unit: "mm", from: "the axis" },
      }),
    );
  }
  if (most > across + SAME_DIAMETER) {
    found.push(
      turnedFinding(part, "turned-too-thick", slot.said, ["diameter", "from", "to"], {
        what: `"${slot.name}" is thicker than the blank`,
        why: `${mmText(most)} in a ${shape === "square" ? "square" : "round"} of ${mmText(across)}`,
        mend: "make it thinner, or take a thicker blank",
        measured: { value: most, bound: 0, unit: "mm" },
        limit: { value: across, unit: "mm", from: "the blank" },
      }),
    );
  }
}

/** Shoulders, said once for the part; and jumps so small that they are slips of the pen. */
function steps(part: TurnedDescription, elements: readonly TurnedElement[]): readonly Finding[] {
  const found: Finding[] = [];
  const shoulders: string[] = [];
  for (const [i, e] of elements.entries()) {
    const before = elements[i - 1];
    if (before === undefined) continue;
    const jump = Math.abs(e.fromDiameter - before.toDiameter);
    if (jump <= SAME_DIAMETER) continue;
    if (jump < SMALL_STEP && e.kind !== "parting" && before.kind !== "parting") {
      found.push({
        grade: "caution",
        code: "turned-small-step",
        place: { part: part.name, feature: part.profile.name, source: e.source },
        what: `"${before.name}" and "${e.name}" meet with a step that is hardly meant`,
        why: `${mmText(before.toDiameter)} and ${mmText(e.fromDiameter)} at ${mmText(e.from)} from the first end`,
        mend: "give both the same diameter, or leave one of the two away",
        measured: { value: jump, bound: 0, unit: "mm" },
        limit: { value: SMALL_STEP, unit: "mm", from: "common practice, no source" },
      });
      continue;
    }
    if ((e.pull ?? 1) > 1) continue;
    shoulders.push(`at ${mmText(e.from)} from ${mmText(before.toDiameter)} to ${mmText(e.fromDiameter)}`);
  }
  if (shoulders.length === 0) return found;
  const shown = shoulders.slice(0, 8);
  return [
    ...found,
    {
      grade: "note",
      code: "turned-shoulders",
      place: { part: part.name, feature: part.profile.name, source: part.profile.source },
      what: shoulders.length === 1 ? "the profile has a shoulder" : `the profile has ${shoulders.length} shoulders`,
      why: `${shown.join("; ")}${shoulders.length > shown.length ? " ..." : ""}`,
      mend: "nothing, if they are meant; otherwise give neighbours the same diameter where they meet",
    },
  ];
}

/** Places where the wood would part or break on the lathe, since more of it stands on both sides. */
function necks(part: TurnedDescription, elements: readonly TurnedElement[]): readonly Finding[] {
  const last = elements.length - 1;
  return elements.flatMap((e, i) => {
    const free = {
      first: i === 0 && part.squareEnds.first === 0,
      second: i === last && part.squareEnds.second === 0,
    };
    const inner = (e.least ?? 0) < Math.min(e.fromDiameter, e.toDiameter) - SAME_DIAMETER ? [e.least ?? 0] : [];
    const ends = [...(free.first ? [] : [e.fromDiameter]), ...(free.second ? [] : [e.toDiameter])];
    const thin = Math.min(...inner, ...ends, Number.POSITIVE_INFINITY);
    if (!(thin < THIN) || thin < -SAME_DIAMETER) return [];
    const through = thin <= SAME_DIAMETER;
    const said = { name: e.name, source: e.source, sources: {} };
    return [
      turnedFinding(
        part,
        "turned-thin",
        said,
        [],
        {
          what: through
            ? `"${e.name}" comes to nothing where more wood stands on both sides, so it would part on the lathe`
            : `"${e.name}" is so thin that it may whip or break on the lathe`,
          why: `its least diameter is ${mmText(thin)}`,
          mend: through
            ? `leave a nub there, ${mmText(LEAST_WASTE)} thick, and take it off by hand afterwards`
            : "support it with a rest, or turn it thicker",
          measured: { value: thin, bound: 0, unit: "mm" },
          limit: { value: through ? 0 : THIN, unit: "mm", from: through ? "the axis" : "common practice, no source" },
        },
        through ? "refuse" : "caution",
      ),
    ];
  });
}

function pullsOf(part: TurnedDescription, elements: readonly TurnedElement[]): Laid["pulls"] {
  const numbers = Array.from({ length: part.profile.pulls }, (_, i) => i + 1);
  return numbers.map((n) => {
    const own = elements.filter((e) => e.pull === n);
    return { from: own[0]?.from ?? 0, to: own[own.length - 1]?.to ?? 0 };
  });
}
