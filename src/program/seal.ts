import { createHash } from "node:crypto";
import { comment } from "./comment.ts";

/**
 * The seal: one comment line near the top of every program,
 *
 *     (checked by tillwright 0.1.0, seal 0123456789abcdef, text 0123456789abcdef)
 *
 * `seal` is a hash over job text, shop text, version and report: which check this program passed. `text` is a hash over
 * all other lines of the program itself, so that the file alone tells whether someone has edited it since. Before the
 * check the line reads `written by … , not checked, text …`. Line ends (LF, CR LF, CR) and empty lines at the end do not
 * count, since copying from machine to machine changes them; every other character does. The seal guards against
 * mistakes, not against someone who reckons a new one.
 */
export type SealState =
  /** The text is as it was written; `seal` is absent when it was never checked. */
  | { readonly kind: "untouched"; readonly version: string; readonly seal?: string }
  /** Some line differs from what was written. */
  | { readonly kind: "edited"; readonly version: string; readonly seal?: string }
  /** There is no seal line, or more than one. */
  | { readonly kind: "no seal" };

/** Hexadecimal figures kept of each hash: 64 bits, enough against mistakes and short enough to compare by eye. */
const FIGURES = 16;
const SEAL_LINE =
  /^\((checked|written) by tillwright ([0-9A-Za-z.+-]{1,40}), (?:seal ([0-9a-f]{16})|not checked), text ([0-9a-f]{16})\)$/;

/**
 * A short hash over several texts in order: SHA-256, the first 64 bits as figures. Each text's length is hashed before
 * it, so that no shift of words from one text to the next gives the same seal.
 */
export function sealOf(parts: readonly string[]): string {
  const hash = createHash("sha256");
  for (const part of parts) hash.update(`${Buffer.byteLength(part, "utf8")}:`).update(part, "utf8");
  return hash.digest("hex").slice(0, FIGURES);
}

/** The seal line's text for a program made of `lines`, in which its own place is `at`. */
export function sealLine(lines: readonly string[], at: number, version: string, seal: string | undefined): string {
  const text = hashWithout(lines, at);
  const by = /^[0-9A-Za-z.+-]{1,40}$/.test(version) ? version : "0";
  return comment(
    `${seal ? "checked" : "written"} by tillwright ${by}, ${seal ? `seal ${seal}` : "not checked"}, text ${text}`,
  );
}

/**
 * Puts the seal into a program that has passed its check. Only the seal line changes, so line numbers and what the check
 * read stay true.
 * @param parts job text, shop text, version, report
 * @throws RangeError when the text carries no seal line or has been edited: only fresh programs are sealed
 */
export function sealProgram(text: string, parts: readonly string[]): string {
  const state = verifySeal(text);
  if (state.kind !== "untouched") throw new RangeError(`a program that is ${state.kind} cannot be sealed`);
  const lines = text.split("\n");
  const at = lines.findIndex((l) => SEAL_LINE.test(l));
  return lines.map((l, k) => (k === at ? sealLine(lines, at, state.version, sealOf(parts)) : l)).join("\n");
}

/** Tells from the file alone whether it is as it was written, and which check it passed. */
export function verifySeal(text: string): SealState {
  const lines = text.split(/\r\n|\n|\r/);
  const found = lines.flatMap((line, at) => {
    const match = SEAL_LINE.exec(line);
    return match ? [{ at, match }] : [];
  });
  const only = found[0];
  if (!only || found.length > 1) return { kind: "no seal" };
  const [, word, version, seal, hash] = only.match;
  // "checked" without a seal, or "written" with one, is a line of someone else's making.
  const consistent = (word === "checked") === (seal !== undefined);
  const untouched = consistent && hashWithout(lines, only.at) === hash;
  return { kind: untouched ? "untouched" : "edited", version: version!, ...(seal === undefined ? {} : { seal }) };
}

function hashWithout(lines: readonly string[], at: number): string {
  const rest = lines.filter((_, k) => k !== at);
  let end = rest.length;
  while (end > 0 && rest[end - 1] === "") end -= 1;
  return sealOf(rest.slice(0, end));
}
