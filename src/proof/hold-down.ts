import type { Finding } from "../finding.ts";
import type { TargetCavity } from "../parts/target.ts";
import type { Point } from "../shapes/point.ts";
import { boundsOfRegion, containsPoint } from "../shapes/region.ts";
import { HABIT_WORDS } from "../shop/default-shop.ts";
import { heldBy, holdOf } from "../simulate/held.ts";
import { jointArea } from "../simulate/joint.ts";
import { loosePieces } from "../simulate/pieces.ts";
import { thinnestWeb } from "../simulate/webs.ts";
import { centreOf } from "../simulate/wood.ts";
import type { Case, Figure, Measures } from "./proof.ts";
import { lineOf, mm, placeIn, placeOfCavity } from "./say.ts";

/** Loose bits of wood smaller than this are splinters: said, not refused. mm². Common practice, no source. */
const SPLINTER = 4;

/** Pieces that a program cuts free while nothing holds them. */
export function looseFindings(c: Case): readonly Finding[] {
  const { after, history } = c.simulation;
  // From a whole blank nothing comes loose before some column is cut through.
  if (c.setUp.earlier.length === 0 && !history.emptiedBy.some((move) => move >= 0)) return [];
  const held = heldBy(c.setUp.holding, c.setUp.habits.leastHold);
  return loosePieces(after, history, held).map((p): Finding => {
    const at = { ...p.at, z: c.setUp.blank.max.z };
    const splinter = p.area < SPLINTER;
    return {
      grade: splinter ? "caution" : "refuse",
      code: "proof-loose-piece",
      place: { ...placeIn(c.setUp, at), ...(p.line === undefined ? {} : lineOf(c, p.line)) },
      what: p.line === undefined ? "a piece of wood is not held from the start" : "a piece of wood is cut loose here",
      why: "a loose piece is caught by the bit and thrown",
      mend: "leave tabs or a skin, or hold the wood all over its underside",
      measured: { value: p.area, bound: c.simulation.after.grid.cell ** 2, unit: "mm²" },
    };
  });
}

/** How strongly finished pieces hang on what is held, after all programs of the set-up. */
export function holdMeasures(last: Case): Measures {
  const { setUp, simulation } = last;
  // Tape or vacuum under the piece itself holds it; `looseFindings` sees that enough of it lies there.
  if (setUp.holding.kind === "underside") return { findings: [], figures: {} };
  const findings: Finding[] = [];
  const areas: Figure[] = [];
  const held = heldBy(setUp.holding, setUp.habits.leastHold);
  const enough = setUp.habits.leastHold;
  for (const cavity of setUp.target.cavities) {
    const { profile } = cavity;
    if (profile === undefined || cavity.cavity.shape.kind !== "outline") continue;
    const wood = simulation.after;
    const box = boundsOfRegion(profile);
    const inPiece = (column: number): boolean => {
      const p = centreOf(wood.grid, column);
      if (box === undefined || p.x < box.min.x || p.y < box.min.y || p.x > box.max.x || p.y > box.max.y) return false;
      return containsPoint(profile, p);
    };
    const joint = jointArea(wood, inPiece, (column) => holdOf(wood, held, column) === 1, enough);
    if (Number.isFinite(joint.area)) areas.push({ value: joint.area, bound: 0, unit: "mm²" });
    if (joint.area >= enough || joint.enough) continue;
    findings.push(thinHold(cavity, joint.area, enough));
  }
  const least = areas.sort((a, b) => a.value - b.value)[0];
  return { findings, figures: least === undefined ? {} : { "least hold": least } };
}

function thinHold(cavity: TargetCavity, area: number, enough: number): Finding {
  return {
    grade: "refuse",
    code: "proof-hold-thin",
    place: placeOfCavity(cavity),
    what: "too little wood joins the piece to what is held",
    why: "the last cuts would tear it out",
    mend: "use more, wider or higher tabs, or a thicker skin",
    measured: { value: area, bound: 0, unit: "mm²" },
    limit: { value: enough, unit: "mm²", from: "the shop's least hold" },
  };
}

/** Whether wood at a place belongs to a finished part: not waste beside an outline or inside an opening. */
function isPartsWood(cavities: readonly TargetCavity[], p: Point): boolean {
  const profiles = (side: "outside" | "inside") =>
    cavities.flatMap((c) =>
      c.cavity.shape.kind === "outline" && c.cavity.shape.side === side && c.profile !== undefined ? [c.profile] : [],
    );
  const parts = profiles("outside");
  if (parts.length > 0 && !parts.some((profile) => containsPoint(profile, p))) return false;
  return !profiles("inside").some((profile) => containsPoint(profile, p));
}

/** The thinnest wood between cuts from different faces, after all programs of the set-up. */
export function webMeasures(last: Case): Measures {
  const { setUp, simulation, shop } = last;
  const web = thinnestWeb(simulation.after, (p) => isPartsWood(setUp.target.cavities, p));
  if (web === undefined) return { findings: [], figures: {} };
  const at = { ...web.at, z: setUp.blank.max.z };
  const figure: Figure = { value: web.thickness, bound: web.bound, unit: "mm", at };
  const least = setUp.habits.leastWeb;
  if (web.thickness >= least) return { findings: [], figures: { "least web": figure } };
  const through = web.thickness <= 0;
  const own = !shop.defaultsUsed.some((d) => d.startsWith(`habit "${HABIT_WORDS.leastWeb}"`));
  return {
    findings: [
      {
        // Only a least web that the user has set is a limit; the built-in one is common practice.
        grade: through || own ? "refuse" : "caution",
        code: through ? "proof-broke-through" : "proof-web-thin",
        place: placeIn(setUp, at),
        what: through
          ? "a cut breaks through into what was cut from another face"
          : `only ${mm(web.thickness)} of wood stays between cuts from two faces`,
        why: "thin wood breaks out while it is cut",
        mend: "make one of the two cuts shallower, or move it",
        measured: { value: web.thickness, bound: web.bound, unit: "mm" },
        limit: {
          value: least,
          unit: "mm",
          from: own ? "the shop file's least web" : "built-in least web: common practice, no source",
        },
      },
    ],
    figures: { "least web": figure },
  };
}
