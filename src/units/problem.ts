import type { FindingCode } from "../finding-codes.ts";

/** Why a piece of text could not be read, and where in it. The caller knows the file and makes a finding of it. */
export interface TextProblem {
  readonly code: FindingCode;
  /** What is wrong, in one short sentence without a full stop. */
  readonly what: string;
  readonly why?: string;
  /** What to write instead, or the question to answer. */
  readonly mend: string;
  /** First wrong character, from 0, and how many are wrong (at least 1). */
  readonly at: number;
  readonly length: number;
}

/** A value, or what stands in its way. */
export type Read<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly problem: TextProblem };

/** Wraps what was read. */
export function read<T>(value: T): { readonly ok: true; readonly value: T } {
  return { ok: true, value };
}

/** Wraps a problem; `length` is raised to 1. */
export function unread(problem: TextProblem): { readonly ok: false; readonly problem: TextProblem } {
  return { ok: false, problem: { ...problem, at: Math.max(0, problem.at), length: Math.max(1, problem.length) } };
}
