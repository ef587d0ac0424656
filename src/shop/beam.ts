/**
 * What a laser beam does, as formulas: spot and focus, energy, evenness of burned lines, run-up, and a drawing laid on a
 * cylinder. Lengths mm, powers W at the work (never the rated power), speeds mm/s, accelerations mm/s², energies J.
 * All take plain numbers and answer with numbers; what is right for a wood is the shop's to measure.
 */

/** A lens and the beam that falls on it. */
export interface Optics {
  /** Wavelength, mm: 0.0106 for a CO2 laser, 0.00045 for a blue diode. */
  readonly wavelength: number;
  /** Beam quality M², ≥ 1 (ISO 11146-1, from memory). */
  readonly quality: number;
  /** Focal length, mm. */
  readonly focalLength: number;
  /** Beam diameter at the lens where intensity has fallen to 1/e², mm. */
  readonly beamDiameter: number;
}

/**
 * Diameter of the focused spot at 1/e² of its peak, mm: 4 M² λ f / (π D). What a perfect lens would reach: multimode
 * diode heads stay far above it, so their spot is a measured number of the machine.
 * Source: Siegman, Lasers, 1986, with the widths of ISO 11146-1 (from memory).
 */
export function focusedSpot(optics: Optics): number {
  need(optics.quality >= 1, "beam quality is never below 1");
  need(optics.wavelength > 0 && optics.focalLength > 0 && optics.beamDiameter > 0, "optics must be above zero");
  return (4 * optics.quality * optics.wavelength * optics.focalLength) / (Math.PI * optics.beamDiameter);
}

/**
 * Rayleigh range, mm: how far from focus the spot's area has doubled; π (d/2)² / (M² λ).
 * Source: Siegman, Lasers, 1986 (from memory).
 */
export function rayleighRange(optics: Optics): number {
  return (Math.PI * (focusedSpot(optics) / 2) ** 2) / (optics.quality * optics.wavelength);
}

/** Spot diameter `offFocus` mm above or below the focus: d √(1 + (z / zR)²), mm. Source as `rayleighRange`. */
export function spotOffFocus(optics: Optics, offFocus: number): number {
  return focusedSpot(optics) * Math.hypot(1, offFocus / rayleighRange(optics));
}

/**
 * Depth of focus, mm, from one end to the other: where the spot is at most `growth` times as wide as in focus;
 * 2 zR √(g² − 1). A convention, so the growth must be said: 1.05 gives 0.640 zR, √2 gives 2 zR.
 * @param growth ≥ 1
 */
export function depthOfFocus(optics: Optics, growth: number): number {
  need(growth >= 1, "a spot off focus is no narrower than in focus");
  return 2 * rayleighRange(optics) * Math.sqrt(growth * growth - 1);
}

/** Energy on each millimetre of a burned line, J/mm: P / v. */
export function lineEnergy(power: number, speed: number): number {
  need(power >= 0 && speed > 0, "power must not be below zero, and speed above it");
  return power / speed;
}

/**
 * Energy on each square millimetre of a burned area, J/mm²: P / (v s). Times 100 it is J/cm². Passes over the same place
 * add up. Checked against a published table of wood darkened by a CO2 laser (Acta Facultatis Xylologiae Zvolen 61(1),
 * 2019: 45 W in a band of 10 mm at 12 mm/s, 37.5 J/cm²).
 * @param spacing from line to line, mm, > 0
 */
export function arealEnergy(power: number, speed: number, spacing: number): number {
  need(spacing > 0, "lines must be apart");
  return lineEnergy(power, speed) / spacing;
}

/**
 * Energy on the centre line of one burned line, J/mm²: √(2/π) P / (v w), where w is half the spot's 1/e² diameter. From the
 * integral of a Gaussian beam along its travel.
 * @param spot 1/e² diameter, mm, > 0
 */
export function peakEnergy(power: number, speed: number, spot: number): number {
  need(spot > 0, "a spot must have a width");
  return (Math.sqrt(2 / Math.PI) * lineEnergy(power, speed)) / (spot / 2);
}

/** How far the dose of evenly spaced lines strays from its mean, as shares of the mean. */
export interface Ripple {
  /** On a line. */
  readonly above: number;
  /** Midway between two lines. */
  readonly below: number;
}

/**
 * Unevenness of an area burned by Gaussian lines. The dose across is a Fourier series with the mean as its first term and
 * 2 exp(−π² w² k² / (2 s²)) cos(2π k y / s) as the others (Poisson's summation formula); the two extremes are on a line and
 * midway. Lines half a spot apart are even to 1.44 %, lines a whole spot apart show.
 * @param spot 1/e² diameter across the lines, mm, > 0
 * @param spacing from line to line, mm, > 0
 */
