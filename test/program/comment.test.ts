import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { comment, comments, commentText, LONGEST_LINE, operatorWords } from "../../src/program/comment.ts";

const anything = fc.oneof(
  fc.string({ unit: "binary", maxLength: 200 }),
  fc.string({ unit: "grapheme", maxLength: 200 }),
  fc.stringMatching(/^[ ()MSGmsg,;%$!~?\n\r\\]{0,60}$/),
);

describe("words on their way into a comment", () => {
  it("keep what a typist can write", () => {
    expect(commentText("Façade — 3½″ × 12° “left”")).toBe('Facade - 3 1/2" x 12 deg "left"');
    expect(commentText("smørrebrød, größe")).toBe("- smorrebrod, grosse");
    expect(commentText("(a) [b]")).toBe("[a] [b]");
  });

  it("cannot close the comment, open a line, or begin like an operator message", () => {
    expect(commentText("left)\nG0 Z-50 (")).toBe("left] G0 Z-50 [");
    expect(commentText("MSG, start the spindle")).toBe("- MSG, start the spindle");
    expect(commentText(" m s g , x")).toBe("- m s g , x");
    expect(commentText("stop! ~ ? $H % ; \\n")).toBe("stop_ _ _ _H _ , _n");
  });

  it("are harmless whatever they were", () => {
    fc.assert(
      fc.property(anything, fc.integer({ min: 4, max: 118 }), (text, longest) => {
        const out = commentText(text, longest);
        expect(out).toMatch(/^[ -'*-~]*$/);
        expect(out).not.toMatch(/[!?~$%;\\]/);
        expect(out).not.toMatch(/^\s*[A-Za-z\s]*,/);
        expect(out.length).toBeLessThanOrEqual(longest);
      }),
      { numRuns: 1000 },
    );
  });

  it("make lines that are one comment each, short enough, at any length", () => {
    fc.assert(
      fc.property(fc.oneof(anything, fc.lorem({ maxCount: 60 })), (text) => {
        for (const l of [
          comment(text),
          ...comments(text),
          operatorWords("MSG", text),
          operatorWords("comment", text),
        ]) {
          expect(l).toMatch(/^\([ -'*-~]*\)$/);
          expect(l.length).toBeLessThanOrEqual(LONGEST_LINE);
        }
        for (const l of [comment(text), ...comments(text)]) expect(l.replace(/\s/g, "")).not.toMatch(/^\(MSG,/i);
      }),
    );
  });

  it("lose nothing of a long sentence", () => {
    const sentence = Array.from({ length: 40 }, (_, k) => `word${k}`).join(" ");
    const lines = comments(sentence);
    expect(lines.length).toBeGreaterThan(2);
    expect(lines.map((l) => l.slice(1, -1).trim()).join(" ")).toBe(sentence);
  });
});
