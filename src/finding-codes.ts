/**
 * Every finding the project can make, by code. A code is kebab-case and says what is wrong. `override: false` marks
 * what no job may override: what would wreck wood, machine or person whatever the reason.
 */
export const FINDING_CODES = {
  // anywhere
  "our-bug": { override: false },
  // cli
  "file-unreadable": { override: false },
  "file-unwritable": { override: false },
  "file-edited-since": { override: false },
  "file-left-over": { override: false },
  "seal-broken": { override: false },
  "seal-missing": { override: false },
} as const satisfies Record<string, { readonly override: boolean }>;

/** A finding's code. */
export type FindingCode = keyof typeof FINDING_CODES;
