import { availableParallelism } from "node:os";
import { Worker } from "node:worker_threads";
import type { JobAndShop } from "../pipeline/make-set-up.ts";
import { doTask, type Task, type TaskResult } from "../pipeline/task.ts";
import {
  gather,
  type Made,
  nothingMade,
  type Prepared,
  prepare,
  progressLine,
  sharedBy,
  type Texts,
} from "../pipeline.ts";

/** What a hand is given: first the job and shop, then one task after the other. */
export type ToHand = { readonly all: JobAndShop } | { readonly index: number; readonly task: Task };

/** What a hand gives back. */
export interface FromHand {
  readonly index: number;
  readonly result: TaskResult;
}

/** More hands than this bring nothing: each has to warm up by itself. */
const MOST_HANDS = 3;
/** Tasks a hand holds at a time, so that it needn't wait for the next. */
const HELD = 2;

/**
 * `makeAll` with several threads: this one and as many hands as there are processors besides. Set-ups don't depend on
 * each other, and results are put together in the tasks' order, so the bytes are those of `makeAll`.
 */
export async function makeWithCrew(texts: Texts): Promise<Made> {
  // Hands load their modules while this thread reads the job.
  const hands = Array.from({ length: Math.min(MOST_HANDS, availableParallelism() - 1) }, hire);
  try {
    const prepared = prepare(texts);
    if (!prepared.ok) return nothingMade(prepared.findings);
    const results = await shareOut(prepared.value, hands, texts.progress ?? (() => {}));
    return gather(texts.jobText, prepared.value, results);
  } finally {
    await Promise.all(hands.map((h) => h.terminate()));
  }
}

function hire(): Worker {
  return new Worker(new URL(import.meta.url.endsWith(".ts") ? "./hand.ts" : "./hand.js", import.meta.url));
}

async function shareOut(
  { planned, tasks }: Prepared,
  hands: readonly Worker[],
  progress: (what: string) => void,
): Promise<readonly TaskResult[]> {
  const all = sharedBy(planned);
  const results: (TaskResult | undefined)[] = tasks.map(() => undefined);
  const waiting = tasks.map((_, i) => i);
  const trouble: unknown[] = [];
  let out = 0;
  let wake = (): void => {};
  const give = (hand: Worker): void => {
    // Hands take from the end, this thread from the beginning.
    const index = waiting.pop();
    if (index === undefined) return;
    out++;
    hand.postMessage({ index, task: tasks[index]! } satisfies ToHand);
  };
  for (const hand of hands) {
    hand.on("message", ({ index, result }: FromHand) => {
      results[index] = result;
      out--;
      give(hand);
      wake();
    });
    hand.on("error", (error) => {
      trouble.push(error);
      wake();
    });
    hand.postMessage({ all } satisfies ToHand);
    for (let k = 0; k < HELD; k++) give(hand);
  }
  for (let index = waiting.shift(); index !== undefined; index = waiting.shift()) {
    progress(progressLine(tasks, index));
    results[index] = doTask(tasks[index]!, all);
    // Lets the hands' messages in.
    await new Promise((resolve) => setImmediate(resolve));
    if (trouble.length > 0) throw trouble[0];
  }
  while (out > 0 && trouble.length === 0) {
    await new Promise<void>((resolve) => {
      wake = resolve;
    });
  }
  if (trouble.length > 0) throw trouble[0];
  return results.map((r) => r!);
}
