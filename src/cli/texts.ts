import { dirname, resolve } from "node:path";
import type { Finding } from "../finding.ts";
import type { Texts } from "../pipeline.ts";
import { bytesBelow, readerBelow, readText } from "./files.ts";
import { bookFont, packagedPost } from "./packaged.ts";

/** Gathers the texts that a job needs from disk. Files that the job names are looked for in its own folder only. */
export function textsFor(
  jobPath: string,
  shopPath: string | undefined,
  progress?: (what: string) => void,
  date?: string,
): { readonly texts: Texts } | { readonly findings: readonly Finding[] } {
  if (date !== undefined && !/^\d{4}-\d{2}-\d{2}$/.test(date)) return { findings: [noDate(date)] };
  const job = readText(jobPath);
  const shop = shopPath === undefined ? undefined : readText(shopPath);
  const findings = [job, shop].flatMap((r) => (r !== undefined && "finding" in r ? [r.finding] : []));
  if ("finding" in job || (shop !== undefined && "finding" in shop)) return { findings };
  const folder = dirname(resolve(jobPath));
  return {
    texts: {
      jobText: job.text,
      jobFile: jobPath,
      ...(shop === undefined ? {} : { shop: { text: shop.text, file: shopPath ?? "" } }),
      readText: readerBelow(folder),
      readBytes: bytesBelow(folder),
      bookFont,
      today: date ?? todayHere(),
      postText: packagedPost,
      ...(progress === undefined ? {} : { progress }),
    },
  };
}

function noDate(said: string): Finding {
  const mend = "write it as year, month and day: --date 2026-11-25";
  return { grade: "refuse", code: "number-form", place: {}, what: `"${said.slice(0, 40)}" is not a date`, mend };
}

/** Today by this machine's clock and time zone, as 2026-11-25. */
function todayHere(): string {
  const now = new Date();
  const two = (n: number): string => String(n).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
