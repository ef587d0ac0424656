import type { Finding } from "../finding.ts";
import type { Mark } from "../parts/marks/mark.ts";
import { type Dithering, dither } from "../shapes/picture/dither.ts";
import { resample } from "../shapes/picture/resample.ts";
import { askFor, toneCurve } from "../shapes/picture/tone.ts";
import { mapPoint, type PlanMap } from "../shapes/plan-map.ts";
import { dotPitch } from "../shop/burn-energy.ts";
import type { BurnSetting, Laser } from "../shop/laser.ts";
import type { BeamAim } from "./beam-setup.ts";

type Picture = Extract<Mark["ink"], { kind: "picture" }>;

/**
 * A picture as dots on the wood, in set-up coordinates: as many whole dots as fit nearest to its size, about its middle;
 * greys through the shop's measured tones, then stood in for by dots.
 */
export function dotsOf(
  mark: Mark,
  ink: Picture,
  map: PlanMap,
  setting: BurnSetting,
  laser: Laser,
): { readonly aim: Extract<BeamAim, { kind: "dots" }>; readonly findings: readonly Finding[] } {
  const pitch = dotPitch(setting, laser);
  const columns = Math.max(1, Math.round(ink.width / pitch));
  const rows = Math.max(1, Math.round(ink.height / pitch));
  const findings: Finding[] = [];
  const place = { part: mark.part, feature: mark.feature, source: mark.source };
  const spot = Math.max(laser.spot.x, laser.spot.y);
  if (pitch < spot - 1e-9 && setting.tones === undefined) {
    findings.push({
      grade: "caution",
      code: "beam-dots-overlap",
      place,
      what: `the dots of "${mark.feature}" overlap, so its tones come out darker than drawn`,
      why: "dots nearer than the spot is wide burn each other's gaps",
      mend: "set them a whole spot apart, or measure the tones of this setting with a grey card",
      measured: { value: pitch, bound: 0, unit: "mm" },
      limit: { value: spot, unit: "mm", from: "the spot as measured" },
    });
  }
  let grey = resample(ink.grey, columns, rows);
  if (setting.tones === undefined) {
    findings.push({
      grade: "caution",
      code: "beam-tones-unmeasured",
      place,
      what: `the tones of "${setting.effect}" on ${setting.wood} are not measured`,
      why: "half the dots burned do not look half as dark",
      mend: 'burn a grey card and write its "tones" with the setting in the shop file',
    });
  } else {
    const curve = toneCurve(
      setting.tones.map((t) => ({ asked: 1 - t.dots, got: 1 - t.dark })),
      place,
    );
    findings.push(...curve.findings);
    if (curve.ok) grey = askFor(grey, curve.value);
  }
  const dots = dither(grey, ditheringFor(mark));
  const rad = (ink.turnedDeg * Math.PI) / 180;
  const at = (a: number, b: number) => ({
    x: ink.corner.x + a * Math.cos(rad) - b * Math.sin(rad),
    y: ink.corner.y + a * Math.sin(rad) + b * Math.cos(rad),
  });
  // Top left, about the picture's own middle.
  const corner = at((ink.width - columns * pitch) / 2, (ink.height + rows * pitch) / 2);
  const turn = (Math.atan2(map.yx, map.xx) * 180) / Math.PI;
  return {
    aim: {
      kind: "dots",
      columns,
      rows,
      bits: dots.bits.map((bare) => 1 - bare),
      pitch,
      corner: mapPoint(map, corner),
      alongDeg: ink.turnedDeg + turn,
    },
    findings,
  };
}

function ditheringFor(mark: Mark): Dithering {
  const tones = mark.made.by === "burned picture" ? mark.made.tones : "error spread";
  switch (tones) {
    case "error spread":
      return { kind: "floyd-steinberg", serpentine: true };
    case "wide error spread":
      return { kind: "jarvis-judice-ninke", serpentine: true };
    case "ordered":
      return { kind: "bayer", size: 8 };
  }
}
