import { tidy } from "../finding.ts";
import { MM_PER_PIXEL } from "./drawing-page.ts";
import { type Colouring, isWhite } from "./drawing-paint.ts";
import { type DrawnShape, type Here, type Listing, short, type Unused, type Walk } from "./drawing-seen.ts";
import { lengthFrom, SIZES_OF } from "./drawing-shapes.ts";

const MOVING = ["movement in a drawing is not shown", "save the drawing as it is to look"] as const;
const AS_PATHS = "turn it into paths in the drawing program";
/** Elements that are not read, and what to do about them. */
export const LEFT_OUT: Readonly<Record<string, readonly [what: string, mend: string]>> = {
  text: ["lettering in a drawing is not read", `${AS_PATHS}, or write it as a mark of its own`],
  image: ["a picture within a drawing is not read", "burn the picture as a mark of its own"],
  foreignObject: ["what is not SVG within a drawing is not read", AS_PATHS],
  animate: MOVING,
  animateColor: MOVING,
  animateMotion: MOVING,
  animateTransform: MOVING,
  set: MOVING,
  script: ["scripts in a drawing are not run", "save the drawing as it looks once they have run"],
};
/** Whether an area or a line is coloured at all. */
export function isThere(walk: Walk, colouring: Colouring, area: boolean): boolean {
  if (!colouring.opaque || colouring.kind === "none") return false;
  if (colouring.kind === "colour") return true;
  const target = walk.byId.get(colouring.id ?? "");
  const kind = target === undefined ? undefined : walk.nameOf(target);
  if (kind === undefined) return colouring.standIn === true;
  // A pattern's line is still a line; what an area of it shows is another matter.
  return !area || GRADIENTS.includes(kind);
}

const GRADIENTS: readonly string[] = ["linearGradient", "radialGradient", "solidcolor"];

/** Properties that change what is seen of a shape or a whole group. */
const EFFECTS: Readonly<Record<string, string>> = {
  "clip-path": "a cut-out (clip path) is not applied: the shape is taken whole",
  mask: "a mask is not applied: the shape is taken whole",
  filter: "a filter is not applied: the bare shape is taken",
};

/** Lists what the screen shows of a shape, or its groups, and lines and areas don't. */
export function nameWhatIsLost(walk: Walk, here: Here, shape: DrawnShape, list: Listing): void {
  const { element, paint, name } = here;
  const add = (at: number, what: string, mend: string, more: Partial<Unused> = {}): void =>
    list.add({ at, element: name, what, mend, ...more });
  if (shape.filled || shape.stroked) {
    for (let h: Here | undefined = here; h !== undefined; h = h.outer) {
      for (const [property, what] of Object.entries(EFFECTS)) {
        const effect = h.said.get(property);
        if (effect !== undefined && !NO_EFFECT.includes(effect.value.trim().toLowerCase())) {
          list.add({ at: effect.at, element: h.name, what, mend: "cut the shape itself in the drawing program" });
        }
      }
    }
  }
  const scaled = here.fitted && Math.abs(here.unitMm / MM_PER_PIXEL - 1) > 1e-3;
  const physical = scaled ? SIZES_OF[name]!.find((n) => isPhysical(element.attributes.get(n)?.value ?? "")) : undefined;
  if (physical !== undefined) {
    const { value, at } = element.attributes.get(physical)!;
    add(
      at,
      "a length with a unit is scaled along with the page's viewBox",
      "write lengths inside the page without units",
      {
        code: "drawing-unit-scaled",
        why: `${physical}="${value.trim()}" becomes ${tidy((lengthFrom(value)?.pixels ?? 0) * here.unitMm)} mm`,
      },
    );
  }
  for (const child of element.children) {
    const inner = walk.nameOf(child) ?? "";
    const [what, mend] = LEFT_OUT[inner] ?? [];
    if (what !== undefined && mend !== undefined) list.add({ at: child.at, element: inner, what, mend });
  }
  if (paint.fill.opaque && paint.fill.kind === "reference" && name !== "line") {
    const { said: where, id } = paint.fill;
    const target = walk.byId.get(id ?? "");
    const kind = target === undefined ? undefined : walk.nameOf(target);
    const at = where?.at ?? element.at;
    if (kind === undefined) {
      const what = `the filling "#${short(id ?? "")}" is not in the drawing`;
      add(at, paint.fill.standIn ? `${what}; the area is taken whole` : what, "give it a plain colour");
    } else if (GRADIENTS.includes(kind)) {
      if (kind !== "solidcolor") {
        add(at, "shades are not kept: the whole shape is area", "burn shades as a picture", {
          grade: "note",
          code: "drawing-shades-lost",
        });
      }
    } else add(at, "a pattern as filling is not read: nothing is filled", `${AS_PATHS}, or give it a plain colour`);
  }
  for (const value of [paint.fill, paint.stroke]) {
    if (value.said !== undefined && /\bvar\(/.test(value.said.value)) {
      add(value.said.at, "a style that stands elsewhere (var) is not looked up", "write the colour itself");
    }
  }
  const light = [...(shape.filled && !shape.bare ? [paint.fill] : []), ...(shape.stroked ? [paint.stroke] : [])];
  for (const { said: where } of light) {
    if (where !== undefined && isWhite(where.value)) {
      const mend = "take it out, or give it the colour none";
      add(where.at, "what is white is drawn like all else: colours mean nothing", mend, { code: "drawing-white" });
    }
  }
  if (!shape.stroked) return;
  if (paint.dashes !== undefined && paint.dashes.value.trim() !== "0") {
    add(paint.dashes.at, "dashes are not kept: the line is drawn whole", "draw the dashes one by one");
  }
  if (paint.markers !== undefined && ["line", "path", "polyline", "polygon"].includes(name)) {
    add(paint.markers.at, "marks at a line's points, such as arrow heads, are not read", AS_PATHS);
  }
}

const NO_EFFECT: readonly string[] = ["none", "initial", "inherit", "unset"];

function isPhysical(value: string): boolean {
  return value.length <= 100 && /(?:mm|cm|in|pt|pc|q)\s*$/i.test(value);
}
