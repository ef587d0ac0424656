import type { Finding, Source } from "../finding.ts";
import type { FindingCode } from "../finding-codes.ts";
import type { YamlPath } from "./schema-shape.ts";

/** Which codes the findings about one kind of file carry, and what that file is called: "shop file". */
export interface YamlKind {
  readonly what: string;
  readonly notYaml: FindingCode;
  readonly unknownKey: FindingCode;
  readonly missing: FindingCode;
  readonly wrong: FindingCode;
  /** Reads a size in a file that breaks its schema elsewhere, so that all mistakes are told at once. */
  readonly size?: (
    raw: number | string,
    quantity: string,
    path: YamlPath,
    plain: unknown,
    at: Source,
  ) => readonly Finding[];
}
