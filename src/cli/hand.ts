import { parentPort } from "node:worker_threads";
import type { JobAndShop } from "../pipeline/make-set-up.ts";
import { doTask } from "../pipeline/task.ts";
import type { FromHand, ToHand } from "./crew.ts";

/** A thread that makes the set-ups it is given, one after the other. */
let all: JobAndShop | undefined;
parentPort?.on("message", (message: ToHand) => {
  if ("all" in message) {
    all = message.all;
  } else if (all !== undefined) {
    parentPort?.postMessage({
      index: message.index,
      result: doTask(message.task, all),
    } satisfies FromHand);
  }
});
