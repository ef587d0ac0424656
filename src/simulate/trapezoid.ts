/** One move for the clock: mm, mm/s, mm/s². */
export interface Stretch {
  readonly length: number;
  /** Speed not to be passed, > 0. */
  readonly speed: number;
  readonly acceleration: number;
  /** Speed not to be passed where it meets the next. */
  readonly exit: number;
}

/**
 * Speed through a corner that rounds it by no more than `deviation`: an arc tangent to both legs whose middle lies
 * that far from the corner, v = √(a·d·k) with k = sin(θ/2) ÷ (1 − sin(θ/2)).
 * Check: a 500, d 0.01: θ 90° gives 3.47434, 135° 7.79008, 170° 36.1795 mm/s.
 * @param angleDeg between the legs, 180 for straight on
 */
export function cornerSpeed(acceleration: number, deviation: number, angleDeg: number): number {
  const s = Math.sin((angleDeg * Math.PI) / 360);
  return s >= 1 ? Number.POSITIVE_INFINITY : Math.sqrt((acceleration * deviation * s) / (1 - s));
}

/**
 * Speeds where the moves of an unbroken run meet, mm/s; the run starts and ends at rest, so the first and the last are 0.
 * A backward pass makes every end reachable by braking, v_i² ≤ v_(i+1)² + 2·a·L, a forward pass by accelerating. O(n).
 */
export function jointsOf(run: readonly Stretch[]): Float64Array {
  const n = run.length;
  const joints = new Float64Array(n + 1);
  for (let i = 1; i < n; i++) joints[i] = Math.min(run[i - 1]!.exit, run[i - 1]!.speed, run[i]!.speed);
  for (let i = n - 1; i > 0; i--) joints[i] = Math.min(joints[i]!, reachable(joints[i + 1]!, run[i]!));
  for (let i = 0; i < n - 1; i++) joints[i + 1] = Math.min(joints[i + 1]!, reachable(joints[i]!, run[i]!));
  return joints;
}

/** Seconds of each move of an unbroken run that starts and ends at rest: each an exact trapezoid between its joints. */
export function secondsOf(run: readonly Stretch[]): number[] {
  const joints = jointsOf(run);
  return run.map((s, i) => trapezoid(s, joints[i]!, joints[i + 1]!));
}

/**
 * Time of one move from speed `from` to speed `to`. Rest to rest: L/v + v/a where L ≥ v²/a, else 2√(L/a).
 * Check: v 50, a 500: L 100 takes 2.1 s, L 2 takes 0.126491 s.
 */
export function trapezoid({ length, speed, acceleration: a }: Stretch, from: number, to: number): number {
  const peak = peakOf({ length, speed, acceleration: a }, from, to);
  const ramps = (2 * peak * peak - from * from - to * to) / (2 * a);
  return (2 * peak - from - to) / a + Math.max(0, length - ramps) / peak;
}

/** Highest speed that a move reaches between its two joints, mm/s. */
export function peakOf({ length, speed, acceleration }: Omit<Stretch, "exit">, from: number, to: number): number {
  return Math.min(speed, Math.sqrt((2 * acceleration * length + from * from + to * to) / 2));
}

function reachable(speed: number, { length, acceleration }: Stretch): number {
  return Math.sqrt(speed * speed + 2 * acceleration * length);
}
