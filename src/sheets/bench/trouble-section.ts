import type { Block } from "./block.ts";
import type { BenchWork } from "./work.ts";

/**
 * What to do when it goes wrong, in the fewest words that are still right. Common practice of the trade, no source; the
 * machine's manual decides what may be done at the machine.
 */
export function troubleSection({ report, fit }: BenchWork): readonly Block[] {
  const router = report.programs.length > 0;
  const beam = report.beams.length > 0;
  const cases: readonly (readonly [string, readonly string[]])[] = [
    ...(fit?.drawers.some((d) => d.runner.kind === "side-hung") ? HUNG : []),
    ...(fit?.drawers.some((d) => d.runner.kind === "below") ? BELOW : []),
    ...(fit === undefined ? [] : BINDING),
    ...(router ? [...GROOVES, ...ROUTER] : []),
    ...(report.turnings.length > 0 ? LATHE : []),
    ...(beam ? LASER : []),
    ...(router || beam || report.turnings.length > 0 ? POWER : []),
  ];
  if (cases.length === 0) return [];
  return [
    { kind: "heading", level: 1, text: "When it goes wrong" },
    ...cases.flatMap(([head, items]): readonly Block[] => [
      { kind: "heading", level: 3, text: head },
      { kind: "list", items },
    ]),
  ];
}

type Case = readonly [string, readonly string[]];

const HUNG: readonly Case[] = [
  [
    "The drawer sits low, or its front rubs below",
    [
      "Is the nose of the runner fully in its groove, and no chip on the runner? Look there first.",
      "A hung drawer rests on the top wall of its groove. Glue a veneer or a shaving onto the runner's upper face and plane it to fit; never fill the groove.",
      "Low on one side only: loosen that runner's screws in their slots, put a card beneath it, tighten again.",
    ],
  ],
  [
    "The drawer sits high",
    ["Plane the runner's upper face, a shaving at a time, along its whole length. Try it after each."],
  ],
  [
    "The groove is too tight for the runner",
    [
      "Plane the runner, not the groove: a shaving off the lower face, which carries nothing.",
      "Too tight in scrap already: measure the bit's real diameter and the runner as planed, write both down, and make the programs again. The fit card finds the size that slides.",
    ],
  ],
];

const BELOW: readonly Case[] = [
  [
    "The drawer sits low, or its front rubs below",
    [
      "No chip on the runner, and the runner flush with the rail in front? Look there first.",
      "Glue a veneer or a shaving onto the runner and plane it to fit. Low on one side only: that side's runner.",
    ],
  ],
  [
    "It tips down when it is pulled out, or rubs above",
    ["Tips: the kicker is too high; glue a strip beneath it. Rubs: plane the kicker, a shaving at a time."],
  ],
];

const BINDING: readonly Case[] = [
  [
    "It rubs or binds",
    [
      "Find where: chalk the runners and the case, slide it once, look at the marks.",
      "Binds all along: too wide for what it runs between; take shavings off the outer faces of the sides, or off the runners' inner faces where it hangs on them. Binds at the back only: measure across there again.",
      "It may only be damp: weigh what you plane off now against the dry month's gap on the fit page.",
      "Wax it before you plane it.",
    ],
  ],
];

const GROOVES: readonly Case[] = [
  [
    "A cut is too shallow, too narrow, or in the wrong place",
    [
      "Before the wood is moved: measure, note what was found, and find out why: zero, the bit's diameter, the stick-out, chips beneath the wood.",
      "Too shallow: the same program can run again only while nothing was moved, with Z zero lowered by what is missing. Too deep or too wide cannot be cut back: glue in a slip of the same wood with its grain along, and cut anew.",
    ],
  ],
];

const ROUTER: readonly Case[] = [
  [
    "The bit has pulled out of its collet",
    [
      "A cut that grows deeper as it goes, or a bit that looks longer: stop at once, spindle off, wait until it stands.",
      "Don't just push it back. Clean collet, nut and shank of dust and resin; look for scores; a worn collet is thrown away. Shank in by at least its grip length, not bottomed; tighten as the manual says.",
      "Measure the stick-out, find Z zero again, run dry, then go on at the numbered line of the step that was cut.",
    ],
  ],
  [
    "The wood has moved, or a clamp let go",
    [
      "Stop. Don't hold it by hand. Nothing that was zero is zero any more.",
      "Hold it better, find zero again by a finished cut, check the witness marks, and rehearse with the dry run before cutting on.",
    ],
  ],
  [
    "It burns, screams or chatters",
    [
      "Stop. A blunt bit, a slipping one, chips that stay in the cut, or the dial at another number than the page says.",
      "Smoke or a smell of burning in the extraction: switch the extraction off, and look into the bag and the bin, where embers sleep for hours.",
    ],
  ],
];

const LATHE: readonly Case[] = [
  [
    "The work catches, wobbles or cracks",
    [
      "Lathe off, and step out of its line. Don't touch it until it stands.",
      "A crack, a loose knot or a split tenon: that blank is firewood. Never glue it up and turn on.",
    ],
  ],
];

const LASER: readonly Case[] = [
  [
    "A flame that stays, or too much smoke",
    [
      "Stop the beam, extraction off, smother it; the extinguisher if it doesn't go out at once. Leave and call for help if it spreads.",
      "Afterwards keep looking, at 30 and at 60 minutes: wood glows on inside.",
    ],
  ],
  [
    "The mark is too pale or too dark",
    [
      "Too pale: the same program again, if nothing was moved. Too dark cannot be undone: sand it out and make it anew. Try the setting on the test card first.",
    ],
  ],
];

const POWER: readonly Case[] = [
  [
    "The power was cut, or the program was stopped half-way",
    [
      "Switch the spindle or beam off at the machine before the power comes back.",
      "The machine no longer knows where it is. Lift Z by hand clear of the wood, home it if it can, find X, Y and Z zero again, check the witness marks.",
      "Start again only at a numbered line where a step begins (N10, N20, ... in the tables above): there the program says everything anew. Whether your machine can start in the middle, and how, its manual decides. If in doubt, run the whole program again: over cuts already made it cuts air.",
      "Never start in the middle of a step.",
    ],
  ],
];