export function ripple(spot: number, spacing: number): Ripple {
  need(spot > 0 && spacing > 0, "spot and spacing must be above zero");
  const w = spot / 2;
  const ratio = spacing / w;
  // Far apart the series of waves is slow and the plain sum of the lines quick; both are exact.
  if (ratio > 2) {
    const mean = Math.sqrt(Math.PI / 2) / ratio;
    const sum = (at: number): number => {
      let dose = 0;
      for (let n = -8; n <= 8; n++) dose += Math.exp(-2 * ((n + at) * ratio) ** 2);
      return dose;
    };
    return { above: sum(0) / mean - 1, below: 1 - sum(0.5) / mean };
  }
  let above = 0;
  let below = 0;
  for (let k = 1; k <= 8; k++) {
    const term = 2 * Math.exp(-(Math.PI * Math.PI * k * k) / (2 * ratio * ratio));
    above += term;
    below -= k % 2 === 0 ? term : -term;
  }
  return { above, below };
}

/** Length in which a carriage comes up to speed at even acceleration, mm, needed at each end of a burned line: v² / (2a). */
export function runUp(speed: number, acceleration: number): number {
  need(speed >= 0 && acceleration > 0, "speed must not be below zero, and acceleration above it");
  return (speed * speed) / (2 * acceleration);
}

/** Time in which a carriage comes up to speed, s: v / a. */
export function runUpTime(speed: number, acceleration: number): number {
  need(speed >= 0 && acceleration > 0, "speed must not be below zero, and acceleration above it");
  return speed / acceleration;
}

/** What a limited jerk (mm/s³) adds to the run-up, mm: about v t / 2 with t = a / jerk. */
export function jerkAllowance(speed: number, acceleration: number, jerk: number): number {
  need(jerk > 0, "jerk must be above zero");
  return (speed * (acceleration / jerk)) / 2;
}

/**
 * Time to burn parallel lines with a stop at each end, s: n (L / v + 2 v / a). Moves from line to line come on top.
 * @param lines how many
 * @param length of each burned line, mm, without its run-up
 */
export function hatchTime(lines: number, length: number, speed: number, acceleration: number): number {
  need(speed > 0, "speed must be above zero");
  return lines * (length / speed + 2 * runUpTime(speed, acceleration));
}

/** How far a beam that answers `lag` seconds late shifts every other line of two-way burning, mm: 2 v t. */
export function twoWayShift(speed: number, lag: number): number {
  return 2 * speed * lag;
}

/** Distance from pulse to pulse of a beam that is switched `frequency` times a second, mm. Common practice: below half a spot. */
export function pulsePitch(speed: number, frequency: number): number {
  need(frequency > 0, "pulses must come");
  return speed / frequency;
}

/** What a vertical beam meets on a level cylinder, `y` mm to the side of its crown. */
export interface OnCylinder {
  /** How far the surface lies below the crown, mm. */
  readonly drop: number;
  /** Slope of the surface, degrees. */
  readonly slope: number;
  /** Length around from the crown, mm, with the sign of y. */
  readonly arc: number;
  /** How much longer a flat drawing, or the spot, becomes across the axis; energy on the surface falls by as much. */
  readonly stretch: number;
}

/**
 * The surface of a cylinder of radius R at `y` from the crown: drop R − √(R² − y²), arc R asin(y / R), stretch
 * R / √(R² − y²).
 * @param y mm, |y| < R
 */
export function onCylinder(radius: number, y: number): OnCylinder {
  need(radius > 0 && Math.abs(y) < radius, "the beam must meet the cylinder");
  const height = Math.sqrt((radius - y) * (radius + y));
  return {
    // The same as R − height without the loss of digits near the crown.
    drop: (y * y) / (radius + height),
    slope: (Math.asin(Math.abs(y) / radius) * 180) / Math.PI,
    arc: radius * Math.asin(y / radius),
    stretch: radius / height,
  };
}

/**
 * How far to each side of the crown the surface drops no more than `drop` mm: √(2 R h − h²). With the focus half-way down,
 * the drop may be the whole depth of focus.
 * @param drop mm, 0 to R
 */
export function widestHalfWidth(radius: number, drop: number): number {
  need(radius > 0 && drop >= 0 && drop <= radius, "a drop lies between zero and the radius");
  return Math.sqrt(drop * (2 * radius - drop));
}

/**
 * Where to burn, seen from above, what lies `s` mm around from the crown, so that it lies true: y = R sin(s / R), mm.
 * @param s mm, at most a quarter turn either way
 */
export function planOfArc(radius: number, s: number): number {
  need(radius > 0 && Math.abs(s) <= (radius * Math.PI) / 2, "a beam from above reaches a quarter turn either way");
  return radius * Math.sin(s / radius);
}

/** Angle of a rotary axis for what lies `s` mm around from the crown, degrees: s / R. */
export function angleOfArc(radius: number, s: number): number {
  need(radius > 0, "a radius must be above zero");
  return ((s / radius) * 180) / Math.PI;
}

/**
 * Diameter a beam must have spread to before its mean intensity is down to `limit`, mm. NFPA 115 takes beams above 2 W/cm² as
 * a fire hazard (as cited in a university's laser design guide).
 * @param limit W/cm², > 0
 */
export function widthForIntensity(power: number, limit: number): number {
  need(power >= 0 && limit > 0, "power must not be below zero, and the limit above it");
  return 20 * Math.sqrt(power / (Math.PI * limit));
}

function need(holds: boolean, what: string): void {
  if (!holds) throw new RangeError(what);
}
