/** Longest line of ours, characters; the language allows 256 (NISTIR 6556 §3.3). */
export const LONGEST_LINE = 120;

/** Letters and signs that no decomposition turns into ASCII, as a typist without them would write them. */
const SPELLED: Readonly<Record<string, string>> = {
  "\u2044": "/",
  "\u00d7": "x",
  "\u00f7": "/",
  "\u2212": "-",
  "\u2010": "-",
  "\u2011": "-",
  "\u2012": "-",
  "\u2013": "-",
  "\u2014": "-",
  "\u2018": "'",
  "\u2019": "'",
  "\u2032": "'",
  "\u201c": '"',
  "\u201d": '"',
  "\u2033": '"',
  "\u00b0": " deg",
  "\u00b1": "+/-",
  "\u2264": "<=",
  "\u2265": ">=",
  "\u00df": "ss",
  "\u00e6": "ae",
  "\u00c6": "AE",
  "\u0153": "oe",
  "\u0152": "OE",
  "\u00f8": "o",
  "\u00d8": "O",
  "\u0142": "l",
  "\u0141": "L",
  "\u00f0": "d",
  "\u00fe": "th",
};

/**
 * The one way for words of the job or the shop into a program: whatever comes in, what goes out is safe between the
 * parentheses of a comment. ASCII 32 to 126 only; parentheses become square brackets; a sign that some controllers pick
 * out of the stream even inside comments (! ? ~ $ % and the backslash; common practice, no source) becomes an underscore,
 * a semicolon a comma;
 * accents are dropped; text that would begin like an operator message (a word and a comma, NISTIR 6556 §3.3.4) gets a dash
 * before it; more than `longest` characters are cut, with three dots.
 */
export function commentText(text: string, longest = 100): string {
  let out = "";
  // Only so much is looked at: ten times the length to keep leaves room for what is dropped.
  for (const sign of text.slice(0, longest * 10)) {
    if (out.length > longest) break;
    // A fraction sign after a figure keeps its distance: 3½ must not become 31/2.
    if (/[\u00bc-\u00be\u2150-\u215e]/.test(sign)) out += " ";
    const spelled = SPELLED[sign];
    if (spelled !== undefined) out += spelled;
    else for (const part of sign.normalize("NFKD")) out += plainSign(part);
  }
  const joined = out.replace(/ +/g, " ").trim();
  const cut = joined.length > longest ? `${joined.slice(0, Math.max(0, longest - 3)).trimEnd()}...` : joined;
  return /^[\s]*[A-Za-z\s]*,/.test(cut) ? `- ${cut}`.slice(0, longest) : cut;
}

function plainSign(sign: string): string {
  const spelled = SPELLED[sign];
  if (spelled !== undefined) return spelled;
  if (sign === "(" || sign === "\u207d" || sign === "\u208d") return "[";
  if (sign === ")" || sign === "\u207e" || sign === "\u208e") return "]";
  if (/[\u0300-\u036f]/.test(sign)) return "";
  if (/\s/.test(sign)) return " ";
  if (sign === ";") return ",";
  if (!/^[ -~]$/.test(sign) || "!?~$%\\".includes(sign)) return "_";
  return sign;
}

/** A comment line. */
export function comment(text: string): string {
  return `(${commentText(text, LONGEST_LINE - 2)})`;
}

/** One thought as comment lines, broken between words; following lines are set in by two spaces. */
export function comments(text: string): readonly string[] {
  const width = LONGEST_LINE - 6;
  const lines: string[] = [];
  let line = "";
  for (const word of commentText(text, 1000).split(" ")) {
    const short = word.slice(0, width);
    if (line !== "" && line.length + 1 + short.length > width) {
      lines.push(line);
      line = "";
    }
    line = line === "" ? short : `${line} ${short}`;
  }
  lines.push(line);
  // Each line goes through the same gate again: a line may now begin with a word and a comma.
  return lines.map((l, k) => (k === 0 ? comment(l) : `(  ${commentText(l, width)})`));
}

/** Words for the operator at a stop, as a message where the controller shows messages, else as a comment. */
export function operatorWords(style: "MSG" | "comment", text: string): string {
  const words = commentText(text, LONGEST_LINE - 8);
  return style === "MSG" ? `(MSG, ${words})` : `(${words})`;
}
