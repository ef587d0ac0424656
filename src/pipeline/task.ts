import { type BeamResult, type BeamTask, makeBeam } from "./make-beam.ts";
import { judgePiece, type PieceResult, type PieceTask } from "./make-piece.ts";
import { type JobAndShop, makeSetUp, type SetUpResult, type SetUpTask } from "./make-set-up.ts";
import { makeTurning, type TurningResult, type TurningTask } from "./make-turning.ts";

/** A piece of work that needs no other's result: plain data in, plain data out. */
export type Task = PieceTask | TurningTask | SetUpTask | BeamTask;

/** What a task gives. */
export type TaskResult = PieceResult | TurningResult | SetUpResult | BeamResult;

/** Does a task. The same task gives the same bytes. */
export function doTask(task: Task, all: JobAndShop): TaskResult {
  switch (task.kind) {
    case "set-up":
      return makeSetUp(task, all);
    case "piece":
      return judgePiece(task, all);
    case "turning":
      return makeTurning(task, all);
    case "beam":
      return makeBeam(task, all);
  }
}

/** What is being worked on, in words. */
export function titleOf(task: Task): string {
  switch (task.kind) {
    case "piece":
      return `${task.planned.piece.name}, walls`;
    case "turning":
    case "set-up":
    case "beam":
      return task.planned.setUp.name;
  }
}

/** The part that a task belongs to. */
export function partOf(task: Task): string {
  switch (task.kind) {
    case "piece":
      return task.planned.piece.name;
    case "turning":
      return task.planned.setUp.piece.name;
    case "set-up":
      return task.planned.setUp.cavities[0]?.part ?? task.planned.setUp.workpiece.name;
    case "beam":
      return task.planned.setUp.marks[0]?.mark.part ?? task.planned.setUp.workpiece.name;
  }
}
