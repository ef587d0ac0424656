/**
 * Wrong job files, as people write them. `¦` stands before each place that must be pointed at, in the order of the
 * lines; it is taken out before reading. `codes` are the findings there, one for each mark.
 */
export interface WrongFile {
  readonly name: string;
  readonly codes: readonly string[];
  readonly text: string;
}

/** A file whose single part carries these lines. */
function part(lines: string): string {
  const inner = lines.replace(/^\n/, "").replace(/\s+$/, "");
  return `title: A test
units: mm
measured:
  case depth: 205
  gap: 1.5
  drawers: 6 pieces
parts:
  side:
    blank: {wood: ash, length: 190, width: 57, thickness: 9}
${inner}
`;
}

/** A file whose single part has one feature, made of these lines. */
function feature(lines: string): string {
  const inner = lines
    .replace(/^\n/, "")
    .replace(/\s+$/, "")
    .split("\n")
    .map((l, i) => (i === 0 ? `      - ${l}` : `        ${l}`))
    .join("\n");
  return part(`    features:\n${inner}`);
}

/** A file with these measured sizes and a plain part. */
function measured(lines: string): string {
  return `title: A test
units: mm
measured:
${lines.replace(/^\n/, "").replace(/\s+$/, "")}
parts:
  side:
    blank: {wood: ash, length: 190, width: 57, thickness: 9}
`;
}

const GROOVE = "groove: bottom\nfrom: lower edge\nnear edge at: 6\nwidth: 4\ndepth: 4";
const HOLE = "hole: screws\ndiameter: 4\ndepth: through\ncentre at: 20 from first end, 28 from lower edge";
const SLOT =
  "recess: finger\nshape: slot\nlength: 40\nwidth: 12\ndepth: 6\ncentre at: 95 from first end, 28 from lower edge";

