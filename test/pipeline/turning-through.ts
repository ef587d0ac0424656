import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import type { TurnedPiece } from "../../src/parts/turned-piece.ts";
import { turningPaths } from "../../src/paths/turning/turning-path.ts";
import { planTurning } from "../../src/plan/turning.ts";
import type { TurningSetUp } from "../../src/plan/turning-setup.ts";
import { readPost } from "../../src/program/read-post.ts";
import { dryRunOfTurning, writeTurningPrograms } from "../../src/program/write-turning.ts";
import type { ProgramToProve } from "../../src/proof/proof.ts";
import { defaultLathes } from "../../src/shop/default-lathes.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import type { Lathe } from "../../src/shop/lathe.ts";
import type { Shop } from "../../src/shop/shop.ts";

/** A turned piece planned and written, with its rehearsal. */
export interface Turned {
  readonly setUp: TurningSetUp;
  readonly shop: Shop;
  readonly programs: readonly ProgramToProve[];
  readonly dryRuns: readonly ProgramToProve[];
}

/** The default lathes, one for each way of writing X. */
export const LATHES: readonly Lathe[] = defaultLathes();

/** From a piece to its programs on one of the default lathes; throws where anything refuses. */
export function turnedThrough(piece: TurnedPiece, lathe: Lathe): Turned {
  const shop: Shop = { ...DEFAULT_SHOP, lathes: [lathe] };
  const { setUp, operations } = given(planTurning(piece, shop));
  const paths = given(turningPaths(operations, setUp));
  const name = `${lathe.post.replace(" ", "-")}.yaml`;
  const post = given(readPost(readFileSync(resolve(import.meta.dirname, "../../post", name), "utf8"), name));
  const input = { setUp, paths, post, title: "Pulls", version: "0.0.0" };
  const texts = (list: readonly { readonly name: string; readonly text: string }[]) =>
    list.map((p) => ({ file: p.name, text: p.text }));
  return {
    setUp,
    shop,
    programs: texts(given(writeTurningPrograms(input))),
    dryRuns: texts(given(dryRunOfTurning(input))),
  };
}

function given<T>(
  outcome:
    | { readonly ok: true; readonly value: T }
    | { readonly ok: false; readonly findings: readonly { readonly code: string }[] },
): T {
  if (!outcome.ok) throw new Error(outcome.findings.map((f) => f.code).join(", "));
  return outcome.value;
}
