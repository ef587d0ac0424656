import { describe, expect, it } from "vitest";
import { type Finding, printFinding } from "../../src/finding.ts";
import { postSchema, readPost } from "../../src/program/read-post.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import { POSTS, post, postText } from "./fixtures.ts";

function broken(from: string, to: string, name: (typeof POSTS)[number] = "plain"): readonly Finding[] {
  const text = postText(name);
  expect(text).toContain(from);
  const read = readPost(text.replace(from, to), "post.yaml");
  expect(read.ok, `${from} → ${to} was accepted`).toBe(false);
  return read.findings;
}

describe("the built-in posts", () => {
  it("read, are named as their files, and each has a built-in machine", () => {
    for (const name of POSTS) {
      expect(post(name).name).toBe(name);
      expect(DEFAULT_SHOP.machines.some((m) => m.post === name)).toBe(true);
    }
  });

  it("state one code of every group, and G49 exactly where there is no tool table", () => {
    expect(post("millimetre").opening).toEqual(["G17", "G21", "G40", "G54", "G61", "G80", "G90", "G94"]);
    expect(post("inch").opening).toContain("G20");
    expect(POSTS.map((p) => post(p).opening.includes("G49"))).toEqual([false, false, true, true]);
    expect(post("no-arcs").arcs).toEqual({ kind: "chords", error: 0.002 });
    expect(post("plain").lift).toEqual({ kind: "ask" });
  });
});

describe("a post", () => {
  const cases: readonly (readonly [string, string, string, string, string])[] = [
    ["with a motion in its opening", "G17, ", "G17, G0, ", "post-unknown-code", "G0 may not stand"],
    ["with a move home in its opening", "G17, ", "G17, G28, ", "post-unknown-code", "G28 may not stand"],
    ["with a shifted zero in its opening", "G17, ", "G17, G92, ", "post-unknown-code", "G92 may not stand"],
    ["with axis words in its opening", "G17, ", "G17, X10, ", "post-wrong-value", "opening"],
    ["with a spindle start in its opening", "G17, ", "G17, M3, ", "post-unknown-code", "M3 may not stand"],
    ["with several words in one", "G17, ", "G17 G0 X5, ", "post-wrong-value", "opening"],
    ["with a comment in a word", "G17, ", '"G17 (x)", ', "post-wrong-value", "opening"],
    ["with cutter compensation", "G40, ", "G41, ", "post-unknown-code", "G41 may not stand"],
    ["without a plane", "G17, ", "", "post-wrong-value", "does not say the plane"],
    ["with two path modes", "G61, ", "G61, G64, ", "post-wrong-value", "path mode twice"],
    ["with incremental distances", "G90, ", "G91, ", "post-unknown-code", "G91 may not stand"],
    ["whose unit and code disagree", "unit: mm", "unit: inch", "post-wrong-value", "G20"],
    ["with too few decimals", "decimals: 4", "decimals: 3", "post-wrong-value", "decimals"],
    ["without G49 where no table is used", "G49, ", "", "post-wrong-value", "G49"],
    ["with a move in its ending", "M9, M2", "G0, M2", "post-unknown-code", "G0 may not stand"],
    ["with an optional stop in its ending", "M9, M2", "M1, M2", "post-unknown-code", "M1 may not stand"],
    ["that leaves the spindle on", "[M5, M9, M2]", "[M9, M2]", "post-wrong-value", "M5 once"],
    ["without an end", "[M5, M9, M2]", "[M5, M9]", "post-wrong-value", "ends with M2"],
    ["with its end first", "[M5, M9, M2]", "[M2, M5, M9]", "post-wrong-value", "ends with M2"],
    ["with a file ending that is a path", "file ending: .nc", "file ending: /../x", "post-wrong-value", "file ending"],
    ["with an unknown key", "messages: MSG", "header: G0 Z-5", "post-unknown-key", '"header" means nothing'],
    ["with half a tool change", "tool change: none", "tool change: [M6]", "post-wrong-value", "one T and one M6"],
    [
      "with a tool change twice",
      "tool change: none",
      "tool change: [T M6, M6]",
      "post-wrong-value",
      "one T and one M6",
    ],
    ["with a name that is a path", "name: plain", "name: ../plain", "post-wrong-value", "name"],
    ["with an unknown first lift", "first lift: ask", "first lift: G28", "post-wrong-value", "ask"],
  ];
  for (const [what, from, to, code, words] of cases) {
    it(`${what} is refused`, () => {
      const findings = broken(from, to);
      const found = findings.find((f) => f.code === code);
      expect(found, findings.map(printFinding).join("\n")).toBeDefined();
      expect(printFinding(found!)).toContain(words);
      expect(found!.mend).toBeTruthy();
    });
  }

  it("with chords too coarse for the promised accuracy is refused", () => {
    expect(broken("{chords within: 0.002}", "{chords within: 0.05}", "no-arcs")[0]!.code).toBe("post-wrong-value");
  });

  it("in inches with four decimals is refused: some arcs would not close", () => {
    expect(broken("decimals: 5", "decimals: 4", "inch").map((f) => f.code)).toEqual(["post-wrong-value"]);
  });

  it("that uses a tool table may not drop the offset", () => {
    expect(broken("G40, ", "G40, G49, ", "millimetre").map((f) => f.what)).toEqual([
      "G49 and the length offset don't agree",
    ]);
  });

  it("may be the user's own", () => {
    const text = postText("millimetre")
      .replace("name: millimetre", "name: big router")
      .replace("G54", "G55")
      .replace("percent lines: false", "percent lines: true")
      .replace("[T M6]", "[T, M6]")
      .replace(".nc", ".txt");
    const read = readPost(text, "own.yaml");
    expect(read.ok && read.value).toMatchObject({ name: "big router", percentLines: true, fileEnding: ".txt" });
  });

  it("has a schema that describes every key", () => {
    const { properties } = postSchema() as { properties: Record<string, { description?: string }> };
    expect(Object.values(properties).every((p) => typeof p.description === "string")).toBe(true);
    expect(Object.keys(properties).length).toBe(16);
  });
});
