import type { WrongFile } from "./wrong-files.ts";

/** A flat part with a mark of these lines, its copies and the front view. */
function flat(lines: string, before = "", front = ""): string {
  const inner = lines
    .trim()
    .split("\n")
    .map((l, i) => (i === 0 ? `      - ${l}` : `        ${l}`))
    .join("\n");
  return `title: A test
units: mm
${front}parts:
  bottom:
    blank: {wood: ash, length: 180, width: 120, thickness: 6}
${before}    features:
${inner}
`;
}

/** A turned part with a mark of these lines. */
function turned(lines: string, split = true): string {
  const inner = lines
    .trim()
    .split("\n")
    .map((l, i) => (i === 0 ? `      - ${l}` : `        ${l}`))
    .join("\n");
  const halves = split ? "      - split: halves\n        by: saw\n        kerf: 1\n" : "";
  return `title: A test
units: mm
parts:
  pull:
    blank: {wood: cherry, length: 120, square: 40}
    square ends: 20
    features:
      - turning: profile
        elements:
          - cylinder: {length: 1 share, diameter: 36}
${halves}${inner}
`;
}

const AT = "centre at: 90 from first end, 60 from lower edge";
const TEXT = `mark: name\ntext: oak\ncap height: 5\n${AT}\nmade by: burned line`;
const FRONT = "front view:\n  - [cinnamon, cloves]\n  - [cumin, cumin]\n";
const PICTOGRAM = `mark: place\nwidth: 20\n${AT}\nmade by: burned area`;
const ROUND = "mark: leaf\ntext: oak\ncap height: 4\ncentre at: 60 from first end\nmade by: burned line";

