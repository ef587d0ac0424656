import * as z from "zod";
import { NO_NAMES } from "../units/names.ts";
import { dividerSchema } from "./dividers-read.ts";
import { caseSchema, drawersForEditors, openingSchema } from "./drawers-schema.ts";
import { copies, eachOf, FEATURE_KINDS, featureSchemas } from "./feature-schema.ts";
import { fitCardForEditors } from "./fit-card-read.ts";
import { withSpellings } from "./json-schema.ts";
import { angle, length, line, list, map, named, type Reading, word } from "./leaves.ts";
import { phrases } from "./phrases.ts";
import { stockForEditors } from "./stock.ts";
import { turnedFeature, turnedPartSchema } from "./turned-schema.ts";
import { wishKeys } from "./wishes-schema.ts";

/**
 * The job file, in YAML. All of its syntax:
 *
 *     title: Spice cabinet              # required
 *     units: mm                         # required, mm or in: what a bare number means; 3/4 in may stand anywhere
 *     shop: shop.yaml                   # optional: a file beside this one
 *     measured:                         # named sizes; formulas may use them: = case depth - 15
 *       case depth: 205
 *       drawers: 6 pieces               # "pieces" makes a plain number
 *       opening width: {with: calipers, mouth: 142.3, middle: 142.1, back: 142.4}
 *     front view:                       # optional: the drawers as they stand, row by row from the top
 *       - [cinnamon, cloves]
 *       - [cumin, cumin]                # a name twice: a drawer as wide (or high) as two; - where there is none
 *     parts:
 *       left side:                      # a name, used on every sheet
 *         blank: {wood: ash, length: = case depth - 15, height: 57, thickness: 9, grain: along length}
 *         copies: 2                     # 1 without it
 *         each: [cinnamon, cloves]      # what each copy is called, for its marks; the cutting stays the same
 *         mirrored as: right side       # its mirror image is made as well, under this name
 *         faces: {face: inside, back: outside, first end: front end, second end: back end}
 *         face side: inside             # US: reference face; face without it
 *         face edge: lower edge         # US: reference edge; lower edge without it
 *         planed afterwards: upper edge # nothing may be measured from it or cut in it
 *         features: ...
 *         held by: clamps               # and the other wishes, below
 *     boards:
 *       ash board:                      # several parts, or copies, cut from one board
 *         blank: {wood: ash, length: 600, width: 140, thickness: 9}
 *         places:
 *           - {part: left side, at: "10 from first end, 10 from lower edge", turned: 90}
 *     stock:                            # boards that lie in the shop, rough as they are: the cutting plan cuts from them
 *       cherry:
 *         - {length: 1200, width: 140, thickness: 20, count: 2}
 *     fit card:                         # grooves in small steps that find the fit of the real runner and bit
 *       wood: ash                       # an offcut of the drawer sides
 *       thickness: 9
 *       runner: 9.53                    # as measured
 *       depth: 3.5
 *       bit: 4 mm flat                  # the one that will cut the real grooves
 *       over: 0.25                      # middle groove over runner, step 0.05 and 9 grooves without saying
 *       sizes: burned                   # or cut: in figures too, beside the tallies; held by as for parts
 *       chosen: 9.83                    # later: the groove that fitted; the card is not made again, all follow
 *     override:
 *       a-finding's-code: the reason    # printed on every program
 *
 * **Sizes.** `12` · `19 mm` · `3/4 in` · `1 1/2"` · `1-1/2 in` · `6' 3"` · `30 deg`. A formula begins with `=` and has
 * + − × ÷ (also * and /), brackets, min, max, `round(x to 0.5 mm)`, `round up(...)`, `round down(...)`. A bare number
 * beside a length is in the file's unit; a ratio of lengths or a number of pieces is a plain number and is not added to
 * a length. A bare fraction is a length only in an inch file. Inside `{ }` a comma ends a value: write `;` in formulas.
 *
 * **Readings.** A measured size may have several readings by place, with `with: rule, tape, calipers or gauge`. A formula
 * sees the smallest, since what slides in must pass there; `use: largest` or `use: middle` says otherwise. Readings that
 * spread more than 3 mm or 2 % (whichever is less, but never under 0.5 mm) are refused as a slip; override
 * `readings-spread` when the wood is really like that.
 *
 * **Faces.** A board has a face and a back, a lower and an upper edge, a first and a second end: seen with the face up,
 * the first end is at the left and the lower edge nearest. `faces` gives own names, which then may stand for them.
 *
 * **Places.** They say what they reach and from where: `centre at: 120 from front end, 28.5 from lower edge`,
 * `near edge at: 8 from lower edge` (to the feature's nearer edge), `far edge at:` (to its farther edge). The two
 * distances may stand under different keys, and may be a map: `{from front end: 120, from lower edge: 28.5}`.
 *
 * **Features.** Each begins with a dash, its kind and a name.
 *
 *     - groove: runner
 *       on: outside                     # the face without it
 *       from: lower edge                # it runs along this edge
 *       bearing wall: upper edge        # the wall towards this edge carries; a runner's groove must say it
 *       bearing wall at: 24             # or near edge at / far edge at / centre at
 *       width: = runner width + 0.4
 *       depth: 3.5                      # or: through
 *       stops: 12 from front end        # to its farthest point; a list, or {12 from: front end}
 *       ends: round                     # or square, with "inside radius"
 *     - groove: slanted                 # between two points of its centre line
 *       start at: 20 from first end, 15 from lower edge
 *       end at: 80 from first end, 30 from lower edge
 *     - rabbet: back                    # British: rebate
 *       along: upper edge
 *       width: 6
 *       depth: 4
 *     - mortise: divider                # British: mortice
 *       length: 30
 *       width: 6
 *       depth: 12
 *       centre at: ...
 *       turned: 90 deg
 *     - recess: finger room
 *       shape: slot                     # circle (diameter), oval, rounded rectangle (corner radius), drawing
 *       length: 40
 *       width: 14
 *       centre at: ...
 *       depth: 8
 *       wall: sloped 12 deg             # straight without it
 *       floor: dished 3                 # flat without it: this much deeper in the middle
 *       radius at floor: 3.2            # between wall and floor; wants a round-nosed bit
 *       edge: eased 1.5                 # sharp without it
 *       inside radius: 3                # largest that may stay in its corners
 *     - recess: leaf
 *       shape: drawing
 *       drawing: leaf.svg               # with id: or class: where the drawing holds more than one path
 *       placed: as drawn                # centred without it
 *     - hole: screw holes
 *       screw: no 6                     # or diameter:
 *       depth: through
 *       centre at: 20 from front end, 28 from lower edge
 *       row: 4 at 32 towards back end   # or grid: {columns: ..., rows: ...}, or centres at: a list
 *       countersunk for: no 6           # or countersunk: {head diameter, angle}, counterbored: {diameter, depth}
 *     - outline: shape
 *       side: outside                   # inside: an opening, with a shape and a place
 *       corners: rounded 6              # sharp without it
 *       hold by: 3 tabs, 6 wide, 1.5 high   # or skin 0.5, or nothing
 *
 *
 * **Maker's marks** are features too, on flat parts and on turned ones.
 *
 *     - mark: signed
 *       on: inside
 *       text: ["{drawer}", "made {date}"]   # one line or a list; also {name}, {row}, {column}, {count}, {serial}; {{ is a brace
 *       letters: script                 # upright, script (single lines); book (outlines); or a font beside the job: garamond.ttf
 *       cap height: 5                   # or width: 40, for the longest line to fill
 *       align: centre                   # left, right; letter spacing and line spacing are in cap heights
 *       on arc: {radius: 40, middle at: 90 deg, tops: outwards}   # its place is then the centre of the circle
 *       date: 25 November 2026          # or today, this month, this year
 *       serial: from 12                 # or a list, one for each copy
 *       centre at: middle, 45 from lower edge   # or distances, as everywhere
 *       made by: burned line
 *       effect: dark line               # as the shop file calls it
 *     - mark: place
 *       pictogram: own                  # the front view with each copy's own drawer filled; or a drawer's name;
 *                                       # or a map: {rows, columns, joined: row 1 column 1 to row 1 column 2, filled: row 2 column 1}
 *       width: 24
 *     - mark: leaf                      # drawing: leaf.svg, with id, class, width, placed: as drawn
 *     - mark: oak                       # picture: oak.png, with width, tones: error spread, wide error spread, ordered
 *     - mark: name                      # signature: name.jpg, with width, drawn as: pen strokes or outline
 *     - mark: line                      # start at: ... and end at: ...
 *
 * `made by`: burned line · burned area (angle, ways: one or two, outline last) · burned picture · burned through (keep:
 * outside or inside) · cut line (depth, bit) · v-groove (deepest, bit). On a turned part a mark has `centre at: 95 from
 * first end` and `around: 90 deg` (from the crown; a list marks several sides: [90, 270] are the show faces of the halves),
 * reads along the axis with the first end at its left, and may be a guide line: `along: split line` (from end to end, or
 * from `start at` to `end at`; ends: yes draws it across the ends too), or `start at`, `end at` and `around`.
 *
 * Any of them takes `bit: name`. **Wishes** of a part or board: `machine`, `held by` (tape, vacuum, clamps, screws),
 * `clamps: {name: {centre at, covers: 40 by 25, height}}`, `screws: {at, screw or head diameter, head height}`,
 * `zero: left front corner, top`, `turned: 90`, `turn over: end for end`, `waste board: 12`.
 *
 * **Turned parts.** A part is turned when its blank says `square` or `diameter`. Lengths run from the first end; with the
 * crown (0°) up and the first end at the left, 90° is the upper edge, away from you.
 *
 *     drawer pull:
 *       blank: {wood: cherry, length: 190, square: 60}      # or diameter: 60, round already
 *       turned by: hand                 # machine without it
 *       square ends: 22                 # left square until the split; or {first end: 22, second end: 15},
 *                                       # or: ends already round
 *       zero spot: notch at the first end
 *       as turned: {with: calipers, error: 0.05, readings: [46.1 at 34, 52.2 at 95]}   # replaces the plan
 *       held by: jaws                   # or cradles; jaws and cradles may be placed: {left: {at, grips, thickness, height}},
 *                                       # {left: {at, carries, seat, caul height}}
 *       features:
 *         - turning: profile
 *           half profile: yes           # the list reaches the middle, the rest mirrors it
 *           pulls: 2                    # several in one turning, with "parting: 6" between them
 *           waste at ends: 5            # or 1 share; "waste diameter" where it is not the lesser neighbour's
 *           elements:                   # from the first end; each {...} may stand on lines of its own, and have a "name"
 *             - tenon: {length: 12, diameter: 10}           # so are cylinder, and fillet, a short flat
 *             - bead: {length: 8, diameter: 30}             # its greatest; half round without "from" and "to"
 *             - cove: {length: 10, diameter: 16, from: 30, to: 24}   # its least, at the waist
 *             - taper: {length: 1 share, to: 18}            # shares divide what the fixed lengths leave
 *             - ogee: {length: 12, to: 3/4 of blank}        # ends: upright, or level without it
 *             - vee: {length: 3, diameter: 20, depth: 1.2}  # or bottom; a right angle without both
 *             - round-over: {radius: 5, from: 30}           # a quarter round from its thicker end; or length
 *             - path: {drawing: pull.svg, id: profile}      # open; its axis is the page's lower edge
 *         - recess: finger room
 *           cut: down the crown         # or: into the flat back (of the halves)
 *           width: 58                   # along the axis; or all three by "fingers: 3" and "hand: medium"
 *           room behind: 16             # from drawer front to lip, after split and truing
 *           hook: 11                    # how far a finger reaches past the lip
 *           shape: slot                 # or rounded rectangle, with "corner radius"
 *           centre at: 95 from first end     # the pull's middle without it
 *           opens over: crown side      # into the flat back: where fingers come in; or far side, nothing
 *           wall: sloped 6 deg
 *           floor: dished 1.5
 *           inside radius: 3
 *           lip: eased 1.5              # so without it; or sharp
 *           least wall: 3
 *           least lip angle: 40 deg
 *         - split: halves
 *           by: saw                     # with kerf, wander (0.5), truing (0.5 a half); or paper joint, with cleaning (0.2)
 *           kerf: 1.2
 *
 * Diameters that an element doesn't say are its neighbours'. Where two unlike ones meet there is a shoulder.
 *
 * **A case of drawers.** Openings as measured, and what the drawers are to be; their parts are written out beside the job's
 * own, and `parts` may be left away. What is left out is printed with the value that is used. Behind it: what may stand.
 *
 *     case:
 *       wood: cherry
 *       side thickness: 15
 *       side grain: upright             # or: mouth to back
 *       sawn: flat                      # or: quarter; so for every wood below
 *       back thickness: 6
 *       divider thickness: 12           # where openings stand side by side
 *       columns: 2                      # openings are listed in rows from the top, each from the left
 *       measured with: calipers         # or "with" at an opening
 *       finish: two coats of shellac    # on faces in gaps: so many coats, oil, wax, bare, or its thickness: 0.03
 *       seasons: {dry: 20 C at 35 %, wet: 75 F at 70 %}
 *       moisture today: 8 % by meter    # or: 3 weeks at 20 C and 45 %; a guess without it
 *       openings:
 *         top left:                     # one size, or readings by place
 *           width: {mouth: 142.3, middle: 142.1, back: 142.4}    # and mouth top, mouth bottom
 *           height: {left: 58.6, middle: 58.4, right: 58.5}      # and back
 *           depth: 205
 *           diagonals: {rising: 153.8, falling: 153.9}           # from lower left; from upper left
 *           wind: 0.2                   # one corner out of the plane of the others
 *         top right: {width: 142, height: 58.5, depth: 205}
 *     drawers:
 *       fronts: {wood: cherry, thickness: 14, as planed: 13.9, set: inset, from one board: row}   # column, no
 *                                       # or: {..., set: lipped, lip: {over: 6, thickness: 5}}
 *       sides: {wood: ash, thickness: 9, alike: row}             # all: as the least opening asks; no: each its own
 *       backs: {wood: ash, thickness: 8}                         # as the sides without it
 *       bottoms: {wood: plywood, thickness: 4, kind: panel, in: grooves, groove at: 6, groove depth: 3, groove clearance: 0.2}
 *                                       # with "marks:" below, a list of maker's marks: {drawer} and pictogram: own are each opening's
 *                                       # kind: solid; in: slips, with slip: {width: 9, tall: 14}
 *       runners: {wood: hard maple, tall: 11, thickness: 4, kind: side-hung, let in: 0, nose: round}
 *                                       # kind: below; tall as planed, bearing wall at, clearance, free depth,
 *                                       # groove stops, screw, screw length, screws
 *       front joint: half-blind         # through, rabbet, butt; or {kind: half-blind, lap: 4, proud: 0.3, tails: 2}
 *       back joint: through             # half-blind, housing, rabbet, butt; or {kind: housing, depth: 3, behind: 8}
 *       reveal: 0.6                     # stays around a front in the wet month
 *       side clearance: 0.4             # stays on each side of the box
 *       back clearance: 2               # beyond what the case shrinks
 *       leave for fitting: 0.5          # on each edge of a front
 *       clean up after glue: 0.3        # off each outer face of the sides; grooves are so much deeper
 *       rough: {length: 6, width: 1.5, thickness: 3, kerf: 1.5}
 *       pulls: knob                     # a turned part of this job
 *       held by: tape                   # or: vacuum
 *       between runners:                # the second measuring, when they are in; no runner groove is cut before
 *         top left: {mouth: 133.8, back: 134.1}
 *
 * **Dividers** lie between two boards of the case, on loose tenons. Their mortises are cut into the board named and into
 * its mirror image; its lower edge is its front edge.
 *
 *     dividers:
 *       door rail:
 *         wood: cherry
 *         length: 302                   # between the two boards
 *         depth: 190
 *         thickness: 15
 *         at: 72                        # case board's first end to the middle of the divider's thickness
 *         into: case side               # a part of this job
 *         set back: 2                   # flush in front without it
 *         mortise width: 6              # planned without it: a third of the thickness, by a bit of the shop
 *         ends: by hand                 # or: by machine
 *
 * British and American spellings are both read, keys in any case; unknown keys are refused.
 */
