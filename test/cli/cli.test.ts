import { spawn } from "node:child_process";
import { existsSync, mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { COMMAND, emptyFolder, type Ran, tillwright } from "./run.ts";

/** A clear refusal: exit 2, one message with a mend, no stack. */
function expectWrongInput(ran: Ran, words: RegExp): void {
  expect(ran.code, ran.err).toBe(2);
  expect(ran.err).toMatch(words);
  expect(ran.err + ran.out).not.toMatch(/\n\s+at .*:\d+:\d+|mistake of Tillwright/);
}

const SIMPLE = `title: one
units: mm
parts:
  side:
    blank: {wood: ash, length: 100, width: 60, thickness: 9}
    held by: tape
    features:
      - groove: bottom
        from: lower edge
        near edge at: 20
        width: 6.4
        depth: 4
`;

function withJob(text: string, name = "job.yaml"): string {
  const folder = emptyFolder();
  writeFileSync(join(folder, name), text);
  return folder;
}

describe("make", () => {
  it("writes programs, dry runs, sheets and the report, and says so in a pipe without colours or progress", () => {
    const folder = withJob(SIMPLE);
    const ran = tillwright(folder, ["make", "job.yaml", "--out", "out"]);
    expect(ran.code, ran.err).toBe(0);
    expect(readdirSync(join(folder, "out")).sort()).toEqual([
      "01-side-face-up-dry-run.nc",
      "01-side-face-up.nc",
      "01-side-face-up.svg",
      "bench-a4.pdf",
      "bench-letter.pdf",
      "bench.html",
      "cut-list.csv",
      "report.json",
    ]);
    expect(ran.out + ran.err).not.toMatch(/\u001b|\r/);
  });

  it("prints one JSON document with --json", () => {
    const ran = tillwright(withJob(SIMPLE), ["make", "job.yaml", "--json"]);
    const told = JSON.parse(ran.out) as { verdict: string; written: string[]; report: { programs: unknown[] } };
    expect(told.verdict).toBe("fine");
    expect(told.written).toHaveLength(8);
    expect(told.report.programs).toHaveLength(1);
  });

  it("does not write over a program that someone changed, and writes nothing else either", () => {
    const folder = withJob(SIMPLE);
    tillwright(folder, ["make", "job.yaml", "--out", "out"]);
    const program = join(folder, "out/01-side-face-up.nc");
    const edited = readFileSync(program, "utf8").replace("M3", "M4");
    writeFileSync(program, edited);
    writeFileSync(join(folder, "job.yaml"), SIMPLE.replace("depth: 4", "depth: 3"));
    const sheet = readFileSync(join(folder, "out/01-side-face-up.svg"), "utf8");
    const ran = tillwright(folder, ["make", "job.yaml", "--out", "out"]);
    expectWrongInput(ran, /changed since it was made/);
    expect(readFileSync(program, "utf8")).toBe(edited);
    expect(readFileSync(join(folder, "out/01-side-face-up.svg"), "utf8")).toBe(sheet);
    expect(tillwright(folder, ["make", "job.yaml", "--out", "out", "--replace-edited"]).code).toBe(0);
    expect(readFileSync(program, "utf8")).not.toBe(edited);
  });

  it("names programs that are left over from an earlier run", () => {
    const folder = withJob(SIMPLE);
    tillwright(folder, ["make", "job.yaml", "--out", "out"]);
    writeFileSync(join(folder, "job.yaml"), SIMPLE.replace("  side:", "  other side:"));
    const ran = tillwright(folder, ["make", "job.yaml", "--out", "out"]);
    expect(ran.code).toBe(0);
    expect(ran.err).toMatch(/01-side-face-up\.nc is left over/);
  });

  it("gives the same bytes twice and leaves no temporary file", () => {
    const folder = withJob(SIMPLE);
    tillwright(folder, ["make", "job.yaml", "--out", "a"]);
    tillwright(folder, ["make", "job.yaml", "--out", "b"]);
    const names = readdirSync(join(folder, "a"));
    expect(names.some((n) => n.endsWith(".part"))).toBe(false);
    for (const name of names) {
      expect(readFileSync(join(folder, "b", name), "utf8")).toBe(readFileSync(join(folder, "a", name), "utf8"));
    }
  });

  it("leaves whole files only, when it is killed at any moment", async () => {
    const folder = withJob(SIMPLE);
    tillwright(folder, ["make", "job.yaml", "--out", "out"]);
    const old = contents(join(folder, "out"));
    writeFileSync(join(folder, "job.yaml"), SIMPLE.replace("depth: 4", "depth: 3"));
    tillwright(folder, ["make", "job.yaml", "--out", "new"]);
    const fresh = contents(join(folder, "new"));
    for (const after of [150, 300, 450, 600, 750, 900]) {
      await killed(folder, ["make", "job.yaml", "--out", "out"], after);
      for (const [name, text] of contents(join(folder, "out"))) {
        if (name.endsWith(".part")) continue;
        expect([old.get(name), fresh.get(name)]).toContain(text);
      }
    }
  });

  it("says what is wrong with the folder when it cannot be written", () => {
    const folder = withJob(SIMPLE);
    writeFileSync(join(folder, "out"), "a file where the folder should be");
    expectWrongInput(tillwright(folder, ["make", "job.yaml", "--out", "out"]), /cannot write/);
  });
});

function contents(folder: string): Map<string, string> {
  return new Map(readdirSync(folder).map((name) => [name, readFileSync(join(folder, name), "utf8")]));
}

function killed(cwd: string, args: readonly string[], afterMs: number): Promise<void> {
  return new Promise((done) => {
    const child = spawn(process.execPath, [COMMAND, ...args], { cwd, stdio: "ignore" });
    setTimeout(() => child.kill("SIGKILL"), afterMs);
    child.on("exit", () => done());
  });
}

describe("wrong input", () => {
  const cases: readonly (readonly [string, string, RegExp])[] = [
    ["a key with a typo", SIMPLE.replace("near edge at", "near egde at"), /near edge at/],
    ["no unit", SIMPLE.replace("units: mm\n", ""), /units/],
    ["a depth beyond the wood", SIMPLE.replace("depth: 4", "depth: 40"), /job\.yaml:12/],
    ["a size of nothing", SIMPLE.replace("width: 6.4", "width: 0"), /job\.yaml:11/],
    ["a bit wider than the groove", SIMPLE.replace("width: 6.4", "width: 6.4\n        bit: 8 mm flat"), /8 mm/],
    ["no bit narrow enough", SIMPLE.replace("width: 6.4", "width: 1.1"), /bit/],
    ["a groove off the board", SIMPLE.replace("near edge at: 20", "near edge at: 70"), /job\.yaml:10/],
    ["a wood nobody knows", SIMPLE.replace("wood: ash", "wood: unobtainium"), /unobtainium/],
    ["a fraction without a unit", SIMPLE.replace("width: 6.4", "width: 1/4"), /1\/4/],
    ["a tab", SIMPLE.replace("    features:", "\tfeatures:"), /tab/],
    ["a decimal comma", SIMPLE.replace("length: 100", "length: [100,5, 3]"), /job\.yaml:5/],
    ["something else altogether", "<html><body>hello</body></html>\n", /job\.yaml/],
    ["an empty file", "", /job\.yaml/],
    [
      "a board larger than the machine",
      SIMPLE.replace("length: 100", "length: 4 m".replace("4 m", "4000")),
      /travel|larger|reach/,
    ],
  ];

  it.each(cases)("%s gets one clear message", (_, text, words) => {
    const ran = tillwright(withJob(text), ["make", "job.yaml"]);
    expectWrongInput(ran, words);
    expect(ran.err).toMatch(/mend:/);
  });

  it("a missing file, a folder, a file that is no text", () => {
    const folder = withJob(SIMPLE, "case.yaml");
    expectWrongInput(tillwright(folder, ["make", "case.yml"]), /no such file[\s\S]*did you mean case\.yaml/);
    expectWrongInput(tillwright(folder, ["make", "."]), /folder/);
    writeFileSync(join(folder, "bytes.yaml"), Buffer.from([0xff, 0xfe, 0x00, 0xd8, 0x80]));
    expectWrongInput(tillwright(folder, ["make", "bytes.yaml"]), /UTF-8/);
    expectWrongInput(tillwright(folder, ["check", "nowhere.nc"]), /no such file/);
  });

  it("a drawing outside the job's folder is not read, not through a link either", () => {
    const folder = withJob(SIMPLE);
    mkdirSync(join(folder, "inner"));
    writeFileSync(
      join(folder, "secret.svg"),
      '<svg xmlns="http://www.w3.org/2000/svg"><rect width="9" height="9"/></svg>',
    );
    symlinkSync(join(folder, "secret.svg"), join(folder, "inner/link.svg"));
    const recess = (file: string): string =>
      SIMPLE.replace(
        /- groove[\s\S]*/,
        `- recess: a\n        shape: drawing\n        drawing: ${file}\n        centre at: 50 from first end, 30 from lower edge\n        depth: 2\n`,
      );
    for (const file of ["../secret.svg", "link.svg", join(folder, "secret.svg")]) {
      writeFileSync(join(folder, "inner/job.yaml"), recess(file));
      expectWrongInput(tillwright(join(folder, "inner"), ["make", "job.yaml"]), /svg/);
    }
  });

  it("words of the command that it does not know", () => {
    const folder = emptyFolder();
    expect(tillwright(folder, ["mkae"]).code).toBe(2);
    expect(tillwright(folder, ["mkae"]).err).toMatch(/make/);
    expect(tillwright(folder, ["make"]).code).toBe(2);
    expect(tillwright(folder, ["schema", "everything"]).code).toBe(2);
  });
});

describe("check", () => {
  const folder = withJob(SIMPLE);
  tillwright(folder, ["make", "job.yaml", "--out", "out"]);
  const program = join(folder, "out/01-side-face-up.nc");

  it("knows the file that was proved, and one that was changed", () => {
    expect(tillwright(folder, ["check", "out/01-side-face-up.nc"])).toMatchObject({ code: 0 });
    expect(tillwright(folder, ["check", "out/01-side-face-up.nc"]).out).toMatch(
      /the file that was proved, seal [0-9a-f]{16}/,
    );
    writeFileSync(join(folder, "changed.nc"), readFileSync(program, "utf8").replace(/Z-4\.0/, "Z-4.5"));
    const ran = tillwright(folder, ["check", "changed.nc"]);
    expect(ran.code).toBe(1);
    expect(ran.err).toMatch(/not the file that was proved/);
  });

  it("proves anybody's program against a part", () => {
    writeFileSync(
      join(folder, "deep.nc"),
      readFileSync(program, "utf8")
        .replaceAll("Z-4.0", "Z-4.2")
        .replace(/^\(checked.*\n/m, ""),
    );
    const ran = tillwright(folder, ["check", "deep.nc", "--job", "job.yaml"]);
    expect(ran.code).toBe(1);
    expect(ran.err).toMatch(/proof-gouge/);
    expect(ran.err).toMatch(/deep\.nc:\d+/);
    expect(tillwright(folder, ["check", "out/01-side-face-up.nc", "--job", "job.yaml"]).code).toBe(0);
  });

  it("reads any RS-274 file on its own rules", () => {
    writeFileSync(join(folder, "any.nc"), "G21 G90 G94 G17\nG1 X5\nM2\n");
    const ran = tillwright(folder, ["check", "any.nc"]);
    expect(ran.code).toBe(1);
    expect(ran.err).toMatch(/rs-e30/);
    expect(ran.err).toMatch(/any\.nc:2/);
  });

  it("checks a job and writes nothing", () => {
    const clean = withJob(SIMPLE);
    expect(tillwright(clean, ["check", "job.yaml"]).code).toBe(0);
    expect(readdirSync(clean)).toEqual(["job.yaml"]);
  });
});

describe("the other commands", () => {
  it("preview writes sheets only", () => {
    const folder = withJob(SIMPLE);
    expect(tillwright(folder, ["preview", "job.yaml", "--out", "out"]).code).toBe(0);
    expect(readdirSync(join(folder, "out")).sort()).toEqual([
      "01-side-face-up.svg",
      "bench-a4.pdf",
      "bench-letter.pdf",
      "bench.html",
    ]);
  });

  it("new asks, writes a job that check accepts, and never writes over one", () => {
    const folder = emptyFolder();
    const typed = [
      "part",
      "A side",
      "mm",
      "left side",
      "ash",
      "190",
      "57",
      "9",
      "groove",
      "",
      "lower edge",
      "6",
      "4.2",
      "3",
      "",
      "",
      "nothing",
    ].join("\n");
    const ran = tillwright(folder, ["new", "mine.yaml"], `${typed}\n`);
    expect(ran.code, ran.err).toBe(0);
    const checked = tillwright(folder, ["check", "mine.yaml"]);
    expect(checked.code, checked.err).toBe(0);
    const before = readFileSync(join(folder, "mine.yaml"), "utf8");
    expect(tillwright(folder, ["new", "mine.yaml"], typed).code).toBe(2);
    expect(readFileSync(join(folder, "mine.yaml"), "utf8")).toBe(before);
  });

  it("new asks again for the wall that carries, where a groove is a runner's", () => {
    const folder = emptyFolder();
    const typed = [
      "part",
      "A side",
      "mm",
      "left side",
      "ash",
      "190",
      "57",
      "9",
      "groove",
      "runner",
      "",
      "24",
      "9.9",
      "3.5",
      "12",
    ];
    const ran = tillwright(folder, ["new", "mine.yaml"], `${[...typed, "", "upper edge", "nothing"].join("\n")}\n`);
    expect(ran.code, ran.err).toBe(0);
    expect(ran.err).toMatch(/please answer this one/);
    expect(tillwright(folder, ["check", "mine.yaml"]).code).toBe(0);
  });

  it("new asks for a cabinet as the measuring sheet has it, and check accepts what it writes", () => {
    const folder = emptyFolder();
    const own = ["cabinet", "Spices", "mm", "1", "2", "cherry", "15", "12", "", "calipers", "8.5"];
    const openings = ["salt", "142.3, 142.1, 142.4", "58.6, 58.5", "205", "153.9, 153.7", "", "142", "58.5", "205", ""];
    // Enter takes what is offered: fronts, joints, sides, bottoms, runners; then a turned pull.
    const typed = [...own, ...openings, ...Array(11).fill(""), ...Array(3).fill(""), "turned", "no"];
    const ran = tillwright(folder, ["new", "mine.yaml"], `${typed.join("\n")}\n`);
    expect(ran.code, ran.err).toBe(0);
    const checked = tillwright(folder, ["check", "mine.yaml"]);
    expect(checked.code, checked.err).toBe(0);
    expect(tillwright(folder, ["new", "other.yaml"], `${typed.slice(0, -1).join("\n")}\n`).code).toBe(2);
    expect(existsSync(join(folder, "other.yaml"))).toBe(false);
    const form = tillwright(folder, ["form", "mine.yaml"]);
    expect(form.code, form.err).toBe(0);
    expect(readFileSync(join(folder, "mine-measuring-sheet.html"), "utf8")).toContain("salt");
  });

  it("form prints a sheet for a case that has no file yet", () => {
    const folder = emptyFolder();
    const ran = tillwright(folder, [
      "form",
      "--rows",
      "2",
      "--columns",
      "2",
      "--names",
      "salt, pepper",
      "--out",
      "print",
    ]);
    expect(ran.code, ran.err).toBe(0);
    expect(readdirSync(join(folder, "print")).sort()).toEqual([
      "measuring-sheet-a4.pdf",
      "measuring-sheet-letter.pdf",
      "measuring-sheet.html",
    ]);
    for (const wrong of [["--rows", "0"], ["--units", "cubits"], ["--names", "a, b"], ["none.yaml"]]) {
      expect(tillwright(folder, ["form", ...wrong]).code).toBe(2);
    }
  });

  it("new writes nothing when the answers stop", () => {
    const folder = emptyFolder();
    expect(tillwright(folder, ["new", "mine.yaml"], "part\nA side\nmm\n").code).toBe(2);
    expect(existsSync(join(folder, "mine.yaml"))).toBe(false);
  });

  it("prints schemas and lists", () => {
    const folder = emptyFolder("shop.yaml");
    for (const what of ["job", "shop", "post", "report"]) {
      expect(JSON.parse(tillwright(folder, ["schema", what]).out)).toHaveProperty("$schema");
    }
    for (const what of ["cutters", "machines", "posts", "woods"]) {
      const ran = tillwright(folder, [what]);
      expect(ran.code, ran.err).toBe(0);
      expect(ran.out.split("\n").length).toBeGreaterThan(3);
      expect(Array.isArray(JSON.parse(tillwright(folder, [what, "--json", "--shop", "shop.yaml"]).out))).toBe(true);
    }
  });

  it("--help lists every command and the exit codes", () => {
    const { out, code } = tillwright(emptyFolder(), ["--help"]);
    expect(code).toBe(0);
    for (const word of [
      "make",
      "check",
      "preview",
      "form",
      "new",
      "schema",
      "cutters",
      "posts",
      "woods",
      "Exit codes",
    ]) {
      expect(out).toContain(word);
    }
  });
});
