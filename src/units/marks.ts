/**
 * Typographer's marks, as phones and word processors write them, put back to what a keyboard writes. One character
 * becomes one character, so that columns stay true.
 */
const PLAIN_MARKS: ReadonlyMap<string, string> = new Map([
  ["″", '"'],
  ["”", '"'],
  ["“", '"'],
  ["‟", '"'],
  ["＂", '"'],
  ["′", "'"],
  ["’", "'"],
  ["‘", "'"],
  ["´", "'"],
  ["−", "-"],
  ["–", "-"],
  ["‐", "-"],
  ["‑", "-"],
  ["×", "*"],
  ["·", "*"],
  ["⁄", "/"],
  ["∕", "/"],
  ["º", "°"],
  ["\u00a0", " "],
  ["\u2007", " "],
  ["\u2009", " "],
  ["\u202f", " "],
  ["\t", " "],
  ["\n", " "],
  ["\r", " "],
]);

/**
 * The same text, character for character, with primes, curly quotes, dashes, crosses and odd spaces made plain.
 * `÷` stays itself: only `/` without spaces makes a fraction.
 */
export function plainMarks(text: string): string {
  let plain = "";
  for (let i = 0; i < text.length; i++) {
    const c = text.charAt(i);
    plain += PLAIN_MARKS.get(c) ?? c;
  }
  return plain;
}

/** A name as it is compared: plain marks, single spaces, lower case. */
export function nameKey(name: string): string {
  return plainMarks(name).trim().replace(/ +/g, " ").toLowerCase();
}