export function jobSchema(): object {
  const r: Reading = { unit: "mm", unitKnown: true, names: NO_NAMES };
  const features = featureSchemas(r);
  const feature = z.union(FEATURE_KINDS.map((k) => features[k]()));
  const whole = map(
    {
      ...headKeys(),
      measured: named(measurementSchema(r), "").meta({ description: "Named sizes, each as measured." }).optional(),
      "front view": frontViewSchema().optional(),
      parts: named(z.union([partSchema(r, feature), turnedPartSchema(r, turnedFeature(r))]), "")
        .meta({ description: "The parts, each under its name; a job with drawers needs none." })
        .optional(),
      boards: named(boardSchema(r), "").meta({ description: "Boards that several parts are cut from." }).optional(),
      case: caseSchema(r, openingSchema(r)).meta({ description: "A case for drawers, as measured." }).optional(),
      dividers: named(dividerSchema(r), "")
        .meta({ description: "Dividers between two boards of the case, on loose tenons." })
        .optional(),
      drawers: drawersForEditors(r).meta({ description: "What the drawers of the case are to be." }).optional(),
      "fit card": fitCardForEditors(r).optional(),
      stock: stockForEditors(r).optional(),
      override: overrideSchema().optional(),
    },
    "",
  );
  const schema = z.toJSONSchema(whole, { io: "input", target: "draft-2020-12" });
  return { $id: "tillwright-job", title: "A Tillwright job file", ...withSpellings(schema) };
}