export const WRONG_FILES: readonly WrongFile[] = [
  // what the writing itself gets wrong
  { name: "nothing at all", codes: ["job-empty"], text: "¦" },
  { name: "only comments", codes: ["job-empty"], text: "¦# to do\n# tomorrow\n" },
  { name: "a single word", codes: ["kind-wrong"], text: "¦cabinet\n" },
  { name: "a list", codes: ["kind-wrong"], text: "¦- title: x\n- units: mm\n" },
  {
    name: "a tab before a line",
    codes: ["tab-indents-line"],
    text: "title: x\nunits: mm\nparts:\n¦\tside:\n    copies: 1\n",
  },
  {
    name: "tabs before two lines",
    codes: ["tab-indents-line", "tab-indents-line"],
    text: "title: x\nunits: mm\nparts:\n¦\tside:\n¦\t\tcopies: 1\n",
  },
  {
    name: "no space after a colon",
    codes: ["colon-without-space"],
    text: part("    copies¦:2\n    face side: face\n"),
  },
  {
    name: "no space after the last colon",
    codes: ["colon-without-space"],
    text: part("    face side: face\n    copies¦:2\n"),
  },
  {
    name: "no space after a colon in braces",
    codes: ["colon-without-space"],
    text: "title: x\nunits: mm\nparts:\n  side:\n    blank: {wood: ash, length¦:190, width: 57, thickness: 9}\n",
  },
  {
    name: "no space after a colon, alone below a name",
    codes: ["colon-without-space"],
    text: "title: x\nunits: mm\nparts:\n  side:\n    blank¦:ash\n",
  },
  { name: "no colon", codes: ["colon-missing"], text: part("    ¦copies 2\n") },
  {
    name: "two colons on a line",
    codes: ["second-colon"],
    text: "title: Cabinet¦: six drawers\nunits: mm\nparts: {}\n",
  },
  { name: "a key twice", codes: ["name-twice"], text: part("    copies: 2\n    ¦copies: 3\n") },
  { name: "a key twice in two cases", codes: ["name-twice"], text: part("    copies: 2\n    ¦Copies: 3\n") },
  {
    name: "a key in two spellings",
    codes: ["name-twice"],
    text: feature(`${SLOT}\n¦center at: 95 from first end, 28 from lower edge`),
  },
  {
    name: "a line indented too little",
    codes: ["lines-not-aligned"],
    text: "title: x\nunits: mm\nparts:\n    side:\n        copies: 1\n¦   other:\n        copies: 1\n",
  },
  { name: "a line indented below a value", codes: ["lines-not-aligned"], text: "title: x\nunits: mm\n  ¦parts: {}\n" },
  { name: "a list on its key's line", codes: ["list-on-key-line"], text: part("    features: ¦- groove: runner\n") },
  {
    name: "a bracket not closed",
    codes: ["brackets-do-not-match"],
    text: measured("  opening: ¦[142.3, 142.1\n  gap: 2\n"),
  },
  {
    name: "a brace not closed",
    codes: ["brackets-do-not-match"],
    text: "title: x\nunits: mm\nparts:\n  side:\n    blank: ¦{wood: ash, length: 190\n    copies: 1\n",
  },
  { name: "two quotes after inches", codes: ["text-after-quote"], text: measured('  gap: "3/4"¦"\n') },
  {
    name: "an apostrophe in single quotes",
    codes: ["text-after-quote"],
    text: "title: 'Anna'¦s cabinet'\nunits: mm\nparts: {}\n",
  },
  { name: "a quote not closed", codes: ["quote-not-closed"], text: 'title: ¦"Spice cabinet\nunits: mm\nparts: {}\n' },
  { name: "a backslash in quotes", codes: ["backslash-in-quotes"], text: 'title: "a¦\\q"\nunits: mm\nparts: {}\n' },
  { name: "a star before a value", codes: ["value-begins-with-sign"], text: part("    copies: ¦*two\n") },
  {
    name: "a formula that begins with a star",
    codes: ["value-begins-with-sign"],
    text: measured("  a: 3\n  b: ¦*a - 2\n"),
  },
  { name: "an ampersand before a value", codes: ["value-begins-with-sign"], text: part("    copies: ¦&n 2\n") },
  {
    name: "an exclamation mark before a value",
    codes: ["value-begins-with-sign"],
    text: part("    copies: ¦!int 2\n"),
  },
  { name: "a percent sign before a value", codes: ["value-begins-with-sign"], text: part("    copies: ¦%2\n") },
  { name: "more than, before a value", codes: ["value-begins-with-sign"], text: measured("  gap: ¦> 3 mm\n") },
  { name: "screw: #6", codes: ["hash-begins-comment"], text: feature(`${HOLE}\nscrew: ¦#6`) },
  {
    name: "a value that is a comment",
    codes: ["hash-begins-comment"],
    text: "title: ¦#1 cabinet\nunits: mm\nparts:\n  a:\n    blank: {wood: ash, length: 9, width: 9, thickness: 9}\n",
  },
  { name: "a second file after dashes", codes: ["second-document"], text: "title: x\nunits: mm\n¦---\ntitle: y\n" },
  {
    name: "a comma in a formula in braces",
    codes: ["comma-in-braces"],
    text: "title: x\nunits: mm\nmeasured:\n  a: 3\nparts:\n  side:\n    blank: {wood: ash, length: ¦= max(a, 30), width: 57, thickness: 9}\n",
  },
  // hostile files
  { name: "a bell in a title", codes: ["control-character"], text: "title: x¦\u0007y\nunits: mm\nparts: {}\n" },
  {
    name: "a hidden change of writing direction",
    codes: ["control-character"],
    text: "title: x¦\u202ey\nunits: mm\nparts: {}\n",
  },
  {
    name: "a control character by its escape",
    codes: ["control-character"],
    text: 'title: ¦"a\\e[2Jb"\nunits: mm\nparts:\n  a:\n    blank: {wood: ash, length: 9, width: 9, thickness: 9}\n',
  },
  {
    name: "an alias bomb",
    codes: ["value-begins-with-sign", "value-begins-with-sign", "value-begins-with-sign"],
    text: "title: x\nunits: mm\na: ¦&a [x, x]\nb: ¦&b [*a, *a]\nparts: ¦&c [*b, *b, *b]\n",
  },
  { name: "deep brackets", codes: ["nested-too-deep"], text: `a: ${"[".repeat(16)}¦${"[".repeat(50_000)}` },
  { name: "deep dashes", codes: ["nested-too-deep"], text: `${"- ".repeat(4)}¦${"- ".repeat(30_000)}x` },
  { name: "deep colons", codes: ["nested-too-deep"], text: `${"a: ".repeat(3)}a¦: ${"a: ".repeat(20_000)}` },
  { name: "a file too large", codes: ["job-too-large"], text: `¦# ${"x".repeat(70_000)}\n` },
  {
    name: "__proto__ as a part",
    codes: ["name-unusable"],
    text: "title: x\nunits: mm\nparts:\n  ¦__proto__:\n    blank: {wood: ash, length: 9, width: 9, thickness: 9}\n  a:\n    blank: {wood: ash, length: 9, width: 9, thickness: 9}\n",
  },
  { name: "constructor as a key", codes: ["name-unusable"], text: part("    ¦constructor: 3\n") },
  { name: "toString as a measured size", codes: ["name-unusable"], text: measured("  ¦toString: 3\n  gap: 2\n") },
  { name: "a list as a key", codes: ["line-not-understood"], text: part("    ¦[a, b]: 3\n") },
  // what the head lacks
  {
    name: "no unit",
    codes: ["units-missing"],
    text: "¦title: x\nparts:\n  a:\n    blank: {wood: ash, length: 9, width: 9, thickness: 9}\n",
  },
  { name: "no title and no parts", codes: ["key-missing", "key-missing"], text: "¦units: mm\n" },
  {
    name: "a unit that is none",
    codes: ["word-unknown"],
    text: "title: x\nunits: ¦cm\nparts:\n  a:\n    blank: {wood: ash, length: 9, width: 9, thickness: 9}\n",
  },
  { name: "an unknown key near a known one", codes: ["key-unknown"], text: part("    ¦featurs: []\n") },
  { name: "an unknown key far from all", codes: ["key-unknown"], text: part("    ¦colour: red\n") },
  {
    name: "a title without a value",
    codes: ["value-missing"],
    text: "¦title:\nunits: mm\nparts:\n  a:\n    blank: {wood: ash, length: 9, width: 9, thickness: 9}\n",
  },
  { name: "parts that are a list", codes: ["kind-wrong"], text: "title: x\nunits: mm\nparts:\n  ¦- side\n" },
  { name: "no parts below parts", codes: ["value-missing"], text: "title: x\nunits: mm\n¦parts:\n" },
  {
    name: "a shop file outside the folder",
    codes: ["path-outside-job"],
    text: `shop: ¦../../etc/shop.yaml\n${part("")}`,
  },
  { name: "a shop file that is not there", codes: ["file-missing"], text: `shop: ¦nowhere.yaml\n${part("")}` },
  // sizes
  {
    name: "a bare fraction in millimetres",
    codes: ["bare-fraction"],
    text: feature(GROOVE.replace("width: 4", "width: ¦3/4")),
  },
  { name: "a width of nothing", codes: ["size-not-positive"], text: feature(GROOVE.replace("width: 4", "width: ¦0")) },
  {
    name: "a width below nothing",
    codes: ["size-not-positive"],
    text: feature(GROOVE.replace("width: 4", "width: ¦-4")),
  },
  {
    name: "a formula that comes below nothing",
    codes: ["size-not-positive"],
    text: feature(GROOVE.replace("width: 4", "width: ¦= gap - 3")),
  },
  { name: "not a number", codes: ["number-form"], text: feature(GROOVE.replace("width: 4", "width: ¦.nan")) },
  { name: "an exponent", codes: ["number-form"], text: feature(GROOVE.replace("width: 4", "width: ¦1e3")) },
  {
    name: "a word for a size",
    codes: ["quantity-unreadable"],
    text: feature(GROOVE.replace("width: 4", "width: ¦wide")),
  },
  {
    name: "a unit that is misspelt",
    codes: ["unit-unknown"],
    text: feature(GROOVE.replace("width: 4", "width: 4 ¦milimetres")),
  },
  {
    name: "an angle for a width",
    codes: ["unit-wrong-kind"],
    text: feature(GROOVE.replace("width: 4", "width: ¦4 deg")),
  },
  {
    name: "two units in one size",
    codes: ["quantity-unreadable"],
    text: feature(GROOVE.replace("width: 4", "width: 3 mm ¦4 in")),
  },
  {
    name: "two inch marks",
    codes: ["quantity-unreadable"],
    text: feature(GROOVE.replace("width: 4", 'width: 3/4"¦"')),
  },
  { name: "a decimal comma", codes: ["decimal-comma"], text: feature(GROOVE.replace("width: 4", "width: 4¦,2")) },
  {
    name: "a decimal comma in a place",
    codes: ["decimal-comma"],
    text: feature(GROOVE.replace("edge at: 6", "edge at: 6¦,5")),
  },
  { name: "decimal commas in readings", codes: ["decimal-comma"], text: measured("  opening: [142¦,3, 142,1]\n") },
  {
    name: "decimal commas in named readings",
    codes: ["decimal-comma"],
    text: measured("  opening: {mouth: 142¦,3, middle: 142,1}\n"),
  },
  {
    name: "a size longer than a shop",
    codes: ["number-too-large"],
    text: feature(GROOVE.replace("width: 4", "width: ¦40000")),
  },
  { name: "a list for a size", codes: ["kind-wrong"], text: feature(GROOVE.replace("width: 4", "width: ¦[4, 5]")) },
  { name: "half a copy", codes: ["count-not-whole"], text: part("    copies: ¦1.5\n") },
  { name: "no copies", codes: ["count-not-whole"], text: part("    copies: ¦0\n") },
  // formulas
  {
    name: "a formula without its sign",
    codes: ["formula-without-equals"],
    text: feature(GROOVE.replace("width: 4", "width: ¦gap + 2")),
  },
  {
    name: "an unknown name",
    codes: ["formula-name-unknown"],
    text: feature(GROOVE.replace("width: 4", "width: = 2 + ¦gapp")),
  },
  {
    name: "a length and a count",
    codes: ["formula-mixes"],
    text: feature(GROOVE.replace("width: 4", "width: = gap ¦+ drawers")),
  },
  {
    name: "an area for a width",
    codes: ["formula-power"],
    text: feature(GROOVE.replace("width: 4", "width: ¦= gap*case depth")),
  },
  {
    name: "1-1/2 inside a formula",
    codes: ["mixed-number-dash"],
    text: feature(GROOVE.replace("width: 4", "width: = gap + ¦1-1/2 in")),
  },
  {
    name: "a fraction after a division",
    codes: ["fraction-after-division"],
    text: feature(GROOVE.replace("width: 4", "width: = case depth/¦3/4 in")),
  },
  {
    name: "a bare fraction beside a length",
    codes: ["bare-fraction"],
    text: feature(GROOVE.replace("width: 4", "width: = gap + ¦1/2")),
  },
  {
    name: "a division by nothing",
    codes: ["formula-not-finite"],
    text: feature(GROOVE.replace("width: 4", "width: = case depth ¦/ (gap - gap)")),
  },
  {
    name: "a bracket too many",
    codes: ["formula-syntax"],
    text: feature(GROOVE.replace("width: 4", "width: = (gap + 2)¦)")),
  },
  {
    name: "a bracket not closed in a formula",
    codes: ["formula-syntax"],
    text: feature(GROOVE.replace("width: 4", "width: = 2*¦(gap + 2")),
  },
  {
    name: "a formula too long",
    codes: ["formula-too-long"],
    text: feature(GROOVE.replace("width: 4", `width: =¦ ${"1+".repeat(300)}1`)),
  },
  {
    name: "a formula too deep",
    codes: ["formula-too-deep"],
    text: feature(GROOVE.replace("width: 4", `width: =${"(".repeat(41)}¦1${")".repeat(41)}`)),
  },
  { name: "a circle of two sizes", codes: ["formula-circular"], text: measured("  a: = b + 1\n  b: = ¦a + 1\n") },
  { name: "a size reckoned from itself", codes: ["formula-circular"], text: measured("  a: = 2*¦a\n") },
  { name: "a measured size with a formula's name", codes: ["name-unusable"], text: measured("  ¦max: 3\n") },
  { name: "a measured size with a unit's name", codes: ["name-unusable"], text: measured("  ¦in: 3\n") },
  { name: "a measured size with a sign in its name", codes: ["name-unusable"], text: measured("  ¦a+b: 3\n") },
  { name: "two sizes of one name", codes: ["name-twice"], text: measured("  gap: 3\n  ¦Gap: 4\n") },
  {
    name: "readings far apart",
    codes: ["readings-spread"],
    text: measured("  ¦opening: {mouth: 142.3, back: 124.3}\n"),
  },
  { name: "readings of two kinds", codes: ["unit-wrong-kind"], text: measured("  lean: {front: 12 deg, back: ¦12}\n") },
  { name: "a size without a value", codes: ["value-missing"], text: measured("  ¦gap:\n  other: 2\n") },
  { name: "an unknown way of measuring", codes: ["word-unknown"], text: measured("  gap: {with: ¦eye, mouth: 3}\n") },
  { name: "no reading", codes: ["value-missing"], text: measured("  ¦gap: {with: calipers}\n") },
  // parts
  {
    name: "a blank without a thickness",
    codes: ["key-missing"],
    text: "title: x\nunits: mm\nparts:\n  a:\n    ¦blank: {wood: ash, length: 9, width: 9}\n",
  },
  {
    name: "a part without a blank",
    codes: ["key-missing"],
    text: "title: x\nunits: mm\nparts:\n  ¦a:\n    copies: 2\n",
  },
  {
    name: "grain that runs nowhere",
    codes: ["word-unknown"],
    text: "title: x\nunits: mm\nparts:\n  a:\n    blank: {wood: ash, length: 9, width: 9, thickness: 9, grain: ¦diagonal}\n",
  },
  { name: "a mirror image that is there already", codes: ["name-twice"], text: part("    ¦mirrored as: side\n") },
  {
    name: "two parts of one name in two cases",
    codes: ["name-twice"],
    text: `${part("")}  ¦Side:\n    blank: {wood: ash, length: 9, width: 9, thickness: 9}\n`,
  },
  {
    name: "a label that is another face's name",
    codes: ["label-misleads"],
    text: part("    faces: {second end: ¦back}\n"),
  },
  {
    name: "a label for two faces",
    codes: ["label-misleads"],
    text: part("    faces: {first end: open end, second end: ¦open end}\n"),
  },
  { name: "an unknown face in faces", codes: ["key-unknown"], text: part("    faces: {¦third end: open end}\n") },
  { name: "a face side that is an edge", codes: ["border-not-here"], text: part("    face side: ¦lower edge\n") },
  { name: "features that are a map", codes: ["kind-wrong"], text: part("    features:\n      ¦groove: runner\n") },
  { name: "a feature of no kind", codes: ["feature-kind-unsaid"], text: feature("¦width: 4\ndepth: 3") },
  { name: "a feature that is a word", codes: ["feature-kind-unsaid"], text: feature("¦groove") },
  {
    name: "two features of one name",
    codes: ["name-twice"],
    text: part(
      `    features:\n      - {groove: a, from: lower edge, centre at: 6, width: 4, depth: 4}\n      - {groove: ¦A, from: lower edge, centre at: 20, width: 4, depth: 4}\n`,
    ),
  },
  { name: "two kinds in one feature", codes: ["key-unknown"], text: feature(`${GROOVE}\n¦rabbet: back`) },
  {
    name: "a feature below its name",
    codes: ["kind-wrong"],
    text: part("    features:\n      - groove:\n          ¦from: lower edge\n"),
  },
  // features
  {
    name: "a runner whose bearing wall is not named",
    codes: ["bearing-wall-unnamed"],
    text: feature(GROOVE.replace("groove: bottom", "groove: ¦runner")),
  },
  {
    name: "a bearing wall's place without the wall",
    codes: ["bearing-wall-unnamed"],
    text: feature("groove: x\nfrom: lower edge\nbearing wall at: ¦24\nwidth: 4\ndepth: 4"),
  },
  {
    name: "a bearing wall towards an end",
    codes: ["border-not-here"],
    text: feature(`${GROOVE}\nbearing wall: ¦first end`),
  },
  {
    name: "a border that is none",
    codes: ["face-unknown"],
    text: feature(GROOVE.replace("from: lower edge", "from: ¦lowr edge")),
  },
  {
    name: "the face itself as a border",
    codes: ["border-not-here"],
    text: feature(GROOVE.replace("from: lower edge", "from: ¦face")),
  },
  {
    name: "a groove without an edge",
    codes: ["place-incomplete"],
    text: feature("groove: x\nnear edge at: ¦6\nwidth: 4\ndepth: 4"),
  },
  {
    name: "a groove without a place",
    codes: ["place-incomplete"],
    text: feature("¦groove: x\nfrom: lower edge\nwidth: 4\ndepth: 4"),
  },
  { name: "a groove at two places", codes: ["place-twice"], text: feature(`${GROOVE}\nfar edge at: ¦10`) },
  {
    name: "a stop at the groove's own edge",
    codes: ["border-not-here"],
    text: feature(`${GROOVE}\nstops: 12 from ¦lower edge`),
  },
  { name: "a stop from nothing", codes: ["place-incomplete"], text: feature(`${GROOVE}\nstops: ¦12`) },
  {
    name: "a stop below nothing",
    codes: ["size-not-positive"],
    text: feature(`${GROOVE}\nstops: ¦-12 from first end`),
  },
  {
    name: "two stops at one end",
    codes: ["place-twice"],
    text: feature(`${GROOVE}\nstops: ¦[12 from first end, 14 from first end]`),
  },
  {
    name: "a stop as a map from an unknown end",
    codes: ["face-unknown"],
    text: feature(`${GROOVE}\nstops: {12 from: ¦font end}`),
  },
  {
    name: "a square end without a radius",
    codes: ["shape-incomplete"],
    text: feature(`${GROOVE}\nstops: 12 from first end\nends: ¦square`),
  },
  {
    name: "a groove between one point",
    codes: ["place-incomplete"],
    text: feature("¦groove: x\nstart at: 10 from first end, 9 from lower edge\nwidth: 4\ndepth: 4"),
  },
  {
    name: "a groove that goes nowhere",
    codes: ["shape-impossible"],
    text: feature(
      "groove: x\nstart at: 10 from first end, 9 from lower edge\nend at: ¦10 from first end, 9 from lower edge\nwidth: 4\ndepth: 4",
    ),
  },
  {
    name: "a groove without a depth",
    codes: ["key-missing"],
    text: feature("¦groove: x\nfrom: lower edge\nnear edge at: 6\nwidth: 4"),
  },
  { name: "a face that is none", codes: ["face-unknown"], text: feature(`${GROOVE}\non: ¦insid`) },
  {
    name: "a place measured from a planed edge",
    codes: ["face-planed-afterwards"],
    text: `${feature(GROOVE.replace("from: lower edge", "from: ¦lower edge")).trimEnd()}\n    planed afterwards: lower edge\n`,
  },
  {
    name: "one distance for a recess",
    codes: ["place-incomplete"],
    text: feature(SLOT.replace("centre at: 95 from first end, 28 from lower edge", "centre at: ¦95 from first end")),
  },
  {
    name: "two distances along one direction",
    codes: ["place-twice"],
    text: feature(
      SLOT.replace(
        "centre at: 95 from first end, 28 from lower edge",
        "centre at: ¦95 from first end, 30 from second end",
      ),
    ),
  },
  {
    name: "no place for a recess",
    codes: ["place-incomplete"],
    text: feature("¦recess: x\nshape: circle\ndiameter: 20\ndepth: 4"),
  },
  { name: "a slot without a width", codes: ["shape-incomplete"], text: feature(`¦${SLOT.replace("width: 12\n", "")}`) },
  { name: "a slot with a diameter", codes: ["shape-impossible"], text: feature(`${SLOT}\ndiameter: ¦12`) },
  {
    name: "a slot wider than long",
    codes: ["shape-impossible"],
    text: feature(SLOT.replace("length: 40", "length: ¦10")),
  },
  {
    name: "a shape that is none",
    codes: ["word-unknown"],
    text: feature(SLOT.replace("shape: slot", "shape: ¦slott")),
  },
  {
    name: "corners rounder than the rectangle",
    codes: ["shape-impossible"],
    text: feature(SLOT.replace("shape: slot", "shape: rounded rectangle\ncorner radius: ¦7")),
  },
  { name: "a wall that leans outwards", codes: ["lean-out-of-range"], text: feature(`${SLOT}\nwall: ¦sloped 80 deg`) },
  {
    name: "a drawing outside the folder",
    codes: ["path-outside-job"],
    text: feature("recess: x\nshape: drawing\ndrawing: ¦../leaf.svg\ndepth: 3\nplaced: as drawn"),
  },
  {
    name: "a drawing by its whole path",
    codes: ["path-outside-job"],
    text: feature("recess: x\nshape: drawing\ndrawing: ¦/home/leaf.svg\ndepth: 3\nplaced: as drawn"),
  },
  {
    name: "a drawing that is not there",
    codes: ["file-missing"],
    text: feature("recess: x\nshape: drawing\ndrawing: ¦leaf.svg\ndepth: 3\nplaced: as drawn"),
  },
  { name: "a screw that is none", codes: ["screw-unknown"], text: feature(`${HOLE}\nscrew: ¦no 66`) },
  { name: "a screw of 6 somethings", codes: ["screw-unknown"], text: feature(`${HOLE}\nscrew: ¦6`) },
  {
    name: "a hole without a size",
    codes: ["hole-size-unsaid"],
    text: feature(`¦${HOLE.replace("diameter: 4\n", "")}`),
  },
  { name: "a row that says too little", codes: ["row-incomplete"], text: feature(`${HOLE}\nrow: ¦4 at 32`) },
  {
    name: "a row towards nothing known",
    codes: ["face-unknown"],
    text: feature(`${HOLE}\nrow: ¦4 at 32 towards the window`),
  },
  {
    name: "a grid whose rows and columns agree",
    codes: ["place-twice"],
    text: feature(`${HOLE}\ngrid: ¦{columns: 3 at 20 towards second end, rows: 2 at 20 towards second end}`),
  },
  {
    name: "a countersink no wider than its hole",
    codes: ["shape-impossible"],
    text: feature(`${HOLE}\ncountersunk: {head diameter: ¦4, angle: 90}`),
  },
  {
    name: "a counterbore deeper than its hole",
    codes: ["shape-impossible"],
    text: feature(`${HOLE.replace("through", "5")}\ncounterbored: {diameter: 10, depth: ¦6}`),
  },
  {
    name: "two heads on one hole",
    codes: ["place-twice"],
    text: feature(`${HOLE}\ncountersunk for: no 6\ncounterbored: ¦{diameter: 10, depth: 4}`),
  },
  {
    name: "a mortise shorter than wide",
    codes: ["shape-impossible"],
    text: feature("mortise: x\nlength: ¦5\nwidth: 6\ndepth: 8\ncentre at: 40 from first end, 20 from lower edge"),
  },
  { name: "an outline that nothing holds", codes: ["key-missing"], text: feature("¦outline: x\nside: outside") },
  {
    name: "an outline held by hope",
    codes: ["hold-unsaid"],
    text: feature("outline: x\nside: outside\nhold by: ¦hope"),
  },
  {
    name: "an opening without a shape",
    codes: ["shape-incomplete"],
    text: feature("outline: x\nside: ¦inside\nhold by: nothing"),
  },
  {
    name: "tabs without a height",
    codes: ["hold-unsaid"],
    text: feature("outline: x\nside: outside\nhold by: ¦{tabs: 3, width: 6}"),
  },
  // pairs, boards, holding, overrides
  {
    name: "a pair from opposite edges",
    codes: ["pair-from-opposite-edges"],
    text: `title: x
units: mm
parts:
  left side:
    blank: {wood: ash, length: 190, width: 57, thickness: 9}
    features:
      - {groove: bottom, from: lower edge, near edge at: 6, width: 4, depth: 4}
  right side:
    blank: {wood: ash, length: 190, width: 57, thickness: 9}
    features:
      - {groove: ¦bottom, from: upper edge, far edge at: 51, width: 4, depth: 4}
`,
  },
  {
    name: "an unknown part on a board",
    codes: ["part-unknown"],
    text: `${part("")}boards:\n  ash board:\n    blank: {wood: ash, length: 400, width: 90, thickness: 9}\n    places:\n      - {part: ¦sides, at: "10 from first end, 10 from lower edge"}\n`,
  },
  {
    name: "a board without places",
    codes: ["key-missing"],
    text: `${part("")}boards:\n  ¦ash board:\n    blank: {wood: ash, length: 400, width: 90, thickness: 9}\n`,
  },
  {
    name: "a board called like a part",
    codes: ["name-twice"],
    text: `${part("")}boards:\n  ¦side:\n    blank: {wood: ash, length: 400, width: 90, thickness: 9}\n    places:\n      - {part: side, at: "10 from first end, 10 from lower edge"}\n`,
  },
  { name: "clamps without clamps", codes: ["holding-incomplete"], text: part("    held by: ¦clamps\n") },
  {
    name: "clamps on a taped board",
    codes: ["holding-incomplete"],
    text: part(
      "    held by: tape\n    clamps: ¦{a: {centre at: [5 from first end, 5 from lower edge], covers: 20 by 20, height: 30}}\n",
    ),
  },
  {
    name: "a clamp that covers one size",
    codes: ["quantity-unreadable"],
    text: part(
      "    held by: clamps\n    clamps:\n      a: {centre at: [5 from first end, 5 from lower edge], covers: ¦20, height: 30}\n",
    ),
  },
  { name: "zero nowhere", codes: ["word-unknown"], text: part("    zero: ¦middle\n") },
  { name: "turned by an eighth", codes: ["word-unknown"], text: part("    turned: ¦45\n") },
  {
    name: "an override of nothing known",
    codes: ["override-unknown"],
    text: `${part("")}override:\n  ¦readings-spred: it is so\n`,
  },
  {
    name: "an override that cannot be",
    codes: ["override-not-possible"],
    text: `${part("")}override:\n  ¦bare-fraction: I know\n`,
  },
  // several at once
  {
    name: "five independent mistakes",
    codes: ["key-unknown", "bare-fraction", "face-unknown", "word-unknown", "count-not-whole"],
    text: `title: x
units: mm
mesured: {}
parts:
  a:
    blank: {wood: ash, length: 190, width: 3/4, thickness: 9}
    features:
      - {groove: g, from: lowest edge, near edge at: 6, width: 4, depth: 4}
      - {recess: r, shape: round hole, diameter: 9, depth: 4, centre at: "9 from first end, 9 from lower edge"}
  b:
    blank: {wood: ash, length: 190, width: 57, thickness: 9}
    copies: two
`
      .replace("mesured", "¦mesured")
      .replace("3/4", "¦3/4")
      .replace("lowest", "¦lowest")
      .replace("round hole", "¦round hole")
      .replace("copies: two", "copies: ¦0"),
  },
  {
    name: "a wrong size above an open bracket",
    codes: ["bare-fraction", "brackets-do-not-match"],
    text: measured("  a: ¦3/4\n  b: ¦[1, 2\n  c: 3\n"),
  },
];
