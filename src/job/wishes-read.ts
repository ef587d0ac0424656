import type * as z from "zod";
import type { Size } from "./board.ts";
import { isLow } from "./faces.ts";
import type { At, From } from "./job.ts";
import { type OnPart, placeFrom, placeOn, refuseAt } from "./places.ts";
import { find } from "./tree.ts";
import type { ClampWish, HoldingWish, SetUpWishes } from "./wishes.ts";
import type { wishKeys } from "./wishes-schema.ts";

type Wishes = { readonly [K in keyof ReturnType<typeof wishKeys>]?: z.output<ReturnType<typeof wishKeys>[K]> };

/** A corner of a rectangle on the face, from the first end and the lower edge. */
interface Corner {
  readonly x: number;
  readonly y: number;
}

/** What a part or board wishes of its set-ups; nothing when findings were made. */
export function readWishes(on: OnPart, said: Wishes, size: Size): SetUpWishes | undefined {
  const before = on.found.length;
  const holding = holdingOf(on, said, size);
  const turned = said.turned;
  if (turned !== undefined && !Number.isInteger(turned / 90)) {
    refuseAt(
      on,
      ["turned"],
      "word-unknown",
      "wood lies on the machine straight: turned by a quarter or not at all",
      "write 0, 90, 180 or 270 deg",
    );
  }
  if (on.found.length > before) return undefined;
  const corner = said.zero?.corner;
  const z = said.zero?.z;
  return {
    ...(said.machine !== undefined && { machine: said.machine }),
    ...(holding !== undefined && { holding }),
    ...(corner !== undefined && { zeroCorner: corner }),
    ...(z !== undefined && { zeroZ: z }),
    ...(turned !== undefined && { turned: ((turned % 360) + 360) % 360 }),
    ...(said["turn over"] !== undefined && { turnOver: said["turn over"] }),
    ...(said["waste board"] !== undefined && { wasteBoard: said["waste board"] }),
  };
}

function holdingOf(on: OnPart, said: Wishes, size: Size): HoldingWish | undefined {
  const by = said["held by"] ?? (said.clamps ? "clamps" : said.screws ? "screws" : undefined);
  if (said.clamps && by !== "clamps") {
    refuseAt(
      on,
      ["clamps"],
      "holding-incomplete",
      `clamps are given, but it is held by ${by}`,
      'write "held by: clamps", or take the clamps out',
    );
    return undefined;
  }
  if (said.screws && by !== "screws") {
    refuseAt(
      on,
      ["screws"],
      "holding-incomplete",
      `screws are given, but it is held by ${by}`,
      'write "held by: screws", or take the screws out',
    );
    return undefined;
  }
  switch (by) {
    case undefined:
      return undefined;
    case "tape":
      return { by };
    case "vacuum":
      return { by };
    case "clamps": {
      if (!said.clamps || Object.keys(said.clamps).length === 0) {
        refuseAt(
          on,
          ["held by"],
          "holding-incomplete",
          "it is held by clamps, but none is given",
          'add "clamps:" and below it each clamp by a name, with "centre at:", "covers:" and "height:"',
        );
        return undefined;
      }
      const clamps = Object.keys(said.clamps).flatMap((name) => clampOf(on, name, said.clamps?.[name], size) ?? []);
      return { by, clamps };
    }
    case "screws":
      return screwsOf(on, said, size);
  }
}

function clampOf(
  on: OnPart,
  name: string,
  said: NonNullable<Wishes["clamps"]>[string] | undefined,
  size: Size,
): ClampWish | undefined {
  if (!said) return undefined;
  const below = find(on.node, ["clamps", name], on.entry);
  const own: OnPart = {
    ...on,
    node: below.node,
    ...(below.entry && { entry: below.entry }),
    planed: [],
    feature: undefined,
  };
  const at = placeOn(own, "face", said);
  if (!at) return undefined;
  const [x, y] = [lowSide(at[0], size.length, said.covers.along), lowSide(at[1], size.width, said.covers.across)];
  return { name, at: { x, y }, size: { x: said.covers.along, y: said.covers.across }, height: said.height };
}

/** The low side of something `extent` wide, from the low border of a board `whole` wide. */
function lowSide(from: From, whole: number, extent: number): number {
  const inward = (() => {
    switch (from.reach) {
      case "near edge":
        return from.distance;
      case "centre":
        return from.distance - extent / 2;
      case "far edge":
        return from.distance - extent;
    }
  })();
  return isLow(from.border) ? inward : whole - inward - extent;
}

function screwsOf(on: OnPart, said: Wishes, size: Size): HoldingWish | undefined {
  const screws = said.screws;
  if (!screws) {
    refuseAt(
      on,
      ["held by"],
      "holding-incomplete",
      "it is held by screws, but it is not said where",
      'add "screws:" with "at:", "head diameter:" and "head height:" below it',
    );
    return undefined;
  }
  const below = find(on.node, ["screws"], on.entry);
  const own: OnPart = { ...on, node: below.node, ...(below.entry && { entry: below.entry }), planed: [] };
  const headDiameter = screws["head diameter"] ?? screws.screw?.headDiameter;
  if (headDiameter === undefined) {
    refuseAt(
      own,
      [],
      "holding-incomplete",
      "it is not said how wide the screw heads are",
      'add "head diameter: 8", or "screw: no 8"',
    );
    return undefined;
  }
  const list = find(own.node, ["at"], own.entry).node;
  const groups =
    list.kind === "list" ? list.items.map((_, i) => screws.at.filter((p) => p.spot.path[0] === i)) : [screws.at];
  const at: Corner[] = [];
  for (const group of groups) {
    const place = placeFrom(own, "face", "at", group, "centre");
    if (!place) return undefined;
    at.push(cornerOf(place, size));
  }
  return { by: "screws", at, headDiameter, headHeight: screws["head height"] };
}

/** A place on the face as x and y from the first end and the lower edge. */
export function cornerOf(at: At, size: Size): Corner {
  return { x: lowSide(at[0], size.length, 0), y: lowSide(at[1], size.width, 0) };
}
