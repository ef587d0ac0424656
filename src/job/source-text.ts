import type { Source } from "../finding.ts";

/** A text with its lines, for turning offsets into places. */
export interface SourceText {
  readonly file: string;
  readonly text: string;
  /** Offset at which each line starts. */
  readonly starts: readonly number[];
}

/** Prepares a text for `sourceAt`. Lines end at a line feed; a carriage return before it is not shown. */
export function sourceText(file: string, text: string): SourceText {
  const starts = [0];
  for (let i = text.indexOf("\n"); i >= 0; i = text.indexOf("\n", i + 1)) starts.push(i + 1);
  return { file, text, starts };
}

/** The place of `length` characters at an offset; the length is cut at the end of its line, and is at least 1. */
export function sourceAt(s: SourceText, offset: number, length: number): Source {
  const at = Math.max(0, Math.min(offset, s.text.length));
  const index = lineIndex(s, at);
  const text = lineText(s, index);
  const column = Math.min(at - s.starts[index]! + 1, text.length + 1);
  const room = text.length - column + 1;
  return { file: s.file, line: index + 1, column, length: Math.max(1, Math.min(length, room)), text };
}

/** A line's text, by its index from 0. */
export function lineText(s: SourceText, index: number): string {
  const start = s.starts[index] ?? s.text.length;
  const next = s.starts[index + 1];
  const end = next === undefined ? s.text.length : next - 1;
  return s.text.slice(start, s.text[end - 1] === "\r" && end > start ? end - 1 : end);
}

/** Index, from 0, of the line that holds an offset. */
export function lineIndex(s: SourceText, offset: number): number {
  let [low, high] = [0, s.starts.length - 1];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (s.starts[middle]! <= offset) low = middle;
    else high = middle - 1;
  }
  return low;
}
