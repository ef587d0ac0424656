/** Names that some systems keep for devices, with or without an ending. */
const RESERVED = /^(con|prn|aux|nul|com[0-9]|lpt[0-9])$/;

/**
 * A file name that every system and every controller's card reader takes: small letters, figures and hyphens. Begins with
 * the place in the order of work, so that a folder lists the programs as they are run; never a path.
 * @param sequence from 1
 */
export function fileName(sequence: number, words: readonly string[], ending: string): string {
  const parts = words.map((w) => plainWord(w, 40)).filter((w) => w !== "");
  const stem = [String(sequence).padStart(2, "0"), ...parts].join("-");
  return `${stem}${ending}`;
}

/** A name's letters and figures, joined by hyphens; empty when it has none. */
export function plainWord(name: string, longest: number): string {
  const plain = name
    .slice(0, 200)
    .normalize("NFKD")
    .replace(/[\u0300-\u036f]/g, "")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "")
    .slice(0, longest)
    .replace(/-+$/, "");
  return RESERVED.test(plain) ? `${plain}-` : plain;
}
