/** The text without its marks, and the places of the marks as line:column. */
export function unmarked(marked: string): { readonly text: string; readonly marks: readonly string[] } {
  const marks: string[] = [];
  const lines = marked.split("\n").map((line, i) => {
    let rest = line;
    for (let k = rest.indexOf("¦"); k >= 0; k = rest.indexOf("¦")) {
      marks.push(`${i + 1}:${k + 1}`);
      rest = rest.slice(0, k) + rest.slice(k + 1);
    }
    return rest;
  });
  return { text: lines.join("\n"), marks };
}
