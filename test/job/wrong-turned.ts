import type { WrongFile } from "./wrong-files.ts";

/** Wrong descriptions of turned parts, marked as in `wrong-files.ts`; what they get wrong is found by the reader alone. */

const BLANK = "    blank: {wood: cherry, length: 150, square: 50}";
const TURNING = `      - turning: profile
        elements:
          - cylinder: {length: 150, diameter: 40}`;
const ROOM = `      - recess: finger room
        cut: down the crown
        width: 50
        room behind: 14
        hook: 9`;
const SPLIT = `      - split: halves
        by: saw
        kerf: 1.2`;

/** A file whose one part has these lines below its name. */
function part(lines: string): string {
  return `title: A test\nunits: mm\nmeasured:\n  bead length: 8\nparts:\n  pull:\n${lines}\n`;
}

/** A pull with this list of features. */
function features(...list: readonly string[]): string {
  return part(`${BLANK}\n    features:\n${list.join("\n")}`);
}

/** A pull whose profile has this element between two cylinders. */
function element(text: string): string {
  const lines = text.split("\n").map((l, i) => (i === 0 ? `          - ${l}` : `            ${l}`));
  return features(`      - turning: profile
        elements:
          - cylinder: {length: 40, diameter: 40}
${lines.join("\n")}
          - cylinder: {length: 1 share, diameter: 30}`);
}

/** A pull with these lines beside its features. */
function beside(lines: string): string {
  return part(`${BLANK}\n${lines}\n    features:\n${TURNING}`);
}

