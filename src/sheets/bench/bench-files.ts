import { benchPage } from "./bench-page.ts";
import { benchPdf } from "./bench-pdf.ts";
import { benchHtml } from "./html.ts";
import type { BenchWork } from "./work.ts";

/** The bench page as it is handed out: one HTML file, and a PDF for each paper. */
export interface BenchFiles {
  readonly html: string;
  readonly prints: readonly { readonly name: string; readonly bytes: Uint8Array }[];
}

/** Renders the bench page of a job. Same work, same bytes. */
export function benchFiles(work: BenchWork): BenchFiles {
  const page = benchPage(work);
  return {
    html: benchHtml(page),
    prints: (["A4", "Letter"] as const).map((paper) => ({
      name: `bench-${paper.toLowerCase()}.pdf`,
      bytes: benchPdf(page, paper),
    })),
  };
}
