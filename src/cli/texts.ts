import { dirname, resolve } from "node:path";
import type { Finding } from "../finding.ts";
import type { Texts } from "../pipeline.ts";
import { readerBelow, readText } from "./files.ts";
import { packagedPost } from "./packaged.ts";

/** Gathers the texts that a job needs from disk. Files that the job names are looked for in its own folder only. */
export function textsFor(
  jobPath: string,
  shopPath: string | undefined,
  progress?: (what: string) => void,
): { readonly texts: Texts } | { readonly findings: readonly Finding[] } {
  const job = readText(jobPath);
  const shop = shopPath === undefined ? undefined : readText(shopPath);
  const findings = [job, shop].flatMap((r) => (r !== undefined && "finding" in r ? [r.finding] : []));
  if ("finding" in job || (shop !== undefined && "finding" in shop)) return { findings };
  return {
    texts: {
      jobText: job.text,
      jobFile: jobPath,
      ...(shop === undefined ? {} : { shop: { text: shop.text, file: shopPath ?? "" } }),
      readText: readerBelow(dirname(resolve(jobPath))),
      postText: packagedPost,
      ...(progress === undefined ? {} : { progress }),
    },
  };
}
