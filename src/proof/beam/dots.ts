import type { Finding } from "../../finding.ts";
import type { BeamSetUp } from "../../plan/beam-setup.ts";
import { ACCURACY } from "../../tolerance.ts";
import type { Figure } from "../proof.ts";
import { type BeamMeasures, type BurnIn, cornerSlack, nameOf, placeOfBurn, placeOfMark } from "./case.ts";
import { type DotAim, dotFrame, dotRowOf, type InRow } from "./dot-frame.ts";
import { DOT_PLACE, type FittedMark } from "./fit.ts";

/** A burned stretch of a row, with where it stands in the program. */
interface Span extends InRow {
  readonly burned: BurnIn;
}

/**
 * A picture, dot by dot: each is burned as often as the setting says, or not at all, as its bit asks; and every stretch begins
 * and ends where its dots do. The stretch's ends may all be drawn in by up to half a dot, as for a spot that reaches beyond
 * them: by how much is found, and each must agree.
 */
export function dotsBurned(setUp: BeamSetUp, fitted: FittedMark, aim: DotAim): BeamMeasures {
  const { placed, burns } = fitted;
  const { columns, rows, pitch, bits } = aim;
  const findings: Finding[] = [];
  const rowsOf: Span[][] = Array.from({ length: rows }, () => []);
  for (const burned of burns) {
    const span = dotRowOf(aim, burned.burn.curve);
    rowsOf[span.row]!.push({ ...span, burned });
  }
  const times = new Uint8Array(columns * rows);
  let off = 0;
  let wrong = 0;
  let firstWrong: { readonly row: number; readonly column: number; readonly times: number } | undefined;
  const ends: { readonly left: number; readonly right: number; readonly span: Span }[] = [];
  for (const [r, spans] of rowsOf.entries()) {
    for (const s of joined(spans)) {
      off = Math.max(off, s.off);
      // Dots whose middles it passes; a hair on each side, as one that begins in a middle counts.
      const first = Math.max(0, Math.ceil((s.from - DOT_PLACE) / pitch - 0.5));
      const last = Math.min(columns - 1, Math.floor((s.to + DOT_PLACE) / pitch - 0.5));
      for (let c = first; c <= last; c++) times[r * columns + c]!++;
      ends.push({ left: s.from - first * pitch, right: (last + 1) * pitch - s.to, span: s });
    }
    for (let c = 0; c < columns; c++) {
      const asked = bits[r * columns + c] === 1 ? placed.setting.passes : 0;
      const n = times[r * columns + c]!;
      if (n === asked) continue;
      wrong++;
      firstWrong ??= { row: r, column: c, times: n };
    }
  }
  if (firstWrong !== undefined) findings.push(wrongDot(fitted, aim, firstWrong, wrong));
  const inset = ends.length === 0 ? 0 : ends.reduce((sum, e) => sum + e.left + e.right, 0) / (2 * ends.length);
  let place = 0;
  let worst: (typeof ends)[number] | undefined;
  for (const e of ends) {
    const error = Math.max(Math.abs(e.left - inset), Math.abs(e.right - inset));
    if (error <= place) continue;
    place = error;
    worst = e;
  }
  const allowed = DOT_PLACE + ACCURACY + cornerSlack(setUp);
  if (worst !== undefined && place > allowed) {
    findings.push({
      grade: "refuse",
      code: "proof-beam-dot-place",
      place: { ...placeOfMark(placed), ...placeOfBurn(worst.span.burned) },
      what: `dots of the ${nameOf(placed)} lie beside their places`,
      why: `burned ${worst.span.back ? "from right to left" : "from left to right"}, ${setUp.laser.lag > 0 ? "the beam's lag counted" : "with no lag to count"}`,
      mend: "make the program again",
      measured: { value: place, bound: 0.001, unit: "mm" },
      limit: { value: allowed, unit: "mm", from: "the stated accuracy of dots" },
    });
  }
  const figures: Record<string, Figure> = {
    [`dots: ${nameOf(placed)}`]: { value: bits.reduce((sum, b) => sum + b, 0), bound: 0, unit: "dots" },
    [`wrong dots: ${nameOf(placed)}`]: { value: wrong, bound: 0, unit: "dots" },
    [`dots off their places: ${nameOf(placed)}`]: { value: place, bound: 0.001, unit: "mm" },
    [`off their rows: ${nameOf(placed)}`]: { value: off, bound: 0, unit: "mm" },
  };
  return { findings, figures };
}

/** Stretches of one row that meet end to end in one crossing count as one. */
function joined(spans: readonly Span[]): readonly Span[] {
  const found: Span[] = [];
  for (const s of spans) {
    const last = found[found.length - 1];
    const meets =
      last !== undefined && last.back === s.back && Math.abs(s.back ? last.from - s.to : s.from - last.to) < 1e-6;
    if (meets) {
      found[found.length - 1] = {
        ...last,
        from: Math.min(last.from, s.from),
        to: Math.max(last.to, s.to),
        off: Math.max(last.off, s.off),
      };
    } else found.push(s);
  }
  return found;
}

function wrongDot(
  fitted: FittedMark,
  aim: DotAim,
  first: { readonly row: number; readonly column: number; readonly times: number },
  wrong: number,
): Finding {
  const { along, down } = dotFrame(aim);
  const u = (first.column + 0.5) * aim.pitch;
  const v = (first.row + 0.5) * aim.pitch;
  const { passes } = fitted.placed.setting;
  return {
    grade: "refuse",
    code: "proof-beam-dot-wrong",
    place: placeOfMark(fitted.placed, {
      x: aim.corner.x + u * along.x + v * down.x,
      y: aim.corner.y + u * along.y + v * down.y,
    }),
    what: `${wrong === 1 ? "a dot" : `${wrong} dots`} of the ${nameOf(fitted.placed)} ${wrong === 1 ? "is" : "are"} not burned as drawn`,
    why: `the first, row ${first.row + 1} from the top, dot ${first.column + 1} from the left, is burned ${first.times} times; a burned dot is to have ${passes}, a bare one none`,
    mend: "make the program again",
    measured: { value: wrong, bound: 0, unit: "dots" },
    limit: { value: 0, unit: "dots", from: "the picture" },
  };
}
