import { mkdirSync, mkdtempSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { textsFor } from "../../src/cli/texts.ts";

const folder = mkdtempSync(join(tmpdir(), "tillwright-"));
mkdirSync(join(folder, "job/fonts"), { recursive: true });
writeFileSync(join(folder, "job/case.yaml"), "title: x\n");
writeFileSync(join(folder, "job/fonts/own.ttf"), Buffer.from([0, 255, 128]));
writeFileSync(join(folder, "secret.ttf"), "not yours");
symlinkSync(join(folder, "secret.ttf"), join(folder, "job/link.ttf"));

function texts(date?: string) {
  const t = textsFor(join(folder, "job/case.yaml"), undefined, undefined, date);
  if ("findings" in t) throw new Error(t.findings.map((f) => f.what).join());
  return t.texts;
}

describe("what marks may ask the command line for", () => {
  it("are files of the job's own folder, byte for byte, and no others", () => {
    const { readBytes } = texts();
    expect([...readBytes!("fonts/own.ttf")!]).toEqual([0, 255, 128]);
    for (const name of ["../secret.ttf", "link.ttf", join(folder, "secret.ttf"), "fonts", "none.ttf", "a\0b"]) {
      expect(readBytes!(name)).toBeUndefined();
    }
  });

  it("are the bundled outline face, and the day", () => {
    const font = texts().bookFont!()!;
    // A TrueType file begins with 00 01 00 00 (OpenType specification).
    expect([...font.subarray(0, 4)]).toEqual([0, 1, 0, 0]);
    expect(texts("2026-11-25").today).toBe("2026-11-25");
    expect(texts().today).toMatch(/^\d{4}-\d{2}-\d{2}$/);
  });

  it("are refused where the day given is none", () => {
    const t = textsFor(join(folder, "job/case.yaml"), undefined, undefined, "25.11.2026");
    expect("findings" in t && t.findings.map((f) => [f.code, f.mend])).toEqual([
      ["number-form", expect.stringContaining("--date 2026-11-25")],
    ]);
  });
});