/**
 * The schema of a whole file, as deep as its sections: they are read one by one, so that no mistake hides another.
 * @param drawers the file describes drawers or a fit card, and so needs no parts of its own
 */
export function rootSchema(drawers: boolean) {
  const parts = named(
    z.any(),
    'write each part\'s name on its own line with a colon, and below it "blank:" and "features:"',
  );
  return map(
    {
      ...headKeys(),
      measured: named(z.any(), 'write each size on its own line: "case depth: 205"').optional(),
      "front view": z.any().optional(),
      parts: drawers ? parts.optional() : parts,
      boards: named(z.any(), "write each board's name on its own line with a colon").optional(),
      case: z.any().optional(),
      dividers: named(z.any(), "write each divider's name on its own line with a colon").optional(),
      drawers: z.any().optional(),
      "fit card": z.any().optional(),
      stock: z.any().optional(),
      override: overrideSchema().optional(),
    },
    'begin with "title:", "units:" and "parts:"',
  );
}

/** The cabinet's drawers as they stand; read by `readFrontView`, which knows the lines. */
function frontViewSchema() {
  return z.array(z.union([z.string(), z.array(z.union([z.string(), z.number(), z.null()]))])).meta({
    description:
      "The cabinet's drawers seen from the front, a line for each row from the top: names, one repeated where a drawer is wider or higher, - where there is none.",
    examples: [
      [
        ["cinnamon", "cloves"],
        ["cumin", "cumin"],
      ],
    ],
  });
}

