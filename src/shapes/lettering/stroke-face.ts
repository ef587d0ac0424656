import { HERSHEY_SCRIPT } from "./hershey-script.ts";
import { HERSHEY_UPRIGHT } from "./hershey-upright.ts";
import { readJhf, type StrokeGlyph } from "./jhf.ts";
import { type FaceForm, isMark, withMarks } from "./marks.ts";
import { ownLetters } from "./own-letters.ts";
import { missingCharacters } from "./say.ts";
import { extentOf, type SetGlyph, type Typeface } from "./typeface.ts";

/** The bundled faces that a point draws in single lines. `HERSHEY_NOTICE` goes along with both. */
export const STROKE_FACES = ["upright", "script"] as const;
/** One of them. */
export type StrokeFaceName = (typeof STROKE_FACES)[number];

/** Units of X for each of Y: how far the marks of the script face lean, judged by eye. */
const SCRIPT_LEAN = 0.4;

/**
 * A bundled single-stroke face: ASCII as drawn by Hershey, accented Latin letters composed, more letters and signs from
 * own strokes. Letters are set by their advances alone; the data holds no kerning.
 */
export function strokeFace(name: StrokeFaceName): Typeface {
  const ascii = readJhf(name === "script" ? HERSHEY_SCRIPT : HERSHEY_UPRIGHT);
  const form: FaceForm = {
    slant: name === "script" ? SCRIPT_LEAN : 0,
    xHeight: extentOf(ascii.get("x")!.strokes.flat())!.maxY,
  };
  const own = ownLetters(ascii, form);
  const plain = (c: string): StrokeGlyph | undefined => ascii.get(c) ?? own.get(c);
  const shown = `the bundled ${name} single-line face`;
  return {
    kind: "strokes",
    name: shown,
    capHeight: extentOf(ascii.get("H")!.strokes.flat())!.maxY,
    setLine: (text) => {
      const glyphs: SetGlyph[] = [];
      const missing: string[] = [];
      let pen = 0;
      lettersOf(text).forEach((character, letter) => {
        const glyph = drawn(character, plain, form);
        if (glyph === undefined) {
          missing.push(character.normalize("NFC"));
          return;
        }
        const { advance, strokes } = glyph;
        glyphs.push({ ink: { kind: "strokes", strokes }, pen, advance, dx: 0, dy: 0, letter });
        pen += advance;
      });
      return missing.length > 0
        ? { ok: false, findings: [missingCharacters(shown, missing)] }
        : { ok: true, value: { glyphs, advance: pen }, findings: [] };
    },
  };
}

/** Letters, each with the marks that follow it. */
function lettersOf(text: string): string[] {
  return text.normalize("NFC").match(/\P{M}\p{M}*|\p{M}+/gsu) ?? [];
}

function drawn(
  character: string,
  plain: (c: string) => StrokeGlyph | undefined,
  form: FaceForm,
): StrokeGlyph | undefined {
  const whole = plain(character);
  if (whole !== undefined) return whole;
  const [letter = "", ...marks] = character.normalize("NFD");
  const base = plain(letter);
  return base === undefined || !marks.every(isMark) ? undefined : withMarks(letter, base, marks, form);
}
