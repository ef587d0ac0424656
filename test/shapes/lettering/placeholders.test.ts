import { describe, expect, it } from "vitest";
import { fillPlaceholders } from "../../../src/shapes/lettering/placeholders.ts";

const values = { name: "Cumin {row}", row: "2", column: "3", count: "12", date: "2026-11-25" };

describe("placeholders", () => {
  it("are filled, and what fills them is not read again", () => {
    const filled = fillPlaceholders("{name}: {row}/{ Column } of {count}, {date} {{x}}", values);
    expect(filled).toEqual({ ok: true, value: "Cumin {row}: 2/3 of 12, 2026-11-25 {x}", findings: [] });
  });

  it("unknown ones are named, with the near one", () => {
    const filled = fillPlaceholders("{nmae} {colum} {xyzzy}", values);
    expect(filled.ok).toBe(false);
    expect(filled.findings.map((f) => [f.what, f.mend])).toEqual([
      ["unknown placeholder {nmae}", "did you mean {name}?"],
      ["unknown placeholder {colum}", "did you mean {column}?"],
      ["unknown placeholder {xyzzy}", "use one of these, or {{ for a brace"],
    ]);
  });

  it("without a value here are refused", () => {
    const filled = fillPlaceholders("{serial}", values);
    expect(filled.findings[0]).toMatchObject({ code: "lettering-placeholder", mend: "give the mark a serial" });
  });

  it("lone braces are refused", () => {
    expect(fillPlaceholders("a } b", values).findings[0]!.mend).toBe("write }} for one brace");
    expect(fillPlaceholders("a {name", values).findings[0]!.mend).toBe("write {{ for one brace");
  });
});
