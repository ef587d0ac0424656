/**
 * The library: text in, text and findings out. Nothing here touches a file, the clock or a terminal.
 */
export type { Finding, Grade, Limit, Measured, Outcome, Place, Source } from "./finding.ts";
export { printFinding, refuses } from "./finding.ts";
export { FINDING_CODES, type FindingCode } from "./finding-codes.ts";
export type { FitPlan } from "./fit/fit-plan.ts";
export { type Fitted, planFit } from "./fit/plan-fit.ts";
export { printParts } from "./fit/print-parts.ts";
export type { Job } from "./job/job.ts";
export { type NewFeature, type NewJobAnswers, writeJob } from "./job/new-job.ts";
export { readJob } from "./job/read-job.ts";
export { jobSchema } from "./job/schema.ts";
export { describeWorkpieces } from "./parts/describe.ts";
export type { Target } from "./parts/target.ts";
export { targetFor } from "./parts/target-for.ts";
export type { Cavity, Workpiece } from "./parts/workpiece.ts";
export { type Made, makeAll, type OutputFile, type Planned, type PrintFile, planAll, type Texts } from "./pipeline.ts";
export type { Operation } from "./plan/operation.ts";
export type { PlannedSetUp } from "./plan/plan-job.ts";
export type { SetUp } from "./plan/setup.ts";
export type { Post } from "./program/post.ts";
export { postSchema, readPost } from "./program/read-post.ts";
export { type SealState, verifySeal } from "./program/seal.ts";
export { type Proof, prove, proveSetUp } from "./proof/prove.ts";
export type { ReadOptions } from "./reader/options.ts";
export { readProgram } from "./reader/read.ts";
export type { ReadMove, ReadProgram } from "./reader/read-move.ts";
export { type Report, reportJsonSchema } from "./sheets/report.ts";
export { readShop } from "./shop/read-shop.ts";
export type { Shop } from "./shop/shop.ts";
export { shopSchema } from "./shop/shop-file.ts";
export { timeOf } from "./simulate/time.ts";
export { VERSION } from "./version.ts";
