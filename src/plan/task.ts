import type { Size } from "../job/board.ts";
import { faceExtent } from "../parts/faces.ts";
import { distanceOfRegions } from "../parts/section-distance.ts";
import type { Cavity } from "../parts/workpiece.ts";
import type { TurnedSolid } from "../shapes/turned-solid.ts";

/** Cavities that one operation will cut: one of any kind, or all like holes of a feature. */
export interface Task {
  readonly kind: "area" | "groove" | "bore" | "counterbore" | "countersink" | "outline" | "v-groove" | "cut line";
  /** For the program and the sheet: 'groove "runner"'. */
  readonly title: string;
  /** At least one; all alike but for their places. */
  readonly cavities: readonly [Cavity, ...Cavity[]];
  /** Place in the file's order. */
  readonly index: number;
  /** Depth of the wood beneath the face, mm. */
  readonly deep: number;
  /** Outlines on a board: distance to the next part's outline, mm. */
  readonly room?: number;
  /** Countersinks: depth of the hole below them, mm; beyond the wood where it goes through. */
  readonly hole?: number;
  /** Turned blanks: the wood beneath the face in the face's own coordinates, where its first end lies, the nut's radius. */
  readonly round?: { readonly solid: TurnedSolid; readonly firstEnd: number; readonly nutRadius: number };
}

/** The cavities of one face as tasks, in the file's order. */
export function tasksOf(size: Size, cavities: readonly Cavity[]): readonly Task[] {
  const tasks: Task[] = [];
  const grouped = new Map<string, Cavity[]>();
  const add = (kind: Task["kind"], list: readonly [Cavity, ...Cavity[]]): void => {
    tasks.push({
      kind,
      title: titleOf(kind, list[0]),
      cavities: list,
      index: tasks.length,
      deep: faceExtent(size, list[0].face).deep,
      ...(kind === "countersink" ? { hole: holeBelow(list[0], cavities) } : {}),
      ...(kind === "outline" ? { room: roomBeside(list[0], cavities) } : {}),
    });
  };
  for (const c of cavities) {
    const { shape } = c;
    switch (shape.kind) {
      case "recess":
      case "mortise":
      case "rabbet":
        add("area", [c]);
        break;
      case "groove":
        add("groove", [c]);
        break;
      case "outline":
      case "v-groove":
      case "cut line":
        add(shape.kind, [c]);
        break;
      case "hole": {
        const key = `${c.id.slice(0, c.id.indexOf("/"))}/${c.feature}/${shape.role}`;
        const known = grouped.get(key);
        if (known) {
          known.push(c);
        } else {
          const list: [Cavity, ...Cavity[]] = [c];
          grouped.set(key, list);
          if (shape.role !== "drill tip") add(shape.role, list);
        }
        break;
      }
    }
  }
  return tasks;
}

/** Depth of the hole that a head belongs to. */
function holeBelow(head: Cavity, all: readonly Cavity[]): number {
  const bore = all.find((c) => `${c.id}/head` === head.id);
  if (bore === undefined) return head.to;
  return bore.through ? Number.POSITIVE_INFINITY : bore.to;
}

/** Distance from a part's outline to the nearest other part's, mm; Infinity where it is alone. */
function roomBeside(outline: Cavity, all: readonly Cavity[]): number {
  const own = outline.shape;
  if (own.kind !== "outline" || own.side === "inside") return Number.POSITIVE_INFINITY;
  return all.reduce(
    (least, c) =>
      c !== outline && c.shape.kind === "outline" && c.shape.side === "outside"
        ? Math.min(least, distanceOfRegions(own.profile, c.shape.profile))
        : least,
    Number.POSITIVE_INFINITY,
  );
}

function titleOf(kind: Task["kind"], c: Cavity): string {
  const { shape } = c;
  switch (shape.kind) {
    case "recess":
    case "mortise":
    case "rabbet":
    case "groove":
    case "cut line":
      return `${shape.kind} "${c.feature}"`;
    case "v-groove":
      return `V-groove "${c.feature}"`;
    case "outline":
      return `${shape.side === "inside" ? "opening" : "outline"} "${c.feature}"`;
    case "hole":
      return `${kind === "bore" ? "hole" : kind} "${c.feature}"`;
  }
}

/** How far below the face a task's cut goes within the wood, mm. */
export function depthOf(task: Task): number {
  return task.cavities[0].to;
}
