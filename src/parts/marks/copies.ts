import type { NamedCopy } from "../../job/mark.ts";
import type { OfOneCopy } from "../ground.ts";
import type { Workpiece } from "../workpiece.ts";

/**
 * A workpiece whose copies are marked each in its own way: what is cut alike stays one workpiece with its copies, and
 * each copy becomes a workpiece of its own that carries all that is burned on it, so that it lies under the beam once.
 * Where nothing is cut alike there are only the copies.
 */
export function withCopiesMarked(
  workpiece: Workpiece,
  each: readonly OfOneCopy[] | undefined,
  names: readonly NamedCopy[] | undefined,
): readonly Workpiece[] {
  if (each === undefined) return [workpiece];
  const { marks: shared = [], copies: _, ...rest } = workpiece;
  const own = each.map((copy, i): Workpiece => {
    const marks = [...shared, ...copy.marks];
    return {
      ...rest,
      name: `${workpiece.name}, ${names?.[i]?.name ?? `copy ${i + 1}`}`,
      pieces: workpiece.pieces.map((p) => ({ ...p, copy: i + 1 })),
      cavities: copy.cavities,
      ...(marks.length > 0 && { marks }),
    };
  });
  if (workpiece.cavities.length === 0) return own;
  const { marks: __, ...alike } = workpiece;
  return [alike, ...own];
}