function headKeys() {
  return {
    title: line("What this job is; printed on every sheet.", "title: Spice cabinet, six drawers"),
    units: unitWord(),
    shop: line(
      "The shop file, beside this one: machines, bits, woods. Without it, built-in values are used and marked.",
      "shop: shop.yaml",
    ).optional(),
  };
}

/** The file's unit. */
export function unitWord() {
  return word(
    {
      mm: ["millimetres", "millimeters", "millimetre", "millimeter", "metric"],
      in: ["inch", "inches", '"', "imperial"],
    },
    "What a bare number means: is 6 six millimetres or six inches?",
    "units: mm",
  );
}

/** A named size with readings. A single value is read without a schema. */
export function readingsSchema() {
  return map(
    {
      with: word(
        { rule: ["ruler"], tape: ["tape measure"], calipers: ["calliper", "caliper", "callipers"], gauge: ["gage"] },
        "What it was measured with.",
        "with: calipers",
      ).optional(),
      use: word(
        { smallest: ["least"], largest: ["most"], middle: ["mean", "average"] },
        "Which reading formulas see; the smallest without it.",
        "use: smallest",
      ).optional(),
    },
    "",
  );
}

function measurementSchema(r: Reading) {
  const reading = length(r, "A reading.", "mouth: 142.3");
  const readings = z
    .object({
      with: z
        .enum(["rule", "tape", "calipers", "gauge"])
        .meta({ description: "What it was measured with." })
        .optional(),
      use: z
        .enum(["smallest", "largest", "middle"])
        .meta({ description: "Which reading formulas see; the smallest without it." })
        .optional(),
    })
    .catchall(reading);
  return z.union([reading, readings, z.array(reading)]);
}

