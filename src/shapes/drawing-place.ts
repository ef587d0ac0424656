import type { Finding, Grade, Source } from "../finding.ts";

/** Something to tell about a drawing, at an offset of its text. */
export interface DrawingFault {
  readonly code: Finding["code"];
  readonly at: number;
  readonly what: string;
  readonly mend: string;
  readonly why?: string;
}

/** A place in a text; lines and columns count from 1. */
export interface TextPlace {
  readonly line: number;
  readonly column: number;
}

/** Finds places in a text: the first asking goes through it once, each further one takes O(log lines). */
export interface TextPlaces {
  readonly of: (at: number) => TextPlace;
  readonly finding: (fault: DrawingFault, grade: Grade) => Finding;
}

/** Places of a drawing's text, whose file bears this name in findings. */
export function placesIn(text: string, file: string): TextPlaces {
  let starts: number[] | undefined;
  const lineAt = (at: number): number => {
    starts ??= lineStarts(text);
    let low = 0;
    for (let high = starts.length; high - low > 1; ) {
      const middle = (low + high) >> 1;
      if (starts[middle]! <= at) low = middle;
      else high = middle;
    }
    return low;
  };
  return {
    of: (at) => {
      const i = lineAt(at);
      return { line: i + 1, column: at - starts![i]! + 1 };
    },
    finding: (fault, grade) => {
      const i = lineAt(fault.at);
      const start = starts![i]!;
      const column = fault.at - start + 1;
      const end = text.indexOf("\n", start);
      // Drawings may hold one line of megabytes: what is shown ends near the place.
      const shown = text.slice(start, Math.min(end < 0 ? text.length : end, start + column + 200)).replace(/\r$/, "");
      const source: Source = { file, line: i + 1, column, length: 1, text: shown };
      return {
        grade,
        code: fault.code,
        place: { source },
        what: fault.what,
        mend: fault.mend,
        ...(fault.why === undefined ? {} : { why: fault.why }),
      };
    },
  };
}

function lineStarts(text: string): number[] {
  const starts = [0];
  for (let i = text.indexOf("\n"); i >= 0; i = text.indexOf("\n", i + 1)) starts.push(i + 1);
  return starts;
}
