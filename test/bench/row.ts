/** One line of the benchmark's table. A ratio compares with a reference run side by side, in the same process. */
export interface Row {
  readonly name: string;
  /** Median. */
  readonly value: number;
  readonly unit: string;
  /** The goal as text, for reading beside the value: "≤ 50 ms". */
  readonly goal?: string;
  readonly reference?: { readonly name: string; readonly value: number };
  /** Lowest and highest of the runs. */
  readonly spread?: readonly [number, number];
  readonly note?: string;
}

/** Median and spread of `runs` timings of `work`, ms, after one warm-up. */
export function timed(work: () => void, runs = 7): { value: number; spread: readonly [number, number] } {
  work();
  const times: number[] = [];
  for (let i = 0; i < runs; i++) {
    const start = performance.now();
    work();
    times.push(performance.now() - start);
  }
  times.sort((a, b) => a - b);
  return { value: times[Math.floor(times.length / 2)]!, spread: [times[0]!, times[times.length - 1]!] };
}
