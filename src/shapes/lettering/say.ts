import type { Finding } from "../../finding.ts";
import type { FindingCode } from "../../finding-codes.ts";

/** A refusal about lettering. The caller adds its place in the job. */
export function refusal(code: FindingCode, what: string, why?: string, mend?: string): Finding {
  return {
    grade: "refuse",
    code,
    place: {},
    what,
    ...(why === undefined ? {} : { why }),
    ...(mend === undefined ? {} : { mend }),
  };
}

/** Characters named in one finding. */
const MOST_NAMED = 8;

/** Refuses characters that a face cannot draw, each named once, by look and by number. */
export function missingCharacters(face: string, characters: readonly string[]): Finding {
  const each = [...new Set(characters)];
  const named = each.slice(0, MOST_NAMED).map(characterName).join(", ");
  const more = each.length > MOST_NAMED ? ` and ${each.length - MOST_NAMED} more` : "";
  return refusal(
    "lettering-character-missing",
    `${face} has no ${named}${more}`,
    "a box would be cut in its place",
    "write it with other letters, or name a font that has it",
  );
}

/** A character for reading: itself where it can be seen, and its number. */
export function characterName(character: string): string {
  const numbers = [...character].map((c) => `U+${c.codePointAt(0)!.toString(16).toUpperCase().padStart(4, "0")}`);
  const seen = /^[\p{L}\p{N}\p{P}\p{S}]/u.test(character);
  return seen ? `“${character}” (${numbers.join(" ")})` : `character ${numbers.join(" ")}`;
}

/** Text for quoting in a finding: short. */
export function quoted(text: string): string {
  const whole = [...text];
  return whole.length > 40 ? `“${whole.slice(0, 39).join("")}…”` : `“${text}”`;
}
