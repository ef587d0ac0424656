import type { Outcome } from "../finding.ts";
import { openFont } from "../shapes/lettering/outline-face.ts";
import { refusal } from "../shapes/lettering/say.ts";
import { STROKE_FACES, strokeFace } from "../shapes/lettering/stroke-face.ts";
import type { Typeface } from "../shapes/lettering/typeface.ts";
import { bytesIn, type Files } from "./files.ts";
import type { FrontView } from "./front-view.ts";
import type { NamedCopy } from "./mark.ts";

/** What the marks of one part are read with. */
export interface MarkGround {
  readonly files: Files;
  /** A face by the word or file name that the job gives; each is opened once. */
  readonly faceCalled: (letters: string) => Outcome<Typeface>;
  readonly view: FrontView | undefined;
  readonly part: string;
  readonly copies: number;
  readonly each: readonly NamedCopy[] | undefined;
}

/** Finds faces by name, and keeps those that were opened: a font file takes a while. */
export function faceFinder(files: Files): MarkGround["faceCalled"] {
  const opened = new Map<string, Outcome<Typeface>>();
  return (letters) => {
    const name = letters.trim();
    const known = opened.get(name) ?? open(files, name);
    opened.set(name, known);
    return known;
  };
}

function open(files: Files, name: string): Outcome<Typeface> {
  const stroke = STROKE_FACES.find((f) => f === name.toLowerCase());
  if (stroke !== undefined) return { ok: true, value: strokeFace(stroke), findings: [] };
  if (name.toLowerCase() === "book") {
    const bytes = files.bookFont?.();
    if (bytes !== undefined) return openFont(bytes, "the bundled book face");
    return no("file-missing", "the bundled book face is not to be had here", "name a font file beside the job");
  }
  if (!/\.[a-z0-9]{2,5}$/i.test(name)) {
    return no(
      "word-unknown",
      `there are no letters called "${name.slice(0, 40)}"`,
      `write ${STROKE_FACES.join(", ")} or book, or name a font file beside the job: garamond.ttf`,
    );
  }
  const file = bytesIn(files, name);
  return file.ok ? openFont(file.bytes, `"${file.path}"`) : no(file.code, file.what, file.mend);
}

function no(code: Parameters<typeof refusal>[0], what: string, mend: string): Outcome<never> {
  return { ok: false, findings: [refusal(code, what, undefined, mend)] };
}