export const WRONG_MARKS: readonly WrongFile[] = [
  // what it shows
  { name: "a mark that shows nothing", codes: ["mark-unclear"], text: flat(`¦mark: x\n${AT}\nmade by: burned line`) },
  {
    name: "a mark that shows two things",
    codes: ["mark-unclear"],
    text: flat(`${TEXT}\npictogram: ¦own`, "", FRONT),
  },
  {
    name: "a mark with a height, which is no other word for its width",
    codes: ["mark-key-odd"],
    text: flat(`mark: x\ndrawing: leaf.svg\nheight: ¦20\n${AT}\nmade by: burned area`),
  },
  {
    name: "a mark without a way of making",
    codes: ["key-missing"],
    text: flat(`¦mark: x\ntext: oak\ncap height: 5\n${AT}`),
  },
  {
    name: "a way of making nobody knows",
    codes: ["word-unknown"],
    text: flat(TEXT.replace("burned line", "¦burned lime")),
  },
  {
    name: "a text without a size",
    codes: ["mark-incomplete"],
    text: flat(TEXT.replace("text: oak\ncap height: 5", "text: ¦oak")),
  },
  { name: "a text with two sizes", codes: ["mark-key-odd"], text: flat(`${TEXT}\nwidth: ¦40`) },
  { name: "letters nobody knows", codes: ["word-unknown"], text: flat(`${TEXT}\nletters: ¦gothic`) },
  { name: "a font that is not there", codes: ["file-missing"], text: flat(`${TEXT}\nletters: ¦garamond.ttf`) },
  { name: "a font outside the folder", codes: ["path-outside-job"], text: flat(`${TEXT}\nletters: ¦../garamond.ttf`) },
  { name: "the book face where there is none", codes: ["file-missing"], text: flat(`${TEXT}\nletters: ¦book`) },
  { name: "an empty list of lines", codes: ["text-unusable"], text: flat(TEXT.replace("text: oak", "text: ¦[]")) },
  { name: "a letter the face lacks", codes: ["lettering-character-missing"], text: flat(TEXT.replace("oak", "¦木")) },
  {
    name: "a placeholder nobody knows",
    codes: ["lettering-placeholder"],
    text: flat(TEXT.replace("oak", '¦"{drawr}"')),
  },
  {
    name: "a row where no front view is",
    codes: ["lettering-placeholder"],
    text: flat(TEXT.replace("oak", '¦"{row}"')),
  },
  { name: "a date that is not given", codes: ["lettering-placeholder"], text: flat(TEXT.replace("oak", '¦"{date}"')) },
  {
    name: "today where nobody looks at the clock",
    codes: ["mark-incomplete"],
    text: flat(`${TEXT.replace("oak", '"{date}"')}\ndate: ¦today`),
  },
  {
    name: "too few serial numbers",
    codes: ["mark-copies"],
    text: flat(`${TEXT.replace("oak", '"{serial}"')}\nserial: ¦[1, 2]`, "    copies: 3\n"),
  },
  {
    name: "a text too long for its circle",
    codes: ["lettering-does-not-fit"],
    text: flat(`${TEXT.replace("oak", "¦oak and ash and elm")}\non arc: {radius: 9}`),
  },
  {
    name: "an arc without a radius",
    codes: ["key-missing"],
    text: flat(`${TEXT}\non arc: ¦{tops: inwards}`.replace("on arc: ¦", "¦on arc: ")),
  },
  // its place
  { name: "a mark without a place", codes: ["place-incomplete"], text: flat(`¦${TEXT.replace(`${AT}\n`, "")}`) },
  {
    name: "a line with one end",
    codes: ["place-incomplete"],
    text: flat("¦mark: l\nstart at: 5 from first end, 5 from lower edge\nmade by: burned line"),
  },
  {
    name: "a line that ends where it starts",
    codes: ["shape-impossible"],
    text: flat(
      "mark: l\nstart at: 5 from first end, 5 from lower edge\nend at: ¦5 from first end, 5 from lower edge\nmade by: burned line",
    ),
  },
  {
    name: "a line with a middle",
    codes: ["place-twice"],
    text: flat(
      `mark: l\nstart at: 5 from first end, 5 from lower edge\nend at: 9 from first end, 5 from lower edge\ncentre at: ¦9 from first end, 9 from lower edge\nmade by: burned line`,
    ),
  },
  {
    name: "a middle that both distances leave no room for",
    codes: ["place-twice"],
    text: flat(TEXT.replace("centre at: ", "centre at: ¦middle, ")),
  },
  {
    name: "a middle beside a border nobody knows",
    codes: ["face-unknown"],
    text: flat(TEXT.replace(AT, "centre at: middle, 5 from ¦lower end")),
  },
  // keys of something else
  { name: "an id for a text", codes: ["mark-key-odd"], text: flat(`${TEXT}\nid: ¦leaf`) },
  {
    name: "letters for a pictogram",
    codes: ["mark-key-odd"],
    text: flat(`${PICTOGRAM}\npictogram: cumin\nletters: ¦script`, "", FRONT),
  },
  { name: "a depth for a burned line", codes: ["mark-key-odd"], text: flat(`${TEXT}\ndepth: ¦1`) },
  { name: "a bit for a burned line", codes: ["mark-key-odd"], text: flat(`${TEXT}\nbit: ¦v 60`) },
  {
    name: "an effect for a V-groove",
    codes: ["mark-key-odd"],
    text: flat(`${TEXT.replace("burned line", "v-groove")}\neffect: ¦dark`),
  },
  {
    name: "a cut line without a depth",
    codes: ["mark-incomplete"],
    text: flat(TEXT.replace("burned line", "¦cut line")),
  },
  // what cannot be made so
  {
    name: "single lines as an area",
    codes: ["mark-kind-unfit"],
    text: flat(`${TEXT.replace("burned line", "¦burned area")}\nletters: script`),
  },
  {
    name: "single lines as a V-groove",
    codes: ["mark-kind-unfit"],
    text: flat(`${TEXT.replace("burned line", "¦v-groove")}\nletters: script`),
  },
  {
    name: "single lines burned through",
    codes: ["mark-kind-unfit"],
    text: flat(`${TEXT.replace("burned line", "¦burned through")}\nletters: upright`),
  },
  {
    name: "a text as a picture",
    codes: ["mark-kind-unfit"],
    text: flat(`${TEXT.replace("burned line", "¦burned picture")}\nletters: upright`),
  },
  // files
  {
    name: "a drawing that is not there",
    codes: ["file-missing"],
    text: flat(`mark: l\ndrawing: ¦leaf.svg\n${AT}\nmade by: burned area`),
  },
  {
    name: "a picture that is not there",
    codes: ["file-missing"],
    text: flat(`mark: l\npicture: ¦leaf.png\nwidth: 20\n${AT}\nmade by: burned picture`),
  },
  {
    name: "a signature outside the folder",
    codes: ["path-outside-job"],
    text: flat(`mark: l\nsignature: ¦/me.png\nwidth: 20\n${AT}\nmade by: burned line`),
  },
  // drawers
  {
    name: "a pictogram without a front view",
    codes: ["mark-incomplete"],
    text: flat(`${PICTOGRAM}\npictogram: ¦cumin`),
  },
  {
    name: "a pictogram without a width",
    codes: ["mark-incomplete"],
    text: flat(`${PICTOGRAM.replace("width: 20\n", "")}\npictogram: ¦cumin`, "", FRONT),
  },
  {
    name: "a drawer that is not in the front view",
    codes: ["drawer-unknown"],
    text: flat(`${PICTOGRAM}\npictogram: ¦cloth`, "", FRONT),
  },
  {
    name: "an own drawer where no copy has a name",
    codes: ["mark-incomplete"],
    text: flat(`${PICTOGRAM}\npictogram: ¦own`, "", FRONT),
  },
  {
    name: "a copy that is no drawer",
    codes: ["drawer-unknown"],
    text: flat(`${PICTOGRAM}\npictogram: ¦own`, "    each: [cinnamon, pepper]\n", FRONT),
  },
  {
    name: "a cell beyond the grid",
    codes: ["drawer-unknown"],
    text: flat(`${PICTOGRAM}\npictogram:\n  rows: 3\n  columns: 2\n  filled: ¦row 4 column 1`),
  },
  { name: "a grid without columns", codes: ["mark-incomplete"], text: flat(`${PICTOGRAM}\npictogram: ¦{rows: 3}`) },
  {
    name: "joined cells that are not said",
    codes: ["word-unknown"],
    text: flat(`${PICTOGRAM}\npictogram:\n  rows: 3\n  columns: 2\n  joined: ¦the top ones\n  filled: row 1 column 1`),
  },
  {
    name: "two drawers in one cell",
    codes: ["front-view-shape"],
    text: flat(
      `${PICTOGRAM}\npictogram:\n  rows: 3\n  columns: 2\n  joined: ¦[row 1 column 1 to row 1 column 2, row 1 column 2 to row 2 column 2]\n  filled: row 1 column 1`,
    ),
  },
  {
    name: "too few names for the copies",
    codes: ["mark-copies"],
    text: flat(TEXT, "    copies: 3\n    each: ¦[cinnamon, cloves]\n"),
  },
  { name: "two copies of one name", codes: ["name-twice"], text: flat(TEXT, "    each: ¦[cinnamon, Cinnamon]\n") },
  {
    name: "a front view with rows unlike",
    codes: ["front-view-shape"],
    text: flat(TEXT, "", "front view:\n  - [a, b]\n  - ¦[c]\n"),
  },
  {
    name: "a front view with a bent drawer",
    codes: ["front-view-shape"],
    text: flat(TEXT, "", "front view:\n  - [a, a]\n  - ¦[b, a]\n"),
  },
  {
    name: "a front view with no drawers",
    codes: ["front-view-shape"],
    text: flat(TEXT, "", 'front view:\n  - ¦["-", "-"]\n'),
  },
  {
    name: "a front view that is a word",
    codes: ["front-view-shape"],
    text: flat(TEXT, "", "front view: ¦three by two\n"),
  },
  // turned parts
  { name: "a mark that looks nowhere", codes: ["place-incomplete"], text: turned(`¦${ROUND}`) },
  {
    name: "a mark nowhere along a turned part",
    codes: ["place-incomplete"],
    text: turned(`¦${ROUND.replace("centre at: 60 from first end\n", "")}\naround: 90`),
  },
  {
    name: "a mark at an edge of a turned part",
    codes: ["border-not-here"],
    text: turned(`${ROUND.replace("first end", "¦upper edge")}\naround: 90`),
  },
  {
    name: "a line between the split and an angle",
    codes: ["place-twice"],
    text: turned("mark: l\nalong: split line\naround: ¦90\nmade by: burned line"),
  },
  {
    name: "ends of a line that is not the split's",
    codes: ["mark-key-odd"],
    text: turned(`${ROUND}\naround: 90\nends: ¦yes`),
  },
  {
    name: "two marks of one name",
    codes: ["name-twice"],
    text: turned(`${ROUND}\naround: 90`)
      .replace(/( {6}- mark[\s\S]*)$/, "$1$1")
      .replace(/(- mark: leaf[\s\S]*)- mark: leaf/, "$1- mark: ¦leaf"),
  },
];
