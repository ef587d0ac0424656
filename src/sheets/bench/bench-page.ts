import type { BenchPage, Block } from "./block.ts";
import { byHandSection } from "./by-hand-section.ts";
import { cautionSection } from "./caution-section.ts";
import { fitSections } from "./fit-section.ts";
import { foundBox } from "./found.ts";
import { laserSections } from "./laser-section.ts";
import { latheSections } from "./lathe-section.ts";
import { lengthWords } from "./length-words.ts";
import { orderSection } from "./order-section.ts";
import { setUpSections } from "./set-up-section.ts";
import { troubleSection } from "./trouble-section.ts";
import { woodSection } from "./wood-section.ts";
import type { BenchWork } from "./work.ts";

/** The page that is pinned above the bench, as blocks: the whole job in the order in which it is worked. */
export function benchPage(work: BenchWork): BenchPage {
  const say = lengthWords(work.job.unit);
  return {
    title: work.job.title,
    foot: `${work.job.file}, Tillwright ${work.report.tillwright}. Machine manuals, local rules and qualified people come before this page.`,
    blocks: [
      ...orderSection(work),
      ...earlyFindings(work),
      ...woodSection(work, say),
      ...fitSections(work, say),
      ...setUpSections(work, say),
      ...latheSections(work, say),
      ...laserSections(work, say),
      ...byHandSection(work),
      ...troubleSection(work),
      ...cautionSection(work),
    ],
  };
}

/** What was found that belongs to no program: in the measuring, the fit, the wood. */
function earlyFindings({ report }: BenchWork): readonly Block[] {
  const own = new Set(
    [...report.programs, ...report.turnings, ...report.beams].flatMap((p) => p.findings.map((f) => JSON.stringify(f))),
  );
  const held = new Set(report.heldBack.flatMap((h) => h.because));
  const rest = report.findings.filter((f) => !own.has(JSON.stringify(f)) && !held.has(f.code));
  return foundBox(rest, [], true);
}
