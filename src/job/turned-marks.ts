import type { TurnedMark } from "./mark.ts";
import type { MarkGround } from "./mark-ground.ts";
import { markOf } from "./mark-read.ts";
import { type OnPart, refuseAt, sourceAtPath } from "./places.ts";
import { sourcesOf } from "./turned-elements.ts";
import type { TurnedSaid } from "./turned-schema.ts";
import { placeAlong } from "./turned-wishes.ts";

type Said = TurnedSaid<"mark">;

/** The marks that one entry of a turned part asks for: one for each way it looks. Undefined when findings were made. */
export function turnedMarks(
  on: OnPart,
  said: Said,
  ground: MarkGround,
  length: number,
): readonly TurnedMark[] | undefined {
  const before = on.found.length;
  const lineKey =
    said.along !== undefined ? "along" : (["start at", "end at"] as const).find((k) => said[k] !== undefined);
  const drawn = markOf(on, said, ground, lineKey);
  const place = lineKey === undefined ? middleOf(on, said, length) : lineOf(on, said, length);
  const around = aroundOf(on, said);
  if (said.ends !== undefined && said.along === undefined) {
    refuseAt(on, ["ends"], "mark-key-odd", '"ends" belongs to "along: split line"', "take it out");
  }
  if (on.found.length > before && on.found.slice(before).some((f) => f.grade === "refuse")) return undefined;
  if (drawn === undefined || place === undefined || around === undefined) return undefined;
  return around.map(
    (deg): TurnedMark => ({
      name: said.mark,
      source: sourceAtPath(on, ["mark"]),
      sources: sourcesOf(on),
      ...(said.bit !== undefined && { cutter: said.bit }),
      ...drawn,
      around: ((deg % 360) + 360) % 360,
      turnedDeg: said.turned ?? 0,
      ...place,
    }),
  );
}

function middleOf(on: OnPart, said: Said, length: number): Pick<TurnedMark, "along"> | undefined {
  if (said["centre at"] === undefined) {
    const mend = 'add "centre at: 95 from first end": the middle of the mark along the axis';
    refuseAt(on, [], "place-incomplete", "it is not said where along the part this mark lies", mend);
    return undefined;
  }
  const along = placeAlong(on, "centre at", said["centre at"], length);
  return along === undefined ? undefined : { along };
}

function lineOf(on: OnPart, said: Said, length: number): Pick<TurnedMark, "along" | "guide"> | undefined {
  const odd = (["centre at", "turned"] as const).find((k) => said[k] !== undefined);
  if (odd !== undefined) {
    refuseAt(on, [odd], "mark-key-odd", `"${odd}" says nothing about a line along the axis`, "take it out");
    return undefined;
  }
  const [start, end] = [said["start at"], said["end at"]];
  const whole = said.along !== undefined;
  if (whole && said.around !== undefined) {
    const what = '"along: split line" says already which way its lines look, and "around" says it again';
    refuseAt(on, ["around"], "place-twice", what, "keep one of them");
    return undefined;
  }
  if (!whole && (start === undefined || end === undefined)) {
    const lacking = start === undefined ? "start at" : "end at";
    refuseAt(
      on,
      [],
      "place-incomplete",
      `a line needs both its ends, and "${lacking}" is missing`,
      `add "${lacking}:"`,
    );
    return undefined;
  }
  const a = start === undefined ? 0 : placeAlong(on, "start at", start, length);
  const b = end === undefined ? length : placeAlong(on, "end at", end, length);
  if (a === undefined || b === undefined) return undefined;
  if (a === b) {
    refuseAt(on, ["end at"], "shape-impossible", "this line ends where it starts", "give two different places");
    return undefined;
  }
  const [from, to] = [Math.min(a, b), Math.max(a, b)];
  const guide = whole
    ? ({ kind: "split line", from, to, ends: said.ends === "yes" } as const)
    : ({ kind: "along", from, to } as const);
  return { along: (from + to) / 2, guide };
}

function aroundOf(on: OnPart, said: Said): readonly number[] | undefined {
  if (said.along !== undefined) return [0];
  if (said.around !== undefined) return said.around;
  refuseAt(
    on,
    [],
    "place-incomplete",
    "it is not said which way this mark looks",
    'add "around: 90 deg": degrees from the crown; 90 and 270 are the show faces of the two halves',
  );
  return undefined;
}