/** A part, given how its features are read. */
export function partSchema<F extends z.ZodType>(r: Reading, feature: F) {
  return map(
    {
      blank: blankSchema(r),
      copies: copies(r).optional(),
      each: eachOf().optional(),
      "mirrored as": line("Name of its mirror image, which is made as well.", "mirrored as: right side").optional(),
      faces: map(
        {
          face: line("What the face is called here.", "face: inside").optional(),
          back: line("What the back is called here.", "back: outside").optional(),
          "lower edge": line("What the lower edge is called here.", "lower edge: bottom edge").optional(),
          "upper edge": line("What the upper edge is called here.", "upper edge: top edge").optional(),
          "first end": line("What the first end is called here.", "first end: front end").optional(),
          "second end": line("What the second end is called here.", "second end: back end").optional(),
        },
        "write own names for the faces: {face: inside, back: outside, first end: front end}",
      ).optional(),
      "face side": line(
        "The face side (US: reference face): face or back, or its own name.",
        "face side: inside",
      ).optional(),
      "face edge": line("The face edge (US: reference edge).", "face edge: lower edge").optional(),
      "planed afterwards": z
        .union([z.string(), z.array(z.string())])
        .meta({
          description:
            "Faces, edges or ends that are planed, sawn or trued later: nothing is measured from them or cut in them.",
        })
        .optional(),
      features: list(feature, 'begin each feature with a dash: "- groove: runner"')
        .meta({ description: "What is cut in it." })
        .optional(),
      ...wishKeys(r),
    },
    'write "blank:" and "features:" below the part\'s name',
  );
}

