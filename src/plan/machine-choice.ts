import type { Finding } from "../finding.ts";
import type { FaceName } from "../job/board.ts";
import { faceExtent } from "../parts/faces.ts";
import type { Workpiece } from "../parts/workpiece.ts";
import type { Machine } from "../shop/machine.ts";
import type { Shop } from "../shop/shop.ts";
import { closest } from "../units/closest.ts";

/** A machine, and for each face how it is to lie on it, degrees. */
export interface Fitting {
  readonly machine: Machine;
  readonly turned: Readonly<Partial<Record<FaceName, number>>>;
}

/**
 * The machine that the job names, or the first of the shop's that is large enough for every face that is to be worked;
 * wood that is too long one way is turned by a quarter where the job leaves that open.
 */
export function chooseMachine(workpiece: Workpiece, faces: readonly FaceName[], shop: Shop): Fitting | Finding {
  const place = { part: workpiece.name, source: workpiece.source };
  const { machine: wished, turned } = workpiece.wishes;
  if (turned !== undefined && turned % 90 !== 0) {
    return {
      grade: "refuse",
      code: "plan-turn-not-quarter",
      place,
      what: `the wood cannot lie turned by ${turned} degrees`,
      why: "a blank is set square to the machine",
      mend: "turn it by 0, 90, 180 or 270 degrees",
    };
  }
  const named = shop.machines.filter((m) => wished === undefined || m.name.toLowerCase() === wished.toLowerCase());
  if (named.length === 0) {
    const names = shop.machines.map((m) => m.name);
    const near = wished === undefined ? undefined : closest(wished, names);
    return {
      grade: "refuse",
      code: wished === undefined ? "plan-shop-empty" : "plan-machine-unknown",
      place,
      what: wished === undefined ? "the shop has no machine" : `the shop has no machine called "${wished}"`,
      why: `it has ${names.map((n) => `"${n}"`).join(", ") || "none"}`,
      mend: near === undefined ? "name one of these, or add it to the shop file" : `did you mean "${near}"?`,
    };
  }
  const tries = named.map((machine) => tryOn(machine, workpiece, faces));
  return tries.find((t): t is Fitting => "machine" in t) ?? (tries[0] as Finding);
}

function tryOn(machine: Machine, workpiece: Workpiece, faces: readonly FaceName[]): Fitting | Finding {
  const turned: Partial<Record<FaceName, number>> = {};
  for (const face of faces) {
    const { u, v, deep } = faceExtent(workpiece.size, face);
    const wish = workpiece.wishes.turned;
    // A turned blank lies along X, whatever room there is in Y.
    const open = workpiece.round === undefined ? [0, 90] : [0];
    const turn = (wish === undefined ? open : [wish]).find((t) => {
      const [x, y] = t % 180 === 0 ? [u, v] : [v, u];
      return x <= machine.travel.x && y <= machine.travel.y;
    });
    if (turn === undefined || deep > machine.travel.z) {
      const { x, y, z } = machine.travel;
      return {
        grade: "refuse",
        code: "plan-larger-than-travel",
        place: { part: workpiece.name, source: workpiece.source },
        what: `"${workpiece.name}" with "${workpiece.labels[face]}" up is larger than the machine's travel`,
        why: `${size(u)} × ${size(v)} × ${size(deep)} mm, travel ${size(x)} × ${size(y)} × ${size(z)} mm on "${machine.name}"`,
        mend:
          deep > z
            ? "cut this face by hand, with a template"
            : "cut the blank shorter first, turn it, or use a larger machine",
        measured: { value: turn === undefined ? Math.max(u, v) : deep, bound: 0, unit: "mm" },
        limit: { value: turn === undefined ? Math.max(x, y) : z, unit: "mm", from: "the machine's travel" },
      };
    }
    turned[face] = turn;
  }
  return { machine, turned };
}

function size(value: number): string {
  return `${Number(value.toFixed(2))}`;
}
