import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { benchHtml } from "../../../src/sheets/bench/html.ts";
import { pages } from "./blocks.ts";

const OPEN_ONLY = new Set(["meta", "col", "br"]);

/** All tags of a page, each opened one closed in its turn. @throws Error for one that isn't */
function tagsOf(html: string): readonly string[] {
  const open: string[] = [];
  const seen: string[] = [];
  for (const m of html.matchAll(/<(\/?)([a-zA-Z0-9]+)((?:\s[^<>]*?)?)(\/?)>/g)) {
    const [, closes, name = "", , empty] = m;
    seen.push(name);
    if (closes === "/") {
      if (open.pop() !== name) throw new Error(`</${name}> closes nothing of its own`);
    } else if (empty !== "/" && !OPEN_ONLY.has(name)) open.push(name);
  }
  if (open.length > 0) throw new Error(`left open: ${open.join(", ")}`);
  return seen;
}

const OURS = new Set(
  "html head meta title style body h1 h2 h3 p strong ul li table caption colgroup col thead tbody tr th td span div i small br figure figcaption svg path text circle section footer".split(
    " ",
  ),
);

describe("the page as HTML", () => {
  it("lets no text become markup: only our own tags, all closed", () => {
    fc.assert(
      fc.property(pages, (page) => {
        const html = benchHtml(page).replace(/<!DOCTYPE html>/, "");
        for (const tag of tagsOf(html)) expect(OURS.has(tag), tag).toBe(true);
        expect(html).not.toMatch(/<script|javascript:|\son[a-z]+=/i);
        expect(benchHtml(page)).toBe(benchHtml(page));
      }),
      { numRuns: 20 },
    );
  });

  it("needs nothing from elsewhere", () => {
    const html = benchHtml({
      title: '"><img src=x onerror=alert(1)>',
      foot: "</footer><script>1</script>",
      blocks: [
        { kind: "heading", level: 1, text: "<b>" },
        { kind: "table", columns: [{ head: "</th>", share: 1 }], rows: [["</td><td>"], [null]] },
        { kind: "checklist", items: [{ text: "</li>", notes: ["<small>"], hold: "</strong>" }] },
        { kind: "caution", title: "</div>", items: ["&lt;"] },
      ],
    });
    tagsOf(html.replace(/<!DOCTYPE html>/, ""));
    // Beside the SVG namespace, which is fetched by nobody, no address stands in it.
    expect(html.replaceAll("http://www.w3.org/2000/svg", "")).not.toMatch(/https?:|url\(|<img|<link|@import/);
    expect(html).toContain("&amp;lt;");
    expect(html).toContain("&lt;/td&gt;&lt;td&gt;");
  });
});
