import { EXIT } from "./exit.ts";
import { sayError, sayJson } from "./say.ts";

/** Prints a JSON Schema, for editors and for programs. */
export async function schema(what: string): Promise<void> {
  switch (what) {
    case "job":
      sayJson((await import("../job/schema.ts")).jobSchema());
      return;
    case "shop":
      sayJson((await import("../shop/shop-file.ts")).shopSchema());
      return;
    case "post":
      sayJson((await import("../program/read-post.ts")).postSchema());
      return;
    case "report":
      sayJson((await import("../sheets/report.ts")).reportJsonSchema());
      return;
    default:
      sayError(`There is no schema of "${what.slice(0, 60)}". Ask for job, shop, post or report.`);
      process.exitCode = EXIT.wrongInput;
  }
}
