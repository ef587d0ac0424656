import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { type OutlineFace, openFont } from "../../../src/shapes/lettering/outline-face.ts";

const find = createRequire(import.meta.url).resolve;

export const FONTS = {
  serif: "@expo-google-fonts/eb-garamond/400Regular/EBGaramond_400Regular.ttf",
  italic: "@expo-google-fonts/eb-garamond/400Regular_Italic/EBGaramond_400Regular_Italic.ttf",
  /** Its contextual substitutions defeat the font library's own text calls. */
  sans: "dejavu-fonts-ttf/ttf/DejaVuSans.ttf",
  roman: "dejavu-fonts-ttf/ttf/DejaVuSerif.ttf",
} as const;

export function bytesOf(font: keyof typeof FONTS): Uint8Array {
  return new Uint8Array(readFileSync(find(FONTS[font])));
}

export function faceOf(font: keyof typeof FONTS): OutlineFace {
  const opened = openFont(bytesOf(font), font);
  if (!opened.ok) throw new Error(opened.findings[0]!.what);
  return opened.value;
}
