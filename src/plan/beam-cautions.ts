import { tidy } from "../finding.ts";
import type { BeamSetUp } from "./beam-setup.ts";

/**
 * What everyone at the bench must know before a beam burns: printed in every beam program's header and on its sheet.
 * Sources: universities' laser rules (MIT EHS, UW-Madison EHS, Iowa State: attendance, extinguisher, materials, exhaust off in
 * a fire), IEC 60825-1 (a beam that burns wood is class 3B or 4; from public summaries); else common practice, no source.
 */
export function beamCautions({ laser, keepOuts, workpiece }: BeamSetUp): readonly string[] {
  const clamps = keepOuts.length > 0 ? "matt, dark clamps and screws only" : "nothing shiny";
  return [
    `Laser ${tidy(laser.wavelength)} nm, ${tidy(laser.ratedPower)} W: eyewear for ${tidy(laser.wavelength)} nm on everyone in the room, door shut. Even light scattered from the wood harms eyes; glasses for another wavelength do not stop it.`,
    `Fire: vacuum all chips and change from chip extraction to smoke extraction before burning after routing. Never leave it alone; extinguisher in reach; in a fire, extraction off. Look again after 30 and 60 minutes.`,
    `Under the beam ${clamps}: it mirrors.`,
    "Fumes: extraction running to the outside, from the first line until the smoke is gone.",
    "Never burn PVC, vinyl, other chlorinated or fluorinated plastics, polycarbonate, ABS, unknown films, or leather tanned with chrome.",
    `${workpiece.wood}: bare wood only. An unknown finish, paint or film is not burned.`,
    "Sand to the last grit before burning: sanding afterwards takes the mark and smears its char.",
    "Char does not glue: keep marks off joint faces, or scrape them clean.",
  ];
}