export const WRONG_TURNED: readonly WrongFile[] = [
  // blank
  {
    name: "square and round at once",
    codes: ["turned-blank-unclear"],
    text: part(`    blank: {wood: cherry, length: 150, square: 50, diameter: ¦40}\n    features:\n${TURNING}`),
  },
  {
    name: "a profile, but neither square nor diameter",
    codes: ["turned-blank-unclear"],
    text: part(`    blank: ¦{wood: cherry, length: 150}\n    features:\n${TURNING}`),
  },
  {
    name: "a thickness beside a square",
    codes: ["key-unknown"],
    text: part(`    blank: {wood: cherry, length: 150, square: 50, ¦thickness: 50}\n    features:\n${TURNING}`),
  },
  {
    name: "a square of nothing",
    codes: ["size-not-positive"],
    text: part(`    blank: {wood: cherry, length: 150, square: ¦0}\n    features:\n${TURNING}`),
  },
  {
    name: "no features",
    codes: ["key-missing"],
    text: part(`    blank: {wood: cherry, length: 150, square: 50}`).replace("  pull:", "  ¦pull:"),
  },
  {
    name: "no profile",
    codes: ["turned-no-profile"],
    text: part(`${BLANK}\n    features:\n      ¦- split: halves\n        by: saw\n        kerf: 1`),
  },
  {
    name: "no wood",
    codes: ["key-missing"],
    text: part(`    ¦blank: {length: 150, square: 50}\n    features:\n${TURNING}`),
  },
  { name: "a mirror image", codes: ["key-unknown"], text: beside("    ¦mirrored as: other pull") },
  { name: "tape", codes: ["word-unknown"], text: beside("    held by: ¦tape") },
  { name: "a lathe without a name", codes: ["value-missing"], text: beside("    ¦lathe:") },
  { name: "turned by somebody", codes: ["word-unknown"], text: beside("    turned by: ¦me") },
  // square ends, zero, holding
  {
    name: "square ends on a round blank",
    codes: ["shape-impossible"],
    text: part(`    blank: {wood: cherry, length: 150, diameter: 50}\n    square ends: ¦20\n    features:\n${TURNING}`),
  },
  { name: "square ends that leave nothing", codes: ["shape-impossible"], text: beside("    square ends: ¦75") },
  {
    name: "square ends by a wrong name",
    codes: ["key-unknown"],
    text: beside("    square ends: {left: ¦20}").replace("{left: ¦20}", "{¦left: 20}"),
  },
  { name: "square ends in degrees", codes: ["unit-wrong-kind"], text: beside("    square ends: ¦20 deg") },
  {
    name: "jaws and cradles",
    codes: ["holding-incomplete"],
    text: beside("    held by: jaws\n    cradles: ¦{left: {at: 30 from first end, carries: 18, caul height: 25}}"),
  },
  {
    name: "a cradle from an edge",
    codes: ["border-not-here"],
    text: beside("    cradles: {left: {at: 30 from ¦lower edge, carries: 18, caul height: 25}}"),
  },
  {
    name: "a cradle without its caul",
    codes: ["key-missing"],
    text: beside("    cradles:\n      ¦left:\n        at: 30 from first end\n        carries: 18"),
  },
  // features
  {
    name: "a groove in a turned part",
    codes: ["feature-kind-unsaid"],
    text: features(TURNING, "      - ¦groove: x\n        width: 4\n        depth: 3"),
  },
  { name: "two profiles", codes: ["name-twice"], text: features(TURNING, TURNING.replace("turning", "¦turning")) },
  { name: "two splits", codes: ["name-twice"], text: features(TURNING, SPLIT, SPLIT.replace("split", "¦split")) },
  { name: "a feature without a name", codes: ["feature-kind-unsaid"], text: features(TURNING, "      - ¦by: saw") },
  {
    name: "a key of the feature misspelt",
    codes: ["key-unknown"],
    text: features(TURNING, `${ROOM}\n        ¦hok: 9`),
  },
  // elements
  {
    name: "no elements",
    codes: ["turned-no-profile"],
    text: features("      - turning: profile\n        elements: ¦[]"),
  },
  { name: "elements missing", codes: ["key-missing"], text: features("      - ¦turning: profile\n        pulls: 2") },
  {
    name: "elements as one value",
    codes: ["kind-wrong"],
    text: features("      - turning: profile\n        elements: ¦bead"),
  },
  { name: "an element nobody knows", codes: ["turned-shape"], text: element("¦blob: {length: 8, diameter: 30}") },
  { name: "an element as a word", codes: ["turned-shape"], text: element("¦bead") },
  { name: "a bead without its diameter", codes: ["key-missing"], text: element("¦bead: {length: 8}") },
  { name: "a bead without its length", codes: ["key-missing"], text: element("¦bead: {diameter: 44}") },
  {
    name: "a bead with a width",
    codes: ["key-missing", "key-unknown"],
    text: element("¦bead: {diameter: 44, ¦width: 8}"),
  },
  { name: "a bead of nothing", codes: ["size-not-positive"], text: element("bead: {length: 8, diameter: ¦0}") },
  { name: "a list of sizes", codes: ["kind-wrong"], text: element("bead: ¦[8, 44]") },
  {
    name: "sizes beside the braces",
    codes: ["key-unknown"],
    text: element("bead: {length: 8, diameter: 44}\nfrom: ¦38"),
  },
  {
    name: "a share of nothing",
    codes: ["size-not-positive"],
    text: element("cylinder: {length: ¦0 shares, diameter: 30}"),
  },
  { name: "a share of mm", codes: ["unit-wrong-kind"], text: element("cylinder: {length: ¦2 mm share, diameter: 30}") },
  {
    name: "more than the blank",
    codes: ["size-not-positive"],
    text: element("cylinder: {length: 8, diameter: ¦120 % of blank}"),
  },
  {
    name: "a formula over an unknown name",
    codes: ["formula-name-unknown"],
    text: element("bead: {length: = ¦bead lenght, diameter: 44}"),
  },
  {
    name: "a vee with two depths",
    codes: ["place-twice"],
    text: element("vee: {length: 4, diameter: 30, bottom: 26, depth: ¦2}"),
  },
  { name: "a round-over of no size", codes: ["shape-incomplete"], text: element("round-over: ¦{from: 40}") },
  {
    name: "a round-over with two lengths",
    codes: ["place-twice"],
    text: element("round-over: {from: 40, radius: 5, length: ¦6}"),
  },
  { name: "an ogee with unknown ends", codes: ["word-unknown"], text: element("ogee: {length: 12, ends: ¦slanted}") },
  {
    name: "a drawing that is not there, in a turned part",
    codes: ["file-missing"],
    text: element("path: {drawing: ¦pull.svg}"),
  },
  {
    name: "a drawing outside the folder, in a turned part",
    codes: ["path-outside-job"],
    text: element("path: {drawing: ¦../pull.svg}"),
  },
  { name: "half of something", codes: ["word-unknown"], text: features(`${TURNING}\n        half profile: ¦perhaps`) },
  { name: "half a pull", codes: ["count-not-whole"], text: features(`${TURNING}\n        pulls: ¦1.5`) },
  {
    name: "waste below nothing",
    codes: ["size-not-positive"],
    text: features(`${TURNING}\n        waste at ends: ¦-2`),
  },
  // finger room
  {
    name: "a finger room that doesn't say how it is cut",
    codes: ["key-missing"],
    text: features(TURNING, "      - ¦recess: finger room\n        width: 50"),
  },
  {
    name: "a finger room cut from nowhere",
    codes: ["word-unknown"],
    text: features(TURNING, ROOM.replace("down the crown", "¦sideways")),
  },
  { name: "a depth instead of a hook", codes: ["key-unknown"], text: features(TURNING, `${ROOM}\n        ¦depth: 12`) },
  {
    name: "a hand without fingers",
    codes: ["finger-room-incomplete"],
    text: features(TURNING, `${ROOM}\n        hand: ¦large`),
  },
  { name: "five fingers", codes: ["count-not-whole"], text: features(TURNING, `${ROOM}\n        fingers: ¦5`) },
  {
    name: "corners on a slot",
    codes: ["shape-impossible"],
    text: features(TURNING, `${ROOM}\n        corner radius: ¦4`),
  },
  {
    name: "an opening at the crown",
    codes: ["shape-impossible"],
    text: features(TURNING, `${ROOM}\n        opens over: ¦far side`),
  },
  {
    name: "a place from an edge",
    codes: ["border-not-here"],
    text: features(TURNING, `${ROOM}\n        centre at: 20 from ¦lower edge`),
  },
  {
    name: "a place by two distances",
    codes: ["place-twice"],
    text: features(TURNING, `${ROOM}\n        centre at: ¦20 from first end, 30 from second end`),
  },
  {
    name: "a place from nothing",
    codes: ["place-incomplete"],
    text: features(TURNING, `${ROOM}\n        centre at: ¦20`),
  },
  {
    name: "a wall that leans over",
    codes: ["lean-out-of-range"],
    text: features(TURNING, `${ROOM}\n        wall: ¦sloped 80 deg`),
  },
  {
    name: "a floor dished by a word",
    codes: ["quantity-unreadable"],
    text: features(TURNING, `${ROOM}\n        floor: dished ¦much`),
  },
  {
    name: "a floor of an unknown kind",
    codes: ["word-unknown"],
    text: features(TURNING, `${ROOM}\n        floor: ¦wavy`),
  },
  { name: "a lip of an unknown kind", codes: ["word-unknown"], text: features(TURNING, `${ROOM}\n        lip: ¦nice`) },
  {
    name: "a lip more than square",
    codes: ["lean-out-of-range"],
    text: features(TURNING, `${ROOM}\n        least lip angle: ¦95 deg`),
  },
  // split
  { name: "a split by nothing", codes: ["key-missing"], text: features(TURNING, "      - ¦split: halves") },
  {
    name: "a split by axe",
    codes: ["word-unknown"],
    text: features(TURNING, "      - split: halves\n        by: ¦axe"),
  },
  {
    name: "a saw without a kerf",
    codes: ["key-missing"],
    text: features(TURNING, "      - ¦split: halves\n        by: saw"),
  },
  {
    name: "a paper joint with a kerf",
    codes: ["shape-impossible"],
    text: features(TURNING, "      - split: halves\n        by: paper joint\n        kerf: ¦1"),
  },
  {
    name: "cleaning after the saw",
    codes: ["shape-impossible"],
    text: features(TURNING, `${SPLIT}\n        cleaning: ¦0.2`),
  },
  // readings
  {
    name: "a reading without its place",
    codes: ["quantity-unreadable"],
    text: beside("    as turned: [40.1 at 20, ¦40.2]"),
  },
  {
    name: "a reading at an odd place",
    codes: ["quantity-unreadable"],
    text: beside("    as turned: [40.1 at ¦the end]"),
  },
  {
    name: "readings with an unknown tool",
    codes: ["word-unknown"],
    text: beside("    as turned: {with: ¦thumb, readings: [40.1 at 20]}"),
  },
  { name: "no readings", codes: ["value-missing"], text: beside("    as turned: ¦[]") },
  {
    name: "two readings at one place",
    codes: ["place-twice"],
    text: beside("    as turned: [40.1 at 20, ¦40.3 at 20]"),
  },
  { name: "readings as a map", codes: ["kind-wrong"], text: beside("    as turned:\n      - ¦{at: 20}") },
  { name: "readings as one value", codes: ["kind-wrong"], text: beside("    as turned: ¦40.1 at 20") },
  // with the rest of a job
  {
    name: "a turned part on a board",
    codes: ["part-unknown"],
    text: `${part(`${BLANK}\n    features:\n${TURNING}`)}boards:
  offcut:
    blank: {wood: ash, length: 300, width: 90, thickness: 9}
    places:
      - {part: ¦pull, at: "10 from first end, 10 from lower edge"}
`,
  },
  {
    name: "a turned part called like a flat one",
    codes: ["name-twice"],
    text: part(
      `${BLANK}\n    features:\n${TURNING}\n  ¦Pull:\n    blank: {wood: ash, length: 9, width: 9, thickness: 9}`,
    ),
  },
];