function blankSchema(r: Reading) {
  return map(
    {
      wood: line("The wood, as in the shop file or the list of woods.", "wood: ash"),
      length: length(r, "Length, along the part.", "length: 190"),
      width: length(r, 'Width across; "height" is read as well.', "width: 57"),
      thickness: length(r, "Thickness.", "thickness: 9"),
      grain: word(
        {
          "along length": ["lengthwise", "long", "along the length"],
          "along width": ["crosswise", "cross", "along the width", "across"],
          none: ["no", "no grain"],
        },
        "Which way the grain runs; along length without it.",
        "grain: along length",
      ).optional(),
    },
    "write what it is made from: {wood: ash, length: 190, width: 57, thickness: 9}",
  );
}

/** A board with the places of parts on it. */
export function boardSchema(r: Reading) {
  return map(
    {
      blank: blankSchema(r),
      places: list(
        map(
          {
            part: line("The part cut here, by its name or its mirror image's.", "part: left side"),
            at: phrases(
              r,
              "Where the part's lower first corner lies on the board.",
              "at: 10 from first end, 12 from lower edge",
              "any",
            ),
            turned: angle(
              r,
              "Turned counter-clockwise about that corner, seen on the board's face.",
              "turned: 90",
            ).optional(),
          },
          'write "- part: left side" and below it "at:"',
        ),
        'begin each place with a dash: "- part: left side"',
      ),
      ...wishKeys(r),
    },
    'write "blank:" and "places:" below the board\'s name',
  );
}

function overrideSchema() {
  return named(
    line("Why it is right all the same.", "because it is glued later"),
    "write the finding's code, a colon and the reason",
  ).meta({
    description: "Findings to let through, each by its code with the reason. Some cannot be.",
  });
}
